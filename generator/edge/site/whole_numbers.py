"""Numbers of parts, lots and batches stay in one line: "B-" at the end of one and "0161" in the next is no number.

A hyphen that no line breaks at would be copied with the number, so that nobody finds it again; so it is its element that does
not break. It is made of written pages, where text stands at the beginning of an element that is laid out as text.
"""

import re

NUMBER = re.compile(r"\b[A-Z]{1,4}-[0-9]{1,8}(?:-[0-9]{1,4})?\b")
_LINE = re.compile(r'(<(p|span) class="(?:shelf__(?:line|stopped|beside)|board__(?:line|more))">)(.*?)(</\2>)', re.DOTALL)
"""Lines of these classes are text from end to end, whatever stands in between."""
_TEXT = re.compile(r"(<(?:bdi|b|strong|p|h[1-6] [^>]*|h[1-6])>)([^<]*)")


def with_whole_numbers(html: str) -> str:
    """The page with each such number in an element of the class `unbroken`."""
    lines = _LINE.sub(lambda found: found[1] + re.sub(r"(?:^|(?<=>))[^<]+", _whole, found[3]) + found[4], html)
    return _TEXT.sub(lambda found: found[1] + _marked(found[2]), lines)


def _whole(found: re.Match[str]) -> str:
    return _marked(found[0])


def _marked(text: str) -> str:
    return NUMBER.sub(r'<span class="unbroken">\g<0></span>', text)
