"""What of a part lies on the shelf, under which label, and may it be taken from there?"""

from collections.abc import Iterable
from dataclasses import dataclass

from generator.pages.wording import Wording
from generator.records.parts import Part
from generator.rules.sheet import Sheet
from generator.rules.verdicts import Verdict


@dataclass(frozen=True, slots=True, kw_only=True)
class Shelf:
    """The stock line, in pieces: the scripts put "do not take" or "ask first" between them by today's verdict."""

    counted: str
    """How many, and on which day; the whole line where nothing lies there."""
    where: str
    beside: str
    """Other parts at the same place, which a hand may take by mistake."""
    on_shelf: int
    label: str | None
    """The earlier revision on the labels; None where it is the part's own."""
    is_never_fit: bool
    """True where no verdict of the build day let a part with this label be fitted anywhere."""

    @property
    def is_to_be_taken(self) -> bool:
        """Whether something lies there that may be fitted somewhere, so that nobody needs to order first."""
        return self.on_shelf > 0 and not self.is_never_fit


def shelf(sheet: Sheet, part: Part, beside: Iterable[Sheet], w: Wording) -> Shelf:
    """The stock of one part. beside: what lies at the same place, itself perhaps too."""
    stock, label = part.stock, shelf_label(part)
    if stock is None or stock.on_shelf == 0:
        told = w("getting.shelf_empty", place=stock.place) if stock else w("getting.not_stocked")
        return Shelf(counted=told, where="", beside="", on_shelf=0, label=label, is_never_fit=False)
    day = next((judgement.facts.built_on.isoformat() for judgement in sheet.judgements), None)
    return Shelf(
        counted=w.count("getting.shelf", stock.on_shelf, day=day),
        where=w(
            "getting.shelf_where",
            place=stock.place,
            number=part.number,
            revision=stock.revision or part.revision,
        ),
        beside=_beside(part, beside, w),
        on_shelf=stock.on_shelf,
        label=label,
        is_never_fit=_is_never_fit(sheet, label),
    )


def shelf_label(part: Part) -> str | None:
    """The revision on the labels of the stock where it is not the part's own."""
    revision = part.stock.revision if part.stock else None
    return revision if revision != part.revision else None


def _is_never_fit(sheet: Sheet, label: str | None) -> bool:
    judged = zip(sheet.grounds, sheet.judgements, strict=True)
    return all(
        each.verdict is Verdict.DO_NOT_FIT for ground, each in judged if ground.label_revision == label
    )


def _beside(part: Part, beside: Iterable[Sheet], w: Wording) -> str:
    found = sorted(
        f"{other.number} {other.part.name}"
        for other in beside
        if other.part and other.number != part.number and other.part.stock and other.part.stock.on_shelf
    )
    return w("getting.beside", parts=", ".join(found)) if found else ""
