"""In which direction has a bound line changed? What the table of consequences asks beyond which line it is."""

import re
from collections.abc import Callable, Iterable, Mapping
from decimal import Decimal, InvalidOperation
from functools import lru_cache

from generator.rules.canonical import NONE, text_in
from generator.rules.changes import Change

Lines = Mapping[str, str]
Direction = Callable[[Change, Lines, Lines], bool]

_QUOTED = r'"(?:[^"\\]|\\.)*"'
_GROUP = re.compile(
    rf"(maker {_QUOTED}|certificate {_QUOTED}(?: \d+)?|fire test (?:[\d.]+|none) mm (?:{_QUOTED}|none) {_QUOTED}(?: \d+)?"
    rf"|(?:fire report|proof {_QUOTED}) {_QUOTED}(?: \d+)?)(?: .*)?"
)
# A number with the sign before it, and the word behind it: its unit, where "m" and "M" are a thousand million apart.
_FIGURE = re.compile(r"(?:[^\w\s]+\s+)?\S*\d\S*(?:\s+[^\W\d_]+)?")
_BEFORE_A_CLAUSE = re.compile(r"^[,;:.(]+\s+|^\(")
# What ends a clause or joins two words. All other signs stay: a bracket or a stroke can hide a sentence of Markdown.
_CLAUSES = str.maketrans(dict.fromkeys(".,;:!?'\"()-–—…‘’“”", " "))


def is_first_noted(change: Change, _before: Lines, _after: Lines) -> bool:
    """Nothing was known of it, and now something is."""
    return change.approved == NONE and change.now not in (None, NONE)


def is_mended(change: Change, _before: Lines, _after: Lines) -> bool:
    """The same words in the same order: letters' case, white space and punctuation alone differ; no figure, no unit."""
    then, now = text_in(change.approved), text_in(change.now)
    if then is None or now is None or not _is_text(change.approved) or not _is_text(change.now):
        return False
    return _figures(then) == _figures(now) and _words(then) == _words(now)


def is_within_band(change: Change, before: Lines, after: Lines) -> bool:
    """Every size that passes now passed before: the new band lies within the old one."""
    name = re.match(rf"check {_QUOTED}", change.what)
    then, now = (_band(lines, name[0]) for lines in (before, after)) if name else (None, None)
    return then is not None and now is not None and then[0] <= now[0] and now[1] <= then[1]


def is_like_machine(change: Change, before: Lines, after: Lines) -> bool:
    """In house, of the same process and the same noted model as a machine that was approved."""
    wanted = _machine(after, change.what)
    if wanted is None or wanted[1] != '"in-house"':
        return False
    makers = {key for key in before if re.fullmatch(rf"maker {_QUOTED}", key)}
    return any(_machine(before, maker) == wanted for maker in makers)


def is_same_machine(change: Change, before: Lines, after: Lines) -> bool:
    """In house, and of the same process and noted model as it was: it has another name."""
    maker = change.what.removesuffix(" name")
    then, now = _machine(before, maker), _machine(after, maker)
    return then is not None and then == now and then[1] == '"in-house"'


def grouped(found: Iterable[Change], before: Lines, after: Lines) -> tuple[Change, ...]:
    """A maker or a paper that is new or gone as one change, in place of one for each of its lines."""
    told: dict[str, Change] = {}
    for change in found:
        name = _GROUP.fullmatch(change.what)
        group = name[1] if name else ""
        gone, new = group and not _lines_of(group, after), group and not _lines_of(group, before)
        if gone or new:
            told[group] = Change(group, _joined(group, before), _joined(group, after))
        else:
            told[change.what] = change
    return tuple(told.values())


def _lines_of(group: str, lines: Lines) -> list[str]:
    return [key for key in lines if key == group or _group_of(key) == group]


@lru_cache(4096)  # the lines of one text after the other, each asked for every change
def _group_of(key: str) -> str | None:
    found = _GROUP.fullmatch(key)
    return found[1] if found else None


def _joined(group: str, lines: Lines) -> str | None:
    said = [f"{key.removeprefix(group).strip()} {lines[key]}".strip() for key in _lines_of(group, lines)]
    return "; ".join(said) or None


def _machine(lines: Lines, maker: str) -> tuple[str, str, str] | None:
    """Process, kind and model of a maker; None where the text does not tell them all."""
    process, kind, model = (lines.get(key, NONE) for key in (maker, f"{maker} kind", f"{maker} machine model"))
    return None if NONE in (process, kind, model) else (process, kind, model)


def _band(lines: Lines, check: str) -> tuple[Decimal, Decimal] | None:
    try:
        nominal, plus, minus = (Decimal(lines[f"{check} {key} mm"]) for key in ("nominal", "plus", "minus"))
    except (KeyError, InvalidOperation):
        return None
    return nominal - minus, nominal + plus


def _is_text(written: str | None) -> bool:
    return written is not None and written.startswith('"')


def _figures(text: str) -> list[str]:
    """Whatever holds a figure, sign by sign, with the unit behind it; a mark that ends a clause is none of it."""
    found = (_BEFORE_A_CLAUSE.sub("", " ".join(each.split())) for each in _FIGURE.findall(text))
    return [each.rstrip(".,;:)") for each in found]


def _words(text: str) -> str:
    """The text without case and punctuation, white space as single spaces; symbols such as ± and ° stay."""
    return " ".join(text.casefold().translate(_CLAUSES).split())
