"""How is a mesh file that cannot be trusted reported?"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from generator.records.problems import Fact, Problem, Where, wrong

# How to mend it, by the key of the sentence.
SAVE_AGAIN: Final = "save again"
EXPORT_STL: Final = "export stl"
EXPORT_3MF: Final = "export 3mf"
EXPORT_STEP: Final = "export step"
REDUCE: Final = "reduce"


class MeshError(Exception):
    """A mesh file that cannot be used; it carries the problem, whose place has a line, from 1, of text formats only.

    It may cross a process border and be compared, so it carries nothing but this.
    """

    def __init__(self, problem: Problem) -> None:
        super().__init__(problem)
        self.problem = problem

    def __eq__(self, other: object) -> bool:
        """Two errors that say the same are the same."""
        return isinstance(other, MeshError) and self.problem == other.problem

    def __hash__(self) -> int:
        """Follow `__eq__`."""
        return hash(self.problem)

    def on_line(self, line: int) -> MeshError:
        return MeshError(self.problem.at(Where("", line)))


def unusable(key: str, mend: str = "", /, *, line: int | None = None, **facts: Fact | Iterable[str]) -> MeshError:
    """The error for a sentence of MESH03; see `wrong`."""
    return MeshError(wrong("MESH03", key, mend, where=Where("", line)).telling(**facts))


def shown(text: str, most: int = 60) -> str:
    """The beginning of a text from a file, as a sentence may quote it: what is no letter, sign or space is a dot."""
    plain = "".join(each if each.isprintable() and each != "\N{REPLACEMENT CHARACTER}" else "·" for each in text.strip()[:most])
    return plain.strip()
