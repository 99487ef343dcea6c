"""Which of the depot's roles does somebody who fills in a form have most likely? These come first, the others behind one button."""

from collections.abc import Mapping

from generator.records.depot import Depot, Role

_FIRST = 6
"""So many a tablet shows as large buttons without a scroll (common practice, no source)."""


def role_choices(depot: Depot | None, used: Mapping[str, int]) -> list[dict[str, str | bool]]:
    """All roles as the scripts take them: `first` are those that did so before, the most often first, then those whose id begins as theirs.

    used: how often each role did, by its id. Where none has, those come first that decide nothing.
    """
    roles = depot.roles if depot else ()
    before = [role for role in sorted(roles, key=lambda role: -used.get(role.id, 0)) if used.get(role.id)]
    kinds = {_kind(role) for role in before}
    alike = [role for role in roles if role not in before and _kind(role) in kinds]
    first = [*before, *alike] if before else [role for role in roles if not role.acts_as]
    shown = (first or list(roles))[:_FIRST]
    others = [role for role in roles if role not in shown]
    return [{"id": role.id, "name": role.name, "first": role in shown} for role in (*shown, *others)]


def _kind(role: Role) -> str:
    return role.id.partition("-")[0]
