"""What the fire standard asks at a place, who chose that, and the cell of the hazard table that it comes from, in words."""

from collections.abc import Iterator
from dataclasses import dataclass

from generator.pages.fire.of_standard import standard_words
from generator.pages.fire.row_lines import certainty_words
from generator.pages.part.story import role_name
from generator.pages.wording import Wording
from generator.records.catalogue import Catalogue
from generator.records.evidence import Evidence
from generator.records.fire import Fire, FireExemption
from generator.records.fleets import DesignCategory, Fleet
from generator.rules.facts.of_fire import FireFound
from generator.rules.fire.needs import FireNeed
from generator.rules.lasting import FOR_EVER, last_day
from generator.rules.standards import HAZARD_LEVELS

Line = tuple[str, str, Evidence | None]
"""What it is, what is said of it, and the file that shows it."""
_OPERATIONS = (1, 2, 3, 4)


@dataclass(frozen=True, slots=True, kw_only=True)
class HazardCell:
    level: str
    own: str
    """Words that mark the fleet's own cell; empty in the others."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hazard:
    """The table of hazard levels with the fleet's cell marked."""

    says: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, tuple[HazardCell, ...]], ...]


def need_lines(found: FireFound, fleet: Fleet | None, catalogue: Catalogue, w: Wording) -> tuple[Line, ...]:
    """Every line of the need, as label, words and file; empty while nobody has said what is asked."""
    if found.need is None or fleet is None:
        return ()
    return tuple(_lines(found.need, fleet, catalogue, w))


def _lines(need: FireNeed, fleet: Fleet, catalogue: Catalogue, w: Wording) -> Iterator[Line]:
    fire = need.fire
    yield w("fire.rule"), need.rule.value, None
    if not need.is_older_rule:
        design = w(f"fire.hazard.designs.{fleet.design_category}")
        level = w("fire.level_of", level=need.level, operation=str(fleet.operation_category), design=design)
        yield w("fire.level"), level, None
    for number in fire.sets:
        yield w("fire.sets"), _set(number, catalogue, w), None
    if fire.asks_nothing:
        yield w("fire.nothing"), w(f"fire.kinds.{fire.asks_nothing}"), None
    yield w("fire.chosen_by"), role_name(fire.chosen_by, catalogue), None
    yield _note(fire, w)
    yield w("fire.reason"), fire.reason, None
    if fire.sets and not need.is_older_rule:
        yield w("fire.edition"), need.edition or w("fire.no_edition"), None
        yield w("fire.product"), _product(fire, catalogue, w), None
    if fire.electrotechnical:
        yield w("fire.electrotechnical"), w("fire.yes"), None
    if fire.exemption:
        yield _statement(fire.exemption, catalogue, w)


def _set(number: str, catalogue: Catalogue, w: Wording) -> str:
    held = catalogue.standard.set_of(number) if catalogue.standard else None
    certainty = certainty_words(held.certainty, w) if held else None
    says = standard_words(held.says, w) if held else None
    return w("fire.set", set=number, says=says, certainty=certainty, source=standard_words(held.source, w) if held else None)


def _note(fire: Fire, w: Wording) -> Line:
    if fire.reference is None or fire.on is None or fire.evidence is None:
        return w("fire.note"), w("fire.no_note"), fire.evidence
    return w("fire.note"), w("fire.paper", reference=fire.reference, day=w.day(fire.on)), fire.evidence


def _product(fire: Fire, catalogue: Catalogue, w: Wording) -> str:
    if fire.product is None:
        return w("fire.not_listed")
    held = catalogue.standard.product(fire.product) if catalogue.standard else None
    return f"{held.product} {standard_words(held.name, w)}" if held else fire.product


def _statement(stated: FireExemption, catalogue: Catalogue, w: Wording) -> Line:
    last = last_day(stated)
    until = w.iso_day("open") if last == FOR_EVER else w.day(last) if last else None
    by = role_name(stated.by, catalogue)
    told = w("fire.statement_of", reference=stated.reference, by=by, day=w.day(stated.on), until=until)
    return w("fire.statement"), told, stated.evidence


def kind_words(found: FireFound, w: Wording) -> str:
    """What answers in place of results: an older rule, a statement, or that nothing is asked; empty where results do."""
    if found.need is None:
        return w("fire.unsaid")
    if found.kind == "older rule":
        return w("fire.older", rule=found.need.rule.value)
    return w(f"fire.kinds.{found.kind}") if found.kind in ("statement", "non-combustible", "no requirement") else ""


def asked_words(found: FireFound, w: Wording) -> tuple[str, ...]:
    """What is asked about besides what the rows tell."""
    of_rows = {why for row in found.rows for why in row.why} | {"older rule"}  # which `kind_words` tells
    return tuple(w("fire.asked", what=w.term("fire_asked", each)) for each in found.asked if each not in of_rows)


def hazard(fleet: Fleet, w: Wording) -> Hazard:
    table = HAZARD_LEVELS
    own = fleet.operation_category, fleet.design_category
    return Hazard(
        says=w("fire.hazard.says", edition=table.edition, clause=standard_words(table.clause, w), certainty=certainty_words(table.certainty, w)),
        heads=tuple(w(f"fire.hazard.designs.{each}") for each in DesignCategory),
        rows=tuple(
            (str(row), tuple(_cell(row, column, own, w) for column in DesignCategory)) for row in _OPERATIONS
        ),
    )  # fmt: skip


def _cell(row: int, column: DesignCategory, own: tuple[int, DesignCategory], w: Wording) -> HazardCell:
    level = HAZARD_LEVELS.rows[row, column]
    return HazardCell(level=level.value, own=w("fire.hazard.own") if (row, column) == own else "")


