"""Who prints a part, in how many days, for how much."""

import itertools

import pytest

from generator.geometry.plate import fits_plate
from generator.planning.offers import offers
from generator.records.makers import Maker, MakerKind, PriceRule, Process


def maker(name, *, kind=MakerKind.IN_HOUSE, days=2, price=None, plate=(200.0, 200.0, 200.0)):
    return Maker(
        id=name, name=name, kind=kind, process=Process.MATERIAL_EXTRUSION, build_volume_mm=plate, materials=("petg",),
        lead_time_days=days, price=price or PriceRule(per_gram=0.1), order_at="counter",
    )  # fmt: skip


SIZE = (50.0, 20.0, 10.0)


def names(makers, size=SIZE, mass=10.0):
    return [offer.maker.id for offer in offers(tuple(makers), size, mass)]


@pytest.mark.parametrize(("count", "price"), [(1, 38 + 1.9 + 0.48 * 25), (4, 38 + 4 * (1.9 + 0.48 * 25))])
def test_the_price_of_an_order(count, price):
    # By hand: per_order + count × (per_part + per_gram × mass), the rule in the docstring of PriceRule.
    rule = PriceRule(per_order=38, per_part=1.9, per_gram=0.48)
    (offer,) = offers((maker("bureau", price=rule),), SIZE, 25.0)
    assert float(offer.price(count)) == pytest.approx(price)
    assert offer.price_one == offer.price(1)


def test_no_mass_no_price():
    (offer,) = offers((maker("a"),), SIZE, None)
    assert (offer.price_one, offer.price(3)) == (None, None)


def test_no_size_no_word_about_the_plate():
    (offer,) = offers((maker("a"),), None, 10.0)
    assert offer.fits_plate is None


def test_in_house_first_then_lead_time_then_price():
    makers = [
        maker("bureau", kind=MakerKind.BUREAU, days=1),
        maker("slow", days=5),
        maker("dear", days=2, price=PriceRule(per_gram=9)),
        maker("cheap", days=2),
    ]
    for order in itertools.permutations(makers):
        assert names(order) == ["cheap", "dear", "slow", "bureau"]


def test_who_has_no_room_comes_last():
    assert names([maker("small", plate=(30.0, 30.0, 30.0)), maker("bureau", kind=MakerKind.BUREAU)]) == [
        "bureau",
        "small",
    ]


@pytest.mark.parametrize(
    ("size", "plate", "fits"),
    [
        ((10, 20, 30), (30, 20, 10), True),
        ((30, 20, 10), (30, 20, 10), True),  # exactly as large
        ((30.1, 20, 10), (30, 20, 10), False),
        ((25, 25, 10), (30, 20, 30), True),
        ((25, 25, 25), (30, 20, 30), False),
    ],
)
def test_room_on_the_plate(size, plate, fits):
    assert all(fits_plate(turned, plate) is fits for turned in itertools.permutations(size))
