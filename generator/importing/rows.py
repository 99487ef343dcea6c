"""One row of a list → a part's draft, or why it is refused."""

from collections.abc import Mapping

from generator.importing.cells import (
    CellError,
    amount,
    entries,
    in_a_comment,
    length_mm,
    number_text,
    part_number,
    plain,
    revision,
    size_mm,
    whole,
)
from generator.importing.drafts import Draft
from generator.importing.fields import Field
from generator.importing.found_files import PICTURES, ending, is_mesh, unfit_name
from generator.importing.headings import as_compared
from generator.importing.known import here, listed_names, vehicles
from generator.importing.letters import approval_said, letter_of
from generator.importing.likely import ALL_VEHICLES
from generator.importing.map_file import Column
from generator.importing.one_row import OneRow, RowAround
from generator.importing.tables import Cell, CellKind, Row
from generator.records.parts import NumberKind
from generator.records.placeholders import names_nothing
from generator.records.problems import Problem, doubt, wrong
from generator.writing.yaml_text import Value

_MOST_BESIDES = 20
_SIDES = (Field.LENGTH, Field.WIDTH, Field.HEIGHT)


def number_of(around: RowAround, row: Row) -> str | None:
    """The row's part number; None where it has none that could be one."""
    one = OneRow(around, row)
    return one.taken(Field.NUMBER, lambda cell: part_number(cell, around.listed)) or None


def name_of(around: RowAround, row: Row) -> str | None:
    return OneRow(around, row).text(Field.NAME, 80)


def read_row(around: RowAround, row: Row) -> Draft | tuple[Problem, ...]:
    """All that the row tells, or every reason why it is refused."""
    one = OneRow(around, row)
    number = one.taken(Field.NUMBER, lambda cell: part_number(cell, around.listed))
    if number == "":
        one.add(wrong("LIST08", "no number"), one.place(Field.NUMBER)[1])
    name = one.taken(Field.NAME, lambda cell: plain(cell, 80))
    if name == "":
        one.add(wrong("LIST08", "no name"), one.place(Field.NAME)[1])
    elif name and names_nothing(name):
        one.add(doubt("LIST10", "says nothing", given=name), one.place(Field.NAME)[1], doubt=True)
    told = _told(one)
    sizes = _sizes(one)
    because = one.word(Field.NO_MODEL)
    mesh, documents, photos = _files(one, number or "", name or "")
    letter, letter_file, lacks = letter_of(one, told)
    if one.problems:
        return tuple(one.problems)
    return Draft(
        row=row.number,
        number=number or "",
        name=name or "",
        told={"number": number, "name": name} | told,
        measured=tuple(f"{side} {size:g} mm" for side, size in sizes.items()),
        size_mm=tuple(sizes.values()) if len(sizes) == len(_SIDES) else (),
        besides=tuple(_besides(one)),
        because=because,
        mesh=mesh,
        documents=documents,
        photos=photos,
        letter=letter,
        letter_file=letter_file,
        approval=approval_said(one),
        lacks=lacks,
        doubts=tuple(one.doubts),
    )


def _besides(one: OneRow) -> list[str]:
    """What the row says in columns that are left out, such as a remark: nothing of a list is lost."""
    used = {heading.column for places in one.around.columns.values() for _, heading in places}
    left = ((each, one.row.cell(each.column)) for each in one.around.headings.columns if each.column not in used)
    told = [f"{in_a_comment(each.name)}: {in_a_comment(cell.text)}" for each, cell in left if cell.kind is not CellKind.EMPTY]
    return [*told[:_MOST_BESIDES], *([f"more columns: {len(told) - _MOST_BESIDES}"] if len(told) > _MOST_BESIDES else [])]


def _told(one: OneRow) -> dict[str, Value]:
    """The keys of part.yml that the row tells, in the record's order, without number and name."""
    listed = one.around.listed
    found: dict[str, Value] = {
        "revision": one.taken(Field.REVISION, lambda cell: revision(cell, listed)) or None,
        "other_names": [text for text, _ in one.several(Field.OTHER_NAMES, 80)],
        "purpose": one.text(Field.PURPOSE, 4000),
        "symptoms": [text for text, _ in one.several(Field.SYMPTOMS, 200)],
        "replaces": _old_numbers(one),
        "fits": _fits(one),
        "safety_role": one.word(Field.SAFETY_ROLE),
        "material": one.word(Field.MATERIAL),
        "makers": _makers(one),
        "yearly_demand": one.taken(Field.YEARLY_DEMAND, lambda cell: amount(cell, listed.decimal)),
        "stock": _stock(one),
    }
    return {key: value for key, value in found.items() if value not in (None, [], {})}


def _old_numbers(one: OneRow) -> list[Value]:
    found: dict[tuple[str, str], Value] = {}
    for column, heading in one.around.columns.get(Field.OLD_NUMBERS, ()):
        cell = one.row.cell(heading.column)
        try:
            if cell.kind is not CellKind.TEXT:  # what a spreadsheet has changed is refused as in a part's own number
                number_text(cell, one.around.listed)
        except CellError as error:
            one.add(error.problem, heading)
            continue
        kind = column.kind or NumberKind.OLD
        for text in _numbers_in(one, cell, column):
            found[text, kind.value] = {"number": text} | ({"kind": kind.value} if kind is not NumberKind.OLD else {})
    return list(found.values())


def _numbers_in(one: OneRow, cell: Cell, column: Column) -> list[str]:
    """The numbers of one cell, each looked at as if it stood alone."""
    heading = one.around.headings.named(column.heading)
    try:
        pieces = entries(plain(cell, lines=True), column.split)
        return [number_text(Cell(CellKind.TEXT, piece), one.around.listed) for piece in pieces]
    except CellError as error:
        one.add(error.problem, heading)
        return []


def _fits(one: OneRow) -> list[Value]:
    """Where the part fits, as far as the row says; vehicles that nobody names are not all of them."""
    fleet = one.word(Field.FLEET)
    refused = bool(one.problems)
    place = None
    if one.cell(Field.PLACE).kind is not CellKind.EMPTY and fleet is None and not refused:
        one.add(wrong("LIST07", "no fleet"), one.place(Field.PLACE)[1])
    elif fleet:
        place = one.word(Field.PLACE, fleet)
    ranges = _vehicles(one, fleet, refused=refused)
    count = one.taken(Field.PER_VEHICLE, lambda cell: whole(cell, 1, 10_000))
    fit: dict[str, Value] = {"fleet": fleet, "vehicles": ranges, "place": place, "per_vehicle": count}
    return [{key: value for key, value in fit.items() if value is not None}] if any(fit.values()) else []


def _vehicles(one: OneRow, fleet: str | None, *, refused: bool) -> list[Value] | str | None:
    """Their ranges; 'all' where the list says so by the map's words."""
    _, heading = one.place(Field.VEHICLES)
    cell = one.cell(Field.VEHICLES)
    if fleet is None:
        if cell.kind is not CellKind.EMPTY and not refused:
            one.add(wrong("LIST07", "no fleet"), heading)
        return None

    def ranges(cell: Cell) -> list[Value] | str | None:
        if cell.kind is CellKind.NUMBER and not cell.text.isdecimal():  # 31.10 may have become 31.1
            raise CellError(wrong("LIST06", "number lost", given=cell.text))
        text = plain(cell, lines=True)
        if not text:
            return None
        word = one.around.listed.word(heading.name, text)
        if word == ALL_VEHICLES or (text == ALL_VEHICLES and heading.column < 0):
            return ALL_VEHICLES
        return list(vehicles(word or text, one.around.catalogue.fleets[fleet], heading.name))

    return one.taken(Field.VEHICLES, ranges)


def _makers(one: OneRow) -> list[Value]:
    names = listed_names(Field.MAKERS, one.around.catalogue)
    _, heading = one.place(Field.MAKERS)
    default = one.around.listed.default(Field.MAKERS)
    found = [text for text, _ in one.several(Field.MAKERS, 80)] or ([default] if default else [])
    try:
        return list(dict.fromkeys(here(text, heading.name, Field.MAKERS, one.around.listed, names) for text in found))
    except CellError as error:
        one.add(error.problem, heading)
        return []


def _stock(one: OneRow) -> Mapping[str, Value]:
    place = one.text(Field.SHELF_PLACE, 80)
    count = one.taken(Field.ON_SHELF, lambda cell: whole(cell, 0, 1_000_000))
    if place is None and count is None:
        return {}
    if count is None and one.row.cell(one.place(Field.SHELF_PLACE)[1].column).kind is CellKind.EMPTY:
        return {}  # a shelf that is every part's by default holds nothing that anybody has counted
    return {"place": place, "on_shelf": count}


def _sizes(one: OneRow) -> dict[str, float]:
    decimal = one.around.listed.decimal
    whole_size = one.taken(Field.SIZE, lambda cell: size_mm(cell, one.unit(Field.SIZE), decimal))
    sides = {side: size for side in _SIDES if (size := _side(one, side)) is not None}
    of_all = dict(zip(_SIDES, whole_size, strict=True)) if whole_size else {}
    for side, size in sides.items():
        if of_all.get(side, size) != size:
            one.add(wrong("LIST06", "two sizes", given=f"{size:g}", other=f"{of_all[side]:g}"), one.place(side)[1])
    return {side.value: size for side, size in (sides | of_all).items()}


def _side(one: OneRow, side: Field) -> float | None:
    return one.taken(side, lambda cell: length_mm(cell, one.unit(side), one.around.listed.decimal))


def _files(one: OneRow, number: str, name: str) -> tuple[str | None, tuple[str, ...], tuple[str, ...]]:
    """Model, documents and photos: those that the row names, else those that are called as the part is numbered."""
    files = one.around.files
    named = one.taken(Field.MESH_FILE, lambda cell: _mesh_named(one, plain(cell, 200)))
    numbered = [file for file in files.with_stem(number) if number]
    documents = _documents_named(one)
    meshes = [file for file in numbered if is_mesh(file)]
    by_name = [file for file in files.with_stem(name) if name and is_mesh(file)]
    if not named and not meshes and by_name and one.around.names.get(as_compared(name), 0) > 1:
        one.add(wrong("LIST09", "of several parts", file=by_name[0], given=name), one.place(Field.NAME)[1])
    found = [named] if named else meshes or by_name
    if len(found) > 1:
        one.add(wrong("LIST09", "several models", found=found), one.place(Field.NUMBER)[1])
    others = [file for file in numbered if not is_mesh(file)]
    photos = [file for file in others if ending(file) in PICTURES and file not in documents]
    documents += [file for file in others if file not in photos and file not in documents]
    for file in (*documents, *photos):
        if unfit_name(file):
            one.add(wrong("LIST09", "unfit name", file=file), one.place(Field.DOCUMENTS)[1])
    last = [as_compared(file.rpartition("/")[2]) for file in documents]
    if len(set(last)) < len(last):
        one.add(wrong("LIST09", "alike", found=documents), one.place(Field.DOCUMENTS)[1])
    return (found[0] if found else None), tuple(documents), tuple(photos)


def _mesh_named(one: OneRow, text: str) -> str | None:
    if not text:
        return None
    file = one.around.files.named(text)
    if not is_mesh(file):
        raise CellError(wrong("LIST09", "no model", file=text))
    return file


def _documents_named(one: OneRow) -> list[str]:
    found: list[str] = []
    for text, column in one.several(Field.DOCUMENTS, 200):
        try:
            found.append(one.around.files.named(text))
        except CellError as error:
            one.add(error.problem, one.around.headings.named(column.heading))
    return list(dict.fromkeys(found))
