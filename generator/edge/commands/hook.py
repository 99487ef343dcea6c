"""`spares hook`: git checks what is committed and builds what is pushed."""

import argparse
import os
import shlex
import shutil
import sys
from collections.abc import Mapping
from pathlib import Path

from generator.edge.around import beside_catalogue
from generator.edge.commands import options as asking
from generator.edge.commands.check import tell_some
from generator.edge.commands.checked_some import How, staged
from generator.edge.commands.terminal import Terminal
from generator.edge.disk import pushed
from generator.edge.disk.hooks import Hook, installed, is_bare, place_around, refuse_shared, text_of
from generator.edge.refusals import Ending, disk_refusal, refused
from generator.edge.spoken import words
from generator.records.problems import Severity

DESCRIPTION = """\
`spares hook install` writes the script that git runs. In a folder with a catalogue: before a commit, what it changes is checked in
seconds, and errors stop it. In a bare repository, with --served: after a push the newest commit of the branch is built, and the site
takes the place of the served folder in one step. Two pushes at once are built one after the other. Where a build fails the last good
site stays, and who pushed is told where the log lies. A hook that somebody else wrote is never overwritten.

A part with mistakes does not fail the build: its page says "Do not fit", and a withdrawal in the same push is served all the same;
with --strict any error does. Whoever may push decides what mkdocs.yml says, and so what the build runs.

The other two are what git calls.
"""
EXAMPLE = """\
  spares hook install
  spares hook install --served /srv/spares        # in the bare repository
  spares hook install --served /srv/spares --branch main --strict
"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    steps = parser.add_subparsers(dest="step", metavar="STEP", required=True)
    install = steps.add_parser("install", help="write the script that git runs here")
    before = steps.add_parser(Hook.BEFORE_COMMIT, help="what git calls: check what is to be committed")
    after = steps.add_parser(Hook.AFTER_PUSH, help="what git calls: build what was pushed")
    asking.add_catalogue(before)
    asking.add_day(before, "check as on this day (default: SOURCE_DATE_EPOCH, else today)")
    asking.add_day(after, "judge as on this day (default: SOURCE_DATE_EPOCH, else today)")
    for each in (install, after):
        each.add_argument("--served", type=Path, metavar="FOLDER", required=each is after, help="the folder that tablets read, replaced as a whole")
        each.add_argument("--branch", metavar="NAME", help="which branch is served (default: that of the repository's HEAD)")
        each.add_argument("--strict", action="store_true", help="any error: the last good site stays")
    install.add_argument("--catalogue", type=Path, metavar="DIR", default=asking.catalogue_around(), help="the folder that holds depot.yml")


def run(options: argparse.Namespace) -> int:
    terminal = Terminal()
    steps = {"install": _install, Hook.BEFORE_COMMIT: _before_commit, Hook.AFTER_PUSH: _after_push}
    return steps[options.step](options, terminal)


def _install(options: argparse.Namespace, terminal: Terminal) -> int:
    has_depot = (options.catalogue / "depot.yml").is_file() and not is_bare(Path.cwd())
    place = place_around(options.catalogue if has_depot else Path.cwd())
    if place.top is None:
        hook, text = _for_pushes(options, place.git)
    elif options.served or options.branch or options.strict:
        raise refused("hook_not_bare", Ending.MISUSE, folder=str(place.top))
    elif not has_depot:
        raise refused("hook_no_catalogue", Ending.MISUSE, root=str(options.catalogue))
    else:
        # Where the command is given, so that it finds catalogue and store by itself.
        depot = beside_catalogue(options.catalogue, ".").resolve()
        hook, text = Hook.BEFORE_COMMIT, text_of(Hook.BEFORE_COMMIT, _program(), depot.relative_to(place.top.resolve()).as_posix())
    refuse_shared(place.git, hook)
    became = installed(place, hook, text)
    w = words()
    terminal.say(w(f"commands.hook.{became}", file=str(place.hooks / hook)), "bold")
    is_first = hook is Hook.AFTER_PUSH and not pushed.is_served(_whole(options.served))
    terminal.say(w("commands.hook.does.first" if is_first else f"commands.hook.does.{hook}", served=str(options.served)))
    return Ending.CLEAN


def _whole(folder: Path) -> Path:
    """The whole path, through a link as it is named: where that leads may change."""
    return Path(os.path.normpath(folder.absolute()))


def _for_pushes(options: argparse.Namespace, git: Path) -> tuple[Hook, str]:
    if options.served is None:
        raise refused("hook_no_served", Ending.MISUSE, folder=str(git))
    served = _whole(options.served)
    if served.resolve() == git.resolve() or git.resolve() in served.resolve().parents:
        raise refused("hook_served_inside", Ending.MISUSE, served=str(served), folder=str(git))
    if served.resolve() in git.resolve().parents:
        raise refused("hook_served_around", Ending.MISUSE, served=str(served), folder=str(git))
    if _holds_others(served):
        raise refused("hook_served_taken", Ending.MISUSE, served=str(served))
    said = ["--served", str(served), *(["--branch", options.branch] if options.branch else []), *(["--strict"] if options.strict else [])]
    return Hook.AFTER_PUSH, text_of(Hook.AFTER_PUSH, _program(), "", *said)


def _holds_others(served: Path) -> bool:
    """Whether something lies there that spares did not make, if only another's site: each push would fail, since no build takes its place."""
    try:
        return served.exists() and (not served.is_dir() or (any(served.iterdir()) and not pushed.is_served(served)))
    except OSError as error:
        raise disk_refusal(error, "looking", served) from error


def _program() -> str:
    """Spares as it was called here, with its whole path where that is known: git's own shell may have another PATH."""
    called = Path(sys.argv[0])
    found = called if called.stem == "spares" and called.is_file() else Path(shutil.which("spares") or "spares")
    return str(found.absolute()) if found.is_file() else "spares"


def _before_commit(options: argparse.Namespace, terminal: Terminal) -> int:
    root = asking.catalogue_of(options.catalogue)
    how = How(day=options.on or asking.today(), store=asking.store_in(options.store), workers=options.workers, terminal=terminal)
    some = staged(root, how)
    if some is None:
        return Ending.CLEAN
    tell_some(some, root, terminal)
    if not any(each.severity is Severity.ERROR for each in some.problems):
        return Ending.CLEAN
    terminal.say(words()("commands.hook.stopped"), "bold red")
    return Ending.PROBLEMS


def _after_push(options: argparse.Namespace, terminal: Terminal) -> int:
    place = place_around(Path(os.environ.get("GIT_DIR", ".")))
    wish = pushed.PushSettings(
        git=place.git, served=_whole(options.served), branch=options.branch, is_strict=options.strict, day=options.on or asking.today()
    )
    branch, w = pushed.branch_of(wish), words()
    moved = pushed.moved(sys.stdin) if not sys.stdin.isatty() else {branch: True}
    if not moved.get(branch):
        _tell_other(wish, branch, moved, terminal)
        return Ending.CLEAN
    found = pushed.build(wish, branch, lambda lock: terminal.note(w("commands.hook.waiting", lock=lock)))
    for line in found.last_lines:
        terminal.say(f"  {line}")
    if not found.is_good:
        raise refused("hook_failed", commit=found.commit[:10], stays=pushed.what_stays(wish.served), log=str(found.log))
    terminal.say(w("commands.hook.built_before" if found.was_built else "commands.hook.built", commit=found.commit[:10], served=str(wish.served)), "bold")
    return Ending.CLEAN


def _tell_other(wish: pushed.PushSettings, branch: str, moved: Mapping[str, bool], terminal: Terminal) -> None:
    """Nothing is built: what was pushed instead, and where the branch that is served is not there at all, what to type."""
    w, stays = words(), pushed.what_stays(wish.served)
    if branch in moved:
        terminal.say(w("commands.hook.gone", branch=pushed.short(branch), stays=stays))
        return
    names = w("list_separator").join(map(pushed.short, moved)) or None
    terminal.say(w("commands.hook.other_branch", branch=pushed.short(branch), stays=stays, pushed=names))
    there = pushed.branches(wish)
    if branch not in there and (other := next((each for each in moved if each in there), None)):
        line = ["spares", "hook", "install", "--served", str(wish.served), "--branch", pushed.short(other), *(["--strict"] if wish.is_strict else [])]
        terminal.say(w("commands.hook.no_branch", branch=pushed.short(branch), other=pushed.short(other), folder=str(wish.git)))
        terminal.say(f"  {shlex.join(line)}")
