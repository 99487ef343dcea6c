"""What does each place of a part ask of its material, and what is shown of it: the rows of one table a place."""

from dataclasses import dataclass

from generator.pages.evidence import OpenFile, open_files
from generator.pages.wording import Wording
from generator.records.catalogue import Catalogue
from generator.records.environment import Property
from generator.records.parts import Part
from generator.records.proof import Proof
from generator.rules.contested import contested
from generator.rules.facts.of_place import rows_at
from generator.rules.properties import Needed, PropertyAnswer, PropertyRow, Weighed
from generator.rules.sheet import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class AskLine:
    """One demand: what is needed, what is shown, in which file, and the answer."""

    asked: str
    needed: str
    shown: str
    answer: str
    file: OpenFile | None = None
    idle: tuple[str, ...] = ()
    """Proofs that do not count, each with its reason."""
    is_met: bool = False
    proof: str = ""
    """The file of what is shown, by its path in the catalogue."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteAsks:
    name: str
    lines: tuple[AskLine, ...]


def asks(sheet: Sheet, part: Part, stem: str, catalogue: Catalogue, w: Wording) -> tuple[SiteAsks, ...]:
    """Every place that asks something, once; of the material as it is recorded now."""
    every = [facts for ground in sheet.grounds for facts in ground.permits]
    if not any(facts.asked_there for facts in every):
        return ()
    files = open_files(every, sheet.folder, stem, catalogue, w)
    day, twice = every[0].built_on, contested(catalogue.materials)
    found: dict[tuple[str, str], SiteAsks] = {}
    for fit in part.fits:
        told = rows_at(fit, catalogue.materials.get(part.material), catalogue, day, twice)
        name = w("asks.site", fleet=fit.fleet, place=catalogue.place_name(fit.fleet, fit.place))
        if told:
            found[fit.fleet, fit.place] = SiteAsks(name=name, lines=tuple(_line(row, files, w) for row in told))
    return tuple(found.values())


def _line(row: PropertyRow, files: dict[str, OpenFile], w: Wording) -> AskLine:
    kind, found = row.demand.property, row.found
    return AskLine(
        asked=w.term("property", kind),
        needed=_value(kind, row.demand.needed, w) or w("asks.needed_plain"),
        shown=proof_words(found, w) if found else w("asks.no_proof"),
        answer=_answer(row, w),
        file=files.get(f"materials/{found.file}") if found else None,
        idle=tuple(_idle(each, w) for each in row.idle),
        is_met=row.answer is PropertyAnswer.MET,
        proof=f"materials/{found.file}" if found else "",
    )


def _answer(row: PropertyRow, w: Wording) -> str:
    words = {PropertyAnswer.MET: "met", PropertyAnswer.NOT_MET: "not_met", PropertyAnswer.NOT_SHOWN: "not_shown"}[row.answer]
    margin = None
    if row.margin is not None:
        margin = w(f"asks.margin.{row.demand.property.value}", value=w.measure(abs(row.margin)))
    return w(f"asks.{words}", margin=margin)


def proof_words(proof: Proof, w: Wording) -> str:
    """What was tested, how, on which day, and what came out."""
    value = _value(proof.property, proof.value, w)
    told = (value or w("asks.passed_plain")) if proof.passed else w("asks.failed", value=value)
    return w("asks.proof", value=told, method=proof.method, conditions=proof.conditions, day=proof.tested_on.isoformat())


def _idle(weighed: Weighed, w: Wording) -> str:
    return w(f"asks.idle.{weighed.idle}", proof=proof_words(weighed.proof, w))


def _value(kind: Property, value: Needed, w: Wording) -> str | None:
    if value is None:
        return None
    told = w.measure(value) if isinstance(value, float) else str(value)
    return w(f"asks.value.{kind.value}", value=told)
