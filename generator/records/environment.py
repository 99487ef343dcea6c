"""What a place asks of the material that sits there: heat, cold, sun, agents, hands, shock, electricity."""

from enum import StrEnum
from typing import Annotated, Any

from pydantic import AfterValidator, Field, model_validator

from generator.records.base import Name, Record, as_compared
from generator.records.placeholders import names_nothing
from generator.records.problems import Unfit


class Property(StrEnum):
    """What a place can ask and a proof can show; the names of the fields of `Environment`."""

    HOTTEST = "hottest_c"
    COLDEST = "coldest_c"
    SUN = "sun"
    CLEANING_AGENTS = "cleaning_agents"
    OIL = "oil"
    WATER = "water"
    VANDAL_CLASS = "vandal_class"
    SHOCK_VIBRATION = "shock_vibration"
    CREEPAGE = "creepage_mm"
    ANTISTATIC = "antistatic"


class VandalClass(StrEnum):
    """What hands may do to it, the harder the later; each has all before it in it. Common practice, no source."""

    NONE = "none"
    """Out of reach, such as behind a locked cover: no demand."""
    TOUCHED = "touched"
    """Hands come by: scratched, written on, wiped."""
    HANDLED = "handled"
    """Pulled, leaned on and knocked every day, such as knobs and handles."""
    ATTACKED = "attacked"
    """Where nobody watches: kicked, levered off, burnt with a lighter."""


class VibrationClass(StrEnum):
    """Category and class of EN 61373; their order stands in rules/standards.py."""

    BODY_A = "1A"
    """On the car body, and cubicles themselves."""
    BODY_B = "1B"
    """In a cubicle on the car body."""
    BOGIE = "2"
    AXLE = "3"


# Common practice, no source: no surface of a vehicle that carries a printed part is hotter or colder; what lies outside
# was typed in kelvin or degrees Fahrenheit, or with a sign too many.
LIMITS = {Property.HOTTEST: (0.0, 250.0), Property.COLDEST: (-80.0, 60.0), Property.CREEPAGE: (0.1, 500.0)}
UNITS = {Property.HOTTEST: "°C", Property.COLDEST: "°C", Property.CREEPAGE: "mm"}
"""Of what is a number, the one unit in which it is given."""


def _within(limits: tuple[float, float]) -> Any:
    return Field(ge=limits[0], le=limits[1])


Hottest = Annotated[float, _within(LIMITS[Property.HOTTEST])]
Coldest = Annotated[float, _within(LIMITS[Property.COLDEST])]
Creepage = Annotated[float, _within(LIMITS[Property.CREEPAGE])]


def _agent(name: str) -> str:
    if names_nothing(name):
        raise Unfit("no agent")
    return name


Agent = Annotated[Name, AfterValidator(_agent)]
"""A cleaning agent by its name; an agent is another where its name or its strength is."""


def _each_agent_once(agents: tuple[str, ...]) -> tuple[str, ...]:
    seen: set[str] = set()
    for agent in agents:
        if as_compared(agent) in seen:
            raise Unfit("twice", entry=agent, field="name")
        seen.add(as_compared(agent))
    return agents


class Environment(Record):
    """What a place asks of the material; what is left out, and `false`, is no demand."""

    hottest_c: Hottest | None = None
    """The hottest that the surface of a part gets there, in °C."""
    coldest_c: Coldest | None = None
    """The coldest, in °C."""
    sun: bool = False
    """Whether daylight falls on it for years."""
    cleaning_agents: Annotated[tuple[Agent, ...], AfterValidator(_each_agent_once)] = ()
    """What it is cleaned with, each by its name and strength, such as 'alkaline foam cleaner, 3 %'."""
    oil: bool = False
    """Whether oil or grease comes to it."""
    water: bool = False
    """Whether water stands on it or splashes it."""
    vandal_class: VandalClass = VandalClass.NONE
    """What hands may do to it (none, touched, handled, attacked)."""
    shock_vibration: VibrationClass | None = None
    """Category and class of EN 61373: '1A', '1B', '2' or '3'."""
    creepage_mm: Creepage | None = None
    """The least creepage distance over the part's surface that the insulation needs there."""
    antistatic: bool = False
    """Whether the part must not charge itself up."""

    @model_validator(mode="after")
    def _is_not_upside_down(self) -> "Environment":
        if self.hottest_c is not None and self.coldest_c is not None and self.hottest_c < self.coldest_c:
            raise Unfit("hottest below coldest", hottest=self.hottest_c, coldest=self.coldest_c)
        return self



CLASSES: dict[Property, type[VandalClass] | type[VibrationClass]] = {
    Property.VANDAL_CLASS: VandalClass,
    Property.SHOCK_VIBRATION: VibrationClass,
}
