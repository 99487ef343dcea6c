"""A template of ours and plain data → the bytes of a PDF, by typst, which compiles in this process.

What a record says reaches the typesetter as data alone, in one JSON text: no sign of it is ever program text. The template cannot
read outside of its own folder, no font of the machine is used, no package is asked for, and neither date nor identifier comes
from the hour: the same data give the same bytes.
"""

import json
from collections.abc import Mapping
from importlib.resources import files
from typing import Any

from generator.papers.seen import as_seen

TEMPLATES = files("generator.papers") / "templates"
_SHOWN = b'#set document(title: "x")\n#set text(font: "Libertinus Serif")\n#json(bytes(sys.inputs.data))'


def typeset(template: str, data: Mapping[str, Any], *, tagged: bool = True) -> bytes:
    """The PDF of a template of this room. tagged: what helps a screen reader (PDF 1.7, 14.8) is written along."""
    import typst  # noqa: PLC0415  20 MB, loaded where a paper is made

    source = "".join((TEMPLATES / f"{name}.typ").read_text(encoding="utf-8") for name in ("common", template))
    program: bytes = source.encode()
    root: Any = str(TEMPLATES)  # the library's types ask that root and program be of one type
    return typst.compile(
        program,
        root=root,
        ignore_system_fonts=True,
        sys_inputs={"data": json.dumps(_clean(data), allow_nan=False)},
        timestamp=0,
        pdf_tags=tagged,
    )


def can_show(text: str) -> bool:
    """Whether the fonts have every letter: PDF/A-2u (ISO 19005-2) forbids a glyph that stands for a missing one, and so it is refused."""
    import typst  # noqa: PLC0415  as above

    standard: Any = "a-2u"
    try:
        typst.compile(_SHOWN, ignore_system_fonts=True, sys_inputs={"data": json.dumps(_clean(text))}, pdf_standards=standard)
    except RuntimeError:
        return False
    return True


def _clean(value: Any) -> Any:
    """The data with a sign that is seen in place of each that is not."""
    if isinstance(value, str):
        return as_seen(value)
    if isinstance(value, Mapping):
        return {key: _clean(each) for key, each in value.items()}
    if isinstance(value, list | tuple):
        return [_clean(each) for each in value]
    return value
