#!/usr/bin/env python3
"""Holds the HTML pages and SVG pictures of the tool to what they must be.

    check_pages.py TOOL EXAMPLES
"""
import pathlib
import subprocess
import sys
import tempfile
import unittest
import xml.etree.ElementTree as ElementTree

import page_checks
from questions import HOSTILE, QUESTIONS, hostile_questions

TOOL = EXAMPLES = None

def run(arguments, codes=(0, 2, 3)):
    ran = subprocess.run([TOOL, *arguments], cwd=EXAMPLES, capture_output=True, check=False)
    if ran.returncode not in codes:
        raise AssertionError(f"{arguments}: exit code {ran.returncode}\n{ran.stderr.decode()}")
    return ran.stdout.decode("utf-8")


class Pages(unittest.TestCase):
    def test_every_page_is_whole_and_needs_nothing_else(self):
        for name, arguments, _ in QUESTIONS:
            if arguments[0] == "plan":
                continue  # sheets to print have a look of their own
            with self.subTest(name):
                self.assertEqual(page_checks.faults_of_html(run([*arguments, "--format", "html"])), [])

    def test_every_picture_is_well_formed_and_says_what_it_shows(self):
        for name, arguments, pictured in QUESTIONS:
            with self.subTest(name):
                if pictured:
                    self.assertEqual(
                        page_checks.faults_of_svg(run([*arguments, "--format", "svg"])), [])
                else:
                    ran = subprocess.run([TOOL, *arguments, "--format", "svg"], cwd=EXAMPLES,
                                         capture_output=True, check=False, text=True)
                    self.assertEqual((ran.returncode, ran.stdout), (64, ""))
                    self.assertIn("--format expects text, json, csv or html, found 'svg'", ran.stderr)

    def test_equal_questions_give_equal_bytes(self):
        for name, arguments, pictured in QUESTIONS:
            with self.subTest(name):
                if name == "stopped":
                    continue
                for form in ("html", "svg") if pictured else ("html",):
                    again = [*arguments, "--format", form]
                    self.assertEqual(run(again), run(again))

    def test_the_paper_is_the_readers_choice(self):
        page = ["blend", "01-first-grade/scenario.yaml", "--format", "html"]
        self.assertIn("size:A4", run(page))
        self.assertIn("size:letter", run([*page, "--paper", "letter"]))


class TableBesideThePicture(unittest.TestCase):
    """The table says what the JSON report says."""

    def test_bands_of_a_price_map(self):
        import json
        question = dict((name, arguments) for name, arguments, _ in QUESTIONS)["price"]
        bands = json.loads(run([*question, "--format", "json"]))["bands"]
        page = run([*question, "--format", "html"])
        figure = ElementTree.fromstring(page.split("<figure>")[1].split("</svg>")[1]
                                        .split("</figure>")[0])
        rows = [[cell.text for cell in row] for row in figure.find("tbody")]
        self.assertEqual([row[0] for row in rows], [str(k + 1) for k in range(len(bands))])
        for row, band in zip(rows, bands, strict=True):
            for cell, key in ((1, "from_price_per_t"), (2, "to_price_per_t"), (3, "cost_from"),
                              (4, "cost_to")):
                self.assertEqual(row[cell], f"{band[key]:.2f}")

    def test_classes_of_cost_add_up_to_all_draws(self):
        question = dict((name, arguments) for name, arguments, _ in QUESTIONS)["risk"]
        page = run([*question, "--format", "html"])
        figure = ElementTree.fromstring(page.split("<figure>")[1].split("</svg>")[1]
                                        .split("</figure>")[0])
        rows = [[float(cell.text) for cell in row] for row in figure.find("tbody")]
        for column in (2, 3):
            self.assertAlmostEqual(sum(row[column] for row in rows), 100, delta=0.06 * len(rows))
        for low, high in zip(rows, rows[1:]):
            self.assertEqual(low[1], high[0])


class WordsOfTheUser(unittest.TestCase):
    def test_nothing_the_user_writes_becomes_markup(self):
        with tempfile.TemporaryDirectory() as folder:
            scenario = pathlib.Path(folder) / "hostile.yaml"
            scenario.write_text(HOSTILE, encoding="utf-8")
            for question in hostile_questions(scenario):
                with self.subTest(question):
                    arguments = [*question, "--format"]
                    page = run([*arguments, "html"])
                    self.assertEqual(page_checks.faults_of_html(page), [])
                    words = "".join(page_checks.outline(page).words)
                    if question[0] == "check":  # which names no material and has no picture
                        self.assertIn('<script>alert("x")</script>', words)
                        continue
                    self.assertIn('urea "><svg onload=alert(1)>', words)
                    self.assertEqual(page_checks.faults_of_svg(run([*arguments, "svg"])), [])


if __name__ == "__main__":
    TOOL, EXAMPLES = sys.argv[1:3]
    unittest.main(argv=sys.argv[:1])
