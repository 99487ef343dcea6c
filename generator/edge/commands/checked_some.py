"""What is wrong with some parts, in seconds: their meshes alone are measured; or with what a commit would hold."""

import tempfile
from collections.abc import Collection
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from generator.assemble import judged, left_of_trials, measured
from generator.edge.commands.terminal import Terminal
from generator.edge.one_part import folder_of
from generator.edge.refusals import refused
from generator.measuring.store import Store
from generator.reading.catalogue import read_catalogue
from generator.reading.disk import Disk
from generator.reading.papers import days_to_come
from generator.reading.placing import once_each_cause
from generator.records.catalogue import Catalogue
from generator.records.depot import Language
from generator.records.problems import Problem, in_order
from generator.remembering.as_of import AsOf, NoStateError, written
from generator.remembering.compared import compared, memory
from generator.remembering.git import GitError, Repository
from generator.remembering.produced import produced_compared
from generator.rules.alike import told_once
from generator.signing.checking import signatures_checked


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
        with tempfile.TemporaryDirectory(prefix="spares-") as made:
            then = Path(made) / "catalogue"
            written(AsOf(replace(repository, head=tree), tree, how.day), then)
            return _of_commit(_with_past(then, root, how), then, changed, how)
    except GitError as error:
        raise refused("hook_git", reason=str(error)) from error
    except NoStateError as error:
        raise refused("hook_no_catalogue", root=str(root)) from error


def _with_past(folder: Path, root: Path, how: How) -> Catalogue:
    """The catalogue as it lies in `folder`, compared with what is remembered of the one in `root`."""
    catalogue = signatures_checked(read_catalogue(folder), folder, how.store)
    before = memory(root, catalogue, how.store.folder, None)
    return produced_compared(compared(catalogue, before), before, folder)[0]


def _of_commit(catalogue: Catalogue, folder: Path, changed: Collection[str], how: How) -> Some:
    """A list or material that all parts rest on may spoil any of them: then each part counts, though only changed models are measured."""
    touched = {"/".join(each.split("/")[:2]) for each in changed if each.startswith("parts/")}
    is_shared = any(not each.startswith("parts/") for each in changed)
    return _looked_at(catalogue, folder, touched, how, is_all=is_shared)


def _looked_at(catalogue: Catalogue, root: Path, folders: Collection[str], how: How, *, is_all: bool = False) -> Some:
    """root: where it lies. is_all: what is wrong elsewhere counts too."""
    some = tuple(each for each in catalogue.parts if each.folder in folders)
    with how.terminal.progress() as report:
        found = measured(replace(catalogue, parts=some, requests={}), root, how.store, report, workers=how.workers)
    whole = replace(found, catalogue=catalogue)
    own = [(each.number, problem) for folder in some for each in (judged(folder, whole, how.day),) for problem in each.problems]
    others = [problem for folder in catalogue.parts if folder.folder not in folders for problem in folder.problems]
    shared = [*catalogue.problems, *days_to_come(Disk(root), catalogue, how.day), *left_of_trials(root, catalogue, how.day), *others]
    problems = [*told_once(own), *(each for each in shared if is_all or _is_below(each, folders))]
    elsewhere = () if is_all else (each for each in shared if not _is_below(each, folders))
    return Some(
        problems=once_each_cause(in_order(problems)),
        elsewhere=once_each_cause(in_order(elsewhere)),
        parts=tuple(each.number for each in some),
        language=catalogue.language,
    )


def _is_below(problem: Problem, folders: Collection[str]) -> bool:
    return "/".join(problem.where.file.split("/")[:2]) in folders
