"""What happened to a part on its way to approval, what has changed since, and which documents tell it?"""

import re
from dataclasses import dataclass

from generator.pages.addresses import Addresses
from generator.pages.evidence import titles_of
from generator.pages.part.offered import Offered, OfferedAs, offered
from generator.pages.verdict_lines import vehicle_words
from generator.pages.wording import Wording
from generator.records.accompanying import Becomes
from generator.records.approvals import (
    Approved,
    Event,
    RecordCorrected,
    Scope,
    TakenOver,
    TakeOverConfirmed,
    TrialOpened,
)
from generator.records.catalogue import Catalogue, PartFolder
from generator.records.conditions import Condition, as_condition
from generator.records.evidence import Evidence
from generator.rules.canonical import NONE, text_in
from generator.rules.changes import Change, Means
from generator.rules.consequences import NAME, line_of
from generator.rules.history import Stage
from generator.rules.sheet import Sheet
from generator.rules.walking import letters_of

_WORST_FIRST = (Means.VOID, Means.ASK, Means.FREE)
_SUM = re.compile(r"\b([0-9a-f]{12})[0-9a-f]{52}\b")
_LONGEST = 160
_NAMES = re.compile(NAME)


@dataclass(frozen=True, slots=True, kw_only=True)
class FileLine:
    """A file to open; `href` is None where it is missing, `is_saved` where it comes in a zip, to be saved."""

    title: str
    name: str
    size: str
    href: str | None
    is_saved: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class EventLine:
    day: str
    what: str
    by: str
    reference: str
    details: tuple[str, ...]
    evidence: tuple[FileLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeLine:
    what: str
    approved: str
    now: str
    means: str
    why: str


def role_name(role: str, catalogue: Catalogue) -> str:
    roles = catalogue.depot.roles if catalogue.depot else ()
    return next((each.name for each in roles if each.id == role), role)


def events(folder: PartFolder, catalogue: Catalogue, stem: str, w: Wording) -> tuple[EventLine, ...]:
    """The events of the approval record, newest first."""
    told = folder.approval.events if folder.approval else ()
    return tuple(_event(event, folder, catalogue, stem, w) for event in reversed(told))


def _event(event: Event, folder: PartFolder, catalogue: Catalogue, stem: str, w: Wording) -> EventLine:
    return EventLine(
        day=w.day(event.on),
        what=w.term("event", event.what),
        by=role_name(event.by, catalogue),
        reference=event.reference or "",
        details=_details(event, catalogue, w),
        evidence=tuple(evidence_line(each, folder, stem, w) for each in _letters(event)),
    )


def _letters(event: Event) -> tuple[Evidence, ...]:
    """Every file that the event names, each once."""
    named = letters_of(event) if isinstance(event, Approved | TrialOpened) else event.evidence
    return tuple({each.file: each for each in named}.values())


def _details(event: Event, catalogue: Catalogue, w: Wording) -> tuple[str, ...]:
    """Everything else that an event of its kind may say, in a fixed order."""
    said = {key: getattr(event, key, None) for key in ("revision", "reason", "question", "note")}
    found = [w(f"event.{key}", value=value) for key, value in said.items() if value]
    found += [w("event.scope", value=scope_words(scope, catalogue)) for scope in getattr(event, "scope", ())]
    days = {key: getattr(event, key, None) for key in ("valid_from", "valid_until")}
    found += [w(f"event.{key}", value=w.day(day)) for key, day in days.items() if day]
    if getattr(event, "open_ended", False):
        found.append(w("event.open_ended"))
    found += [_condition(each, w) for each in (*getattr(event, "conditions", ()), getattr(event, "condition", None)) if each]
    if also := getattr(event, "also_for", ()):
        found.append(w("event.also_for", value=", ".join(also)))
    if isinstance(event, TakenOver | TakeOverConfirmed):
        found += _older_letter(event, w)
    if isinstance(event, Approved):
        found += _beside(event, catalogue, w)
    found += [
        w("event.used_up", revision=said.revision, until=w.day(said.until))
        if said.becomes is Becomes.USE_UP and said.until
        else w("event.older_stock", revision=said.revision, becomes=w.term("becomes", said.becomes))
        for said in getattr(event, "older_stock", ())
    ]
    if getattr(event, "superseded_by", None):
        found.append(w("event.superseded_by", value=getattr(event, "superseded_by", "")))
    found += [w("event.planned_pieces", value=pieces)] if (pieces := getattr(event, "planned_pieces", None)) else []
    ended = {key: getattr(event, key, None) for key in ("result", "fitted_pieces")}
    found += [w(f"event.{key}", value=w.term(key, said)) for key, said in ended.items() if said]
    if isinstance(event, RecordCorrected):
        kind = "number" if isinstance(event.corrects, int) else str(event.corrects)
        found.append(w(f"event.corrects.{kind}", value=event.corrects))
        found.append(w("event.why", value=event.why))
        found.append(w("event.checked_by", value=role_name(event.checked_by, catalogue)))
    return tuple(found)


def _condition(written: str | Condition, w: Wording) -> str:
    told = as_condition(written)
    return w("event.condition", applies=told.applies.value, value=told.text, plan=told.maintenance_plan)


def _older_letter(event: TakenOver | TakeOverConfirmed, w: Wording) -> list[str]:
    """What a letter of before this record says of itself, or which one is confirmed."""
    if isinstance(event, TakeOverConfirmed):
        return [w("event.approved_on", value=w.day(event.approved_on))]
    office, acts = w("event.approved_by", value=event.approved_by), w("event.approver", value=w.term("route", event.approver))
    return [w("event.letter_of", value=w.day(event.letter_of)), office, acts]


def _beside(event: Approved, catalogue: Catalogue, w: Wording) -> list[str]:
    """Where it is otherwise than submitted, and which steps of an earlier way count for it too."""
    found = []
    if event.changes_asked:
        found.append(w("event.changes_asked", value=event.changes_asked.reference))
    if event.carries_over:
        steps = ", ".join(w.term("way_step", step) for step in event.carries_over.steps)
        by, letter = role_name(event.carries_over.by, catalogue), event.carries_over.reference
        found.append(w("event.carries_over", steps=steps, why=event.carries_over.why, by=by, reference=letter))
    return found


def scope_words(scope: Scope, catalogue: Catalogue) -> str:
    """Such as TR4 401–403, 407: Saloon door."""
    names = [catalogue.place_name(scope.fleet, each) for each in scope.places]
    vehicles = f" {vehicle_words(scope.vehicles)}" if scope.vehicles else ""
    return f"{scope.fleet}{vehicles}" + (f": {', '.join(names)}" if names else "")


def evidence_line(evidence: Evidence, folder: PartFolder, stem: str, w: Wording) -> FileLine:
    """A file that the part's records name as evidence."""
    found = offered(folder, stem).get(evidence.file)
    name = evidence.file.rsplit("/", 1)[-1]
    title = evidence.title or name
    if found is None:
        return FileLine(title=title, name=name, size="", href=None, is_saved=False)
    return file_line(title, found, w)


def documents(folder: PartFolder, stem: str, w: Wording) -> tuple[FileLine, ...]:
    """Every document of the folder, by the title that its evidence gives it."""
    titles = titles_of(folder)
    found = offered(folder, stem).items()
    lines = (
        file_line(titles.get(path, each.name), each, w) for path, each in found if path.startswith("documents/")
    )
    return tuple(sorted(lines, key=lambda line: (w.sort_key(line.title), line.name)))


def file_line(title: str, found: Offered, w: Wording) -> FileLine:
    return FileLine(
        title=title,
        name=found.name,
        size=size_of(found.file.size_bytes, w, "zipped" if found.way is OfferedAs.ZIP else "size"),
        href=found.href if found.way is OfferedAs.ZIP else found.source,
        is_saved=found.way is OfferedAs.ZIP,
    )


def size_of(size_bytes: int, w: Wording, how: str = "size") -> str:
    return w(f"documents.{how}", kb=w.number(max(1, round(size_bytes / 1000))))


def changes(sheet: Sheet, w: Wording, longest: int = _LONGEST) -> tuple[ChangeLine, ...]:
    """What is no longer as it was approved, the worst first; what is longer is cut, a person compares the beginnings."""
    return tuple(
        ChangeLine(
            what=_line(change, w),
            approved=_cut(change.approved, w, longest),
            now=_cut(change.now, w, longest),
            means=w.term("means", change.means),
            why=w.term("consequence", change.reason),
        )
        for change in sorted(sheet.changes, key=lambda each: _WORST_FIRST.index(each.means))
    )


def _line(change: Change, w: Wording) -> str:
    """The line in words; of a place, with the fleet and place that it tells."""
    line = line_of(change)
    said, where = w.term("changed", line), " ".join(_NAMES.findall(change.what))
    return said if line == change.what else f"{said} ({where})"


def _cut(value: str | None, w: Wording, longest: int) -> str:
    said = " ".join((text_in(value) or value or "").split())
    if not said or said == NONE:
        return w("changes.nothing")
    said = _SUM.sub(r"\1…", said)
    return said if len(said) <= longest else f"{said[:longest]}…"


def photo_captions(folder: PartFolder) -> tuple[tuple[str, str], ...]:
    """Path in the catalogue and caption of every photo of the folder."""
    return tuple((each.path, _caption(each.path.rsplit("/", 1)[-1])) for each in folder.photos)


def _caption(name: str) -> str:
    return name.rsplit(".", 1)[0].replace("-", " ").replace("_", " ")


def photos(folder: PartFolder, stem: str) -> tuple[tuple[str, str], ...]:
    """Address and caption of every photo of the folder."""
    return tuple(
        (each.href, _caption(each.name))
        for path, each in offered(folder, stem).items()
        if path.startswith("photos/")
    )


def file_links(folder: PartFolder, stem: str) -> dict[str, str]:
    """What fitting notes may link to, by the path that the author writes."""
    return {path: each.href for path, each in offered(folder, stem).items()}


def stage_since(sheet: Sheet, w: Wording) -> str | None:
    """Since when the part stands where it stands; None where no event says so."""
    approval, since = sheet.history.approval, sheet.history.since
    if sheet.stage is Stage.CHANGED:
        since = None
    elif sheet.stage is Stage.LAPSED and approval:
        since = approval.valid_until
    return w.day(since) if since else None


def superseding(sheet: Sheet, found: Addresses) -> tuple[str, str | None] | None:
    """Number and page of the part that takes this one's place."""
    number = sheet.history.superseded_by
    return (number, found.page(number)) if number else None
