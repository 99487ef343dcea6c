"""When will the approval come? Own history first, the trade's common practice where there is little.

The rule: for each route and step the common practice counts like five finished approvals; every own finished one
takes the place of one of them, so from five own ones on only own history speaks. Waits that go on or were broken off
are censored, not dropped. The steps still to come are taken as independent and added up day by day.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from math import exp, log
from statistics import NormalDist

from generator.planning.waiting import Survival, Wait, one_after_another, quantile_day, remaining, survival
from generator.records.approvals import Route
from generator.rules.history import History, Stage, Stay

PRACTICE_COUNTS_LIKE = 5
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


@dataclass(frozen=True, slots=True)
class StepHistory:
    """What is known of one step of one route."""

    curve: Survival
    own_finished: int
    own_waiting: int

    @property
    def own_share(self) -> float:
        return min(1.0, self.own_finished / PRACTICE_COUNTS_LIKE)


StepHistories = Mapping[tuple[Route, Stage], StepHistory]


def step_histories(told: Iterable[History], day: date) -> dict[tuple[Route, Stage], StepHistory]:
    """What the depot's own approvals, finished and waiting, tell about each step, eked out by common practice."""
    waits: dict[tuple[Route, Stage], list[Wait]] = defaultdict(list)
    for each in told:
        for stay, following in zip(each.stays, [*each.stays[1:], None], strict=True):
            if stay.stage in WAY[each.route]:
                waits[each.route, stay.stage].append(_wait(stay, following, each.route, day))
    return {
        (route, stage): _step(waits[route, stage], route, stage) for route in Route for stage in WAY[route]
    }


def _wait(stay: Stay, following: Stay | None, route: Route, day: date) -> Wait:
    """A wait is finished when the next step of the way was entered; going back or breaking off cuts it off."""
    way = (*WAY[route], Stage.APPROVED)
    forward = (
        following is not None
        and following.stage in way
        and way.index(following.stage) > way.index(stay.stage)
    )
    return Wait(((stay.left or day) - stay.entered).days, finished=forward)


def _step(own: list[Wait], route: Route, stage: Stage) -> StepHistory:
    finished = sum(wait.finished for wait in own)
    weight = max(0, PRACTICE_COUNTS_LIKE - finished)
    practice = _practice(route, stage, weight) if weight else []
    return StepHistory(survival([*own, *practice]), finished, len(own) - finished)


def _practice(route: Route, stage: Stage, weight: float) -> list[Wait]:
    """Common practice as 19 equally likely waits of a log-normal distribution, together of the given weight."""
    median, factor = PRACTICE.get((route, stage)) or PRACTICE[None, stage]
    spread = log(factor) / NormalDist().inv_cdf(0.9)
    shares = [(index + 0.5) / 19 for index in range(19)]
    return [
        Wait(round(median * exp(spread * NormalDist().inv_cdf(share))), finished=True, weight=weight / 19)
        for share in shares
    ]


def forecast(told: History, histories: StepHistories, day: date) -> Forecast | None:
    """When the approval of a part on its way may come; None for one that is not on its way."""
    way = WAY[told.route]
    if told.stage not in way:
        return None
    waited = (day - told.since).days if told.since else 0
    steps = [histories[told.route, step] for step in way[way.index(told.stage) :]]
    chances = [
        remaining(step.curve, None if index else waited, HORIZON_DAYS) for index, step in enumerate(steps)
    ]
    total = one_after_another(chances)
    early, median, late = (_day(day, quantile_day(total, share)) for share in (0.1, 0.5, 0.9))
    return Forecast(early, median, late, sum(step.own_share for step in steps) / len(steps))


def _day(start: date, days: int | None) -> date | None:
    return start + timedelta(days=days) if days is not None else None
