"""What was tested of a material, besides fire: the proof that it stands what a place asks."""

import math
from typing import Annotated

from pydantic import BeforeValidator, model_validator

from generator.records.base import Day, Line, Name, Record, RelativeFile, Sha256
from generator.records.environment import CLASSES, LIMITS, UNITS, Property, VandalClass
from generator.records.placeholders import names_nothing
from generator.records.problems import Unfit


def _number_or_name(written: object) -> object:
    """One message in place of one for each kind that it is not."""
    is_number = isinstance(written, int | float) and not isinstance(written, bool) and math.isfinite(written)
    if written is None or is_number or (isinstance(written, str) and 0 < len(written.strip()) <= 80):
        return written
    raise Unfit("no value")


class Proof(Record):
    """One property of the material as it was tested."""

    property: Property
    """What was tested; the names are those of `environment` in fleets.yml."""
    method: Line
    """Standard and part by which it was tested, such as 'ISO 4892-2, method A'."""
    value: Annotated[float | Name | None, BeforeValidator(_number_or_name)] = None
    """Up to which number, which class or with which agent; left out for sun, oil, water and antistatic."""
    unit: Name | None = None
    """'°C' of temperatures, 'mm' of creepage distance; left out for all others."""
    passed: bool
    """Whether the material stood it; what failed is told too, and counts against it."""
    conditions: Line | None = None
    """Of the test, such as '1,000 h, plates of 2 mm'."""
    tested_on: Day
    file: RelativeFile
    sha256: Sha256

    @model_validator(mode="after")
    def _says_one_thing(self) -> "Proof":
        if self.property in UNITS:
            self._is_a_number(UNITS[self.property])
        elif self.unit is not None:
            raise Unfit("no unit there", property=self.property, unit=self.unit)
        elif self.property in CLASSES:
            self._is_a_class([each.value for each in CLASSES[self.property]])
        elif self.property is Property.CLEANING_AGENTS:
            if not isinstance(self.value, str) or names_nothing(self.value):
                raise Unfit("no agent")
        elif self.value is not None:
            raise Unfit("no value there", property=self.property)
        return self

    def _is_a_number(self, unit: str) -> None:
        if not isinstance(self.value, float):
            raise Unfit("no number there", property=self.property)
        if self.unit is None:
            raise Unfit("no unit", property=self.property, wanted=unit)
        if self.unit != unit:
            raise Unfit("other unit", property=self.property, unit=self.unit, wanted=unit)
        least, most = LIMITS[self.property]
        if not least <= self.value <= most:
            raise Unfit("cannot be", property=self.property, value=self.value, least=least, most=most, unit=unit)

    def _is_a_class(self, classes: list[str]) -> None:
        wanted = [each for each in classes if each != VandalClass.NONE]
        if self.value not in wanted:
            raise Unfit("no such class", property=self.property, value=str(self.value), choices=tuple(wanted))
