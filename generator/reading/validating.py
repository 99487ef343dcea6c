"""From plain YAML contents to a strict record, each mistake with its place and mend."""

import difflib
import json
from collections import Counter
from functools import cache, lru_cache
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from generator.reading.placing import MOST_ALIKE, more_like_it
from generator.reading.yaml_places import LARGEST_REMEMBERED, YamlFile
from generator.records.problems import Path, Problem, wrong

R = TypeVar("R", bound=BaseModel)
LEFT_OPEN = "REC04"
"""The code of what somebody has still to fill in."""
TO_DO = "TODO"


def record(kind: type[R], source: YamlFile) -> R | None:
    """The record that `source` holds, or None with every mistake added to `source.problems`."""
    had_problems = bool(source.problems)
    if had_problems and not isinstance(source.content, dict):
        return None
    if not isinstance(source.content, dict):
        key = "empty" if source.content is None else "no keys"
        source.problems.append(wrong("REC01", key, "needs", where=source.where(()), needed=_needed(kind)))
        return None
    content = json.dumps(_with_empty_lists(kind, source.content))
    try:
        found: R | None = _validated(kind, content)
    except ValidationError as error:
        _add_mistakes(kind, source, error.errors(include_url=False))
        found = None
    is_left_open = TO_DO in content and _add_left_open(kind, source)
    return None if is_left_open or had_problems else found


def _validated(kind: type[R], content: str) -> R:
    """Raises ValidationError. A record is frozen, so that one of the same content may stand for another."""
    return _remembered(kind, content) if len(content) <= LARGEST_REMEMBERED else kind.model_validate_json(content, strict=True)


@lru_cache(256)
def _remembered(kind: type[R], content: str) -> R:
    """Whoever writes into a catalogue reads it twice, and whoever serves it again and again."""
    return kind.model_validate_json(content, strict=True)


def _with_empty_lists(kind: type[BaseModel], content: dict[str, Any]) -> dict[str, Any]:
    """The content, with an empty list under each key that has nothing below it and may; see MAY_BE_EMPTY."""
    if None not in content.values():
        return content  # nearly every record; a schema takes longer to make than most files to read
    known = _schema(kind).get("properties", {})
    return {
        key: [] if value is None and known.get(key, {}).get("type") == ["array", "null"] else value
        for key, value in content.items()
    }


def _add_mistakes(kind: type[BaseModel], source: YamlFile, details: list[ErrorDetails]) -> None:
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


def _add_left_open(kind: type[BaseModel], source: YamlFile) -> bool:
    """Whether the author has still to fill something in; says so in place of what else is wrong there."""
    left = [path for path in source.values if _is_left_open(_at(source.content, path))]
    for path in left[:MOST_ALIKE]:
        where = source.where(path)
        there = next((each for each in source.problems if each.where == where and each.code == "REC03"), None)
        if there:
            source.problems.remove(there)
        source.problems.append(_left_open(kind, path, there).at(where))
    if len(left) > MOST_ALIKE:
        where = source.where(left[MOST_ALIKE])
        source.problems.append(more_like_it(LEFT_OPEN, where, len(left) - MOST_ALIKE))
    return bool(left)


def _left_open(kind: type[BaseModel], path: Path, there: Problem | None) -> Problem:
    """That something is still to be filled in; how is said by what else is wrong there, where anything is."""
    if there:
        mend = there.mend if "." in there.mend else f"REC03.{there.mend}"
        return wrong(LEFT_OPEN, "left open", "say", name=_spoken(path)).mended(mend, **dict(there.facts))
    meaning = _meaning(kind, path)
    return wrong(LEFT_OPEN, "left open", "replace" if meaning else "say", name=_spoken(path), meaning=meaning)


def unfit_text(detail: ErrorDetails) -> Problem:
    """What speaks against a text that stands in no file, to be said without a name."""
    return _told(BaseModel, detail, ()).telling(name="")


def _is_left_open(given: Any) -> bool:
    return isinstance(given, str) and given.partition(":")[0].strip() == TO_DO


def _needed(kind: type[BaseModel]) -> list[str]:
    return [name for name, info in kind.model_fields.items() if info.is_required()]


def _problem(kind: type[BaseModel], source: YamlFile, detail: ErrorDetails) -> Problem:
    path = _path_in_file(source, detail["loc"])
    return _told(kind, detail, path).at(source.where(path, key=_is_of_key(detail)))


def _is_of_key(detail: ErrorDetails) -> bool:
    return detail["type"] == "extra_forbidden"


def _code(detail: ErrorDetails) -> str:
    return "REC02" if _is_of_key(detail) else "REC03"


def _path_in_file(source: YamlFile, location: tuple[int | str, ...]) -> Path:
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


def _told(kind: type[BaseModel], detail: ErrorDetails, path: Path) -> Problem:
    what, given = detail["type"], detail.get("input")
    name, shown, context = _spoken(path), _shown(given), detail.get("ctx", {})
    if what == "extra_forbidden":
        return _unknown_key(kind, detail["loc"], path)
    if what == "missing":
        return _missing(kind, detail["loc"], path)
    if what in ("enum", "literal_error", "union_tag_invalid"):
        return _not_one_of(name, detail, given)
    if what == "union_tag_not_found":
        return wrong("REC03", "no what", name=name)
    if what == "value_error":
        plain = shown if isinstance(given, str | int | float) else None
        return wrong("REC03", context["error"].key, name=name, given=plain, **context["error"].facts)
    if what == "string_pattern_mismatch":
        pattern = context["pattern"]
        return wrong("REC03", "form", FORMS.get(pattern.strip("^$"), "pattern"), name=name, given=shown, pattern=pattern)
    if what in SIMPLE:
        facts = {"bare": _bare(given), "line": "[a, b]"} | {key: context[key] for key in context if key != "error"}
        return wrong("REC03", what, name=name, given=shown, **facts)
    if what.startswith("date"):
        return wrong("REC03", "no day", name=name, given=shown)
    return wrong("REC03", "other", name=name, given=shown, reason=detail["msg"].lower())


# What the library finds, by its own names; each has its sentences.
SIMPLE = frozenset({
    "string_type", "int_type", "int_from_float", "float_type", "bool_type", "tuple_type", "dict_type", "model_type",
    "model_attributes_type", "greater_than", "greater_than_equal", "less_than_equal", "string_too_short", "string_too_long",
    "too_short", "too_long", "missing_positional_argument", "unexpected_positional_argument", "finite_number",
})  # fmt: skip

# The forms of records/base.py and its neighbours, by the sentence that says how to write them.
FORMS = {
    r"[A-Za-z0-9+/\s]+={0,2}\s*": "photo text",
    "[0-9a-f]{64}": "SHA-256",
    "#[0-9a-f]{6}": "colour",
    "[A-Z]{3}": "currency",
    "R([1-9]|1[0-9]|2[0-8])": "requirement set",
    "[A-Z0-9]{1,4}": "revision",
    "[A-Z0-9][A-Z0-9.-]{1,23}": "number",
    "[A-Za-z0-9][A-Za-z0-9-]{0,39}": "id",
    r"https://[a-z0-9]([a-z0-9.-]*[a-z0-9])?(:[0-9]{1,5})?(/[A-Za-z0-9._~-]+)*/?": "address",
}


def _unknown_key(kind: type[BaseModel], location: tuple[int | str, ...], path: Path) -> Problem:
    key, inside = _visible(str(path[-1])), _inside(path)
    known = list(_fields_at(kind, location[:-1]))
    close = difflib.get_close_matches(key.lower()[:60], known, n=1, cutoff=0.6)
    if close:
        return wrong("REC02", "no key", "near", key=key, inside=inside, near=close[0])
    return wrong("REC02", "no key", "choose", key=key, inside=inside, known=sorted(known))


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


def _missing(kind: type[BaseModel], location: tuple[int | str, ...], path: Path) -> Problem:
    return wrong("REC03", "missing", key=str(path[-1]), inside=_inside(path), meaning=_meaning(kind, location))


def _meaning(kind: type[BaseModel], location: tuple[int | str, ...]) -> str | None:
    """The first line that the record says of a field, which the words of a language know it by."""
    said = _fields_at(kind, location[:-1]).get(str(location[-1]), {}).get("description")
    return said.splitlines()[0].rstrip(".") if said else None


def _not_one_of(name: str, detail: ErrorDetails, given: Any) -> Problem:
    context = detail.get("ctx", {})
    listed = str(context.get("expected") or context.get("expected_tags") or "")
    choices = [
        choice.strip().strip("'") for choice in listed.replace(" or ", ", ").split(", ") if choice.strip()
    ]
    shown = context.get("tag", given)
    if detail["type"] == "union_tag_invalid":
        name = f"{name}.what"
    near = _nearest(str(shown)[:60], choices)
    return wrong("REC03", "no such word", name=name, given=_shown(shown), near=near, choices=choices)


def _nearest(shown: str, choices: list[str]) -> str | None:
    """The one choice that is meant, it seems; none where two are as near, such as '+z' and '-z' to 'z'."""
    close = difflib.get_close_matches(shown, choices, n=2, cutoff=0.5)
    near = [difflib.SequenceMatcher(None, each, shown).ratio() for each in close]
    return None if not close or (len(close) > 1 and near[0] == near[1]) else close[0]


def _inside(path: Path) -> str | None:
    return _spoken(path[:-1]) if len(path) > 1 else None


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
