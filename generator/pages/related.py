"""Which other numbers, parts and assemblies belong to a part, and what does printing it save?"""

from dataclasses import dataclass

from generator.pages.addresses import Addresses
from generator.pages.true_size import TrueSize
from generator.pages.wording import Wording
from generator.records.depot import Depot
from generator.records.parts import Part
from generator.rules.verdicts import Verdict
from generator.sheets import Sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """A part as it is met on other pages: thumbnail, number, name, and what there is to know at once."""

    number: str
    name: str
    page: str
    """Path in the site, such as parts/TV-0417.md."""
    thumb: str | None
    note: str
    is_never_fit: bool
    """True where the answer was "Do not fit" for every vehicle; scripts tell kinder answers by today's date."""
    fleet: str | None = None
    """On the page of a place: only the verdicts for this fleet and place are told."""
    place: str | None = None
    true_size: TrueSize | None = None
    """The front picture at the common scale of the page, in place of the thumbnail."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OldNumberLine:
    number: str
    kind: str
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Replaces:
    numbers: tuple[OldNumberLine, ...]
    assembly: str | None
    saving: str | None


def replaces(sheet: Sheet, part: Part, depot: Depot, w: Wording) -> Replaces:
    """Old numbers, and the assembly that once had to be bought whole with what is saved."""
    numbers = tuple(
        OldNumberLine(number=old.number, kind=w.term("number_kind", old.kind), note=old.note or "")
        for old in part.replaces
    )
    assembly = part.assembly
    if assembly is None:
        return Replaces(numbers=numbers, assembly=None, saving=None)
    told = w("replaces.assembly", name=assembly.name, number=assembly.number)
    return Replaces(numbers=numbers, assembly=told, saving=_saving(sheet, assembly.price, depot, w))


def _saving(sheet: Sheet, whole: float | None, depot: Depot, w: Wording) -> str | None:
    """The price of the whole assembly against the cheapest single part, where both are known."""
    prices = [offer.price_one for offer in sheet.offers if offer.price_one is not None]
    if whole is None or not prices or min(prices) >= whole:
        return None
    one, currency = min(prices), depot.currency
    return w(
        "replaces.saving",
        whole=w.money(whole, currency),
        one=w.money(one, currency),
        saved=w.money(whole - one, currency),
    )


def card(sheet: Sheet, found: Addresses, w: Wording, note: str | None = None) -> Card:
    """The card of a part; without a note it tells the size."""
    stem = found.by_folder[sheet.folder.folder]
    size = size_words(sheet.mesh.oriented_size_mm, w) if sheet.mesh else ""
    return Card(
        number=sheet.number,
        name=sheet.name if sheet.part else w("broken.no_name"),
        page=f"parts/{stem}.md",
        thumb=f"assets/pictures/{stem}-thumb.webp" if sheet.pictures else None,
        note=size if note is None else note,
        is_never_fit=sheet.best is Verdict.DO_NOT_FIT,
    )


def size_words(size_mm: tuple[float, float, float], w: Wording) -> str:
    """Such as 74.4 × 44 × 18 mm."""
    return " × ".join(w.measure(round(side, 1)) for side in size_mm) + " mm"
