"""Does a request's own words say that nothing stops? Only how they begin is read; whether something stops indeed a program cannot judge.

Common practice and from memory, no source: what people write to say that it could wait. A word for nothing alone is not enough, since
"nothing works", "keine Tür schließt" and "intet tog kører" are stops; so is "nothing stops until the second one breaks".
"""

import re

from generator.records.placeholders import names_nothing

# What follows a word for nothing, with at most two words between them.
_STOPPING = {
    "en": (r"nothing", r"(?:stops?|stopped|halts?|stands?(?: still)?|breaks? down|fails?|happens?|comes? to a stop)"),
    "de": (r"(?:es )?(?:steht |fällt |faellt |bleibt )?nichts", r"(?:steht|stillsteht|still|aus|liegen|stehen|hält an|haelt an|fällt aus|faellt aus|passiert|geschieht)"),
    "da": (r"(?:der )?(?:står |stopper |sker )?(?:intet|ingenting)", r"(?:står|stille|stopper|standser|går i stå|sker)"),
}
_NO_STOP = (
    r"no (?:stop|stops|stoppage|standstill|downtime|outage)", r"(?:kein|keinen) (?:stillstand|ausfall|stopp)", r"(?:intet|ingen) (?:stop|driftsstop|stilstand|standsning)",
    r"it stops nothing", r"der (?:stopper|sker) (?:intet|ingenting)",
)  # fmt: skip
_WORDS = "|".join((*(rf"{nothing}(?: \w+){{0,2}}? {stops}" for nothing, stops in _STOPPING.values()), *_NO_STOP))
_BEGINS = re.compile(rf"\W*(?:{_WORDS})\b(?P<rest>.*)", re.IGNORECASE | re.DOTALL)
# What takes it back.
_UNLESS = re.compile(r"\W*(?:\w+\W+)?(?:until|unless|except|as long as|while|bis|außer|ausser|solange|indtil|medmindre|undtagen|så længe|saa laenge)\b", re.IGNORECASE)
_FIRST_WORD = re.compile(r"(?P<word>[^,;:–—(]{2,30}?)\s*(?:[,;:–—(]|\s-\s)")


def says_nothing_stops(text: str) -> bool:
    """Whether it is left open, or begins with that nothing stops."""
    if names_nothing(text):
        return True
    first, found = _FIRST_WORD.match(text), _BEGINS.match(" ".join(text.split()))
    return bool(first and names_nothing(first["word"])) or bool(found and not _UNLESS.match(found["rest"]))
