"""Are fitting notes as small and flat as notes are? What turns Markdown into pages grows faster than its text."""

import re

from generator.records.problems import Problem, Where, wrong

LARGEST_BYTES = 40_000
LONGEST_LINE = 2_000
MOST_LINES = 1_500
LARGEST_BLOCK = 6_000
MOST_MARKS = 300
MOST_MARKS_IN_ALL = 2_000
MOST_TAGS = 200
# Marks of quotes and lists, and every two spaces, in front of a line.
DEEPEST = 16

# What can begin something in Markdown or HTML; inside one block of lines each may be looked at with each.
_MARKS = re.compile(r"[\[\]()`*_<>&!|~\\:]")
_SIGNS = "[ ] * _ ` < > |"
# Quotes and list marks that follow each other nest, as every two spaces in front do.
_OPENS = re.compile(r"(?:[ \t]*(?:>|[-*+](?=[ \t])|\d{1,9}[.)](?=[ \t])))*[ \t]*")
_ONE = re.compile(r">|[-*+]|\d{1,9}[.)]")


def too_much(text: str) -> Problem | None:
    """The first place that goes beyond the bounds; None for notes that may be read. Takes one look at each letter."""
    size = len(text.encode("utf-8", "replace"))
    if size > LARGEST_BYTES:
        return _on(1, wrong("FIT03", "too long", bytes=size, most=LARGEST_BYTES // 1000))
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    if len(lines) > MOST_LINES:
        return _on(MOST_LINES + 1, wrong("FIT03", "too many lines", most=MOST_LINES))
    letters = marks = marks_in_all = tags = 0
    for number, line in enumerate(lines, start=1):
        if not line.strip():
            letters = marks = 0
        here = len(_MARKS.findall(line))
        letters, marks, marks_in_all, tags = (
            letters + len(line),
            marks + here,
            marks_in_all + here,
            tags + line.count("<"),
        )
        found = _of_line(line) or _of_block(letters, marks) or _of_all(marks_in_all, tags)
        if found:
            return _on(number, found)
    return None


def _on(line: int, found: Problem) -> Problem:
    return found.at(Where("", line))


def _of_line(line: str) -> Problem | None:
    if len(line) > LONGEST_LINE:
        return wrong("FIT03", "long line", letters=len(line))
    opens = _OPENS.match(line)
    front = opens[0].expandtabs(4) if opens else ""
    if len(_ONE.findall(front)) + front.count(" ") // 2 > DEEPEST:
        return wrong("FIT03", "too deep")
    return None


def _of_block(letters: int, marks: int) -> Problem | None:
    if letters > LARGEST_BLOCK:
        return wrong("FIT03", "long paragraph", most=LARGEST_BLOCK)
    if marks > MOST_MARKS:
        return wrong("FIT03", "signs in paragraph", most=MOST_MARKS, signs=_SIGNS)
    return None


def _of_all(marks: int, tags: int) -> Problem | None:
    if marks > MOST_MARKS_IN_ALL:
        return wrong("FIT03", "signs in all", most=MOST_MARKS_IN_ALL, signs=_SIGNS)
    if tags > MOST_TAGS:
        return wrong("FIT03", "tags", most=MOST_TAGS)
    return None
