"""One more entry at the end of a list of a record, such as an event; every byte that is there stays."""

from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass
from typing import Any

import yaml

from generator.records.problems import Problem, Where, wrong
from generator.writing.yaml_text import Value, mapping_lines, scalar

_FAST = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


class CannotAppendError(ValueError):
    """The file is written in a way that cannot be added to by machine; it carries the problem, with its line."""

    def __init__(self, problem: Problem, line: int) -> None:
        self.problem = problem.at(Where("", line))
        super().__init__(self.problem)


@dataclass(frozen=True, slots=True)
class Appended:
    """The new bytes of the file, and the lines that came in."""

    content: bytes
    added: str


def with_event(raw: bytes, event: Mapping[str, Value]) -> Appended:
    """`raw`, the bytes of an approval.yml that reads without problems, with `event` behind its last event.

    Raises CannotAppendError where the events are written in braces, on one line.
    """
    return with_entry(raw, "events", event)


def with_entry(raw: bytes, key: str, entry: Mapping[str, Value]) -> Appended:
    """`raw`, the bytes of a record that reads without problems, with `entry` behind the last one of the list `key`.

    A record without that list gets it at its end. Raises CannotAppendError where the list is written on one line.
    """
    text = raw.decode("utf-8")
    line_end = "\r\n" if "\r\n" in text else "\n"
    place = _place(text, key)
    lines = mapping_lines(entry, place.indent + "  ")
    lines[0] = f"{place.indent}- {lines[0].lstrip()}"
    added = line_end.join([*place.before, *lines]) + line_end
    at = end_of_line(text, place.after)
    glue = "" if at == 0 or text[at - 1] == "\n" else line_end
    new = text[: place.cut_from] + text[place.cut_to : at] + glue + added + text[at:]
    return Appended(new.encode("utf-8"), added)


def with_line(raw: bytes, key: str, value: str) -> Appended:
    """`raw` with one more key behind everything that stands there, which does not have it yet."""
    text = raw.decode("utf-8")
    line_end = "\r\n" if "\r\n" in text else "\n"
    after = _place(text, key).after
    at = end_of_line(text, after)
    glue = "" if at == 0 or text[at - 1] == "\n" else line_end
    added = "".join(f"{line}{line_end}" for line in mapping_lines({key: value}))
    return Appended((text[:at] + glue + added + text[at:]).encode("utf-8"), added)


def with_value(raw: bytes, key: str, value: str) -> bytes:
    """`raw` with this value of a key: in the place of the one that stands there, else on a line behind everything."""
    text = raw.decode("utf-8")
    root = yaml.compose(text, Loader=yaml.SafeLoader)
    pairs = root.value if isinstance(root, yaml.MappingNode) else ()
    said = next((node for name, node in pairs if name.value == key), None)
    if said is None:
        return with_line(raw, key, value).content
    return (text[: said.start_mark.index] + scalar(value) + text[said.end_mark.index :]).encode("utf-8")


@dataclass(frozen=True, slots=True)
class _Place:
    """Where an entry goes: behind the line that holds the letter before `after`."""

    after: int
    indent: str
    before: tuple[str, ...] = ()
    cut_from: int = 0
    cut_to: int = 0


def _place(text: str, name: str) -> _Place:
    try:
        root, loader = _composed(text)
    except yaml.MarkedYAMLError as error:
        line = error.problem_mark.line + 1 if error.problem_mark else 1
        raise CannotAppendError(wrong("ADD01", "no record"), line) from error
    if not isinstance(root, yaml.MappingNode) or root.flow_style:
        raise CannotAppendError(wrong("ADD01", "braces"), 1)
    pair = next(((key, value) for key, value in root.value if key.value == name), None)
    if pair is None:
        return _Place(_end_of_record(text, loader), "  ", before=(f"{name}:",))
    key, listed = pair
    if isinstance(listed, yaml.SequenceNode) and listed.value and not listed.flow_style:
        return _Place(last_letter(text, listed), " " * listed.start_mark.column)
    if (
        isinstance(listed, yaml.SequenceNode) and not listed.value
    ):  # `events: []` can only grow by losing its brackets
        start, end = listed.start_mark.index, listed.end_mark.index
        return _Place(end, " " * (key.start_mark.column + 2), cut_from=start, cut_to=end)
    raise CannotAppendError(wrong("ADD01", "brackets", list=name), key.start_mark.line + 1)


def _composed(text: str) -> tuple[yaml.Node | None, Any]:
    """The nodes of a record, and what read it: libyaml, which is ten times as quick, or what takes more than it does.

    libyaml does not count a byte order mark, so that its places would be one letter off.
    """
    if not text.startswith("\ufeff"):
        with suppress(yaml.YAMLError):
            return yaml.compose(text, Loader=_FAST), _FAST
    return yaml.compose(text, Loader=yaml.SafeLoader), yaml.SafeLoader


def _end_of_record(text: str, loader: Any) -> int:
    """The line end before the mark '...', behind which nothing belongs to the record; the end of a text without one."""
    for event in yaml.parse(text, Loader=loader):
        if isinstance(event, yaml.DocumentEndEvent) and event.explicit and event.start_mark:
            return max(0, int(event.start_mark.index) - 1)
    return len(text)


def last_letter(text: str, node: yaml.Node) -> int:
    """Behind the last letter that belongs to `node`, without the blank lines and comments that follow it."""
    while isinstance(node, yaml.MappingNode | yaml.SequenceNode) and node.value and not node.flow_style:
        last = node.value[-1]
        node = last[1] if isinstance(last, tuple) else last
    end = int(node.end_mark.index)
    if isinstance(node, yaml.ScalarNode) and node.style in ("|", ">"):
        return len(text[:end].rstrip())  # a block scalar ends before the next thing, however far that is
    return end


def end_of_line(text: str, index: int) -> int:
    """Behind the line end that follows `index`; the end of the text where there is none."""
    found = text.find("\n", index)
    return len(text) if found < 0 else found + 1
