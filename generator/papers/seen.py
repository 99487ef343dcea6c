"""What of a text can be seen on paper? What cannot is shown as a sign of its own, so that no text reads other than it is."""

import re

# Control characters but the ends of lines and tabs; marks that turn the reading direction; halves of signs, which no file can hold.
_UNSEEN = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u200e\u200f\u202a-\u202e\u2066-\u2069\ud800-\udfff\ufeff]")
_SHOWN = "\ufffd"


def as_seen(text: str) -> str:
    return _UNSEEN.sub(_SHOWN, text)
