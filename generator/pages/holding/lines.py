"""What is said of how pieces hold, in words alone: for the pages and for the command."""

from collections.abc import Iterable
from math import floor, log10

from generator.pages.wording import Wording
from generator.planning.holding.advice import Advice
from generator.planning.holding.comparison import TESTED, Comparison, Holding
from generator.planning.holding.parts import STANDS_OUT, HoldingFigures, OfBatch, OfRevision, PartHolding
from generator.planning.holding.rate import DAYS_A_YEAR
from generator.planning.holding.trials import Course, Trial

_SELDOM = 1e-4
_MOST_DIGITS = 4


def counts_words(figures: HoldingFigures, w: Wording) -> str:
    """Such as "72 pieces fitted, 58 in use; 2 worn; 12 broken"."""
    off = {"worn": figures.worn, "broken": figures.broken, "otherwise": figures.otherwise}
    said = {key: w.number(count) if count else None for key, count in off.items()}
    return w("holds.counts", pieces=w.count("holds.pieces", figures.pieces), in_use=w.number(figures.in_use), **said)


def years_words(figures: HoldingFigures, w: Wording) -> str:
    return w("holds.years", years=two_digits(figures.days / DAYS_A_YEAR, w))


def rate_words(figures: HoldingFigures, w: Wording) -> str:
    """Failures a year with their limits, as short as a cell."""
    return _rate(figures, w, ("holds.no_time", "holds.none_failed", "holds.rate"))


def said_words(figures: HoldingFigures, w: Wording) -> str:
    """The same as a sentence."""
    return _rate(figures, w, ("holds.said.no_time", "holds.said.none", "holds.said.some"))


def _rate(figures: HoldingFigures, w: Wording, keys: tuple[str, str, str]) -> str:
    rate = figures.rate
    if rate is None:
        return w(keys[0])
    said = {"low": two_digits(rate.low, w), "high": two_digits(rate.high, w), "years": two_digits(rate.years, w)}
    return w(keys[1], **said) if rate.one_sided else w(keys[2], rate=two_digits(rate.a_year, w), **said)


def two_digits(value: float, w: Wording) -> str:
    """A figure to two digits, or to the whole number; what is nearly nothing is told as such."""
    if value <= 0:
        return w.number(0)
    return w.measure(value, min(_MOST_DIGITS, max(0, 1 - floor(log10(value)))))


def unpaired_words(figures: HoldingFigures, w: Wording) -> str | None:
    return w.count("holds.unpaired", figures.unpaired) if figures.unpaired else None


def beside_words(batch: OfBatch, w: Wording) -> str:
    """How a batch holds beside the rest, in a word or two."""
    return w(f"holds.batch_is.{batch.beside_rest.holding.value}") if batch.beside_rest else w("missing")


def out_words(part: PartHolding, w: Wording) -> tuple[str, ...]:
    """A sentence for each batch that stands out, the worse first, and for the revision that does."""
    revision_of = {batch.name: revision for revision in part.revisions for batch in revision.batches}
    batches = [batch_words(each, revision_of[each.name].revision, beside, w) for each in part.standing_out if (beside := each.beside_rest)]
    newest = part.revisions[0]
    told = [said] if newest.beside_before and newest.beside_before.holding in STANDS_OUT and (said := revision_words(newest, w)) else []
    return (*batches, *told)


def batch_words(batch: OfBatch, revision: str, beside: Comparison, w: Wording) -> str:
    """That it stands out, and where it holds worse what to do about it."""
    said = w(f"holds.batch_says.{beside.holding.value}", batch=batch.name, revision=revision, **_shown(beside, w))
    if beside.holding is not Holding.HOLDS_WORSE:
        return said
    return f"{said} {w('holds.act.stopped' if batch.is_stopped else 'holds.act.look')}"


def revision_words(revision: OfRevision, w: Wording) -> str | None:
    """The sentence that compares it with the one before; None where that was never fitted."""
    beside = revision.beside_before
    if beside is None:
        return None
    return w(f"holds.revision_says.{beside.holding.value}", revision=revision.revision, before=revision.before, **_shown(beside, w))


def _shown(beside: Comparison, w: Wording) -> dict[str, str]:
    return {
        "failed": w.number(beside.ours.failed),
        "pieces": w.number(beside.ours.pieces),
        "expected": two_digits(beside.test.expected[0], w),
        "chance": chance_words(beside, w),
    }


def chance_words(beside: Comparison, w: Wording) -> str:
    """How often chance alone shows so much, and among how many comparisons."""
    p = 1.0 if beside.p is None else beside.p
    how = w("holds.chance.seldom") if p < _SELDOM else w("holds.chance.often", times=w.number(round(1 / p)))
    return f"{how} {w.count('holds.among', beside.among)}"


def compared_words(parts: Iterable[PartHolding], w: Wording) -> str:
    """How many batches were compared at all."""
    batches = [batch.beside_rest for part in parts for revision in part.revisions for batch in revision.batches]
    return w.count("holds.compared", max((each.among for each in batches if each and each.holding in TESTED), default=0))


def trial_head(trial: Trial, w: Wording) -> str:
    last = trial.event.valid_until if trial.ended is None else trial.last_day
    return w("holds.trial.head", revision=trial.event.revision, first=w.day(trial.first_day), last=w.day(last))


def trial_words(trial: Trial, w: Wording) -> tuple[str, ...]:
    """How it went: its course, pieces, days and failures with their limits, and what became of the pieces since."""
    course = w(f"holds.trial.course.{trial.course.value}")
    if trial.course is Course.AHEAD:
        return (course,)
    planned = trial.event.planned_pieces
    counts = {"pieces": w.number(trial.figures.pieces), "failed": w.number(trial.figures.failed)}
    many = w.count("holds.pieces", trial.figures.pieces)
    pieces = w("holds.trial.pieces", planned=w.number(planned), **counts) if planned else w("holds.trial.pieces_unplanned", **(counts | {"pieces": many}))
    said = [course, w.count("holds.trial.days", trial.days), pieces]
    if trial.figures.pieces:
        said.append(said_words(trial.figures, w))
    if trial.ended and trial.ended.fitted_pieces:
        said.append(w(f"holds.trial.{trial.ended.fitted_pieces.value}"))
    if trial.course is not Course.RUNNING and trial.figures.pieces:
        sat = {"off": w.number(trial.came_off), "pieces": w.number(trial.figures.pieces), "sitting": w.number(len(trial.sitting))}
        said.append(w("holds.trial.left", **sat, vehicles=trial.vehicles))
    return tuple(said)


def advice_words(advice: Advice, w: Wording) -> tuple[str, ...]:
    """Hints on the record, and the day on which somebody looks again."""
    symptoms = w("holds.advice.no_symptoms") if advice.no_symptoms else None
    return (*demand_words(advice, w), *(said for said in (symptoms, again_words(advice, w)) if said))


def demand_words(advice: Advice, w: Wording) -> tuple[str, ...]:
    """What was fitted in a year, and whether the record expects as much; nothing of a young record."""
    use = advice.use
    if use is None:
        return ()
    counts = {"pieces": w.count("holds.pieces", use.fitted), "failed": w.number(use.for_failed), "a_year": w.number(round(use.a_year))}
    said = (w("holds.advice.use", since=w.day(use.since), **counts),)
    if not advice.demand_is_off:
        return said
    if advice.demand is None:
        return (*said, w("holds.advice.no_demand"))
    key = "demand_less" if advice.demand < use.a_year else "demand_more"
    return (*said, w(f"holds.advice.{key}", demand=w.measure(advice.demand)))


def short_words(advice: Advice, w: Wording) -> str | None:
    """The same in a cell, and only where the record is off."""
    use = advice.use
    if use is None or not advice.demand_is_off:
        return None
    demand = w.measure(advice.demand) if advice.demand is not None else w("missing")
    return w("holds.advice.short", demand=demand, a_year=w.number(round(use.a_year)), failed=w.number(use.for_failed), pieces=w.number(use.fitted))


def again_words(advice: Advice, w: Wording) -> str | None:
    """When somebody looks again; None where nothing of it is in use any more."""
    return w(f"holds.advice.again.{advice.because.value}", day=w.day(advice.look_again)) if advice.look_again else None
