"""Which numbers and assembly does a part replace, and what does printing it save?"""

from dataclasses import dataclass

from generator.pages.wording import Wording
from generator.planning.money import cents, exact
from generator.planning.offers import Offer, cheapest_one
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
    assembly: str | None
    saving: str | None


def replaces(listed: tuple[Offer, ...], part: Part, depot: Depot, w: Wording) -> Replaces:
    """Old numbers, and the assembly that once had to be bought whole with what is saved."""
    numbers = tuple(
        OldNumberLine(number=old.number, kind=w.term("number_kind", old.kind), note=old.note or "", price=_alone(old, depot, w))
        for old in part.replaces
    )
    assembly, alone = part.assembly, min((old.price for old in part.replaces if old.price is not None), default=None)
    if alone is not None or assembly is None:
        told = w("replaces.assembly", name=assembly.name, number=assembly.number) if assembly and alone is None else None
        return Replaces(numbers=numbers, assembly=told, saving=_saving(listed, alone, depot, w, "saving_alone"))
    told = w("replaces.assembly", name=assembly.name, number=assembly.number)
    return Replaces(numbers=numbers, assembly=told, saving=_saving(listed, assembly.price, depot, w, "saving"))


def _alone(old: OldNumber, depot: Depot, w: Wording) -> str:
    return w("replaces.price", price=w.money(cents(exact(old.price)), depot.currency)) if old.price is not None else ""


def _saving(listed: tuple[Offer, ...], whole: float | None, depot: Depot, w: Wording, key: str) -> str | None:
    """The price of what was bought before against the cheapest single part, where both are known."""
    one, currency = cheapest_one(listed), depot.currency
    if whole is None or one is None:
        return None
    saved = cents(exact(whole)) - one
    if saved <= 0:
        return None
    return w(
        f"replaces.{key}",
        whole=w.money(whole, currency),
        one=w.money(one, currency),
        saved=w.money(saved, currency),
    )
