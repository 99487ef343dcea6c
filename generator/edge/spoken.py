"""In which language does a command speak? In that of the depot that it is given to, which is asked when the first word is needed."""

import re
from pathlib import Path

from generator.edge.around import catalogue_around
from generator.pages.wording import Wording, wording
from generator.records.depot import Language

# A depot.yml that cannot be read as a whole still says its language.
_SAYS = re.compile(rb"""^language:[ \t]*["']?([a-z]{2})\b""", re.MULTILINE)
_MOST_BYTES = 2_000_000


class _Heard:
    """What the command that runs has said so far."""

    folder: Path | None = None
    language: Language | None = None


def listen(*, catalogue: Path | None = None, language: Language | None = None) -> None:
    """From now on it is this catalogue's language, or this one; neither: the one around where one stands."""
    _Heard.folder, _Heard.language = catalogue, language


def words() -> Wording:
    if _Heard.language is None:
        _Heard.language = _language_of(_Heard.folder or catalogue_around())
    return wording(_Heard.language)


def _language_of(folder: Path) -> Language:
    try:
        with (folder / "depot.yml").open("rb") as stream:
            found = _SAYS.search(stream.read(_MOST_BYTES))
    except OSError:
        found = None
    said = found[1].decode() if found else ""
    return Language(said) if said in set(Language) else Language.ENGLISH
