"""How results look on a terminal, and plainly where there is none."""

import json
import sys
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

from rich.console import Console
from rich.text import Text

from generator.edge.spoken import words
from generator.pages.problems.said import said
from generator.pages.wording import Wording, wording
from generator.records.depot import Language
from generator.records.problems import Problem, Severity

if TYPE_CHECKING:
    from generator.pages.approvals.mends import MendLine

Report = Callable[[str, int, int], None]
"""Called with the step, how many are done and how many there are."""

_STEPS = {"read": "Reading the catalogue", "draw": "Measuring and drawing", "page": "Writing pages"}
_MOST_FILES = 100
_STYLES = {Severity.ERROR: "bold red", Severity.WARNING: "yellow"}


def printable(text: str) -> str:
    """The text without anything that steers a terminal or turns the reading direction."""
    if text.replace("\n", "").isprintable():
        return text
    return "".join(sign if sign.isprintable() or sign == "\n" else _escaped(sign) for sign in text)


def _escaped(sign: str) -> str:
    return f"\\x{ord(sign):02x}" if ord(sign) < 0x100 else f"\\u{ord(sign):04x}"


def tell_json(value: object) -> None:
    """A result for programs: every sign comes through, whatever encoding the output has."""
    encoding = getattr(sys.stdout, "encoding", None) or "utf-8"
    print(json.dumps(value, indent=2, ensure_ascii=not encoding.lower().startswith("utf")))


class Terminal:
    """Standard output for results, standard error for progress and refusals."""

    def __init__(self) -> None:
        plain: dict[str, Any] = {"markup": False, "highlight": False, "emoji": False, "soft_wrap": True}
        self._out = Console(**plain)
        self._err = Console(stderr=True, **plain)

    def say(self, text: str = "", style: str | None = None) -> None:
        _put(self._out, Text(printable(text), style=style or ""))

    def note(self, text: str, style: str | None = None) -> None:
        """Something beside the result, on standard error."""
        _put(self._err, Text(printable(text), style=style or ""))

    def notes(self, notes: Sequence[Problem], language: Language) -> None:
        """What is no mistake of the author and should be known, one line each."""
        w = wording(language)
        for each in notes:
            told = said(each, w)
            self.note(f"{w('terminal.note')} {told.says}; {told.fix}", "yellow")

    def refuse(self, says: str, fix: str) -> None:
        self.note(f"spares: {says}", "bold red")
        if fix:
            self.note(f"  {words()('told.mend')} {fix}")

    def problems(
        self, problems: Sequence[Problem], root: Path, language: Language, most: int | None = None
    ) -> None:
        """Each problem with a place to open and its mend; after `most` the rest is counted and its files are named."""
        w = wording(language)
        shown = problems if most is None else problems[:most]
        for problem in shown:
            line = Text(printable(f"{(root / problem.where.file).as_posix()}{_position(problem)}: "))
            told = said(problem, w)
            line.append(f"{w.term('severity', problem.severity)} {problem.code}", _STYLES[problem.severity])
            line.append(printable(f": {told.says}"))
            _put(self._out, line)
            self.say(f"    {w('told.mend')} {told.fix}", "dim")
        if len(problems) > len(shown):
            rest = problems[len(shown) :]
            files = list(dict.fromkeys(problem.where.file for problem in rest))
            unnamed = w.number(len(files) - _MOST_FILES) if len(files) > _MOST_FILES else None
            named = ", ".join(files[:_MOST_FILES])
            self.say(w("told.more", count=counted(rest, w), files=named, unnamed=unnamed))

    def mends(self, lines: "Iterable[MendLine]") -> None:
        """What is missing, what one does about it, and the command that can be copied as it stands."""
        for line in lines:
            self.say(f"  ✕ {line.missing}")
            self.say(f"    {line.do}", "dim")
            self.say(f"      {line.command}")

    def table(self, heads: Sequence[str], rows: Iterable[Sequence[str]]) -> None:
        """A table; without a terminal aligned columns that no width cuts."""
        cells = [[printable(cell) for cell in row] for row in rows]
        if self._out.is_terminal:
            from rich.table import Table  # noqa: PLC0415  on a terminal alone

            drawn = Table(*heads, box=None, pad_edge=False, header_style="dim")
            for row in cells:
                drawn.add_row(*(Text(cell) for cell in row))
            self._out.print(drawn)
            return
        widths = [max(len(row[i]) for row in [list(heads), *cells]) for i in range(len(heads))]
        for row in [list(heads), *cells]:
            self.say("  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip())

    @contextmanager
    def progress(self) -> Iterator[Report]:
        """A bar for each step on a terminal, nothing elsewhere."""
        if not self._err.is_terminal:
            yield lambda _step, _done, _whole: None
            return
        from rich import progress as bar  # noqa: PLC0415  on a terminal alone

        steps = bar.TextColumn("{task.description:<24}")
        columns = steps, bar.BarColumn(), bar.MofNCompleteColumn(), bar.TimeElapsedColumn()
        with bar.Progress(*columns, console=self._err, transient=True) as bars:
            tasks: dict[str, Any] = {}

            def report(step: str, done: int, whole: int) -> None:
                if step not in tasks:
                    for earlier in bars.tasks:
                        bars.update(earlier.id, completed=earlier.total)
                    tasks[step] = bars.add_task(_STEPS.get(step, step), total=whole)
                bars.update(tasks[step], completed=done, total=whole)

            yield report


def _put(console: Console, text: Text) -> None:
    """Where there is no terminal the text as it is: to lay it out takes a tenth of a short command."""
    if console.is_terminal:
        console.print(text)
    else:
        console.file.write(f"{text.plain}\n")
        console.file.flush()


def _position(problem: Problem) -> str:
    where = problem.where
    return "".join(f":{part}" for part in (where.line, where.column) if part is not None)


def counted(problems: Iterable[Problem], w: Wording) -> str:
    """'2 errors and 1 warning'; 'no problems' when there are none."""
    listed = list(problems)
    errors = sum(problem.severity is Severity.ERROR for problem in listed)
    counts = (("told.errors", errors), ("told.warnings", len(listed) - errors))
    told = [w(f"{key}.{'one' if count == 1 else 'other'}", n=str(count)) for key, count in counts if count]
    return str(w.flat["joined.and"]).join(told) or w("told.none")
