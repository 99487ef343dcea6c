"""The scripts that git runs before a commit and after a push: where they lie, what they say, and that nobody else's is overwritten."""

import os
import shlex
import subprocess
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path

from generator.edge.disk import done
from generator.edge.disk.atomic import created_whole, written_whole
from generator.edge.refusals import Ending, disk_refusal, refused

MARK = "# Written by `spares hook install`, which also writes it anew."
_PATIENCE_S = 60


class Hook(StrEnum):
    BEFORE_COMMIT = "pre-commit"
    AFTER_PUSH = "post-receive"


class Became(StrEnum):
    """What became of a hook; words of the command."""

    NEW = "new"
    RENEWED = "renewed"
    SAME = "same"


@dataclass(frozen=True, slots=True, kw_only=True)
class HookPlace:
    """A repository, and where its hooks lie."""

    git: Path
    hooks: Path
    top: Path | None
    """Of its work tree; None where it is bare."""


def is_bare(folder: Path) -> bool:
    """Whether one stands in a bare repository."""
    return (_git(folder, "rev-parse", "--is-bare-repository") or "").strip() == "true"


def place_around(folder: Path) -> HookPlace:
    """Raises Refusal where there is no repository."""
    told = _git(folder, "rev-parse", "--is-bare-repository", "--absolute-git-dir")
    if told is None:
        raise refused("hook_no_git", Ending.MISUSE, folder=str(folder))
    is_bare, git = told.split("\n")[:2]
    common = _git(folder, "rev-parse", "--git-common-dir") or git  # a work tree beside others shares their hooks
    hooks = Path(os.path.normpath(folder.resolve() / common.rstrip("\n"))) / "hooks"
    top = None if is_bare == "true" else _git(folder, "rev-parse", "--show-toplevel")
    if is_bare != "true" and top is None:
        raise refused("hook_no_git", Ending.MISUSE, folder=str(folder))
    return HookPlace(git=Path(git), hooks=hooks, top=Path(top.rstrip("\n")) if top else None)


def refuse_shared(folder: Path, hook: Hook) -> None:
    """Raises Refusal where the repository has its hooks in a folder that others may share."""
    if elsewhere := _git(folder, "config", "--get", "core.hooksPath"):
        raise refused("hook_elsewhere", hooks=elsewhere.strip(), hook=hook)


def text_of(hook: Hook, program: str, below: str, *words: str) -> str:
    """The script. program: spares, as it is called; below: the folder in the work tree in which it is called, if not its top."""
    line = shlex.join(["hook", hook, *words])
    steps = [f"cd {shlex.quote(below)} || exit 1"] if below not in ("", ".") else []
    quoted = shlex.quote(program)
    return "\n".join(
        ["#!/bin/sh", MARK, *steps, f"spares={quoted}", '[ -x "$spares" ] || spares=spares  # where it lay has changed', f'exec "$spares" {line}', ""]
    )


def installed(place: HookPlace, hook: Hook, text: str) -> Became:
    """Write the script. Raises Refusal where a hook of somebody else's is there, which stays as it is."""
    file = place.hooks / hook
    try:
        if not os.path.lexists(file):
            place.hooks.mkdir(parents=True, exist_ok=True)
            created_whole(file, text.encode("utf-8", "surrogateescape"))
            became = Became.NEW
        else:
            became = _renewed(file, hook, text)
        file.chmod(0o755)
    except FileExistsError as error:  # it came while this one was written
        raise refused("hook_taken", hook=hook, file=str(file), line=text.splitlines()[-1]) from error
    except OSError as error:
        raise disk_refusal(error, "writing", file) from error
    if became is not Became.SAME:
        done.wrote(f"{file} is written")
    return became


def _renewed(file: Path, hook: Hook, text: str) -> Became:
    before = file.read_bytes().decode("utf-8", "surrogateescape") if file.is_file() and not file.is_symlink() else ""
    if before == text:
        return Became.SAME
    if MARK not in before.splitlines():
        raise refused("hook_taken", hook=hook, file=str(file), line=_line(text))
    if _where(before) != _where(text):
        raise refused("hook_of_another", hook=hook, file=str(file))
    written_whole(file, text.encode("utf-8", "surrogateescape"))
    return Became.RENEWED


def _line(text: str) -> str:
    """What somebody adds to a hook of one's own."""
    return text.splitlines()[-1].replace('exec "$spares"', "spares")


def _where(text: str) -> list[str]:
    return [line for line in text.splitlines() if line.startswith("cd ")]


def _git(folder: Path, *words: str) -> str | None:
    """What git answers there; None where it says no."""
    around = {name: value for name, value in os.environ.items() if not name.startswith("GIT_") or name.startswith("GIT_CONFIG")}
    try:
        ran = subprocess.run(["git", *words], cwd=folder, env=around | {"LC_ALL": "C"}, capture_output=True, check=False, timeout=_PATIENCE_S)
    except FileNotFoundError as error:
        raise refused("hook_git", reason="there is no git on this machine") from error
    except (OSError, subprocess.SubprocessError) as error:
        raise refused("hook_git", reason=type(error).__name__) from error
    return None if ran.returncode else os.fsdecode(ran.stdout)
