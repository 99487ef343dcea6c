"""A template of ours and plain data → the bytes of a PDF, by typst, which compiles in this process.

What a record says reaches the typesetter as data alone, in one JSON text: no sign of it is ever program text. The template cannot
read outside of its own folder, no font of the machine is used, no package is asked for, and neither date nor identifier comes
from the hour: the same data give the same bytes.
"""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from functools import cache
from importlib.resources import files
from typing import Any

from generator.papers.letters import lacking, letters_in, spelled
from generator.papers.seen import as_seen

STANDARD = "PDF/A-2b"
"""ISO 19005-2, level b: what it needs to be shown the same in many years lies in the file."""
TEMPLATES = files("generator.papers") / "templates"


def typeset(template: str, data: Mapping[str, Any], *, tagged: bool = True) -> bytes:
    """The PDF of a template of this room. tagged: what helps a screen reader (PDF 1.7, 14.8) is written along."""
    return _compiled(_program(template), json.dumps(_clean(data), allow_nan=False), tagged=tagged)


@dataclass(frozen=True, slots=True, kw_only=True)
class ArchivedPaper:
    """A paper that is to be read for many years. refused: why it is no PDF/A-2b (ISO 19005-2), in the typesetter's words; empty where it is."""

    content: bytes
    lacking: tuple[str, ...]
    """Letters that no font here has, each written by its number."""
    refused: str = ""


def typeset_to_keep(template: str, data: Mapping[str, Any], day: date) -> ArchivedPaper:
    """The PDF of a template as PDF/A-2b, dated `day`, which the template's data call `dated`.

    The typesetter checks what it writes against the standard; where it refuses, the paper is written all the same, and says so.
    """
    import typst  # noqa: PLC0415  as above

    clean = _clean(data)
    without = lacking(letters_in(clean), can_be_set)
    told = json.dumps(spelled(clean, without) | {"dated": True}, allow_nan=False)
    at = (day - date(1970, 1, 1)).days * _DAY_S
    try:
        return ArchivedPaper(content=_compiled(_program(template), told, at, "a-2b"), lacking=tuple(sorted(without)))
    except typst.TypstError as error:
        if not str(error).startswith("PDF/A"):
            raise
        return ArchivedPaper(content=_compiled(_program(template), told, at), lacking=tuple(sorted(without)), refused=str(error))


_DAY_S = 86_400


@cache
def can_be_set(letters: str) -> bool:
    """Whether the fonts have every letter: PDF/A (ISO 19005-2) forbids a glyph that stands for a missing one, and so it is refused."""
    import typst  # noqa: PLC0415  as above

    program = b"#set document(date: auto)\n#text(json(bytes(sys.inputs.data)))"
    try:
        _compiled(program, json.dumps(letters), 0, "a-2b")
    except typst.TypstError:
        return False
    return True


def _program(template: str) -> bytes:
    return "".join((TEMPLATES / f"{name}.typ").read_text(encoding="utf-8") for name in ("common", template)).encode()


def _compiled(program: bytes, data: str, at: int = 0, standard: str | None = None, *, tagged: bool = True) -> bytes:
    """at: the paper's day, in seconds since 1970. Raises typst.TypstError."""
    import typst  # noqa: PLC0415  20 MB, loaded where a paper is made

    root: Any = str(TEMPLATES)  # the library's types ask that root and program be of one type
    standards: Any = [standard] if standard else []
    return typst.compile(
        program, root=root, ignore_system_fonts=True, sys_inputs={"data": data}, timestamp=at, pdf_tags=tagged, pdf_standards=standards
    )  # fmt: skip


def _clean(value: Any) -> Any:
    """The data with a sign that is seen in place of each that is not."""
    if isinstance(value, str):
        return as_seen(value)
    if isinstance(value, Mapping):
        return {key: _clean(each) for key, each in value.items()}
    if isinstance(value, list | tuple):
        return [_clean(each) for each in value]
    return value
