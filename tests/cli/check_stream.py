#!/usr/bin/env python3
"""Streams from outside: order, bad lines, killed runs, shards, and the recipes for other machines.
What is killed is killed for good (SIGKILL); the answers must then be those of a run that was not,
byte for byte. Recipes whose engine is not installed are left out, and the last line says which.

    check_stream.py TOOL EXAMPLE
"""
import json
import os
import pathlib
import random
import shutil
import signal
import subprocess
import sys
import tempfile
import time
import unittest

TOOL, EXAMPLE = sys.argv[1], pathlib.Path(sys.argv[2]).resolve()
LEFT_OUT = []
BAD = 1234  # the line that is not JSON
NAMES = ["urea", "ammonium-sulfate", "map", "tsp", "mop"]


def question(number):
    if number == BAD:
        return "{not json"
    draw = random.Random(number)
    asked = {"id": number, "price": {draw.choice(NAMES): draw.randint(200, 900)}}
    if number % 5 == 0:
        asked["limit"] = {"grade N min": draw.randint(8, 14)}
    if number % 11 == 0:
        asked["without"] = [draw.choice(NAMES)]
    return json.dumps(asked)


class Streams(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.kept = tempfile.TemporaryDirectory()
        cls.folder = pathlib.Path(cls.kept.name)
        shutil.copy(EXAMPLE / "scenario.yaml", cls.folder)
        cls.lines = [question(number) for number in range(1, 4001)]
        cls.file("questions.jsonl").write_text("".join(line + "\n" for line in cls.lines))
        cls.whole = cls.run_tool("--threads", "1").stdout
        assert cls.whole.count(b"\n") == 4000

    @classmethod
    def tearDownClass(cls):
        cls.kept.cleanup()

    @classmethod
    def file(cls, name):
        return cls.folder / name

    @classmethod
    def command(cls, *arguments, questions="questions.jsonl"):
        return [TOOL, "stream", "--base", "scenario.yaml", *map(str, arguments), questions]

    @classmethod
    def run_tool(cls, *arguments, **more):
        return subprocess.run(cls.command(*arguments, **more), cwd=cls.folder, capture_output=True)

    def merge(self, *shards, output="merged.jsonl"):
        return subprocess.run([TOOL, "stream", "--merge", "--output", output, "questions.jsonl",
                               *shards], cwd=self.folder, capture_output=True, text=True)

    def shard(self, first, last):
        name = f"shard-{first}-{last}.jsonl"
        self.assertEqual(self.run_tool("--lines", f"{first}-{last}", "--output", name).returncode, 0)
        return name

    def test_one_bad_line_costs_one_answer(self):
        answers = [json.loads(line) for line in self.whole.splitlines()]
        self.assertEqual([answer["line"] for answer in answers], list(range(1, 4001)))
        rejected = [answer for answer in answers if answer["status"] == "rejected"]
        self.assertEqual([answer["line"] for answer in rejected], [BAD])
        self.assertEqual(rejected[0]["diagnostics"][0]["line"], BAD)
        for answer, line in zip(answers, self.lines):
            if answer["line"] != BAD:
                self.assertEqual(answer["id"], json.loads(line)["id"])

    def test_answers_are_those_of_blend(self):
        answers = self.whole.splitlines()
        for number in (1, 17, 998):
            asked, answer = json.loads(self.lines[number - 1]), json.loads(answers[number - 1])
            prices = [f"--price={name}={price}" for name, price in asked["price"].items()]
            blend = json.loads(subprocess.run(
                [TOOL, "blend", "--format", "json", *prices, "scenario.yaml"], cwd=self.folder,
                capture_output=True).stdout)
            self.assertEqual(answer["cost_per_t"], blend["cost_per_t"])
            self.assertEqual(answer["kg_per_t"], {portion["material"]: portion["kg_per_t"]
                                                  for portion in blend["portions"]})

    def test_threads_change_nothing(self):
        for threads in (2, 7):
            self.assertEqual(self.run_tool("--threads", threads).stdout, self.whole)

    def test_a_program_may_wait_for_each_answer(self):
        with subprocess.Popen(self.command(questions="-"), cwd=self.folder, stdin=subprocess.PIPE,
                              stdout=subprocess.PIPE, text=True) as stream:
            for number in range(1, 6):
                stream.stdin.write(self.lines[number - 1] + "\n")
                stream.stdin.flush()
                self.assertEqual(json.loads(stream.stdout.readline())["id"], number)
            stream.stdin.close()
        self.assertEqual(stream.returncode, 0)

    def test_a_killed_run_goes_on_where_it_ended(self):
        output, partial = self.file("killed.jsonl"), self.file("killed.jsonl.partial")
        kills, size = 0, 0
        for _ in range(20):
            if output.exists():
                break
            run = subprocess.Popen(self.command("--resume", "--output", "killed.jsonl"),
                                   cwd=self.folder, stderr=subprocess.DEVNULL)
            while run.poll() is None:
                grown = partial.stat().st_size if partial.exists() else 0
                if kills < 6 and grown > size + 60_000:
                    run.send_signal(signal.SIGKILL)
                    run.wait()
                    kills, size = kills + 1, partial.stat().st_size
                time.sleep(0.001)
            if kills == 3:  # as if power had failed in the middle of a line
                with partial.open("r+b") as half:
                    half.truncate(partial.stat().st_size - 30)
        self.assertGreaterEqual(kills, 3)
        self.assertEqual(output.read_bytes(), self.whole)
        self.assertFalse(partial.exists())
        before = output.stat().st_mtime_ns
        self.assertEqual(self.run_tool("--resume", "--output", "killed.jsonl").returncode, 0)
        self.assertEqual(output.stat().st_mtime_ns, before)

    def test_a_stopped_run_says_where_it_stopped(self):
        run = subprocess.Popen(self.command("--output", "stopped.jsonl", questions="-"),
                               cwd=self.folder, stdin=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
        run.stdin.write("".join(line + "\n" for line in self.lines[:3]))
        run.stdin.flush()
        partial = self.file("stopped.jsonl.partial")
        until = time.monotonic() + 60
        while time.monotonic() < until and (
                not partial.exists() or partial.read_bytes().count(b"\n") < 3):
            time.sleep(0.01)
        run.send_signal(signal.SIGINT)
        run.wait(timeout=60)  # its input stays open: it must not end for want of lines
        _, said = run.communicate()
        self.assertEqual(run.returncode, 3)
        self.assertIn("stopped after line 3; --resume", said)
        self.assertFalse(self.file("stopped.jsonl").exists())

    def test_other_questions_are_noticed(self):
        self.file("other.jsonl").write_text(question(7) + "\n" + question(8) + "\n")
        self.run_tool("--lines", "1-2", "--output", "pair.jsonl")
        self.file("pair.jsonl").rename(self.file("pair.jsonl.partial"))
        found = self.run_tool("--resume", "--output", "pair.jsonl", questions="other.jsonl")
        self.assertEqual(found.returncode, 64)
        self.assertIn(b"another answer than that to line 1", found.stderr)

    def test_two_runs_do_not_write_one_file(self):
        with subprocess.Popen(self.command("--output", "one.jsonl", questions="-"), cwd=self.folder,
                              stdin=subprocess.PIPE) as first:
            until = time.monotonic() + 60
            while not self.file("one.jsonl.partial").exists() and time.monotonic() < until:
                time.sleep(0.01)
            time.sleep(0.1)
            second = self.run_tool("--output", "one.jsonl")
            first.stdin.close()
        self.assertEqual(second.returncode, 64)
        self.assertIn(b"another run writes to", second.stderr)

    def test_shards_give_the_same_bytes_however_they_are_cut(self):
        for cuts in ([4000], [1, 2, 3999], [999, 2000, 2001], [700, 1400, 2100, 2800, 3500]):
            ends = sorted({*cuts, 4000})
            shards = [self.shard(first + 1, last) for first, last in zip([0, *ends], ends)]
            random.Random(1).shuffle(shards)
            self.assertEqual(self.merge(*shards).returncode, 0)
            self.assertEqual(self.file("merged.jsonl").read_bytes(), self.whole)
            self.file("merged.jsonl").unlink()

    def test_missing_doubled_and_foreign_answers_are_named(self):
        a, b, c = self.shard(1, 1000), self.shard(1001, 3000), self.shard(3001, 4000)
        self.file("text.jsonl").write_text("hello\n")
        self.file("foreign.jsonl").write_bytes(
            self.file(c).read_bytes().replace(b'"line":3001,', b'"line":4001,', 1))
        mark = self.file(c).read_bytes().split(b'"question":"')[1][:16]
        self.file("stale.jsonl").write_bytes(self.file(c).read_bytes().replace(mark, b"0" * 16, 1))
        self.file("half.jsonl").write_bytes(self.file(c).read_bytes()[:-20])
        for shards, words in [
                ([a, c], "no file answers lines 1001 to 3000"),
                ([b, c], "no file answers lines 1 to 1000"),
                ([a, b], "no file answers lines 3001 to 4000"),
                ([a, b, c, b], f"{b}:1:1: error: this answers line 1001, which is answered already"),
                ([a, b, c, "text.jsonl"], "text.jsonl:1:1: error: this is no answer of a stream"),
                ([a, b, "half.jsonl"], "half.jsonl:1000:1: error: this is no answer of a stream"),
                ([a, b, "foreign.jsonl"], "line 4001, beyond the last question"),
                ([a, b, "stale.jsonl"], "another question than that of line 3001"),
                ([a, b, c, "nosuch.jsonl"], "nosuch.jsonl")]:
            found = self.merge(*shards)
            self.assertEqual(found.returncode, 1, shards)
            self.assertIn(words, found.stderr)
            self.assertFalse(self.file("merged.jsonl").exists())
            self.assertFalse(self.file("merged.jsonl.partial").exists())

    def test_a_line_too_long_is_an_answer_like_any_other(self):
        self.file("long.jsonl").write_text(
            '{"id": "' + "x" * 5_000_000 + '"}\n' + self.lines[0] + "\n")
        found = self.run_tool(questions="long.jsonl").stdout.splitlines()
        self.assertEqual([json.loads(line)["status"] for line in found], ["rejected", "optimal"])
        self.assertIn(b"at most 1 MiB", found[0])

    def test_memory_does_not_grow_with_the_lines(self):
        def peak(count):
            with self.file("many.jsonl").open("w") as many:
                many.writelines(line + "\n" for line in self.lines[:100] * (count // 100))
            run = subprocess.Popen(self.command("--output", "/dev/null", questions="many.jsonl"),
                                   cwd=self.folder)
            _, status, used = os.wait4(run.pid, 0)
            run.returncode = os.waitstatus_to_exitcode(status)
            self.assertEqual(run.returncode, 0)
            return used.ru_maxrss

        few, many = peak(2000), peak(40_000)
        self.assertLess(many, few + 4096, "kilobytes")

    def recipe(self, engine, command, output):
        """Runs a recipe, kills its runs of the tool in the middle, starts it again until it is done."""
        environment = {**os.environ, "LEASTWISE": TOOL, "LINES_PER_PIECE": "300",
                       "LINES_PER_TASK": "300", "PYTHON_COLORS": "0"}
        run = subprocess.Popen(command, cwd=self.folder, env=environment,
                               stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
                               start_new_session=True)
        pieces = self.file(output + ".pieces")
        until = time.monotonic() + 60
        while time.monotonic() < until and run.poll() is None and not (
                pieces.exists() and any(pieces.iterdir())):
            time.sleep(0.005)
        os.killpg(run.pid, signal.SIGKILL)  # the session that was started here, and nothing else
        run.wait()
        for _ in range(3):
            again = subprocess.run(command, cwd=self.folder, env=environment, capture_output=True,
                                   text=True, timeout=300)
            if again.returncode == 0:
                break
        self.assertEqual(again.returncode, 0, engine + ": " + again.stderr)
        self.assertEqual(self.file(output).read_bytes(), self.whole)

    def test_recipe_for_gnu_parallel(self):
        if not shutil.which("parallel"):
            LEFT_OUT.append("GNU parallel")
            subprocess.run(["sh", "-n", EXAMPLE / "parallel.sh"], check=True)
            return
        self.recipe("parallel", ["sh", EXAMPLE / "parallel.sh", "scenario.yaml", "questions.jsonl",
                                 "by-parallel.jsonl", "300", "2"], "by-parallel.jsonl")

    def test_recipe_for_dask(self):
        try:
            import distributed  # noqa: F401
        except ImportError:
            LEFT_OUT.append("dask.distributed")
            compile((EXAMPLE / "dask_stream.py").read_text(), "dask_stream.py", "exec")
            return
        self.recipe("dask", [sys.executable, EXAMPLE / "dask_stream.py", "scenario.yaml",
                             "questions.jsonl", "by-dask.jsonl"], "by-dask.jsonl")

    def test_recipe_for_slurm(self):
        """The script as Slurm runs it: one process a task, some killed and queued again. Slurm itself
        is not asked."""
        for task in [3, 1, 2, *range(4, 15), 5]:
            environment = {**os.environ, "LEASTWISE": TOOL, "LINES_PER_TASK": "300",
                           "SLURM_ARRAY_TASK_ID": str(task), "SLURM_CPUS_PER_TASK": "2"}
            command = ["sh", EXAMPLE / "slurm.sh", "scenario.yaml", "questions.jsonl", "tasks"]
            run = subprocess.Popen(command, cwd=self.folder, env=environment,
                                   stderr=subprocess.DEVNULL)
            if task % 2:
                time.sleep(0.02)
                run.send_signal(signal.SIGKILL)
                run.wait()
                run = subprocess.Popen(command, cwd=self.folder, env=environment,
                                       stderr=subprocess.DEVNULL)
            self.assertEqual(run.wait(), 0)
        shards = sorted(f"tasks/{shard.name}" for shard in self.file("tasks").glob("*.jsonl"))
        self.assertEqual(self.merge(*shards, output="by-slurm.jsonl").returncode, 0)
        self.assertEqual(self.file("by-slurm.jsonl").read_bytes(), self.whole)


if __name__ == "__main__":
    TOOL = str(pathlib.Path(TOOL).resolve())
    result = unittest.main(argv=sys.argv[:1], exit=False).result
    print("left out, not installed: " + ", ".join(LEFT_OUT) if LEFT_OUT else "every recipe ran")
    sys.exit(0 if result.wasSuccessful() else 1)
