"""Does it hold? The section of a part's page."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

from markupsafe import Markup

from generator.pages.holding.curve_svg import CurveWords, NamedCurve, curve_svg
from generator.pages.holding.lines import (
    advice_words,
    beside_words,
    counts_words,
    out_words,
    rate_words,
    revision_words,
    said_words,
    trial_head,
    trial_words,
    two_digits,
    unpaired_words,
)
from generator.pages.printed.views import batch_page, link
from generator.pages.wording import Wording
from generator.planning.holding.curve import Curve
from generator.planning.holding.parts import HoldingFigures, OfBatch, OfRevision, PartHolding
from generator.planning.holding.rate import DAYS_A_YEAR
from generator.planning.holding.whole import Holds


@dataclass(frozen=True, slots=True, kw_only=True)
class HoldingRow:
    """A revision or batch: what was fitted of it, how often it fails, and how it holds beside the rest."""

    name: str
    fitted: str
    rate: str
    beside: str
    stands_out: bool
    page: str
    """Of the batch, as seen from the part's page; empty of a revision."""
    stopped: str = ""
    """That it is called back, where it is."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnCurve:
    drawing: Markup
    caption: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialView:
    head: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class HoldsView:
    counts: str
    says: str
    """Empty without pieces, as `counts`."""
    unpaired: str | None
    out: tuple[str, ...]
    beside_before: tuple[str, ...]
    drawn: tuple[DrawnCurve, ...]
    revisions: tuple[HoldingRow, ...]
    """Only where there is more than one."""
    batches: tuple[HoldingRow, ...]
    trials: tuple[TrialView, ...]
    advice: tuple[str, ...]


def holds_view(holds: Holds | None, w: Wording, stopped: Mapping[str, str] = MappingProxyType({})) -> HoldsView | None:
    """None where nothing of the part was fitted or tried. stopped: what is said of batches that are not to be fitted, by their names."""
    if holds is None:
        return None
    part = holds.part
    revisions = part.revisions if part else ()
    out = out_words(part, w) if part else ()
    beside = [said for each in revisions if (said := revision_words(each, w)) and said not in out]
    return HoldsView(
        counts=counts_words(part.figures, w) if part else "",
        says=said_words(part.figures, w) if part else "",
        unpaired=unpaired_words(part.figures, w) if part else None,
        out=out,
        beside_before=tuple(beside),
        drawn=tuple(_drawn(part, w)) if part else (),
        revisions=tuple(_row(w("holds.revision_of", revision=each.revision), each.figures, w) for each in revisions) if len(revisions) > 1 else (),
        batches=tuple(_batches(revisions, w, stopped)),
        trials=tuple(TrialView(head=trial_head(each, w), lines=trial_words(each, w)) for each in holds.trials),
        advice=advice_words(holds.advice, w) if holds.advice else (),
    )


def _batches(revisions: tuple[OfRevision, ...], w: Wording, stopped: Mapping[str, str]) -> Iterator[HoldingRow]:
    for revision in revisions:
        for each in reversed(revision.batches):
            yield replace(_row(each.name, each.figures, w, each), stopped=stopped.get(each.name, ""))


def _row(name: str, figures: HoldingFigures, w: Wording, batch: OfBatch | None = None) -> HoldingRow:
    return HoldingRow(
        name=name,
        fitted=counts_words(figures, w),
        rate=rate_words(figures, w),
        beside=beside_words(batch, w) if batch else "",
        stands_out=batch is not None and batch.stands_out,
        page=link(batch_page(name)) if batch else "",
    )


def _drawn(part: PartHolding, w: Wording) -> Iterator[DrawnCurve]:
    """The newest revision, beside the one before where both were fitted; each batch that stands out, beside the rest."""
    newest = part.revisions[0]
    kinds = [(w("holds.revision_of", revision=newest.revision), newest.curve)]
    if newest.beside_before and newest.before:
        kinds.append((w("holds.revision_of", revision=newest.before), newest.beside_before.theirs))
    pairs = [kinds, *([(f"{w('holds.batch')} {each.name}", each.beside_rest.ours), (w("holds.curve.rest"), each.beside_rest.theirs)] for each in part.standing_out if each.beside_rest)]
    for each in pairs:
        if any(curve.failed for _, curve in each) and (drawing := curve_svg([_group(*kind, w) for kind in each], _words(each, w))):
            yield DrawnCurve(drawing=drawing, caption=_caption([name for name, _ in each], w))


def _group(name: str, curve: Curve, w: Wording) -> NamedCurve:
    said = w("holds.curve.one", name=name, pieces=w.count("holds.pieces", curve.pieces), failed=w.number(curve.failed))
    return NamedCurve(name=said, curve=curve)


def _caption(names: list[str], w: Wording) -> str:
    return w("holds.curve.caption", ours=names[0], theirs=names[1] if len(names) > 1 else None)


def _words(kinds: list[tuple[str, Curve]], w: Wording) -> CurveWords:
    groups = "; ".join(_told(name, curve, w) for name, curve in kinds)
    keys = ("share", "months", "years", "at_risk")
    return CurveWords(label=w("holds.curve.label", groups=groups), **{key: w(f"holds.curve.{key}") for key in keys})


def _told(name: str, curve: Curve, w: Wording) -> str:
    last = curve.step(curve.longest)
    low, high = (w.number(100 * bound) if bound is not None else None for bound in ((last.low, last.high) if last else (None, None)))
    return w(
        "holds.curve.group",
        name=name, pieces=w.count("holds.pieces", curve.pieces), failed=w.number(curve.failed),
        months=two_digits(curve.longest / DAYS_A_YEAR * 12, w), share=w.number(100 * curve.share(curve.longest)), low=low, high=high,
    )  # fmt: skip
