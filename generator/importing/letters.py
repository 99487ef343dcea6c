"""What a row tells of an approval: a letter that can be taken over whole, or what it lacks. Nothing of it is ever filled in."""

from collections.abc import Mapping
from datetime import date

from generator.importing.cells import CellError, day, number_text, plain
from generator.importing.drafts import Letter
from generator.importing.fields import APPROVAL, Field
from generator.importing.found_files import is_mesh, unfit_name
from generator.importing.known import ALL_VEHICLES, OPEN_END
from generator.importing.one_row import OneRow
from generator.importing.tables import Cell, Kind
from generator.records.approvals import Route
from generator.records.parts import SafetyRole
from generator.records.problems import wrong
from generator.writing.yaml_text import Value


def letter_of(one: OneRow, told: Mapping[str, Value]) -> tuple[Letter | None, tuple[str, ...]]:
    """The letter, where the row tells all of it; else what is missing, where the row tells something."""
    given = {each: _given(one, each) for each in APPROVAL}
    conditions = one.text(Field.CONDITIONS, 4000, lines=True)
    if not any(given.values()) and not conditions:
        return None, ()
    scope = _scope(told)
    lacks = [each.value for each in APPROVAL if not given[each]]
    lacks += [] if "revision" in told else ["revision"]
    lacks += [] if scope else ["fleet, vehicles and place"]
    lacks += ["conditions by hand"] if conditions else []
    if told.get("safety_role") is None:
        lacks.append("safety role")
    elif told["safety_role"] == SafetyRole.SAFETY and given[Field.APPROVED_FOR] == Route.CUSTOMER:
        lacks.append("letter of the authority")
    if lacks or scope is None:
        return None, tuple(lacks)
    letter_day, until = given[Field.LETTER_DATE], given[Field.VALID_UNTIL]
    if not isinstance(letter_day, date):
        raise TypeError(letter_day)
    return (
        Letter(
            reference=str(given[Field.LETTER_NUMBER]),
            letter_of=letter_day,
            approved_by=str(given[Field.APPROVED_BY]),
            approver=str(given[Field.APPROVED_FOR]),
            valid_until=until if isinstance(until, date) else None,
            file=str(given[Field.LETTER_FILE]),
            scope=scope,
            revision=str(told["revision"]),
        ),
        (),
    )


def _given(one: OneRow, field: Field) -> str | date | None:
    """What the row says of one thing that an approval needs; a day for days, 'open' where there is no last one."""
    match field:
        case Field.LETTER_DATE:
            return one.taken(field, lambda cell: day(cell, one.around.listed.dates, one.around.today))
        case Field.VALID_UNTIL:
            return one.taken(field, lambda cell: _last_day(one, cell))
        case Field.APPROVED_FOR:
            return one.word(field)
        case Field.LETTER_FILE:
            return one.taken(field, lambda cell: _letter_file(one, plain(cell, 200)))
        case Field.LETTER_NUMBER:
            return one.taken(field, lambda cell: number_text(cell, one.around.listed)) or None
        case _:
            return one.text(field, 200)


def _last_day(one: OneRow, cell: Cell) -> str | date | None:
    _, heading = one.place(Field.VALID_UNTIL)
    if cell.kind is Kind.TEXT and one.around.listed.word(heading.name, cell.text) == OPEN_END:
        return OPEN_END
    return day(cell, one.around.listed.dates, one.around.today, ahead=True)


def _letter_file(one: OneRow, text: str) -> str | None:
    if not text:
        return None
    file = one.around.files.named(text)
    if unfit_name(file) or is_mesh(file):
        raise CellError(wrong("LIST09", "unfit name", file=text))
    return file


def _scope(told: Mapping[str, Value]) -> Mapping[str, Value] | None:
    """Fleet, vehicles and place that the row names; None unless it names all of them."""
    fits = told.get("fits")
    fit = fits[0] if isinstance(fits, list) and fits else {}
    if not isinstance(fit, Mapping) or not all(fit.get(key) for key in ("fleet", "vehicles", "place")):
        return None
    ranges = {} if fit["vehicles"] == ALL_VEHICLES else {"vehicles": fit["vehicles"]}
    return {"fleet": fit["fleet"], **ranges, "places": [fit["place"]]}
