"""Does each role exist, and may it say what it says? Only some roles speak for the customer or the authority."""

from collections.abc import Iterable

from generator.reading.placing import Finding, known
from generator.reading.yaml_places import Path
from generator.records.approvals import (
    AcceptanceGiven,
    AcceptanceRefused,
    Approval,
    ApprovalRefused,
    Approved,
    ConditionLifted,
    Event,
    Renewed,
    Route,
    Screening,
    TrialOpened,
    Waiver,
)
from generator.records.base import Record
from generator.records.depot import ActsAs, Depot
from generator.records.parts import Fire

# Whoever decides on an approval; what only makes it more careful (a condition, a withdrawal) is open to all.
_DECISIONS = (Approved, ApprovalRefused, Renewed, ConditionLifted)


def role(depot: Depot | None, name: str, path: Path) -> Iterable[Finding]:
    """The role must exist; a depot.yml that cannot be read is told there."""
    if depot:
        yield from known("role", name, (each.id for each in depot.roles), path)


def fire_roles(depot: Depot | None, fire: Fire) -> Iterable[Finding]:
    """Only a fire engineer chooses what the standard asks, and says that no test is asked."""
    engineer = (ActsAs.FIRE_ENGINEER,)
    yield from _acting(depot, fire.chosen_by, engineer, "chooses the requirement set", ("fire", "chosen_by"))
    if fire.exemption:
        path: Path = ("fire", "exemption", "by")
        yield from _acting(depot, fire.exemption.by, engineer, "says that no fire test is asked", path)


def approval_roles(depot: Depot | None, approval: Approval) -> Iterable[Finding]:
    """Everybody named in approval.yml: in its events, its waiver and its screening."""
    for i, event in enumerate(approval.events):
        says = f"says '{event.what}'"
        yield from _acting(depot, event.by, _who_may(event, approval.route), says, ("events", i, "by"))
    if approval.waiver:
        yield from _waiver_role(depot, approval.waiver)
    if approval.screening:
        yield from _screening_roles(depot, approval.screening)


def _who_may(event: Event, route: Route) -> tuple[ActsAs, ...]:
    """As whom one has to act to say this; empty where everybody may."""
    if isinstance(event, AcceptanceGiven | AcceptanceRefused):
        return (ActsAs.CUSTOMER,)
    if isinstance(event, TrialOpened):
        return (ActsAs.CUSTOMER, ActsAs.AUTHORITY)
    if isinstance(event, _DECISIONS):
        return (ActsAs.AUTHORITY if route is Route.AUTHORITY else ActsAs.CUSTOMER,)
    return ()


def _waiver_role(depot: Depot | None, waiver: Waiver) -> Iterable[Finding]:
    may = (ActsAs.CUSTOMER, ActsAs.SAFETY_MANAGER)
    yield from _acting(depot, waiver.by, may, "waives the authority", ("waiver", "by"))


def _screening_roles(depot: Depot | None, screening: Screening) -> Iterable[Finding]:
    for key in type(screening).model_fields:
        answer = getattr(screening, key)
        if isinstance(answer, Record) and hasattr(answer, "by"):
            yield from role(depot, answer.by, ("screening", key, "by"))
    if screening.judged_by:
        yield from role(depot, screening.judged_by, ("screening", "judged_by"))


def _acting(
    depot: Depot | None, name: str, may: tuple[ActsAs, ...], does: str, path: Path
) -> Iterable[Finding]:
    """The role must exist and, where `may` names anybody, act as one of them."""
    yield from role(depot, name, path)
    found = next((each for each in depot.roles if each.id == name), None) if depot else None
    if depot is None or found is None or not may or set(may) & set(found.acts_as):
        return
    wanted = " or ".join(may)
    able = [each.id for each in depot.roles if set(may) & set(each.acts_as)]
    fix = (
        f"name a role that does: {', '.join(able)}"
        if able
        else f"give the role that does 'acts_as: [{may[0]}]' in depot.yml"
    )
    yield Finding("APPR23", path, f"{does} by '{name}', a role that does not act as {wanted}", fix)
