#!/usr/bin/env python3
"""Fills in the sheets of a trial in a headless Chromium: what is typed is kept over a reload, what
is wrong is said at once and as the tool says it, and the list that is saved is read back.

    check_fillable.py TOOL EXAMPLES

Exit code 77, a skipped test, where there is no Chromium.
"""
import html
import json
import pathlib
import random
import re
import shutil
import subprocess
import sys
import tempfile

from check_in_browser import FLAGS, SKIPPED

# Drives the page in a frame: types every case, reads what the page says and the list it gives,
# then loads the page anew and reads what it has kept.
DRIVE = """<!doctype html><meta charset="utf-8"><body></body><script>
const cases = %s;
const said = [];
onerror = (message) => said.push({error: String(message)});
const frame = document.createElement("iframe");
frame.style = "width:1000px;height:1400px";
const within = (selector) => [...frame.contentDocument.querySelectorAll(selector)];
const type = (input, text) => {
  input.value = text;
  input.dispatchEvent(new frame.contentWindow.Event("input", {bubbles: true}));
};
function fill(batch, entries) {
  const sheet = frame.contentDocument.querySelector(`section[data-batch="${batch}"]`);
  sheet.querySelectorAll("tr[data-row]").forEach((row, k) => {
    for (const what of ["lot", "actual", "initials"]) {
      type(row.querySelector(`[data-h=${what}] input`), entries[k][what]);
    }
  });
  sheet.querySelectorAll(".sign input").forEach((input, k) => type(input, "sign " + k));
  const box = sheet.querySelector("input[type=checkbox]");
  box.checked = true;
  box.dispatchEvent(new frame.contentWindow.Event("change", {bubbles: true}));
  const verdict = sheet.querySelector(".verdict");
  return {batch, verdict: verdict.textContent, off: verdict.classList.contains("off")};
}
function list() {
  within("#show")[0].click();
  return within("#list")[0].value;
}
function finish() {
  const pre = document.createElement("pre");
  pre.id = "said";
  pre.textContent = JSON.stringify(said);
  document.body.append(pre);
}
let loaded = 0;
frame.onload = () => {
  loaded += 1;
  if (loaded === 1) {
    for (const one of cases) {
      const answer = fill(one.batch, one.entries);
      said.push({...answer, list: list()});
    }
    frame.contentWindow.location.reload();
  } else if (loaded === 2) {
    const last = cases[cases.length - 1].batch;
    const sheet = frame.contentDocument.querySelector(`section[data-batch="${last}"]`);
    said.push({kept: list(), ticked: sheet.querySelector("input[type=checkbox]").checked,
               verdict: sheet.querySelector(".verdict").textContent});
    finish();
  }
};
frame.src = "sheets.html";
document.body.append(frame);
</script>
"""


def sheets_of(tool, trial, folder):
    ran = subprocess.run([tool, "batch", "--format", "html", trial], capture_output=True,
                         check=True)
    (folder / "sheets.html").write_bytes(ran.stdout)
    text = ran.stdout.decode("utf-8")
    plan = re.search(r'<script type="application/json" id="loads">(.*?)</script>', text, re.DOTALL)
    return text, json.loads(plan.group(1))


def cases_of(plan, seed=1):
    """As planned, then with slips of every size; the last as planned, with lots."""
    draw = random.Random(seed)
    cases = []
    for treatment in plan["treatments"]:
        for batch in treatment["batches"][:1]:
            for slip in (0, 0.0004, 0.004, 0.02, 0.2):
                entries = []
                for k, row in enumerate(treatment["rows"]):
                    grams = row["weigh_g"] * (1 + slip * draw.uniform(-1, 1))
                    typed = grams / 1000 if row["unit"] == "kg" else grams
                    text = f"{typed:.6f}"
                    if k % 2:
                        text = text.replace(".", ",")
                    entries.append({"actual": text, "lot": f"=L{k}, \"a\"", "initials": "ab"})
                cases.append({"batch": batch, "entries": entries})
            cases.append(cases[-5])
    return cases


def run_browser(chromium, folder, cases):
    (folder / "drive.html").write_text(DRIVE % json.dumps(cases), encoding="utf-8")
    ran = subprocess.run(
        [chromium, *FLAGS, f"--user-data-dir={folder / 'profile'}", "--enable-logging=stderr",
         "--allow-file-access-from-files", "--virtual-time-budget=60000", "--dump-dom",
         (folder / "drive.html").as_uri()],
        capture_output=True, text=True, check=False, timeout=240)
    found = re.search(r'<pre id="said">(.*?)</pre>', ran.stdout, re.DOTALL)
    faults = [line for line in ran.stderr.splitlines() if "CONSOLE" in line]
    if found is None:
        return [], faults + ["the page did not come to its end"]
    return json.loads(html.unescape(found.group(1))), faults


def by_the_tool(tool, trial, folder, listed):
    weighed = folder / "weighed.csv"
    weighed.write_text(listed, encoding="utf-8")
    ran = subprocess.run([tool, "batch", "--weighed", str(weighed), "--format", "json", trial],
                         capture_output=True, text=True, check=False)
    return json.loads(ran.stdout), ran.returncode


def faults_of_case(answer, checked):
    batch = next(b for b in checked["batches"] if b["batch"] == answer["batch"])
    faults = []
    if answer["off"] != (batch["verdict"] == "broken"):
        faults.append(f"{batch['batch']}: the page says '{answer['verdict']}', "
                      f"the tool {batch['verdict']}")
    for rule in batch["rules"]:
        missed = rule["verdict"] != "holds"
        if missed != (rule["rule"] + ": " in answer["verdict"]):
            faults.append(f"{batch['batch']}: {rule['rule']} is {rule['verdict']}, "
                          f"the page says '{answer['verdict']}'")
    return faults


def main(tool, examples):
    chromium = shutil.which("chromium") or shutil.which("chromium-browser")
    if chromium is None:
        print("no chromium here")
        return SKIPPED
    trial = str(pathlib.Path(examples) / "07-two-site-trial" / "trial.yaml")
    with tempfile.TemporaryDirectory() as scratch:
        folder = pathlib.Path(scratch)
        text, plan = sheets_of(tool, trial, folder)
        cases = cases_of(plan)
        said, faults = run_browser(chromium, folder, cases)
        faults += [answer["error"] for answer in said if "error" in answer]
        answers = [answer for answer in said if "batch" in answer]
        kept = [answer for answer in said if "kept" in answer]
        if len(answers) != len(cases) or len(kept) != 1:
            faults.append(f"{len(answers)} of {len(cases)} cases answered")
        broken = 0
        for answer in answers:
            checked, _ = by_the_tool(tool, trial, folder, answer["list"])
            faults += faults_of_case(answer, checked)
            broken += answer["off"]
        if not 3 <= broken < len(answers):
            faults.append(f"{broken} of {len(answers)} cases are broken")
        if kept:
            checked, code = by_the_tool(tool, trial, folder, kept[0]["kept"])
            if code != 0 or kept[0]["kept"] != answers[-1]["list"] or not kept[0]["ticked"]:
                faults.append(f"after a reload: exit code {code}, {kept[0]}")
            if "sign 1" not in kept[0]["kept"] or "\"'=L0, \"\"a\"\"\"" not in kept[0]["kept"]:
                faults.append("lots and signatures are not in the list:\n" + kept[0]["kept"])
            if len(checked["not_weighed"]) != 0:
                faults.append(f"not weighed: {checked['not_weighed']}")
    if "default-src 'none'" not in text or re.search(r"https?://(?!www\.w3\.org/)", text):
        faults.append("the page may ask for something from elsewhere")
    print("\n".join(faults) or f"{len(cases)} loads filled in, {broken} of them broken")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:3]))
