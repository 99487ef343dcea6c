"""What of a part lies on the shelf, under which label, and may it be taken from there?

Where its batches were counted, that is told (counted.py); where none is kept, what part.yml says.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from generator.pages.part.counted import batch_lines, counted_line, stopped_line, to_take
from generator.pages.wording import Wording
from generator.records.parts import Part
from generator.rules.production.counted_twice import WholeCount
from generator.rules.production.stock import BatchStock
from generator.rules.sheet import Sheet
from generator.rules.verdicts import Verdict


@dataclass(frozen=True, slots=True)
class LaterCount:
    """What the record counted where its batches were counted too, and what went since of these."""

    count: WholeCount
    went: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Shelf:
    """The stock line, in pieces: the scripts put "do not take" or "ask first" between them by today's verdict."""

    counted: str
    """How many, and on which day; the whole line where nothing lies there."""
    where: str
    beside: str
    """Other parts at the same place, which a hand may take by mistake."""
    on_shelf: int
    """What must lie there now at least: the newest count less what went since."""
    label: str | None
    """The earlier revision on the labels; None where it is the part's own."""
    is_never_fit: bool
    """True where no verdict of the build day let a part with this label be fitted anywhere."""
    batches: tuple[str, ...] = ()
    """Lines on the batches that were counted."""
    stopped: str = ""
    """Which batches are not to be taken; empty for none."""

    @property
    def is_to_be_taken(self) -> bool:
        """Whether something lies there that may be fitted somewhere, so that nobody needs to order first."""
        return self.on_shelf > 0 and not self.is_never_fit


def shelf(sheet: Sheet, part: Part, beside: Iterable[Sheet], stocks: tuple[BatchStock, ...], w: Wording, *, whole: LaterCount | None = None) -> Shelf:
    """The stock of one part. beside: what lies at the same place, itself perhaps too; stocks: what of its batches lies there; whole: the
    record's own count beside theirs.
    """
    told = _of_either(sheet, part, beside, stocks, w, whole=whole)
    if whole is None or not whole.count.is_no_number:
        return told
    asked = w("getting.counted.contradicts", day=whole.count.on.isoformat(), n=w.number(whole.count.found))
    return replace(told, batches=(asked, *told.batches), on_shelf=0)


def _of_either(sheet: Sheet, part: Part, beside: Iterable[Sheet], stocks: tuple[BatchStock, ...], w: Wording, *, whole: LaterCount | None) -> Shelf:
    if whole and whole.count.stands:
        return _later(sheet, part, beside, stocks, w, whole=whole)
    if any(each.counted is not None for each in stocks):
        return _counted(sheet, part, beside, stocks, w)
    told = _recorded(sheet, part, beside, w)
    if not stocks:
        return told
    apart = (w("getting.counted.of_record"),) if told.on_shelf else ()
    return replace(told, batches=(*apart, *batch_lines(stocks, (), w)), stopped=stopped_line(stocks, w))


def _later(sheet: Sheet, part: Part, beside: Iterable[Sheet], stocks: tuple[BatchStock, ...], w: Wording, *, whole: LaterCount) -> Shelf:
    """The record's count is newer than those of its batches, and stands for all that were printed by then."""
    told, of = _recorded(sheet, part, beside, w), whole.count
    left = max(of.found - whole.went, 0)
    stands = w("getting.counted.stands", batches=tuple(sorted(each.batch for each in stocks if each.batch in of.batches)))
    since = (w("getting.counted.since_whole", n=w.number(left)),) if whole.went else ()
    others = tuple(each for each in stocks if each.batch not in of.batches)
    return replace(told, on_shelf=left, batches=(stands, *since, *batch_lines(others, (), w)), stopped=stopped_line(stocks, w))


def _counted(sheet: Sheet, part: Part, beside: Iterable[Sheet], stocks: tuple[BatchStock, ...], w: Wording) -> Shelf:
    taken, revision = to_take(stocks, part.revision)
    label = revision if revision != part.revision else None
    place = part.stock.place if part.stock else None
    has_uncounted = any(each.counted is None and not each.is_stopped and each.most for each in stocks)
    return Shelf(
        counted=counted_line(taken, w, has_uncounted=has_uncounted) if taken else w("getting.counted.none"),
        where=w("getting.shelf_where", place=place, number=part.number, revision=revision) if taken else "",
        beside=_beside(part, beside, w) if taken else "",
        on_shelf=sum(each.least for each in taken),
        label=label,
        is_never_fit=bool(taken) and _is_never_fit(sheet, label),
        batches=batch_lines(stocks, taken, w),
        stopped=stopped_line(stocks, w),
    )


def _recorded(sheet: Sheet, part: Part, beside: Iterable[Sheet], w: Wording) -> Shelf:
    stock, label = part.stock, shelf_label(part)
    if stock is None or stock.on_shelf == 0:
        told = w("getting.shelf_empty", place=stock.place) if stock else w("getting.not_stocked")
        return Shelf(counted=told, where="", beside="", on_shelf=0, label=label, is_never_fit=False)
    day = stock.counted_on.isoformat() if stock.counted_on else None
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
