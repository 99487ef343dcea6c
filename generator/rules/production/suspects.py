"""Which pieces may belong to batches that are looked for, though nobody can say of which batch they are?"""

from collections.abc import Iterable
from dataclasses import dataclass

from generator.records.catalogue import Catalogue
from generator.records.fitted import Why
from generator.records.production import Production
from generator.records.recalls import Recall
from generator.rules.production.moves import PieceSpot, compared
from generator.rules.production.tracing import CameOff, Carried, of_all


@dataclass(frozen=True, slots=True, kw_only=True)
class Suspects:
    """Where one has to look, besides the pieces whose batch is known."""

    sitting: tuple[Carried, ...]
    """Pieces of batches of which no record can be read, at places where a part that is looked for fits."""
    came_off: tuple[CameOff, ...]
    """Pieces without a batch that came off where, by the lines, one of these batches sits: it may be that one, or it sits there still."""
    lying: tuple[CameOff, ...]
    """Pieces of batches of which no record can be read, that came off where a part that is looked for fits, or as the wrong part; nothing can say that they were scrapped."""

    @property
    def is_empty(self) -> bool:
        return not self.count

    @property
    def count(self) -> int:
        """Places to look at."""
        return len(self.sitting) + len(self.came_off) + len(self.lying)


NONE = Suspects(sitting=(), came_off=(), lying=())


def suspects_in(recall: Recall, catalogue: Catalogue, batches: Iterable[str]) -> Suspects:
    """Of a recall, also where no batch of it is written down. Of a lot anything can have been printed."""
    return suspects_of(catalogue, batches, part=recall.part, of_any_part=recall.lot is not None)


def suspects_of(catalogue: Catalogue, batches: Iterable[str], *, part: str | None = None, of_any_part: bool = False) -> Suspects:
    """Of the batches that are looked for, by their numbers; of one without a record nobody knows the part.

    part: the one that is asked for. of_any_part: batches of which there is no record are as likely of another part.
    """
    meant, production = frozenset(batches), catalogue.production
    if not meant and part is None and not of_any_part:
        return NONE
    every = of_all(production)
    parts = {production.batches[name].part if name in production.batches else None for name in meant}
    parts |= ({part} if part else set()) | ({None} if of_any_part else set())
    return Suspects(
        sitting=tuple(
            each for each in every.carried if each.part is None and each.batch not in meant and _may_sit_at(each.spot, parts, catalogue)
        ),
        came_off=tuple(_unsaid([each for each in every.carried if each.batch in meant], every.came_off, production)),
        lying=tuple(
            each
            for each in every.came_off
            if each.batch and each.batch not in production.batches and each.batch not in meant
            if each.why is Why.WRONG or (_may_sit_at(each.spot, parts, catalogue) and _may_have_been(each, parts, production))
        ),
    )


def _may_sit_at(spot: PieceSpot, parts: set[str | None], catalogue: Catalogue) -> bool:
    """Unless every part is known, and another one fits there."""
    fitting = {part.number for part, _ in catalogue.fitting(spot.fleet, spot.place)}
    return None in parts or not fitting or bool(fitting & parts)


def _may_have_been(off: CameOff, parts: set[str | None], production: Production) -> bool:
    """What went on by the same line took the place of its own kind."""
    instead = production.batches.get(off.instead)
    return None in parts or instead is None or instead.part in parts


def _unsaid(sitting: Iterable[Carried], came_off: Iterable[CameOff], production: Production) -> Iterable[CameOff]:
    there: dict[tuple[str, ...], list[Carried]] = {}
    for each in sitting:
        there.setdefault(each.spot[:3], []).append(each)
    for off in came_off:
        if not off.batch and any(_is_there(each, off, production) for each in there.get(off.spot[:3], ())):
            yield off


def _is_there(sits: Carried, off: CameOff, production: Production) -> bool:
    """Whether the piece that came off can have been this one; what went on by the same line took the place of its own kind."""
    here, gone = compared(sits.spot.position), compared(off.spot.position)
    instead = production.batches.get(off.instead)
    is_alike = instead is None or sits.part in (None, instead.part)
    return is_alike and off.on > sits.since and (here == gone or not here or not gone)
