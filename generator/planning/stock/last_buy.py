"""A material that is made no longer: how many pieces are wanted until it is needed no more, and how much material is that?

Of each part so many that P(X ≤ n) ≥ service, X a Poisson count of the whole time (reorder.py says under which assumption), less what lies
there or is on its way, with what a renewal brings back; its material by what was printed here (planning/print_time.py), and as much more as batches of the material lost to
scrap. What is left in opened lots is not taken off: nobody has weighed it.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Final

from generator.planning.print_time import ProcessModel
from generator.planning.printing import printing_of
from generator.planning.stock.need import OrderingRule, PartNeed, StockState
from generator.planning.stock.reorder import reorder_point
from generator.records.catalogue import Catalogue
from generator.records.lots import Received
from generator.records.makers import Process
from generator.records.materials import LastOrder
from generator.rules.history import Stage
from generator.rules.production.states import scrapped
from generator.rules.sheet import Sheet

_OVER: Final = (Stage.WITHDRAWN, Stage.SUPERSEDED)


@dataclass(frozen=True, slots=True, kw_only=True)
class PartBuy:
    sheet: Sheet
    wanted: int
    """Pieces until the end."""
    position: int | None
    """What lies there or is on its way, and what a renewal brings back; None where nobody has counted, and then nothing is taken off."""
    grams_each: float | None
    is_held: bool
    """It may be fitted nowhere today: wanted all the same, for that may pass. What was withdrawn or superseded is not."""
    returning: int = 0
    """Of the position: may be fitted nowhere today, since a day has passed and for nothing else."""
    not_counted: int = 0
    """Lies there beside the position: stopped, of another revision, or not as approved. It is taken off nowhere, for what is made no longer cannot be bought later."""

    @property
    def missing(self) -> int:
        return max(self.wanted - (self.position or 0), 0)


@dataclass(frozen=True, slots=True, kw_only=True)
class LastBuy:
    material: str
    order: LastOrder
    days: int
    """From the day of asking until it is needed no more."""
    parts: tuple[PartBuy, ...]
    unsaid: tuple[Sheet, ...]
    """Parts of it of which nobody says how many are needed."""
    scrap_share: float
    """Of pieces that were printed of it."""
    keeps_days: int | None
    """How long lots of it could be used after delivery, at most; None where no lot says."""

    @property
    def grams(self) -> float | None:
        """To buy, scrap included; None where a part's material is not known."""
        needed = [(each.missing, each.grams_each) for each in self.parts if each.missing]
        if any(grams is None for _, grams in needed):
            return None
        return sum(count * (grams or 0.0) for count, grams in needed) / (1 - self.scrap_share)

    @property
    def spoils(self) -> bool:
        """Whether material that is bought now is past its day before it is needed no more: pieces are then printed ahead."""
        return self.keeps_days is not None and self.keeps_days < self.days


def last_buys(listed: Iterable[PartNeed], catalogue: Catalogue, models: Mapping[Process, ProcessModel], day: date, rule: OrderingRule) -> tuple[LastBuy, ...]:
    """Of each material that its record says is made no longer and is needed still, the one that ends first foremost."""
    every = sorted(listed, key=lambda each: each.number)
    dying = [(name, material.last_order) for name, material in catalogue.materials.items() if material.last_order and material.last_order.needed_until > day]
    return tuple(_buy(name, order, every, catalogue, models, day, rule) for name, order in sorted(dying, key=lambda pair: (pair[1].on, pair[0])))


def _buy(name: str, order: LastOrder, every: Iterable[PartNeed], catalogue: Catalogue, models: Mapping[Process, ProcessModel], day: date, rule: OrderingRule) -> LastBuy:  # noqa: PLR0917
    days = (order.needed_until - day).days
    of_it = [each for each in every if each.sheet.part and each.sheet.part.material == name and not each.sheet.part.is_bought and each.sheet.stage not in _OVER]
    return LastBuy(
        material=name,
        order=order,
        days=days,
        parts=tuple(
            PartBuy(
                sheet=each.sheet,
                wanted=reorder_point(each.demand.over(days), rule.service_percent / 100),
                position=None if each.known.position is None else each.known.position + each.known.returning,
                grams_each=_grams(each.sheet, catalogue, models),
                is_held=each.state is StockState.HELD,
                returning=each.known.returning,
                not_counted=each.known.unfit.never if each.known.unfit else 0,
            )
            for each in of_it
            if each.demand and each.demand.a_year
        ),
        unsaid=tuple(each.sheet for each in of_it if each.demand is None),
        scrap_share=_scrap_share(name, catalogue),
        keeps_days=_keeps(name, catalogue),
    )


def _grams(sheet: Sheet, catalogue: Catalogue, models: Mapping[Process, ProcessModel]) -> float | None:
    """With its support: the dearest of the processes it is printed by; what it weighs by itself where no pose is known."""
    printing = printing_of(sheet, catalogue, models)
    told = [each.grams.high if each.grams.likely is None else each.grams.likely for each in printing.told] if printing else []
    return max(told, default=sheet.mass_g)


def _scrap_share(name: str, catalogue: Catalogue) -> float:
    lots = {lot for lot, each in catalogue.production.lots.items() if each.material == name}
    batches = [each for each in catalogue.production.batches.values() if lots.intersection(each.lots)]
    printed = sum(each.count for each in batches)
    return min(sum(scrapped(each.events) for each in batches) / printed, 0.9) if printed else 0.0


def _keeps(name: str, catalogue: Catalogue) -> int | None:
    """From delivery to the lot's last day, of the lot that could be used the longest."""
    found = [
        (lot.use_by - event.on).days
        for lot in catalogue.production.lots.values()
        if lot.material == name and lot.use_by
        for event in lot.events
        if isinstance(event, Received)
    ]
    return max(found, default=None)
