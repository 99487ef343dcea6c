"""What was printed, as a text that can be laid beside what is approved.

Its lines are those of the canonical text of an approval (rules/fingerprint.py) that a printer turns into a piece: number,
revision, model, material, settings and critical dimensions, and the one maker that printed. Papers, places and fitting
notes are bound by the approval and no property of the piece.
"""

import re
from collections.abc import Iterable, Mapping

from generator.rules.canonical import as_written, is_well_formed, lines_of, text_in
from generator.rules.changes import Change, differing
from generator.rules.consequences import weighed
from generator.rules.fingerprint import part_section, version_of

_FORM = "spares print"
_OF_THE_PIECE = re.compile(r'number|revision|mesh sha256|mesh units|no model|material|with ".*" material|setting .*|check .*')
_UNREADABLE = (Change(_FORM, None, None),)


def printed_text(text: str, maker: str) -> str:
    """The lines of a part's canonical text that tell the piece, printed by `maker`."""
    told = _of_the_piece(lines_of(part_section(text)), f"maker {as_written(maker)}")
    return "".join(f"{key}: {value}\n" for key, value in {_FORM: "1", **told}.items())


def differences(printed: str, approved: str) -> tuple[Change, ...]:
    """In what the piece is other than the canonical text of a permit binds, each with what it means (rules/consequences.py).

    A text of a form that cannot be read, or that binds too little (version 1), differs in everything. Of the maker the
    lines count that both tell: version 2 told its process alone.
    """
    own = dict(lines_of(printed))
    makers = _makers(own)
    if version_of(approved) in (None, 1) or not is_well_formed(printed) or own.pop(_FORM, None) != "1" or len(makers) != 1:
        return _UNREADABLE
    [maker] = makers
    before = lines_of(part_section(approved))
    bound = _of_the_piece(before, maker)
    told = {key: value for key, value in own.items() if key in bound or maker not in bound or not key.startswith(f"{maker} ")}
    return weighed(differing(bound, told), before, own)


def _of_the_piece(lines: Mapping[str, str], maker: str) -> dict[str, str]:
    """What of a canonical text tells the piece; `maker` as its line begins."""
    of_maker = {maker, *(f"{maker} {field}" for field in ("kind", "name", "machine model"))}
    return {key: value for key, value in lines.items() if key in of_maker or _OF_THE_PIECE.fullmatch(key)}


def is_printed_text(text: str) -> bool:
    """Whether it is a text of the form that `printed_text` writes."""
    return lines_of(text).get(_FORM) == "1"


def maker_in(printed: str) -> str | None:
    """The maker that a text of what was printed tells; None where it tells none, or several."""
    makers = _makers(lines_of(printed))
    return text_in(makers[0].removeprefix("maker ")) if len(makers) == 1 else None


def _makers(lines: Iterable[str]) -> list[str]:
    return [key for key in lines if re.fullmatch(r'maker "(?:[^"\\]|\\.)*"', key)]

