"""A part as it is met on other pages."""

from dataclasses import dataclass, replace

from generator.pages.addresses import Addresses
from generator.pages.seen import thumb_of
from generator.pages.true_size import TrueSize
from generator.pages.wording import Wording
from generator.rules.sheet import Sheet
from generator.rules.verdicts import Verdict


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """Thumbnail, number, name, and what there is to know at once."""

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


def card(sheet: Sheet, found: Addresses, w: Wording, note: str | None = None) -> Card:
    """The card of a part; without a note it tells the size."""
    stem = found.by_folder[sheet.folder.folder]
    size = size_of(sheet, w)
    return Card(
        number=sheet.number,
        name=sheet.name if sheet.part else w("broken.no_name"),
        page=f"parts/{stem}.md",
        thumb=thumb_of(sheet, stem),
        note=size if note is None else note,
        is_never_fit=sheet.best is Verdict.DO_NOT_FIT,
    )


def off_scale(plain: Card, w: Wording) -> Card:
    """The same on a page of one scale, where its picture is a photo or a placeholder: it says that it keeps to none."""
    return replace(plain, note=w("true_size.off_scale", note=plain.note or None)) if plain.thumb else plain


def size_of(sheet: Sheet, w: Wording) -> str:
    """The size in words, with a word where it is not the model's; empty where nobody knows it."""
    if sheet.size_mm is None:
        return ""
    words = size_words(sheet.size_mm, w)
    return w("figures.by_hand", size=words) if sheet.size_by_hand_mm else words


def size_words(size_mm: tuple[float, float, float], w: Wording) -> str:
    """Such as 74.4 × 44 × 18 mm."""
    return " × ".join(w.measure(round(side, 1)) for side in size_mm) + " mm"
