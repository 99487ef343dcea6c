"""How are the tests and sets of the fire standard called in a language? Where a depot's own table says otherwise, as it says."""

from generator.pages.wording import Wording, wording
from generator.records.depot import Language


def quantity_words(test: str, said: str, w: Wording) -> str:
    """What a test measures; `said`: as the table has it."""
    return _words(f"fire_tests.quantity.{test}", said, w)


def set_words(number: str, said: str, w: Wording) -> str:
    """What a requirement set is for; `said`: as the table has it."""
    return _words(f"fire_sets.{number}", said, w)


def _words(key: str, said: str, w: Wording) -> str:
    return str(w.flat[key]) if wording(Language.ENGLISH).flat.get(key) == said else said
