"""The tasks of a day in words, for the command and the page alike."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from generator.pages.approvals.mends import MendLine, lack_lines, move_lines
from generator.pages.reports.saved import ahead_words
from generator.pages.stock.told import demand_words
from generator.pages.wording import Wording
from generator.planning.overview import Lapsing, Missing
from generator.planning.today.drawn import REMINDER_RESTS_DAYS, release_reminded_on, reminded_on
from generator.planning.today.guesses import Minutes
from generator.planning.today.kept import Misses, in_time, misses, put_forward
from generator.planning.today.order import ChosenTasks, fitting
from generator.planning.today.tasks import Task, TaskKind
from generator.planning.today.week import HORIZON_YEARS, Planned, horizon, planned
from generator.planning.today.worth import UNPRICED_PIECE, Worth, stop_worth
from generator.records.catalogue import Catalogue
from generator.records.depot import NO_CURRENCY

_END = re.compile(r"(?<=[^\W\d_]{3})\. (?=[^\W\d_])")
_RENEWAL = Lapsing.APPROVAL.name.lower()
_LEAST_HOURS = 0.001
_MINUTES_A_HOUR = 60
_LEAST_RATIO = Decimal("0.01")
_MISSED = {Misses.LATEST_START: "start", Misses.LAST_DAY: "last"}


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskLine:
    """A task in words."""

    subject: str
    """Number and name of what it is of; of a batch its number, with the part's."""
    part: str | None
    """Number of the part whose page tells more."""
    what: str
    found: str | None
    """The whole of it, where `what` is only its first sentence."""
    do: str
    command: str
    minutes: str
    own: str
    """The same, but that a guess is not called one by itself: what lists many says it once."""
    now: str | None
    """Where it is only begun, how much of it."""
    value: str
    reason: str | None
    """That one of `why` which says most of where it stands."""
    why: tuple[str, ...]
    done_on: str | None
    """When it is done in the depot's hours; None where nothing is planned."""

    @property
    def short(self) -> str:
        return f"{self.subject}: {self.what}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Today:
    """All tasks in their order, each with its words and when it is done."""

    day: date
    tasks: tuple[Task, ...]
    lines: tuple[TaskLine, ...]
    plan: tuple[Planned, ...]
    missed: tuple[Misses | None, ...]
    """Which day each misses by that plan."""
    hours: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitting:
    """What is done in a stretch of time, in words."""

    minutes: int
    chosen: ChosenTasks
    lines: tuple[TaskLine, ...]
    skipped: tuple[TaskLine, ...]


def today_told(tasks: Sequence[Task], catalogue: Catalogue, day: date, w: Wording) -> Today:
    hours = catalogue.depot.hours_per_week if catalogue.depot else None
    by_key = {task.job(day).key: task for task in tasks}
    order = [by_key[job.key] for job in in_time([task.job(day) for task in tasks], hours, day)]
    forward = put_forward(tasks, order)
    plan = planned((task.minutes.minutes for task in order), hours, day)
    missed = tuple(misses(task, each, day) if hours is not None else None for task, each in zip(order, plan, strict=True))
    told = _Told(catalogue, day, w)
    lines = tuple(
        told.line(task, each, of_day, is_planned=hours is not None, is_forward=task in forward)
        for task, each, of_day in zip(order, plan, missed, strict=True)
    )
    return Today(day=day, tasks=tuple(order), lines=lines, plan=plan, missed=missed, hours=hours)


def fitting_told(today: Today, minutes: int, w: Wording) -> Fitting:
    """What fits into so many minutes. Raises ValueError for less than one."""
    by_key = {task.job(today.day).key: line for task, line in zip(today.tasks, today.lines, strict=True)}
    chosen = fitting([task.job(today.day) for task in today.tasks], minutes)
    lines = [
        replace(by_key[slot.job.key], now=w("today.begun", now=w.number(slot.minutes), whole=w.number(slot.job.minutes)) if slot.is_begun else None)
        for slot in chosen.slots
    ]
    return Fitting(minutes=minutes, chosen=chosen, lines=tuple(lines), skipped=tuple(by_key[job.key] for job in chosen.skipped))


def minutes_words(minutes: Minutes, w: Wording) -> str:
    """So many, and whether that is a guess."""
    said = w("today.minutes", n=w.number(minutes.minutes))
    return w("today.guessed", minutes=said) if minutes.is_guess else w("today.logged.one" if minutes.logged == 1 else "today.logged.other", minutes=said, n=w.number(minutes.logged))


def skipped_words(told: Fitting, w: Wording) -> str | None:
    """How many would have had their turn and do not fit, and whether minutes of them are guesses; None of nothing."""
    guesses = w("today.guesses") if any(each.own != each.minutes for each in told.skipped) else None
    return w.count("today.skipped", len(told.skipped), guesses=guesses) if told.skipped else None


def waiting_words(told: Fitting, w: Wording) -> str | None:
    return w.count("today.waiting", told.chosen.waiting) if told.chosen.waiting else None


def plan_words(today: Today, w: Wording) -> str:
    if today.hours is None:
        return w("today.plan_none")
    if not today.hours:
        return " ".join(filter(None, (w("today.plan_zero"), _missed_words(today, w))))
    shown = w.measure(today.hours, 3) if today.hours >= _LEAST_HOURS else f"< {w.measure(_LEAST_HOURS, 3)}"
    return " ".join(filter(None, (w("today.plan_says", hours=shown), _missed_words(today, w), _beyond_words(today, w))))


def _missed_words(today: Today, w: Wording) -> str | None:
    """What comes too late by the plan, each by its name; None of nothing."""
    late = dict.fromkeys(line.subject for line, missed in zip(today.lines, today.missed, strict=True) if missed)
    return w.count("today.plan_missed", len(late), parts=w("list_separator").join(late)) if late else None


def _beyond_words(today: Today, w: Wording) -> str | None:
    """What is not done within the horizon, and how much work that is; None of nothing."""
    beyond = sum(each.is_beyond for each in today.plan)
    if not beyond:
        return None
    minutes = sum(each.ends - each.begins for each in today.plan if each.is_beyond)
    work = w.count("today.work", round(minutes / _MINUTES_A_HOUR)) if minutes >= _MINUTES_A_HOUR else w("today.minutes", n=w.number(minutes))
    every = w.number(len(today.plan))
    return w.count("today.plan_beyond", beyond, all=every, years=w.number(HORIZON_YEARS), until=w.day(horizon(today.day)), work=work)


def method_words(catalogue: Catalogue, w: Wording) -> str:
    """How the order is made, and by which conventions."""
    currency = _currency(catalogue)
    return w("today.method", unpriced=w.money(UNPRICED_PIECE, currency), stop=w.money(stop_worth(catalogue), currency))


def _currency(catalogue: Catalogue) -> str:
    return catalogue.depot.currency if catalogue.depot else NO_CURRENCY


def first_sentence(text: str) -> str:
    """Without what comes behind its end; the full stop of a day, such as in "18. Dez. 2026", ends none."""
    return _END.split(text, maxsplit=1)[0]


def percent(share: float, w: Wording) -> str:
    return w.number(100 * share)


@dataclass(frozen=True, slots=True)
class _Told:
    catalogue: Catalogue
    day: date
    w: Wording

    def line(self, task: Task, plan: Planned, missed: Misses | None, *, is_planned: bool, is_forward: bool) -> TaskLine:
        mend, minutes = self._mend(task), minutes_words(task.minutes, self.w)
        of_plan = tuple(self._of_plan(task, plan, missed, is_forward=is_forward))
        why = (*of_plan, *self._why(task))
        done = self._done(task, plan, missed) if is_planned else None
        return TaskLine(
            subject=self._subject(task),
            part=task.number if task.row else next(iter(task.worths)) if task.kind is TaskKind.TEST else None,
            what=first_sentence(mend.missing),
            found=mend.missing if mend.missing != first_sentence(mend.missing) else None,
            do=mend.do,
            command=mend.command,
            minutes=minutes,
            own=self.w("today.minutes", n=self.w.number(task.minutes.minutes)) if task.minutes.is_guess else minutes,
            now=None,
            value=self.w("today.amount", money=self._money(task.value_a_week)),
            reason=self._reason(task, of_plan, why),
            why=why,
            done_on=done,
        )

    def _reason(self, task: Task, of_plan: Sequence[str], why: Sequence[str]) -> str | None:
        """What the plan makes of it or what presses, else the quotient; where waiting costs nothing, why."""
        leads = why[: max(len(of_plan), int(task.is_pressing))]
        told = [*leads, *self._of_ratio(task)] or (why[-1:] if task.kind in (TaskKind.BATCH, TaskKind.RECORD) else why)
        return next(iter(told), None)

    def _done(self, task: Task, plan: Planned, missed: Misses | None) -> str:
        """The day, and at once that it is too late."""
        w, done = self.w, self.w.day(plan.done_on) if plan.done_on else ""
        if not done:
            done = w("today.later", until=w.day(horizon(self.day))) if plan.is_beyond else w("today.never")
        if missed is None or task.deadline is None:
            return done
        return w(f"today.too_late.{_MISSED[missed]}", done=done, last_day=w.day(task.deadline.last_day))

    def _of_plan(self, task: Task, plan: Planned, missed: Misses | None, *, is_forward: bool) -> Iterator[str]:
        """What the depot's hours make of a day to keep."""
        keeps, w = task.deadline, self.w
        if keeps is None:
            return
        latest = w.day(max(keeps.latest_start or self.day, self.day))
        if is_forward:
            yield w("today.because.forward", day=latest)
        if missed:
            yield w(f"today.because.missed_{_MISSED[missed]}", done=w.day(plan.done_on) if plan.done_on else None, latest=latest, last_day=w.day(keeps.last_day))

    def _money(self, amount: Decimal) -> str:
        return self.w.money(amount, _currency(self.catalogue))

    def _subject(self, task: Task) -> str:
        if task.row:
            return task.row.sheet.title
        request, material = self.catalogue.requests.get(task.number), self.catalogue.materials.get(task.number)
        if task.kind is TaskKind.REQUEST and request:
            return f"{task.number} {request.name}"
        if task.kind is TaskKind.TEST:
            return self.w("today.tests")
        if batch := self.catalogue.production.batches.get(task.number):
            folder = self.catalogue.folder(batch.part)
            return f"{task.number} ({folder.title if folder else batch.part})"
        return material.name if task.kind is TaskKind.KEEP and material else task.number

    def _mend(self, task: Task) -> MendLine:
        """As `spares next` says it, where that speaks of it too."""
        row = task.row
        if row and task.kind is TaskKind.WAY:
            return move_lines(row.sheet, [Missing[task.what.upper()]], self.catalogue, self.w)[0]
        if row and task.kind is TaskKind.UNFIT:
            of_step = [replace(lack, taken=tuple(taken for taken in lack.taken if taken.step.id == task.what)) for lack in row.lacks]
            return lack_lines(row.sheet, [lack for lack in of_step if lack.taken], self.catalogue, self.w)[0]
        key = "remind" if task.kind is TaskKind.REMIND and row else task.what
        facts = self._facts(task)
        asked = "mends.steps.lasts" if key == _RENEWAL else f"today.tasks.{key}"
        missing, do, command = (self.w.filled(str(self.w.flat[each]), facts) for each in (f"today.tasks.{key}.missing", f"{asked}.do", f"{asked}.command"))
        return MendLine(missing=missing, do=do, command=command)

    def _facts(self, task: Task) -> Mapping[str, str]:
        w, row = self.w, task.row
        request, batch = self.catalogue.requests.get(task.number), self.catalogue.production.batches.get(task.number)
        facts = {"number": task.number, "parts": ", ".join(task.worths), "material": self._subject(task)}
        if task.deadline:
            facts["last_day"] = w.day(task.deadline.last_day)
        if row and row.sheet.history.approval:
            facts["permit_on"] = row.sheet.history.approval.event.on.isoformat()
        if row:
            facts |= {"holder": w.term("holder", row.holder), "what": w.term("missing_step", task.what), "waited": w.count("today.lain", row.waited_days or 0)}
            reminded = reminded_on(row, self.catalogue.depot, self.day)
            facts |= {"rests": w.number(REMINDER_RESTS_DAYS)} | ({"reminded": w.day(reminded)} if reminded else {})
        if request:
            facts["asked"] = request.what_it_does
        if batch:
            last = release_reminded_on(batch, self.catalogue.depot, self.day)
            facts |= {"part": f"{batch.part} {batch.revision}", "day": w.day(batch.ended.date()), "rests": w.number(REMINDER_RESTS_DAYS)}
            facts |= {"reminded": w.day(last)} if last else {}
        return facts

    def _why(self, task: Task) -> Iterator[str]:
        yield from self._of_deadline(task)
        if len(task.worths) > 1:
            yield self.w("today.because.of_several", parts=", ".join(task.worths))
        for worth in task.worths.values():
            yield from self._of_worth(worth)
        if task.kind is TaskKind.KEEP and task.share < 1:
            yield self.w("today.because.lapse_share", share=percent(float(task.share), self.w))
        elif task.kind is TaskKind.REMIND:
            yield self.w("today.because.remind_share")
        if task.stops_others:
            yield self.w("today.because.stops_others")
        if task.kind is TaskKind.BATCH and not task.share:
            yield self.w("today.because.on_shelf")
        elif task.kind is TaskKind.RECORD and not task.worths:
            yield self.w("today.because.short")
        yield from self._of_ratio(task)

    def _of_deadline(self, task: Task) -> Iterator[str]:
        keeps, w = task.deadline, self.w
        if keeps is None or not (task.is_pressing or keeps.is_lost or task.kind is TaskKind.KEEP):
            return
        last_day = w.day(keeps.last_day)
        if keeps.is_lost:
            yield w("today.because.lost", last_day=last_day, chance=percent(keeps.chance, w))
        elif not task.is_pressing:
            if keeps.latest_start:
                yield w("today.because.begin_by", day=w.day(keeps.latest_start), last_day=last_day)
        elif task.kind is not TaskKind.KEEP:
            yield w("today.because.trial", last_day=last_day, chance=percent(keeps.chance, w))
        elif keeps.latest_start is None:
            yield w("today.because.lapses_open", last_day=last_day)
        else:
            later = percent(keeps.in_a_week, w) if keeps.in_a_week > keeps.chance else None
            yield w("today.because.lapses", last_day=last_day, chance=percent(keeps.chance, w), in_a_week=later)

    def _of_worth(self, worth: Worth) -> Iterator[str]:
        w = self.w
        if worth.demand == 0:
            yield w("today.because.no_demand")
            return
        if worth.demand is None:
            yield w("today.because.unsaid")
        key, counts = ("unpriced", UNPRICED_PIECE) if worth.saving is None else ("saves", worth.saving) if worth.saving >= 0 else ("loses", -worth.saving)
        prices = ahead_words(worth.prices, _currency(self.catalogue), self.w) if worth.prices else {}
        yield w(f"today.because.{key}", demand=w.measure(float(1 if worth.demand is None else worth.demand)), money=self._money(counts), **prices)
        if worth.by is not None:
            yield w("today.because.demand", said=demand_words(worth.by, w, with_record=True))
        if worth.fitted is not None and worth.fitted != worth.saving:
            yield w("today.because.fitted", money=self._money(worth.fitted))
        if worth.stops:
            yield w("today.because.stops", money=self._money(worth.stop_worth), stops=" / ".join(worth.stops))
        if worth.nothing_stops:
            yield w("today.because.nothing_stops", stops=" / ".join(worth.nothing_stops))

    def _of_ratio(self, task: Task) -> Iterator[str]:
        ratio = task.value_a_week / task.whole_minutes if task.whole_minutes else None
        if not ratio:
            return
        shown = {"ratio": self._money(ratio)} if ratio >= _LEAST_RATIO else {"least": self._money(_LEAST_RATIO)}
        key = "ratio_more" if task.after else "ratio"
        yield self.w(f"today.because.{key}", money=self._money(task.value_a_week), minutes=self.w.number(task.whole_minutes), **shown)
