"""`spares batch measure`, `release`, `reject`, `scrap`, `count`, `issue`, `return`: one event more of a batch."""

import argparse
import re
from pathlib import Path

from generator.edge.commands.terminal import Terminal
from generator.edge.disk.print_records import Change, Depot, named, not_written, with_new_event
from generator.edge.disk.recording import Attached, attached
from generator.edge.disk.request_files import read_from_outside
from generator.edge.refusals import Ending, refused
from generator.edge.spoken import words
from generator.reading.validating import record
from generator.records.batches import Batch, BatchEvent
from generator.records.inspection_sheet import InspectionSheet
from generator.records.problems import Severity, Where
from generator.rules.production.balances import balance_problems
from generator.rules.production.doubts import doubts_of
from generator.rules.production.releasing import judged_releases
from generator.rules.production.states import stops_of
from generator.writing.yaml_text import Value

EVENTS = {
    "measure": "measured", "release": "released", "reject": "rejected", "scrap": "scrapped", "count": "counted", "issue": "issued", "return": "returned",
}  # fmt: skip
_OWN = ("count", "why", "to", "on_shelf", "accepts")
_NUMBER = re.compile(r"-?(?:0|[1-9][0-9]*)(?:\.[0-9]+)?")
_COMMA_OF_WHICH_KIND = re.compile(r"-?[0-9]+(?:,[0-9]+)+")
_GAUGED = re.compile(r"passed ([0-9]+)[, ]+failed ([0-9]+)")
_MAY_REPEAT = ("scrapped", "issued", "returned")


def event_change(options: argparse.Namespace, depot: Depot, terminal: Terminal) -> Change | None:
    """The record with the event; None where it is written there already. Raises Refusal where it cannot be so."""
    name = named("batch", options.batch, depot)
    batch, files = depot.catalogue.production.batches[name], list[Attached]()
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
    if options.action == "release":
        _refuse_release(change, options, depot)
    _refuse_more_than_printed(change, depot)
    return change


def _event(options: argparse.Namespace, depot: Depot) -> dict[str, Value]:
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


def _from_sheet(options: argparse.Namespace, name: str, batch: Batch, depot: Depot) -> tuple[dict[str, Value], list[Attached]]:
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


def _refuse_more_than_printed(change: Change, depot: Depot) -> None:
    """What was fitted stands in other files than the batch, and is counted as the pages will count it."""
    now, before = (
        {each.what: each for name, each in balance_problems(catalogue.production) if name == change.name and each.severity is Severity.ERROR}
        for catalogue in (change.judged.catalogue, depot.catalogue)
    )
    if new := [each.at(Where(change.file)) for what, each in now.items() if what not in before]:
        raise not_written(new, change.file, depot.root)


def _refuse_release(change: Change, options: argparse.Namespace, depot: Depot) -> None:
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
    doubts = doubts_of(name, batch, catalogue)
    if doubts and not options.accepts:
        raise refused("release_doubts", name=name, doubts="; ".join(w.term("piece_asked", each) for each in doubts))
