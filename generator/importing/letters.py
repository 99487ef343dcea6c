"""What a row tells of an approval: a letter that can be taken over whole, or what it lacks. Nothing of it is ever filled in."""

from collections.abc import Iterator, Mapping
from datetime import date

from generator.importing.cells import CellError, day, in_a_comment, number_text, plain
from generator.importing.drafts import Letter
from generator.importing.fields import APPROVAL, Field
from generator.importing.found_files import is_mesh, unfit_name
from generator.importing.headings import as_compared
from generator.importing.known import is_word, map_line
from generator.importing.likely import ALL_VEHICLES, NO_CONDITIONS, OPEN_END, likely
from generator.importing.one_row import OneRow
from generator.importing.tables import LONGEST_CELL, Cell, CellKind
from generator.records.approvals import Route
from generator.records.parts import SafetyRole
from generator.records.problems import doubt, wrong
from generator.writing.yaml_text import Value

_Given = Mapping[Field, str | date | None]


def letter_of(one: OneRow, told: Mapping[str, Value]) -> tuple[Letter | None, str | None, tuple[str, ...]]:
    """The letter, where the row tells all of it; else what is missing, where the row tells something. Between: its file."""
    given: _Given = {each: _given(one, each) for each in APPROVAL}
    file = str(given[Field.LETTER_FILE]) if given[Field.LETTER_FILE] else None
    conditions = _conditions(one)
    if not any(given.values()) and conditions in (None, NO_CONDITIONS):
        return None, None, ()
    scope = _scope(told)
    lacks = (*_lacking(given, told), *([] if scope else ["fleet, vehicles and place"]), *_of_conditions(conditions))
    return (_letter(given, scope, told), file, ()) if scope and not lacks else (None, file, lacks)


def _lacking(given: _Given, told: Mapping[str, Value]) -> Iterator[str]:
    yield from (each.value for each in APPROVAL if not given[each])
    if "revision" not in told:
        yield "revision"
    if told.get("safety_role") is None:
        yield "safety role"
    elif told["safety_role"] == SafetyRole.SAFETY and given[Field.APPROVED_FOR] == Route.CUSTOMER:
        yield "letter of the authority"


def _of_conditions(said: str | None) -> list[str]:
    return ["conditions"] if said is None else [] if said == NO_CONDITIONS else ["conditions by hand"]


def _letter(given: _Given, scope: Mapping[str, Value], told: Mapping[str, Value]) -> Letter:
    letter_day, until = given[Field.LETTER_DATE], given[Field.VALID_UNTIL]
    if not isinstance(letter_day, date):
        raise TypeError(letter_day)
    return Letter(
        reference=str(given[Field.LETTER_NUMBER]),
        letter_of=letter_day,
        approved_by=str(given[Field.APPROVED_BY]),
        approver=str(given[Field.APPROVED_FOR]),
        valid_until=until if isinstance(until, date) else None,
        file=str(given[Field.LETTER_FILE]),
        scope=scope,
        revision=str(told["revision"]),
    )


def approval_said(one: OneRow) -> tuple[str, ...]:
    """All that the row says of an approval, as lines of text: none of it is lost where it cannot be taken over."""
    found: list[str] = []
    for field in (*APPROVAL, Field.CONDITIONS):
        cell, (_, heading) = one.cell(field), one.place(field)
        if cell.kind is not CellKind.EMPTY:
            first, *more = cell.text.split("\n")
            found += [f"{in_a_comment(heading.name)}: {in_a_comment(first)}", *(f"  {in_a_comment(line)}" for line in more)]
    return tuple(found)


def _conditions(one: OneRow) -> str | None:
    """The letter's conditions, 'none' where a word says that there are none; None where nobody says anything of them."""
    text = one.text(Field.CONDITIONS, LONGEST_CELL, lines=True)
    if not text:
        return None
    _, heading = one.place(Field.CONDITIONS)
    said = one.around.listed.word(heading.name, text)
    if said not in (None, NO_CONDITIONS):
        kind, entry = Field.CONDITIONS.value, map_line(heading.name, text, NO_CONDITIONS)
        one.add(wrong("LIST07", "unknown", "near", kind=kind, given=said, near=NO_CONDITIONS, entry=entry), heading)
    if said is None and likely(Field.CONDITIONS, text):
        entry = map_line(heading.name, text, NO_CONDITIONS)
        one.add(doubt("LIST10", "likely none", given=text, entry=entry), heading, doubt=True)
    return NO_CONDITIONS if as_compared(said or text) == NO_CONDITIONS else text


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
    if cell.kind is CellKind.TEXT and one.around.listed.word(heading.name, cell.text) == OPEN_END:
        return OPEN_END
    if cell.kind is CellKind.TEXT and is_word(cell.text):
        raise CellError(wrong("LIST06", "no day", "no end", given=cell.text[:60], entry=map_line(heading.name, cell.text, OPEN_END)))
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
