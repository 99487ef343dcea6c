"""Where are the pieces of lots that ask because another one is stopped: on vehicles, on the shelf, handed out?

They are no part of the recall: nobody has said whether they are concerned, so that they are listed apart.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from generator.records.production import Production
from generator.records.recalls import CalledBack, Recall
from generator.rules.production.recalling import Elsewhere, Reach, reach_of
from generator.rules.production.same_delivery import asking_beside
from generator.rules.production.states import stops_of_lot
from generator.rules.production.tracing import Carried


@dataclass(frozen=True, slots=True, kw_only=True)
class AskingPieces:
    """Pieces that ask because of one lot; none of a batch that was printed from that lot itself."""

    lots: Mapping[str, tuple[str, ...]]
    """Of each batch the lots that ask."""
    spots: tuple[Carried, ...]
    elsewhere: tuple[Elsewhere, ...]

    @property
    def is_empty(self) -> bool:
        return not (self.spots or self.elsewhere)

    @property
    def pieces(self) -> int:
        """On vehicles."""
        return sum(each.count for each in self.spots)

    @property
    def vehicles(self) -> int:
        return len({each.spot[:2] for each in self.spots})

    @property
    def off_vehicles(self) -> int:
        """On the shelf, handed out, or taken off and not scrapped."""
        return sum(each.count for each in self.elsewhere)


def beside_of(lot: str | None, production: Production) -> AskingPieces:
    """Of a lot that is stopped; nothing of another one, and of no lot."""
    names = [name for name, _ in asking_beside(lot, production)] if lot else []
    reached = {name: _reach(name, lot, production) for name in names if lot}
    batches = sorted({batch for each in reached.values() for batch in each.batches if lot not in production.batches[batch].lots})
    return AskingPieces(
        lots={batch: tuple(name for name in names if name in production.batches[batch].lots) for batch in batches},
        spots=tuple(dict.fromkeys(spot for each in reached.values() for spot in each.spots if spot.batch in batches)),
        elsewhere=tuple(dict.fromkeys(one for each in reached.values() for one in each.elsewhere if one.batch in batches)),
    )


def _reach(name: str, stopped: str, production: Production) -> Reach:
    """As if it had been called back with the other."""
    stop = stops_of_lot(stopped, production, date.max)
    return reach_of(Recall(lot=name, events=(CalledBack(what="called back", on=stop[0].on, by=stop[0].by, why=stop[0].why),)), production)
