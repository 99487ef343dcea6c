"""Are fitting notes as small and flat as notes are? What turns Markdown into pages grows faster than its text."""

import re
from dataclasses import dataclass

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
# Quotes and list marks that follow each other nest, as every two spaces in front do.
_OPENS = re.compile(r"(?:[ \t]*(?:>|[-*+](?=[ \t])|\d{1,9}[.)](?=[ \t])))*[ \t]*")
_ONE = re.compile(r">|[-*+]|\d{1,9}[.)]")


@dataclass(frozen=True, slots=True)
class TooMuch:
    """What is beyond what notes may be: the line, counted from 1, and what to do."""

    line: int
    says: str
    fix: str


def too_much(text: str) -> TooMuch | None:
    """The first place that goes beyond the bounds; None for notes that may be read. Takes one look at each letter."""
    size = len(text.encode("utf-8", "replace"))
    if size > LARGEST_BYTES:
        return TooMuch(1, f"is {size:,} bytes long", f"keep fitting notes below {LARGEST_BYTES // 1000} kB")
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    if len(lines) > MOST_LINES:
        says = f"has more than {MOST_LINES:,} lines"
        return TooMuch(MOST_LINES + 1, says, "keep what a fitter needs; put the rest into documents/")
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
            return TooMuch(number, *found)
    return None


def _of_line(line: str) -> tuple[str, str] | None:
    if len(line) > LONGEST_LINE:
        return f"has a line of {len(line):,} letters", "break the line; one step a line reads best"
    opens = _OPENS.match(line)
    front = opens[0].expandtabs(4) if opens else ""
    if len(_ONE.findall(front)) + front.count(" ") // 2 > DEEPEST:
        return "is nested too deeply to read", "write it flatter: steps, and at most steps below them"
    return None


def _of_block(letters: int, marks: int) -> tuple[str, str] | None:
    if letters > LARGEST_BLOCK:
        says = f"has more than {LARGEST_BLOCK:,} letters without an empty line"
        return says, "put an empty line between paragraphs"
    if marks > MOST_MARKS:
        says = f"has more than {MOST_MARKS} signs such as [ ] * _ ` < > | in one paragraph"
        return says, "write it as plain sentences, or put an empty line between its pieces"
    return None


def _of_all(marks: int, tags: int) -> tuple[str, str] | None:
    if marks > MOST_MARKS_IN_ALL:
        says = f"has more than {MOST_MARKS_IN_ALL:,} signs such as [ ] * _ ` < > |"
        return says, "write it as plain sentences; put large tables into documents/"
    if tags > MOST_TAGS:
        return f"has more than {MOST_TAGS} signs <", "write Markdown instead of HTML, and 'below' for <"
    return None
