#!/usr/bin/env python3
"""Checks that the manual page and the completion for bash know every command and option that the
tool itself lists.

    check_manual.py TOOL MANUAL_PAGE COMPLETION
"""
import re
import subprocess
import sys

LISTED = re.compile(r"^  (?P<name>[a-z-]+) +\S", re.MULTILINE)
OPTION = re.compile(r"^  (?:-h \[ )?(--[a-z-]+)", re.MULTILINE)
EXIT_CODE = re.compile(r"\b(\d+) [a-z]")

# Prints what bash would offer for the words of a command line, the last of which is begun.
ASK = """
source "$1"
shift
COMP_WORDS=("$@")
COMP_CWORD=$(($# - 1))
_leastwise
printf '%s\\n' "${COMPREPLY[@]}"
"""


def output_of(*command):
    return subprocess.run(command, capture_output=True, check=True, text=True).stdout


def offered(completion, *words):
    answer = output_of("bash", "-c", ASK, "bash", completion, "leastwise", *words)
    return set(answer.split("\n")) - {""}


def sections(page):
    """The page by its headings, with the dashes of options as they are typed."""
    parts = re.split(r"^\.S[SH] (.*)$", page.replace(r"\-", "-"), flags=re.MULTILINE)
    return dict(zip(parts[1::2], parts[2::2]))


def manual_findings(page, commands, help_page):
    parts = sections(page)
    by_command = {heading.split()[0]: text for heading, text in parts.items()}
    for command, options in commands.items():
        if command not in by_command:
            yield f"manual: no section for {command}"
            continue
        for option in options - {"--help"}:
            if not re.search(rf"{option}\b(?!-)", by_command[command]):
                yield f"manual: {command} does not tell of {option}"
        for option in set(re.findall(r"--[a-z-]+", by_command[command])) - options:
            if (command, option) != ("verify", "--proof"):  # which tells of blend's
                yield f"manual: {command} has no {option}"
    for option in ("--help", "--version"):
        if option not in parts["COMMON OPTIONS"]:
            yield f"manual: {option} is missing"
    for code in set(EXIT_CODE.findall(help_page.split("Exit codes:")[1].split("Reports")[0])):
        if f".B {code}\n" not in parts["EXIT STATUS"]:
            yield f"manual: exit status {code} is missing"
    for heading in ("NAME", "SYNOPSIS", "FILES", "CAUTIONS", "EXAMPLES"):
        if not parts.get(heading, "").strip():
            yield f"manual: {heading} is missing"


def completion_findings(completion, commands):
    if offered(completion, "") != set(commands) | {"help", "--help", "--version"}:
        yield f"completion: commands {sorted(offered(completion, ''))}"
    for command, options in commands.items():
        found = offered(completion, command, "--")
        if found != options:
            yield f"completion: {command} differs in {sorted(found ^ options)}"
    for words, wanted in [
            (("blend", "--format", ""), {"text", "json", "csv", "html", "svg"}),
            (("plan", "--format", "h"), {"html"}),
            (("batch", "--table", "p"), {"plots", "purchases"}),
            (("blend", "--price", ""), set()),
            (("b",), {"blend", "batch"}),
            (("blend", "sc"), {"scenario.yaml"}),
            (("verify", "pro"), {"proof.json"}),
            (("batch", "--weighed", "wei"), {"weighed.csv"}),
            (("schema", "t"), {"trial", "trial_plan"}),
            (("schema", "pr"), {"price_map", "price_regions", "proof"})]:
        if offered(completion, *words) != wanted:
            yield f"completion: {' '.join(words)} gives {sorted(offered(completion, *words))}"


def main(arguments):
    if len(arguments) != 3:
        print(__doc__, file=sys.stderr)
        return 2
    tool, page, completion = arguments
    for name in ("scenario.yaml", "scenario.txt", "proof.json", "weighed.csv"):
        open(name, "w", encoding="utf-8").close()
    help_page = output_of(tool, "--help")
    names = LISTED.findall(help_page.split("Commands:\n", 1)[1].split("\n\n", 1)[0])
    commands = {name: set(OPTION.findall(output_of(tool, name, "--help"))) for name in names}
    if len(commands) < 5 or not all(commands.values()):
        print(f"the tool lists {commands}")
        return 1
    with open(page, encoding="utf-8") as file:
        found = list(manual_findings(file.read(), commands, help_page))
    found += completion_findings(completion, commands)
    for finding in found:
        print(finding)
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
