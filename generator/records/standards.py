"""Tables of the fire standard as a data file: what it asks, by which method, and how sure we are of each figure.

The tool advises; a person who holds the standard decides. A depot that holds it writes its own file.
"""

from enum import StrEnum
from itertools import pairwise
from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from generator.records.base import Line, Name, NotNegative, Record, each_once
from generator.records.fire import HazardLevel, RequirementSet, TestCode
from generator.records.fleets import Area
from generator.records.problems import Unfit


class Certainty(StrEnum):
    """How a figure came here."""

    READ = "read in the standard itself"
    AGREED = "two sources agree"
    SECONDARY = "read in a secondary source"
    FROM_MEMORY = "from memory"
    UNSURE = "from memory, unsure"


class Sense(StrEnum):
    """Whether a result must reach its limit, or may not pass it."""

    LEAST = "least"
    MOST = "most"


class ThicknessRule(StrEnum):
    """Which part thicknesses a tested specimen speaks of."""

    THICKER = "covers thicker"
    THINNER = "covers thinner"
    BY_MASS = "by mass"


Difference = Literal["edition", "process", "colour", "lot family", "infill", "layers", "accreditation", "acceptance"]


class Method(Record):
    """A test of the standard."""

    test: TestCode
    method: Line
    """Standard and part, such as EN ISO 5659-2."""
    also: tuple[Line, ...] = ()
    """Other names that reports give it."""
    quantity: Name
    """What is measured, such as 'smoke, Ds max at 25 kW/m² with pilot flame'."""
    unit: Annotated[str, Field(max_length=20)]
    limit_is: Sense
    plausible: tuple[float, float] | None = None
    """What is better than this cannot be: 290 for an oxygen index, in percent. What is worse is believed, and fails."""
    classes: tuple[Line, ...] = ()
    """Of a test that gives a class: the classes, best first; all else is no result."""
    thickness: ThicknessRule
    specimen_mass_g: tuple[float, float] | None = None
    """Least and most, where the method goes by mass."""
    no_matter: tuple[Difference, ...] = ()
    """Differences between specimen and part that may be, without asking."""
    certainty: Certainty

    @model_validator(mode="after")
    def _has_a_scale(self) -> Self:
        if (self.plausible is None) == (not self.classes):
            raise Unfit("scale")
        return self


Asked = float | Line


class Limit(Record):
    """What one set asks by one test, at each hazard level; "-" is no requirement."""

    test: TestCode
    HL1: Asked
    HL2: Asked
    HL3: Asked
    certainty: Certainty | dict[HazardLevel, Certainty]
    source: Line

    def at(self, level: HazardLevel) -> Asked | None:
        """The limit at a level; None where nothing is asked."""
        asked: Asked = getattr(self, level.value)
        return None if asked == "-" else asked

    def certainty_at(self, level: HazardLevel) -> Certainty:
        """How sure the figure of a level is; one that nothing is said of is unsure."""
        if isinstance(self.certainty, Certainty):
            return self.certainty
        return self.certainty.get(level, Certainty.UNSURE)


class SetOfLimits(Record):
    """A requirement set."""

    set: RequirementSet
    says: Line
    """What it is for."""
    areas: Annotated[tuple[Area, ...], Field(min_length=1)]
    listed_only: bool = False
    """Whether only products that Table 2 lists under it may use it, as cables and brake hoses."""
    limits: tuple[Limit, ...] = ()
    """None where we hold no figures: nothing is known to pass, then."""
    certainty: Certainty
    source: Line


class Product(Record):
    """A product that Table 2 lists."""

    product: Line
    name: Line
    sets: Annotated[tuple[RequirementSet, ...], Field(min_length=1)]
    certainty: Certainty
    source: Line


class MassStep(Record):
    """What a group of products that are not listed needs, up to a combustible mass."""

    areas: Annotated[tuple[Area, ...], Field(min_length=1)]
    below_g: NotNegative | None = None
    """The step holds below this; equality counts as over. None is the last step."""
    set: RequirementSet | None = None
    """None is no test."""


class SmallParts(Record):
    """The rules of clause 4 for products that Table 2 does not list."""

    clause: Line
    alone_below_g: NotNegative
    """A single product below this, touching nothing that is not classified, needs nothing."""
    near_across_mm: NotNegative
    near_up_mm: NotNegative
    small_area_m2: NotNegative
    """From this exposed area on the surface sets are asked, whatever the mass."""
    surface_sets: dict[Area, RequirementSet]
    steps: Annotated[tuple[MassStep, ...], Field(min_length=1)]
    electrotechnical_sets: tuple[RequirementSet, ...] = ()
    certainty: Certainty
    source: Line


class Edition(Record):
    edition: Line
    sets: Annotated[int, Field(ge=1, le=28)]
    """R1 up to this number."""


def _can_be(limit: Asked, method: Method) -> bool:
    if method.classes:
        return isinstance(limit, str) and limit in method.classes
    if method.plausible is None or not isinstance(limit, int | float):
        return False
    return method.plausible[0] <= limit <= method.plausible[1]


class FireStandard(Record):
    """standards/<name>.yml"""

    standard: Name
    editions: Annotated[tuple[Edition, ...], Field(min_length=1), each_once("edition")]
    """Oldest first."""
    limits_of: Annotated[tuple[Line, ...], Field(min_length=1)]
    """The editions that the figures below are of."""
    clause: Line
    note: Line
    """How the figures came here, in a sentence."""
    sources: dict[str, Line]
    methods: Annotated[tuple[Method, ...], each_once("test")]
    sets: Annotated[tuple[SetOfLimits, ...], each_once("set")]
    products: Annotated[tuple[Product, ...], each_once("product")]
    small_parts: SmallParts

    @model_validator(mode="after")
    def _fits_together(self) -> Self:
        known = {each.edition for each in self.editions}
        if not known.issuperset(self.limits_of):
            raise Unfit("unknown edition", known=tuple(sorted(known)))
        tests = {each.test for each in self.methods}
        strange = [limit.test for each in self.sets for limit in each.limits if limit.test not in tests]
        if strange:
            raise Unfit("no method", tests=tuple(strange))
        for each in self.sets:
            self._limits_can_be(each)
        return self

    def _limits_can_be(self, held: "SetOfLimits") -> None:
        """Each test once, each limit one that can be, and none kinder at a higher level."""
        told = [limit.test for limit in held.limits]
        twice = next((test for test in told if told.count(test) > 1), None)
        if twice:
            raise Unfit("test twice", set=held.set, test=twice)
        for limit in held.limits:
            method = self.method(limit.test)
            asked = [(level, limit.at(level)) for level in HazardLevel]
            for level, value in asked:
                if method and value is not None and not _can_be(value, method):
                    raise Unfit("limit cannot be", set=held.set, test=limit.test, level=level.value, limit=str(value))
            known = [(level, value) for level, value in asked if isinstance(value, int | float)]
            for (_, lower), (level, higher) in pairwise(known):
                if method and (higher < lower if method.limit_is is Sense.LEAST else higher > lower):
                    raise Unfit("kinder above", set=held.set, test=limit.test, level=level.value)

    @property
    def newest(self) -> str:
        """The newest edition that the figures are of."""
        return self.limits_of[-1]

    def method(self, test: str) -> Method | None:
        return next((each for each in self.methods if each.test == test), None)

    def set_of(self, name: str) -> SetOfLimits | None:
        return next((each for each in self.sets if each.set == name), None)

    def product(self, number: str) -> Product | None:
        return next((each for each in self.products if each.product == number), None)
