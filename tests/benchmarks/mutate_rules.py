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
from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import _lru_cache_wrapper
from pathlib import Path
from types import FrameType, ModuleType
from typing import Any

import pytest

from tests.benchmarks.mutants import Mutant, mutants
from tests.benchmarks.mutate_alike import ALIKE

ROOT = Path(__file__).parents[2]
RULES = ROOT / "generator/rules"
# Left out for their time: what only they tell should have a quick test of its own.
THOROUGH = {"test_against_second_judge", "test_mutations", "test_canonical", "test_careful"}
SLOW_S = 0.3
"""Processor time that a test may take to count as quick."""
PATIENCE_S = 10
"""Processor time after which a spoilt rule never ends; of each test."""


Touched = Mapping[str, frozenset[int]]
"""The lines that a test runs, by file of the rules."""


class Spoiling:
    """Takes the place of the run of the tests."""

    def __init__(self, options: argparse.Namespace) -> None:
        self.options = options
        self.failed = False
        self.sharp = Counter[pytest.Item]()
        """How many spoilt rules each test told: they are asked first, after those of its own file."""

    @pytest.hookimpl(tryfirst=True)
    def pytest_collection(self) -> None:
        """Made-up examples are few, so that tests of them are quick enough to be asked."""
        from hypothesis import HealthCheck, settings

        settings.register_profile("few", max_examples=20, deadline=None, suppress_health_check=list(HealthCheck))
        settings.load_profile("few")

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        self.failed |= report.failed

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        self.kept = list(_keeping(each for each in _ours() if each.__name__.startswith("generator.rules.")))
        touched = {item: self.touched_by(item) for item in session.items}
        if self.failed:
            raise pytest.UsageError("the tests fail as it is")
        gc.freeze()  # so that forks share what is loaded
        total = Counter[str]()
        for file in map(Path.resolve, self.options.files or sorted(RULES.rglob("*.py"))):
            count = Counter(self.spoilt_one_by_one(file, touched))
            print(f"{file.relative_to(RULES)}: {_in_words(count)}; tests: {_named(touched, file)}", flush=True)
            total += count
        print(f"all: {_in_words(total)}")
        return True

    def spoilt_one_by_one(self, file: Path, touched: Mapping[pytest.Item, Touched]) -> Iterator[str]:
        for mutant in mutants(file):
            if self.options.line in (None, mutant.line):
                telling = [item for item in touched if _reaches(touched[item].get(str(file), frozenset()), mutant)]
                yield self.found(file, mutant, sorted(telling, key=lambda item: (item.path.stem != f"test_{file.stem}", -self.sharp[item]))[: self.options.most])

    def touched_by(self, item: pytest.Item) -> Touched:
        """The lines of the rules that a test runs; of a slow test none."""
        lines: set[tuple[str, int]] = set()

        def line(frame: FrameType, event: str, _: object) -> Any:
            lines.add((frame.f_code.co_filename, frame.f_lineno))
            return line

        self.forget()
        start = time.process_time()
        sys.settrace(lambda frame, *_: line(frame, "call", None) if frame.f_code.co_filename.startswith(str(RULES)) else None)
        item.config.hook.pytest_runtest_protocol(item=item, nextitem=None)
        sys.settrace(None)
        if time.process_time() - start > SLOW_S:
            return {}
        return {file: frozenset(number for name, number in lines if name == file) for file in {name for name, _ in lines}}

    def found(self, file: Path, mutant: Mutant, tests: list[pytest.Item]) -> str:
        name = str(file.relative_to(RULES))
        if (name, mutant.was, mutant.now) in ALIKE:
            return "say the same"
        if self.is_told(".".join(file.relative_to(ROOT).with_suffix("").parts), mutant, tests):
            return "told"
        print(f"{name}:{mutant.line}: {mutant.was}\n    → {mutant.now}", flush=True)
        return "survive"

    def is_told(self, module: str, mutant: Mutant, tests: list[pytest.Item]) -> bool:
        telling, told = os.pipe()
        child = os.fork()
        if child:
            os.close(told)
            with os.fdopen(telling, encoding="ascii") as answer:
                number = answer.read()
            if number:
                self.sharp[tests[int(number)]] += 1
            return os.waitpid(child, 0)[1] != 0
        try:
            self.forget()
            ours = _ours() + [item.module for item in tests if isinstance(item, pytest.Function)]
            mutant.put(importlib.import_module(module), ours)
            for number, item in enumerate(tests):
                signal.setitimer(signal.ITIMER_VIRTUAL, PATIENCE_S)  # a rule that never ends is told as well
                item.config.hook.pytest_runtest_protocol(item=item, nextitem=None)
                if self.failed:
                    os.write(told, str(number).encode())
                    os._exit(1)
            os._exit(0)
        finally:
            os._exit(1)

    def forget(self) -> None:
        """What was worked out before must not hide what a test asks, or what a spoilt rule would answer."""
        for clear in self.kept:
            clear()


def _ours() -> list[ModuleType]:
    return [each for name, each in sys.modules.items() if name.split(".")[0] in {"generator", "tests"}]


def _keeping(modules: Iterable[ModuleType]) -> Iterator[Callable[[], None]]:
    """How to empty what each function keeps of its answers; what was read stays, since reading it is dear."""
    kept = {id(value): value for module in modules for value in vars(module).values() if isinstance(value, _lru_cache_wrapper)}
    return (each.cache_clear for each in kept.values())


def _in_words(count: Counter[str]) -> str:
    told = count["told"] / max(1, count["told"] + count["survive"])
    return f"{count.total()} places spoilt: {dict(count)}, {told:.0%} told"


def _reaches(lines: frozenset[int], mutant: Mutant) -> bool:
    """Whether a test runs the statement; a table counts for whatever runs anything of the file."""
    return bool(lines) if not isinstance(mutant.inside, ast.FunctionDef) else not lines.isdisjoint(mutant.reached)


def _named(touched: Mapping[pytest.Item, Touched], file: Path) -> str:
    """The files of tests that ask something of the file, with how many tests of each."""
    asked = Counter(item.path.stem for item, lines in touched.items() if str(file) in lines)
    return ", ".join(f"{name} {count}" for name, count in asked.most_common()) or "none"


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("files", nargs="*", type=Path, help="modules of the rules; all where none is named")
    parser.add_argument("--line", type=int, help="only what begins on this line")
    parser.add_argument("--most", type=int, help="of each place so many tests at most, its own and the sharpest first: others may tell what survives")
    parser.add_argument("--tests", nargs="+", type=Path, default=[ROOT / "tests/rules"], help="the files or folders whose tests are asked")
    options = parser.parse_args()
    os.environ["HYPOTHESIS_STORAGE_DIRECTORY"] = tempfile.mkdtemp()
    found = sorted({file for each in options.tests for file in ([each] if each.is_file() else each.rglob("test_*.py"))})
    tests = [str(file) for file in found if file.stem not in THOROUGH]
    quiet = ["-o", "addopts=--import-mode=importlib", "-p", "no:cacheprovider", "-p", "no:terminal", "--hypothesis-seed=0"]
    sys.exit(pytest.main([*quiet, *tests], [Spoiling(options)]))


if __name__ == "__main__":
    main()
