"""Machines, and what each is qualified for: a material, by settings, as coupons have shown."""

from enum import StrEnum
from typing import Annotated

from pydantic import Field

from generator.records.base import Day, Id, Line, Name, Record, RelativeFile, Sha256


class CouponProperty(StrEnum):
    """What is measured on a coupon, with its unit."""

    TENSILE_STRENGTH = "tensile strength, MPa"
    TENSILE_STRENGTH_Z = "tensile strength across the layers, MPa"
    TENSILE_MODULUS = "tensile modulus, MPa"
    DENSITY = "density, g/cm3"
    DEVIATION = "deviation of a length, mm"
    """Measured less nominal."""


class SettingsFile(Record):
    """The file that the machine was run with."""

    file: RelativeFile
    """In machines/documents/, such as documents/fr-petg-02.txt."""
    sha256: Sha256


class Coupons(Record):
    """Coupons of one print, measured for one property."""

    on: Day
    """On which they were printed."""
    property: CouponProperty
    values: Annotated[tuple[float, ...], Field(min_length=1, max_length=100)]
    by: Id
    """Role that measured."""
    lot: Id | None = None
    reference: Line | None = None
    file: RelativeFile | None = None
    """The record of the measurement, in machines/documents/."""
    sha256: Sha256 | None = None


class Qualification(Record):
    """A machine with a material and settings."""

    material: Id
    settings: SettingsFile | None = None
    """Left out: whatever settings a part says."""
    qualified_on: Day
    valid_until: Day
    """Last day on which prints count as printed on a qualified machine."""
    by: Id
    """Role that judged it."""
    coupons: tuple[Coupons, ...] = ()
    """Oldest first: those of the qualification, and of each check since."""


class Machine(Record):
    """machines/<id>.yml; the file's name is the machine's id."""

    name: Name
    maker: Id
    """Which of makers.yml runs it."""
    qualifications: tuple[Qualification, ...] = ()
    """Oldest first; of several for a material the one counts that was given last, up to the day that is asked."""
