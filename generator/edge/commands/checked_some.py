"""What is wrong with some parts, in seconds: their meshes alone are measured; or with what a commit would hold."""

import shutil
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Collection, Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from generator.assemble.whole_way import judged, left_of_trials, measured
from generator.edge.commands.terminal import Terminal
from generator.edge.one_part import folder_of
from generator.edge.refusals import refused
from generator.provenance.remembering.as_of import AsOf, NoStateError, written
from generator.provenance.remembering.compared import compared, memory
from generator.provenance.remembering.git import GitError, Repository
from generator.provenance.remembering.produced import produced_compared
from generator.provenance.signing.checking import signatures_checked
from generator.reading.catalogue import read_catalogue
from generator.reading.disk import Disk
from generator.reading.papers import days_to_come
from generator.reading.placing import once_each_cause
from generator.records.catalogue import Catalogue
from generator.records.depot import Language
from generator.records.problems import Problem, Severity, in_order
from generator.rules.alike import told_once
from generator.systems.store import Store

_A_DAY_S = 86_400
_Alike = tuple[object, ...]
_OFFERED = {"near", "names"}
"""What a mend offers, out of a list that grows: no part of what is wrong."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Some:
    """What was looked at of a catalogue, and what is wrong with it."""

    problems: tuple[Problem, ...]
    elsewhere: tuple[Problem, ...]
    """What is wrong besides, with what was not asked for."""
    parts: tuple[str, ...]
    """The numbers of the parts that were looked at."""
    language: Language


@dataclass(frozen=True, slots=True, kw_only=True)
class How:
    """With what it is looked at."""

    day: date
    store: Store
    workers: int | None
    terminal: Terminal


def named(root: Path, numbers: Collection[str], how: How) -> Some:
    """The parts with these numbers, as they lie there. Raises Refusal for a number that no part has."""
    catalogue = _with_past(root, root, how)
    folders = {folder_of(catalogue, number, root).folder for number in numbers}
    return _looked_at(catalogue, root, folders, how)


def staged(root: Path, how: How) -> Some | None:
    """What a commit would hold, by git's index; None where it changes nothing of the catalogue. Raises Refusal.

    Where no git is around, or nothing is committed yet, all that lies there.
    """
    try:
        repository = Repository.around(root)
        if repository is None:
            catalogue = _with_past(root, root, how)
            return _looked_at(catalogue, root, {each.folder for each in catalogue.parts}, how, is_all=True)
        tree = repository.staged()
        changed = repository.differing(tree)
        if not changed:
            return None
        with tempfile.TemporaryDirectory(prefix="spares-", dir=_near(root, how.store.folder)) as made:

            def laid_out(state: str, name: str) -> Path:
                folder = Path(made) / name / "catalogue"
                folder.parent.mkdir()
                written(AsOf(replace(repository, head=state), state, how.day), folder, beside=root)
                return folder

            def before() -> Counter[_Alike]:
                try:
                    head = laid_out(repository.head, "before")
                except NoStateError:
                    return Counter()  # the catalogue begins with this commit
                return _before(head, then, root, changed, how)

            then = laid_out(tree, "then")
            return _of_commit(_with_past(then, root, how), then, changed, how, before)
    except GitError as error:
        raise refused("hook_git", reason=str(error)) from error
    except NoStateError as error:
        raise refused("hook_no_catalogue", root=str(root)) from error


def _near(root: Path, store: Path) -> Path | None:
    """Where files of the catalogue can be linked to: the store, where it lies on the same disk; None is the system's own place."""
    folder = store / "staged"
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for left in folder.iterdir():  # of a check that was killed
            if time.time() - left.lstat().st_mtime > _A_DAY_S:
                shutil.rmtree(left, ignore_errors=True)
        return folder if folder.stat().st_dev == root.stat().st_dev else None
    except OSError:
        return None


def _with_past(folder: Path, root: Path, how: How) -> Catalogue:
    """The catalogue as it lies in `folder`, compared with what is remembered of the one in `root`."""
    catalogue = signatures_checked(read_catalogue(folder, how.store), folder, how.store)
    before = memory(root, catalogue, how.store.folder, None)
    return produced_compared(compared(catalogue, before), before, folder)[0]


def _of_commit(catalogue: Catalogue, folder: Path, changed: Collection[str], how: How, before: Callable[[], Counter[_Alike]]) -> Some:
    """What the commit touches counts with all that is wrong with it; elsewhere only what was not wrong before.

    That is asked of HEAD, which costs a second, only where something elsewhere is wrong.
    """
    touched = {_part_of(each) for each in changed if each.startswith("parts/")}
    own, besides, parts = _seen(catalogue, folder, touched, how)
    counts = [each for each in besides if each.where.file in changed or _part_of(each.where.file) in touched]
    rest = [each for each in besides if each not in counts]
    fresh = list(_not_before(rest, before())) if any(each.severity is Severity.ERROR for each in rest) else []
    old = Counter(rest) - Counter(fresh)
    return _some(catalogue, [*own, *counts, *fresh], old.elements(), parts)


def _before(head: Path, then: Path, root: Path, changed: Collection[str], how: How) -> Counter[_Alike]:
    """What was wrong at HEAD, and what only its files with mistakes hid that the commit changes: who mends one has not made what shows behind it."""
    catalogue = _with_past(head, root, how)
    found = Counter(map(_alike, _besides(catalogue, head, (), how.day)))
    mended = [each for each in changed if not each.startswith("parts/") and catalogue.is_mistaken(each)]
    for each in mended:
        (head / each).unlink(missing_ok=True)  # it may be a link to what lies in the catalogue itself
        if (then / each).is_file():
            (head / each).parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(then / each, head / each)
    return found | Counter(map(_alike, _besides(_with_past(head, root, how), head, (), how.day))) if mended else found


def _not_before(problems: Iterable[Problem], before: Counter[_Alike]) -> Iterator[Problem]:
    """Those that were not there; so many alike as there were are old."""
    left = Counter(before)
    for each in problems:
        if left[_alike(each)]:
            left[_alike(each)] -= 1
        else:
            yield each


def _alike(problem: Problem) -> _Alike:
    """By what two states of the catalogue tell one problem from another, wherever in its file it stands."""
    return problem.code, problem.key, problem.where.file, tuple(each for each in problem.facts if each[0] not in _OFFERED)


def _looked_at(catalogue: Catalogue, root: Path, folders: Collection[str], how: How, *, is_all: bool = False) -> Some:
    """root: where it lies. is_all: what is wrong elsewhere counts too."""
    own, besides, parts = _seen(catalogue, root, folders, how)
    counts = [each for each in besides if is_all or _part_of(each.where.file) in folders]
    return _some(catalogue, [*own, *counts], () if is_all else [each for each in besides if _part_of(each.where.file) not in folders], parts)


def _seen(catalogue: Catalogue, root: Path, folders: Collection[str], how: How) -> tuple[list[Problem], list[Problem], tuple[str, ...]]:
    """What is wrong with the parts in these folders, whose meshes are measured; what is wrong besides; the numbers of these parts."""
    some = tuple(each for each in catalogue.parts if each.folder in folders)
    with how.terminal.progress() as report:
        found = measured(replace(catalogue, parts=some, requests={}), root, how.store, report, workers=how.workers)
    whole = replace(found, catalogue=catalogue)
    own = [(each.number, problem) for folder in some for each in (judged(folder, whole, how.day),) for problem in each.problems]
    return list(told_once(own)), _besides(catalogue, root, folders, how.day), tuple(each.number for each in some)


def _besides(catalogue: Catalogue, root: Path, folders: Collection[str], day: date) -> list[Problem]:
    """What is wrong with the catalogue as it is read, but for the parts in these folders."""
    others = [problem for folder in catalogue.parts if folder.folder not in folders for problem in folder.problems]
    return [*catalogue.problems, *days_to_come(Disk(root), catalogue, day), *left_of_trials(root, catalogue, day), *others]


def _some(catalogue: Catalogue, problems: Iterable[Problem], elsewhere: Iterable[Problem], parts: tuple[str, ...]) -> Some:
    return Some(
        problems=once_each_cause(in_order(problems)),
        elsewhere=once_each_cause(in_order(elsewhere)),
        parts=parts,
        language=catalogue.language,
    )


def _part_of(file: str) -> str:
    """The folder of the part that a file lies in."""
    return "/".join(file.split("/")[:2])
