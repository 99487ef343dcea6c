"""In which order do names stand in a language? Numbers inside them count as numbers."""

import re
import unicodedata

_DIGITS = re.compile(r"(\d+)")
# DIN 5007-1: ä is sorted as a, ß as ss (casefold makes that of it); other accents count as nothing.
# DS 377: æ, ø, å stand behind z, "aa" is å; ä and ö are sorted as æ and ø, ü as y. Both from memory, as CLDR has them.
_BEHIND_Z = {"da": {"aa": "{c", "å": "{c", "æ": "{a", "ä": "{a", "ø": "{b", "ö": "{b", "ü": "y"}}

Key = tuple[tuple[bool, int, str], ...]


def sort_key(text: str, language: str) -> Key:
    """By what a name is sorted in a language: "Teil 9" before "Teil 10", "Öse" beside "Ose"."""
    plain = unicodedata.normalize("NFC", text.casefold())
    for letter, behind in _BEHIND_Z.get(language, {}).items():
        plain = plain.replace(letter, behind)
    apart = unicodedata.normalize("NFKD", plain)
    bare = "".join(sign for sign in apart if not unicodedata.combining(sign))
    return tuple((not each.isdecimal(), int(each) if each.isdecimal() else 0, each) for each in _DIGITS.split(bare) if each)
