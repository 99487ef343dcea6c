"""Which prices of what was bought are asked about: a nought stands for one that nobody knows."""

from types import SimpleNamespace

import pytest

from generator.reading.shelf import prices


@pytest.mark.parametrize(("price", "asked"), [(None, 0), (0.0, 1), (0.004, 1), (0.005, 0), (0.01, 0), (12.5, 0)])
def test_a_price_that_is_none_in_whole_cents_is_asked_about(price, asked):
    bought = SimpleNamespace(price=price)
    assert len([*prices(SimpleNamespace(assembly=bought, replaces=()))]) == asked
    told = [*prices(SimpleNamespace(assembly=None, replaces=(SimpleNamespace(price=3.0), bought)))]
    assert [each.path for each in told] == [("replaces", 1, "price")] * asked
