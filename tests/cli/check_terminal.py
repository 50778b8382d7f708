#!/usr/bin/env python3
"""What the tool does on a terminal: the line of progress, and Ctrl-C.

    check_terminal.py TOOL EXAMPLES
"""
import fcntl
import os
import pathlib
import pty
import re
import select
import signal
import struct
import subprocess
import sys
import tempfile
import termios
import time
import unittest

TOOL = EXAMPLES = None
RISK = ["risk", "--threads", "1", "--draws", "10000000", "12-price-risk/scenario.yaml"]
PATIENCE_S = 120


class Ran:
    """The tool with standard error on a terminal and standard output in a file."""

    def __init__(self, arguments, interrupts=(), columns=80):
        leader, follower = pty.openpty()
        fcntl.ioctl(leader, termios.TIOCSWINSZ, struct.pack("HHHH", 24, columns, 0, 0))
        with tempfile.TemporaryFile() as out:
            tool = subprocess.Popen([TOOL, *arguments], cwd=EXAMPLES, stdout=out, stderr=follower)
            os.close(follower)
            self.terminal = self.read(leader, tool, list(interrupts))
            self.exit_code = tool.wait(timeout=PATIENCE_S)
            out.seek(0)
            self.out = out.read().decode()
        os.close(leader)

    @staticmethod
    def read(leader, tool, interrupts):
        """All that is written; sends an interrupt once each of the words has been seen."""
        seen = b""
        end = time.monotonic() + PATIENCE_S
        while time.monotonic() < end:
            if not select.select([leader], [], [], 0.5)[0]:
                continue
            try:
                some = os.read(leader, 65536)
            except OSError:  # the other side is closed
                break
            if not some:
                break
            seen += some
            if interrupts and interrupts[0] in seen:
                interrupts.pop(0)
                tool.send_signal(signal.SIGINT)
        return seen.decode()

    def screen(self):
        """What is left to be read on the last line."""
        cells = []
        at = 0
        for letter in self.terminal:
            if letter == "\r":
                at = 0
                continue
            cells[at:at + 1] = [letter]
            at += 1
        return "".join(cells).rstrip()


class Terminal(unittest.TestCase):
    def test_long_work_tells_how_far_it_is_and_ends_with_what_is_finished(self):
        ran = Ran(RISK, [b" of 10000000 draws"])
        self.assertEqual(ran.exit_code, 3)
        self.assertRegex(ran.terminal, r"\r1 s.*Ctrl-C stops with what is finished")
        self.assertRegex(ran.terminal, r", \d+ of 10000000 draws")
        self.assertNotIn("\n", ran.terminal)
        self.assertEqual(ran.screen(), "")
        self.assertIn("Stopped on request", ran.out)
        self.assertRegex(ran.out, r"Over [0-9]+ of 10000000 draws of\s+prices")

    def test_a_line_never_wraps(self):
        ran = Ran(RISK + ["--time-limit", "2"], columns=30)
        self.assertEqual(ran.exit_code, 3)
        lines = ran.terminal.split("\r")
        self.assertGreater(len(lines), 2)
        self.assertLess(max(map(len, lines)), 30)

    def test_short_work_says_nothing(self):
        ran = Ran(["blend", "01-first-grade/scenario.yaml"])
        self.assertEqual(ran.exit_code, 0)
        self.assertEqual(ran.terminal, "")

    def test_without_a_terminal_nothing_is_said(self):
        ran = subprocess.run([TOOL, *RISK, "--time-limit", "2"], cwd=EXAMPLES, capture_output=True,
                             check=False)
        self.assertEqual(ran.returncode, 3)
        self.assertEqual(ran.stderr, b"")


def catches_interrupts(pid):
    """Whether the process still handles the signal of Ctrl-C itself (proc(5), SigCgt)."""
    status = pathlib.Path(f"/proc/{pid}/status").read_text(encoding="ascii")
    caught = int(re.search(r"^SigCgt:\s*([0-9a-f]+)", status, re.MULTILINE).group(1), 16)
    return bool(caught >> (signal.SIGINT - 1) & 1)


def await_that(condition):
    end = time.monotonic() + PATIENCE_S
    while not condition():
        if time.monotonic() > end:
            raise AssertionError("waited in vain")
        time.sleep(0.01)


def fill(terminal):
    """Writes until the terminal takes no more, also after the kernel has passed on what it could."""
    os.set_blocking(terminal, False)
    refusals = 0
    while refusals < 10:
        try:
            os.write(terminal, b"." * 1024)
            refusals = 0
        except BlockingIOError:
            refusals += 1
            time.sleep(0.05)
    os.set_blocking(terminal, True)


class Interrupts(unittest.TestCase):
    def test_a_second_interrupt_ends_at_once(self):
        """The terminal takes no more, so the tool cannot even tell that it is to stop."""
        leader, follower = pty.openpty()
        fill(follower)
        with subprocess.Popen([TOOL, *RISK], cwd=EXAMPLES, stdout=subprocess.DEVNULL,
                              stderr=follower) as tool:
            await_that(lambda: catches_interrupts(tool.pid))
            time.sleep(2)  # by now it wants to say how far it is, and waits for the terminal
            tool.send_signal(signal.SIGINT)
            await_that(lambda: not catches_interrupts(tool.pid))
            time.sleep(0.5)
            self.assertIsNone(tool.poll())
            tool.send_signal(signal.SIGINT)
            self.assertEqual(tool.wait(timeout=PATIENCE_S), -signal.SIGINT)
        os.close(leader)
        os.close(follower)

    def test_every_long_command_ends_cleanly_on_request(self):
        with tempfile.TemporaryDirectory() as folder:
            scenario = pathlib.Path(folder) / "slow.yaml"
            scenario.write_text(slow_scenario(), encoding="utf-8")
            for question in (["blend"], ["alternatives", "--count", "1000"], ["compare"],
                             ["prices", "--vary", "m0=100:900"],
                             ["prices", "--limit", "grade N min=6:7"]):
                with self.subTest(question):
                    ran = Ran([*question, "--format", "json", str(scenario)], [b" s"])
                    self.assertEqual(ran.exit_code, 3)
                    self.assertIn('"stopped"', ran.out)
                    self.assertIn("stopped on request", ran.out.lower())
                    self.assertEqual(ran.screen(), "")
                    self.assertRegex(ran.terminal, r"\d+ linear programs")


def slow_scenario():
    """A search of minutes: a hundred materials that all hold a little of everything, of which at
    most five may be used and none in small shares. The figures come from a fixed generator."""
    state = 12345

    def figure():
        nonlocal state
        state = (state * 1103515245 + 12345) % 2147483648
        return state / 2147483648

    nutrients = ["N", "P2O5", "K2O", "S", "Mg", "Ca", "Na"]
    lines = ["leastwise: 1", "materials:"]
    for k in range(100):
        contents = ", ".join(f"{nutrient}: {figure() * 12:.2f}" for nutrient in nutrients)
        lines.append(f"  m{k}: {{form: granule, contains_percent: {{{contents}, filler: 0}}, "
                     f"price_per_t: {200 + figure() * 300:.2f}, "
                     f"min_if_used_percent: {3 + figure() * 6:.2f}}}")
    lines.append("grade_percent:")
    lines += [f"  {nutrient}: {{min: 6.9, max: 7.18}}" for nutrient in nutrients]
    lines.append("blend: {bins: 5}")
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    TOOL, EXAMPLES = sys.argv[1:3]
    unittest.main(argv=sys.argv[:1])
