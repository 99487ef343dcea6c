"""Days and counts as people type them and spreadsheets save them → what was meant, where it can mean one thing alone.

What could mean two things is never guessed: 03/04/2026 is a day of March in one country and of April in another.
"""

import re
import unicodedata
from collections.abc import Sequence
from datetime import date

_WRITTEN = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
_YEAR_FIRST = re.compile(r"([0-9]{4})([-/.])([0-9]{1,2})\2([0-9]{1,2})")
_YEAR_LAST = re.compile(r"([0-9]{1,2})([-/.]) ?([0-9]{1,2})\2 ?([0-9]{4})")
_MIDNIGHT = re.compile(r"[ T]00:00(?::00)?(?:\.0+)?")
_COUNTED = re.compile(r"[1-9][0-9]{4}(?:[.,][0-9]+)?")
_TENTHS = re.compile(r"[+]?([0-9]+)(?:[.,]0+)?")


def written_day(text: str) -> date | None:
    """A day as records have it, year-month-day; None of anything else, and of a day that no calendar has."""
    try:
        return date.fromisoformat(text) if _WRITTEN.fullmatch(text) else None
    except ValueError:
        return None


def possible_days(text: str) -> Sequence[date]:
    """The days that a text can mean, whatever the country: none, one, or two of which nobody can tell.

    With dots the day stands before the month, as nobody writes it otherwise (common practice, no source).
    """
    text = _MIDNIGHT.sub("", text)
    if found := _YEAR_FIRST.fullmatch(text):
        return _existing((found[1], found[3], found[4]))
    if found := _YEAR_LAST.fullmatch(text):
        day_first, month_first = (found[4], found[3], found[1]), (found[4], found[1], found[3])
        return _existing(day_first) if found[2] == "." else _existing(day_first, month_first)
    return ()


def _existing(*told: tuple[str, str, str]) -> Sequence[date]:
    found = []
    for year, month, day in told:
        try:
            found.append(date(int(year), int(month), int(day)))
        except ValueError:
            continue
    return tuple(sorted(set(found)))


def is_shaped_as_day(text: str) -> bool:
    """Whether it is written as a day, be it one that no calendar has."""
    return any(each.fullmatch(text) for each in (_YEAR_FIRST, _YEAR_LAST))


def is_counted_day(text: str) -> bool:
    """Whether it is a day as a spreadsheet counts it, from one of two beginnings."""
    return _COUNTED.fullmatch(text) is not None


def meant_count(text: str) -> int | None:
    """The whole number that was meant by 1.0, 1,0, +1 or １; None where that is not sure, as of 1.000."""
    found = _TENTHS.fullmatch(unicodedata.normalize("NFKC", text).strip())
    if found is None or re.search(r"[.,]0{3,}$", found[0]):
        return None
    return int(found[1]) if len(found[1]) <= 9 else None
