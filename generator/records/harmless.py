"""Text in a cell of a table, such that no spreadsheet takes it for a formula; and what such a cell says.

After OWASP's advice on CSV injection: a cell that begins with one of = + - @, a tab or an end of a line gets an apostrophe before it. The
same is done behind each sign that parts cells in some country, since a spreadsheet there cuts the line at it. A negative number stays one.
"""

import re

_PARTS = r";,|\t\r\n"
# The wide forms are taken for the narrow ones where people type Japanese.
_BEGINS = "=+\\-@\t\r\n＝＋－＠"
_FORMULA = re.compile(rf"(?:^|(?<=[{_PARTS}]))(?=[\"']*[{_BEGINS}])")
_MADE_HARMLESS = re.compile(rf"(?:^|(?<=[{_PARTS}]))'(?=[\"']*[{_BEGINS}])")
_NUMBER = re.compile(r"-[0-9]+(?:[.,][0-9]+)?")


def harmless(text: str) -> str:
    """The text as it may stand in a cell; `as_said` gives it back."""
    return text if _NUMBER.fullmatch(text) else _FORMULA.sub("'", text)


def as_said(cell: str) -> str:
    """What a cell says whose text was made harmless; any other cell as it is."""
    return _MADE_HARMLESS.sub("", cell) if "'" in cell else cell
