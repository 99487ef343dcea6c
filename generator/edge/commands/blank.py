"""An option that says nothing is refused before anything is written, also where the same text in a record is only warned of."""

import argparse
from collections.abc import Callable, Mapping
from typing import Final

from generator.edge.refusals import Ending, refused
from generator.records.placeholders import gives_no_reason, identifies_nothing, is_only_year, names_nothing

_ASKED: Final[Mapping[str, Callable[[str], bool]]] = {
    "why": gives_no_reason, "reason": gives_no_reason, "accepts": gives_no_reason, "question": names_nothing, "gauge": identifies_nothing, "supplier_lot": identifies_nothing,
    "document_lot": identifies_nothing, "reference": identifies_nothing, "issued_by": names_nothing,
}  # fmt: skip
_LONGEST = 200


def refuse_empty(options: argparse.Namespace, *keys: str) -> None:
    """Raises Refusal for the first of these options that names nothing at all."""
    for key in keys:
        given = getattr(options, key, None)
        if given is not None and not given.strip():
            raise refused("option_empty", Ending.MISUSE, option=f"--{key.replace('_', '-')}")


def refuse_blank(options: argparse.Namespace) -> None:
    """Raises Refusal for the first one; records/free_texts.py says what each of them is for."""
    for key, says_nothing in _ASKED.items():
        given = getattr(options, key, None)
        # One that is empty or too long is refused for that, by who takes it.
        if isinstance(given, str) and given.strip() and len(given) <= _LONGEST and says_nothing(given):
            is_year = says_nothing is identifies_nothing and is_only_year(given)
            raise refused("text_year" if is_year else "text_nothing", Ending.MISUSE, option=f"--{key.replace('_', '-')}", given=given)
