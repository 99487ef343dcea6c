"""A judged catalogue → what every page and paper of it is written with."""

from collections.abc import Iterable, Mapping
from datetime import date
from types import MappingProxyType

from generator.pages.addresses import addresses
from generator.pages.around import Around, shelves_of
from generator.pages.lately.told import lately_told
from generator.pages.wording import wording
from generator.planning.holding.whole import every_holds
from generator.planning.printing import models_of, shapes_in
from generator.planning.saving.whole import WholeSavings, whole_savings
from generator.planning.stock.demand import demand_of
from generator.records.catalogue import Catalogue
from generator.rules.asked_alike import AskedShape
from generator.rules.lately import Lately
from generator.rules.production.contradicting import contradictions
from generator.rules.production.not_good import against_each, not_good
from generator.rules.screening import judged_not_significant
from generator.rules.sheet import Sheet


def around_of(
    catalogue: Catalogue,
    sheets: Iterable[Sheet],
    day: date,
    *,
    asked: Mapping[str, AskedShape] = MappingProxyType({}),
    lately: Lately | None = None,
    saved: WholeSavings | None = None,
) -> Around:
    """asked: the models of open requests, by the request's id; lately: what git, or else the records' days, tell of it; saved: where it is worked out already."""
    every, w = tuple(sheets), wording(catalogue.language)
    speaking = against_each(catalogue, day)
    saved = saved or whole_savings(every, catalogue, day)
    by_number = {sheet.number: sheet for sheet in reversed(every)}
    return Around(
        catalogue=catalogue,
        sheets=by_number,
        found=addresses(catalogue.parts, catalogue.materials),
        w=w,
        shelves=shelves_of(by_number.values()),
        meshes={number: sheet.mesh for number, sheet in by_number.items()},
        print_models=models_of(catalogue, shapes_in(every), day),
        asked=asked,
        holds=every_holds(catalogue, day),
        contradictions=contradictions(catalogue),
        speaking=speaking,
        not_good=not_good(catalogue, speaking),
        fitted=saved.found.by_part,
        demands={number: each for number, sheet in by_number.items() if sheet.part and (each := demand_of(sheet.part, catalogue.production, day))},
        lately=lately_told(lately, catalogue.parts, day, w) if lately else None,
        earlier=judged_not_significant(sheet.folder for sheet in by_number.values()),
    )
