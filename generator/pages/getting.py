"""How does one get a part: from the shelf, printed in house or ordered out, and what does the order say?"""

import math
from dataclasses import dataclass

from generator.pages.wording import Wording
from generator.planning.offers import Offer
from generator.records.catalogue import Catalogue
from generator.records.depot import Depot
from generator.records.parts import Part
from generator.sheets import Sheet

ORDERS_A_YEAR = 4  # what one orders at a time is a quarter's need: common practice, no source


@dataclass(frozen=True, slots=True, kw_only=True)
class OfferLine:
    maker: str
    how: str
    lead_time: str
    price_one: str
    price_typical: str
    fits_plate: bool | None
    order_text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Getting:
    shelf: str
    """Where it lies and how many, in a line."""
    on_shelf: int | None
    """None where it is not kept in stock."""
    is_other_revision: bool
    typical_count: int
    offers: tuple[OfferLine, ...]


def getting(sheet: Sheet, part: Part, catalogue: Catalogue, depot: Depot, w: Wording) -> Getting:
    """The shelf first, then every maker's offer, best first."""
    stock, count = part.stock, typical_count(part)
    words = (sheet, part, catalogue, depot, count, w)
    return Getting(
        shelf=_shelf(part, w),
        on_shelf=stock.on_shelf if stock else None,
        is_other_revision=bool(stock and stock.revision and stock.revision != part.revision),
        typical_count=count,
        offers=tuple(_offer(offer, *words) for offer in sheet.offers),
    )


def typical_count(part: Part) -> int:
    """How many one orders at a time: a quarter of a year's need, at least one."""
    return max(1, math.ceil((part.yearly_demand or 0) / ORDERS_A_YEAR))


def _shelf(part: Part, w: Wording) -> str:
    stock = part.stock
    if stock is None:
        return w("getting.not_stocked")
    if stock.on_shelf == 0:
        return w("getting.shelf_empty", place=stock.place)
    revision = stock.revision or part.revision
    return w.count("getting.shelf", stock.on_shelf, place=stock.place, revision=revision)


def _offer(
    offer: Offer, sheet: Sheet, part: Part, catalogue: Catalogue, depot: Depot, count: int, w: Wording
) -> OfferLine:
    maker = offer.maker
    return OfferLine(
        maker=maker.name,
        how=w.term("maker_kind", maker.kind),
        lead_time=w.count("getting.days", maker.lead_time_days),
        price_one=_price(offer, 1, depot, w),
        price_typical=_price(offer, count, depot, w),
        fits_plate=offer.fits_plate,
        order_text=_order_text(offer, sheet, part, catalogue, depot, count, w),
    )


def _price(offer: Offer, count: int, depot: Depot, w: Wording) -> str:
    price = offer.price(count)
    return w("missing") if price is None else w.money(price, depot.currency)


def _order_text(
    offer: Offer, sheet: Sheet, part: Part, catalogue: Catalogue, depot: Depot, count: int, w: Wording
) -> str:
    maker, settings, mesh = offer.maker, part.settings, sheet.folder.mesh
    material = catalogue.materials.get(part.material)
    lines = [
        ("to", f"{maker.name}, {maker.order_at}"),
        ("from", f"{depot.railway}, {depot.depot}"),
        ("part", w("order.part_line", number=part.number, revision=part.revision, name=part.name)),
        ("count", str(count)),
        ("material", material.name if material else part.material),
        ("process", w.term("process", maker.process)),
        ("orientation", settings.orientation),
        ("layer", f"{w.measure(settings.layer_mm)} mm" if settings.layer_mm else None),
        ("wall", f"{w.measure(settings.wall_mm)} mm" if settings.wall_mm else None),
        ("infill", _percent(settings.infill_percent, w)),
        ("support", settings.support),
        ("after_print", settings.after_print),
        ("model", mesh.path.rsplit("/", 1)[-1] if mesh else None),
        ("sum", mesh.sha256 if mesh else None),
        ("price", _price(offer, count, depot, w)),
        ("lead_time", w.count("getting.days", maker.lead_time_days)),
        ("vehicle", "…"),
        ("needed_by", "…"),
    ]
    return "\n".join(f"{w(f'order.{key}')}: {value}" for key, value in lines if value)


def _percent(share: float | None, w: Wording) -> str | None:
    return None if share is None else f"{w.measure(share)} %"
