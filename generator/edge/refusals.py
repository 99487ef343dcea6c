"""How a command ends: its exit codes, and the one clear message where it cannot do what was asked."""

import errno
import os
from collections.abc import Sequence
from enum import IntEnum
from pathlib import Path

from generator.edge.spoken import words
from generator.pages.wording import Value
from generator.records.depot import Language
from generator.records.problems import Problem
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


_REASONS = {
    errno.ENOSPC: ("the disk is full", "make room, then run it again"),
    errno.EDQUOT: ("your share of the disk is used up", "make room, then run it again"),
    errno.EFBIG: ("a file would grow larger than this account may write", "raise the limit (ulimit -f)"),
    errno.EROFS: ("the disk can only be read", "choose a folder on another disk"),
    errno.EACCES: ("this account may not write there", "choose another folder, or change who may write"),
    errno.EPERM: ("this account may not write there", "choose another folder, or change who may write"),
    errno.EBUSY: ("it is in use, perhaps as a mount point", "choose a folder inside it"),
    errno.ENOTDIR: ("a file stands where a folder is needed", "choose another folder"),
    errno.EMFILE: ("too many files are open", "close other programs, then run it again"),
    errno.ENAMETOOLONG: ("a name is longer than the disk takes", "choose a shorter name"),
    errno.ELOOP: ("it is a link that leads to itself", "name the file itself"),
    errno.EISDIR: ("it is a folder", "name a file"),
    errno.EADDRINUSE: ("address already in use", "choose another one, such as --address 127.0.0.1:8100"),
    errno.EADDRNOTAVAIL: ("this machine has no such address", "use 127.0.0.1, or an address of this machine"),
    errno.ENXIO: ("nobody is at its other end", "name a plain file"),
}
# Windows gives one number for both.
_HELD_OPEN = (
    "another program holds it open, or this account has no right to it",
    "close what shows it (editor, viewer, browser, spreadsheet), then run it again",
)


def disk_refusal(error: OSError, doing: str) -> Refusal:
    """One message for an operating system error met while `doing`, such as 'writing site/'."""
    fix = _HELD_OPEN[1] if may_be_held_open(error) else _REASONS.get(error.errno or 0, ("", "check the disk"))[1]
    name = f" ({_short(error.filename)})" if error.filename else ""
    return Refusal(f"{doing} failed: {reason_of(error)}{name}", fix)


def reason_of(error: OSError) -> str:
    """What the operating system says, in a few words."""
    if may_be_held_open(error):
        return _HELD_OPEN[0]
    unlisted = os.strerror(error.errno).lower() if error.errno else str(error)
    return _REASONS.get(error.errno or 0, (unlisted, ""))[0]


def _short(name: object) -> str:
    text = os.fsdecode(name) if isinstance(name, bytes | str | os.PathLike) else str(name)
    return text if len(text) <= 300 else f"{text[:300]}…"
