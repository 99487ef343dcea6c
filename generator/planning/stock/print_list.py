"""What is printed next in house: by printer, material and layer, plate by plate, with the time and material of each.

Pieces lie as plates.py lays their boxes. A plate's time starts once and has the layers of its tallest piece (planning/print_time.py).
"""

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Final, NamedTuple

from generator.geometry.printing.pose import Pose
from generator.planning.print_time import (
    PrintWork,
    ProcessModel,
    Range,
    grams_of_plate,
    minutes_of_plate,
    model_of,
)
from generator.planning.printing import printing_of, work_with
from generator.planning.stock.need import PartNeed, StockState
from generator.planning.stock.plates import Box, Plate, packed
from generator.records.catalogue import Catalogue
from generator.records.makers import Maker, MakerKind, Process
from generator.rules.production.qualifying import qualified
from generator.rules.sheet import Sheet

GAP_MM: Final = 5.0
"""Between two pieces on a plate: common practice, no source."""


class _Kind(NamedTuple):
    maker: str
    material: str
    layer_mm: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class OnPlate:
    """One run of a printer."""

    pieces: tuple[tuple[str, int], ...]
    """Parts by number, each with how many."""
    lying: Plate
    minutes: Range | None
    grams: Range | None


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintList:
    """All plates of one printer with one material and layer."""

    maker: Maker
    material: str
    layer_mm: float | None
    machines: tuple[str, ...]
    """Those of this kind that are qualified for the material today."""
    has_machines: bool
    """Whether any machine of this kind is written down at all."""
    plates: tuple[OnPlate, ...]
    unlaid: tuple[tuple[str, int], ...]
    """Parts of which nobody knows how they lie, with how many."""
    poses: Mapping[str, Pose]
    """How each part that lies on a plate stands, by its number."""

    @property
    def likely_minutes(self) -> float | None:
        """Of all plates, one after the other; None where one of them is not known."""
        known = [each.minutes.likely for each in self.plates if each.minutes and each.minutes.likely is not None]
        return sum(known) if len(known) == len(self.plates) else None


def print_lists(listed: Iterable[PartNeed], catalogue: Catalogue, models: Mapping[Process, ProcessModel], day: date) -> tuple[PrintList, ...]:
    """Of all parts that are to be printed in house now."""
    kinds: defaultdict[_Kind, list[PartNeed]] = defaultdict(list)
    for each in sorted(listed, key=lambda part: part.number):
        part, reorder = each.sheet.part, each.reorder
        if each.state is StockState.ORDER and part and reorder and reorder.offer.maker.kind is MakerKind.IN_HOUSE:
            kinds[_Kind(reorder.offer.maker.id, part.material, part.settings.layer_mm if part.settings else None)].append(each)
    return tuple(_listed(kind, kinds[kind], catalogue, models, day) for kind in sorted(kinds, key=lambda kind: (*kind[:2], kind.layer_mm or 0.0)))


def _listed(kind: _Kind, parts: list[PartNeed], catalogue: Catalogue, models: Mapping[Process, ProcessModel], day: date) -> PrintList:
    maker = catalogue.makers[kind.maker]
    model = models.get(maker.process) or model_of((), maker.process)
    laid = {each.number: found for each in parts if (found := _lies(each.sheet, maker, catalogue, models))}
    boxes = [Box(name=each.number, size_mm=laid[each.number][0].size_mm) for each in parts if each.number in laid for _ in range(_count(each))]
    plates, homeless = packed(boxes, maker.build_volume_mm, gap_mm=GAP_MM)
    works = {number: work for number, (_, work) in laid.items()}
    unlaid = Counter(box.name for box in homeless) + Counter({each.number: _count(each) for each in parts if each.number not in laid})
    machines = {name: each for name, each in catalogue.production.machines.items() if each.maker == maker.id}
    material = catalogue.materials.get(kind.material)
    required = material.required if material else ()
    return PrintList(
        maker=maker,
        material=kind.material,
        layer_mm=kind.layer_mm,
        machines=tuple(name for name in sorted(machines) if qualified(machines[name], kind.material, required, day).is_qualified),
        has_machines=bool(machines),
        plates=tuple(_plate(plate, works, model) for plate in plates),
        unlaid=tuple(sorted(unlaid.items())),
        poses={number: pose for number, (pose, _) in laid.items()},
    )


def _count(each: PartNeed) -> int:
    return each.reorder.count if each.reorder else 0


def _lies(sheet: Sheet, maker: Maker, catalogue: Catalogue, models: Mapping[Process, ProcessModel]) -> tuple[Pose, PrintWork | None] | None:
    """How it stands as it is printed, and what it asks of the printer; None where no pose is known."""
    printing = printing_of(sheet, catalogue, models)
    return (printing.pose, work_with(sheet, maker, printing.pose, catalogue)) if printing else None


def _plate(plate: Plate, works: Mapping[str, PrintWork | None], model: ProcessModel) -> OnPlate:
    pieces = Counter(each.box.name for each in plate)
    asked = [(work, count) for number, count in sorted(pieces.items()) if (work := works[number])]
    is_known = len(asked) == len(pieces)
    return OnPlate(
        pieces=tuple(sorted(pieces.items())),
        lying=plate,
        minutes=minutes_of_plate(model, asked) if is_known else None,
        grams=grams_of_plate(model, asked) if is_known else None,
    )
