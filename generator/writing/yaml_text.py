"""Values as YAML lines that read well and come back as they were."""

import json
import re
from collections.abc import Mapping, Sequence

Value = str | int | float | bool | None | Sequence["Value"] | Mapping[str, "Value"]

# Such a text needs no quotes: it begins with a letter and holds nothing that YAML reads as a sign of its own.
_PLAIN = re.compile(r"[A-Za-z](?:[^\S\n\t]?[\w.,;()/+%°×–'-])*")
_DAY = re.compile(r"\d{4}-\d{2}-\d{2}")
_TAKEN = {"true", "false", "null", "yes", "no", "on", "off", "y", "n"}


def scalar(value: str | float | None) -> str:
    """One value on one line; a text is quoted wherever YAML could read it as something else."""
    if value is None:
        return "null"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int | float):
        return f"{value}"
    if _DAY.fullmatch(value) or (_PLAIN.fullmatch(value) and value.lower() not in _TAKEN):
        return value
    return quoted(value)


def quoted(text: str) -> str:
    """The text in double quotes; what cannot be seen is written as an escape."""
    return "".join(
        sign
        if sign.isprintable()
        else json.dumps(sign)[1:-1]
        if ord(sign) < 0x10000
        else f"\\U{ord(sign):08x}"
        for sign in json.dumps(text, ensure_ascii=False)
    )


def mapping_lines(content: Mapping[str, Value], indent: str = "") -> list[str]:
    """A mapping as lines without their ends: nested blocks by two spaces, texts of several lines as literal blocks."""
    lines: list[str] = []
    for key, value in content.items():
        lines += _entry(f"{indent}{key}:", value, indent)
    return lines


def _entry(head: str, value: Value, indent: str) -> list[str]:
    if isinstance(value, str) and "\n" in value:
        return _literal(head, value, indent)
    if value is None or isinstance(value, str | int | float):
        return [f"{head} {scalar(value)}"]
    if isinstance(value, Mapping):
        return [head, *mapping_lines(value, indent + "  ")] if value else [f"{head} {{}}"]
    if all(item is None or isinstance(item, str | int | float) for item in value):
        if all(not isinstance(item, str) or len(item) < 20 for item in value):
            return [f"{head} [{', '.join(_in_flow(item) for item in value)}]"]
        return [head, *(f"{indent}  - {scalar(item)}" for item in value)]  # type: ignore[arg-type]
    return [head, *(line for item in value for line in _item(item, indent + "  "))]


def _item(item: Value, indent: str) -> list[str]:
    if not isinstance(item, Mapping):
        raise ValueError("a list holds either plain values or mappings")  # noqa: TRY004
    first, *rest = mapping_lines(item, indent + "  ")
    return [f"{indent}- {first.removeprefix(indent + '  ')}", *rest]


def _in_flow(item: Value) -> str:
    text = scalar(item)  # type: ignore[arg-type]
    return quoted(text) if isinstance(item, str) and text == item and "," in item else text


def _literal(head: str, text: str, indent: str) -> list[str]:
    """A literal block, which keeps every letter; quotes where a line could not stand in one."""
    lines = text.rstrip("\n").split("\n")
    cannot = any(line != line.rstrip() or not line.isprintable() for line in lines) or lines[0].startswith(
        " "
    )
    if cannot or not lines[0] or text.endswith("\n\n"):
        return [f"{head} {quoted(text)}"]
    sign = "|" if text.endswith("\n") else "|-"
    return [f"{head} {sign}", *(f"{indent}  {line}" if line else "" for line in lines)]
