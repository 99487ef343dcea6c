"""What was lost on this system while a command ran, so that one line at its end can say so, and not one for each part."""

_WORDS: dict[str, None] = {}


def note(words: str) -> None:
    _WORDS[words] = None


def taken() -> tuple[str, ...]:
    """What was noted since the last call."""
    words = tuple(_WORDS)
    _WORDS.clear()
    return words
