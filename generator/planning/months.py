"""A month of the calendar."""

from dataclasses import dataclass
from datetime import date, timedelta


@dataclass(frozen=True, slots=True, order=True)
class Month:
    """A month of the calendar."""

    year: int
    number: int
    """From 1."""

    @classmethod
    def of(cls, day: date) -> "Month":
        return cls(day.year, day.month)

    @property
    def first(self) -> date:
        return date(self.year, self.number, 1)

    @property
    def following(self) -> "Month":
        return Month(self.year + self.number // 12, self.number % 12 + 1)

    @property
    def before(self) -> "Month":
        return Month.of(self.first - timedelta(days=1))

    @property
    def last(self) -> date:
        return self.following.first - timedelta(days=1)

    def __str__(self) -> str:
        """As ISO 8601 writes it, such as 2026-10."""
        return f"{self.year:04}-{self.number:02}"
