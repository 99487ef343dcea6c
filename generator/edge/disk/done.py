"""What has this command written for good? Whatever goes wrong afterwards, its last words must tell."""

_WRITTEN: list[str] = []
_SHOWN = 4


def begin() -> None:
    """A command begins; nothing is written yet."""
    _WRITTEN.clear()


def wrote(what: str) -> None:
    """Note a whole clause, such as 'site is in place', in one unbroken step with what it tells."""
    _WRITTEN.append(what)


def so_far() -> str:
    """Everything that is written, in one line; empty where nothing is."""
    more = len(_WRITTEN) - _SHOWN
    return "; ".join([*_WRITTEN[:_SHOWN], *([f"and {more} more"] if more > 0 else [])])
