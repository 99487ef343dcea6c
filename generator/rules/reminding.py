"""Who may say that somebody was reminded? Whoever waits, and never whoever is waited for: that would put off its own reminder.

Whoever waits is the role that sent it there (or printed it), and every role that does not speak for whoever has it. Common practice, no source.
"""

from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from typing import Final

from generator.records.approvals import Approval, Event, ReminderSent, Route
from generator.records.batches import Batch, BatchEvent, ReleaseReminded
from generator.records.depot import ActsAs, Depot
from generator.records.problems import Problem, doubt
from generator.rules.history import History, Holder, history
from generator.rules.production.saying_good import SAYS_GOOD, acts, role_in

_SPEAKS: Final[Mapping[Holder, ActsAs]] = {Holder.CUSTOMER: ActsAs.CUSTOMER, Holder.AUTHORITY: ActsAs.AUTHORITY}
_SENDS: Final = frozenset({"sent for customer acceptance", "sent to technical review", "sent to the authority", "question answered", "taken over"})


def may_remind(by: str, approval: Approval | None, history: History, depot: Depot | None) -> bool:
    """Of a part that lies with somebody else, or of a letter that nobody has confirmed yet."""
    has_it = _SPEAKS.get(history.holder)
    if has_it is None and history.awaits:
        has_it = ActsAs.AUTHORITY if history.route is Route.AUTHORITY else ActsAs.CUSTOMER
    sender = next((each.by for each in reversed(approval.events if approval else ()) if each.what in _SENDS), None)
    return has_it is None or by == sender or not acts(role_in(depot, by), has_it)


def may_remind_of_release(by: str, batch: Batch, depot: Depot | None) -> bool:
    """Whoever printed it may: another one releases."""
    return by == batch.printed_by or not acts(role_in(depot, by), *SAYS_GOOD)


def self_reminders(approval: Approval | None, depot: Depot | None, day: date) -> Iterator[Problem]:
    """Reminders until `day` by whoever had it then, each judged by what stood before it: they put nothing off."""
    for at, event in enumerate(approval.events if approval else ()):
        if approval is None or event.what != "reminder sent" or event.on > day:
            continue
        before = approval.model_copy(update={"events": approval.events[:at]})
        if not may_remind(event.by, before, history(before, event.on), depot):
            yield doubt("APPR50", "reminds itself", path=("events", at), by=event.by)


def self_reminders_of_release(batch: Batch, depot: Depot | None) -> Iterator[Problem]:
    """The same of a batch: by a role that may release it."""
    for at, event in enumerate(batch.events):
        if event.what == "reminder sent" and not may_remind_of_release(event.by, batch, depot):
            yield doubt("BATCH05", "reminds itself", path=("events", at, "by"), by=event.by)


def reminded_already(events: Iterable[Event | BatchEvent], by: str, on: date) -> ReminderSent | ReleaseReminded | None:
    """The reminder of that day by that role, which a second one would count again; None where there is none. Common practice, no source."""
    sent = (each for each in events if isinstance(each, ReminderSent | ReleaseReminded))
    return next((each for each in sent if (each.by, each.on) == (by, on)), None)
