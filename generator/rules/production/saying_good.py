"""Which roles may say of pieces that they are good: of a batch, of one that was called back, of a lot that was blocked?

To make things more careful is open to every role. Four eyes and whose word counts: common practice, no source.
"""

from generator.records.depot import ActsAs, Depot, Role

SAYS_GOOD = (ActsAs.QUALITY, ActsAs.CUSTOMER)
"""Quality, and the customer, who keeps the vehicles."""


def acts(role: Role | None, *may: ActsAs) -> bool:
    return role is not None and bool(set(role.acts_as) & set(may))


def role_in(depot: Depot | None, name: str) -> Role | None:
    return next((each for each in (depot.roles if depot else ()) if each.id == name), None)


def who_says_good(depot: Depot | None) -> list[str]:
    """Every role that may, as depot.yml has them."""
    return [each.id for each in (depot.roles if depot else ()) if acts(each, *SAYS_GOOD)]
