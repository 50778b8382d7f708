#!/usr/bin/env python3
"""Opens the pages in a headless Chromium: no complaint, nothing wider than a telephone.

    check_in_browser.py TOOL EXAMPLES

Exit code 77, a skipped test, where there is no Chromium.
"""
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile

from questions import HOSTILE, QUESTIONS, hostile_questions

SKIPPED = 77
NARROW = 380
FLAGS = ["--headless", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage",
         "--disable-quic", "--no-first-run", "--disable-background-networking",
         "--disable-component-update", "--disable-sync"]

# A window cannot be made as narrow as a telephone everywhere; a frame can.
MEASURE = """<!doctype html><meta charset="utf-8"><body></body><script>
onerror = (message) => document.title += " error: " + message;
for (const name of %s) {
  const frame = document.createElement("iframe");
  frame.style = "width:%dpx;height:1200px;border:0";
  frame.onload = () => {
    const page = frame.contentDocument.documentElement;
    const widest = Math.max(page.scrollWidth, frame.contentDocument.body.scrollWidth);
    document.title += ` [${name} ${widest}]`;
  };
  frame.src = name;
  document.body.append(frame);
}
</script>
"""


def write_pages(tool, examples, folder):
    scenario = folder / "hostile.yaml"
    scenario.write_text(HOSTILE, encoding="utf-8")
    questions = [(name, arguments) for name, arguments, _ in QUESTIONS]
    questions += [(f"hostile {k}", arguments)
                  for k, arguments in enumerate(hostile_questions(scenario))]
    names = []
    for name, arguments in questions:
        ran = subprocess.run([tool, *arguments, "--format", "html"], cwd=examples,
                             capture_output=True, check=False)
        names.append(name.replace(" ", "-") + ".html")
        (folder / names[-1]).write_bytes(ran.stdout)
    return names


def main(tool, examples):
    chromium = shutil.which("chromium") or shutil.which("chromium-browser")
    if chromium is None:
        print("no chromium here")
        return SKIPPED
    with tempfile.TemporaryDirectory() as scratch:
        folder = pathlib.Path(scratch)
        names = write_pages(tool, examples, folder)
        measure = folder / "measure.html"
        measure.write_text(MEASURE % (names, NARROW), encoding="utf-8")
        ran = subprocess.run(
            [chromium, *FLAGS, f"--user-data-dir={folder / 'profile'}", "--enable-logging=stderr",
             "--allow-file-access-from-files", "--window-size=1000,1400",
             "--virtual-time-budget=20000", "--dump-dom", measure.as_uri()],
            capture_output=True, text=True, check=False, timeout=240)
    widths = dict(re.findall(r"\[(\S+) (\d+)\]", ran.stdout.split("</title>")[0]))
    faults = [line for line in ran.stderr.splitlines() if "CONSOLE" in line]
    faults += [f"{name} was not measured" for name in names if name not in widths]
    faults += [f"{name} is {width} pixels wide on a screen of {NARROW}"
               for name, width in widths.items() if int(width) > NARROW]
    print("\n".join(faults) or f"{len(widths)} pages, none wider than {NARROW} pixels")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:3]))
