"""What do the words of a list mean in this depot: its fleets, places, materials, makers, and the records' own words?"""

import difflib
import re
from collections.abc import Iterable, Mapping

from pydantic import TypeAdapter, ValidationError

from generator.importing.cells import CellError, as_text
from generator.importing.fields import Field
from generator.importing.headings import as_compared
from generator.importing.likely import ALL_VEHICLES, NO_CONDITIONS, OPEN_END, likely
from generator.importing.map_file import ListMap
from generator.records.approvals import Route
from generator.records.catalogue import Catalogue
from generator.records.fleets import Fleet
from generator.records.parts import SafetyRole
from generator.records.problems import wrong
from generator.records.vehicles import VehicleRange, as_ranges, vehicles_in
from generator.writing.yaml_text import quoted, scalar

WITHOUT_MODEL = ("bought", "drawing only", "scan to come")
_RECORDS: Mapping[Field, str] = {Field.FLEET: "fleets.yml", Field.PLACE: "fleets.yml", Field.MATERIAL: "materials/", Field.MAKERS: "makers.yml"}
"""Where a depot writes down what there is of a kind."""
_RANGE: TypeAdapter[str] = TypeAdapter(VehicleRange)
_CLOSED: Mapping[Field, tuple[str, ...]] = {
    Field.SAFETY_ROLE: tuple(SafetyRole),
    Field.NO_MODEL: WITHOUT_MODEL,
    Field.APPROVED_FOR: tuple(Route),
    Field.CONDITIONS: (NO_CONDITIONS,),
    Field.VALID_UNTIL: (OPEN_END,),
    Field.VEHICLES: (ALL_VEHICLES,),
}


def listed_names(field: Field, catalogue: Catalogue, fleet: str | None = None) -> Mapping[str, str]:
    """What there is of a kind, by id, with its name; of the records' own words each is its own name."""
    if field is Field.FLEET:
        return {name: one.name for name, one in catalogue.fleets.items()}
    if field is Field.PLACE:
        places = catalogue.fleets[fleet].places if fleet in catalogue.fleets else ()
        return {place.id: place.name for place in places}
    if field is Field.MATERIAL:
        return {name: one.name for name, one in catalogue.materials.items()}
    if field is Field.MAKERS:
        return {name: one.name for name, one in catalogue.makers.items()}
    return {word: word for word in _CLOSED[field]}


def here(text: str, heading: str, field: Field, listed: ListMap, names: Mapping[str, str]) -> str:
    """The id that a word of the list means: by the map, else as it stands, with no regard to letters' case. Raises CellError."""
    said = listed.word(heading, text) or text
    matching = [name for name, called in names.items() if as_compared(said) in (as_compared(name), as_compared(called))]
    if len(matching) == 1:
        return matching[0]
    kind = field.value
    if len(matching) > 1:
        raise CellError(wrong("LIST07", "two of the name", kind=kind, given=said, choices=matching))
    if not names:
        raise CellError(wrong("LIST07", "no record", kind=kind, given=said, file=_RECORDS[field]))
    near = likely(field, said) or nearest(said, names)
    if near:
        raise CellError(wrong("LIST07", "unknown", "near", kind=kind, given=said, near=near, entry=map_line(heading, text, near)))
    raise CellError(wrong("LIST07", "unknown", "choose", kind=kind, given=said, choices=sorted(names), entry=map_line(heading, text, "…")))


def map_line(heading: str, text: str, meant: str) -> str:
    """The line under words in the map that says what a word of a column means here."""
    return f"{scalar(heading)}: {{{quoted(text)}: {meant}}}"


def is_word(text: str) -> bool:
    """Whether a cell is one of words alone, without a figure."""
    return any(sign.isalpha() for sign in text) and not any(sign.isdigit() for sign in text)


def nearest(said: str, names: Mapping[str, str]) -> str | None:
    """The id whose own letters or name are nearest to a word; None where none is near."""
    by_text = {as_compared(text): name for name, called in names.items() for text in (name, called)}
    close = difflib.get_close_matches(as_compared(said)[:60], by_text, n=1, cutoff=0.6)
    return by_text[close[0]] if close else None


def vehicles(text: str, fleet: Fleet, heading: str) -> tuple[str, ...]:
    """The ranges of a cell such as '401-412, 415', each of vehicles that the fleet has. Raises CellError."""
    if is_word(text):
        raise CellError(wrong("LIST07", "no vehicles", "all of them", given=as_text(text)[:60], entry=map_line(heading, text, ALL_VEHICLES)))
    pieces = [" ".join(each.split()) for each in re.split(r"[,;\n]", text)]
    ranges = tuple(re.sub(r"\s*[-–—]\s*", "-", piece) for piece in pieces)
    for piece, given in zip(pieces, ranges, strict=True):
        _refuse_no_range(given, piece)
    strangers = set(vehicles_in(ranges)) - set(vehicles_in(fleet.vehicles))
    if strangers:
        raise CellError(wrong("LIST07", "no vehicle", fleet=fleet.id, strangers=as_ranges(strangers)[:5], vehicles=fleet.vehicles))
    return ranges


def _refuse_no_range(given: str, piece: str) -> None:
    try:
        _RANGE.validate_python(given)
    except ValidationError:
        raise CellError(wrong("LIST07", "no vehicles", given=as_text(piece)[:60])) from None


def closed_words(field: Field) -> Iterable[str]:
    return _CLOSED.get(field, ())
