"""When will the approval come? Own history first, the trade's common practice where there is little.

The rule: for each route and step the common practice counts like five finished waits; every own finished one that
took longer than this one has lasted so far takes the place of one of them, so from five such on only own history
speaks. Waits that go on or were broken off are censored, not dropped. The steps still to come are taken as
independent and added up day by day.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from functools import lru_cache
from math import exp, log
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

from generator.planning.waiting import Wait, one_after_another, quantile_day, remaining
from generator.records.approvals import Route
from generator.rules.history import IN_REVIEW, History, Stage, Stay

PRACTICE_COUNTS_LIKE = 5
PRACTICE_POINTS = 99
HORIZON_DAYS = 2000

# Median days of a step and the factor that spans its middle 80 % (median / factor … median × factor). Common practice,
# no source: the customer route takes a few months, the authority about half a year.
PRACTICE: Mapping[tuple[Route | None, Stage], tuple[int, float]] = {
    (None, Stage.DESIGN): (21, 2.5),
    (None, Stage.PROTOTYPE): (14, 2.5),
    (None, Stage.ACCEPTANCE): (30, 2.0),
    (None, Stage.DOCUMENTS): (30, 2.0),
    (Route.CUSTOMER, Stage.TECHNICAL_REVIEW): (90, 1.8),
    (Route.AUTHORITY, Stage.TECHNICAL_REVIEW): (45, 1.8),
    (Route.AUTHORITY, Stage.AUTHORITY_REVIEW): (180, 1.5),
}

WAY: Mapping[Route, tuple[Stage, ...]] = {
    Route.CUSTOMER: (
        Stage.DESIGN,
        Stage.PROTOTYPE,
        Stage.ACCEPTANCE,
        Stage.DOCUMENTS,
        Stage.TECHNICAL_REVIEW,
    ),
    Route.AUTHORITY: (
        Stage.DESIGN,
        Stage.PROTOTYPE,
        Stage.ACCEPTANCE,
        Stage.DOCUMENTS,
        Stage.TECHNICAL_REVIEW,
        Stage.AUTHORITY_REVIEW,
    ),
}


@dataclass(frozen=True, slots=True)
class Forecast:
    """When the approval may come: median and 80 % range, None where the history leaves it open."""

    early: date | None
    median: date | None
    late: date | None
    own_share: float
    """How much of it is own history, 0 to 1 (the mean over the steps still to come)."""


Own = Mapping[tuple[Route, Stage], list[Wait]]
"""The depot's own waits by route and step."""


def own_waits(told: Iterable[History], day: date) -> Own:
    """What the depot's own approvals, finished and waiting, tell about each step."""
    waits: dict[tuple[Route, Stage], list[Wait]] = defaultdict(list)
    for each in told:
        for stay, following in zip(each.stays, [*each.stays[1:], None], strict=False):
            # Where the dates of a record run backwards, which is told, nobody has waited.
            if stay.stage in WAY[each.route] and (stay.left or day) >= stay.entered:
                waits[each.route, stay.stage].append(_wait(stay, following, each.route, day))
    return waits


def _wait(stay: Stay, following: Stay | None, route: Route, day: date) -> Wait:
    """A wait is finished when the next step of the way was entered; going back or breaking off cuts it off."""
    way = (*WAY[route], Stage.APPROVED)
    forward = (
        following is not None
        and following.stage in way
        and way.index(following.stage) > way.index(stay.stage)
    )
    return Wait(((stay.left or day) - stay.entered).days, finished=forward)


_Step = tuple[tuple[Wait, ...], tuple[Route, Stage], int | None]
"""Own waits of a step, which it is, and how long it has gone on; None where it is to come."""


def _asked(own: Own, route: Route, stage: Stage, waited: int | None = None) -> _Step:
    return tuple(own.get((route, stage), ())), (route, stage), waited


@lru_cache(1024)
def _together(steps: tuple[_Step, ...]) -> tuple[NDArray[np.float64], float]:
    """Of steps one after the other. Overview, deadlines and renewals of a build ask for the same again and again; so nobody writes into it."""
    each = [_step(*step) for step in steps]
    total = one_after_another([chances for chances, _ in each])
    total.flags.writeable = False
    return total, sum(share for _, share in each) / len(each)


@lru_cache(1024)
def _step(own: tuple[Wait, ...], key: tuple[Route, Stage], waited: int | None) -> tuple[NDArray[np.float64], float]:
    """Chances of a step by days from now, and how much of them is own history."""
    ahead = sum(wait.finished and (waited is None or wait.days > waited) for wait in own)
    weight = max(0, PRACTICE_COUNTS_LIKE - ahead)
    practice = _practice(key, weight, waited) if weight else []
    chances = remaining([*own, *practice], waited, HORIZON_DAYS)
    chances.flags.writeable = False
    return chances, 1 - weight / PRACTICE_COUNTS_LIKE


def _practice(key: tuple[Route, Stage], weight: float, waited: int | None) -> list[Wait]:
    """Common practice as equally likely waits of a log-normal distribution, those still possible of the given weight."""
    return _log_normal(*(PRACTICE.get(key) or PRACTICE[None, key[1]]), weight, waited)


def _log_normal(median: int, factor: float, weight: float, waited: int | None) -> list[Wait]:
    normal = NormalDist(log(median), log(factor) / NormalDist().inv_cdf(0.9))
    days = [round(exp(normal.inv_cdf((index + 0.5) / PRACTICE_POINTS))) for index in range(PRACTICE_POINTS)]
    possible = [each for each in days if waited is None or each > waited]
    return [Wait(each, finished=True, weight=weight / len(possible)) for each in possible]


def forecast(told: History, own: Own, day: date) -> Forecast | None:
    """When the approval of a part on its way may come; None for one that is not on its way."""
    ahead = way_ahead(told, own, day)
    if ahead is None:
        return None
    total, own_share = ahead
    early, median, late = (_day(day, quantile_day(total, share)) for share in (0.1, 0.5, 0.9))
    return Forecast(early, median, late, own_share)


def way_ahead(told: History, own: Own, day: date) -> tuple[NDArray[np.float64], float] | None:
    """Chance, (HORIZON_DAYS + 1,), that the approval comes in exactly 0, 1, … days, and how much of it is own history."""
    way = WAY[told.route]
    if told.stage not in way:
        return None
    waited = (day - told.since).days if told.since else 0
    to_come = way[way.index(told.stage) :]
    return _together(tuple(_asked(own, told.route, stage, None if index else waited) for index, stage in enumerate(to_come)))


def review_ahead(route: Route, own: Own) -> NDArray[np.float64]:
    """The same of a review that is yet to begin, such as of a renewal: as long as the reviews on the way to an approval."""
    stages = [stage for stage in WAY[route] if stage in IN_REVIEW]
    return _together(tuple(_asked(own, route, stage) for stage in stages))[0]


def usual_wait(route: Route, stage: Stage, own: Own, share: float = 0.8) -> int | None:
    """Within how many days such a share of these steps is over; None where history does not tell, or it is no step of the way."""
    if stage not in WAY[route]:
        return None
    return quantile_day(_step(*_asked(own, route, stage))[0], share)


def practice_of(median_days: int, factor: float) -> NDArray[np.float64]:
    """Chances, (HORIZON_DAYS + 1,), of what common practice alone tells; see PRACTICE."""
    return remaining(_log_normal(median_days, factor, PRACTICE_COUNTS_LIKE, None), None, HORIZON_DAYS)


def step_days(own: Own, route: Route, stage: Stage) -> int | None:
    """The median of one step that has yet to begin, in days; None where the history leaves it open."""
    chances, _ = _step(*_asked(own, route, stage))
    return quantile_day(chances, 0.5)


def _day(start: date, days: int | None) -> date | None:
    return start + timedelta(days=days) if days is not None else None
