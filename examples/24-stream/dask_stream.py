#!/usr/bin/env python3
"""Answers a file of questions on the workers of dask.distributed, and puts the answers together.

    dask_stream.py BASE QUESTIONS ANSWERS [SCHEDULER]

A piece is a file that a worker writes where all see it, so that a worker which dies costs half a
piece: dask gives its task to another, and that goes on where the file ends. Without SCHEDULER the
workers run on this machine.
"""
import os
import pathlib
import subprocess
import sys

TOOL = os.environ.get("LEASTWISE", "leastwise")
SIZE = int(os.environ.get("LINES_PER_PIECE", "10000"))


def piece(base, questions, first, output):
    """Answers the lines from `first` on, once however often it is called."""
    subprocess.run([TOOL, "stream", "--threads", "1", "--base", base, "--resume",
                    "--lines", f"{first}-{first + SIZE - 1}", "--output", output, questions],
                   check=True)
    return output


def main(arguments):
    if len(arguments) not in (3, 4):
        print(__doc__, file=sys.stderr)
        return 64
    from dask.distributed import Client

    base, questions, answers = (str(pathlib.Path(name).resolve()) for name in arguments[:3])
    pieces = pathlib.Path(answers + ".pieces")
    pieces.mkdir(exist_ok=True)
    with open(questions, "rb") as file:
        lines = sum(1 for _ in file)
    with (Client(arguments[3]) if len(arguments) == 4 else
          Client(threads_per_worker=1, dashboard_address=None)) as client:
        asked = [client.submit(piece, base, questions, first, str(pieces / f"{first}.jsonl"),
                               pure=False, retries=3)
                 for first in range(1, lines + 1, SIZE)]
        files = client.gather(asked)
    return subprocess.run([TOOL, "stream", "--merge", "--output", answers, questions,
                           *files]).returncode


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
