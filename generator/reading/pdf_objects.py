"""What does a dictionary of a PDF say, read where it stands (ISO 32000-1, 7.3)?

Names and strings come as what they mean, however they are written; comments say nothing (7.2.3).
"""

import re
from typing import Final, NamedTuple

SPACE: Final = rb"[\x00\t\n\f\r ]"
_WORD: Final = rb"[^\x00\t\n\f\r ()<>\[\]{}/%]"
SKIPPED: Final = rb"(?:" + SPACE + rb"|%[^\r\n]*+)*+"
"""White space and comments, if any."""
GAP: Final = rb"(?:" + SPACE + rb"|%[^\r\n]{0,80}+(?=[\r\n])){1,64}+"
"""At least one of them, and no more than a search can afford to look at again and again."""
_BLANKS = SPACE + rb"{1,64}+"
_TOKEN = re.compile(SKIPPED + rb"(?:(<<|>>|\[|\])|/(" + _WORD + rb"*+)|(\()|<([0-9A-Fa-f\x00\t\n\f\r ]*+)>|(" + _WORD + rb"++))")
_IN_STRING = re.compile(rb"\\(?:([0-7]{1,3})|(\r\n?|\n)|(.))|([()])|(\r\n?)|([^\\()\r]++)", re.DOTALL)
_MEANT = {b"n": b"\n", b"r": b"\r", b"t": b"\t", b"b": b"\b", b"f": b"\f"}
_CODED = re.compile(rb"#([0-9A-Fa-f]{2})")
_NUMBER = re.compile(rb"[+-]?[0-9]{1,20}")
_LONGEST: Final = 100_000  # a table's dictionary has a few hundred
_PLAIN: Final = {b"true": True, b"false": False}


class Ref(NamedTuple):
    """An object by its number and generation (7.3.10)."""

    number: int
    generation: int


class Name(str):
    """What follows a slash, as Latin-1."""

    __slots__ = ()


Value = bool | int | bytes | Name | Ref | list["Value"] | dict[str, "Value"] | None
"""A real number is None as null is: nobody here asks for one."""


def dictionary_at(content: bytes, at: int) -> dict[str, Value] | None:
    """The one that begins there, behind white space and comments; None where none does, or where it has no end soon."""
    around: list[tuple[bytes, list[Value]]] = []
    most = min(len(content), at + _LONGEST)
    while token := _TOKEN.match(content, at, most):
        at = token.end()
        if token[1] in (b"<<", b"["):
            around.append((token[1], []))
            continue
        if not around:
            return None
        if token[1]:
            opened, items = around.pop()
            if (opened, token[1]) not in ((b"<<", b">>"), (b"[", b"]")):
                return None
            value: Value = _paired(items) if opened == b"<<" else items
            if not around:
                return value if isinstance(value, dict) else None
            around[-1][1].append(value)
        elif token[3]:
            text, at = _text(content, at, most)
            around[-1][1].append(text)
        else:
            _take(around[-1][1], token)
    return None


def places_of(content: bytes, named: Ref) -> list[int]:
    """Behind the head of each object of that number: an update may have brought another, and which of them counts the table says."""
    head = re.compile(rb"%d" % named.number + _BLANKS + rb"%d" % named.generation + _BLANKS + rb"obj")
    return [found.end() for found in head.finditer(content) if not content[found.start() - 1 : found.start()].isdigit()]


def _paired(items: list[Value]) -> dict[str, Value]:
    """Of a key that comes twice the first that says something; what is no name where one has to stand is passed over."""
    found: dict[str, Value] = {}
    left = iter(items)
    for key in left:
        if isinstance(key, Name) and found.get(key) is None:
            found[str(key)] = next(left, None)
        elif isinstance(key, Name):
            next(left, None)
    return found


def _take(items: list[Value], token: re.Match[bytes]) -> None:
    if token[2] is not None:
        items.append(Name(_CODED.sub(lambda code: bytes.fromhex(code[1].decode()), token[2]).decode("latin-1")))
    elif token[4] is not None:
        digits = re.sub(SPACE, b"", token[4]).decode()
        items.append(bytes.fromhex(digits + "0" * (len(digits) % 2)))
    elif token[5] == b"R" and len(items) > 1 and type(items[-1]) is type(items[-2]) is int:
        generation, number = items.pop(), items.pop()
        items.append(Ref(int(str(number)), int(str(generation))))
    else:
        items.append(int(token[5]) if _NUMBER.fullmatch(token[5]) else _PLAIN.get(token[5]))


def _text(content: bytes, at: int, most: int) -> tuple[bytes, int]:
    """A string in brackets from behind its first one, and where it ends (7.3.4.2)."""
    found, depth = [], 1
    while depth and (piece := _IN_STRING.match(content, at, most)):
        at = piece.end()
        depth += {b"(": 1, b")": -1}.get(piece[4] or b"", 0)
        if piece[1]:
            found.append(bytes([int(piece[1], 8) & 255]))
        elif piece[3]:
            found.append(_MEANT.get(piece[3], piece[3]))
        elif depth and not piece[2]:
            found.append(b"\n" if piece[5] else piece[0])
    return b"".join(found), at
