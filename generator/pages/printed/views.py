"""What the pages of batches, lots and machines are made of: sections with lines, a table and drawings."""

from collections.abc import Iterable
from dataclasses import dataclass

from markupsafe import Markup

from generator.pages.around import Around
from generator.pages.marks import front_matter, rendered
from generator.pages.on_vehicles.incomplete import gap_words
from generator.pages.outputs import Page
from generator.pages.part.offered import offered_prints
from generator.pages.part.story import role_name
from generator.pages.wording import Wording
from generator.records.base import Record
from generator.records.batches import Measured
from generator.records.catalogue import Catalogue
from generator.records.fitted import FileGap


@dataclass(frozen=True, slots=True)
class Cell:
    text: str
    href: str | None = None
    more: tuple[str, ...] = ()
    is_strong: bool = False
    files: tuple[tuple[str, str | None], ...] = ()
    """Files to open: their names and addresses; None of one that is missing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintedSection:
    heading: str | None = None
    lead: str | None = None
    """What counts most."""
    lines: tuple[str, ...] = ()
    head: tuple[str, ...] = ()
    rows: tuple[tuple[Cell, ...], ...] = ()
    drawings: tuple[Markup, ...] = ()
    is_told: bool = False
    """Whether the first cell of each row says what the second one is."""

    @property
    def is_empty(self) -> bool:
        return not (self.lead or self.lines or self.rows or self.drawings)


def page(
    path: str, heading: str, sections: Iterable[PrintedSection], around: Around, *, says: str | None = None, template: str | None = None, gaps: Iterable[FileGap] = ()
) -> Page:
    """A page of these sections; those of nothing are left out. gaps: what could not be read of what it lists."""
    shown = [each for each in sections if not each.is_empty]
    text = rendered(
        "printed/record.md.j2", w=around.w, title=front_matter(heading), heading=heading, sections=shown, says=says, back="/" in path,
        frame=template, incomplete=gap_words(gaps, around.w),
    )
    return Page(path=path, title=heading, template=template, text=text)


def head(w: Wording, *keys: str) -> tuple[str, ...]:
    return tuple(w(f"printed.head.{key}") for key in keys)


def known_values(pairs: Iterable[tuple[str, str | Cell | None]], w: Wording, heading: str | None = None) -> PrintedSection:
    """A table of what is known, by the keys of its labels; what is None is left out."""
    rows = tuple(
        (Cell(w(f"printed.label.{key}")), value if isinstance(value, Cell) else Cell(value)) for key, value in pairs if value is not None
    )
    return PrintedSection(heading=heading, head=(w("printed.head.what"), w("figures.value")), rows=rows, is_told=True)


def events(listed: Iterable[Record], kind: str, w: Wording, catalogue: Catalogue) -> PrintedSection:
    """Dated events as a table: day, what and by which role, and all that else stands there."""
    rows = tuple(
        (
            Cell(w.day(each.on)),  # type: ignore[attr-defined]
            Cell(w.term(kind, each.what), more=tuple(_details(each, w)), files=_sheet(each, catalogue)),  # type: ignore[attr-defined]
            Cell(role_name(each.by, catalogue)),  # type: ignore[attr-defined]
        )
        for each in listed
    )
    return PrintedSection(heading=w("printed.events"), head=head(w, "day", "what", "by"), rows=rows)


def _details(event: Record, w: Wording) -> Iterable[str]:
    for key, value in event:
        if key in {"on", "what", "by", "checks", "sha256", "sheet"} or value is None:
            continue
        yield w(f"printed.detail.{key}", value=w.measure(value) if isinstance(value, int | float) else str(value))


def _sheet(event: Record, catalogue: Catalogue) -> tuple[tuple[str, str | None], ...]:
    return (opened("batches", event.sheet, catalogue),) if isinstance(event, Measured) and event.sheet else ()


def opened(folder: str, file: str, catalogue: Catalogue) -> tuple[str, str | None]:
    """The name of a file that a record in this folder names, and how a page in a folder beside it opens it."""
    found = offered_prints(catalogue.production).get(f"{folder}/{file}")
    return file, found.href if found else None


def batch_page(name: str) -> str:
    return f"batches/{name}.md"


def lot_page(name: str) -> str:
    return f"lots/{name}.md"


def machine_page(name: str) -> str:
    return f"machines/{name}.md"


def link(path: str) -> str:
    """From a page in a folder beside it."""
    return f"../{path.removesuffix('.md')}.html"
