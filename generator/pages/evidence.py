"""Which files lie behind each question of the verdict, and how is each opened?"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from generator.pages.part.offered import OfferedAs, offered, offered_papers
from generator.pages.wording import Wording
from generator.records.catalogue import Catalogue, PartFolder
from generator.rules.facts.fields import Facts

# By the question, the facts that name its files; the same table goes to the browser.
FILES: Mapping[str, tuple[str, ...]] = {
    "withdrawn": ("withdrawn_files",),
    "superseded": ("superseded_files",),
    "permit": ("permit_files",),
    "begun": ("permit_files",),
    "lasts": ("lasting_files",),
    "unchanged": ("permit_files",),
    "evidence": ("permit_letters",),
    "authority": ("authority_files",),
    "authorisation": ("authorisation_files",),
    "certificate": ("piece_files", "certificate_files"),  # of a piece its own lot's come first
    "fire_report": ("fire_files",),
    "fire_results": ("fire_files",),
    "fire_asked": ("fire_files",),
    "stock_stopped": ("stock_files",),
    "stock_until": ("stock_files",),
    "authority_alone": ("authority_files",),
    "place": ("permit_files",),
    "proven": ("proof_files",),
    "older_stock": ("stock_files",),
    "piece_asked": ("piece_files",),
    "conditions": ("condition_files",),
    "significance": ("assessment_files",),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenFile:
    """A file to open; `href` is its address as seen from the part's page, None where it is missing."""

    title: str
    href: str | None
    is_saved: bool = False
    """Whether it comes in a zip, to be saved."""


def files_behind(step: str, facts: Facts) -> tuple[str, ...]:
    """The files behind a question, by their paths in the catalogue, each once."""
    named: list[str] = []
    for fact in FILES.get(step, ()):
        value = getattr(facts, fact)
        named += value if isinstance(value, tuple) else ()
    return tuple(dict.fromkeys(named))


def open_files(
    every: Iterable[Facts], folder: PartFolder, stem: str, catalogue: Catalogue, w: Wording
) -> dict[str, OpenFile]:
    """How each file that the facts name is opened from the part's page, by its path in the catalogue."""
    kept = {f"{folder.folder}/{path}": each for path, each in offered(folder, stem).items()}
    kept |= offered_papers(catalogue)
    titles = {f"{folder.folder}/{file}": title for file, title in titles_of(folder).items()}
    told: dict[str, OpenFile] = {}
    for path in sorted({path for facts in every for step in FILES for path in files_behind(step, facts)}):
        found = kept.get(path)
        title = titles.get(path, path.rsplit("/", 1)[-1])
        title += "" if found else f" ({w('documents.missing')})"
        saved = found is not None and found.way is OfferedAs.ZIP
        told[path] = OpenFile(title=title, href=found.href if found else None, is_saved=saved)
    return told


def titles_of(folder: PartFolder) -> Mapping[str, str]:
    """The titles that the events of a part give to its files."""
    told = folder.approval.events if folder.approval else ()
    return {each.file: each.title for event in told for each in event.evidence if each.title}
