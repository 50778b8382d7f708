#!/usr/bin/env python3
"""Prints the sheets of a trial from a headless Chromium, on A4 and letter, and reads the pages:
each says which it is of how many, each page of a batch names the batch, a signature never stands
alone, no heading is the last line of a page, steps are of 11 pt or more, nothing is set so narrow
that it runs down the page, and an independent reader finds the codes of all labels. Ordinary
blends, a quote and a comparison take one page of A4.

    check_paper.py TOOL EXAMPLES

Exit code 77, a skipped test, where Chromium or the readers of pages and codes are missing.
"""
import html
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as ElementTree

from check_in_browser import FLAGS, SKIPPED

ONE_PAGE = (("blend", "01-first-grade"), ("blend", "02-coated-zinc-boron"), ("blend", "25-us-units"),
            ("quote", "17-quote"), ("compare", "09-source-of-zinc"))
TRIALS = ("07-two-site-trial", "08-strip-demonstration", "18-laid-out-trial", "21-micro-plots",
          "26-split-nitrogen", "29-sprayed-traces")
HEADINGS = ("Treatments", "Recipes", "Nutrients", "To buy", "Notes", "Cautions", "Store-keeping",
            "Before weighing", "Weigh", "Coating", "Order of work", "Spray on each plot",
            "Treatment key")
# What only the sheet of a batch or a mix holds.
OF_A_BATCH = ("Before weighing", "Order of work", "Packs from this load", "Mixed by")
LEAST_POINTS = 11
MOST_LINES = 95  # of text, on one page


def output_of(*command):
    return subprocess.run(command, capture_output=True, check=True).stdout


def printed(chromium, folder, page):
    """The text of each page."""
    paper = folder / "page.pdf"
    subprocess.run([chromium, *FLAGS, f"--user-data-dir={folder / 'profile'}",
                    "--no-pdf-header-footer", f"--print-to-pdf={paper}", page.as_uri()],
                   capture_output=True, check=True, timeout=120)
    return paper, output_of("pdftotext", "-layout", str(paper), "-").decode("utf-8").split("\f")[:-1]


def faults_of_page(name, number, lines, batches):
    text = "\n".join(lines)
    faults = []
    if any(word in text for word in OF_A_BATCH) and not any(code in text for code in batches):
        faults.append(f"{name}: page {number} is of a batch and does not say of which")
    if "Checked by" in text and not ("Packs from this load" in text or "Achieved on" in text
                                     or "Label it" in text or "Spray on each plot" in text):
        faults.append(f"{name}: page {number} is a signature alone")
    written = [line.strip() for line in lines if line.strip()]
    last = written[-2] if len(written) > 1 else ""  # the last one is its number
    if last in HEADINGS or any(last.startswith(heading + " (") for heading in HEADINGS):
        faults.append(f"{name}: page {number} ends with the heading '{last}'")
    if len(written) > MOST_LINES:
        faults.append(f"{name}: page {number} has {len(written)} lines: a column is too narrow")
    return faults


def faults_of_pages(name, pages, batches, signatures):
    faults = []
    signed = 0
    for number, text in enumerate(pages, start=1):
        if f"page {number} of {len(pages)}" not in text:
            faults.append(f"{name}: page {number} does not say so")
        signed += "Mixed by" in text and "Checked by" in text
        faults += faults_of_page(name, number, text.splitlines(), batches)
    if signed != signatures:
        faults.append(f"{name}: {signed} pages to sign for {signatures} sheets")
    return faults


def faults_of_answers(tool, examples, chromium, folder):
    faults = []
    for command, example in ONE_PAGE:
        page = folder / f"{example}.html"
        page.write_bytes(output_of(tool, command, "--format", "html",
                                   str(examples / example / "scenario.yaml")))
        _, pages = printed(chromium, folder, page)
        print(f"{command} {example}: {len(pages)} pages")
        if len(pages) != 1:
            faults.append(f"{command} {example}: {len(pages)} pages, not one")
    return faults


def letters_of(paper):
    """The size in points of each piece of text."""
    root = ElementTree.fromstring(output_of("pdftohtml", "-xml", "-i", "-stdout", "-zoom", "1",
                                            str(paper)))
    sizes = {font.get("id"): int(font.get("size")) for font in root.iter("fontspec")}
    return [(sizes[piece.get("font")], "".join(piece.itertext()))
            for piece in root.iter("text")]


def faults_of_letters(name, paper, page_text):
    """Steps are what stands beside boxes: enough of each is looked for to know it again."""
    steps = re.findall(r"<li>(.*?)</li>", "".join(
        re.findall(r'<ul class="ticks">(.*?)</ul>', page_text, re.DOTALL)))
    starts = {html.unescape(re.sub(r"<.*?>", "", step))[:24] for step in steps}
    found = [(size, text) for size, text in letters_of(paper)
             if any(text.strip().startswith(start) for start in starts)]
    if len(found) < len(starts) / 2:
        return [f"{name}: found {len(found)} of {len(starts)} steps"]
    return [f"{name}: a step is of {size} pt: {text}" for size, text in found
            if size < LEAST_POINTS]


def codes_on(paper, folder):
    """What zbarimg reads on the pages, near and far: it misses a code now and then."""
    found = set()
    for dots_per_inch in ("300", "200", "400"):
        output_of("pdftoppm", "-r", dots_per_inch, "-gray", "-png", str(paper), str(folder / "code"))
        for picture in sorted(folder.glob("code-*.png")):
            ran = subprocess.run(["zbarimg", "--quiet", "--raw", "-Sdisable", "-Sqrcode.enable",
                                  str(picture)], capture_output=True, check=False)
            found.update(ran.stdout.decode("utf-8").split())
            picture.unlink()
    return found


def faults_of_codes(tool, chromium, folder, trial):
    """The labels of a trial that asks for codes."""
    asked = folder / "trial.yaml"
    asked.write_text(re.sub(r"^labels: \{", "labels: {codes: true, ",
                            trial.read_text(encoding="utf-8"), flags=re.MULTILINE), encoding="utf-8")
    ran = subprocess.run([tool, "batch", "--format", "html", str(asked)], capture_output=True,
                         check=True)
    if b"without libqrencode" in ran.stderr:
        print("this build draws no codes")
        return []
    page = folder / "codes.html"
    page.write_bytes(ran.stdout)
    wanted = set(re.findall(r"<title>Code of (.*?)</title>", ran.stdout.decode("utf-8")))
    paper, _ = printed(chromium, folder, page)
    found = codes_on(paper, folder)
    if len(wanted) < 40 or wanted != found:
        return [f"codes: {len(wanted)} drawn, not read: {sorted(wanted - found)[:5]}, "
                f"read besides: {sorted(found - wanted)[:5]}"]
    print(f"{len(found)} codes read")
    return []


def main(tool, examples):
    chromium = shutil.which("chromium") or shutil.which("chromium-browser")
    if not (chromium and shutil.which("pdftohtml") and shutil.which("zbarimg")):
        print("no chromium, pdftotext or zbarimg here")
        return SKIPPED
    faults = []
    with tempfile.TemporaryDirectory() as scratch:
        folder = pathlib.Path(scratch)
        for trial in TRIALS:
            file = pathlib.Path(examples) / trial / "trial.yaml"
            for paper in ("a4", "letter"):
                text = output_of(tool, "batch", "--format", "html", "--paper", paper, str(file))
                page = folder / f"{trial}-{paper}.html"
                page.write_bytes(text)
                markup = text.decode("utf-8")
                batches = re.findall(r'data-batch="(.*?)"', markup)
                codes = batches + re.findall(r'<div class="code">(.*?)</div>', markup)
                pdf, pages = printed(chromium, folder, page)
                name = f"{trial} on {paper}"
                faults += faults_of_pages(name, pages, codes, markup.count('class="sign"'))
                faults += faults_of_letters(name, pdf, markup)
                print(f"{name}: {len(pages)} pages, {len(batches)} batches")
        faults += faults_of_answers(tool, pathlib.Path(examples), chromium, folder)
        faults += faults_of_codes(tool, chromium, folder,
                                  pathlib.Path(examples) / "18-laid-out-trial" / "trial.yaml")
    print("\n".join(faults))
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:3]))
