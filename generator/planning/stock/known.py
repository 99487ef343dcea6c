"""What is known to lie there, and what is on its way? As it was counted, less what went since; never more than was written down.

Where batches were counted they tell it, unless part.yml tells a later count of them all (rules/production/counted_twice.py); where none was, what
part.yml says somebody counted, less what went since. Where the records leave
open which pieces went, it is the least that must lie there. Nothing counted is nothing known, and no empty shelf. Beside that stands what
nobody has counted: released batches that have pieces left by the ledger, which stand in for nothing, and batches that were printed and
wait for their release. What is dated later than the day has not been.
"""

from collections.abc import Collection, Iterable
from dataclasses import dataclass, replace
from datetime import date

from generator.planning.unfit import lacks_only_days
from generator.records.catalogue import Catalogue
from generator.records.parts import Part
from generator.rules.production.counted_twice import WholeCount, whole_count
from generator.rules.production.ledger import balance_of, balances_on
from generator.rules.production.releasing import standing
from generator.rules.production.states import stops_of
from generator.rules.production.stock import BatchStock, stock_of
from generator.rules.sheet import Sheet
from generator.rules.unlike import unlike_batches
from generator.rules.verdicts import Verdict


@dataclass(frozen=True, slots=True, kw_only=True)
class UnfitCount:
    """What was counted and may be fitted nowhere today: of a label that may not, or of batches that are stopped or printed otherwise than approved."""

    counted: int
    first_day: date | None
    last_day: date | None
    went: int
    """As of StockKnown."""
    returning: int = 0
    """So many of what is left, and of what waits for its release, come back with a renewal: of the part's own revision, against which nothing but
    a day stands (unfit.py), and of batches that nothing has stopped."""
    never: int = 0
    """All else that is left."""

    @property
    def left(self) -> int:
        return max(self.counted - self.went, 0)


@dataclass(frozen=True, slots=True, kw_only=True)
class StockKnown:
    counted: int | None
    """Pieces that somebody counted and that may be fitted somewhere; None: nobody has counted."""
    first_day: date | None
    """Of the oldest of these counts; None where nobody wrote it."""
    last_day: date | None
    went: int
    """Since these counts, at most; below nothing where more came back."""
    unsure: int = 0
    """So many of them can lie there all the same: the records do not tell."""
    uncounted: int
    """By the ledger alone, of released batches."""
    waiting: int
    """Printed, and not released yet."""
    is_less_than_nothing: bool
    """More went than was counted: the count or what was written since is wrong."""
    contradicts: bool = False
    """The count of part.yml and those of the batches cannot both be right: nobody knows how many lie there."""
    unfit: UnfitCount | None = None
    """Beside them; None where there is none of it."""

    @property
    def left(self) -> int | None:
        """What must lie there at least of what was counted; never below nothing."""
        return None if self.counted is None else max(self.counted - self.went, 0)

    @property
    def position(self) -> int | None:
        """What was counted and lies there, or is on its way; None where nobody has counted."""
        return None if self.left is None else self.left + self.waiting

    @property
    def possible(self) -> int | None:
        """With what nobody has counted; None where nobody has counted any."""
        return None if self.position is None else self.position + self.uncounted

    @property
    def returning(self) -> int:
        """So many more once a renewal comes."""
        return self.unfit.returning if self.unfit else 0


def known(sheet: Sheet, catalogue: Catalogue, day: date) -> StockKnown:
    """Of one part, as written down until the end of `day`."""
    unlike = unlike_batches(sheet)
    return replace(_usable(sheet, catalogue, day, unlike), unfit=_unfit(sheet, catalogue, day, unlike))


def _usable(sheet: Sheet, catalogue: Catalogue, day: date, unlike: Collection[str]) -> StockKnown:
    labels = usable_labels(sheet)
    every = stock_of(sheet.number, catalogue, day, unlike)
    usable = [each for each in every if not each.is_stopped and each.revision in labels]
    counted = [each for each in usable if each.counted is not None]
    waiting = _waiting(sheet.number, catalogue, day, labels, {*unlike, *(each.batch for each in every if each.counted is not None)})
    whole = whole_count(sheet.part, catalogue, day) if sheet.part else None
    if whole and whole.stands:
        beside = [each for each in usable if each.batch not in whole.batches]
        return replace(_of_later_record(sheet, catalogue, day, beside, whole, unlike), waiting=waiting)
    if any(each.counted is not None for each in every):
        days = [each.on for each in counted or every if each.on]
        uncounted = sum(each.least for each in usable if each.counted is None)
        found = _of_batches(counted, days, uncounted, waiting)
        return replace(found, contradicts=whole is not None and whole.is_no_number)
    return _of_record(sheet, catalogue, day, usable, waiting, unlike)


def usable_labels(sheet: Sheet) -> frozenset[str]:
    """The revisions of which a piece may be fitted somewhere today, if only after asking."""
    own = sheet.part.revision if sheet.part else ""
    judged = zip(sheet.grounds, sheet.judgements, strict=True)
    return frozenset(ground.label_revision or own for ground, said in judged if said.verdict is not Verdict.DO_NOT_FIT)


def _unfit(sheet: Sheet, catalogue: Catalogue, day: date, unlike: Collection[str]) -> UnfitCount | None:
    """By the same counts as what may be fitted: the record's where it stands, else those of the batches."""
    labels, every = usable_labels(sheet), stock_of(sheet.number, catalogue, day, unlike)
    whole = whole_count(sheet.part, catalogue, day) if sheet.part else None
    covered = whole.batches if whole and whole.stands else frozenset[str]()
    counts = [
        _Counted(label=each.revision, counted=each.counted, left=each.least, on=each.on, is_stopped=each.is_stopped)
        for each in every
        if each.counted is not None and each.batch not in covered
    ]
    if covered or not counts:
        counts += _recorded(sheet, catalogue, day, covered or None, unlike)
    found = [each for each in counts if each.counted and (each.is_stopped or each.label not in labels)]
    days = [each.on for each in found if each.on]
    own = sheet.part.revision if sheet.part else ""
    back = {own} - labels if lacks_only_days(sheet) else frozenset[str]()
    judged_already = {*unlike, *(each.batch for each in every if each.counted is not None)}
    waiting = _waiting(sheet.number, catalogue, day, frozenset(back), judged_already) if back else 0
    counted = sum(each.counted for each in found)
    returning = sum(each.left for each in found if each.label in back and not each.is_stopped)
    told = UnfitCount(
        counted=counted,
        first_day=min(days, default=None),
        last_day=max(days, default=None),
        went=counted - sum(each.left for each in found),
        returning=waiting + returning,
        never=sum(each.left for each in found) - returning,
    )
    return told if counted or waiting else None


@dataclass(frozen=True, slots=True, kw_only=True)
class _Counted:
    label: str
    counted: int
    left: int
    on: date | None
    is_stopped: bool
    went: int = 0


def _recorded(sheet: Sheet, catalogue: Catalogue, day: date, batches: Collection[str] | None, unlike: Collection[str]) -> tuple[_Counted, ...]:
    """What part.yml says, and what of it may be of batches that were printed otherwise than approved, which counts as stopped; none where it says nothing by
    that day. batches: as of `went_since`.
    """
    stock = sheet.part.stock if sheet.part else None
    if stock is None or (stock.counted_on and stock.counted_on > day):
        return ()
    label, on = _label(sheet.part), stock.counted_on
    apart, others = _split(sheet.number, catalogue, on or day, label, unlike, batches)
    counts = min(apart, stock.on_shelf), stock.on_shelf - min(apart, stock.on_shelf)
    of_either = ([name for name in unlike if batches is None or name in batches], others)
    went = [went_since(sheet.number, catalogue, on, day, names) if on else 0 for names in of_either]
    return tuple(
        _Counted(label=label, counted=counted, left=max(counted - gone, 0), went=gone, on=on, is_stopped=is_unlike)
        for counted, gone, is_unlike in zip(counts, went, (True, False), strict=True)
    )


def _split(  # noqa: PLR0917
    number: str, catalogue: Catalogue, on: date, label: str, unlike: Collection[str], batches: Collection[str] | None
) -> tuple[int, list[str]]:
    """How many pieces printed otherwise than approved can have lain there, and all other batches."""
    production = catalogue.production
    named = {name: batch for name, batch in production.of_part(number).items() if batches is None or name in batches}
    there = [name for name, batch in named.items() if name in unlike and batch.revision == label and batch.ended.date() <= on]
    return sum(balance_of(name, production, on).most for name in there), [name for name in named if name not in unlike]


def _of_batches(counted: list[BatchStock], days: list[date], uncounted: int, waiting: int) -> StockKnown:
    """Of each batch no less than nothing: what one has too few of, another does not make up for."""
    pieces, least = sum(each.counted or 0 for each in counted), sum(each.least for each in counted)
    return StockKnown(
        counted=pieces,
        first_day=min(days, default=None),
        last_day=max(days, default=None),
        went=pieces - least,
        unsure=sum(each.most for each in counted) - least,
        uncounted=uncounted,
        waiting=waiting,
        is_less_than_nothing=any(each.is_overdrawn for each in counted),
    )


def _of_record(  # noqa: PLR0917
    sheet: Sheet, catalogue: Catalogue, day: date, batches: Iterable[BatchStock], waiting: int, unlike: Collection[str]
) -> StockKnown:
    """By the count of part.yml, which is of all that lay there: only batches that were printed later come on top."""
    on = sheet.part.stock.counted_on if sheet.part and sheet.part.stock else None
    said = _good(sheet, catalogue, day, None, unlike)
    newer = (each for each in batches if said is None or (on and catalogue.production.batches[each.batch].ended.date() > on))
    return StockKnown(
        counted=said.counted if said else None,
        first_day=on if said else None,
        last_day=on if said else None,
        went=said.went if said else 0,
        uncounted=sum(each.least for each in newer),
        waiting=waiting,
        is_less_than_nothing=said is not None and said.went > said.counted,
    )


def _good(sheet: Sheet, catalogue: Catalogue, day: date, batches: Collection[str] | None, unlike: Collection[str]) -> _Counted | None:
    """What of part.yml's count may be fitted somewhere: none of a label that may not; None where it says nothing by that day."""
    said = next((each for each in _recorded(sheet, catalogue, day, batches, unlike) if not each.is_stopped), None)
    if said is None or said.label in usable_labels(sheet):
        return said
    return replace(said, counted=0, left=0, went=0)


def _of_later_record(  # noqa: PLR0917
    sheet: Sheet, catalogue: Catalogue, day: date, others: list[BatchStock], whole: WholeCount, unlike: Collection[str]
) -> StockKnown:
    """Of the batches that part.yml counted later than anybody counted them, its count; of all others their own."""
    own = _good(sheet, catalogue, day, whole.batches, unlike)
    counted = [each for each in others if each.counted is not None]
    beside = _of_batches(counted, [each.on for each in counted if each.on], 0, 0)
    went = own.went if own else 0
    return StockKnown(
        counted=beside.counted if own is None else own.counted + (beside.counted or 0),
        first_day=min((whole.on, *filter(None, (beside.first_day,)))),
        last_day=max((whole.on, *filter(None, (beside.last_day,)))),
        went=went + beside.went,
        unsure=beside.unsure,
        uncounted=sum(each.least for each in others if each.counted is None),
        waiting=0,
        is_less_than_nothing=went > (own.counted if own else 0) or beside.is_less_than_nothing,
        contradicts=whole.is_no_number,
    )


def _label(part: Part | None) -> str:
    """Of the stock that the record tells."""
    return ((part.stock.revision if part.stock else None) or part.revision) if part else ""


def went_since(number: str, catalogue: Catalogue, on: date, day: date, batches: Collection[str] | None = None) -> int:
    """Of batches that lay there as it was counted: printed by then. batches: of these alone."""
    production, found = catalogue.production, 0
    for name, batch in production.of_part(number).items():
        if batch.ended.date() <= on < day and (batches is None or name in batches):
            before, now = (balance_of(name, production, each) for each in (on, day))
            found += max(before.shelf - now.shelf, before.least - now.least)
    return found


def _waiting(number: str, catalogue: Catalogue, day: date, labels: frozenset[str], counted: Collection[str]) -> int:
    """Pieces of batches that nobody has judged yet and nothing stops, and that are not counted already."""
    production, found = catalogue.production, 0
    for name, batch in production.of_part(number).items():
        if name in counted or batch.ended.date() > day or batch.revision not in labels:
            continue
        if standing(name, batch, catalogue, day).word == "printed" and not stops_of(name, batch, production, day):
            found += balances_on(production, day)[name].least
    return found
