"""Where does everything lie in the site, and how does one page link to it?"""

import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from urllib.parse import quote

from generator.records.catalogue import KeptFile, PartFolder
from generator.records.file_names import is_device

_STRANGE = re.compile(r"[^A-Za-z0-9.-]+")
# A number has 24 letters at most; that of a folder whose record cannot be read may be as long as a name.
_LONGEST = 60
_TAKEN_BY_MKDOCS = ("index", "readme")


@dataclass(frozen=True, slots=True)
class Addresses:
    """The page of every part folder and, by number, the page that a link to the number opens."""

    by_folder: dict[str, str]
    by_number: dict[str, str]
    by_material: dict[str, str] = field(default_factory=dict)

    def material(self, name: str) -> str | None:
        """Path of the page of a material, by its id; None where there is none."""
        stem = self.by_material.get(name)
        return f"materials/{stem}.md" if stem else None

    def page(self, number: str) -> str | None:
        """Path of the page of a part, such as parts/TV-0417.md; None where there is no such part."""
        stem = self.by_number.get(number)
        return f"parts/{stem}.md" if stem else None


def addresses(folders: Iterable[PartFolder], materials: Iterable[str] = ()) -> Addresses:
    """One page for each folder, also where two share a number or a number could not be read, and for each material by its id."""
    by_folder: dict[str, str] = {}
    by_number: dict[str, str] = {}
    taken = set(_TAKEN_BY_MKDOCS)
    for folder in folders:
        stem = _stem(folder.number, taken)
        by_folder[folder.folder] = stem
        by_number.setdefault(folder.number, stem)
    taken = set(_TAKEN_BY_MKDOCS)
    return Addresses(by_folder, by_number, {name: _stem(name, taken) for name in sorted(materials)})


def stems(names: Iterable[str]) -> dict[str, str]:
    """A stem for the page of each name, none taken twice."""
    taken = set(_TAKEN_BY_MKDOCS)
    return {name: _stem(name, taken) for name in names}


def _stem(name: str, taken: set[str]) -> str:
    """A name that every file system keeps and nobody has taken yet; it is taken then."""
    plain = _STRANGE.sub("_", name).strip(".")[:_LONGEST] or "_"
    if is_device(plain):
        plain = f"_{plain}"
    stem, copies = plain, 1
    while stem.lower() in taken:
        copies += 1
        stem = f"{plain}-{copies}"
    taken.add(stem.lower())
    return stem


def page_on_site(address: str | None, stem: str) -> str | None:
    """Where a part's page is opened from anywhere, by its name in `by_folder`; None where nobody says where the site is served."""
    return f"{address.rstrip('/')}/parts/{link(stem)}.html" if address else None


def inside(folder: PartFolder, file: KeptFile) -> str:
    """The path of a file inside its part's folder."""
    return file.path.removeprefix(folder.folder + "/")


def link(path: str) -> str:
    """A path as it stands in a link: no sign of Markdown, HTML or an address is left in it."""
    return quote(path).replace("~", "%7E").replace("_", "%5F")


def anchor(heading: str) -> str:
    """The anchor that Markdown gives to a heading of ours."""
    from markdown.extensions.toc import slugify  # noqa: PLC0415  only pages have headings

    return str(slugify(heading, "-"))
