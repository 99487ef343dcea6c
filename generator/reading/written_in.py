"""In which letters a text was saved: by its mark, as UTF-8 where it is that, else as Windows wrote it.

What could be either of two is refused, since a wrong letter in a name is found by nobody.
"""

import re

from generator.records.problems import Problem, Where, wrong

_MARKS = ((b"\xef\xbb\xbf", "utf-8"), (b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16"))


class LettersError(ValueError):
    """The text cannot be read; it carries the problem, with its line where there is one and without its file."""

    def __init__(self, problem: Problem) -> None:
        super().__init__(problem)
        self.problem = problem


def decoded(content: bytes, encoding: str | None = None) -> tuple[str, str]:
    """The text and in which letters it was written, as `encoding` says, else found. Raises LettersError."""
    marked = next((name for mark, name in _MARKS if content.startswith(mark)), None)
    if encoding and marked and encoding != marked:
        raise LettersError(wrong("LIST04", "other mark", said=encoding, marked=marked))
    wanted = marked or encoding
    try:
        text, taken = _decoded(content, wanted)
    except UnicodeDecodeError as error:
        line = content[: error.start].count(b"\n") + 1
        byte = f"{content[error.start]:#04x}"
        raise LettersError(wrong("LIST04", "other letters", where=Where("", line), encoding=wanted or "cp1252", byte=byte)) from None
    if "\x00" in text:
        raise LettersError(wrong("LIST04", "no text"))
    return text, taken


def _decoded(content: bytes, wanted: str | None) -> tuple[str, str]:
    """Raises UnicodeDecodeError, LettersError."""
    if wanted:
        return content.decode("utf-8-sig" if wanted == "utf-8" else wanted), wanted
    if wide := _wide(content):
        return content.decode(wide), wide
    try:
        return content.decode("utf-8"), "utf-8"
    except UnicodeDecodeError:
        return _of_windows(content), "cp1252"


def _wide(content: bytes) -> str | None:
    """UTF-16 without its mark: every second byte of a European text is nought."""
    sample = content[:400]
    high, low = sample[::2].count(0), sample[1::2].count(0)
    return "utf-16-be" if high > len(sample) / 4 > low else "utf-16-le" if low > len(sample) / 4 > high else None


# Letters of other code pages, read as Windows-1252, are signs that no word has inside: D›rgreb, T„r.
_NO_WORD = re.compile("[A-Za-zÀ-ÿ][†‡‰‹›ˆ˜‚“”„‘ƒ][A-Za-zÀ-ÿ]")


def _of_windows(content: bytes) -> str:
    """A text that is not UTF-8: of Windows-1252 alone, and with words in it. Raises UnicodeDecodeError, LettersError."""
    lines = [(number, line) for number, line in enumerate(content.split(b"\n"), start=1) if not line.isascii()]
    utf8 = [number for number, line in lines if _is_utf8(line)]
    if utf8:
        other = next(number for number, line in lines if number not in utf8)
        raise LettersError(wrong("LIST04", "mixed letters", utf8=utf8[0], other=other))
    text = content.decode("cp1252")
    strange = _NO_WORD.search(text)
    if strange:
        at = text[: strange.start()].count("\n") + 1
        words = re.split(r"[\s;,|]", text[max(0, strange.start() - 30) : strange.end() + 30])
        sample = next(word for word in words if _NO_WORD.search(word))
        raise LettersError(wrong("LIST04", "no word", where=Where("", at), sample=sample))
    return text


def _is_utf8(line: bytes) -> bool:
    try:
        line.decode("utf-8")
    except UnicodeDecodeError:
        return False
    return True
