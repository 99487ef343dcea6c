"""What happens at a place when a paper of its material ends, and when: the words for what rests.py has judged."""

from datetime import date
from enum import StrEnum

from generator.planning.rests import Rest
from generator.records.fire import FireTest
from generator.records.materials import Certificate
from generator.rules.fire.rows import FireAnswer, FireRow
from generator.rules.lasting import FOR_EVER, last_day
from generator.rules.verdicts import Verdict


class Then(StrEnum):
    """What follows from the end of a paper."""

    UNFIT = "unfit"  # it is not to be fitted from the next day on
    ASK = "ask"  # it is asked about from the next day on
    BEFORE = "before"  # the permit ends sooner
    SPARE = "spare"  # another paper answers there for longer
    TOGETHER = "together"  # another paper answers there too, and lasts no longer
    ALREADY = "already"  # it is not to be fitted there as it is
    NEVER = "never"  # the paper says that it has no end
    AGAINST = "against"  # a result of the paper fails there


def rows_of(rest: Rest, paper: Certificate | FireTest) -> tuple[FireRow, ...]:
    """The tests that a report answers there, or fails."""
    return tuple(row for row in rest.ground.fire.rows if row.report and row.report.sha256 == paper.sha256)


def ending(rest: Rest, paper: Certificate | FireTest) -> tuple[Then, date | None]:
    """What happens there when the paper ends, and the last day of what ends first; None where nothing ends."""
    last, permit = last_day(paper), rest.ground.permits[0].permit_until
    if any(row.answer is FireAnswer.FAILS for row in rows_of(rest, paper)):
        return Then.AGAINST, None
    if rest.now is Verdict.DO_NOT_FIT:
        return Then.ALREADY, None
    if not rest.lapses:
        return _beside_others(rest, paper, last)
    if isinstance(permit, date) and (last is None or permit < last):
        return Then.BEFORE, permit
    if last is None or last == FOR_EVER:
        return Then.NEVER, None
    return (Then.UNFIT if rest.then is Verdict.DO_NOT_FIT else Then.ASK), last


def _beside_others(rest: Rest, paper: Certificate | FireTest, last: date | None) -> tuple[Then, date | None]:
    """Where others answer as well: until when all of them do."""
    facts = rest.ground.permits[0]
    until = facts.fire_until if isinstance(paper, FireTest) else facts.certificate_until
    return (Then.TOGETHER, until) if isinstance(until, date) and last and until <= last else (Then.SPARE, None)
