"""Which specimens are worth ordering: of each kind of test the thicknesses, and what each would answer."""

from collections import defaultdict
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from generator.planning.stabbing import Interval, fewest_from_thick, fewest_from_thin
from generator.planning.wanted_tests import KindOfTest, Stuck, Want, mass_of_specimen, meets, strictest
from generator.records.fire import Layers
from generator.records.materials import Material
from generator.records.standards import Method, ThicknessRule


@dataclass(slots=True)
class Open:
    """What is open of one part."""

    wants: list[Want] = field(default_factory=list)
    stuck: list[Stuck] = field(default_factory=list)
    why: list[str] = field(default_factory=list)

    @property
    def reasons(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys((*self.why, *(each.why for each in self.stuck if not each.is_of_paper))))

    @property
    def papers(self) -> list[Stuck]:
        """Rows that papers would answer, and a test as well where `want` says which."""
        return [each for each in self.stuck if each.is_of_paper]


@dataclass(frozen=True, slots=True)
class Option:
    """A specimen of another thickness, and the parts of which it would answer every open row of its kind."""

    thickness_mm: float
    parts: tuple[str, ...]
    limit: float | str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class FireTestOrder:
    """A test to order."""

    kind: KindOfTest
    method: Method
    thickness_mm: float | None
    mass_g: float | None
    layers: tuple[Layers, ...]
    colour: str
    lot_family: str
    limit: float | str | None
    """The hardest among all that it is to meet."""
    limits: tuple[tuple[float | str, int], ...]
    """Each limit and for how many parts it is asked, the hardest last."""
    parts: tuple[str, ...]
    """Of which it answers something."""
    frees: tuple[str, ...]
    """Which nothing else of fire keeps, by this test alone."""
    thicknesses: int
    """The fewest different ones that answer every open row of its kind."""
    options: tuple[Option, ...]
    """Every thickness that would answer for some parts, the hardest to pass first."""

    def answers(self, want: Want) -> bool:
        """Whether it would, once it has passed just at its limit."""
        limit, hardest = want.row.wanted.limit, self.limit
        if want.kind != self.kind or not want.is_answered_at(self.thickness_mm) or not want.layers <= set(self.layers):
            return False
        return limit is not None and hardest is not None and meets(hardest, limit, self.method)


def orders_for(parts: Mapping[str, Open], materials: Mapping[str, Material]) -> tuple[FireTestOrder, ...]:
    """Every test that could be worth ordering, those that free most first."""
    by_kind: dict[KindOfTest, list[tuple[str, Want]]] = defaultdict(list)
    for number, there in parts.items():
        for want in there.wants:
            by_kind[want.kind].append((number, want))
    orders = (each for kind in sorted(by_kind) for each in _orders_of(by_kind[kind], materials[kind.material]))
    found = (replace(each, frees=tuple(number for number in each.parts if is_free_by((each,), parts[number]))) for each in orders)
    return tuple(sorted(found, key=lambda each: (-len(each.frees), -len(each.parts), each.kind, each.thickness_mm or 0.0)))


def is_free_by(orders: Collection[FireTestOrder], there: Open) -> bool:
    """Whether these tests answer all that is open of a part, with no paper asked for."""
    open_to_tests = [*there.wants, *(each.want for each in there.papers)]
    return not there.reasons and all(want is not None and any(each.answers(want) for each in orders) for want in open_to_tests)


def _orders_of(asked: Sequence[tuple[str, Want]], material: Material) -> Iterator[FireTestOrder]:
    kind, method = asked[0][1].kind, asked[0][1].method
    fewest, candidates = _thicknesses(method, [want.may_be for _, want in asked if want.may_be])
    options = tuple(_option(each, asked) for each in candidates if each is not None)
    for thickness in _undominated(candidates, fewest, asked):
        answered = [(number, want) for number, want in asked if want.is_answered_at(thickness)]
        wants = [want for _, want in answered]
        yield FireTestOrder(
            kind=kind,
            method=method,
            thickness_mm=thickness,
            mass_g=mass_of_specimen(method) if method.thickness is ThicknessRule.BY_MASS else None,
            layers=tuple(sorted({layers for want in wants for layers in want.layers})),
            colour=material.colouring or "",
            lot_family=material.lot_family or "",
            limit=strictest(wants),
            limits=_limits(answered),
            parts=tuple(dict.fromkeys(number for number, _ in answered)),
            frees=(),
            thicknesses=len(fewest),
            options=options,
        )


def _thicknesses(method: Method, intervals: Sequence[Interval]) -> tuple[tuple[float | None, ...], tuple[float | None, ...]]:
    """The fewest that answer every row, and all that are worth a look: the ends of what each row allows."""
    if method.thickness is ThicknessRule.BY_MASS:
        return (None,), (None,)
    if method.thickness is ThicknessRule.THICKER:
        return fewest_from_thin(intervals), tuple(sorted({each.thickest() for each in intervals}))
    return fewest_from_thick(intervals), tuple(sorted({each.thinnest() for each in intervals}, reverse=True))


def _undominated(
    candidates: Sequence[float | None], fewest: Sequence[float | None], asked: Sequence[tuple[str, Want]]
) -> list[float | None]:
    """The thicknesses of which none answers all that another answers too, of equals the first."""
    if len(fewest) == 1:
        return list(fewest)
    answered = {each: frozenset(i for i, (_, want) in enumerate(asked) if want.is_answered_at(each)) for each in candidates}
    first = {rows: each for each, rows in reversed(answered.items())}
    return [each for rows, each in first.items() if not any(rows < other for other in first)]


def _option(thickness: float, asked: Sequence[tuple[str, Want]]) -> Option:
    not_answered = {number for number, want in asked if not want.is_answered_at(thickness)}
    wants = [(number, want) for number, want in asked if number not in not_answered]
    return Option(thickness, tuple(dict.fromkeys(number for number, _ in wants)), strictest(want for _, want in wants))


def _limits(answered: Sequence[tuple[str, Want]]) -> tuple[tuple[float | str, int], ...]:
    numbers: dict[float | str, set[str]] = defaultdict(set)
    left = {want.row.wanted.limit: want for _, want in answered}
    for number, want in answered:
        numbers[want.row.wanted.limit or 0.0].add(number)
    found: list[tuple[float | str, int]] = []
    while left:
        hardest = strictest(left.values())
        if hardest is None:
            break
        found.insert(0, (hardest, len(numbers[hardest])))
        del left[hardest]
    return tuple(found)
