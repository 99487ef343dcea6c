"""The strict base of every record and the kinds of text it may hold."""

import re
import unicodedata
from datetime import date
from typing import Annotated, Any

from pydantic import AfterValidator, BaseModel, BeforeValidator, ConfigDict, Field

from generator.records.file_names import is_device
from generator.records.problems import Unfit

# These turn the reading direction round unseen, so that a name could show other than it is.
DIRECTION_CONTROLS = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
# They, and Unicode's control characters (category Cc, which is fixed) but the ends of lines and tabs.
_UNSEEN = re.compile(f"[{''.join(DIRECTION_CONTROLS)}\\x00-\\x08\\x0b-\\x1f\\x7f-\\x9f]")


class Record(BaseModel):
    """A frozen record: unknown keys are errors, numbers are finite, texts are trimmed."""

    model_config = ConfigDict(
        frozen=True,
        extra="forbid",
        strict=True,
        allow_inf_nan=False,
        str_strip_whitespace=True,
        use_attribute_docstrings=True,
    )


def without_controls(text: str) -> str:
    """The text as it is; Unfit where it holds what cannot be seen."""
    if found := _UNSEEN.search(text):
        raise Unfit("unseen", sign=f"U+{ord(found[0]):04X}")
    return text


def one_line(text: str) -> str:
    """The text as it is; Unfit where it runs over several lines."""
    if "\n" in text or "\t" in text:
        raise Unfit("several lines")
    return text


def _no_device(name: str) -> str:
    """A page and a folder bear the name, and Windows holds neither of a device's."""
    if is_device(name):
        raise Unfit("device")
    return name


def _inside_its_folder(path: str) -> str:
    parts = path.split("/")
    if "\\" in path or ":" in path or path.startswith("/") or ".." in parts or "" in parts or "." in parts:
        raise Unfit("leads out")
    return path


def as_compared(name: str) -> str:
    """A name so that only white space, letters' case and Unicode's form make no difference."""
    return " ".join(unicodedata.normalize("NFC", name).split()).casefold()


def each_once(key: str) -> AfterValidator:
    """The validator of a list whose entries must differ in `key`: which of two alike is meant cannot be known."""

    def check(entries: tuple[Any, ...]) -> tuple[Any, ...]:
        seen: set[str] = set()
        for entry in entries:
            name = " ".join(unicodedata.normalize("NFC", str(getattr(entry, key))).split())
            if name.casefold() in seen:
                raise Unfit("twice", entry=name, field=key)
            seen.add(name.casefold())
        return entries

    return AfterValidator(check)


def _or_nothing(schema: dict[str, Any]) -> None:
    schema["type"] = [schema["type"], "null"]


# A key with nothing below it, such as when every entry is a comment still, is read as an empty list.
MAY_BE_EMPTY = Field(json_schema_extra=_or_nothing)

# Printed parts and their papers are younger than this (common practice, no source); an earlier year is a slip.
FIRST_DAY = date(1990, 1, 1)


def _day_as_written(written: object) -> object:
    found = written if isinstance(written, date) else _iso_day(written)
    if found is None:
        raise Unfit("no day")
    if found < FIRST_DAY:
        raise Unfit("too early", first=FIRST_DAY.year)
    return found


def _iso_day(written: object) -> date | None:
    try:
        if isinstance(written, str) and re.fullmatch("[0-9]{4}-[0-9]{2}-[0-9]{2}", written):
            return date.fromisoformat(written)
    except ValueError:
        pass
    return None


Day = Annotated[date, BeforeValidator(_day_as_written)]
"""A day as ISO 8601 writes it. (The date of the record library would also read digits as seconds since 1970.)"""
Text = Annotated[str, Field(min_length=1, max_length=4000), AfterValidator(without_controls)]
# Of an RSA key of 16,384 bits, the longest that ssh-keygen makes, it has some 6,000 letters.
Signature = Annotated[str, Field(min_length=1, max_length=8000), AfterValidator(without_controls)]
LongText = Annotated[str, Field(min_length=1, max_length=100_000), AfterValidator(without_controls)]
Line = Annotated[
    str, Field(min_length=1, max_length=200), AfterValidator(without_controls), AfterValidator(one_line)
]
Name = Annotated[
    str, Field(min_length=1, max_length=80), AfterValidator(without_controls), AfterValidator(one_line)
]
Id = Annotated[str, Field(pattern=r"^[A-Za-z0-9][A-Za-z0-9-]{0,39}$"), AfterValidator(_no_device)]
PartNumber = Annotated[str, Field(pattern=r"^[A-Z0-9][A-Z0-9.-]{1,23}$"), AfterValidator(_no_device)]
Revision = Annotated[str, Field(pattern=r"^[A-Z0-9]{1,4}$")]
Sha256 = Annotated[str, Field(pattern=r"^[0-9a-f]{64}$")]
RelativeFile = Annotated[
    str,
    Field(min_length=1, max_length=200),
    AfterValidator(without_controls),
    AfterValidator(one_line),
    AfterValidator(_inside_its_folder),
]
# Without question mark, # and user: something of ours is added behind it. Host names of other alphabets have a form of these letters too.
SiteAddress = Annotated[str, Field(max_length=100, pattern=r"^https://[a-z0-9]([a-z0-9.-]*[a-z0-9])?(:[0-9]{1,5})?(/[A-Za-z0-9._~-]+)*/?$")]
Positive = Annotated[float, Field(gt=0)]
NotNegative = Annotated[float, Field(ge=0)]
Count = Annotated[int, Field(ge=0)]
MOST_MINUTES = 9600
"""Four weeks of forty hours: more than anybody works at one step (common practice, no source)."""
LinesOfFile = Annotated[int, Field(ge=1, le=100_000)]
"""How many lines that say something a file had when a tablet made it, with this one; one that was cut has fewer (reading/yaml_places.py)."""
OwnMinutes = Annotated[int, Field(ge=1, le=MOST_MINUTES)]
