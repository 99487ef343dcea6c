"""Every part of every fleet by its form, at one scale, for those who have it in the hand and no word for it."""

from dataclasses import dataclass, replace
from enum import StrEnum

from generator.pages.around import Around
from generator.pages.cards import Card, card, off_scale
from generator.pages.finder.looks import Size, forms_of
from generator.pages.marks import front_matter, rendered
from generator.pages.outputs import Page
from generator.pages.true_size import CommonScale
from generator.records.parts import Part
from generator.rules.sheet import Sheet


class RoughForm(StrEnum):
    """What one sees first, in the order in which it is looked for."""

    ROUND = "round"
    LONG = "long"
    FLAT = "flat"
    HOLLOW = "hollow"
    BLOCK = "block"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True, kw_only=True)
class FormView:
    heading: str
    says: str
    cards: tuple[Card, ...]


def form_of(size_mm: Size | None, volume_mm3: float | None, part: Part | None = None) -> RoughForm:
    """The first form that a part of this size has; a block where it has none, unknown where nothing is measured."""
    if size_mm is None:
        return RoughForm.UNKNOWN
    words = {word for said in forms_of(part, size_mm, volume_mm3) for word in said.split(", ")}
    return next((form for form in RoughForm if form.value in words), RoughForm.BLOCK)


def look_page(around: Around, sheets: tuple[Sheet, ...]) -> Page:
    w = around.w
    scale = CommonScale.of(sheet.pictures for sheet in sheets if sheet.pictures)
    by_form: dict[RoughForm, list[Sheet]] = {form: [] for form in RoughForm}
    for sheet in sheets:
        by_form[form_of(sheet.size_mm, sheet.mesh.volume_mm3 if sheet.mesh else None, sheet.part)].append(sheet)
    groups = tuple(
        FormView(
            heading=w(f"looks.{form}"),
            says=w(f"looks.{form}_says"),
            cards=tuple(_card(sheet, scale, around) for sheet in sorted(found, key=_largest_first)),
        )
        for form, found in by_form.items()
        if found
    )
    title = w("looks.title")
    ruler = f"{w.number(scale.ruler_mm)} mm" if scale else None
    text = rendered("browse/by_look.md.j2", w=w, title=front_matter(title), groups=groups, ruler=ruler)
    return Page(path="by-look.md", title=title, template=None, text=text)


def _largest_first(sheet: Sheet) -> tuple[float, str]:
    return (-max(sheet.size_mm) if sheet.size_mm else 0.0, sheet.number)


def _card(sheet: Sheet, scale: CommonScale | None, around: Around) -> Card:
    plain = card(sheet, around.found, around.w)
    if scale is None or sheet.pictures is None:
        return off_scale(plain, around.w) if scale else plain
    stem = around.found.by_folder[sheet.folder.folder]
    return replace(plain, true_size=scale.placed(sheet.pictures, f"assets/pictures/{stem}-front.webp", around.w))
