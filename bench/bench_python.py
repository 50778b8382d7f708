#!/usr/bin/env python3
"""Many what-ifs from Python beside the same in C++, in turn, on one thread each, in processor time
(the best round of each); then the same questions from eight Python threads at once. Every cost must
be that of C++, one question after the other, to the last bit.

    bench_python.py BENCH_BULK [COUNT [ROUNDS]]
"""
import math
import subprocess
import sys
import tempfile
import threading
import time

import leastwise

THREADS = 8


def in_cpp(program, file, count):
    printed = subprocess.run([program, "ask", file, str(count)], capture_output=True, check=True,
                             text=True).stdout.split()
    return [float(cost) for cost in printed[:-1]], float(printed[-1])


def questions(scenario, count):
    prices = list(scenario.prices.items())
    return [{"prices": {prices[k % len(prices)][0]:
                        prices[k % len(prices)][1] * (0.9 + 0.0001 * (k % 2000))}}
            for k in range(count)]


def in_python(scenario, count):
    start = time.process_time()
    costs = [0.0 if math.isnan(cost) else cost
             for cost in scenario.what_if(questions(scenario, count), threads=1).cost]
    return costs, time.process_time() - start


def from_threads(scenario, count):
    asked = questions(scenario, count)
    parts = [None] * THREADS

    def ask(k):
        parts[k] = scenario.what_if(asked[k::THREADS], threads=2).cost

    threads = [threading.Thread(target=ask, args=(k,)) for k in range(THREADS)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    costs = [0.0] * count
    for k, part in enumerate(parts):
        costs[k::THREADS] = [0.0 if math.isnan(cost) else cost for cost in part]
    return costs


def compared(program, materials, count, rounds):
    text = subprocess.run([program, "scenario", str(materials)], capture_output=True, check=True,
                          text=True).stdout
    with tempfile.NamedTemporaryFile("w", suffix=".yaml") as file:
        file.write(text)
        file.flush()
        scenario = leastwise.Scenario.load(file.name)
        cpp = python = math.inf
        for _ in range(rounds):
            wanted, seconds = in_cpp(program, file.name, count)
            cpp = min(cpp, seconds)
            found, seconds = in_python(scenario, count)
            python = min(python, seconds)
            if found != wanted or from_threads(scenario, count) != wanted:
                sys.exit(f"{materials} materials: Python and C++ do not agree")
    print(f"{materials} materials: C++ {1e6 * cpp / count:.1f} us each, "
          f"Python {1e6 * python / count:.1f} us: {cpp / python:.3f} of the rate")


def main(arguments):
    if not 1 <= len(arguments) <= 3:
        print(__doc__, file=sys.stderr)
        return 2
    count = int(arguments[1]) if len(arguments) > 1 else 4000
    rounds = int(arguments[2]) if len(arguments) > 2 else 5
    for materials in (12, 25, 60):
        compared(arguments[0], materials, count, rounds)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
