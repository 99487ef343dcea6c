"""What was pushed becomes a site: the tip of a branch is laid out, built in a process of its own, and takes the place of the served folder.

What git keeps is read as bytes (provenance/remembering/as_of.py), so that no filter, attribute or hook of a checkout is run. The build itself
grows beside the served folder and is exchanged in one step (swapping.py); where it fails, the last good site stays.
"""

import os
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from filelock import FileLock, Timeout

from generator.edge.disk.atomic import written_whole
from generator.edge.disk.swapping import is_made
from generator.edge.refusals import disk_refusal, refused
from generator.edge.spoken import words
from generator.provenance.remembering.as_of import AsOf, NoStateError, written
from generator.provenance.remembering.git import GitError, Repository

FOLDER = "spares"
"""In the repository's own folder: lock, store, log, and what was laid out."""
_PATIENCE_S = 1800.0
_SAID_AFTER_S = 1.5
_BUILD = "import sys; from generator.edge.cli import main; sys.exit(main())"
_DEPOT = "depot.yml"
_BRANCHES = "refs/heads/"


@dataclass(frozen=True, slots=True, kw_only=True)
class PushSettings:
    """What a push should become."""

    git: Path
    """The bare repository."""
    served: Path
    branch: str | None
    """None: the one that its HEAD names."""
    is_strict: bool
    day: date


@dataclass(frozen=True, slots=True, kw_only=True)
class PushOutcome:
    commit: str
    is_good: bool
    was_built: bool
    """Whether an earlier push had built it already."""
    log: Path
    last_lines: tuple[str, ...]


def is_served(served: Path) -> bool:
    """Whether a site lies there that spares made: no build takes the place of another."""
    return is_made(served)


def what_stays(served: Path) -> str:
    """What readers have where nothing is built: the site that is there, or none yet."""
    return words()(f"commands.hook.stays.{'site' if is_served(served) else 'nothing'}", served=str(served))


def branch_of(wish: PushSettings) -> str:
    """The name of the branch that is served, as git writes it whole. Raises Refusal.

    Where the one that HEAD names is not there and no site was built yet, it is the only one that is, and stays so when others come.
    """
    if wish.branch:
        return f"{_BRANCHES}{wish.branch}"
    kept = wish.git / FOLDER / "branch"
    try:
        head = (wish.git / "HEAD").read_text("utf-8").removeprefix("ref:").strip()
        there = branches(wish)
        if head in there:
            return head
        if kept.is_file() and (before := kept.read_text("utf-8").strip()) in there:
            return before
        if len(there) != 1 or is_served(wish.served):
            return head
        kept.parent.mkdir(exist_ok=True)
        written_whole(kept, f"{there[0]}\n".encode())
    except OSError as error:
        raise disk_refusal(error, "reading", wish.git) from error
    return there[0]


def branches(wish: PushSettings) -> list[str]:
    """The branches that were pushed so far, as git writes them whole. Raises Refusal."""
    try:
        return Repository(wish.git, "HEAD", "", is_shallow=False).branches()
    except GitError as error:
        raise refused("hook_git", reason=str(error)) from error


def moved(lines: Iterable[str]) -> dict[str, bool]:
    """By the whole name of each branch or tag, of which git tells a line: whether the push moved it, not took it away."""
    split = ((*line.split(" ", 2), "", "")[:3] for line in lines)
    return {name.strip(): bool(new.strip("0")) for _, new, name in split if name.strip()}


def short(name: str) -> str:
    """A branch or tag as people call it."""
    return name.removeprefix(_BRANCHES).removeprefix("refs/tags/")


def build(wish: PushSettings, branch: str, note: Callable[[str], None]) -> PushOutcome:
    """Build the tip of the branch as it is once no other push is being built. Raises Refusal.

    note: is told the holder's file where another one is being built.
    """
    state = wish.git / FOLDER
    try:
        state.mkdir(exist_ok=True)
    except OSError as error:
        raise disk_refusal(error, "writing", state) from error
    lock = FileLock(state / "lock")
    try:
        lock.acquire(timeout=_SAID_AFTER_S)
    except Timeout:
        note(str(state / "lock"))
        try:
            lock.acquire(timeout=_PATIENCE_S)
        except Timeout:
            raise refused("hook_held", lock=str(state / "lock"), stays=what_stays(wish.served)) from None
    try:
        return _built(wish, branch, state)
    except OSError as error:
        raise disk_refusal(error, "building", wish.served) from error
    finally:
        lock.release()


def _built(wish: PushSettings, branch: str, state: Path) -> PushOutcome:
    log, built = state / "build.log", state / "built"
    tip = Repository(wish.git, "HEAD", "", is_shallow=False).named(branch)
    if tip is None:
        raise refused("hook_no_branch", branch=short(branch))
    try:
        said = f"{tip} {wish.day.isoformat()} {wish.served}\n"
        if built.is_file() and built.read_text("utf-8", "surrogateescape") == said and is_served(wish.served):
            return PushOutcome(commit=tip, is_good=True, was_built=True, log=log, last_lines=())
        depot = _laid_out(Repository(wish.git, tip, "", is_shallow=(wish.git / "shallow").exists()), tip, state / "tree", wish)
    except NoStateError as error:  # a commit without any file
        raise refused("hook_no_depot", commit=tip[:10], stays=what_stays(wish.served)) from error
    except (GitError, subprocess.SubprocessError) as error:
        raise refused("hook_git", reason=str(error)) from error
    built.unlink(missing_ok=True)
    code = _run(depot, state, wish, log)
    if code == 0:
        shutil.rmtree(state / "tree", ignore_errors=True)  # where it failed one may look at it
        written_whole(built, said.encode("utf-8", "surrogateescape"))
    lines = tuple(log.read_text("utf-8", "replace").splitlines()[-12:])
    return PushOutcome(commit=tip, is_good=code == 0, was_built=False, log=log, last_lines=lines)


def _laid_out(repository: Repository, tip: str, tree: Path, wish: PushSettings) -> Path:
    """The files of the commit, in a folder that knows its history; the folder of the depot in it."""
    shutil.rmtree(tree, ignore_errors=True)
    written(AsOf(repository, tip, wish.day), tree)
    shallowest = sorted((each.relative_to(tree) for each in tree.rglob(_DEPOT)), key=lambda each: (len(each.parts), each.parts))
    found = [each for each in shallowest if len(each.parts) == len(shallowest[0].parts)]
    if len(found) != 1:
        named = ", ".join(each.as_posix() for each in found)
        raise refused("hook_depots" if found else "hook_no_depot", found=named, commit=tip[:10], stays=what_stays(wish.served))
    _with_history(wish.git, tree, tip)
    catalogue = tree / found[0].parent
    return catalogue.parent if catalogue.name == "catalogue" else catalogue


def _with_history(git: Path, tree: Path, tip: str) -> None:
    """A repository that has the commits of the bare one and nothing of its settings: its past is asked, and no program of it is run."""
    is_long = ["--object-format=sha256"] if len(tip) == 64 else []
    around = {name: value for name, value in os.environ.items() if not name.startswith("GIT_")}
    subprocess.run(["git", "init", "--quiet", "--template=", *is_long, "."], cwd=tree, env=around, check=True, capture_output=True)
    own = tree / ".git"
    (own / "objects/info").mkdir(parents=True, exist_ok=True)
    (own / "objects/info/alternates").write_bytes(os.fsencode(git.resolve() / "objects") + b"\n")
    if (git / "shallow").is_file():
        shutil.copyfile(git / "shallow", own / "shallow")
    (own / "HEAD").write_text(f"{tip}\n", "ascii")


def _run(depot: Path, state: Path, wish: PushSettings, log: Path) -> int:
    """A build in a process of its own, which imports nothing from where it runs; what it says goes into the log."""
    around = {name: value for name, value in os.environ.items() if not name.startswith("GIT_")}
    words = ["build", "--site", str(wish.served), "--store", str(state / "store"), "--on", wish.day.isoformat()]
    with log.open("wb") as stream:
        program = [sys.executable, "-P", "-c", _BUILD, *words, *(["--strict"] if wish.is_strict else [])]
        return subprocess.run(program, cwd=depot, env=around, stdin=subprocess.DEVNULL, stdout=stream, stderr=subprocess.STDOUT, check=False).returncode
