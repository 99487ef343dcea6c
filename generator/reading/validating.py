"""From plain YAML contents to a strict record, each mistake with its place and mend."""

import difflib
import json
from collections import Counter
from functools import cache
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from generator.reading.placing import MOST_ALIKE, more_like_it
from generator.reading.yaml_places import Path, Written
from generator.records.problems import Problem

R = TypeVar("R", bound=BaseModel)


def record(kind: type[R], source: Written) -> R | None:
    """The record that `source` holds, or None with every mistake added to `source.problems`."""
    had_problems = bool(source.problems)
    if had_problems and not isinstance(source.content, dict):
        return None
    if not isinstance(source.content, dict):
        says = "is empty" if source.content is None else "is not a list of keys and values"
        source.problems.append(
            Problem(
                code="REC01",
                where=source.where(()),
                says=says,
                fix=f"it needs at least: {', '.join(_needed(kind))}",
            )
        )
        return None
    try:
        found = kind.model_validate_json(json.dumps(source.content), strict=True)
    except ValidationError as error:
        _add_mistakes(kind, source, error.errors(include_url=False))
        found = None
    return None if _add_left_open(kind, source) or had_problems else found


def _add_mistakes(kind: type[BaseModel], source: Written, details: list[ErrorDetails]) -> None:
    """Each mistake; of many of a kind the first ones, and how many more there are."""
    places = {detail["loc"][:length] for detail in details for length in range(len(detail["loc"]))}
    listed: Counter[str] = Counter()
    for detail in details:
        if detail["type"] == "too_short" and detail["loc"] in places:
            continue  # a list counts as too short when its entries are wrong; they say so already
        listed[detail["type"]] += 1
        if listed[detail["type"]] <= MOST_ALIKE:
            source.problems.append(_problem(kind, source, detail))
        elif listed[detail["type"]] == MOST_ALIKE + 1:
            more = sum(other["type"] == detail["type"] for other in details) - MOST_ALIKE
            where = source.where(_path_in_file(source, detail["loc"]), key=_is_of_key(detail))
            source.problems.append(more_like_it(_code(detail), where, more))


def _add_left_open(kind: type[BaseModel], source: Written) -> bool:
    """Whether the author has still to fill something in; says so in place of what else is wrong there."""
    left = [path for path in source.values if _is_left_open(_at(source.content, path))]
    for path in left[:MOST_ALIKE]:
        where = source.where(path)
        there = next((each for each in source.problems if each.where == where and each.code == "REC03"), None)
        if there:
            source.problems.remove(there)
        wanted = _fields_at(kind, path[:-1]).get(str(path[-1]), {}).get("description", "what is true")
        fix = there.fix if there else f"replace TODO: {wanted}"
        says = f"{_spoken(path)} is still to be filled in"
        source.problems.append(Problem(code="REC04", where=where, says=says, fix=fix))
    if len(left) > MOST_ALIKE:
        where = source.where(left[MOST_ALIKE])
        source.problems.append(more_like_it("REC04", where, len(left) - MOST_ALIKE))
    return bool(left)


def _is_left_open(given: Any) -> bool:
    return isinstance(given, str) and given.partition(":")[0].strip() == "TODO"


def _needed(kind: type[BaseModel]) -> list[str]:
    return [name for name, info in kind.model_fields.items() if info.is_required()]


def _problem(kind: type[BaseModel], source: Written, detail: ErrorDetails) -> Problem:
    path = _path_in_file(source, detail["loc"])
    name = _spoken(path)
    says, fix = _said(kind, detail, path, name)
    where = source.where(path, key=_is_of_key(detail))
    return Problem(code=_code(detail), where=where, says=says, fix=fix)


def _is_of_key(detail: ErrorDetails) -> bool:
    return detail["type"] == "extra_forbidden"


def _code(detail: ErrorDetails) -> str:
    return "REC02" if _is_of_key(detail) else "REC03"


def _path_in_file(source: Written, location: tuple[int | str, ...]) -> Path:
    """The location without the names of union members, which stand in no file; a missing last key stays."""
    path: Path = ()
    for index, step in enumerate(location):
        last = index == len(location) - 1
        if (*path, step) in source.values or (last and isinstance(_at(source.content, path), dict)):
            path = (*path, step)
    return path


def _at(content: Any, path: Path) -> Any:
    for step in path:
        try:
            content = content[step]
        except (KeyError, IndexError, TypeError):
            return None
    return content


def _spoken(path: Path) -> str:
    text = ""
    for step in path:
        key = step if isinstance(step, int) else _visible(step)
        text += f"[{key + 1}]" if isinstance(key, int) else f".{key}" if text else key
    return text or "the file"


def _said(kind: type[BaseModel], detail: ErrorDetails, path: Path, name: str) -> tuple[str, str]:
    what, context, given = detail["type"], detail.get("ctx", {}), detail.get("input")
    if what == "extra_forbidden":
        return _unknown_key(kind, detail["loc"], path)
    if what == "missing":
        return f"'{path[-1]}' is missing{_inside(path)}", _mend_missing(kind, detail["loc"], path)
    if what in ("enum", "literal_error", "union_tag_invalid"):
        return _not_one_of(name, detail, given)
    if what == "union_tag_not_found":
        return f"{name} has no 'what'", "say what happened, such as 'what: prototype printed'"
    if what == "value_error":
        says, _, fix = str(context["error"]).partition("; ")
        is_plain = isinstance(given, str | int | float)
        return f"{name} {_shown(given)} {says}" if is_plain else f"{name} {says}", fix
    if what == "string_pattern_mismatch":
        return f"{name} is {_shown(given)}, which has not the right form", _form(context["pattern"])
    simple = _SIMPLE.get(what)
    if simple:
        says, fix = simple
        return f"{name} {says.format(given=_shown(given), **context)}", fix.format(
            given=_bare(given), **context
        )
    if what.startswith("date"):
        return (
            f"{name} {_shown(given)} is not a day that exists",
            "write the day as year-month-day, such as 2026-03-09",
        )
    return (
        f"{name} {_shown(given)}: {detail['msg'].lower()}",
        "see the JSON Schema of this file: spares schema",
    )


_SIMPLE = {
    "string_type": ("is {given} where a text is needed", 'put it in quotes: "{given}"'),
    "int_type": ("is {given} where a whole number is needed", "write a whole number without quotes or unit"),
    "int_from_float": ("is {given} where a whole number is needed", "write a whole number"),
    "float_type": (
        "is {given} where a number is needed",
        "write the number alone, with a decimal point and without its unit",
    ),
    "bool_type": ("is {given} where true or false is needed", "write true or false"),
    "tuple_type": ("is {given} where a list is needed", "write a list: one '- ' line for each, or [a, b]"),
    "dict_type": (
        "is {given} where keys and values are needed",
        "write 'key: value' lines, indented under it",
    ),
    "model_type": (
        "is {given} where keys and values are needed",
        "write 'key: value' lines, indented under it",
    ),
    "model_attributes_type": (
        "is {given} where keys and values are needed",
        "write 'key: value' lines, indented under it",
    ),
    "greater_than": ("is {given}", "it must be greater than {gt}"),
    "greater_than_equal": ("is {given}", "it must be at least {ge}"),
    "less_than_equal": ("is {given}", "it must be at most {le}"),
    "string_too_short": ("is empty", "write something or leave the key out"),
    "string_too_long": ("is longer than {max_length} letters", "shorten it to {max_length} letters"),
    "too_short": ("has too few entries", "give at least {min_length}"),
    "too_long": ("has too many entries", "give exactly {max_length}"),
    "missing_positional_argument": ("has too few entries", "give all of them"),
    "unexpected_positional_argument": ("has too many entries", "take the last ones away"),
    "finite_number": ("is {given}", "write a finite number"),
}


# The forms of records/base.py and its neighbours, as one would say them.
_FORMS = {
    r"[A-Za-z0-9+/\s]+={0,2}\s*": "leave the photo's text as the tablet wrote it, or take it out",
    "[0-9a-f]{64}": "write the SHA-256 of the file: 64 digits 0-9 and a-f",
    "#[0-9a-f]{6}": "write a colour such as '#c9c7b8', in small letters",
    "[A-Z]{3}": "write the three capital letters of ISO 4217, such as EUR",
    "R([1-9]|1[0-9]|2[0-8])": "write a requirement set of EN 45545-2, R1 to R28",
    "[A-Z0-9]{1,4}": "write a revision such as A, B or 02: one to four capital letters or digits",
    "[A-Z0-9][A-Z0-9.-]{1,23}": "write capital letters, digits, dots and dashes, such as TV-0417",
    "[A-Za-z0-9][A-Za-z0-9-]{0,39}": "write letters, digits and dashes without spaces, such as saloon-window",
}


def _form(pattern: str) -> str:
    return _FORMS.get(pattern.strip("^$"), f"its form is {pattern}")


def _unknown_key(kind: type[BaseModel], location: tuple[int | str, ...], path: Path) -> tuple[str, str]:
    key = _visible(str(path[-1]))
    known = list(_fields_at(kind, location[:-1]))
    close = difflib.get_close_matches(key.lower()[:60], known, n=1, cutoff=0.6)
    if close:
        return f"'{key}' is not a key{_inside(path)}", f"did you mean '{close[0]}'?"
    return f"'{key}' is not a key{_inside(path)}", f"take it out, or use one of: {', '.join(sorted(known))}"


def _fields_at(kind: type[BaseModel], location: tuple[int | str, ...]) -> dict[str, Any]:
    """The fields of the record at `location`, found through its JSON Schema, which knows every union."""
    schema = _schema(kind)
    definitions = schema.get("$defs", {})
    here = [schema]
    for step in location:
        here = [found for each in here for found in _below(each, step, definitions)]
    fields: dict[str, Any] = {}
    for each in here:
        fields |= each.get("properties", {})
    return fields


@cache
def _schema(kind: type[BaseModel]) -> dict[str, Any]:
    return kind.model_json_schema()


def _below(schema: dict[str, Any], step: int | str, definitions: dict[str, Any]) -> list[dict[str, Any]]:
    if isinstance(step, int):
        items = schema.get("items") or {}
        below = [*schema.get("prefixItems", ()), items] if items or "prefixItems" in schema else []
    elif step in schema.get("properties", {}):
        below = [schema["properties"][step]]
    elif schema.get("properties", {}).get("what", {}).get("const") in (step, None):
        below = [schema]
    else:
        below = []
    return [final for each in below for final in _resolved(each, definitions)]


def _resolved(schema: dict[str, Any], definitions: dict[str, Any]) -> list[dict[str, Any]]:
    if "$ref" in schema:
        return _resolved(definitions[schema["$ref"].rsplit("/", 1)[-1]], definitions)
    parts = [*schema.get("anyOf", ()), *schema.get("oneOf", ()), *schema.get("allOf", ())]
    return (
        [schema, *(final for part in parts for final in _resolved(part, definitions))] if parts else [schema]
    )


def _mend_missing(kind: type[BaseModel], location: tuple[int | str, ...], path: Path) -> str:
    said = next(
        (one.get("description") for one in [_fields_at(kind, location[:-1]).get(str(location[-1]), {})]), None
    )
    return f"add a line '{path[-1]}: …'" + (f" ({said.splitlines()[0].rstrip('.')})" if said else "")


def _not_one_of(name: str, detail: ErrorDetails, given: Any) -> tuple[str, str]:
    context = detail.get("ctx", {})
    listed = str(context.get("expected") or context.get("expected_tags") or "")
    choices = [
        choice.strip().strip("'") for choice in listed.replace(" or ", ", ").split(", ") if choice.strip()
    ]
    shown = context.get("tag", given)
    if detail["type"] == "union_tag_invalid":
        name = f"{name}.what"
    close = difflib.get_close_matches(str(shown)[:60], choices, n=1, cutoff=0.5)
    fix = f"did you mean '{close[0]}'? " if close else ""
    return (
        f"{name} is {_shown(shown)}, which is not one of its words",
        f"{fix}Choose from: {', '.join(choices)}",
    )


def _inside(path: Path) -> str:
    return f" in {_spoken(path[:-1])}" if len(path) > 1 else ""


def _bare(given: Any) -> str:
    return _visible(str(given)) if isinstance(given, str | int | float) else "…"


def _visible(text: str) -> str:
    """The text with what cannot be seen written out, so that a message never turns or hides itself."""
    shown = "".join(letter if letter.isprintable() else f"<U+{ord(letter):04X}>" for letter in text)
    return f"{shown[:60]}…" if len(shown) > 60 else shown


def _shown(given: Any) -> str:
    match given:
        case None:
            return "empty"
        case dict():
            return "a group of keys"
        case list():
            return "a list"
        case str():
            return f"'{_visible(given)}'"
        case _:
            return f"{given}"
