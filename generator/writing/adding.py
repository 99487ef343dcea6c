"""One more field at the end of an entry that stands in a record; every byte that is there stays."""

import yaml

from generator.records.problems import wrong
from generator.writing.appending import CannotAppendError, end_of_line, last_letter
from generator.writing.yaml_text import Value, mapping_lines


def with_field(raw: bytes, listed: str, index: int, field: str, value: Value) -> bytes:
    """`raw`, the bytes of a record that reads without problems, with a field behind the others of an entry of a list.

    Raises CannotAppendError where the entry is written on one line, in braces; ValueError where there is no such entry.
    """
    text = raw.decode("utf-8")
    line_end = "\r\n" if "\r\n" in text else "\n"
    entry = _entry(text, listed, index)
    if entry.flow_style or not entry.value:
        raise CannotAppendError(wrong("ADD01", "braces"), entry.start_mark.line + 1)
    lines = mapping_lines({field: value}, " " * entry.value[0][0].start_mark.column)
    at = end_of_line(text, last_letter(text, entry))
    glue = "" if text[at - 1] == "\n" else line_end
    return (text[:at] + glue + line_end.join(lines) + line_end + text[at:]).encode("utf-8")


def _entry(text: str, listed: str, index: int) -> yaml.MappingNode:
    root = yaml.compose(text, Loader=yaml.SafeLoader)
    for key, value in root.value if isinstance(root, yaml.MappingNode) else ():
        if key.value == listed and isinstance(value, yaml.SequenceNode):
            if value.flow_style:
                raise CannotAppendError(wrong("ADD01", "brackets", list=listed), key.start_mark.line + 1)
            entry = value.value[index]
            if isinstance(entry, yaml.MappingNode):
                return entry
    raise ValueError(f"no entry {index} of {listed}")
