"""How a command ends: its exit codes, and the one clear message where it cannot do what was asked."""

import errno
import os
from collections.abc import Sequence
from contextlib import suppress
from enum import IntEnum
from pathlib import Path
from typing import Literal

from generator.edge.spoken import words
from generator.pages.wording import Value
from generator.records.depot import Language
from generator.records.problems import Problem
from generator.systems.lacking import lacking_package
from generator.systems.renaming import may_be_held_open


class Ending(IntEnum):
    """Exit codes of every command."""

    CLEAN = 0
    PROBLEMS = 1
    MISUSE = 2
    FAULT = 70  # EX_SOFTWARE of BSD's sysexits.h: a fault of spares itself
    STOPPED = 130  # 128 + SIGINT, as shells count


class Refusal(Exception):  # noqa: N818  it is an answer, not an error
    """The command stops here: what is wrong, what to do, and the exit code."""

    def __init__(
        self,
        says: str,
        fix: str = "",
        ending: Ending = Ending.PROBLEMS,
        *,
        problems: Sequence[Problem] = (),
        root: Path | None = None,
        language: Language = Language.ENGLISH,
    ) -> None:
        """problems: what speaks against it, to be shown before in `language`, with files below `root`."""
        super().__init__(says)
        self.says = says
        self.fix = fix
        self.ending = ending
        self.problems = problems
        self.root = root or Path()
        self.language = language


def refused(
    key: str,
    ending: Ending = Ending.PROBLEMS,
    *,
    near: Sequence[str] = (),
    problems: Sequence[Problem] = (),
    below: Path | None = None,
    **facts: Value,
) -> Refusal:
    """The refusal of this name in the words files. near: what may be meant instead, which is then its mend.

    problems: shown before, with files below `below`.
    """
    w = words()
    meant = w("commands.refused.near.mend", near=str(w.flat["commands.or"]).join(near)) if near else None
    fix = meant or w(f"commands.refused.{key}.mend", **facts)
    says = w(f"commands.refused.{key}.says", **facts)
    return Refusal(says, fix, ending, problems=problems, root=below, language=Language(w.language))


# What only one kind of work needs is named by it; the words files say how.
_WORK_OF = frozenset({"mini-racer", "cascadio"})


def lacking_refusal(error: Exception) -> Refusal | None:
    """One message where a library is not installed that comes with the program; None for all else."""
    package = lacking_package(error) if isinstance(error, ModuleNotFoundError) else None
    if package is None:
        return None
    try:
        w = words()
    except ModuleNotFoundError:  # what reads the words
        return Refusal(f"the package {package} is not installed", f"pip install {package}")
    work = package if package in _WORK_OF else "other"
    return Refusal(w(f"commands.lacking.{work}", package=package), w("commands.lacking.mend", package=package))


# As the words files name it.
_REASONS = {
    errno.ENOSPC: "full",
    errno.EDQUOT: "share",
    errno.EFBIG: "large",
    errno.EROFS: "read_only",
    errno.EACCES: "may_not",
    errno.EPERM: "may_not",
    errno.EBUSY: "in_use",
    errno.ENOENT: "not_there",
    errno.ENOTDIR: "file_there",
    errno.EMFILE: "too_many",
    errno.ENAMETOOLONG: "long_name",
    errno.ELOOP: "loop",
    errno.EISDIR: "folder",
    errno.EADDRINUSE: "address_taken",
    errno.EADDRNOTAVAIL: "no_address",
    errno.ENXIO: "other_end",
}
Doing = Literal["reading", "writing", "writing_into", "evidence", "looking", "building", "serving", "running"]


def disk_refusal(error: OSError, doing: Doing, what: object) -> Refusal:
    """One message for an operating system error met while doing something with `what`, such as a folder."""
    try:
        w, key = words(), _reason(error)
    except OSError:  # even the words cannot be read, such as when too many files are open
        return Refusal(str(error))
    name = _short(error.filename) if error.filename else None
    told = w("commands.disk.failed", doing=w(f"commands.disk.doing.{doing}", what=str(what)), reason=reason_of(error), name=name)
    return Refusal(told, w(f"commands.disk.reason.{key}.mend" if key else "commands.disk.otherwise"))


def reason_of(error: OSError) -> str:
    """What the operating system says, in a few words; as it says it, where it is none of those that we know."""
    with suppress(OSError):  # of the words themselves
        if key := _reason(error):
            return words()(f"commands.disk.reason.{key}.says")
    return os.strerror(error.errno).lower() if error.errno else str(error)


def _reason(error: OSError) -> str | None:
    """On Windows one number stands for no right and for held open."""
    return "held_open" if may_be_held_open(error) else _REASONS.get(error.errno or 0)


def _short(name: object) -> str:
    text = os.fsdecode(name) if isinstance(name, bytes | str | os.PathLike) else str(name)
    return text if len(text) <= 300 else f"{text[:300]}…"
