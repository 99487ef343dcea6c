"""What does the table of the fire standard say, in a language? Where a depot's own table says otherwise, as it says."""

from functools import cache

from generator.pages.wording import Wording, wording
from generator.records.depot import Language

_KEPT = ("fire_sets.", "fire_tests.quantity.", "fire_products.", "fire_told.")


def standard_words(said: str, w: Wording) -> str:
    """What a test measures, a set or product is, where a figure stands or how it came here; `said`: as the table has it."""
    key = _keys().get(said)
    return str(w.flat[key]) if key else said


@cache
def _keys() -> dict[str, str]:
    """Under which key the words of each sentence stand that comes with the program."""
    return {str(text): key for key, text in wording(Language.ENGLISH).flat.items() if key.startswith(_KEPT)}
