"""`spares find`: which parts does a query mean? The finder of the pages, on the terminal."""

import argparse
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

from generator.assemble.whole_way import Assembled
from generator.edge.commands import options as asking
from generator.edge.commands.examining import examined_for
from generator.edge.commands.terminal import Terminal, tell_json
from generator.edge.refusals import Ending
from generator.finder.engine import Answered, Finder, Found, MatchReason
from generator.pages.addresses import addresses
from generator.pages.finder.index import finder_data
from generator.pages.verdict_lines import reason
from generator.pages.wording import Wording, wording
from generator.rules.answering import worked_on
from generator.rules.sheet import Sheet
from generator.rules.verdicts import Judgement, Verdict
from generator.systems.own_site import scripts_for

DESCRIPTION = """\
Finds parts and open requests by words, numbers in any writing, sizes off a caliper, fleet, place and fault, exactly
as the finder of the pages does: it runs the same script. It answers in one of three ways: this one; most likely one of
these; no such part. The last two end with code 1. An open request that fits better than any part stands first.
"""
EXAMPLE = """\
  spares find knob TR4 35
  spares find "42 x 18"
  spares find 4-117-0417 --format json
"""

_PIECES = {"batch": "batch_number", "strange": "strange_batch", "stopped": "stopped", "lot": "of_lot", "unlabelled": "unlabelled", "unread": "unread"}
"""What a reason is called whose number is a batch, one that nobody can tell, a lot or recall, or none."""
_LABELLED = {"label": "finder.why.wrong_label", **{kind: f"finder.why.{word}" for kind, word in _PIECES.items()}}
"""The same with a whole label that does not agree."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("query", nargs="+", metavar="WORD", help="what is looked for, as one would say it")
    parser.add_argument("--most", type=asking.at_least_one, default=10, metavar="N", help="show at most N (default: 10)")
    asking.add_format(parser)
    asking.add_day(parser, "judge as on this day (default: SOURCE_DATE_EPOCH, else today)")
    asking.add_catalogue(parser)


def run(options: argparse.Namespace) -> int:
    terminal = Terminal()
    day = options.on or asking.today()
    root = asking.catalogue_of(options.catalogue)
    scripts = scripts_for(root)
    read = examined_for(options, terminal, root, day)
    told = _answer(read, day, scripts, " ".join(options.query), options.most)
    if options.format == "json":
        tell_json([_told(each, told.said) for each in told.found])
    else:
        _print(told, read, terminal)
    return Ending.CLEAN if told.said == "this" else Ending.PROBLEMS


def _answer(read: Assembled, day: date, scripts: Path, query: str, most: int) -> Answered:
    data = finder_data(read.catalogue, read.sheets, addresses(read.catalogue.parts), day)
    with Finder(data, scripts) as finder:
        return finder.answer(query, most)


def _print(told: Answered, read: Assembled, terminal: Terminal) -> None:
    w = wording(read.catalogue.language)
    sheets = {sheet.number: sheet for sheet in read.sheets}
    for line in _of_vehicles(told, w):
        terminal.say(line, "bold")
    if told.pieces or told.meant:
        terminal.say(" ".join([w("finder.two_labels", said=told.pieces) if told.pieces else w("finder.label_meant"), ", ".join(told.meant)]).strip(), "bold")
    if told.unread:
        terminal.say(w("finder.unread_beside", said=" … ".join(told.unread)), "bold")
    if told.asks:
        terminal.say(w("finder.which_piece"), "bold")
    if told.said == "none":
        if not (told.stranger or told.pieces or told.asks):
            terminal.say(w("finder.none" if sheets else "starting.no_parts"), "bold")
        if told.found:
            terminal.say(w("finder.far"))
    elif told.said == "likely":
        has_part = any(each.kind == "part" for each in told.found)
        terminal.say(w("finder.likely" if has_part else "finder.likely_asked"), "bold")
    begun = {name: number for name, each in read.catalogue.requests.items() if (number := worked_on(each, read.catalogue))}
    rows = [_row(each, sheets, begun, w) for each in _shown(told)]
    if rows:
        heads = [w(f"approvals.{key}") for key in ("part",)]
        terminal.table([*heads, w("finder.verdict.name"), w("finder.why.heading")], rows)
    for line in dict.fromkeys(line for each in _shown(told) if each.number in sheets for line in _against_piece(sheets[each.number], each, w)):
        terminal.say(line)


def _against_piece(sheet: Sheet, found: Found, w: Wording) -> Iterator[str]:
    """Of a piece that was named by its batch: why it is not simply fitted."""
    said = _said_piece(found)
    if said is None or said.detail != "batch":
        return
    for each in _judgements(sheet, found).values():
        if each.verdict is not Verdict.FIT_IT:
            yield f"{found.number}, {said.text}: {w(f'verdict.{each.verdict.key}')}. {reason(each, w)}"


def _of_vehicles(told: Answered, w: Wording) -> Iterator[str]:
    """What was taken for another writing of a vehicle, and what is none."""
    for typed, number in told.taken:
        yield w("finder.taken", typed=typed, vehicle=number)
    stranger = told.stranger
    if stranger is None:
        return
    if stranger.is_range:
        yield w("finder.no_range", vehicle=stranger.text)
    elif stranger.fleets and stranger.others:
        yield w("finder.not_of_fleet", fleets=stranger.fleets, vehicle=stranger.text, others=stranger.others)
    else:
        yield w("finder.no_vehicle", vehicle=stranger.text)


def _shown(told: Answered) -> list[Found]:
    """Beside what is sure, only a request that stands before it."""
    if told.said != "this":
        return list(told.found)
    first = next(at for at, each in enumerate(told.found) if each.kind == "part" and each.is_sure)
    return [each for at, each in enumerate(told.found) if each.is_sure or (at < first and each.kind == "request")]


def _row(found: Found, sheets: dict[str, Sheet], begun: dict[str, str], w: Wording) -> tuple[str, str, str]:
    """begun: the part that is to answer a request, by its name."""
    sheet = sheets.get(found.number)
    asked = w("finder.worked_on", number=begun[found.number]) if found.number in begun else w("finder.request")
    stands = _verdicts(sheet, found, w) if found.kind == "part" and sheet else asked
    # "Made for vehicle 405" never stands beside "Do not fit".
    told = [each for each in found.reasons if each.kind != "vehicle" or w("verdict.no") not in stands]
    why = "; ".join(dict.fromkeys(filter(None, (_reason(each, w) for each in told))))
    return f"{found.number} {found.name}", stands, why


def _verdicts(sheet: Sheet, found: Found, w: Wording) -> str:
    """The kindest and the most careful verdict on each fleet, or on the vehicles that were asked for."""
    by_fleet: dict[str, list[int]] = {}
    # A label that does not agree: nobody can say which piece it is.
    judgements = {} if any(each.detail == "label" for each in found.reasons) else _judgements(sheet, found)
    for each in found.answering:
        if each.ground in judgements:
            who = " ".join([sheet.grounds[each.ground].fleet, *map(str, each.vehicles)])
            by_fleet.setdefault(who, []).append(judgements[each.ground].verdict)
    words = {judgement.verdict: w(f"verdict.{judgement.verdict.key}") for judgement in judgements.values()}
    lines = [
        f"{fleet}: {' / '.join(w_ for verdict, w_ in sorted(words.items()) if verdict in verdicts)}"
        for fleet, verdicts in by_fleet.items()
    ]
    return ", ".join(lines) or ": ".join([", ".join(found.named), w("verdict.no")]).removeprefix(": ")


def _said_piece(found: Found) -> MatchReason | None:
    return next((each for each in found.reasons if each.kind == "number" and each.detail in _PIECES), None)


def _judgements(sheet: Sheet, found: Found) -> dict[int, Judgement]:
    """By the place of the ground. Found by the number of a batch, as a piece of that batch stands, where its revision is spoken of."""
    said = _said_piece(found)
    if said is None:
        return dict(enumerate(sheet.judgements))
    is_sure = said.detail != "unread"
    stands = {at: ground.of_piece(said.text, sheet.judgements[at].facts.built_on, is_sure=is_sure) for at, ground in enumerate(sheet.grounds)}
    own = {at: each for at, each in stands.items() if each.facts.piece_revision != "other"}
    return own or stands


def _reason(reason: MatchReason, w: Wording) -> str:
    if reason.kind in ("name", "fleet") or f"finder.why.{reason.kind}" not in w.flat:
        return reason.asked
    taken: list[dict[str, Any]] = list(reason.detail) if isinstance(reason.detail, list) else []
    sizes = " × ".join(w.measure(each["mm"]) for each in taken)
    if reason.kind in ("size", "clash"):
        return w(f"finder.why.{reason.kind}", asked=reason.asked, sizes=sizes, what=tuple(each["what"] for each in taken if each["what"]))
    if reason.kind == "otherwise":
        shape = w(f"finder.shapes.{reason.shape}") if reason.shape else ""
        return w("finder.why.otherwise", **{"as": reason.asked_as}, asked=reason.asked, text=reason.text, sizes=sizes, shape=shape)
    if reason.kind in ("modelled", "model_clash"):
        feature = w(f"finder.modelled.{reason.text}")
        return w(f"finder.why.{reason.kind}", asked=reason.asked, feature=feature, sizes=sizes, n=str(reason.n) if reason.n > 1 else "")
    if reason.kind == "number" and reason.asked_as:
        return f"{reason.text}, {w('finder.why.other_revision', **{'as': reason.asked_as})}"
    if reason.kind == "number":
        kind = None if reason.detail == "own" else w(_LABELLED[str(reason.detail)]) if reason.detail in _LABELLED else w.term("number_kind", str(reason.detail))
        return f"{reason.text}, {kind}" if kind else reason.text
    return w(f"finder.why.{reason.kind}", text=reason.text, asked=reason.asked)


def _told(found: Found, answer: str) -> dict[str, Any]:
    """answer: which of the three the whole list is."""
    return {
        "answer": answer,
        "kind": found.kind,
        "number": found.number,
        "name": found.name,
        "score": round(found.score, 4),
        "sure": found.is_sure,
        "why": [{"asked": each.asked, "by": each.kind, "text": each.text} for each in found.reasons],
    }
