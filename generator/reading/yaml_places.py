"""What a YAML file says and where each thing stands in it."""

import marshal
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any

import yaml

from generator.records.problems import Path, Problem, Where, wrong

Plain = dict[str, Any] | list[Any] | str | int | float | bool | None

# A record of a depot is a few kB; what is far larger or deeper was not written by a person.
LARGEST_FILE_BYTES = 1_000_000
DEEPEST = 30
# Some thirty times the largest record that anybody has written; what reads it grows no faster than this.
MOST_NODES = 10_000
# The pure reader, whose messages are better, takes a second for this much.
LARGEST_READ_AGAIN = 100_000
# A few hundred files of this size are remembered.
LARGEST_REMEMBERED = 40_000


class _Loader(yaml.SafeLoader):
    """Scalars as in the YAML 1.2 core schema: 0417 stays a text, `no` stays a word, a date stays a text."""


class _FastLoader(getattr(yaml, "CSafeLoader", yaml.SafeLoader)):  # type: ignore[misc]
    """The same by libyaml, some twenty times faster; its messages are poorer, so mistakes are read again by _Loader."""


_CORE_SCALARS = (
    ("bool", r"^(?:true|True|TRUE|false|False|FALSE)$", "tTfF"),
    ("null", r"^(?:~|null|Null|NULL|)$", ["~", "n", "N", ""]),
    ("int", r"^[-+]?(?:0|[1-9][0-9]{0,17})$", "-+0123456789"),
    ("float", r"^[-+]?(?:0|[1-9][0-9]{0,17})\.[0-9]{1,17}(?:[eE][-+]?[0-9]{1,3})?$", "-+0123456789"),
)
for _loader in (_Loader, _FastLoader):
    _loader.yaml_implicit_resolvers = {}
    for _name, _pattern, _first in _CORE_SCALARS:
        _loader.add_implicit_resolver(f"tag:yaml.org,2002:{_name}", re.compile(_pattern), list(_first))


@dataclass(slots=True)
class YamlFile:
    """A YAML file: its plain contents, and the line and column (from 1) of every key and value."""

    file: str
    content: Plain = None
    values: dict[Path, tuple[int, int]] = field(default_factory=dict)
    keys: dict[Path, tuple[int, int]] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)

    def where(self, path: Path, *, key: bool = False) -> Where:
        """The place of `path`, or of the nearest thing around it that stands in the file."""
        for marks in (self.keys, self.values) if key else (self.values, self.keys):
            if path in marks:
                return Where(self.file, *marks[path])
        return self.where(path[:-1]) if path else Where(self.file, 1, 1)

    def add(self, mark: Any, problem: Problem) -> None:
        """Add a problem at a mark of the YAML library (None: the whole file)."""
        self.problems.append(
            problem.at(Where(self.file, mark.line + 1, mark.column + 1) if mark else Where(self.file))
        )


def read_yaml(file: str, raw: bytes) -> YamlFile:
    """Read the bytes of a YAML file; every mistake of form becomes a problem of the result, none is raised.

    Whoever writes into a catalogue reads it twice, before and after it is his alone: the same bytes are taken apart once.
    """
    if len(raw) > LARGEST_REMEMBERED:
        return _read(file, raw)
    found, content = _remembered(file, raw)
    unpacked = marshal.loads(content)  # noqa: S302  this process has packed it a moment ago, nothing of it lay on a disk
    return YamlFile(file, unpacked, dict(found.values), dict(found.keys), list(found.problems))


@lru_cache(256)
def _remembered(file: str, raw: bytes) -> tuple[YamlFile, bytes]:
    """The file, and its content packed, of which everybody who asks gets a copy of his own."""
    found = _read(file, raw)
    return found, marshal.dumps(found.content)


def _read(file: str, raw: bytes) -> YamlFile:
    result = YamlFile(file)
    text = _text(result, raw)
    if text is None:
        return result
    try:
        _take(text, result, _FastLoader)
    except yaml.YAMLError as fast:
        if len(text) > LARGEST_READ_AGAIN:
            _add_syntax_problem(result, fast)
            return result
        try:
            _take(text, result, _Loader)
            if not result.problems:
                _add_syntax_problem(result, fast)
        except yaml.YAMLError as error:
            _add_syntax_problem(result, error)
    _add_cut(result, text)
    return result


def _add_cut(result: YamlFile, text: str) -> None:
    """What is missing of a file that says how many lines it had: cut at the end of one, it reads as a shorter list."""
    told = result.content.get("lines") if isinstance(result.content, dict) else None
    if not isinstance(told, int) or isinstance(told, bool):
        return
    there = sum(bool(line.strip()) and not line.lstrip().startswith("#") for line in re.split("\r\n?|\n", text))
    if there < told:
        result.problems.append(wrong("YAML12", "cut", where=result.where(("lines",)), told=told, there=there))


def _take(text: str, result: YamlFile, loader: Any) -> None:
    found = YamlFile(result.file)
    try:
        found.content = _Reading(yaml.parse(text, Loader=loader), found).whole()
    except _RefusedError as refused:
        result.add(refused.mark, refused.problem)
        return
    result.content, result.values, result.keys = found.content, found.values, found.keys
    result.problems += found.problems


def _text(result: YamlFile, raw: bytes) -> str | None:
    if len(raw) > LARGEST_FILE_BYTES:
        result.add(None, wrong("YAML01", "too long", bytes=len(raw)))
        return None
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        byte = f"{raw[error.start]:#04x}"
        result.problems.append(wrong("YAML02", "not UTF-8", where=Where(result.file, line), byte=byte))
        return None
    # Not splitlines(): it would take the very characters away that are looked for.
    for number, line_text in enumerate(text.replace("\r\n", "\n").split("\n"), start=1):
        if line_text.isprintable():
            continue
        unreadable = next(
            (i for i, letter in enumerate(line_text) if not letter.isprintable() and _is_control(letter)),
            None,
        )
        if unreadable is not None:
            where = Where(result.file, number, unreadable + 1)
            sign = f"U+{ord(line_text[unreadable]):04X}"
            result.problems.append(wrong("YAML02", "unprintable", where=where, sign=sign))
    return None if result.problems else text


def _is_control(letter: str) -> bool:
    code = ord(letter)
    return (
        (code < 0x20 and letter != "\t")
        or 0x7F <= code < 0xA0
        or code in (0x2028, 0x2029, 0xFFFE, 0xFFFF, 0xFEFF)
    )


class _RefusedError(Exception):
    """The file is no plain document."""

    def __init__(self, mark: Any, problem: Problem) -> None:
        super().__init__(problem)
        self.mark, self.problem = mark, problem


class _Reading:
    """One plain document, event by event; what is refused ends it there, and nothing of it is kept."""

    def __init__(self, events: Iterator[Any], result: YamlFile) -> None:
        self._events, self._result = events, result
        self._depth = self._nodes = 0

    def whole(self) -> Plain:
        """What the document says. Raises _RefusedError, and yaml.YAMLError where it is no YAML."""
        content: Plain = None
        documents = 0
        for event in self._events:
            if isinstance(event, yaml.DocumentStartEvent):
                documents += 1
                if documents > 1:
                    raise _RefusedError(event.start_mark, wrong("YAML04", "second document"))
                content = self._plain(self._next(), ())
        return content

    def _next(self) -> Any:
        """The next event of a node, once nothing speaks against it."""
        event = next(self._events)
        if isinstance(event, yaml.CollectionEndEvent):
            self._depth -= 1
            return event
        if event.anchor:
            sign = "*" if isinstance(event, yaml.AliasEvent) else "&"
            raise _RefusedError(event.start_mark, wrong("YAML03", "reference", reference=f"{sign}{event.anchor}"))
        if event.tag:
            tag = event.tag.replace("tag:yaml.org,2002:", "!!")
            raise _RefusedError(event.start_mark, wrong("YAML08", "tag", tag=tag))
        self._depth += isinstance(event, yaml.CollectionStartEvent)
        if self._depth > DEEPEST:
            raise _RefusedError(event.start_mark, wrong("YAML06", "too deep"))
        self._nodes += 1
        if self._nodes > MOST_NODES:
            raise _RefusedError(event.start_mark, wrong("YAML11", "too much", most=MOST_NODES))
        return event

    def _plain(self, event: Any, path: Path) -> Plain:
        self._result.values[path] = _place(event)
        if isinstance(event, yaml.MappingStartEvent):
            return self._mapping(path)
        if isinstance(event, yaml.SequenceStartEvent):
            return [self._plain(item, (*path, index)) for index, item in enumerate(self._inside())]
        return _scalar(event)

    def _inside(self) -> Iterator[Any]:
        """The events that begin what is in the collection that has just begun; each is read to its end by who gets it."""
        while not isinstance(event := self._next(), yaml.CollectionEndEvent):
            yield event

    def _mapping(self, path: Path) -> dict[str, Any]:
        content: dict[str, Any] = {}
        keys = self._result.keys
        for event in self._inside():
            key = event.value if isinstance(event, yaml.ScalarEvent) else None
            if key is None or key in content:
                first = keys[(*path, key)][0] if key is not None else None
                twice = wrong("YAML07", "twice", key=key, first=first)
                self._result.add(event.start_mark, wrong("YAML05", "no plain key") if key is None else twice)
                self._skip(event)
                self._skip(self._next())
                continue
            keys[(*path, key)] = _place(event)
            content[key] = self._plain(self._next(), (*path, key))
        return content

    def _skip(self, event: Any) -> None:
        """Read to the end of what begins there."""
        if isinstance(event, yaml.CollectionStartEvent):
            for each in self._inside():
                self._skip(each)


def _place(event: Any) -> tuple[int, int]:
    return event.start_mark.line + 1, event.start_mark.column + 1


def _scalar(event: Any) -> Plain:
    text = str(event.value)
    known = _Loader.yaml_implicit_resolvers.get(text[:1], ()) if event.implicit[0] else ()
    tag = next((tag for tag, pattern in known if pattern.match(text)), "") if known else ""
    if tag.endswith(":int"):
        return int(text)
    if tag.endswith(":float"):
        return float(text)
    if tag.endswith(":bool"):
        return text.lower() == "true"
    return None if tag.endswith(":null") else text


def _add_syntax_problem(result: YamlFile, error: yaml.YAMLError) -> None:
    result.content = None
    mark, says, context = None, "cannot be read", ""
    if isinstance(error, yaml.MarkedYAMLError):
        mark = error.problem_mark or error.context_mark
        says, context = error.problem or says, error.context or ""
    if "'\\t'" in says or "tab" in says.lower():
        result.add(mark, wrong("YAML09", "tab"))
        return
    is_key = "while scanning a simple key" in context or "could not find expected ':'" in says
    mend = "colon" if is_key else "quotes" if "mapping values are not allowed" in says else "look"
    result.add(mark, wrong("YAML10", "no YAML", mend, reason=says))
