"""Would a test tell if a rule were wrong? Spoils the rules one place at a time; run with `python -m tests.benchmarks.mutate_rules`.

Everything is loaded once. Each spoilt rule is put in place of the true one in a fork that runs the quick tests of the
rules until one fails; no file is written. What no test tells is a survivor: the rule lacks a test, or the two say the
same (ALIKE, with the reason).
"""

import argparse
import ast
import gc
import importlib
import os
import signal
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator, Mapping
from pathlib import Path
from types import CodeType

import pytest

from tests.benchmarks.mutants import Mutant, mutants
from tests.benchmarks.mutate_alike import ALIKE

ROOT = Path(__file__).parents[2]
RULES = ROOT / "generator/rules"
# Left out for their time: what only they tell should have a quick test of its own.
THOROUGH = {"test_against_second_judge", "test_mutations", "test_canonical", "test_careful"}
SLOW_S = 0.3
"""Processor time that a test may take to count as quick."""
PATIENCE_S = 60


Touched = tuple[str, str | None]
"""A file of the rules and a function in it; None for its tables."""


class Spoiling:
    """Takes the place of the run of the tests."""

    def __init__(self, options: argparse.Namespace) -> None:
        self.options = options
        self.failed = False

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        self.failed |= report.failed

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        touched = {item: self.touched_by(item) for item in session.items}
        if self.failed:
            raise pytest.UsageError("the tests fail as it is")
        gc.freeze()  # so that forks share what is loaded
        total = Counter[str]()
        for file in map(Path.resolve, self.options.files or sorted(RULES.rglob("*.py"))):
            count = Counter(self.spoilt_one_by_one(file, touched))
            print(f"{file.relative_to(RULES)}: {count.total()} places spoilt:", dict(count), flush=True)
            total += count
        print(f"{total.total()} places spoilt:", dict(total))
        return True

    def spoilt_one_by_one(self, file: Path, touched: Mapping[pytest.Item, set[Touched]]) -> Iterator[str]:
        its_own_first = sorted(touched, key=lambda item: file.stem not in item.path.stem)
        for mutant in mutants(file):
            if self.options.line in (None, mutant.line):
                name = mutant.inside.name if isinstance(mutant.inside, ast.FunctionDef) else None
                yield self.found(file, mutant, [item for item in its_own_first if (str(file), name) in touched[item]])

    def touched_by(self, item: pytest.Item) -> set[Touched]:
        """The functions and files of the rules that a test calls; of a slow test none."""
        codes: dict[int, CodeType] = {}
        start = time.process_time()
        sys.setprofile(lambda frame, *_: codes.setdefault(id(frame.f_code), frame.f_code))
        item.config.hook.pytest_runtest_protocol(item=item, nextitem=None)
        sys.setprofile(None)
        if time.process_time() - start > SLOW_S:
            return set()
        ours = [code for code in codes.values() if code.co_filename.startswith(str(RULES))]
        return {(code.co_filename, name) for code in ours for name in (code.co_name, None)}

    def found(self, file: Path, mutant: Mutant, tests: list[pytest.Item]) -> str:
        name = str(file.relative_to(RULES))
        if (name, mutant.was, mutant.now) in ALIKE:
            return "say the same"
        if self.is_told(".".join(file.relative_to(ROOT).with_suffix("").parts), mutant, tests):
            return "told"
        print(f"{name}:{mutant.line}: {mutant.was}\n    → {mutant.now}", flush=True)
        return "survive"

    def is_told(self, module: str, mutant: Mutant, tests: list[pytest.Item]) -> bool:
        child = os.fork()
        if child:
            return os.waitpid(child, 0)[1] != 0
        signal.setitimer(signal.ITIMER_VIRTUAL, PATIENCE_S)  # a rule that never ends is told as well
        try:
            ours = [each for name, each in sys.modules.items() if name.split(".")[0] in {"generator", "tests"}]
            ours += [item.module for item in tests if isinstance(item, pytest.Function)]
            mutant.put(importlib.import_module(module), ours)
            for item in tests:
                item.config.hook.pytest_runtest_protocol(item=item, nextitem=None)
                if self.failed:
                    os._exit(1)
            os._exit(0)
        finally:
            os._exit(1)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("files", nargs="*", type=Path, help="modules of the rules; all where none is named")
    parser.add_argument("--line", type=int, help="only what begins on this line")
    options = parser.parse_args()
    os.environ["HYPOTHESIS_STORAGE_DIRECTORY"] = tempfile.mkdtemp()
    found = sorted((ROOT / "tests/rules").glob("test_*.py"))
    tests = [str(file) for file in found if file.stem not in THOROUGH]
    quiet = ["-o", "addopts=--import-mode=importlib", "-p", "no:cacheprovider", "-p", "no:terminal", "--hypothesis-seed=0"]
    sys.exit(pytest.main([*quiet, *tests], [Spoiling(options)]))


if __name__ == "__main__":
    main()
