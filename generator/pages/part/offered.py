"""How is a file of a part offered? Few kinds open in place; text stands in a page of ours, and all else lies in a zip.

So no document can act in the catalogue's name, and no site builder or server takes one for a page of its own.
"""

import hashlib
import re
import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache

from markupsafe import Markup

from generator.pages.addresses import inside, link
from generator.pages.outputs import CopiedFile, PackedFile, Page
from generator.pages.wording import Wording
from generator.records.batches import Measured
from generator.records.catalogue import Catalogue, FileKind, KeptFile, PartFolder
from generator.records.production import Production

_PLAIN_NAME = re.compile(r"[A-Za-z0-9](?:[A-Za-z0-9 ._(),+-]{0,88}[A-Za-z0-9)])?")
_STRANGE = re.compile(r"[^A-Za-z0-9]+")
_ENDING = re.compile(r"\.[A-Za-z0-9]{1,8}$")
# No file of these names, whatever its ending, can be unpacked on every system.
_DEVICES = re.compile(r"(?i)(con|prn|aux|nul|com[0-9]|lpt[0-9])(\..*)?")


class OfferedAs(StrEnum):
    IN_PLACE = "in place"
    PAGE = "page"
    ZIP = "zip"


@dataclass(frozen=True, slots=True, kw_only=True)
class Offered:
    """One file: its name as the depot wrote it, and where it lies as seen from the part's page."""

    file: KeptFile
    name: str
    way: OfferedAs
    place: str
    """Path as seen from parts/, such as TV-0417/documents/drawing.pdf or ../materials/documents/report.pdf."""

    @property
    def href(self) -> str:
        """The address in HTML, as seen from the part's page."""
        return link(f"{self.place}.html" if self.way is OfferedAs.PAGE else self.place)

    @property
    def source(self) -> str:
        """The address in Markdown, which names a page by its source."""
        return link(f"{self.place}.md" if self.way is OfferedAs.PAGE else self.place)


def offered(folder: PartFolder, stem: str) -> Mapping[str, Offered]:
    """Every document and picture of a part by its path in the folder; a photo that is no picture is left out."""
    taken: set[str] = set()
    found: dict[str, Offered] = {}
    for file in (*folder.documents, *(photo for photo in folder.photos if photo.kind.is_picture)):
        path = inside(folder, file)
        where, _, name = path.rpartition("/")
        way = _way(file.kind)
        plain = _site_name(name, f"{where}/", way, taken)
        taken.add(f"{where}/{plain}".casefold())
        found[path] = Offered(file=file, name=name, way=way, place=f"{stem}/{where}/{plain}")
    return found


def offered_papers(catalogue: Catalogue) -> Mapping[str, Offered]:
    """Every paper that a material names as certificate, fire report or proof, by its path in the catalogue."""
    every = catalogue.materials.values()
    named = {paper.file for material in every for paper in material.certificates}
    named |= {paper.file for material in every for paper in material.fire_tests}
    named |= {proof.file for material in every for proof in material.proof}
    return _beside_the_parts(catalogue.material_files[each] for each in sorted(named & catalogue.material_files.keys()))


@lru_cache(4)
def offered_prints(production: Production) -> Mapping[str, Offered]:
    """Every file that a lot, machine or batch names, by its path in the catalogue; what is written nowhere is not published."""
    named = {f"materials/lots/{paper.file}" for lot in production.lots.values() for paper in lot.inspection_documents}
    for machine in production.machines.values():
        settings = (each.settings for each in machine.qualifications)
        named |= {f"machines/{each.file}" for each in settings if each}
        named |= {f"machines/{each.file}" for one in machine.qualifications for each in one.coupons if each.file}
    for batch in production.batches.values():
        named |= {f"batches/{batch.settings_file.file}"} if batch.settings_file else set()
        named |= {f"batches/{each.sheet}" for each in batch.events if isinstance(each, Measured) and each.sheet}
    return _beside_the_parts(production.files[each] for each in sorted(named & production.files.keys()))


def _beside_the_parts(files: Iterable[KeptFile]) -> Mapping[str, Offered]:
    """Files that lie in the site as they lie in the catalogue, by their path there."""
    taken: set[str] = set()
    found: dict[str, Offered] = {}
    for file in files:
        where, _, name = file.path.rpartition("/")
        way = _way(file.kind)
        plain = _site_name(name, f"{where}/", way, taken)
        taken.add(f"{where}/{plain}".casefold())
        found[file.path] = Offered(file=file, name=name, way=way, place=f"../{where}/{plain}")
    return found


def _way(kind: FileKind) -> OfferedAs:
    if kind is FileKind.TEXT:
        return OfferedAs.PAGE
    return OfferedAs.ZIP if kind is FileKind.OTHER else OfferedAs.IN_PLACE


def _site_name(name: str, where: str, way: OfferedAs, taken: set[str]) -> str:
    """A name that every file system keeps and no two files share, also where capitals do not count."""
    ending = ".zip" if way is OfferedAs.ZIP else ""
    is_plain = _PLAIN_NAME.fullmatch(name) and not _DEVICES.fullmatch(name)
    if is_plain and f"{where}{name}{ending}".casefold() not in taken:
        return name + ending
    found = _ENDING.search(name)
    own = found[0] if found else ""
    words = unicodedata.normalize("NFKD", name.removesuffix(own)).encode("ascii", "ignore").decode()
    told = _STRANGE.sub("-", words).strip("-")[:60]
    return f"{told or 'file'}-{hashlib.sha256(name.encode('utf-8', 'surrogatepass')).hexdigest()[:8]}{own}{ending}"


def copies(every: Iterable[Offered]) -> list[CopiedFile | PackedFile]:
    """The files that come along as they are, and those that come in a zip."""
    found: list[CopiedFile | PackedFile] = []
    for each in every:
        path = below_the_site(each.place)
        if each.way is OfferedAs.IN_PLACE:
            found.append(CopiedFile(path=path, source=each.file.path))
        elif each.way is OfferedAs.ZIP:
            found.append(PackedFile(path=path, source=each.file.path, name=each.name))
    return found


def below_the_site(place: str) -> str:
    """A path as seen from parts/ as one of the whole site."""
    return place.removeprefix("../") if place.startswith("../") else f"parts/{place}"


def text_pages(folder: PartFolder, stem: str, name: str, w: Wording) -> list[Page]:
    """A page for each document of plain text, with a way back to the part."""
    every = offered(folder, stem).values()
    return [
        _text_page(each, f"{folder.number} {name}", "../" * each.place.count("/") + f"{stem}.md", w)
        for each in every
        if each.way is OfferedAs.PAGE
    ]


def paper_pages(catalogue: Catalogue, w: Wording) -> list[Page]:
    """The same for each paper of a material, with a way back to the overview of approvals."""
    papers = [each for each in offered_papers(catalogue).values() if each.way is OfferedAs.PAGE]
    return [_text_page(each, w("approvals.title"), "../../approvals.md", w) for each in papers]


def print_pages(production: Production, w: Wording) -> list[Page]:
    """The same for each file of a lot, machine or batch, with a way back to what was printed."""
    files = [each for each in offered_prints(production).values() if each.way is OfferedAs.PAGE]
    return [_text_page(each, w("printed.title"), "../" * each.file.path.count("/") + "printed.md", w) for each in files]


def _text_page(each: Offered, of: str, back: str, w: Wording) -> Page:
    # Who only asks which files lie behind a verdict loads no templates.
    from generator.pages.marks import front_matter, rendered  # noqa: PLC0415

    return Page(
        path=f"{below_the_site(each.place)}.md",
        title=each.name,
        template=None,
        text=rendered(
            "part/document.md.j2",
            w=w,
            title=front_matter(each.name),
            name=each.name,
            part=of,
            back=back,
            text=_verbatim(each.file.text or ""),
        ),
    )


def _verbatim(text: str) -> Markup:
    """Text for <pre>, sign by sign: no blank line or tab of it is seen by any Markdown."""
    told = "".join(sign if sign.isalnum() or sign in " \n" else f"&#{ord(sign)};" for sign in text)
    return Markup("\n".join(line if line.strip() else "&#32;" for line in told.split("\n")))  # noqa: S704
