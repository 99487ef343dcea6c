"""Which numbers and assembly does a part replace, and what does printing it save?"""

from dataclasses import dataclass

from generator.pages.reports.saved import ahead_words
from generator.pages.wording import Wording
from generator.planning.money import cents, exact
from generator.planning.saving.ahead import Ahead
from generator.records.depot import Depot
from generator.records.parts import OldNumber, Part


@dataclass(frozen=True, slots=True, kw_only=True)
class OldNumberLine:
    number: str
    kind: str
    note: str
    price: str
    """What one piece cost by itself; empty where nobody says."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Replaces:
    numbers: tuple[OldNumberLine, ...]
    assembly: str
    """What once had to be bought whole; empty where none was."""
    saving: str | None
    """Of the next piece; None where nobody knows a price."""


def replaces(prices: Ahead | None, part: Part, depot: Depot, w: Wording) -> Replaces:
    """Old numbers, and the assembly that once had to be bought whole with what is saved; prices: of the next piece."""
    numbers = tuple(
        OldNumberLine(number=old.number, kind=w.term("number_kind", old.kind), note=old.note or "", price=_alone(old, depot, w))
        for old in part.replaces
    )
    assembly, is_alone = part.assembly, any(old.price is not None for old in part.replaces)
    told = w("replaces.assembly", name=assembly.name, number=assembly.number) if assembly and not is_alone else ""
    return Replaces(numbers=numbers, assembly=told, saving=_saving(prices, depot.currency, w) if prices else None)


def _alone(old: OldNumber, depot: Depot, w: Wording) -> str:
    return w("replaces.price", price=w.money(cents(exact(old.price)), depot.currency)) if old.price is not None else ""


def _saving(prices: Ahead, currency: str, w: Wording) -> str:
    """The figure of the pages Today and Savings, with what it is the difference of."""
    key = "saves" if prices.saved >= 0 else "loses"
    return w(f"replaces.{key}", money=w.money(abs(prices.saved), currency), **ahead_words(prices, currency, w))
