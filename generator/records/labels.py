"""What does a label say, typed or scanned: the part's number, its revision and the batch? And does it agree with a part?

The browser's labels/ says it in JavaScript; tests/rules/labels.json holds both. Nothing that only looks like a known batch is taken
for it: it is told as what may have been meant.
"""

import re
import unicodedata
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

# Signs that stand between letters and digits. A scanner that takes the host's keyboard for an American one writes "ß" (German)
# or "+" (Danish) for a hyphen (from memory).
_BETWEEN = "[-+.:/'~\u00b7]"
_BATCH = re.compile(rf"([A-Z]{{1,4}}) ?{_BETWEEN}? ?([0-9]{{1,8}})")
_BARE = re.compile(rf"([A-Z]*) ?{_BETWEEN}? ?0*([0-9]{{1,8}})")
_DASHES = re.compile("[\u2010-\u2015\u2043\u2212\u00ad\ufe63_]")
# A byte order mark is a blank to a browser, and none to Python; the other way round, the four signs that part files.
_BLANKS = re.compile("[ \t\n\v\f\r\u00a0\u1680\u2000-\u200a\u2028\u2029\u202f\u205f\u3000\ufeff]+")
_LOOKS = str.maketrans("OILSBZ", "011582")
_WORDS = re.compile(r"\b(?:REV|BATCH|LOS|SERIE)\b\.?", re.ASCII)
_SIGNS = re.compile(r"[-+.·,;:|/()'~]+")
_REVISION = r"(?:REV(?:ISION)?\.? ?)?([A-Z0-9]{1,4})"
_NAMED = r"([A-Z]{1,4}) ?([0-9]{1,8})"
_LAST = re.compile(rf"{_REVISION} {_NAMED}")
_FIRST = re.compile(rf"{_NAMED}(?: {_REVISION})?")
_WHOLE_BATCH = re.compile("[A-Z]{1,4}-?[0-9]{1,8}")
_ADDRESS = re.compile(r"[?#&]batch=([^&#\s]+)", re.IGNORECASE)
_PAGE = re.compile(r"/parts/([^/?#\s]+?)(?:\.html)?/?[?#]", re.IGNORECASE)
_MOST_REVISION = 4
_LONGEST = 200
_LONGEST_ALIKE = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelOf:
    """The part that a label is held against."""

    number: str
    batches: tuple[tuple[str, str], ...]
    """Each with its revision."""
    numbers: tuple[str, ...] = ()
    """Of the other parts that are known."""


@dataclass(frozen=True, slots=True)
class LabelSaid:
    """What a label says; empty for what it does not."""

    number: str
    revision: str
    batch: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BatchRead:
    """What was typed or scanned, held against a part."""

    batch: str
    """Empty where none can be read."""
    meant: tuple[str, ...]
    """Known ones that look alike."""
    wrong: Literal["", "label_number", "label_revision", "label_two"]
    """Whether the label is of another part or revision, or names more than one piece."""
    said: str
    """Which number, revision or batches the label says."""
    revision: str
    """That of the batch, where it is known."""


def _tidied(text: str) -> str:
    """In capital letters, whatever kind of dash or blank was typed or scanned."""
    plain = unicodedata.normalize("NFKC", text).replace("\u00df", "-").upper()
    return _BLANKS.sub(" ", _DASHES.sub("-", plain)).strip(" ")


def squashed(text: str) -> str:
    """The letters and digits alone."""
    return re.sub("[^A-Z0-9]", "", _tidied(text))


def as_batch(text: str) -> str:
    """A batch as a label writes it, of what somebody typed or scanned: "b 0147" is B-0147. Empty where it is no number of a batch."""
    typed = _BATCH.fullmatch(_tidied(text))
    return f"{typed[1]}-{typed[2]}" if typed else ""


def batch_among(text: str, names: Iterable[str]) -> str | None:
    """The one of these that is meant: as it is written, or, where one alone has that number, with other zeros or without its letters."""
    known, written = tuple(names), as_batch(text)
    if written in known:
        return written
    bare = _BARE.fullmatch(_tidied(text))
    if not bare:
        return None
    found = [name for name in known if _has_number(name, int(bare[2]), bare[1])]
    return found[0] if len(found) == 1 else None


def _has_number(name: str, number: int, letters: str) -> bool:
    own, _, digits = name.partition("-")
    return digits.isascii() and digits.isdecimal() and int(digits) == number and letters in {"", own}


def _looks(text: str) -> str:
    return squashed(text).translate(_LOOKS)


def _bared(name: str) -> str:
    return re.sub("-0+", "-", name, count=1)


def look_alike(text: str, names: Iterable[str]) -> tuple[str, ...]:
    """Of some names those that look like a text in which a letter stands for a digit; none where it is one of them, as it is written."""
    known, typed = tuple(dict.fromkeys(names)), _looks(text)
    if not typed or len(typed) > _LONGEST_ALIKE or _tidied(text) in known:
        return ()
    return tuple(name for name in known if typed in {_looks(name), _looks(_bared(name))})


def labels_alike(text: str, number: str, batches: Iterable[tuple[str, str]]) -> tuple[str, ...]:
    """The batches whose whole label, with the number of the part and its revision, looks like a text."""
    typed = _looks(text)
    if not typed or len(typed) > _LONGEST_ALIKE:
        return ()
    return tuple(name for name, revision in batches if typed in _labels(number, name, revision))


def _labels(number: str, name: str, revision: str) -> set[str]:
    ways = ((number, revision, each) for each in (name, _bared(name)))
    return {_looks(label) for n, r, b in ways for label in (n + r + b, n + b, b + n + r, b + n, r + b)}


def _apart(text: str) -> str:
    """Apart from the signs between the words."""
    return _BLANKS.sub(" ", _SIGNS.sub(" ", _WORDS.sub(" ", _tidied(text)))).strip(" ")


def _in_address(text: str) -> LabelSaid | None:
    """Of the address that a label's code holds."""
    batch = _ADDRESS.search(text)
    if not batch:
        return None
    page = _PAGE.search(text)
    try:
        number = _decoded(page[1]).upper() if page else ""
        return LabelSaid(number, "", as_batch(_decoded(batch[1])))
    except ValueError:
        return None  # cut off within a sign


def _two_in_address(text: str) -> tuple[str, ...]:
    """The batches that an address asks for, where these are more than one."""
    asked = [_decoded_or_not(each[1]) for each in _ADDRESS.finditer(text)]
    found = dict.fromkeys(told for batch in asked if (told := as_batch(batch) or _tidied(batch)))
    return tuple(found) if len(found) > 1 else ()


def _decoded_or_not(text: str) -> str:
    try:
        return _decoded(text)
    except ValueError:
        return text  # cut off within a sign


def _decoded(text: str) -> str:
    """As a browser reads a piece of an address. Raises ValueError where it is cut off within a sign."""
    if re.search("%(?![0-9A-Fa-f]{2})", text):
        raise ValueError(text)
    return re.sub(b"%(..)", lambda found: bytes.fromhex(found[1].decode("ascii")), text.encode("utf-8")).decode("utf-8")


def _joined(words: Sequence[str]) -> str:
    """Words in one, with a hyphen left where digits would run into digits: "TV-01 05" is not TV-0105."""
    return re.sub("([0-9]) (?=[0-9])", r"\1-", " ".join(words)).replace(" ", "")


def _once(text: str) -> str:
    """What was scanned twice is one label."""
    words = [] if len(text) > _LONGEST else _apart(text).split(" ")
    half = words[: len(words) // 2]
    return " ".join(half) if half and half + half == words else text


def _without(words: Sequence[str], number: str) -> list[str] | None:
    """The words without those that are the number of a part, however they are cut; None where they do not say it."""
    sign = _joined(_apart(number).split(" "))
    for start in range(len(words) if sign else 0):
        for end in range(start + 1, len(words) + 1):
            said = _joined(words[start:end])
            if said == sign or (end == start + 1 and said == squashed(number)):
                return [*words[:start], *words[end:]]
            if len(said) >= len(sign):
                break
    return None


def _besides(rest: str, number: str) -> LabelSaid | None:
    """What stands beside the number: revision and batch in either order, or the batch alone."""
    last = _LAST.fullmatch(rest)
    if last:
        return LabelSaid(number, last[1], f"{last[2]}-{last[3]}")
    first = _FIRST.fullmatch(rest)
    return LabelSaid(number, first[3] or "", f"{first[1]}-{first[2]}") if first else None


def _close_up(rest: str, number: str, names: Sequence[str]) -> LabelSaid | None:
    """Revision and batch without a blank: where one alone of the ways to cut them is a known batch, or has the letters of those that are."""
    told = re.sub("^REV(?:ISION)?(?=[A-Z0-9]{2})", "", rest)
    cuts = [LabelSaid(number, told[:at], batch) for at in range(_MOST_REVISION + 1) if (batch := as_batch(told[at:]))]
    letters = {name.partition("-")[0] for name in names}
    known = [each for each in cuts if batch_among(each.batch, names)]
    likely = known or [each for each in cuts if each.batch.partition("-")[0] in letters]
    return likely[0] if len(likely) == 1 else None


def _in_one(said: str, number: str, names: Sequence[str]) -> LabelSaid | None:
    """A label without any blank: the number first, or the batch."""
    sign = squashed(number)
    before, found, rest = said.partition(sign) if sign else (said, "", "")
    if not found:
        return None
    if not before:
        return _close_up(rest, number, names)
    batch = batch_among(before, names)
    revision = re.sub("^REV(?:ISION)?(?=[A-Z0-9])", "", rest)
    return LabelSaid(number, revision, batch) if batch and len(revision) <= _MOST_REVISION else None


def _by_pieces(text: str) -> LabelSaid | None:
    """By the pieces of a text whose number is none that is known: the batch stands first or last; None where a piece is neither number nor revision."""
    pieces = [piece for piece in _WORDS.sub(" ", re.sub(r" - |[·,;|/()]", " ", _tidied(text))).split(" ") if piece]
    ends = [len(pieces) - 1, 0] if len(pieces) > 1 else []
    at = next((each for each in ends if _WHOLE_BATCH.fullmatch(pieces[each])), None)
    if at is None:
        return None
    others = [piece for nth, piece in enumerate(pieces) if nth != at]
    numbers = [piece for piece in others if len(piece) > _MOST_REVISION or re.search("[.-]", piece)]
    revisions = [piece for piece in others if piece not in numbers and re.fullmatch("[A-Z0-9]{1,4}", piece)]
    if len(numbers) + len(revisions) < len(others):
        return None  # "≠ B-0150", "før B-0150"
    number = next(iter(numbers), "")
    revision = next(iter(revisions), "")
    return LabelSaid(number, revision, as_batch(pieces[at]))


def label_in(text: str, numbers: Iterable[str], names: Sequence[str]) -> LabelSaid | None:
    """What a label says, with the parts and batches that are known; None where it tells no batch. A batch alone is a label as well."""
    address = _in_address(text)
    if address or len(text) > _LONGEST:
        return address if address and address.batch else None
    every, said = tuple(numbers), squashed(text)
    batch = batch_among(text, names) or as_batch(text) or as_batch(_apart(text))
    if batch and (batch in names or not any(squashed(number) == said for number in every)):
        return LabelSaid("", "", batch)
    words = _apart(text).split(" ")
    found = sorted((number for number in every if squashed(number) in said), key=len, reverse=True)
    for number in found:
        told = _of_number(text, words, number, names)
        if told:
            return told
    return None if any(_without(words, number) is not None for number in found) else _by_pieces(text)


def _of_number(text: str, words: Sequence[str], number: str, names: Sequence[str]) -> LabelSaid | None:
    """What a text says beside the number of a part."""
    rest = _without(words, number)
    if rest is None:
        return _in_one(words[0], number, names) if len(words) == 1 else None
    told = _besides(" ".join(rest), number)
    if told and (batch_among(told.batch, names) or len(rest) > 1 or told.batch in _tidied(text)):
        return told
    return (_close_up(rest[0], number, names) if len(rest) == 1 else None) or told


def _pieces_in(text: str, of: LabelOf, names: Sequence[str]) -> tuple[str, ...]:
    """The batches that a text names, where it names more than one piece."""
    if asked := _two_in_address(text):
        return tuple(dict.fromkeys(batch_among(name, names) or name for name in asked))
    if len(text) > _LONGEST or _in_address(text):
        return ()
    words: Sequence[str] = _apart(text).split(" ")
    for number in sorted((of.number, *of.numbers), key=len, reverse=True):
        while (rest := _without(words, number)) is not None:
            words = rest
    found = [(each[1], f"{each[1]}-{each[2]}") for each in re.finditer(rf"{_NAMED}(?![0-9])", " ".join(words))]
    letters = {name.partition("-")[0] for name in names} or {each for each, _ in found[:1]}
    own = _tidied(of.number).partition("-")[0]
    told = dict.fromkeys(
        batch_among(name, names) or name for start, name in found if name in names or (start in letters and start != own)
    )
    return tuple(told) if len(told) > 1 else ()


def batch_read(typed: str, of: LabelOf) -> BatchRead:
    """The batch that somebody typed or scanned in answer to which piece of this part it is."""
    text = _once(typed)
    names = [name for name, _ in of.batches]
    pieces = _pieces_in(text, of, names)
    if pieces:
        known = tuple(name for name in pieces if name in names)
        return BatchRead(batch="", meant=known, wrong="label_two", said=", ".join(pieces), revision="")
    label = label_in(text, (of.number, *of.numbers), names)
    is_alike = label is not None and bool(label.number) and _looks(label.number) == _looks(of.number)
    is_nearly = label is not None and is_alike and squashed(label.number) != squashed(of.number)
    is_known = label is not None and not is_nearly and batch_among(label.batch, names) is not None
    meant = () if is_known else _meant_by(text, of, names)
    is_other = label is not None and bool(label.number) and not is_alike
    if label is None or is_nearly or (meant and not is_other):
        return BatchRead(batch="", meant=meant, wrong="", said="", revision="")
    return _held(label, meant, of, is_other=is_other)


def _held(label: LabelSaid, meant: tuple[str, ...], of: LabelOf, *, is_other: bool) -> BatchRead:
    revisions = dict(of.batches)
    batch = batch_among(label.batch, revisions) or label.batch
    own = revisions.get(batch, "")
    is_other_revision = bool(label.revision) and batch in revisions and own != label.revision
    return BatchRead(
        batch=batch,
        meant=meant,
        wrong="label_number" if is_other else "label_revision" if is_other_revision else "",
        said=label.number if is_other else label.revision,
        revision=own,
    )


def _meant_by(text: str, of: LabelOf, names: Sequence[str]) -> tuple[str, ...]:
    last = (_BLANKS.split(text.strip()) or [""])[-1]
    return tuple(dict.fromkeys((*look_alike(text, names), *labels_alike(text, of.number, of.batches), *look_alike(last, names))))
