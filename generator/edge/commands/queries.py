"""`spares queries`: what people looked for in vain, what the finder answers by now, and which words would help."""

import argparse
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from generator.edge.commands import options as asking
from generator.edge.commands.examining import examined_for
from generator.edge.commands.terminal import Terminal, counted, tell_json
from generator.edge.disk.query_files import known_as, query_file, read_queries, write_queries
from generator.edge.disk.writing_lock import held
from generator.edge.refusals import Ending, Refusal
from generator.finder.engine import Finder
from generator.pages.addresses import addresses
from generator.pages.finder.index import finder_data
from generator.pages.wording import Wording, wording
from generator.planning.looked_for import ProposedWord, Sought, sought, spellings, synonyms, vocabulary
from generator.reading.catalogue import read_catalogue
from generator.systems.own_site import scripts_for
from generator.writing.yaml_text import quoted, scalar

DESCRIPTION = """\
Lists what people looked for in vain, most frequent first, with how often, in how many hand-overs and when last.
The finder of today answers each text once more: what is found by now falls to the end. Lines for words.yml are
proposed, ready to copy; nothing is written. `add` takes in the lists that tablets saved as files.
"""
ADD = """\
Reads lists of what was looked for in vain, as tablets save them (queries-DAY.yml), checks them as strictly as
everything else and adds them to queries/. With a mistake in any file nothing is written; a list that is there
already is told and changes nothing. Lists that came with a request are taken in by `spares request add`.
"""
EXAMPLE = """\
  spares queries
  spares queries --format json
  spares queries add ~/Downloads/queries-*.yml
"""
_MOST_TOLD = 3


@dataclass(frozen=True, slots=True)
class AnsweredQuery:
    """A text with the parts, and else the open requests, that the finder is sure of by now."""

    sought: Sought
    parts: tuple[str, ...]
    requests: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class QueriesReport:
    answers: tuple[AnsweredQuery, ...]
    spellings: tuple[ProposedWord, ...] = ()
    synonyms: tuple[ProposedWord, ...] = ()


def add_arguments(parser: argparse.ArgumentParser) -> None:
    asking.add_format(parser)
    asking.add_catalogue(parser)
    asking.add_day(parser, "answer as on this day (default: SOURCE_DATE_EPOCH, else today)")
    actions = parser.add_subparsers(dest="action", metavar="ACTION")
    add = actions.add_parser("add", help="add lists that tablets saved", description=ADD, epilog="example:\n" + EXAMPLE,
                             formatter_class=argparse.RawDescriptionHelpFormatter)  # fmt: skip
    add.add_argument("files", nargs="+", type=Path, metavar="FILE", help="lists, as tablets saved them")
    add.add_argument("--dry-run", action="store_true", help="show what would be written and write nothing")
    asking.add_catalogue(add, again=True)
    asking.add_day(add, "the day of today (default: SOURCE_DATE_EPOCH, else by the clock)", again=True)


def run(options: argparse.Namespace) -> int:
    terminal = Terminal()
    root = asking.catalogue_of(options.catalogue)
    if options.action == "add":
        return _add(options, root, terminal)
    told, w = _told(options, root, terminal)
    if options.format == "json":
        tell_json(_plain(told))
    else:
        _print(told, w, terminal)
    return Ending.CLEAN


def _add(options: argparse.Namespace, root: Path, terminal: Terminal) -> int:
    if options.dry_run:
        _added(options, root, terminal)
        return Ending.CLEAN
    with held(root, "queries add", terminal.note):
        _added(options, root, terminal)
    return Ending.CLEAN


def _added(options: argparse.Namespace, root: Path, terminal: Terminal) -> None:
    """Plan all, then write all; what is told stands for what was done."""
    catalogue = read_catalogue(root)
    w = wording(catalogue.language)
    read = [read_queries(file, catalogue, options.on or asking.today()) for file in options.files]
    found = [problem for _, problems in read for problem in problems]
    if found:
        terminal.problems(found, Path(), catalogue.language)
        raise Refusal(w("terminal.nothing_added", count=counted(found, w)), w("terminal.mend_files"))
    new, lines = {}, []
    for name, (queries, _) in zip(options.files, read, strict=True):
        if queries is None:
            continue
        file, known = query_file(queries), known_as(queries, catalogue, root)
        if known or file.file in new:
            lines.append((w("terminal.is_there", name=str(name), file=known or file.file), ""))
            continue
        new[file.file] = file
        would = "would_write" if options.dry_run else "written"
        texts = w.count("terminal.vain.texts", len(queries.looked_for))
        lines.append((w(f"terminal.{would}", file=file.file, told=texts), "bold"))
        lines += [(file.text, "")] if options.dry_run else []
    if new and not options.dry_run:
        write_queries(list(new.values()), root)
    for line, style in lines:
        terminal.say(line, style)


def _told(options: argparse.Namespace, root: Path, terminal: Terminal) -> tuple[QueriesReport, Wording]:
    catalogue = read_catalogue(root)
    w = wording(catalogue.language)
    if not (listed := sought(catalogue.queries.values())):
        return QueriesReport(()), w
    day = options.on or asking.today()
    read = examined_for(options, terminal, root, day)
    catalogue = read.catalogue
    data = finder_data(catalogue, read.sheets, addresses(catalogue.parts), day)
    with Finder(data, scripts_for(root)) as finder:
        answers = [_answer(each, finder) for each in listed]
    answers.sort(key=lambda each: (bool(each.parts), bool(each.requests)))
    vain = [each.sought for each in answers if not each.parts]
    known = vocabulary(data["records"], catalogue.words, data["language"])
    return QueriesReport(tuple(answers), spellings(vain, known), synonyms(vain, known, catalogue)), w


def _answer(each: Sought, finder: Finder) -> AnsweredQuery:
    sure = [found for found in finder.find(each.text) if found.is_sure]
    parts, requests = (tuple(found.number for found in sure if found.kind == kind)[:_MOST_TOLD] for kind in ("part", "request"))
    return AnsweredQuery(each, parts, requests)


def _plain(told: QueriesReport) -> dict[str, Any]:
    return {
        "queries": [
            {
                "text": each.sought.text,
                "times": each.sought.times,
                "hand_overs": each.sought.hand_overs,
                "last": each.sought.last.isoformat(),
                "found_now": list(each.parts),
                "requested": list(each.requests),
            }
            for each in told.answers
        ],
        "words": {
            "spellings": dict(each.words for each in told.spellings),
            "synonyms": [list(each.words) for each in told.synonyms],
        },
    }


def _print(told: QueriesReport, w: Wording, terminal: Terminal) -> None:
    if not told.answers:
        terminal.say(w("terminal.vain.none"))
        return
    rows = [
        (str(each.sought.times), str(each.sought.hand_overs), w.day(each.sought.last), each.sought.text, _now(each, w))
        for each in told.answers
    ]
    heads = ("times", "hand_overs", "last", "looked_for", "today")
    terminal.table([w(f"terminal.vain.{head}") for head in heads], rows)
    if told.spellings or told.synonyms:
        terminal.say()
        terminal.say(w("terminal.vain.proposed"))
        for line in [*_spelling_lines(told.spellings, w), *_synonym_lines(told.synonyms, w)]:
            terminal.say(line)
        terminal.say()


def _now(each: AnsweredQuery, w: Wording) -> str:
    if each.parts:
        return w("terminal.vain.found", numbers=", ".join(each.parts))
    return w("terminal.vain.asked", numbers=", ".join(each.requests)) if each.requests else ""


def _spelling_lines(proposed: Iterable[ProposedWord], w: Wording) -> Iterable[str]:
    lines = [f"  {scalar(one)}: {scalar(other)}  # {_why(each.sought, w)}" for each in proposed for one, other in [each.words]]
    return ["spellings:", *lines] if lines else []


def _synonym_lines(proposed: Iterable[ProposedWord], w: Wording) -> Iterable[str]:
    lines = [
        f"  - [{', '.join(map(quoted, each.words))}]  # "
        + w("terminal.vain.same_tablet", why=_why(each.sought, w), request=each.request)
        for each in proposed
    ]
    return ["synonyms:", *lines] if lines else []


def _why(each: Sought, w: Wording) -> str:
    return w.count("terminal.vain.why", each.times, text=quoted(each.text))
