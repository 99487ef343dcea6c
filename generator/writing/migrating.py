"""A record of an older form in the newest one; every byte but the line of its format stays."""

import yaml

from generator.records.problems import wrong
from generator.writing.appending import CannotAppendError


def with_format(raw: bytes, newest: int) -> bytes:
    """`raw`, the bytes of a record that reads without problems, with the newest format said before its first key.

    What the older form does not tell, such as what was submitted or how a trial went, nobody can know now: it is left out.
    A record that says the newest format already comes back as it is. Raises CannotAppendError where its keys do not stand
    on lines of their own.
    """
    text = raw.decode("utf-8")
    root = _root(text)
    said = next((value for key, value in root.value if key.value == "format"), None)
    if said is not None:
        new = text[: said.start_mark.index] + str(newest) + text[said.end_mark.index :]
        return new.encode("utf-8")
    first = root.value[0][0]
    begins = int(first.start_mark.index) - int(first.start_mark.column)
    indent = text[begins : first.start_mark.index]
    if indent.strip(" "):  # such as "? route", or a key behind "---"
        raise CannotAppendError(wrong("ADD01", "braces"), first.start_mark.line + 1)
    end = "\r\n" if "\r\n" in text else "\n"
    return f"{text[:begins]}{indent}format: {newest}{end}{text[begins:]}".encode()


def _root(text: str) -> yaml.MappingNode:
    try:
        root = yaml.compose(text, Loader=yaml.SafeLoader)
    except yaml.MarkedYAMLError as error:
        line = error.problem_mark.line + 1 if error.problem_mark else 1
        raise CannotAppendError(wrong("ADD01", "no record"), line) from error
    if not isinstance(root, yaml.MappingNode) or root.flow_style or not root.value:
        raise CannotAppendError(wrong("ADD01", "braces"), 1)
    return root
