#!/usr/bin/env python3
"""Holds every JSON report against the published schema, with a validator that is not ours: those of
the tool for the scenarios and trials of examples and guide, and those that the examples show.

A reader of reports ignores names it does not know; here each must be in the schema, so none can be
added without its description. That the check can fail is tried out on each report: without one of
its names it must not pass.

    check_reports.py TOOL ROOT
"""
import copy
import json
import pathlib
import shutil
import subprocess
import sys

try:
    from jsonschema import Draft202012Validator
except ImportError:
    print("the package python3-jsonschema is missing", file=sys.stderr)
    sys.exit(77)

QUESTIONS = [  # asked of every scenario: the kind of report, then the command
    ("blend", ["blend"]),
    ("blend", ["blend", "--time-limit", "1e-6"]),
    ("rounded_blend", ["blend", "--step-kg", "5"]),
    ("check", ["check"]),
    ("comparison", ["compare"]),
    ("materials", ["materials"]),
    ("alternatives", ["alternatives", "--count", "3"]),
    ("near_optimum", ["alternatives", "--within", "5", "--fewest"]),
]
MAP, ORDER = "examples/10-price-map/scenario.yaml", "examples/05-impossible-order/scenario.yaml"
RISK, PROVED = "examples/12-price-risk/scenario.yaml", "examples/14-proved-blend"
TRIAL = "examples/07-two-site-trial"
MORE = [  # asked once
    ("comparison", ["compare", "--source", "Zn", "examples/09-source-of-zinc/scenario.yaml"]),
    ("price_map", ["prices", "--vary", "ammonium-sulfate=150:700", MAP]),
    ("price_map", ["prices", "--vary", "urea=80:120", ORDER]),
    ("price_map", ["prices", "--vary", "urea", "--time-limit", "1e-6", MAP]),
    ("price_regions", ["prices", "--vary", "ammonium-sulfate=150:700", "--vary", "sop=400:900", MAP]),
    ("limit_map", ["prices", "--limit", "rate S min=0:40", MAP]),
    ("limit_map", ["prices", "--limit", "rate N min=80:120", ORDER]),
    ("risk", ["risk", "--draws", "200", RISK]),
    ("risk", ["risk", "--draws", "1", RISK]),
    ("trial_plan", ["batch", f"{TRIAL}/trial.yaml"]),
    ("trial_plan", ["plan", f"{TRIAL}/trial.yaml"]),
    ("trial_plan", ["batch", "examples/08-strip-demonstration/trial.yaml"]),
    ("weighed_check", ["batch", "--weighed", f"{TRIAL}/weighed.csv", f"{TRIAL}/trial.yaml"]),
    ("verification", ["verify", f"{PROVED}/proof.json", f"{PROVED}/scenario.yaml"]),
    ("materials", ["materials"]),
    ("quote", ["quote", "examples/17-quote/scenario.yaml"]),
    ("quote", ["quote", "examples/02-coated-zinc-boron/scenario.yaml"]),
    ("blend", ["quote", ORDER]),
    ("season_plan", ["season", "examples/22-shared-yard/season.yaml"]),
    ("season_plan", ["season", "examples/22-shared-yard/too-little.yaml"]),
    ("season_plan", ["season", "examples/23-two-periods/season.yaml"]),
    ("season_plan", ["season", "examples/31-two-yards/season.yaml"]),
    ("season_plan", ["season", "examples/31-two-yards/no-bins.yaml"]),
    ("season_plan", ["season", "--time-limit", "1e-6", "examples/23-two-periods/season.yaml"]),
    ("blend", ["blend", "examples/30-by-quantity/scenario.yaml"]),
    ("blend", ["blend", "--why", "urea", "--why", "sop", "examples/17-quote/scenario.yaml"]),
]
BY_QUANTITY, ONE_PRICE = "30-by-quantity", {"alternatives", "near_optimum"}  # wants one price each
SHOWN = {"examples/14-proved-blend/proof.json": "proof"}  # of which no name says what it is


def strict(part):
    """The schema without room for names that it does not describe."""
    if isinstance(part, list):
        return [strict(one) for one in part]
    if not isinstance(part, dict):
        return part
    made = {key: strict(value) for key, value in part.items()}
    if made.get("type") == "object" and isinstance(made.get("properties"), dict):
        made.setdefault("additionalProperties", False)
    return made


def explained(error, depth=0):
    yield "  " * depth + f"{error.json_path}: {error.message[:200]}"
    for cause in error.context or []:
        yield from explained(cause, depth + 1)


class Reports:
    def __init__(self, tool, root):
        self.tool, self.root = tool, root
        run = self.printed(["schema", "reports"])
        schema = json.loads(run)
        Draft202012Validator.check_schema(schema)
        self.kinds = [part["$ref"].rsplit("/", 1)[1] for part in schema["anyOf"]]
        self.open, self.closed = {}, {}
        for kind in self.kinds:
            alone = json.loads(self.printed(["schema", kind]))
            Draft202012Validator.check_schema(alone)
            self.open[kind] = Draft202012Validator(alone)
            self.closed[kind] = Draft202012Validator(strict(alone))
        self.seen, self.failures, self.read = {}, [], []

    def printed(self, arguments):
        return subprocess.run([self.tool, *arguments], cwd=self.root, capture_output=True,
                              text=True).stdout

    def hold(self, kind, text, where, rejected_too=False):
        if not text:
            self.failures.append(f"{where}: printed nothing")
            return
        report = json.loads(text, parse_constant=lambda word: self.failures.append(f"{where}: {word}"))
        self.read.append((where, text, report))
        if report.get("status") == "rejected" and not rejected_too:
            kind = "rejected"
        self.seen[kind] = self.seen.get(kind, 0) + 1
        for error in self.closed[kind].iter_errors(report):
            self.failures.append(f"{where}: not what 'schema {kind}' says")
            self.failures += explained(error)
        for name in report:
            less = copy.deepcopy(report)
            del less[name]
            required = name in self.required(kind, report)
            if required and self.open[kind].is_valid(less):
                self.failures.append(f"{where}: passes without '{name}'")

    def required(self, kind, report):
        schema = self.open[kind].schema
        parts = [schema["$defs"][kind]]
        if "oneOf" in parts[0]:
            parts = [schema["$defs"][one["$ref"].rsplit("/", 1)[1]] for one in parts[0]["oneOf"]]
            parts = [one for one in parts if one["properties"]["status"]["const"] == report["status"]]
            parts = [one for one in parts if report.keys() >= set(one["required"])] or parts
        return parts[0]["required"]

    def ask_without_input(self):
        """Of a scenario that never comes."""
        command = [self.tool, "blend", "--format", "json", "--time-limit", "0.3", "-"]
        with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE,
                              stderr=subprocess.DEVNULL, text=True) as waiting:
            self.hold("unread", waiting.stdout.read(), "a scenario that never comes")

    def ask(self, kind, arguments):
        command, *rest = arguments
        text = self.printed([command, "--format", "json", *rest])
        self.hold(kind, text, " ".join(arguments))

    def ask_stream(self, *options):
        """Each line of answers is a report."""
        folder = "examples/24-stream"
        text = self.printed(["stream", *options, "--base", f"{folder}/scenario.yaml",
                             f"{folder}/questions.jsonl"])
        for line in text.splitlines():
            self.hold("stream_answer", line, "stream " + " ".join(options), rejected_too=True)

    def read_again(self):
        """By jq, all at once."""
        texts = "\n".join(text for _, text, _ in self.read)
        again = subprocess.run(["jq", "-c", "."], input=texts, capture_output=True,
                               encoding="utf-8").stdout.splitlines()
        if len(again) != len(self.read):
            self.failures.append(f"jq read {len(again)} of {len(self.read)} reports")
        for line, (where, _, report) in zip(again, self.read):
            if json.loads(line) != report:
                self.failures.append(f"{where}: jq reads something else")


def main(arguments):
    if len(arguments) != 2:
        print(__doc__, file=sys.stderr)
        return 2
    root = pathlib.Path(arguments[1])
    reports = Reports(str(pathlib.Path(arguments[0]).resolve()), root)
    files = sorted([*root.glob("examples/*/scenario.yaml"), *root.glob("lib/guide/code/*.yaml")])
    for file in files:
        for kind, command in QUESTIONS:
            if kind in ONE_PRICE and file.parent.name == BY_QUANTITY:
                continue
            reports.ask(kind, [*command, str(file.relative_to(root))])
    for kind, command in MORE:
        reports.ask(kind, command)
    reports.ask_without_input()
    for options in ([], ["--full"], ["--time-limit-each", "1e-9"]):
        reports.ask_stream(*options)
    for file in sorted([*root.glob("examples/*/*.json"), *root.glob("lib/guide/code/*.json")]):
        name, text = str(file.relative_to(root)), file.read_text(encoding="utf-8")
        kind = SHOWN.get(name) or json.loads(text).get("report")
        if kind in reports.kinds:
            reports.hold(kind, text, name)
        else:
            reports.failures.append(f"{name}: is no known kind of report, '{kind}'")
    for kind in reports.kinds:
        if kind not in reports.seen:
            reports.failures.append(f"no report of the kind '{kind}' was seen")
    if shutil.which("jq"):
        reports.read_again()
    for failure in reports.failures[:60]:
        print(failure)
    print(f"{sum(reports.seen.values())} reports of {len(reports.seen)} kinds")
    return 1 if reports.failures else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
