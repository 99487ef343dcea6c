"""`spares batch measure`, `release`, `reject`, `scrap`, `count`, `issue`, `return`, `remind`: one event more of a batch."""

import argparse
import re
from collections.abc import Mapping
from pathlib import Path

from generator.edge.commands import options as asking
from generator.edge.commands.at_stopped import ASIDE, may_be_issued, put_aside
from generator.edge.commands.reminded import refuse_reminded
from generator.edge.commands.terminal import Terminal
from generator.edge.disk.print_records import DepotNow, PrintRecordChange, named, not_written, with_new_event
from generator.edge.disk.recording import Attached, attached
from generator.edge.disk.request_files import read_from_outside
from generator.edge.refusals import Ending, refused
from generator.edge.spoken import words
from generator.pages.on_vehicles.alike import doubt_words
from generator.reading.validating import record
from generator.records.batches import Batch, BatchEvent
from generator.records.inspection_sheet import InspectionSheet
from generator.records.problems import Severity, Where
from generator.rules.production.balances import balance_problems
from generator.rules.production.ledger import ledger
from generator.rules.production.releasing import judged_releases, standing
from generator.rules.production.states import stops_of
from generator.rules.reminding import may_remind_of_release
from generator.writing.yaml_text import Value

EVENTS = {
    "measure": "measured", "release": "released", "reject": "rejected", "scrap": "scrapped", "count": "counted", "issue": "issued", "return": "returned",
    "remind": "reminder sent",
}  # fmt: skip
_OWN = ("count", "why", "to", "on_shelf", "accepts")
_NUMBER = re.compile(r"-?(?:0|[1-9][0-9]*)(?:\.[0-9]+)?")
_COMMA_OF_WHICH_KIND = re.compile(r"-?[0-9]+(?:,[0-9]+)+")
_GAUGED = re.compile(r"passed ([0-9]+)[, ]+failed ([0-9]+)")
_MAY_REPEAT = ("scrapped", "issued", "returned")


def event_change(options: argparse.Namespace, depot: DepotNow, terminal: Terminal) -> PrintRecordChange | None:
    """The record with the event; None where it is written there already. Raises Refusal where it cannot be so."""
    name = named("batch", options.batch, depot)
    asking.tell_meant(terminal, options.batch, name)
    batch, files = depot.catalogue.production.batches[name], list[Attached]()
    if options.action == "remind" and not _waits_for_release(name, batch, depot):
        raise refused("batch_not_waiting", name=name)
    if options.action == "remind" and not may_remind_of_release(options.by, batch, depot.catalogue.depot):
        raise refused("reminds_itself", by=options.by, number=name)
    if options.action == "remind":
        refuse_reminded(batch.events, options.by, options.on or depot.today, name)
    if options.action == "measure" and options.sheet:
        event, files = _from_sheet(options, name, batch, depot)
    else:
        event = _event(options, depot)
    event |= {"minutes": options.minutes} if getattr(options, "minutes", None) else {}
    if _is_there(event, batch.events):
        what = words().term("batch_event", str(event["what"]))
        if event["what"] not in _MAY_REPEAT:
            terminal.say(words()("commands.printed.nothing", name=name, what=what))
            return None
        if not options.again:
            raise refused("print_again", name=name, what=what)
    change = with_new_event("batch", name, event, depot, files)
    if options.action == "measure":
        _warn_of_gauges(event, terminal)
    if options.action == "release":
        _refuse_release(change, options, depot)
    if options.action == "issue":
        may_be_issued(name, batch, options, depot, terminal)
    if options.action in ASIDE:
        put_aside(options.action, name, batch, depot, terminal)
    _refuse_more_than_printed(change, depot)
    _ask_beyond(options, change)
    _tell_balance(change, depot, terminal)
    return change


def _waits_for_release(name: str, batch: Batch, depot: DepotNow) -> bool:
    """Whether it was measured, and nobody has released or rejected it."""
    is_measured = any(each.what == "measured" and each.on <= depot.today for each in batch.events)
    return is_measured and standing(name, batch, depot.catalogue, depot.today).word == "printed"


def _warn_of_gauges(event: Mapping[str, Value], terminal: Terminal) -> None:
    """At once: such a measurement releases nothing."""
    checks, on = event.get("checks"), str(event["on"])
    found = [each for each in checks if isinstance(each, dict)] if isinstance(checks, list) else []
    for gauge, until in dict.fromkeys((str(each["gauge"]), str(each["calibrated_until"])) for each in found):
        if until < on:
            terminal.note(words()("commands.printed.gauge_lapsed", gauge=gauge, until=until, day=on), "yellow")


def _event(options: argparse.Namespace, depot: DepotNow) -> dict[str, Value]:
    on = (options.on or depot.today).isoformat()
    event: dict[str, Value] = {"on": on, "what": EVENTS[options.action], "by": options.by}
    event |= {key: getattr(options, key) for key in _OWN if getattr(options, key, None) is not None}
    if options.action == "measure":
        if not options.check or not options.gauge or options.calibrated_until is None:
            raise refused("measure_lacks", Ending.MISUSE)
        event |= {"checks": [_check(each, options) for each in options.check]}
    return event | ({"note": options.note} if options.note else {})


def _check(said: str, options: argparse.Namespace) -> dict[str, Value]:
    """One '--check NAME=VALUES'; the name may hold a sign of equality itself."""
    name, equals, told = (each.strip() for each in said.rpartition("="))
    gauged = _GAUGED.fullmatch(told)
    values = _values(told)
    if _COMMA_OF_WHICH_KIND.fullmatch(told):
        raise refused("comma_of_which_kind", Ending.MISUSE, given=said)
    if not equals or not name or not (gauged or (values and all(map(_NUMBER.fullmatch, values)))):
        raise refused("no_check", Ending.MISUSE, given=said)
    found: dict[str, Value] = {"passed": int(gauged[1]), "failed": int(gauged[2])} if gauged else {"values_mm": [float(each) for each in values]}
    return {"check": name, **found, "gauge": options.gauge, "calibrated_until": options.calibrated_until.isoformat()}


def _values(told: str) -> list[str]:
    """Apart by commas, semicolons or blanks; by the latter two a comma within one is that of its decimals."""
    apart = [each for each in re.split(r"[;\s]+|,(?=\s)", told) if each]
    if len(apart) > 1 and not any("." in each for each in apart):
        return [each.replace(",", ".") for each in apart]
    return [each for each in re.split(r"[,;\s]+", told) if each]


def _from_sheet(options: argparse.Namespace, name: str, batch: Batch, depot: DepotNow) -> tuple[dict[str, Value], list[Attached]]:
    """What a tablet saved, where it is of this batch and nothing else is said beside it."""
    if options.check or options.gauge or options.calibrated_until or options.on or options.by:
        raise refused("sheet_alone", Ending.MISUSE)
    source = read_from_outside(options.sheet)
    sheet = record(InspectionSheet, source)
    kept = depot.catalogue.depot
    if sheet is None or kept is None:
        raise not_written(source.problems, str(options.sheet), Path())
    own = (kept.railway, kept.depot, name, batch.part, batch.revision)
    told = (sheet.railway, sheet.depot, sheet.batch, sheet.part, sheet.revision)
    others = [f"{each} ({wanted})" for each, wanted in zip(told, own, strict=True) if each != wanted]
    if others:
        raise refused("other_sheet", file=str(options.sheet), others=", ".join(others), name=name)
    files = attached([options.sheet], depot.root / "batches")
    event: dict[str, Value] = {"on": sheet.on.isoformat(), "what": "measured", "by": sheet.by}
    event |= {"checks": [each.model_dump(mode="json", exclude_none=True, exclude_defaults=True) for each in sheet.checks]}
    event |= {"sheet": files[0].file, "sha256": str(files[0].as_evidence["sha256"])}
    note = options.note or sheet.note
    return event | ({"note": note} if note else {}), files


def _is_there(event: dict[str, Value], events: tuple[BatchEvent, ...]) -> bool:
    """Whether an event says the very same, however long it took; of a sheet its bytes tell."""
    beside = ("sheet", "minutes")
    mine = {key: value for key, value in event.items() if key not in beside}
    for each in events:
        said = each.model_dump(mode="json", exclude_none=True)
        if event.get("sha256") and said.get("sha256") == event["sha256"]:
            return True
        checks = [{key: value for key, value in check.items() if value != []} for check in said.get("checks", ())]
        said |= {"checks": checks} if checks else {}
        if {key: value for key, value in said.items() if key not in beside} == mine:
            return True
    return False


def _refuse_more_than_printed(change: PrintRecordChange, depot: DepotNow) -> None:
    """What was fitted stands in other files than the batch, and is counted as the pages will count it."""
    now, before = (
        {each.what: each for name, each in balance_problems(catalogue.production) if name == change.name and each.severity is Severity.ERROR}
        for catalogue in (change.judged.catalogue, depot.catalogue)
    )
    if new := [each.at(Where(change.file)) for what, each in now.items() if what not in before]:
        raise not_written(new, change.file, depot.root)


def _ask_beyond(options: argparse.Namespace, change: PrintRecordChange) -> None:
    """Raises Refusal for a count or an issue of more than can lie there, unless somebody says that it is so all the same."""
    if getattr(options, "as_found", True):
        return
    name, balance = change.name, ledger(change.judged.catalogue.production).balances[change.name]
    at = len(change.judged.catalogue.production.batches[name].events) - 1
    for each in balance.counts:
        if each.event == at and each.found > each.most:
            raise refused("count_beyond", name=name, found=each.found, most=each.most)
    for event, most in balance.short:
        if event == at:
            raise refused("issue_beyond", name=name, count=options.count, most=most)


def _tell_balance(change: PrintRecordChange, depot: DepotNow, terminal: Terminal) -> None:
    """What of the batch's balance does not agree now and did before."""
    catalogue = change.judged.catalogue
    known = {each.what for name, each in balance_problems(depot.catalogue.production) if name == change.name}
    found = [each.at(Where(change.file)) for name, each in balance_problems(catalogue.production) if name == change.name and each.what not in known]
    terminal.problems(found, depot.root, catalogue.language)


def _refuse_release(change: PrintRecordChange, options: argparse.Namespace, depot: DepotNow) -> None:
    """Everything that the verdict would look at afterwards is looked at before: nothing is released that is not fitted then."""
    catalogue, name = change.judged.catalogue, change.name
    batch = catalogue.production.batches[name]
    against = judged_releases(name, batch, catalogue)[len(batch.events) - 1]
    told = {each.what for each in change.judged.errors}
    found = (*change.judged.errors, *(each for each in against if each.what not in told))
    if found:
        raise not_written(found, change.file, depot.root)
    w = words()
    stops = stops_of(name, batch, catalogue.production, depot.today)
    if stops:
        raise refused("release_stopped", name=name, why="; ".join(each.why for each in stops))
    doubts = tuple(doubt_words(name, batch, catalogue, w))
    if doubts and not options.accepts:
        raise refused("release_doubts", name=name, doubts="; ".join(doubts))
