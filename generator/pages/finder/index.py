"""What does the finder know? The records of assets/data/finder.js, from the catalogue and its judged sheets."""

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from types import MappingProxyType
from typing import Any

from generator.pages.addresses import Addresses, anchor
from generator.pages.finder.fits import fits
from generator.pages.finder.looks import looks
from generator.pages.finder.modelled import modelled
from generator.pages.finder.query_words import asked_in, feature_of, query_words
from generator.pages.part.pieces import ToldPieces
from generator.pages.part.verdict_data import plain_facts
from generator.pages.seen import thumb_of
from generator.pages.wording import wording
from generator.records.catalogue import Catalogue
from generator.records.parts import Check, Feature, FeatureKind, Part
from generator.records.production import Production
from generator.records.requests import Request
from generator.rules.answering import answer, worked_on
from generator.rules.facts.fields import Facts
from generator.rules.grounds import Ground
from generator.rules.history import Stage
from generator.rules.production.not_good import NotGood, by_vehicle
from generator.rules.production.states import block_of, called_back, speaks_of
from generator.rules.production.stock import stock_of
from generator.rules.sheet import Sheet
from generator.rules.unlike import unlike_batches

_OVER = (Stage.SUPERSEDED, Stage.WITHDRAWN)


def finder_script(
    catalogue: Catalogue, sheets: tuple[Sheet, ...], found: Addresses, day: date, not_good: Mapping[str, tuple[NotGood, ...]]
) -> bytes:
    """assets/data/finder.js"""
    return index_script(finder_data(catalogue, sheets, found, day, not_good))


def index_script(data: dict[str, Any]) -> bytes:
    """The data as a text for the browser to parse: for much data that is faster than reading it as a program."""
    text = json.dumps(data, ensure_ascii=True, separators=(",", ":"), sort_keys=True)
    quoted = json.dumps(text).replace("<", "\\u003c")
    return f"globalThis.sparesIndex=JSON.parse({quoted});\n".encode("ascii")


def finder_data(
    catalogue: Catalogue, sheets: tuple[Sheet, ...], found: Addresses, day: date, not_good: Mapping[str, tuple[NotGood, ...]] = MappingProxyType({})
) -> dict[str, Any]:
    """Plain JSON data: parts and open requests with all that can be asked about them.

    A ground is [fleet, place, vehicles, label revision, permits], the first two and the permits as indexes; the facts
    of a permit are indexes into `facts.values`, in the order of `facts.names`. Of a part with batches it goes on with what
    each permit says of a piece of each, as indexes into `pieces`. not_good: what sits on vehicles and must not; a record tells of it
    [fleet, vehicle, how many, whether any has to come off].
    """
    lists = _Lists(catalogue)
    language, floor = asked_in(catalogue.language, catalogue.floor_languages)
    parts = [_part_record(sheet, catalogue, found, lists, day) | _sitting(not_good.get(sheet.number, ()), lists) for sheet in sheets]
    requests = [
        _request_record(name, request, lists, worked_on(request, catalogue))
        for name, request in sorted(catalogue.requests.items())
        if answer(request, catalogue) is None
    ]
    return {
        "built_on": day.isoformat(),
        "language": language,
        "floor": floor,
        "fits": fits(),
        "synonyms": [list(group) for group in catalogue.words.synonyms],
        "spellings": dict(catalogue.words.spellings),
        "fleets": [
            {"id": fleet.id, "name": fleet.name, "vehicles": list(fleet.vehicles)}
            for fleet in catalogue.fleets.values()
        ],
        "places": lists.places.items,
        "facts": {"names": lists.fact_names, "values": lists.values.items, "permits": lists.permits.items},
        "pieces": lists.pieces.items,
        "things": _things(catalogue.production, day),
        "records": [*parts, *requests],
    }


def _things(production: Production, day: date) -> dict[str, Any]:
    """Lots and recalls by name, each with the batches that it speaks of, and whether these are stopped by it; of a stopped lot the supplier's number, too."""
    names: dict[str, list[str]] = {lot: [] for lot in production.lots}
    for name, batch in sorted(production.batches.items()):
        for lot in batch.lots:
            names.setdefault(lot, []).append(name)
    called = {each.lot for each in production.recalls.values() if each.lot and called_back(each, day)}
    blocked = {name for name, each in production.lots.items() if block_of(each, day)}
    told = {lot: {"batches": batches, "is_stopped": lot in called | blocked, "is_recall": False} for lot, batches in sorted(names.items())}
    for lot in told.keys() & (called | blocked) & production.lots.keys():
        told[lot]["number"] = production.lots[lot].supplier_lot
    for name, each in sorted(production.recalls.items()):
        batches = [batch for batch, made in sorted(production.batches.items()) if speaks_of(each, batch, made)]
        told.setdefault(name, {"batches": batches, "is_stopped": called_back(each, day) is not None, "is_recall": True})
    return told


FIELDS = frozenset(
    {
        *("kind", "number", "name", "page", "thumb", "grounds", "over", "box_mm", "size_mm", "by_hand", "replaces", "on_shelf"),
        *("other_names", "purpose", "symptoms", "checks", "material", "assembly", "what_changed"),
        *("features", "looks", "other_hand", "worked_on", "modelled", "batches", "sitting", "revision"),
    }
)
"""What a record may say. Each has its weight, or is named among WITHOUT_WORDS, in site_src/assets/js/finder/index.js."""


def _whole(record: dict[str, Any]) -> dict[str, Any]:
    """The record itself. Raises ValueError for a field that the finder would not know."""
    if strange := set(record) - FIELDS:
        where = "FIELDS here, and its weight in site_src/assets/js/finder/index.js"
        raise ValueError(f"the finder does not know the field {', '.join(sorted(strange))}: add it to {where}")
    return record


@dataclass(slots=True)
class _Listed:
    """A list that holds each item once and tells its index."""

    items: list[Any] = field(default_factory=list)
    places: dict[Any, int] = field(default_factory=dict)

    def index(self, item: Any) -> int:
        key = repr(item)
        if key not in self.places:
            self.places[key] = len(self.items)
            self.items.append(item)
        return self.places[key]


class _Lists:
    """What many records share: places, and the facts that verdicts are judged from."""

    def __init__(self, catalogue: Catalogue) -> None:
        self.catalogue = catalogue
        self.fleets = {fleet: at for at, fleet in enumerate(catalogue.fleets)}
        self.places = _Listed()
        self.values = _Listed()
        self.permits = _Listed()
        self.pieces = ToldPieces()
        self.fact_names: list[str] = []
        self.w = wording(catalogue.language)

    def ground(self, ground: Ground, sheet: Sheet) -> list[Any]:
        permits = [self.permits.index(self.permit(facts, sheet)) for facts in ground.permits]
        place = self.place(ground.fleet, ground.place)
        return [
            self.fleets.get(ground.fleet, -1),
            place,
            list(ground.vehicles),
            ground.label_revision,
            permits,
            *([self.pieces.rows(ground, batches)] if (batches := self.catalogue.production.of_part(sheet.number)) else []),
        ]

    def place(self, fleet: str, place: str) -> int:
        return self.places.index(self.catalogue.place_name(fleet, place))

    def permit(self, facts: Facts, sheet: Sheet) -> list[int]:
        """Index of the value of each fact by name; -1 where the permit has no such fact."""
        plain = plain_facts(facts, sheet, self.w)
        for name in plain:
            if name not in self.fact_names:
                self.fact_names.append(name)
        return [self.values.index(plain[name]) if name in plain else -1 for name in self.fact_names]


def _part_record(sheet: Sheet, catalogue: Catalogue, found: Addresses, lists: _Lists, day: date) -> dict[str, Any]:
    stem = found.by_folder[sheet.folder.folder]
    record: dict[str, Any] = {
        "kind": "part",
        "number": sheet.number,
        "name": sheet.name,
        "page": f"parts/{stem}.html",
        "thumb": thumb_of(sheet, stem),
        "grounds": [lists.ground(ground, sheet) for ground in sheet.grounds],
    }
    if batches := catalogue.production.of_part(sheet.number):
        record["batches"] = [[name, batch.revision] for name, batch in batches.items()]
    if sheet.stage in _OVER:
        record["over"] = sheet.history.superseded_by or sheet.stage.value
    if sheet.size_mm:
        record["box_mm"] = [round(each, 2) for each in sheet.size_mm]
        record["size_mm"] = [round(each, 2) for each in (sheet.mesh.size_mm if sheet.mesh else sheet.size_mm)]
    if sheet.size_by_hand_mm:
        record["by_hand"] = True
    if sheet.part:
        material = catalogue.materials.get(sheet.part.material)
        record |= {"revision": sheet.part.revision} | _part_words(sheet.part, sheet, catalogue, day)
        record["looks"] = list(looks(sheet.part, sheet.size_mm, sheet.mesh.volume_mm3 if sheet.mesh else None, material))
    named = [(each["feature"], each["mm"]) for each in (*record.get("checks", ()), *record.get("features", ()))]
    if sizes := modelled(sheet.features, named):
        record["modelled"] = sizes
    return _whole(record)


def _sitting(some: Iterable[NotGood], lists: _Lists) -> dict[str, Any]:
    told = [[lists.fleets.get(fleet, -1), vehicle, count, stopped] for (fleet, vehicle), count, stopped in by_vehicle(some)]
    return {"sitting": told} if told else {}


def _part_words(part: Part, sheet: Sheet, catalogue: Catalogue, day: date) -> dict[str, Any]:
    material = catalogue.materials.get(part.material)
    asked = query_words(catalogue.language)
    words: dict[str, Any] = {
        "other_names": list(part.other_names),
        "purpose": part.purpose,
        "symptoms": list(part.symptoms),
        "replaces": [{"number": old.number, "kind": old.kind.value} for old in part.replaces],
        "checks": [_check(check, asked) for check in part.checks],
        "material": material.name if material else part.material,
    }
    if part.assembly:
        words["assembly"] = {"name": part.assembly.name, "number": part.assembly.number}
    if part.what_changed:
        words["what_changed"] = part.what_changed
    if part.features:
        words["features"] = [_feature(each) for each in part.features]
    if part.other_hand:
        words["other_hand"] = part.other_hand
    counted = [each for each in stock_of(part.number, catalogue, day, unlike_batches(sheet)) if each.counted is not None]
    if counted or part.stock:
        recorded = part.stock.on_shelf if part.stock else 0
        words["on_shelf"] = sum(each.remains for each in counted if not each.is_stopped) if counted else recorded
    return words


def _check(check: Check, asked: dict[str, Any]) -> dict[str, Any]:
    """`allowed`: how far below and above the nominal the check itself lets a part be."""
    kind = check.feature or feature_of(check.name, asked["features"]) or FeatureKind.OUTSIDE
    return {
        "name": check.name,
        "mm": check.nominal_mm,
        "round": _is_round(check, set(asked["round_names"])),
        "feature": str(kind),
        "allowed": [check.minus_mm, check.plus_mm],
    }


def _feature(feature: Feature) -> dict[str, Any]:
    told: dict[str, Any] = {"name": feature.name, "mm": feature.size, "feature": str(feature.feature)}
    if feature.pitch_mm:
        told["pitch"] = feature.pitch_mm
    if feature.side:
        told["side"] = str(feature.side)
    return told


def _is_round(check: Check, round_names: Iterable[str]) -> bool:
    words = check.name.lower().replace("-", " ").split()
    return any(word in round_names for word in words)


def _request_record(name: str, request: Request, lists: _Lists, begun: str | None) -> dict[str, Any]:
    """begun: the part that is to answer it."""
    ranges = [text for text in request.vehicles if text.replace("-", "").isdecimal()]
    grounds = []
    if request.fleet in lists.fleets:
        place = lists.place(request.fleet, request.place) if request.place else -1
        grounds = [[lists.fleets[request.fleet], place, ranges, None, []]]
    record: dict[str, Any] = {
        "kind": "request",
        "number": name,
        "name": request.name,
        "other_names": list(request.words),
        "purpose": request.what_it_does,
        "replaces": [{"number": number, "kind": "old number"} for number in request.numbers],
        "box_mm": sorted(request.sizes_mm, reverse=True),
        "page": f"requests.html#{anchor(request.name)}",
        "thumb": None,
        "grounds": grounds,
    }
    return _whole(record | ({"worked_on": begun} if begun else {}))
