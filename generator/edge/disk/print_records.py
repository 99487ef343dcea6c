"""A lot or a batch gets an event, or its file, whole or not at all: judged as if it stood there already, and only then written."""

import difflib
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Literal

from generator.edge.disk import done
from generator.edge.disk.atomic import ChangedMeanwhileError, created_whole, exchanged_whole, tidied
from generator.edge.disk.recording import Attached, cannot_append
from generator.edge.disk.unbroken import unbroken
from generator.edge.meant import batch_meant, name_meant, near
from generator.edge.refusals import Ending, Refusal, disk_refusal, refused
from generator.pages.wording import wording
from generator.reading.catalogue import read_catalogue
from generator.reading.proposed_record import ProposedRecord, proposed_batch, proposed_lot
from generator.records.batches import BATCH_NAME
from generator.records.catalogue import Catalogue
from generator.records.problems import Problem
from generator.rules.production.same_delivery import called_by_supplier
from generator.writing.appending import CannotAppendError, with_entry
from generator.writing.yaml_text import Value, mapping_lines

Kind = Literal["batch", "lot"]
FOLDERS: Mapping[Kind, str] = {"batch": "batches", "lot": "materials/lots"}
_NAMES: Mapping[Kind, re.Pattern[str]] = {"batch": re.compile(BATCH_NAME), "lot": re.compile(r"[A-Za-z0-9][A-Za-z0-9-]{0,39}")}
_JUDGES: Mapping[Kind, Callable[[Catalogue, str, bytes, Mapping[str, bytes], date], ProposedRecord]] = {"batch": proposed_batch, "lot": proposed_lot}


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintRecordChange:
    """A file as it would be, with what stood there before (None: nothing), the lines that came in, and what was found."""

    kind: Kind
    name: str
    before: bytes | None
    content: bytes
    added: str
    files: tuple[Attached, ...]
    judged: ProposedRecord

    @property
    def file(self) -> str:
        """Its path in the catalogue."""
        return f"{FOLDERS[self.kind]}/{self.name}.yml"


@dataclass(frozen=True, slots=True)
class DepotNow:
    """A catalogue as it lies there now, its folder, and the day of today."""

    catalogue: Catalogue
    root: Path
    today: date


def depot_now(root: Path, today: date) -> DepotNow:
    """Raises Refusal where depot.yml cannot be read, so that nobody knows who may do what."""
    catalogue = read_catalogue(root)
    if catalogue.depot is None:
        raise refused("depot")
    return DepotNow(catalogue, root, today)


def named(kind: Kind, given: str, depot: DepotNow) -> str:
    """The number of the lot or batch, as leniently as the pages read it. Raises Refusal where there is none, or its file cannot be read."""
    catalogue, root = depot.catalogue, depot.root
    known = catalogue.production.batches if kind == "batch" else catalogue.production.lots
    parts = {name: batch.part for name, batch in catalogue.production.batches.items()}
    found = batch_meant(given, parts, (each.number for each in catalogue.parts)) if kind == "batch" else name_meant(given, known)
    if found:
        return found
    broken = [each for each in catalogue.problems if each.where.file.casefold() == f"{FOLDERS[kind]}/{given.strip()}.yml".casefold()]
    if broken:
        raise refused("print_mistakes", problems=broken, below=root, name=given)
    if kind == "lot" and (supplied := called_by_supplier(given, catalogue.production)):
        raise refused("lot_of_supplier", Ending.MISUSE, name=given, known=supplied)
    close = [*near(given, known)] or difflib.get_close_matches(given.upper(), known, n=3, cutoff=0.6)
    raise refused("no_such_batch" if kind == "batch" else "no_lot", Ending.MISUSE, near=close, given=given, root=str(root))


def free_number(kind: Kind, letter: str, root: Path) -> str:
    """The number behind the largest of that letter that a file bears, be it read or not (FOLD06), as wide as that one is written; the first has four digits."""
    folder = root / FOLDERS[kind]
    number = re.compile(rf"(?<![A-Za-z0-9]){letter}-([0-9]+)", re.IGNORECASE)
    files = [each for at in (folder, folder.parent, root) if at.is_dir() for each in (at.rglob("*") if at == folder else at.iterdir())]
    taken = [found[1] for each in files if "documents" not in each.relative_to(root).parts and (found := number.search(each.name))]
    largest = max((each for each in taken if each.isascii() and each.isdecimal()), key=int, default="0000")
    return f"{letter}-{int(largest) + 1:0{len(largest)}d}"


def with_new_event(kind: Kind, name: str, event: Mapping[str, Value], depot: DepotNow, files: Sequence[Attached] = ()) -> PrintRecordChange:
    """The record with one event more. Raises Refusal where it cannot have happened so."""
    file = depot.root / FOLDERS[kind] / f"{name}.yml"
    try:
        before = file.read_bytes()
        appended = with_entry(before, "events", event)
    except OSError as error:
        raise disk_refusal(error, "reading", file) from error
    except CannotAppendError as error:
        raise cannot_append(error.problem, file, wording(depot.catalogue.language)) from error
    change = _judged(kind, name, (before, appended.content, appended.added), depot, files)
    was, is_now = _events(kind, name, depot.catalogue), _events(kind, name, change.judged.catalogue)
    _refuse_new(change, depot)
    if is_now[:-1] != was or len(is_now) != len(was) + 1:
        raise refused("by_machine", file=str(file), lines=appended.added.strip())
    return change


def as_new(kind: Kind, name: str, content: Mapping[str, Value], depot: DepotNow, files: Sequence[Attached] = ()) -> PrintRecordChange:
    """A new record. Raises Refusal where it cannot be so, or its number is taken."""
    if not _NAMES[kind].fullmatch(name):
        raise refused("print_number", Ending.MISUSE, given=name)
    text = "\n".join(mapping_lines(content)) + "\n"
    change = _judged(kind, name, (None, text.encode("utf-8"), text), depot, files)
    if (depot.root / change.file).exists():
        raise refused("print_taken", file=change.file)
    _refuse_new(change, depot)
    return change


def _judged(kind: Kind, name: str, told: tuple[bytes | None, bytes, str], depot: DepotNow, files: Sequence[Attached]) -> PrintRecordChange:
    before, content, added = told
    coming = {f"{FOLDERS[kind]}/{each.file}": each.content for each in files}
    judged = _JUDGES[kind](depot.catalogue, name, content, coming, depot.today)
    return PrintRecordChange(kind=kind, name=name, before=before, content=content, added=added, files=tuple(files), judged=judged)


def _events(kind: Kind, name: str, catalogue: Catalogue) -> tuple[object, ...]:
    production = catalogue.production
    found = production.batches.get(name) if kind == "batch" else production.lots.get(name)
    return found.events if found else ()


def _refuse_new(change: PrintRecordChange, depot: DepotNow) -> None:
    """What is wrong there and was not before is wrong with what is added."""
    known = {each.what for each in depot.catalogue.problems if each.where.file == change.file}
    new = [each for each in change.judged.errors if each.what not in known]
    if new:
        raise not_written(new, change.file, depot.root)


def not_written(found: Sequence[Problem], file: str, root: Path) -> Refusal:
    """The refusal that shows what speaks against it."""
    return refused("not_written", problems=tuple(found), below=root, file=file)


def write(change: PrintRecordChange, root: Path) -> None:
    """The files that it names first, then itself. Raises Refusal."""
    folder = root / FOLDERS[change.kind]
    tidied(folder)
    tidied(folder / "documents")
    copied: list[Path] = []
    made = [each for each in (folder.parent, folder, folder / "documents") if not each.exists()]
    with unbroken():
        try:
            folder.mkdir(parents=True, exist_ok=True)
            for each in (each for each in change.files if each.is_new):
                (folder / "documents").mkdir(exist_ok=True)
                created_whole(folder / each.file, each.content)
                copied.append(folder / each.file)
            exchanged_whole(root / change.file, change.before, change.content)
            done.wrote(f"{root / change.file} is written")
        except (OSError, ChangedMeanwhileError) as error:
            _take_back(copied, made)
            if isinstance(error, OSError):
                raise disk_refusal(error, "writing", root / change.file) from error
            raise refused("changed", file=change.file) from error


def _take_back(copied: Sequence[Path], made: Sequence[Path]) -> None:
    for each in copied:
        each.unlink(missing_ok=True)
    for folder in reversed(made):
        if folder.is_dir() and not any(folder.iterdir()):
            folder.rmdir()
