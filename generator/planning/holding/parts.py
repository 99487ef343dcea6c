"""Does it hold? Each part's revisions and batches: pieces, days in use, failures, and which of them stand out.

A batch is compared with the other batches of its revision (without those that hold worse), a revision with the one before, where both were fitted. All batches that
can be compared share the 5 % of one comparison, and so do all revisions (`comparison.among`).
"""

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import lru_cache, reduce
from itertools import pairwise
from operator import add
from typing import Final

from generator.planning.holding.comparison import Comparison, Holding, among, compared, compared_ages
from generator.planning.holding.curve import Ages, Curve, Observation, ages_of, holding_curve
from generator.planning.holding.pieces import FittedUpTo, Piece, fitted_pieces
from generator.planning.holding.rate import Rate, failures_a_year
from generator.records.fitted import Why
from generator.records.production import Production
from generator.rules.production.states import stops_of

STANDS_OUT: Final = (Holding.HOLDS_WORSE, Holding.HOLDS_BETTER)


@dataclass(frozen=True, slots=True, kw_only=True)
class HoldingFigures:
    """Of a kind of pieces."""

    pieces: int
    """Ever fitted."""
    in_use: int
    """Of these, on vehicles still."""
    worn: int
    broken: int
    otherwise: int
    """Came off for another reason."""
    unpaired: int
    """Came off, and nobody wrote down that they were fitted; counted nowhere else."""
    days: float
    """In use, all together."""
    rate: Rate | None
    """None where no time in use is written down."""

    @property
    def failed(self) -> int:
        return self.worn + self.broken


@dataclass(frozen=True, slots=True, kw_only=True)
class OfBatch:
    name: str
    figures: HoldingFigures
    beside_rest: Comparison | None
    """Beside the other batches of its revision; None where no other was fitted."""
    is_stopped: bool
    """Whether a recall or a blocked lot keeps it from being fitted already."""

    @property
    def stands_out(self) -> bool:
        return self.beside_rest is not None and self.beside_rest.holding in STANDS_OUT


@dataclass(frozen=True, slots=True, kw_only=True)
class OfRevision:
    revision: str
    figures: HoldingFigures
    curve: Curve
    batches: tuple[OfBatch, ...]
    """Those that were fitted, the first printed first."""
    before: str | None
    """The revision before that was fitted."""
    beside_before: Comparison | None
    first_fitted: date


@dataclass(frozen=True, slots=True, kw_only=True)
class PartHolding:
    number: str
    figures: HoldingFigures
    revisions: tuple[OfRevision, ...]
    """Those that were fitted, the newest first."""

    @property
    def standing_out(self) -> tuple[OfBatch, ...]:
        """Batches that hold otherwise than the rest of their revision, the worse first."""
        found = [each for revision in self.revisions for each in revision.batches if each.stands_out]
        return tuple(sorted(found, key=lambda each: STANDS_OUT.index(each.beside_rest.holding) if each.beside_rest else 0))

    @property
    def is_worse(self) -> bool:
        """Whether a batch of it holds worse than the others, or its newest revision than the one before."""
        newest = self.revisions[0].beside_before
        return (newest is not None and newest.holding is Holding.HOLDS_WORSE) or any(
            each.beside_rest is not None and each.beside_rest.holding is Holding.HOLDS_WORSE for each in self.standing_out
        )


@lru_cache(4)
def holding_parts(production: Production, day: date) -> Mapping[str, PartHolding]:
    """Every part of which a piece was fitted up to `day`, by number."""
    fitted = fitted_pieces(production, day)
    batches = _batches(production, fitted)
    beside = _beside_rest(batches, fitted)
    before = _beside_before(batches, fitted)
    return {number: _part(number, revisions, (production, fitted), beside, before) for number, revisions in batches.items()}


_Batches = Mapping[str, Mapping[str, Sequence[str]]]
"""Names of fitted batches by part and revision, the first printed first."""


def _batches(production: Production, fitted: FittedUpTo) -> _Batches:
    found: defaultdict[str, defaultdict[str, list[str]]] = defaultdict(lambda: defaultdict(list))
    known = [(batch.started, name, batch) for name in fitted.pieces if (batch := production.batches.get(name))]
    for _, name, batch in sorted(known, key=lambda each: each[:2]):
        found[batch.part][batch.revision].append(name)
    return {number: found[number] for number in sorted(found)}


def _beside_rest(batches: _Batches, fitted: FittedUpTo) -> dict[str, Comparison]:
    """Each batch beside the rest, without those of the rest that hold worse: else what is usual would seem to hold better."""
    siblings = {name: names for revisions in batches.values() for names in revisions.values() if len(names) > 1 for name in names}
    seen = {name: ages_of(fitted.observed([name])) for name in siblings}
    first = _beside(siblings, frozenset(), seen)
    every = dict(zip(first, among(list(first.values())), strict=True))
    worse = {name: each for name, each in every.items() if each.holding is Holding.HOLDS_WORSE}
    if not worse:
        return every
    moved = {name: names for name, names in siblings.items() if name not in worse and not worse.keys().isdisjoint(names)}
    left = {name: each for name, each in first.items() if name not in worse and name not in moved} | _beside(moved, worse, seen)
    return dict(zip(left, among(list(left.values()), of=max(each.among for each in every.values())), strict=True)) | worse


def _beside(siblings: Mapping[str, Sequence[str]], worse: Collection[str], seen: Mapping[str, Ages]) -> dict[str, Comparison]:
    """worse: batches that stand in nobody's rest. Each by itself, as if it were the only comparison."""
    found: dict[str, Comparison] = {}
    all_of: dict[tuple[str, ...], Ages] = {}
    for name, names in siblings.items():
        rest = [each for each in names if each != name and each not in worse]
        if rest:
            usual = tuple(each for each in names if each not in worse)
            if usual not in all_of:
                all_of[usual] = reduce(add, (seen[each] for each in usual))
            found[name] = compared_ages(seen[name], all_of[usual] - seen[name] if name in usual else all_of[usual])
    return found


def _beside_before(batches: _Batches, fitted: FittedUpTo) -> dict[tuple[str, str], tuple[str, Comparison]]:
    pairs = [
        (number, revision, older, compared(fitted.observed(revisions[revision]), fitted.observed(revisions[older])))
        for number, revisions in batches.items()
        for older, revision in pairwise(revisions)
    ]
    found = among([each for *_, each in pairs])
    return {(number, revision): (older, each) for (number, revision, older, _), each in zip(pairs, found, strict=True)}


def _part(
    number: str,
    revisions: Mapping[str, Sequence[str]],
    told: tuple[Production, FittedUpTo],
    beside: Mapping[str, Comparison],
    before: Mapping[tuple[str, str], tuple[str, Comparison]],
) -> PartHolding:
    production, fitted = told
    found = []
    for revision, names in reversed(list(revisions.items())):
        older, comparison = before.get((number, revision), (None, None))
        found.append(
            OfRevision(
                revision=revision,
                figures=figures_of(names, fitted),
                curve=holding_curve(fitted.observed(names)),
                batches=tuple(_batch(name, production, fitted, beside.get(name)) for name in names),
                before=older,
                beside_before=comparison,
                first_fitted=min(piece.fitted_on for piece in fitted.of(names)),
            )
        )
    every = [name for names in revisions.values() for name in names]
    return PartHolding(number=number, figures=figures_of(every, fitted), revisions=tuple(found))


def _batch(name: str, production: Production, fitted: FittedUpTo, beside: Comparison | None) -> OfBatch:
    stops = stops_of(name, production.batches[name], production, fitted.day)
    return OfBatch(name=name, figures=figures_of([name], fitted), beside_rest=beside, is_stopped=bool(stops))


def figures_of(batches: Sequence[str], fitted: FittedUpTo) -> HoldingFigures:
    """Of all pieces of these batches."""
    figures = figures_among(fitted.of(batches), fitted.day)
    return replace(figures, unpaired=sum(fitted.unpaired.get(name, 0) for name in batches))


def figures_among(pieces: Iterable[Piece], day: date) -> HoldingFigures:
    """Of these pieces as they stood at the end of `day`."""
    every = list(pieces)
    seen: list[Observation] = [piece.until(day) for piece in every]
    off = [piece.why for piece in every if piece.off_on and piece.off_on <= day]
    days, failed = sum(each.days for each in seen), sum(each.failed for each in seen)
    worn, broken = off.count(Why.WORN), off.count(Why.BROKEN)
    return HoldingFigures(
        pieces=len(every),
        in_use=len(every) - len(off),
        worn=worn,
        broken=broken,
        otherwise=len(off) - worn - broken,
        unpaired=0,
        days=days,
        rate=failures_a_year(failed, days),
    )
