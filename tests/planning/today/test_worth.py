"""What a week of delay costs: saving × demand ÷ 52, as decimals, and what counts where nobody knows."""

from decimal import Decimal

import pytest

from generator.planning.today.worth import STOP_WORTH, UNPRICED_PIECE, Worth

D = Decimal


def worth(demand: str | None = "26", saving: str | None = "30", stops: tuple[str, ...] = (), stop_worth: str = "100") -> Worth:
    return Worth(demand=D(demand) if demand else None, saving=D(saving) if saving else None, stops=stops, stop_worth=D(stop_worth))


def test_the_saving_of_a_year_is_spread_over_its_weeks():
    assert worth().a_week == D("15.00")  # 26 × 30 ÷ 52


def test_what_stops_counts_for_each_piece_that_lacks():
    assert worth(stops=("car stays in the yard",)).a_week == D("65.00")  # 26 × (30 + 100) ÷ 52
    assert worth(stops=("a", "b")).a_week == D("65.00"), "two who say so are no two stops"


@pytest.mark.parametrize(
    ("told", "a_week"),
    [
        ({"demand": None}, "0.58"),  # as one piece a year: 30 ÷ 52
        ({"demand": "0"}, "0.00"),
        ({"demand": "0", "stops": ("it stops",)}, "0.00"),
        ({"saving": None}, "5.00"),  # 26 × 10 ÷ 52
        ({"saving": "-12"}, "0.00"),  # dearer than what it replaces: nobody loses by waiting
        ({"saving": "-12", "stops": ("it stops",)}, "50.00"),
        ({"saving": "0"}, "0.00"),
        ({"demand": "0.5", "saving": "104"}, "1.00"),
    ],
)
def test_what_nobody_knows_counts_by_a_stated_rule(told, a_week):
    assert UNPRICED_PIECE == 10
    assert STOP_WORTH == 100
    assert worth(**told).a_week == D(a_week)
