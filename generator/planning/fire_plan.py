"""What to test next: the specimens that would answer what is open, by how many parts they would free.

Every row of every part at every place is asked anew (rules/fire/rows.py) with all papers that there are, bound by an
approval or not: a report that is there needs no test. A report that comes counts once an approval names it.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from generator.planning.best_tests import MOST_NODES, Best, OpenRows, best_sets
from generator.planning.fire_cases import Books, case_of, planned
from generator.planning.fire_orders import FireTestOrder, Open, is_free_by, orders_for
from generator.planning.wanted_tests import KindOfTest, Want, is_open, want_of
from generator.records.catalogue import Catalogue
from generator.records.fire import FireTest
from generator.rules.facts.case import Case, Copy
from generator.rules.facts.fields import OPEN
from generator.rules.facts.of_fire import FireFound, fire_found, reports_of
from generator.rules.fire.rows import Reports
from generator.rules.sheet import Sheet

MOST_TESTS = 12  # so many tests at once are more than a depot orders: common practice, no source
_FREE_AT_ONCE = 1_000_000  # a part that is freed by tests alone weighs more than all that want papers as well


@dataclass(frozen=True, slots=True)
class WaitingReport:
    """A report that would answer as it is, were its papers in order."""

    material: str
    report: FireTest
    why: tuple[str, ...]
    """Keys of `terms.fire_asked`; none where its end is not said."""
    parts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class StuckParts:
    """Parts that no test frees, and why: a key of `fire_tests.stuck`."""

    why: str
    material: str | None
    """That speaks of it; None of what was chosen for the place."""
    parts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ChosenTests:
    """The best set of so many tests, by their place among the orders."""

    orders: tuple[int, ...]
    frees: tuple[str, ...]
    with_papers: tuple[str, ...]
    """Which would then lack nothing but papers of a report."""
    at_most: int
    """No set of so many tests frees more."""

    @property
    def is_exact(self) -> bool:
        return len(self.frees) >= self.at_most


@dataclass(frozen=True, slots=True)
class FirePlan:
    orders: tuple[FireTestOrder, ...]
    best: tuple[ChosenTests, ...]
    """For one test, two, and so on, up to all that can be freed; none that frees no more than a smaller one."""
    papers: tuple[WaitingReport, ...]
    kept: tuple[StuckParts, ...]
    open_parts: int
    """How many parts have anything open of fire."""


def fire_plan(sheets: Iterable[Sheet], catalogue: Catalogue, copy: Copy, nodes: int = MOST_NODES) -> FirePlan:
    """What to test next. Withdrawn and superseded parts, and those whose record cannot be read, ask for nothing.

    nodes: how much is tried before a search for the best set is cut short, see best_tests.py.
    """
    parts = dict(_open_parts(sheets, catalogue, copy))
    orders = orders_for(parts, catalogue.materials)
    return FirePlan(
        orders=orders,
        best=_best(parts, orders, nodes),
        papers=_papers(parts),
        kept=_kept(parts),
        open_parts=len(parts),
    )


def _open_parts(sheets: Iterable[Sheet], catalogue: Catalogue, copy: Copy) -> Iterator[tuple[str, Open]]:
    books = Books.of(catalogue, copy)
    known: dict[str, Reports] = {}
    for sheet, part in planned(sheets):
        case, there = case_of(sheet, part, books), Open()
        for fit in part.fits:
            _add(there, fire_found(case, fit, case.basis(fit)), case, known)
        if there.wants or there.stuck or there.why:
            yield sheet.number, there


def _add(there: Open, found: FireFound, case: Case, known: dict[str, Reports]) -> None:
    """What is open at one place."""
    day = case.copy.built_on
    if found.need is None:
        there.why.append("no set")
    elif found.kind == "statement" and found.until is not OPEN and (found.until is None or found.until < day):
        there.why.append("statement")
    elif not found.rows and found.until is None:
        there.why.append("no row")
    for row in found.rows:
        if is_open(row, day):
            name = row.asked.material
            known[name] = known.get(name) or reports_of(case, name, case.catalogue.materials.get(name))
            want = want_of(row, known[name], case.catalogue.standard, day)
            there.wants.append(want) if isinstance(want, Want) else there.stuck.append(want)


def _best(parts: Mapping[str, Open], orders: Sequence[FireTestOrder], nodes: int) -> tuple[ChosenTests, ...]:
    """A part counts where tests alone free it; among sets that are equal so, where tests and papers together do."""
    of_kind: defaultdict[KindOfTest, list[tuple[int, FireTestOrder]]] = defaultdict(list)
    for i, order in enumerate(orders):
        of_kind[order.kind].append((i, order))
    weights: Counter[tuple[frozenset[int], ...]] = Counter()
    for there in parts.values():
        if there.wants and not there.reasons:
            rows = _answering(there.wants, of_kind)
            weights[rows] += 1
            by_tests = _answering([*there.wants, *(each.want for each in there.papers)], of_kind)
            if frozenset() not in by_tests:
                weights[by_tests] += _FREE_AT_ONCE
    wishes = [OpenRows(weight, rows) for rows, weight in weights.items()]
    found = (_chosen(best, orders, parts) for best in best_sets(wishes, MOST_TESTS, nodes))
    return tuple(_better(found))


def _better(found: Iterable[ChosenTests]) -> Iterator[ChosenTests]:
    """Those that free more than the one before, and the last where more than it found is not ruled out."""
    before, last = (0, 0), None
    for each in found:
        freed = len(each.frees), len(each.with_papers) + len(each.frees)
        last = each
        if freed > before:
            before, last = freed, None
            yield each
    if last and not last.is_exact:
        yield last


def _answering(wants: Iterable[Want | None], of_kind: Mapping[KindOfTest, Sequence[tuple[int, FireTestOrder]]]) -> tuple[frozenset[int], ...]:
    """For each open row the orders that would answer it; rows of the same answers once, and none that follows from another."""
    rows = {frozenset(i for i, order in of_kind[want.kind] if order.answers(want)) if want else frozenset() for want in wants}
    return tuple(sorted((row for row in rows if not any(other < row for other in rows)), key=sorted))


def _chosen(best: Best, orders: Sequence[FireTestOrder], parts: Mapping[str, Open]) -> ChosenTests:
    tests = [orders[i] for i in best.tests]
    hopeful = {number: there for number, there in parts.items() if there.wants and not there.reasons}
    freed = [number for number, there in hopeful.items() if all(any(each.answers(want) for each in tests) for want in there.wants)]
    at_once = [number for number in freed if is_free_by(tests, parts[number])]
    return ChosenTests(
        orders=best.tests,
        frees=tuple(at_once),
        with_papers=tuple(number for number in freed if number not in at_once),
        at_most=best.at_most // _FREE_AT_ONCE,
    )


def _papers(parts: Mapping[str, Open]) -> tuple[WaitingReport, ...]:
    found: dict[tuple[str, str], tuple[FireTest, dict[str, None], dict[str, None]]] = {}
    for number, there in parts.items():
        for row in (each.row for each in there.stuck if each.is_of_paper):
            if row.report:
                key = row.asked.material, row.report.sha256
                _, why, numbers = found.setdefault(key, (row.report, {}, {}))
                why.update(dict.fromkeys(row.why))
                numbers[number] = None
    papers = (WaitingReport(material, report, tuple(why), tuple(numbers)) for (material, _), (report, why, numbers) in found.items())
    return tuple(sorted(papers, key=lambda each: (-len(each.parts), each.material, each.report.report)))


def _kept(parts: Mapping[str, Open]) -> tuple[StuckParts, ...]:
    found: dict[tuple[str, str], dict[str, None]] = defaultdict(dict)
    for number, there in parts.items():
        for why in there.why:
            found[why, ""][number] = None
        for each in there.stuck:
            if not each.is_of_paper:
                found[each.why, each.row.asked.material][number] = None
    return tuple(StuckParts(why, material or None, tuple(numbers)) for (why, material), numbers in sorted(found.items()))
