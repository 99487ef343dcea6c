"""What a command with a full store spends on loading code: `python -m tests.benchmarks.bench_loading [--rounds 5]`.

For commands that only read, on the demo: processor seconds of the whole command, of the imports alone, and how many
modules there are. Of the rounds the least counts.
"""

import argparse
import os
import subprocess
import sys
import tempfile
from pathlib import Path

from generator.edge.commands.terminal import Terminal

ROOT = Path(__file__).parents[2]
COMMANDS = {
    "check": ["check"],
    "find": ["find", "knob"],
    "explain": ["explain", "TV-0417"],
    "approvals": ["approvals"],
    "record": ["record", "--help"],
}
PROGRAM = """
import sys, time
from generator.edge import cli
code = cli.main(sys.argv[1:])
print(len(sys.modules), time.process_time(), file=sys.stderr)
"""
IMPORTS = """
import importlib, sys, time
for name in sys.argv[1:]:
    try:
        importlib.import_module(name)
    except ImportError:
        pass
print(time.process_time(), file=sys.stderr)
"""
MODULES = PROGRAM.replace("print(len(sys.modules), time.process_time()", "print(*list(sys.modules)")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--rounds", type=int, default=5)
    rounds = parser.parse_args().rounds
    with tempfile.TemporaryDirectory() as store:
        last_line(PROGRAM, "check", "--store", store)
        rows = [row(name, [*words, "--store", store], rounds) for name, words in COMMANDS.items()]
    Terminal().table(["command", "processor", "imports", "modules"], rows)


def row(name: str, words: list[str], rounds: int) -> list[str]:
    whole = [last_line(PROGRAM, *words).split() for _ in range(rounds)] if "--help" not in words else []
    modules = last_line(MODULES, *words).split() if whole else []
    loading = [float(last_line(IMPORTS, *(modules or [f"generator.edge.commands.{name}"]))) for _ in range(rounds)]
    took = f"{min(float(each[1]) for each in whole):.2f} s" if whole else ""
    return [name, took, f"{min(loading):.2f} s", f"{len(modules) or ''}"]


def last_line(program: str, *words: str) -> str:
    run = subprocess.run(
        [sys.executable, "-c", program, *words], cwd=ROOT, capture_output=True, text=True, check=False, env=os.environ
    )
    return run.stderr.strip().splitlines()[-1]


if __name__ == "__main__":
    main()
