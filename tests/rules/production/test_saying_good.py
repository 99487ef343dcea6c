"""Whose word makes pieces good: quality's and the customer's, and of nobody whose role the depot does not have."""

import pytest

from generator.records.depot import ActsAs, Role
from generator.rules.production.saying_good import SAYS_GOOD, acts, role_in, who_says_good
from tests.fixtures.production import depot

ROLES = tuple(
    Role(id=name, name=name.title(), acts_as=tuple(map(ActsAs, told)))
    for name, told in {"fitter": (), "quality": ("quality",), "keeper": ("authority", "customer"), "fire": ("fire engineer",)}.items()
)
DEPOT = depot().depot.model_copy(update={"roles": ROLES})


@pytest.mark.parametrize(("name", "says"), [("fitter", False), ("quality", True), ("keeper", True), ("fire", False), ("nobody", False)])
def test_quality_and_the_customer_say_so_and_nobody_else(name, says):
    assert acts(role_in(DEPOT, name), *SAYS_GOOD) is says


def test_each_who_may_is_named_as_the_depot_has_them():
    assert who_says_good(DEPOT) == ["quality", "keeper"]
    assert who_says_good(None) == []


def test_a_role_that_may_something_else_may_not_this():
    assert acts(role_in(DEPOT, "keeper"), ActsAs.AUTHORITY)
    assert not acts(role_in(DEPOT, "quality"), ActsAs.AUTHORITY)
    assert not acts(role_in(DEPOT, "quality"))
    assert role_in(None, "keeper") is None
    assert role_in(DEPOT, "quality").id == "quality"
