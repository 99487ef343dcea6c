"""`spares trace`: from a lot, batch, part or machine to the vehicles that carry it, and from a vehicle back."""

import argparse
from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path

from generator.assemble.whole_way import read_produced
from generator.edge.commands import options as asking
from generator.edge.commands.blank import refuse_empty
from generator.edge.commands.known_names import batch_known, known, lot_known, part_known, vehicle_known
from generator.edge.commands.short import ending_of, warn
from generator.edge.commands.terminal import Terminal, tell_json
from generator.edge.meant import name_meant
from generator.edge.refusals import Ending, refused
from generator.pages.on_vehicles.alike import alike_words, asking_rows, asking_sum, beside_words
from generator.pages.on_vehicles.contradicting import contradiction_words
from generator.pages.on_vehicles.incomplete import plain_gaps, suspect_rows
from generator.pages.on_vehicles.off_words import between_words, counted_words, fate_words
from generator.pages.wording import Wording, wording
from generator.records.catalogue import Catalogue
from generator.records.fitted import FileGap
from generator.records.problems import Problem
from generator.rules.production.asking_beside import AskingPieces, beside_of
from generator.rules.production.by_then import known_on
from generator.rules.production.contradicting import Contradictions, contradictions
from generator.rules.production.incomplete import gaps_of
from generator.rules.production.releasing import standing
from generator.rules.production.same_delivery import alike_numbers
from generator.rules.production.states import stops_of
from generator.rules.production.suspects import NONE, Suspects, suspects_of
from generator.rules.production.taken_off import fates_of
from generator.rules.production.tracing import (
    CameOff,
    Carried,
    Traced,
    of_batch,
    of_lot,
    of_machine,
    of_part,
    of_vehicle,
    revisions_of,
)
from generator.writing.tables import table_text

DESCRIPTION = """\
Tells which vehicles carry what was printed from a lot, in a batch, of a part or on a machine, how many lie on the shelf or are
out, and what came off and why; of a vehicle, what sits on it and from which batches and lots. Read from fitted/ and
batches/ alone. What is called back is marked. Pieces whose batch nobody can tell, and that may be among those asked for,
stand under a heading of their own.

Where lines or records cannot be read, are gone, say less or something else than they did, or are of days to come, the list says that it
is incomplete, and of what; the exit code is then 1, else 0.
"""
EXAMPLE = """\
  spares trace --lot L-0009
  spares trace --part TV-0101 --revision B
  spares trace --vehicle 405 --format csv
  spares trace --machine bench-B --since 2026-09-14 --until 2026-09-20
"""
_CARRIED = ("fleet", "vehicle", "place", "position", "part", "revision", "batch", "count", "since", "contradicts")
_OFF = ("on", "fleet", "vehicle", "place", "position", "part", "batch", "count", "why", "by")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    what = parser.add_mutually_exclusive_group(required=True)
    what.add_argument("--lot", metavar="LOT", help="all that was printed from this lot of material")
    what.add_argument("--batch", metavar="BATCH", help="one batch, by the number on the label")
    what.add_argument("--part", metavar="NUMBER", help="all batches of a part")
    what.add_argument("--vehicle", metavar="VEHICLE", help="what one vehicle carries, and carried")
    what.add_argument("--machine", metavar="MACHINE", help="all that was printed on this machine")
    parser.add_argument("--revision", metavar="R", help="with --part: only this revision")
    parser.add_argument("--fleet", metavar="FLEET", help="with --vehicle: where two fleets share its number")
    parser.add_argument(
        "--format", choices=("text", "json", "csv"), default="text", help="json and csv are for machines (default: text)"
    )
    parser.add_argument("--since", type=asking.day, metavar="DATE", help="with --machine or --lot: only batches that were still printing on this day or later")
    parser.add_argument("--until", type=asking.day, metavar="DATE", help="with --machine or --lot: only batches that were begun on this day or before; both days count")
    asking.add_day(parser, "what is called back by this day (default: SOURCE_DATE_EPOCH, else today)")
    asking.add_catalogue(parser)


def run(options: argparse.Namespace) -> int:
    terminal = Terminal()
    if options.revision and not options.part:
        raise refused("trace_revision", Ending.MISUSE)
    if options.fleet and not options.vehicle:
        raise refused("trace_fleet", Ending.MISUSE)
    refuse_empty(options, "lot", "batch", "part", "vehicle", "machine", "fleet", "revision")
    _period(options)
    root = asking.catalogue_of(options.catalogue)
    today = asking.today()
    catalogue = read_produced(root, asking.store_in(options.store), max(options.on or today, today))
    found = traced(options, catalogue)
    gaps = _gaps(options, found, catalogue)
    suspects = NONE if options.vehicle else _suspects(options, found, catalogue)
    if options.format == "json":
        tell_json(_plain(found, catalogue, options, gaps, suspects) | _plain_beside(_beside(options, catalogue)))
    elif options.format == "csv":
        terminal.say(_csv(found.carried, catalogue), None)
    else:
        warn(gaps, wording(catalogue.language), terminal.say)
        _print(found, catalogue, options, terminal)
        tell_suspects(suspects, catalogue, terminal)
        tell_asking(_beside(options, catalogue), catalogue, terminal)
    if options.format != "text":
        warn(gaps, wording(catalogue.language), terminal.note)
    return ending_of(gaps)


def _suspects(options: argparse.Namespace, found: Traced, catalogue: Catalogue) -> Suspects:
    """Pieces of batches without a record may be of any lot and machine, and of a part wherever it fits."""
    meant = {*found.batches, *(each.batch for each in found.carried)}
    number = {each.number.casefold(): each.number for each in catalogue.parts}.get(options.part.strip().casefold()) if options.part else None
    return suspects_of(catalogue, meant, part=number, of_any_part=bool(options.lot or options.machine))


def tell_suspects(found: Suspects, catalogue: Catalogue, terminal: Terminal) -> None:
    """Where to look besides."""
    if not found.is_empty:
        w = wording(catalogue.language)
        _tell_rows("suspects", suspect_rows(found, catalogue, w), w, terminal)


def tell_asking(found: AskingPieces, catalogue: Catalogue, terminal: Terminal) -> None:
    """Pieces that ask because the lot is stopped: a heading of their own, for they are not called back."""
    if not found.is_empty:
        w = wording(catalogue.language)
        _tell_rows("asking", asking_rows(found, catalogue, w), w, terminal)
        terminal.say(asking_sum(found, w), "bold")


def _tell_rows(key: str, rows: Sequence[Sequence[str]], w: Wording, terminal: Terminal) -> None:
    """Under a heading, by the key of its words; where each piece sits, of which batch, and why it stands here."""
    terminal.say("")
    terminal.say(w(f"{key}.title"), "bold yellow")
    terminal.say(w(f"{key}.says"))
    terminal.table([w(f"trace.head.{head}") for head in ("vehicle", "place", "position", "batch", "count", "why")], rows)


def _period(options: argparse.Namespace) -> None:
    """Raises Refusal where a period is of what has none, or ends before it begins."""
    if (options.since or options.until) and not (options.machine or options.lot):
        raise refused("trace_period", Ending.MISUSE)
    if options.since and options.until and options.until < options.since:
        raise refused("trace_period_back", Ending.MISUSE, since=options.since.isoformat(), until=options.until.isoformat())


def _gaps(options: argparse.Namespace, found: Traced, catalogue: Catalogue) -> tuple[FileGap, ...]:
    """Of a part, or of a batch whose part is known, only what may speak of it."""
    parts = {batch.part for batch in found.batches.values()} if options.part or options.batch else set()
    own = {f"machines/{batch.machine}.yml" for batch in found.batches.values()} if options.machine else set()
    unheld = sorted(file for file in own if Path(file).stem not in catalogue.production.machines and not catalogue.is_mistaken(file))
    return (*gaps_of(catalogue.production, parts=parts or None), *(FileGap(file=file, why="gone") for file in unheld))


def traced(options: argparse.Namespace, catalogue: Catalogue) -> Traced:
    """What is asked for. Raises Refusal for what the catalogue does not know."""
    production = catalogue.production
    if options.lot:
        return of_lot(production, lot_known(options.lot, catalogue), ran=(options.since, options.until))
    if options.batch:
        return of_batch(production, batch_known(options.batch, catalogue))
    if options.machine:
        named = {batch.machine for batch in production.batches.values()}
        return of_machine(production, known("machine", options.machine, {*production.machines, *named}), ran=(options.since, options.until))
    if options.part:
        number = part_known(options.part, catalogue)
        revision = known("revision_unknown", options.revision, revisions_of(number, catalogue)) if options.revision else None
        return of_part(production, number, revision)
    return of_vehicle(production, *vehicle_known(options.vehicle, options.fleet, catalogue))


def carried_rows(carried: Iterable[Carried], catalogue: Catalogue, w: Wording) -> list[list[str]]:
    """Vehicle, place, part, batch, count and since when, one row a spot."""
    return [
        [
            f"{each.spot.fleet} {each.spot.vehicle}",
            catalogue.place_name(each.spot.fleet, each.spot.place, each.spot.position),
            f"{each.part} {each.revision}" if each.part else w("missing"),
            each.batch,
            w.number(each.count),
            w.day(each.since),
        ]
        for each in carried
    ]


def _print(found: Traced, catalogue: Catalogue, options: argparse.Namespace, terminal: Terminal) -> None:
    w, day = wording(catalogue.language), options.on or asking.today()
    if options.since or options.until:
        since, until = (w.day(each) if each else None for each in (options.since, options.until))
        terminal.say(w("trace.period", since=since, until=until, n=w.number(len(found.batches))))
    for sentence in _alike(found, catalogue, options, w):
        terminal.say(sentence, "yellow")
    if found.batches:
        then = replace(catalogue, production=known_on(catalogue.production, day, asking.today()))
        heads = ("batch", "part", "state", "lots", "machine", "printed", "shelf", "out", "on_vehicles", "removed", "scrapped")
        terminal.table([w(f"trace.head.{head}") for head in heads], [_batch_row(name, found, then, day, w) for name in found.batches])
        terminal.say()
    if found.carried:
        terminal.table(
            [w(f"trace.head.{head}") for head in ("vehicle", "place", "part", "batch", "count", "since")],
            carried_rows(found.carried, catalogue, w),
        )
        terminal.say(w("trace.sum", pieces=w.number(found.on_vehicles), vehicles=w.number(len(found.vehicles))), "bold")
    else:
        terminal.say(w("trace.on_none"), "bold")
    if found.came_off:
        terminal.say()
        terminal.say(w("trace.came_off"))
        terminal.table(
            [w(f"trace.head.{head}") for head in ("off_on", "vehicle", "place", "part", "batch", "count", "why")],
            [_off_row(each, catalogue, w) for each in found.came_off],
        )
    if not options.vehicle:
        _tell_open(found, w, terminal)
    tell_against((*found.carried, *found.came_off), catalogue, terminal)


def _alike(found: Traced, catalogue: Catalogue, options: argparse.Namespace, w: Wording) -> Sequence[str]:
    """Of its lots those that ask since their number is that of a stopped one, or nearly, and of a lot that is stopped the others that ask for it."""
    meant = name_meant(options.lot, catalogue.production.lots) if options.lot else None
    lots = sorted({*([meant] if meant else ()), *(lot for batch in found.batches.values() for lot in batch.lots)})
    return (*alike_words(lots, catalogue.production, w), *beside_words(meant, catalogue.production, w))


def _beside(options: argparse.Namespace, catalogue: Catalogue) -> AskingPieces:
    return beside_of(name_meant(options.lot, catalogue.production.lots) if options.lot else None, catalogue.production)


def tell_against(listed: Sequence[Carried | CameOff], catalogue: Catalogue, terminal: Terminal) -> None:
    """Below a list, which of its pieces must not be there, or cannot by the records, and why."""
    w, against = wording(catalogue.language), contradictions(catalogue) if listed else Contradictions()
    told = [(each, says) for each in listed if (says := contradiction_words(against.of(each), w))]
    if told:
        terminal.say()
        terminal.say(w("contradicts.heading"), "bold yellow")
    for each, says in told:
        place = catalogue.place_name(each.spot.fleet, each.spot.place, each.spot.position)
        terminal.say(f"  {each.spot.fleet} {each.spot.vehicle}, {place}: {w.number(each.count)} × {each.batch}. {says}")


def _tell_open(found: Traced, w: Wording, terminal: Terminal) -> None:
    """Of each batch, what came off and has to be found still, and where a count of its shelf is not what is written down."""
    for name, off in fates_of(found).items():
        terminal.say(fate_words(name, off, w))
    for name, balance in found.balances.items():
        if unsure := between_words(name, balance, w):
            terminal.say(unsure)
        if told := counted_words(name, balance, w):
            terminal.say(told, "bold yellow")


def _batch_row(name: str, found: Traced, then: Catalogue, day: date, w: Wording) -> list[str]:
    """then: the catalogue as it was known on `day`."""
    batch, balance = found.batches[name], found.balances[name]
    counts = (balance.printed, balance.shelf, balance.out, balance.on_vehicles, balance.removed, balance.scrapped)
    state = state_words(name, then, day, w)
    return [name, f"{batch.part} {batch.revision}", state, ", ".join(batch.lots), batch.machine, *map(w.number, counts)]


def state_words(name: str, catalogue: Catalogue, day: date, w: Wording) -> str:
    """Released or not, and whether it must not be fitted for all that."""
    batch = catalogue.production.batches[name]
    stops = stops_of(name, batch, catalogue.production, day)
    if stops:
        first = stops[0]
        return w("trace.recalled", recall=first.recall) if first.recall else w("trace.blocked", lot=first.lot)
    return w(f"trace.state.{standing(name, batch, catalogue, day).word}")


def _off_row(each: CameOff, catalogue: Catalogue, w: Wording) -> list[str]:
    return [
        w.day(each.on),
        f"{each.spot.fleet} {each.spot.vehicle}",
        catalogue.place_name(each.spot.fleet, each.spot.place, each.spot.position),
        each.part or w("missing"),
        each.batch or w("trace.no_batch"),
        w.number(each.count),
        w.term("off_why", each.why) if each.why else w("missing"),
    ]


def _plain(
    found: Traced, catalogue: Catalogue, options: argparse.Namespace, gaps: Sequence[FileGap], suspects: Suspects
) -> dict[str, object]:
    day = options.on or asking.today()
    then = replace(catalogue, production=known_on(catalogue.production, day, asking.today()))
    stops = {name: stops_of(name, then.production.batches[name], then.production, day) for name in found.batches}
    against = contradictions(catalogue)
    fates = fates_of(found)
    return {
        "batches": [
            {
                "batch": name,
                "part": batch.part,
                "revision": batch.revision,
                "machine": batch.machine,
                "lots": list(batch.lots),
                "state": standing(name, then.production.batches[name], then, day).word,
                "alike": list(alike_numbers(batch, catalogue.production)),
                "recalls": [each.recall for each in stops[name] if each.recall],
                "blocked_lots": [each.lot for each in stops[name] if not each.recall],
                "printed": balance.printed,
                "shelf": balance.shelf,
                "out": balance.out,
                "on_vehicles": balance.on_vehicles,
                "removed": balance.removed,
                "to_find": {"shelf": balance.lies, "out": max(balance.out, 0), "came_off": sum(each.count for each in fates.get(name, ()))},
                "scrapped": balance.scrapped,
            }
            for name, batch in found.batches.items()
            for balance in [found.balances[name]]
        ],
        "fitted": [dict(zip(_CARRIED, (*_carried_cells(each), _keys(against.of(each))), strict=True)) for each in found.carried],
        "removed": [dict(zip(_OFF, _off_cells(each), strict=True)) | {"contradicts": _keys(against.of(each))} for each in found.came_off],
        "batch_unknown": {
            "fitted": [dict(zip(_CARRIED, (*_carried_cells(each), _keys(against.of(each))), strict=True)) for each in suspects.sitting],
            "removed": [dict(zip(_OFF, _off_cells(each), strict=True)) for each in (*suspects.came_off, *suspects.lying)],
        },
        **plain_gaps(gaps),
    }


def _plain_beside(found: AskingPieces) -> dict[str, object]:
    return {
        "asks_too": {
            "batches": {batch: list(lots) for batch, lots in found.lots.items()},
            "fitted": [dict(zip(_CARRIED[:-1], _carried_cells(each), strict=True)) for each in found.spots],
            "elsewhere": [{"where": each.kind, "batch": each.batch, "count": each.count} for each in found.elsewhere],
        }
    }


def _carried_cells(each: Carried) -> Sequence[object]:
    return (*each.spot, each.part, each.revision, each.batch, each.count, each.since.isoformat())


def _keys(problems: Iterable[Problem]) -> list[str]:
    """What speaks against it, by code, for machines."""
    return [f"{each.code} {each.key}" for each in problems]


def _off_cells(each: CameOff) -> Sequence[object]:
    return (each.on.isoformat(), *each.spot, each.part, each.batch, each.count, each.why.value if each.why else None, each.by)


def _csv(carried: Sequence[Carried], catalogue: Catalogue) -> str:
    w, against = wording(catalogue.language), contradictions(catalogue)
    rows = ((*_carried_cells(each), contradiction_words(against.of(each), w)) for each in carried)
    return table_text([_CARRIED, *rows], "\n").rstrip("\n")
