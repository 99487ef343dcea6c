"""Which polygons does a PLY file hold, ASCII or binary?"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from generator.reading.meshes.errors import EXPORT_STL, SAVE_AGAIN, MeshError, shown, unusable
from generator.reading.meshes.limits import MAX_FILE_BYTES, check_face_count, check_vertex_count
from generator.reading.meshes.polygons import Cutter
from generator.reading.meshes.soup import Triangles

# G. Turk, "The PLY Polygon File Format" (1994), with the names of sizes that came into use later.
_TYPES: Final = {
    "char": "i1", "int8": "i1", "uchar": "u1", "uint8": "u1",
    "short": "i2", "int16": "i2", "ushort": "u2", "uint16": "u2",
    "int": "i4", "int32": "i4", "uint": "u4", "uint32": "u4",
    "float": "f4", "float32": "f4", "double": "f8", "float64": "f8",
}  # fmt: skip
_ORDERS: Final = {"ascii": "=", "binary_little_endian": "<", "binary_big_endian": ">"}
_LAST_LINE_END: Final = (b"", b"\n", b"\r\n", b"\r")  # some writers end binary values like a text
_CORNER_LISTS: Final = ("vertex_indices", "vertex_index")

Column = NDArray[Any] | list[NDArray[Any]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Property:
    """One value of an element; a list when count_type is given."""

    name: str
    type: str
    count_type: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Element:
    """A kind of thing in the file, and how many of it follow."""

    name: str
    count: int
    properties: tuple[Property, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Header:
    """What the head of the file promises."""

    encoding: str
    elements: tuple[Element, ...]
    body_starts: int
    lines: int


def ply(content: bytes) -> Triangles:
    """Read corners and polygons of a PLY file.

    Raises MeshError when the header is not understood, when fewer or more values follow than it
    promises, or when the surface is kept in strips.
    """
    header = ply_header(content)
    if header.encoding == "ascii":
        columns = _ascii_columns(content, header)
    else:
        columns = _binary_columns(content, header)
    corners = columns["vertex"]
    vertices = np.column_stack([np.asarray(corners[axis], dtype=np.float64) for axis in "xyz"])
    faces = columns["face"]
    lists = faces[next(name for name in _CORNER_LISTS if name in faces)]
    return Triangles(vertices=vertices, faces=_triangles(lists, vertices))


def _triangles(lists: Column, vertices: NDArray[np.float64]) -> NDArray[np.int64]:
    if isinstance(lists, np.ndarray) and lists.ndim == 2 and lists.shape[1] == 3:
        return lists.astype(np.int64)
    sizes = np.array([len(corners) for corners in lists], dtype=np.int64)
    if sizes.min(initial=3) < 3:
        raise unusable("face too small", EXPORT_STL, corners=int(sizes.min()))
    corners = np.concatenate([np.ravel(each) for each in lists])
    if not np.isfinite(corners).all() or (corners % 1 != 0).any():
        raise unusable("ply corner no number", EXPORT_STL)
    names = corners.astype(np.int64)
    if names.min() < 0 or names.max() >= len(vertices):
        raise unusable("ply corner missing", SAVE_AGAIN, corner=int(names.max()), corners=len(vertices))
    return Cutter(vertices).all_cut(names, sizes)


def ply_header(content: bytes) -> Header:
    """Read what the file promises; raises MeshError when that is nothing to read a mesh from."""
    lines, body_starts = _header_lines(content)
    encoding, elements = "", list[Element]()
    for line, text in enumerate(lines, start=1):
        match text.split():
            case ["format", name, "1.0"] if name in _ORDERS:
                encoding = name
            case ["element", name, count] if count.isdecimal():
                elements.append(Element(name=name, count=int(count), properties=()))
            case ["property", *words] if elements:
                elements[-1] = _with_property(elements[-1], words, line)
            case [] | ["ply" | "PLY" | "comment" | "obj_info", *_]:
                pass
            case _:
                raise unusable("ply header line", EXPORT_STL, line=line, text=shown(text))
    if not encoding:
        raise unusable("ply no format", EXPORT_STL)
    _check_elements({element.name: element for element in elements})
    return Header(encoding=encoding, elements=tuple(elements), body_starts=body_starts, lines=len(lines) + 1)


def _header_lines(content: bytes) -> tuple[list[str], int]:
    """Give the lines before `end_header`, and where the values begin.

    Lines end as the first one does: with CR, LF or both. A value may begin with the byte of a line end, so what
    follows `end_header` is looked at no further.
    """
    mark = re.match(rb"(?i:ply)[ \t]*(\r\n|\n|\r)", content)
    line_end = mark[1] if mark else b"\n"
    found = re.search(rb"(?:\r\n|\n|\r)[ \t]*end_header[ \t]*(?:%s|(?=\r\n)..)" % line_end, content, re.DOTALL)
    if found is None:
        raise unusable("ply header cut off", SAVE_AGAIN)
    return content[: found.start()].decode("ascii", errors="replace").splitlines(), found.end()


def _with_property(element: Element, words: list[str], line: int) -> Element:
    if words and words[-1] in {p.name for p in element.properties}:
        raise unusable("ply property twice", EXPORT_STL, line=line, name=shown(words[-1], 30))
    match words:
        case ["list", count_type, kind, name] if _TYPES.get(count_type, "f")[0] != "f" and kind in _TYPES:
            added = Property(name=name, type=_TYPES[kind], count_type=_TYPES[count_type])
        case [kind, name] if kind in _TYPES:
            added = Property(name=name, type=_TYPES[kind])
        case _:
            raise unusable("ply property", EXPORT_STL, line=line, text=shown(" ".join(words), 50))
    return Element(name=element.name, count=element.count, properties=(*element.properties, added))


def _check_elements(elements: Mapping[str, Element]) -> None:
    if "tristrips" in elements:
        raise unusable("ply strips", EXPORT_STL)
    for needed in ("vertex", "face"):
        if needed not in elements or elements[needed].count == 0:
            raise unusable("ply no elements", EXPORT_STL, element=needed)
    if any(element.count > MAX_FILE_BYTES for element in elements.values()):
        raise unusable("ply promises too much", SAVE_AGAIN)
    check_face_count(elements["face"].count)
    check_vertex_count(elements["vertex"].count)
    plain = {p.name for p in elements["vertex"].properties if p.count_type is None}
    if not {"x", "y", "z"} <= plain:
        raise unusable("ply no coordinates", EXPORT_STL)
    if not any(p.name in _CORNER_LISTS and p.count_type for p in elements["face"].properties):
        raise unusable("ply no corner lists", EXPORT_STL)


def _ascii_columns(content: bytes, header: Header) -> dict[str, dict[str, Column]]:
    body = content[header.body_starts :].decode("ascii", errors="replace").splitlines()
    rows = [(line, text.split()) for line, text in enumerate(body, start=header.lines + 1) if text.strip()]
    promised = sum(element.count for element in header.elements)
    if len(rows) != promised:
        raise unusable("ply rows missing", SAVE_AGAIN, promised=promised, held=len(rows))
    columns: dict[str, dict[str, Column]] = {}
    for element in header.elements:
        taken, rows = rows[: element.count], rows[element.count :]
        columns[element.name] = _ascii_element(element, taken)
    return columns


def _ascii_element(element: Element, rows: list[tuple[int, list[str]]]) -> dict[str, Column]:
    values: dict[str, list[NDArray[Any]]] = {p.name: [] for p in element.properties}
    for line, words in rows:
        try:
            numbers = [float(word) for word in words]
            at = 0
            for p in element.properties:
                size = 1
                if p.count_type:
                    size, at = int(numbers[at]), at + 1
                if size < 0 or at + size > len(numbers):
                    raise IndexError  # noqa: TRY301
                values[p.name].append(np.array(numbers[at : at + size]))
                at += size
        except (ValueError, IndexError, OverflowError):
            raise _bad_row(element, words, line) from None
        if at != len(numbers):
            raise _bad_row(element, words, line)
    return {
        p.name: values[p.name] if p.count_type else np.array([v[0] for v in values[p.name]])
        for p in element.properties
    }


def _bad_row(element: Element, words: list[str], line: int) -> MeshError:
    return unusable("ply row", SAVE_AGAIN, line=line, text=shown(" ".join(words)), element=element.name)


def _binary_columns(content: bytes, header: Header) -> dict[str, dict[str, Column]]:
    columns: dict[str, dict[str, Column]] = {}
    at = header.body_starts
    for element in header.elements:
        columns[element.name], at = _binary_element(content, at, element, _ORDERS[header.encoding])
    if content[at:] not in _LAST_LINE_END:
        raise unusable("ply more bytes", SAVE_AGAIN, more=len(content) - at)
    return columns


def _binary_element(content: bytes, at: int, element: Element, order: str) -> tuple[dict[str, Column], int]:
    """Read all rows at once where every list is as long as in the first row, else row by row."""
    if element.count == 0:
        return {}, at
    row = _row_type(content, at, element, order)
    end = at + row.itemsize * element.count
    if end <= len(content):
        rows = np.frombuffer(content, dtype=row, count=element.count, offset=at)
        lists = [p for p in element.properties if p.count_type]
        if all((rows[f"#{p.name}"] == rows[f"#{p.name}"][0]).all() for p in lists):
            return {p.name: rows[p.name] for p in element.properties}, end
    elif not any(p.count_type for p in element.properties):
        raise _too_short(element, (len(content) - at) // row.itemsize)
    return _row_by_row(content, at, element, order)


def _row_type(content: bytes, at: int, element: Element, order: str) -> np.dtype[np.void]:
    """Give the layout of the row that begins here, its lists as long as they are in this row."""
    fields: list[tuple[str, str] | tuple[str, str, tuple[int]]] = []
    size = 0
    for p in element.properties:
        if p.count_type is None:
            fields.append((p.name, order + p.type))
            size += np.dtype(p.type).itemsize
            continue
        count_type = np.dtype(order + p.count_type)
        if at + size + count_type.itemsize > len(content):
            raise _too_short(element, 0)
        length = int(np.frombuffer(content, dtype=count_type, count=1, offset=at + size)[0])
        if not 0 <= length * np.dtype(p.type).itemsize <= len(content) - at:
            raise unusable("ply list too long", SAVE_AGAIN, element=element.name, count=length)
        fields += [(f"#{p.name}", order + p.count_type), (p.name, order + p.type, (length,))]
        size += count_type.itemsize + length * np.dtype(p.type).itemsize
    return np.dtype(fields)


def _row_by_row(content: bytes, at: int, element: Element, order: str) -> tuple[dict[str, Column], int]:
    if element.name == "face" and sum(p.count_type is not None for p in element.properties) == 1:
        return _of_one_list(content, at, element, order)
    columns: dict[str, list[NDArray[Any]]] = {p.name: [] for p in element.properties}
    for row_number in range(element.count):
        row = _row_type(content, at, element, order) if at < len(content) else None
        if row is None or at + row.itemsize > len(content):
            raise _too_short(element, row_number)
        values = np.frombuffer(content, dtype=row, count=1, offset=at)
        for p in element.properties:
            columns[p.name].append(values[p.name][0])
        at += row.itemsize
    return {
        p.name: columns[p.name] if p.count_type else np.array(columns[p.name]) for p in element.properties
    }, at


def _of_one_list(content: bytes, at: int, element: Element, order: str) -> tuple[dict[str, Column], int]:
    """Read the one list of each row, passing over all else: a million faces of several sizes take a second."""
    where = next(i for i, p in enumerate(element.properties) if p.count_type)
    before, after = (
        sum(np.dtype(p.type).itemsize for p in some)
        for some in (element.properties[:where], element.properties[where + 1 :])
    )
    found = element.properties[where]
    kind, count_type = np.dtype(order + found.type), np.dtype(order + str(found.count_type))
    lists: list[NDArray[Any]] = []
    for row in range(element.count):
        begins = at + before + count_type.itemsize
        length = int.from_bytes(content[at + before : begins], "big" if order == ">" else "little", signed=count_type.kind == "i")
        at = begins + length * kind.itemsize + after
        if begins > len(content) or length < 0 or at > len(content):
            raise _too_short(element, row)
        lists.append(np.frombuffer(content, dtype=kind, count=length, offset=begins))
    return {found.name: lists}, at


def _too_short(element: Element, held: int) -> MeshError:
    return unusable("ply cut off", SAVE_AGAIN, held=max(held, 0), promised=element.count, element=element.name)
