"""How one gets a part: who prints it, in how many days, for how much."""

from dataclasses import dataclass

from generator.records.makers import Maker, MakerKind


@dataclass(frozen=True, slots=True)
class Offer:
    """One maker's offer; `fits_plate` and `price_one` are None while the mesh does not tell."""

    maker: Maker
    fits_plate: bool | None
    price_one: float | None
    mass_g: float | None

    def price(self, count: int) -> float | None:
        """Price of `count` parts in one order: per_order + count × (per_part + per_gram × mass)."""
        if self.mass_g is None:
            return None
        rule = self.maker.price
        return rule.per_order + count * (rule.per_part + rule.per_gram * self.mass_g)


def offers(
    makers: tuple[Maker, ...], size_mm: tuple[float, float, float] | None, mass_g: float | None
) -> tuple[Offer, ...]:
    """Every maker's offer for one part: in house first, then by lead time and price."""
    found = []
    for maker in makers:
        bare = Offer(maker, fits_plate(size_mm, maker.build_volume_mm) if size_mm else None, None, mass_g)
        found.append(Offer(maker, bare.fits_plate, bare.price(1), mass_g))
    return tuple(sorted(found, key=_eager))


def fits_plate(size_mm: tuple[float, float, float], build_volume_mm: tuple[float, float, float]) -> bool:
    """Whether a box fits into a build volume, turned in right angles as it likes (both sorted, side by side)."""
    return all(side <= room for side, room in zip(sorted(size_mm), sorted(build_volume_mm), strict=True))


def _eager(offer: Offer) -> tuple[bool, bool, int, float, str]:
    maker = offer.maker
    price = offer.price_one if offer.price_one is not None else float("inf")
    return (
        offer.fits_plate is False,
        maker.kind is not MakerKind.IN_HOUSE,
        maker.lead_time_days,
        price,
        maker.id,
    )
