"""How is a mesh file that cannot be trusted reported?"""

from __future__ import annotations


class MeshError(Exception):
    """A mesh file that cannot be used, in words for the person who has to mend it.

    says: what is wrong with the file. fix: what to do about it. line: line of a text format, from 1.
    It may cross a process border and be compared, so it carries nothing but these three.
    """

    def __init__(self, says: str, fix: str, line: int | None = None) -> None:
        """Keep the three fields; they are also the arguments, which makes the error picklable."""
        super().__init__(says, fix, line)
        self.says = says
        self.fix = fix
        self.line = line

    def __str__(self) -> str:
        """One line: place, what is wrong, how to mend it."""
        place = "" if self.line is None else f"line {self.line:,}: "
        return f"{place}{self.says}; {self.fix}"

    def __eq__(self, other: object) -> bool:
        """Two errors that say the same are the same."""
        return isinstance(other, MeshError) and self.args == other.args

    def __hash__(self) -> int:
        """Follow `__eq__`."""
        return hash(self.args)


SAVE_AGAIN = "save it again from the CAD program, then copy it again"
EXPORT_STL = "save it again from the CAD program as binary STL"
EXPORT_3MF = "save it again from the CAD program as 3MF"
