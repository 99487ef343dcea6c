"""How one gets a part: who prints it, in how many days, for how much."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from generator.geometry.plate import fits_plate
from generator.planning.money import cents, exact
from generator.records.catalogue import Catalogue
from generator.records.makers import Maker, MakerKind
from generator.rules.sheet import Sheet


@dataclass(frozen=True, slots=True)
class Offer:
    """One maker's offer; `fits_plate` and `price_one` are None while the mesh does not tell."""

    maker: Maker
    fits_plate: bool | None
    price_one: Decimal | None
    mass_g: float | None

    def piece(self, count: int) -> Decimal | None:
        """Price of each piece of an order of `count`, not rounded: (per_part + per_gram × mass) less what its price break takes off."""
        if self.mass_g is None:
            return None
        rule = self.maker.price
        less = next((each.less_percent for each in reversed(rule.price_breaks) if count >= each.from_count), 0.0)
        return (exact(rule.per_part) + exact(rule.per_gram) * exact(self.mass_g)) * (100 - exact(less)) / 100

    def price(self, count: int) -> Decimal | None:
        """Price of `count` parts in one order, in whole cents: per_order + count × the price of a piece."""
        piece = self.piece(count)
        return None if piece is None else cents(exact(self.maker.price.per_order)) + cents(count * piece)

    @property
    def fixed(self) -> Decimal:
        """What an order costs however many pieces it is of: what the maker asks, and the depot's own set-up where it says it."""
        return cents(exact(self.maker.price.per_order)) + cents(exact(self.maker.set_up or 0.0))


def offers_for(sheet: Sheet, catalogue: Catalogue) -> tuple[Offer, ...]:
    """Every offer for the part of a sheet; none for a part whose record cannot be read."""
    names = sheet.part.makers if sheet.part else ()
    makers = tuple(catalogue.makers[name] for name in names if name in catalogue.makers)
    return offers(makers, sheet.mesh.oriented_size_mm if sheet.mesh else None, sheet.mass_g)


def cheapest_one(listed: Iterable[Offer]) -> Decimal | None:
    """The lowest price of a single part; None while no offer has one."""
    return min((offer.price_one for offer in listed if offer.price_one is not None), default=None)


def offers(
    makers: tuple[Maker, ...], size_mm: tuple[float, float, float] | None, mass_g: float | None
) -> tuple[Offer, ...]:
    """Every maker's offer for one part: in house first, then by lead time and price."""
    found = []
    for maker in makers:
        bare = Offer(maker, fits_plate(size_mm, maker.build_volume_mm) if size_mm else None, None, mass_g)
        found.append(Offer(maker, bare.fits_plate, bare.price(1), mass_g))
    return tuple(sorted(found, key=_eager))


def _eager(offer: Offer) -> tuple[bool, bool, int, Decimal, str]:
    maker = offer.maker
    price = offer.price_one if offer.price_one is not None else Decimal("Infinity")
    return (
        offer.fits_plate is False,
        maker.kind is not MakerKind.IN_HOUSE,
        maker.lead_time_days,
        price,
        maker.id,
    )
