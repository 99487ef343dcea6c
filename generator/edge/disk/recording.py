"""An event is judged as if it stood in the record already, and only then written, whole, at the end."""

import hashlib
import os
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from generator.assemble.whole_way import remembered
from generator.edge.disk import done
from generator.edge.disk.atomic import ChangedMeanwhileError, created_whole, exchanged_whole, tidied
from generator.edge.disk.unbroken import unbroken
from generator.edge.disk.writing_lock import held
from generator.edge.one_part import OnePart
from generator.edge.refusals import Refusal, disk_refusal, refused
from generator.edge.spoken import words
from generator.pages.problems.said import said
from generator.pages.wording import Wording, wording
from generator.provenance.signing.checking import may_be_unsigned
from generator.reading.kinds import pdf_fault_told
from generator.reading.proposed import proposed_folder
from generator.records.approvals import NEWEST_FORMAT, Approval, Route
from generator.records.catalogue import Fault, PartFolder
from generator.records.file_names import twins, unfit
from generator.records.parts import SafetyRole
from generator.records.problems import Problem, Severity, wrong
from generator.rules.history import event_of, history
from generator.rules.past import past_of
from generator.writing.appending import Appended, CannotAppendError, with_event
from generator.writing.yaml_text import Value

LARGEST_EVIDENCE_BYTES = 30_000_000
Sign = Callable[[PartFolder], str]
"""Gives the signature of the last event of a folder."""
Told = Callable[[OnePart], Mapping[str, Value]]
"""Gives an event, as it is written, of the part as the events before it leave it."""
UNSAID = ("PAST01", "PAST02", "PAST03", "PAST04", "PAST05")
"""What a record says no longer: the event 'record corrected' alone may be added then."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Attached:
    """An evidence file: where it stands in the part's folder, its bytes, and whether it has to be copied there."""

    file: str
    content: bytes
    is_new: bool

    @property
    def as_evidence(self) -> dict[str, Value]:
        return {"file": self.file, "sha256": hashlib.sha256(self.content).hexdigest()}


class NotRecorded(Refusal):
    """An event that could not have happened so, and what speaks against it."""

    def __init__(self, says: str, fix: str, *, found: Sequence[Problem]) -> None:
        super().__init__(says, fix)
        self.found = tuple(found)


def attached(files: Sequence[Path], folder: Path) -> list[Attached]:
    """The evidence files; one outside the part's folder will be copied into its documents/.

    A relative path is looked for in the part's folder first, then from the current folder. Raises Refusal for a
    file that cannot be read or opened, that is no document of the part, or whose name another document already has.
    """
    return [_attached(file, folder) for file in files]


def _attached(file: Path, folder: Path) -> Attached:
    place = folder / file if _is_file(folder / file) else file
    if not _is_file(place):
        raise refused("evidence_no_file" if os.path.lexists(place) else "no_evidence", file=_short(file))
    inside = _inside(place, folder)
    if inside and not inside.startswith("documents/"):
        raise refused("own_file", file=inside)
    content = _evidence(place)
    if (fault := pdf_fault_told(place.name, content)) and fault not in (Fault.TRAILED, Fault.SEALED):
        raise refused("evidence_unopened", file=_short(file), why=words()(f"submission.doubt.{fault.value}"))
    if inside:
        return Attached(file=inside, content=content, is_new=False)
    _refuse_unfit(file.name, folder)
    target = folder / "documents" / file.name
    if os.path.lexists(target) and (not _is_file(target) or _evidence(target) != content):
        raise refused("evidence_other", file=f"documents/{file.name}")
    return Attached(file=f"documents/{file.name}", content=content, is_new=not _is_file(target))


def _refuse_unfit(name: str, folder: Path) -> None:
    """A name that `check` would refuse afterwards is refused before it is written."""
    with suppress(OSError):
        there = [each.name for each in (folder / "documents").iterdir() if each.name != name]
        others = [pair for pair in twins([*there, name]) if name in pair]
        if others:
            raise _unfit(name, wrong("DISK07", "twin", "rename", first=next(each for each in others[0] if each != name)))
    if any(not (letter.isprintable() or letter in "\u200c\u200d") for letter in name):
        raise _unfit(name, wrong("DISK05", "unprintable name"))
    if found := unfit(name):
        raise _unfit(name, wrong("DISK07", found[0], "rename", sign=found[1]))


def _unfit(name: str, problem: Problem) -> Refusal:
    told = said(problem, words())
    return refused("evidence_name", file=name, why=told.says, fix=told.fix)


def _is_file(place: Path) -> bool:
    """Whether it is a plain file, itself or by a link; a name that no disk takes is none."""
    try:
        return place.is_file()
    except OSError:
        return False


def _short(file: Path) -> str:
    return str(file) if len(str(file)) <= 200 else f"{str(file)[:200]}…"


def _evidence(place: Path) -> bytes:
    try:
        with place.open("rb") as stream:
            content = stream.read(LARGEST_EVIDENCE_BYTES + 1)
    except OSError as error:
        raise disk_refusal(error, "evidence", place) from error
    if len(content) > LARGEST_EVIDENCE_BYTES:
        raise refused("evidence_large", file=str(place))
    return content


def _inside(place: Path, folder: Path) -> str | None:
    whole, root = place.resolve(), folder.resolve()
    return whole.relative_to(root).as_posix() if root in whole.parents else None


@contextmanager
def part_to_write(
    look: Callable[[], OnePart], command: str, note: Callable[[str], None], *, dry_run: bool
) -> Iterator[OnePart]:
    """The part that `look` reads and judges, while nobody else writes into the catalogue; a dry run takes no lock.

    command: such as 'record', told to those who wait. note: is told that one waits oneself. Raises Refusal where somebody
    else holds the catalogue, and what `look` raises.
    """
    found = look()
    if dry_run:
        yield found
        return
    # A cold store takes minutes to fill, and that was the first look; the second one only asks it.
    with held(found.root, f"{command} {found.sheet.number}", note):
        yield look()


def refuse_broken(part: OnePart, corrected: str | None = None) -> None:
    """A record is only added to while everything about the part can be read: else it would bind a mistake.

    corrected: what a correction explains, the number of an event or a key of the record. What is no longer said is no
    mistake to it, but its reason. What only lacks a signature may get it later: each role signs with its own key.
    """
    if part.catalogue.depot is None:
        raise refused("depot")
    errors = [each for each in part.sheet.problems if each.severity is Severity.ERROR and not may_be_unsigned(each)]
    if corrected is not None:
        unsaid = [each for each in errors if each.code in UNSAID]
        errors = [each for each in errors if each.code not in UNSAID]
        if not errors and not any(corrected in _named(each) for each in unsaid):
            raise refused("no_correction", problems=unsaid, below=part.root, number=part.sheet.number, corrects=corrected)
    if errors:
        raise refused("mistakes", problems=errors, below=part.root, number=part.sheet.number)


def _named(problem: Problem) -> tuple[str, str]:
    facts = dict(problem.facts)
    return str(facts.get("event")), str(facts.get("field"))


def refuse_doubtful(part: OnePart, *, despite: bool) -> list[Problem]:
    """Whoever approves has seen what `spares check` warns of: the warnings, to be shown; without `despite` a Refusal."""
    warnings = [each for each in part.sheet.problems if each.severity is Severity.WARNING]
    if warnings and not despite:
        raise refused("warnings", problems=warnings, below=part.root, number=part.sheet.number)
    return warnings


def recorded(
    part: OnePart,
    event: Mapping[str, Value],
    evidence: Sequence[Attached],
    today: date,
    *,
    also: Sequence[Attached] = (),
    dry_run: bool,
    sign: Sign | None = None,
    before_writing: Callable[[PartFolder], None] = lambda _: None,
) -> Appended:
    """Add `event` to the part's approval.yml and copy new evidence; with `dry_run` only judge and show.

    also: letters that the event itself names beside its evidence. sign: gives the signature of the last event of the
    folder as it would be. before_writing: is shown the folder as it would be, once nothing speaks against the event, and
    may refuse it. Raises Refusal where the event could not have happened so, names what does not exist, or cannot be
    written.
    """
    files = list({each.file: each for each in (*evidence, *also)}.values())
    whole = dict(event) | ({"evidence": [each.as_evidence for each in evidence]} if evidence else {})
    return recorded_in_order(part, [lambda _: whole], files, today, dry_run=dry_run, sign=sign, before_writing=before_writing)


def recorded_in_order(
    part: OnePart,
    told: Sequence[Told],
    files: Sequence[Attached],
    today: date,
    *,
    dry_run: bool,
    sign: Sign | None = None,
    before_writing: Callable[[PartFolder], None] = lambda _: None,
) -> Appended:
    """The same of several events, each told and judged of the part as those before it leave it: all are written, or none.

    files: everything that the events name.
    """
    folder, file = part.root / part.sheet.folder.folder, f"{part.sheet.folder.folder}/approval.yml"
    content = before = _bytes(folder / "approval.yml")
    added, would_be = "", part.sheet.folder
    for place, tell in enumerate(told):
        now = part if place == 0 else replace(part, sheet=part.judged_as(would_be))
        event = tell(now)
        appended = _appended(now, file, content, event)
        would_be = _refuse_impossible(now, file, appended, files, today)
        if sign:
            appended = _appended(now, file, content, {**event, "signed": sign(would_be)})
            would_be = _refuse_impossible(now, file, appended, files, today)
        content, added = appended.content, added + appended.added
    before_writing(would_be)
    whole = Appended(content or b"", added)
    if not dry_run:
        _write(folder, before, whole, files)
        # The next look would remember it as well; without a store it is as on a fresh machine.
        remembered(part.root, part.store, {would_be.number: past_of(would_be.approval)} if would_be.approval else {})
    return whole


def _appended(part: OnePart, file: str, before: bytes | None, event: Mapping[str, Value]) -> Appended:
    try:
        return with_event(_new_record(part) if before is None else before, event)
    except CannotAppendError as error:
        raise cannot_append(error.problem, part.root / file, wording(part.catalogue.language)) from error


def rewritten(part: OnePart, before: bytes, content: bytes) -> None:
    """Put `content` in the place of the part's approval.yml, which must still be as it was `before`."""
    _write(part.root / part.sheet.folder.folder, before, Appended(content, ""), ())


def _new_record(part: OnePart) -> bytes:
    """An approval.yml without events; a part with a safety role goes to the authority."""
    is_safety = part.sheet.part is None or part.sheet.part.safety_role is SafetyRole.SAFETY
    return f"format: {NEWEST_FORMAT}\nroute: {Route.AUTHORITY if is_safety else Route.CUSTOMER}\nevents: []\n".encode()


def _refuse_impossible(
    part: OnePart, file: str, appended: Appended, evidence: Sequence[Attached], today: date
) -> PartFolder:
    """The folder as it would be; what is wrong there and was not before is wrong with the event."""
    where = part.sheet.folder.folder
    instead = {file: appended.content} | {f"{where}/{each.file}": each.content for each in evidence}
    would_be = proposed_folder(part.root, part.catalogue, where, instead)
    w = wording(part.catalogue.language)
    before = part.sheet.folder.approval.events if part.sheet.folder.approval else ()
    if would_be.approval and would_be.approval.events[:-1] != before:
        raise refused("by_machine", file=str(part.root / file), lines=w("commands.refused.event"))
    known = {each.what for each in part.sheet.problems}
    new = [each for each in would_be.problems if each.severity is Severity.ERROR and each.what not in known]
    found = [said(each, w) for each in new]
    in_order = _order_problems(would_be.approval, today)
    of_event = [said(each, w) for each in in_order]
    if found or of_event:
        told = [each.says for each in found] + [w("of_event.new", says=each.says) for each in of_event]
        fixes = dict.fromkeys(each.fix for each in found + of_event)
        why = refused("not_recorded", why="; ".join(told), fix="; ".join(fixes))
        raise NotRecorded(why.says, why.fix, found=(*new, *in_order))
    return would_be


def cannot_append(problem: Problem, file: Path, w: Wording) -> Refusal:
    """The refusal to add to a file that is written in a way that only a person can add to."""
    told = said(problem, w)
    return Refusal(f"{file}:{problem.where.line} {told.says}", told.fix)


def _order_problems(approval: Approval | None, today: date) -> list[Problem]:
    if approval is None:
        return []
    return [each for each in history(approval, today).problems if event_of(each) == len(approval.events) - 1]


def _bytes(file: Path) -> bytes | None:
    try:
        return file.read_bytes()
    except FileNotFoundError:
        return None
    except OSError as error:
        raise disk_refusal(error, "reading", file) from error


def _write(folder: Path, before: bytes | None, appended: Appended, evidence: Sequence[Attached]) -> None:
    """Copy the evidence first: an event without its file would be a mistake, a file without its event is none."""
    tidied(folder)
    tidied(folder / "documents")
    had_documents = (folder / "documents").exists()
    copied: list[Path] = []
    with unbroken():
        try:
            for each in (each for each in evidence if each.is_new):
                (folder / "documents").mkdir(exist_ok=True)
                created_whole(folder / each.file, each.content)
                copied.append(folder / each.file)
            exchanged_whole(folder / "approval.yml", before, appended.content)
            done.wrote(f"{folder / 'approval.yml'} is written, with the event")
        except (OSError, ChangedMeanwhileError) as error:
            _take_back(copied, None if had_documents else folder / "documents")
            if isinstance(error, OSError):
                raise disk_refusal(error, "writing", folder) from error
            raise refused("changed", file="approval.yml") from error


def _take_back(copied: Sequence[Path], folder: Path | None) -> None:
    """The copies of evidence whose event could not be written, and the folder that was made for them."""
    with suppress(OSError):
        for file in copied:
            file.unlink(missing_ok=True)
        if folder:
            folder.rmdir()
