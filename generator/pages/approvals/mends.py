"""What is missing of a part, what one does about it, and with which command?"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from generator.pages.verdict_lines import step_line, vehicle_words
from generator.pages.wording import Wording
from generator.planning.overview import Missing, OverviewRow
from generator.planning.unfit import UNRELEASED, Lack
from generator.records.catalogue import Catalogue
from generator.records.parts import Part
from generator.records.vehicles import as_ranges, vehicles_in
from generator.rules.facts.of_permit import LETTER_DOUBT
from generator.rules.history import Stage
from generator.rules.production.same_delivery import ASKED
from generator.rules.sheet import Sheet
from generator.rules.verdicts import Outcome, Taken


@dataclass(frozen=True, slots=True, kw_only=True)
class MendLine:
    """One thing that is missing."""

    missing: str
    do: str
    command: str


def lack_lines(
    sheet: Sheet, found: Sequence[Lack], catalogue: Catalogue, w: Wording, *, unbound: bool = False
) -> tuple[MendLine, ...]:
    """Each question that is not passed, in the table's order; what is the same for several places stands once.

    unbound: nothing is approved yet, so that what is filled in is no change that anybody has to accept.
    """
    unbound = unbound or sheet.history.awaits
    order = {taken.step.id: None for lack in found for taken in lack.taken}
    told: dict[str, list[MendLine]] = {step: [] for step in order}
    for lack in found:
        for taken in lack.taken:
            facts = lack.judgement.facts if lack.judgement else None
            says = step_line(taken, facts, w).found if facts else w(f"steps.{taken.step.id}.{taken.outcome}")
            filled_from = {**(facts.text if facts else {}), **_of_part(sheet, catalogue)}
            line = _line(_step_mend(taken, w, unbound=unbound), says, filled_from, w)
            told[taken.step.id] += [] if line in told[taken.step.id] else [line]
    return tuple(line for lines in told.values() for line in lines)


def who_words(lack: Lack, catalogue: Catalogue, w: Wording) -> str:
    """Such as TR4 401–412 · Saloon window: Ask first."""
    if lack.ground is None or lack.judgement is None:
        return w("approvals.lack", who=w("static.everywhere"), verdict=w("verdict.no"))
    label = lack.ground.label_revision
    who = f"{lack.ground.fleet} {vehicle_words(lack.ground.vehicles)} · {catalogue.place_name(lack.ground.fleet, lack.ground.place)}"
    who += f" · {w('part.only_label', revision=label)}" if label else ""
    return w("approvals.lack", who=who, verdict=w(f"verdict.{lack.judgement.verdict.key}"))


def way_lines(row: OverviewRow, catalogue: Catalogue, w: Wording) -> tuple[MendLine, ...]:
    """What the next step of the way lacks, each with what one does about it."""
    return move_lines(row.sheet, row.missing, catalogue, w)


def move_lines(
    sheet: Sheet, missing: Iterable[Missing], catalogue: Catalogue, w: Wording
) -> tuple[MendLine, ...]:
    facts = _of_part(sheet, catalogue)
    lines = (
        (what, _line(f"mends.way.{_key(what, sheet.stage)}", w.term("missing_step", what.name.lower()), facts, w))
        for what in missing
    )
    return tuple(_of_one_letter(line, sheet) if what is Missing.CONFIRMATION else line for what, line in lines)


def _of_one_letter(line: MendLine, sheet: Sheet) -> MendLine:
    """The confirmation with what `spares record` will ask for: which letter of several, and what a doubtful one says."""
    first, *others = (each.event for each in sheet.history.permits if each.awaits)
    command = line.command + (f' --approved-on {first.on} --letter "{first.reference}"' if others else "")
    is_doubtful = any(each.code == LETTER_DOUBT for each in sheet.problems)
    return replace(line, command=command + (" --note TEXT" if is_doubtful else ""))


def _key(what: Missing, stage: Stage) -> str:
    """The customer answers twice on the way: once on the prototype, once on the documents."""
    accepts = what is Missing.CUSTOMER_ANSWER and stage is Stage.ACCEPTANCE
    return "acceptance_answer" if accepts else what.name.lower()


def _step_key(taken: Taken) -> str:
    """Pieces that are printed and wait are measured and released, not scrapped as stopped ones are. Nobody has judged yet whether the change is significant: the proposer does, before any assessment body (Regulation (EU) 402/2013 Art. 4)."""
    is_unjudged = taken.step.id == "significance" and taken.outcome is Outcome.UNKNOWN
    if taken.found == UNRELEASED:
        return "piece_unreleased"
    if taken.step.id == "piece_asked" and isinstance(taken.found, tuple) and taken.found and set(taken.found) <= set(ASKED):
        return "piece_alike"
    return "significance_unjudged" if is_unjudged else taken.step.id


def _step_mend(taken: Taken, w: Wording, *, unbound: bool) -> str:
    """A paper that is named before anything is approved is only named."""
    before = f"mends.way.{taken.step.id}"
    return before if unbound and f"{before}.do" in w.flat else f"mends.steps.{_step_key(taken)}"


def _line(key: str, missing: str, facts: Mapping[str, Any], w: Wording) -> MendLine:
    do, command = (w.filled(w.flat[f"{key}.{piece}"], facts) for piece in ("do", "command"))
    return MendLine(missing=missing, do=do, command=command)


def _of_part(sheet: Sheet, catalogue: Catalogue) -> dict[str, str]:
    part = sheet.part
    scope = " ".join(_scopes(part, catalogue)) if part else "--scope FLEET:VEHICLES:PLACES"
    told = {"number": sheet.number, "material": part.material if part else "MATERIAL", "scope": scope, "route": str(sheet.history.route)}
    return told | {"otherwise": _otherwise(sheet)}


def _otherwise(sheet: Sheet) -> str:
    """The lines that are otherwise than submitted, as the record writes them."""
    facts = dict(sheet.unsubmitted.facts) if sheet.unsubmitted else {}
    lines = facts.get("lines") or (f"{facts.get('fleet')} {facts.get('place')}",)
    return ", ".join(map(str, lines)) if isinstance(lines, tuple) else str(lines)


def _scopes(part: Part, catalogue: Catalogue) -> Iterable[str]:
    """All that the part fits, as `spares approve` takes it."""
    for fit in part.fits:
        fleet = catalogue.fleets.get(fit.fleet)
        vehicles = as_ranges(vehicles_in(fit.vehicles) or (fleet.numbers if fleet else ()))
        yield f"--scope {fit.fleet}:{','.join(vehicles)}:{fit.place}"
