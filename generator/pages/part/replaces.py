"""Which numbers and assembly does a part replace, and what does printing it save?"""

from dataclasses import dataclass

from generator.pages.wording import Wording
from generator.planning.money import cents, exact
from generator.planning.offers import Offer, cheapest_one
from generator.records.depot import Depot
from generator.records.parts import Part


@dataclass(frozen=True, slots=True, kw_only=True)
class OldNumberLine:
    number: str
    kind: str
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Replaces:
    numbers: tuple[OldNumberLine, ...]
    assembly: str | None
    saving: str | None


def replaces(listed: tuple[Offer, ...], part: Part, depot: Depot, w: Wording) -> Replaces:
    """Old numbers, and the assembly that once had to be bought whole with what is saved."""
    numbers = tuple(
        OldNumberLine(number=old.number, kind=w.term("number_kind", old.kind), note=old.note or "")
        for old in part.replaces
    )
    assembly = part.assembly
    if assembly is None:
        return Replaces(numbers=numbers, assembly=None, saving=None)
    told = w("replaces.assembly", name=assembly.name, number=assembly.number)
    return Replaces(numbers=numbers, assembly=told, saving=_saving(listed, assembly.price, depot, w))


def _saving(listed: tuple[Offer, ...], whole: float | None, depot: Depot, w: Wording) -> str | None:
    """The price of the whole assembly against the cheapest single part, where both are known."""
    one, currency = cheapest_one(listed), depot.currency
    if whole is None or one is None:
        return None
    saved = cents(exact(whole)) - one
    if saved <= 0:
        return None
    return w(
        "replaces.saving",
        whole=w.money(whole, currency),
        one=w.money(one, currency),
        saved=w.money(saved, currency),
    )
