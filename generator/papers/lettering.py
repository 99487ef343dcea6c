"""How large can a label's lines be, and where is its name cut?

Labels are set in a font of one width, DejaVu Sans Mono, which the typesetter carries: it tells 0 from O and 1 from l, and a
line's length is its count of letters times ADVANCE (1233 of 2048 units an em, the font's own table).
"""

import re
import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import accumulate, product

ADVANCE = 1233 / 2048
PITCH = 1.15
"""From line to line, in sizes of the letters."""
LEAST_SIZE_MM = 1.75
"""5 points, capitals of 1.3 mm: at reading distance the least (common practice, no source)."""
_LARGEST_SIZE_MM = 9.0
_BESIDES = 0.8  # of the number's size, which is read first
_LEAST_NAME_MM = 2.2
_NAME_SHARE = 0.08  # of the room's height
_ALMOST = 1e-9
_ELLIPSIS = "…"
_MOST_NAME_LINES = 3
_SPARED = 0.7  # what the large letters keep of their size, so that small print is whole


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelLine:
    """A line of a label: `top_mm` from the top of the room that all lines have."""

    text: str
    size_mm: float
    top_mm: float
    bold: bool = False


def letters(text: str) -> int:
    """How many widths of a letter a text takes at most: signs of East Asia take two, marks upon a letter none."""
    return sum(0 if unicodedata.combining(each) else 2 if unicodedata.east_asian_width(each) in "WF" else 1 for each in text)


def lines(number: str, besides: Sequence[str], names: Sequence[str], width_mm: float, height_mm: float) -> tuple[LabelLine, ...] | None:
    """The number and what belongs to it as large as they go, in small print below what else there is to say.

    names: what is said in small print, the fullest first. The first one that can be whole is taken, in as many lines as that needs and the
    large letters spare; else the last one, cut where it must be. None where the number, or what stands besides,
    would be smaller than LEAST_SIZE_MM.
    """
    largest = max(_LEAST_NAME_MM, _NAME_SHARE * height_mm)
    usual = _large(number, besides, width_mm, _left_by(1 if any(names) else 0, largest, height_mm))
    if usual is None:
        return None
    kept, name, size = usual, names[-1] if names else "", largest
    for each, small, count in product(names, (largest, max(_LEAST_NAME_MM, _SPARED * largest)), range(1, _MOST_NAME_LINES + 1)):
        smaller = _large(number, besides, width_mm, _left_by(count, small, height_mm))
        if smaller and _is_whole(each, _most(width_mm, small), count) and _least(smaller) >= _SPARED * _least(usual):
            kept, name, size = smaller, each, small
            break
    top = sum(PITCH * line.size_mm for line in kept)
    rest = int((height_mm - top) / (PITCH * size) + _ALMOST)
    told = cut(name, _most(width_mm, size), min(rest, _MOST_NAME_LINES))
    return (*kept, *(LabelLine(text=text, size_mm=size, top_mm=top + at * PITCH * size) for at, text in enumerate(told)))


def _most(width_mm: float, size_mm: float) -> int:
    """Letters of a line."""
    return int(width_mm / (ADVANCE * size_mm))


def _left_by(count: int, size_mm: float, height_mm: float) -> float:
    """The height that so many lines of small print leave; all of it where that is too little."""
    left = height_mm - count * PITCH * size_mm
    return left if left >= 2 * PITCH * LEAST_SIZE_MM else height_mm


def _large(number: str, besides: Sequence[str], width_mm: float, height_mm: float) -> tuple[LabelLine, ...] | None:
    arranged = [
        ((*first, *behind), _sizes((*first, *behind), [1.0] * len(first) + [_BESIDES] * len(behind), width_mm, height_mm))
        for first, behind in _arrangements(number, besides)
    ]
    texts, sizes = max(arranged, key=lambda each: (min(each[1]), sum(each[1])))
    if min(sizes) < LEAST_SIZE_MM - _ALMOST:
        return None
    tops = accumulate((PITCH * size for size in sizes), initial=0.0)
    return tuple(LabelLine(text=text, size_mm=size, top_mm=top, bold=True) for text, size, top in zip(texts, sizes, tops, strict=False))


def _least(large: Sequence[LabelLine]) -> float:
    return min(line.size_mm for line in large)


def _is_whole(text: str, most: int, count: int) -> bool:
    """Whether all of it stands in so many lines."""
    return "".join(cut(text, most, count)).replace(" ", "") == "".join(text.split())


def _arrangements(number: str, besides: Sequence[str]) -> Iterator[tuple[tuple[str, ...], tuple[str, ...]]]:
    """The number in one line or two, what stands besides in one line or each for itself."""
    for first in ((number,), _in_two(number)):
        yield first, tuple(besides)
        yield first, ("  ".join(besides),)


def _in_two(number: str) -> tuple[str, ...]:
    """A long number broken behind the dash or dot that is nearest to its middle; behind its middle where it has none."""
    if len(number) < 10:
        return (number,)
    marks = [found.end() for found in re.finditer("[-./]", number[:-1])]
    at = min(marks or [(len(number) + 1) // 2], key=lambda each: abs(each - len(number) / 2))
    return number[:at], number[at:]


def _sizes(texts: Sequence[str], parts: Sequence[float], width_mm: float, height_mm: float) -> list[float]:
    """As wide as the room; where they would be too high together, the largest ones are brought down to one level.

    parts: how large each may be, in shares of the level.
    """
    widest = [min(part * _LARGEST_SIZE_MM, width_mm / (ADVANCE * max(1, letters(each)))) for each, part in zip(texts, parts, strict=True)]
    left, shares = height_mm / PITCH, sum(parts)
    for limit, part in sorted(zip(widest, parts, strict=True), key=lambda each: each[0] / each[1]):
        if limit / part >= left / shares:  # this line and all that could be larger still share what is left
            break
        left, shares = left - limit, shares - part
    level = left / shares if shares > _ALMOST else _LARGEST_SIZE_MM
    return [min(limit, part * level) for limit, part in zip(widest, parts, strict=True)]


def cut(text: str, most: int, count: int) -> tuple[str, ...]:
    """The text in `count` lines of `most` letters at most, broken between words where it can be; what is cut off ends in …"""
    found: list[str] = []
    rest = " ".join(text.split())
    while rest and len(found) < count and most > 1:
        line, behind = _first_line(rest, most)
        if behind and len(found) == count - 1:
            line, behind = _taken(rest, most - 1).rstrip() + _ELLIPSIS, ""
        found.append(line)
        rest = behind
    return tuple(found)


def _first_line(text: str, most: int) -> tuple[str, str]:
    if letters(text) <= most:
        return text, ""
    whole = _taken(text, most)
    at = len(whole) if text[len(whole)] == " " else whole.rfind(" ")
    at = at if at > 0 else len(whole)
    return text[:at], text[at:].lstrip()


def _taken(text: str, most: int) -> str:
    """So much of the text's beginning as takes `most` widths."""
    taken = ""
    for each in text:
        if letters(taken + each) > most:
            break
        taken += each
    return taken
