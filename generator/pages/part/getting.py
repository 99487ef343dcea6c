"""How does one get a part made, in house or ordered out, and what does the order say?"""

from dataclasses import dataclass

from generator.pages.around import Around
from generator.pages.wording import Wording
from generator.planning.offers import Offer
from generator.planning.stock.demand import typical_count
from generator.records.catalogue import Catalogue
from generator.records.depot import Depot
from generator.records.makers import Maker
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
    order_at: str
    order_lines: tuple["OrderField", ...]
    price_base: str | None
    """The price of an order is this and `price_each` for each piece; None while the mesh does not tell."""
    price_each: str | None
    price_breaks: str
    """From which count on each piece costs how much instead, such as "20:4.6 50:4.2"; empty without price breaks."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderField:
    key: str
    label: str
    value: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Getting:
    typical_count: int
    begins_with: str
    """How many the order begins with: one where every vehicle has one, else what one needs is asked."""
    offers: tuple[OfferLine, ...]
    instead: str
    """Where one gets what has no model; empty where it is printed."""


def getting(sheet: Sheet, part: Part, listed: tuple[Offer, ...], around: Around) -> Getting:
    """Every maker's offer, best first."""
    order = _Order(
        sheet=sheet,
        part=part,
        catalogue=around.catalogue,
        depot=around.depot,
        count=typical_count(around.demands.get(part.number)),
        begins_with="1" if part.fits and all(fit.per_vehicle == 1 for fit in part.fits) else "",
        w=around.w,
    )
    return Getting(
        typical_count=order.count,
        begins_with=order.begins_with,
        offers=tuple(order.line(offer) for offer in listed),
        instead=_instead(part, around),
    )


def _instead(part: Part, around: Around) -> str:
    if part.no_model is None:
        return ""
    numbers = tuple(each.number for each in part.replaces)
    told = {"buy_at": part.no_model.buy_at, "numbers": numbers, "contact": around.depot.contact}
    return around.w(f"getting.instead.{part.no_model.because}", **told)


def _piece(offer: Offer, count: int) -> str | None:
    """In the currency, as a script reads it: to six decimals."""
    piece = offer.piece(count)
    return None if piece is None else repr(round(float(piece), 6))


def _base(offer: Offer) -> str | None:
    none = offer.price(0)
    return None if none is None else repr(float(none))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Order:
    """What is ordered, for whichever maker."""

    sheet: Sheet
    part: Part
    catalogue: Catalogue
    depot: Depot
    count: int
    begins_with: str
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
            order_at=maker.order_at,
            order_lines=self.lines(offer),
            price_base=_base(offer),
            price_each=_piece(offer, 1),
            price_breaks=" ".join(f"{each.from_count}:{_piece(offer, each.from_count)}" for each in maker.price.price_breaks),
        )

    def price(self, offer: Offer, count: int) -> str:
        price = offer.price(count)
        return self.w("missing") if price is None else self.w.money(price, self.depot.currency)

    def lines(self, offer: Offer) -> tuple[OrderField, ...]:
        """The order, line by line; what is not given has no line, and what is open a "…"."""
        w, maker = self.w, offer.maker
        head = [
            ("to", f"{maker.name}, {maker.order_at}"),
            ("from", f"{self.depot.railway}, {self.depot.depot}"),
            *self.what(),
            *self.how(maker),
            ("price", self.price(offer, 1) if self.begins_with or offer.price(1) is None else "…"),
            ("lead_time", w.count("getting.days", maker.lead_time_days)),
            ("vehicle", "…"),
            ("needed_by", "…"),
        ]
        return tuple(OrderField(key=key, label=w(f"order.{key}"), value=value) for key, value in head if value)

    def what(self) -> list[tuple[str, str | None]]:
        w, part = self.w, self.part
        material = self.catalogue.materials.get(part.material)
        line = w("order.part_line", number=part.number, revision=part.revision, name=part.name)
        return [
            ("part", line),
            ("count", self.begins_with or "…"),
            ("material", material.name if material else part.material),
        ]

    def stated(self) -> str | None:
        """What of a good piece is stated, in one line: an order of many lines is longer than a tablet."""
        settings = self.part.settings
        if settings is None:
            return None
        said = {"surface": settings.surface_texture, "repair": settings.repair, "imperfections": settings.acceptable_imperfections}
        return self.w("order.stated_as", **said).removeprefix("; ") if any(said.values()) else None

    def how(self, maker: Maker) -> list[tuple[str, str | None]]:
        """How it is printed; of what is bought nothing."""
        w, settings, mesh = self.w, self.part.settings, self.sheet.folder.mesh
        if settings is None or self.part.is_bought:
            return []
        infill = settings.infill_percent
        return [
            ("process", w.term("process", maker.process)),
            ("orientation", settings.orientation),
            ("layer", f"{w.measure(settings.layer_mm)} mm" if settings.layer_mm else None),
            ("wall", f"{w.measure(settings.wall_mm)} mm" if settings.wall_mm else None),
            ("infill", f"{w.measure(infill)} %" if infill is not None else None),
            ("support", settings.support),
            ("after_print", settings.after_print),
            ("stated", self.stated()),
            ("model", mesh.path.rsplit("/", 1)[-1] if mesh else None),
            ("sum", mesh.sha256 if mesh else None),
        ]
