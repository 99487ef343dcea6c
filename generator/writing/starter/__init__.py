"""What does a depot of one's own begin with? Its files in the language asked for, filled with what is known of it."""

import re
from collections.abc import Iterator, Mapping
from importlib.resources import files
from importlib.resources.abc import Traversable

from generator.records.depot import Language
from generator.writing.yaml_text import scalar

__all__ = ["ASKED", "starter_files"]

ASKED = ("railway", "depot", "currency", "contact")
"""What only the depot can say; each has a blank that stands for it."""
_BLANKS = "blanks.yml"
# Names that would act here already, in git or in what packs this program.
_NAMED = {"gitignore": ".gitignore", "gitattributes": ".gitattributes", "keep": ".gitkeep"}


# What a first part needs beside itself: where it fits, who makes it, of what.
_FIRST_NEEDS = ("catalogue/fleets.yml", "catalogue/makers.yml", "catalogue/materials/")
# An example's line, not a comment, which has one space behind its mark.
_EXAMPLE = re.compile(r"^#(?=  |\S)", re.MULTILINE)


def starter_files(language: Language, said: Mapping[str, str | None], *, with_examples: bool = False) -> dict[str, bytes]:
    """The files by their path in the depot's folder. said: of ASKED what is known already.

    with_examples: the example fleet, makers and material stand there as records, to be changed into one's own.
    """
    home = files("generator.writing.starter") / language.value
    lines = (home / _BLANKS).read_text(encoding="utf-8").splitlines()
    filled = {"language": language.value} | dict(line.split(": ", 1) for line in lines)
    filled |= {key: scalar(text) for key, text in said.items() if text is not None}
    texts = {path: _filled(file.read_text(encoding="utf-8"), filled) for path, file in _below(home, "")}
    live = {path for path in texts if with_examples and path.startswith(_FIRST_NEEDS) and path.endswith(".yml")}
    return {path: (_EXAMPLE.sub("", text) if path in live else text).encode() for path, text in texts.items()}


def _below(folder: Traversable, prefix: str) -> Iterator[tuple[str, Traversable]]:
    for each in sorted(folder.iterdir(), key=lambda found: found.name):
        path = f"{prefix}{_NAMED.get(each.name, each.name)}"
        if each.is_dir():
            yield from _below(each, f"{path}/")
        elif path != _BLANKS:
            yield path, each


def _filled(text: str, words: Mapping[str, str]) -> str:
    """Each <<blank>> filled in one go, so that nothing typed is taken for a blank."""
    pieces = text.split("<<")
    filled = [pieces[0]]
    for piece in pieces[1:]:
        key, _, rest = piece.partition(">>")
        filled.append(words[key] + rest)
    return "".join(filled)
