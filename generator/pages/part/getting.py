"""How does one get a part made, in house or ordered out, and what does the order say?"""

from dataclasses import dataclass

from generator.pages.around import Around
from generator.pages.wording import Wording
from generator.planning.offers import Offer, typical_count
from generator.records.catalogue import Catalogue
from generator.records.depot import Depot
from generator.records.parts import Part
from generator.rules.sheet import Sheet


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
    typical_count: int
    offers: tuple[OfferLine, ...]


def getting(sheet: Sheet, part: Part, listed: tuple[Offer, ...], around: Around) -> Getting:
    """Every maker's offer, best first."""
    order = _Order(
        sheet=sheet,
        part=part,
        catalogue=around.catalogue,
        depot=around.depot,
        count=typical_count(part),
        w=around.w,
    )
    return Getting(
        typical_count=order.count,
        offers=tuple(order.line(offer) for offer in listed),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Order:
    """What is ordered, for whichever maker."""

    sheet: Sheet
    part: Part
    catalogue: Catalogue
    depot: Depot
    count: int
    w: Wording

    def line(self, offer: Offer) -> OfferLine:
        maker = offer.maker
        return OfferLine(
            maker=maker.name,
            how=self.w.term("maker_kind", maker.kind),
            lead_time=self.w.count("getting.days", maker.lead_time_days),
            price_one=self.price(offer, 1),
            price_typical=self.price(offer, self.count),
            fits_plate=offer.fits_plate,
            order_text=self.text(offer),
        )

    def price(self, offer: Offer, count: int) -> str:
        price = offer.price(count)
        return self.w("missing") if price is None else self.w.money(price, self.depot.currency)

    def text(self, offer: Offer) -> str:
        """The order as lines of "what: value"; what is not given has no line."""
        w, maker = self.w, offer.maker
        head = [
            ("to", f"{maker.name}, {maker.order_at}"),
            ("from", f"{self.depot.railway}, {self.depot.depot}"),
            *self.what(),
            ("process", w.term("process", maker.process)),
            *self.how(),
            ("price", self.price(offer, self.count)),
            ("lead_time", w.count("getting.days", maker.lead_time_days)),
            ("vehicle", "…"),
            ("needed_by", "…"),
        ]
        return "\n".join(f"{w(f'order.{key}')}: {value}" for key, value in head if value)

    def what(self) -> list[tuple[str, str | None]]:
        w, part = self.w, self.part
        material = self.catalogue.materials.get(part.material)
        line = w("order.part_line", number=part.number, revision=part.revision, name=part.name)
        return [
            ("part", line),
            ("count", str(self.count)),
            ("material", material.name if material else part.material),
        ]

    def how(self) -> list[tuple[str, str | None]]:
        w, settings, mesh = self.w, self.part.settings, self.sheet.folder.mesh
        infill = settings.infill_percent
        return [
            ("orientation", settings.orientation),
            ("layer", f"{w.measure(settings.layer_mm)} mm" if settings.layer_mm else None),
            ("wall", f"{w.measure(settings.wall_mm)} mm" if settings.wall_mm else None),
            ("infill", f"{w.measure(infill)} %" if infill is not None else None),
            ("support", settings.support),
            ("after_print", settings.after_print),
            ("model", mesh.path.rsplit("/", 1)[-1] if mesh else None),
            ("sum", mesh.sha256 if mesh else None),
        ]
