"""What to test next: the specialist's shopping list of fire tests, in words."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from generator.pages.around import Around
from generator.pages.fire.of_standard import standard_words
from generator.pages.marks import front_matter, rendered
from generator.pages.outputs import Page
from generator.pages.wording import Wording
from generator.planning.fire_orders import FireTestOrder
from generator.planning.fire_plan import ChosenTests, FirePlan, StuckParts, WaitingReport, fire_plan
from generator.records.catalogue import Catalogue
from generator.records.standards import Sense, ThicknessRule
from generator.rules.facts.case import Copy
from generator.rules.sheet import Sheet

_MOST_LINKS = 12
_MOST_OPTIONS = 5


@dataclass(frozen=True, slots=True)
class PartLink:
    number: str
    page: str


@dataclass(frozen=True, slots=True)
class PartList:
    """How many parts, the first of them, and how many more there are."""

    count: str
    lines: tuple[PartLink, ...]
    more: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class BestLine:
    how_many: str
    which: str
    cut: str | None
    count: str
    frees: str
    with_papers: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class FireTestLine:
    """A test to order, in words; `number` is how the other table names it."""

    number: str
    test: str
    of: str
    method: str
    specimen: tuple[str, ...]
    limits: tuple[str, ...]
    options: tuple[str, ...]
    parts: PartList
    frees: str


@dataclass(frozen=True, slots=True, kw_only=True)
class WaitingReportLine:
    report: str
    material: str
    why: str
    parts: PartList


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptLine:
    why: str
    material: str | None
    parts: PartList


def fire_tests_page(around: Around, sheets: tuple[Sheet, ...], day: date) -> Page:
    """The page of what to test next on `day`."""
    w, catalogue = around.w, around.catalogue
    plan = fire_plan(sheets, catalogue, Copy(day, around.depot.max_copy_age_days))
    title = w("fire_tests.title")
    text = rendered(
        "fire_tests/fire_tests.md.j2",
        w=w,
        title=front_matter(title),
        day=w.day(day),
        open=open_words(plan, w),
        best=tuple(_best_line(each, around) for each in plan.best),
        orders=tuple(_order_line(i, each, around) for i, each in enumerate(plan.orders, 1)),
        papers=tuple(_paper_line(each, around) for each in plan.papers),
        kept=tuple(_kept_line(each, around) for each in plan.kept),
    )
    return Page(path="fire-tests.md", title=title, template=None, text=text)


def open_words(plan: FirePlan, w: Wording) -> str:
    return w.count("fire_tests.open", plan.open_parts) if plan.open_parts else w("fire_tests.nothing_open")


def _best_line(chosen: ChosenTests, around: Around) -> BestLine:
    w = around.w
    return BestLine(
        how_many=w.count("fire_tests.bought", len(chosen.orders)),
        which=which_words(chosen, w),
        cut=cut_words(chosen, w),
        count=_count(chosen.frees, w),
        frees=numbers_words(chosen.frees, w) if chosen.frees else "",
        with_papers=with_papers_words(chosen, w),
    )


def which_words(chosen: ChosenTests, w: Wording) -> str:
    """The numbers of the tests in the list."""
    return w("list_separator").join(str(i + 1) for i in chosen.orders)


def cut_words(chosen: ChosenTests, w: Wording) -> str | None:
    """That another choice is not ruled out; None where each is."""
    return None if chosen.is_exact else w("fire_tests.cut", at_most=w.number(chosen.at_most))


def with_papers_words(chosen: ChosenTests, w: Wording) -> str | None:
    return w("fire_tests.with_papers", parts=numbers_words(chosen.with_papers, w)) if chosen.with_papers else None


def _order_line(number: int, order: FireTestOrder, around: Around) -> FireTestLine:
    w = around.w
    return FireTestLine(
        number=w.number(number),
        test=test_words(order, w),
        of=of_words(order, around.catalogue, w),
        method=method_words(order, w),
        specimen=specimen_words(order, w),
        limits=limit_words(order, w),
        options=option_words(order, w),
        parts=_parts(order.parts, around),
        frees=frees_words(order, w),
    )


def method_words(order: FireTestOrder, w: Wording) -> str:
    return w("fire_tests.method", method=order.method.method, edition=order.kind.edition)


def test_words(order: FireTestOrder, w: Wording) -> str:
    quantity = standard_words(order.method.quantity, w)
    return w("fire_tests.test_name", test=order.kind.test, quantity=quantity)


def of_words(order: FireTestOrder, catalogue: Catalogue, w: Wording) -> str:
    name = catalogue.materials[order.kind.material].name
    return w("fire_tests.of", material=name, process=w.term("process", order.kind.process))


def specimen_words(order: FireTestOrder, w: Wording) -> tuple[str, ...]:
    """Everything that the laboratory has to know of the specimen."""
    said = [w("fire_tests.colour", colour=order.colour), w("fire_tests.lot_family", lot_family=order.lot_family)]
    if order.mass_g is not None:
        return (w("fire_tests.mass", mass=w.measure(order.mass_g)), *said)
    thick = w("fire_tests.thickness", thickness=w.measure(order.thickness_mm or 0.0))
    layers = " ".join(sorted(order.layers, reverse=True))  # along, then across
    return (thick, *said, w("fire_tests.solid"), *([w(f"fire_tests.layers.{layers}")] if layers else []))


def limit_words(order: FireTestOrder, w: Wording) -> tuple[str, ...]:
    """The hardest limit first; what less would do, and for how many parts."""
    *easier, (hardest, _) = order.limits
    some = [
        w("fire_tests.for_some", **_limit(limit, order, w), parts=w.count("fire_tests.parts", count))
        for limit, count in reversed(easier)
    ]
    key = "class" if order.method.classes else "least" if order.method.limit_is is Sense.LEAST else "most"
    return (w(f"fire_tests.{key}", **_limit(hardest, order, w)), *some)


def _limit(limit: float | str, order: FireTestOrder, w: Wording) -> dict[str, str | None]:
    unit = None if order.method.classes or order.method.unit == "-" else order.method.unit
    return {"limit": limit if isinstance(limit, str) else w.measure(limit), "unit": unit}


def option_words(order: FireTestOrder, w: Wording) -> tuple[str, ...]:
    """That more than one thickness is needed, and for how many parts an easier specimen would do."""
    fewest = [w("fire_tests.fewest", n=w.number(order.thicknesses))] if order.thicknesses > 1 else []
    other = [each for each in order.options if each.thickness_mm != order.thickness_mm][:_MOST_OPTIONS]
    if not other:
        return tuple(fewest)
    key = "options_thicker" if order.method.thickness is ThicknessRule.THICKER else "options_thinner"
    said = (
        w("fire_tests.option", thickness=w.measure(each.thickness_mm), parts=w.count("fire_tests.parts", len(each.parts)))
        for each in other
    )
    return (*fewest, w(f"fire_tests.{key}", options=tuple(said)))


def frees_words(order: FireTestOrder, w: Wording) -> str:
    return w("fire_tests.frees_alone", parts=numbers_words(order.frees, w))


def numbers_words(numbers: Sequence[str], w: Wording) -> str:
    """The first numbers and how many more there are."""
    if not numbers:
        return w("fire_tests.no_part")
    more = [w("fire_tests.more", n=w.number(len(numbers) - _MOST_LINKS))] if len(numbers) > _MOST_LINKS else []
    return w("list_separator").join([*numbers[:_MOST_LINKS], *more])


def _paper_line(paper: WaitingReport, around: Around) -> WaitingReportLine:
    return WaitingReportLine(
        report=paper.report.report,
        material=around.catalogue.materials[paper.material].name,
        why=paper_words(paper, around.w),
        parts=_parts(paper.parts, around),
    )


def paper_words(paper: WaitingReport, w: Wording) -> str:
    said = [w.term("fire_asked", each) for each in paper.why] or [w("fire_tests.until_unsaid")]
    return w("list_separator").join(said)


def _kept_line(kept: StuckParts, around: Around) -> KeptLine:
    return KeptLine(
        why=around.w(f"fire_tests.stuck.{kept.why}"),
        material=material_words(kept, around.catalogue),
        parts=_parts(kept.parts, around),
    )


def material_words(kept: StuckParts, catalogue: Catalogue) -> str | None:
    """The material's name, or its id where the catalogue lacks it."""
    known = catalogue.materials.get(kept.material or "")
    return known.name if known else kept.material


def _parts(numbers: Sequence[str], around: Around) -> PartList:
    w = around.w
    shown = numbers[:_MOST_LINKS]
    links = tuple(PartLink(each, f"parts/{around.found.by_number[each]}.html") for each in shown)
    more = w("fire_tests.more", n=w.number(len(numbers) - len(shown))) if len(numbers) > len(shown) else None
    return PartList(_count(numbers, w), links, more)


def _count(numbers: Sequence[str], w: Wording) -> str:
    return w.count("fire_tests.parts", len(numbers)) if numbers else w("fire_tests.no_part")
