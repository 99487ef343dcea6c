"""What is told of a text of a record that says nothing? What follows from it stands in records/free_texts.py."""

from collections.abc import Iterator

from generator.records.base import Record
from generator.records.free_texts import Blank, blanks
from generator.records.placeholders import is_only_year
from generator.records.problems import Path, Problem, doubt, wrong


def blank_texts(record: Record, path: Path = ()) -> Iterator[Problem]:
    """Of the record and of all that it holds; path: where it stands in its file."""
    for each in blanks(record, path):
        if each.blank is Blank.STANDS:
            yield doubt("BLANK01", "stands", path=each.path, given=each.given)
        elif each.blank is Blank.UNSAID:
            yield wrong("BLANK01", "unsaid", path=each.path, given=each.given)
        else:
            yield wrong("BLANK01", "year" if is_only_year(each.given) else "void", path=each.path, given=each.given)
