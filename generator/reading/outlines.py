"""A depot's own side views in outlines/: SVG files that draw, and do nothing else."""

import re
from collections.abc import Iterable, Sequence
from xml.parsers import expat

from generator.reading.disk import Disk
from generator.records.catalogue import Drawing
from generator.records.fleets import Fleet
from generator.records.problems import Problem, doubt, wrong

FOLDER = "outlines"
# SVG 2, chapters 9 to 14: what draws. No script, no style sheet, no link, no picture or text from elsewhere.
_DRAWS = frozenset(
    ["svg", "g", "defs", "title", "desc", "path", "rect", "circle", "ellipse", "line", "polyline", "polygon", "text", "tspan", "linearGradient", "radialGradient", "stop", "clipPath", "use", "symbol"]
)
# From rail to roof; a light works car to a double-decker with what stands on its roof (common practice, no source).
_LOWEST_M, _HIGHEST_M = 1.8, 6.5
_SVG = "http://www.w3.org/2000/svg"
_NUMBER = re.compile(r"\s*(\d+(?:\.\d+)?)\s*(?:px|mm)?\s*")


def read_outlines(disk: Disk, fleets: Sequence[Fleet]) -> dict[str, Drawing]:
    """The drawings that fleets name, by their file's name; what is wrong with one is told, and it is left out."""
    found = {}
    for name in dict.fromkeys(fleet.outline.drawing for fleet in fleets if fleet.outline and fleet.outline.drawing):
        file = f"{FOLDER}/{name}"
        raw = disk.raw(file)
        if raw is None:
            continue
        drawing = _drawing(file, raw)
        if isinstance(drawing, Problem):
            disk.add(file, drawing)
        else:
            found[name] = drawing
            for doubtful in _proportions(drawing, (fleet.outline.length_m for fleet in fleets if fleet.outline and fleet.outline.drawing == name)):
                disk.add(file, doubtful)
    return found


def _proportions(drawing: Drawing, lengths_m: Iterable[float]) -> Iterable[Problem]:
    """Where a vehicle of that length would be as low or as high as none is, the drawing was not cut at its ends, roof and rail."""
    for length in dict.fromkeys(lengths_m):
        height = length / drawing.width_to_height
        if not _LOWEST_M <= height <= _HIGHEST_M:
            yield doubt("OUTL02", "proportions", length=length, height=round(height, 1), ratio=round(drawing.width_to_height, 1))


def _drawing(file: str, raw: bytes) -> Drawing | Problem:
    size: list[tuple[float, float]] = []
    refused: list[Problem] = []

    def start(name: str, attributes: dict[str, str]) -> None:
        refused.extend(_refused(name, attributes))
        if not size and not refused:
            size.append(_size(attributes))

    def no_entities(*_: object) -> None:
        refused.append(wrong("OUTL01", "document type", "shapes"))

    parser = expat.ParserCreate(namespace_separator=" ")
    parser.StartElementHandler = start
    parser.StartDoctypeDeclHandler = no_entities
    parser.ProcessingInstructionHandler = lambda *_: refused.append(wrong("OUTL01", "instruction", "shapes"))
    try:
        parser.Parse(raw, True)  # noqa: FBT003  the last piece, by place alone
    except (expat.ExpatError, LookupError) as error:
        return wrong("OUTL01", "no SVG", reason=str(error))
    if refused:
        return refused[0]
    width, height = size[0]
    if not (width > 0 and height > 0):
        return wrong("OUTL01", "no size")
    return Drawing(path=file, width_to_height=width / height)


def _refused(name: str, attributes: dict[str, str]) -> Iterable[Problem]:
    space, _, local = name.rpartition(" ")
    if space != _SVG or local not in _DRAWS:
        yield wrong("OUTL01", "element", "shapes", element=local[:40])
    for key, value in attributes.items():
        own = key.rpartition(" ")[2].lower()
        leads_out = (own == "href" and not value.startswith("#")) or ("url(" in value.replace(" ", "").lower() and "url(#" not in value.replace(" ", "").lower())
        if leads_out:
            yield wrong("OUTL01", "address", "own shapes", attribute=own[:40])
        elif own.startswith("on") or own == "style":
            yield wrong("OUTL01", "attribute", "shapes", attribute=own[:40])


def _size(attributes: dict[str, str]) -> tuple[float, float]:
    """Width and height of the picture: of the view box, else as it says; nothing where it says none."""
    box = attributes.get("viewBox", "").replace(",", " ").split()
    if len(box) == 4:
        told = [_NUMBER.fullmatch(each) for each in box[2:]]
    else:
        told = [_NUMBER.fullmatch(attributes.get(name, "")) for name in ("width", "height")]
    found = [float(each[1]) if each else 0.0 for each in told]
    return found[0], found[1]
