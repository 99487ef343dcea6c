"""`spares explain`: the verdict on a part, its reason and every question behind it, as the page says them."""

import argparse
import re
from dataclasses import replace
from datetime import date
from pathlib import Path

from generator.edge.commands import options as asking
from generator.edge.commands.terminal import Terminal
from generator.edge.meant import batch_meant
from generator.edge.one_part import OnePart, one_part_as_of
from generator.edge.refusals import Ending, refused
from generator.pages.evidence import files_behind
from generator.pages.verdict_lines import reason, step_line, vehicle_words
from generator.pages.wording import Wording, wording
from generator.records.batches import Rejected
from generator.records.depot import NEWEST_CATALOGUE
from generator.records.labels import LabelOf, batch_read
from generator.records.problems import Severity
from generator.rules.facts.fields import OF_THE_TABLET
from generator.rules.grounds import Ground
from generator.rules.production.by_then import stopped_since
from generator.rules.production.piece import mistaken
from generator.rules.verdicts import Judgement, Taken, Verdict

DESCRIPTION = """\
Says for every fleet and place of a part whether it may be fitted, the reason in one line, and each question
behind it: what was found, what was needed, whether it passed, and the file that proves it. Words and
rules are those of the pages. With a batch, it answers for a piece of that batch.
On an earlier day, events after it are left out, of the approval as of batches, lots, recalls and what was fitted; what
stops its pieces since then is told in a line of its own. Model, material and evidence are those of now. With --at, all of
it is what git has of a commit, or of the last one until the end of a day (UTC), and it is judged on that day; git must
have a commit of that day or before. The exit code is 0 whatever the verdict.
"""
EXAMPLE = """\
  spares explain TV-0417
  spares explain TV-0417 --fleet TR4 --on 2027-03-31
  spares explain TV-0417 --fleet TR4 --at 2026-11-28
  spares explain TV-0101 --batch B-0147
"""
MARKS = {"passed": "✓", "failed": "✕", "unknown": "?"}
STYLES = {Verdict.FIT_IT: "bold green", Verdict.ASK_FIRST: "bold yellow", Verdict.DO_NOT_FIT: "bold red"}


def add_arguments(parser: argparse.ArgumentParser) -> None:
    asking.add_number(parser)
    parser.add_argument("--fleet", metavar="FLEET", help="only this fleet")
    parser.add_argument("--batch", metavar="BATCH", help="of a piece of this batch, as its label says it")
    asking.add_day(parser, "judge as on this day (default: that of --at, SOURCE_DATE_EPOCH, else today)")
    parser.add_argument("--at", type=_moment, metavar="COMMIT|DATE", help="judge what was written then, as git has it")
    asking.add_catalogue(parser)


def run(options: argparse.Namespace) -> int:
    terminal = Terminal()
    part = _part(options, terminal)
    day, words = part.day, wording(part.catalogue.language)
    terminal.say(f"{part.sheet.title}, {words.day(day)}", "bold")
    batch = _batch(part, options.batch, words, terminal)
    _tell_since(part, batch, words, terminal)
    grounds = _grounds(part, options.fleet)
    for ground in grounds:
        _explain(part, ground, ground.on(day) if batch is None else ground.of_piece(batch, day), words, terminal)
    if not grounds:
        terminal.say(words(f"verdict.{Verdict.DO_NOT_FIT.key}"), STYLES[Verdict.DO_NOT_FIT])
    errors = [each for each in part.sheet.problems if each.severity is Severity.ERROR]
    terminal.problems(errors, part.root, part.catalogue.language)
    return Ending.CLEAN


def _moment(text: str) -> date | str:
    """A day, else the name of a commit; argparse shows the message of the error."""
    return asking.day(text) if re.fullmatch(r"[0-9]{4}-[0-9]{1,2}-[0-9]{1,2}", text) else text


def _part(options: argparse.Namespace, terminal: Terminal) -> OnePart:
    """The part of now, or as it was written then: which commit that is stands before all else."""
    if options.at is None:
        return asking.look_at_one(options, options.on or asking.today(), terminal)()
    if isinstance(options.at, date) and options.at > asking.today():
        raise refused("at_to_come", Ending.MISUSE, on=options.at.isoformat())
    root, store = asking.catalogue_of(options.catalogue), asking.store_in(options.store)
    with terminal.progress() as report:
        part, then = one_part_as_of(root, options.number, options.at, options.on, store, report, workers=options.workers)
    words = wording(part.catalogue.language)
    terminal.say(words("terminal.as_written", commit=then.short, day=then.day.isoformat()))
    depot = part.catalogue.depot
    if depot and depot.format < NEWEST_CATALOGUE:
        terminal.note(words("terminal.older_format", given=str(depot.format), newest=str(NEWEST_CATALOGUE)))
    # The files are gone from where they were read: they are told as git names them.
    return replace(part, root=Path(f"{then.short}:{then.repository.prefix.rstrip('/') or '.'}"))


def _grounds(part: OnePart, fleet: str | None) -> list[Ground]:
    grounds = part.sheet.grounds
    if fleet is None or not grounds:
        return list(grounds)
    found = [ground for ground in grounds if ground.fleet.casefold() == fleet.casefold()]
    if not found:
        fits = ", ".join(dict.fromkeys(ground.fleet for ground in grounds))
        raise refused("other_fleet", Ending.MISUSE, number=part.sheet.number, fleet=fleet, fits=fits)
    return found


def _batch(part: OnePart, asked: str | None, words: Wording, terminal: Terminal) -> str | None:
    """The batch as the catalogue writes it, read as a page reads a label; one of another part, or with a label that does not agree, is refused,
    for no answer here would be of that piece.
    """
    if asked is None:
        return None
    production, number = part.catalogue.production, part.sheet.number
    own = tuple((name, each.revision) for name, each in production.of_part(number).items())
    read = batch_read(asked, LabelOf(number=number, batches=own, numbers=tuple(each.number for each in part.catalogue.parts)))
    batch = read.batch or asked.strip().upper()
    if batch not in dict(own):
        batch = batch_meant(batch, {name: each.part for name, each in production.batches.items()}) or batch
    found = production.batches.get(batch)
    if found and found.part != number:
        raise refused("batch_of_other", Ending.MISUSE, batch=batch, number=number, other=found.part)
    if read.wrong:
        told = words(f"working.piece.{read.wrong}", said=read.said, number=number, batch=batch, revision=read.revision)
        raise refused("label_wrong", Ending.MISUSE, told=told)
    asking.tell_meant(terminal, asked, batch)
    if read.meant:
        terminal.note(words("commands.meant_perhaps", meant=list(read.meant)), "yellow")
    broken = mistaken(number, part.catalogue).get(batch)
    if broken:
        terminal.say(words("working.piece.mistaken", batch=batch, where=broken.piece_unread[0]), "bold")
    else:
        key = "working.piece.one" if found else "working.piece.unknown"
        terminal.say(words(key, batch=batch, revision=found.revision if found else None), "bold")
    return batch


def _tell_since(part: OnePart, batch: str | None, words: Wording, terminal: Terminal) -> None:
    """What is known of its pieces now, where an earlier day is asked about."""
    for each in stopped_since(part.sheet.number, batch, part.catalogue.production, part.day, asking.today()):
        stop = each.stop
        if isinstance(stop, Rejected):
            told = words("terminal.since.rejected", on=stop.on.isoformat(), batches=each.batches)
        elif stop.recall:
            told = words("terminal.since.called", on=stop.on.isoformat(), batches=each.batches, recall=stop.recall)
        else:
            told = words("terminal.since.blocked", on=stop.on.isoformat(), batches=each.batches, lot=stop.lot)
        terminal.say(told, STYLES[Verdict.DO_NOT_FIT])


def _explain(part: OnePart, ground: Ground, judgement: Judgement, words: Wording, terminal: Terminal) -> None:
    terminal.say()
    terminal.say(_who(part, ground, words))
    terminal.say(
        f"{words(f'verdict.{judgement.verdict.key}')}. {reason(judgement, words)}", STYLES[judgement.verdict]
    )
    for mark, question, found, needed, files in _rows(part, judgement, words):
        terminal.say(f"{mark}  {question}  {found}")
        if mark != MARKS["passed"] and needed != words("missing"):
            terminal.say(f"     {words('needed', needed=needed)}")
        if files:
            terminal.say(f"     {files}", "dim")


def _who(part: OnePart, ground: Ground, words: Wording) -> str:
    who = f"{ground.fleet} {vehicle_words(ground.vehicles)} · {part.catalogue.place_name(ground.fleet, ground.place)}"
    return words("terminal.of_label", who=who, revision=ground.label_revision) if ground.label_revision else who


def _rows(part: OnePart, judgement: Judgement, words: Wording) -> list[tuple[str, ...]]:
    asked = [taken for taken in judgement.steps if taken.step.fact not in OF_THE_TABLET]
    lines = [(taken, step_line(taken, judgement.facts, words)) for taken in asked]
    return [
        (MARKS[line.outcome], line.question, line.found, line.needed, _files(part, taken, judgement, words))
        for taken, line in lines
    ]


def _files(part: OnePart, taken: Taken, judgement: Judgement, words: Wording) -> str:
    """The files behind a question, as they can be opened from where one stands."""
    kept = {file.path for file in (*part.sheet.folder.documents, *part.catalogue.material_files.values())} | part.catalogue.production.files.keys()
    named = files_behind(taken.step.id, judgement.facts)
    missing = words("documents.missing")
    shown = ((part.root / path).as_posix() + ("" if path in kept else f" ({missing})") for path in named)
    return ", ".join(shown)
