"""Words that stand where something is still to be written."""

import re

# Common practice, no source: what people type to fill a field that they cannot fill yet.
_NOTHING = re.compile(
    r"[\W_]*(?:t\.?b\.?[acd]\.?|to ?do|to be (?:done|written|decided|confirmed|defined|filled in|added)|unknown|not known|"
    r"do(?:n't| not) know|not (?:yet|looked at|judged|answered|done)(?: yet)?|open|pending|later|x+|\d*)[\W_]*",
    re.IGNORECASE,
)


def says_nothing(text: str) -> bool:
    """Whether it only keeps a place free, such as "-", "TBD" or "to be written"."""
    return _NOTHING.fullmatch(text) is not None
