"""`spares fire`: what the fire standard asks of a part and what answers it, or a material's results and what rests on them."""

import argparse
import difflib
from collections.abc import Iterable
from pathlib import Path

from generator.assemble.whole_way import Assembled, examined
from generator.edge.commands import options as asking
from generator.edge.commands.terminal import Terminal
from generator.edge.one_part import folder_here
from generator.edge.refusals import Ending, Refusal, refused
from generator.pages.fire.could_lines import could_lines, fit_at
from generator.pages.fire.material_lines import Failing, data_lines, failing, report_lines, result_lines
from generator.pages.fire.need_lines import asked_words, kind_words, need_lines
from generator.pages.fire.papers import Paper, paper_words, papers, rest_where, then_words
from generator.pages.fire.row_lines import RowLine, last_words, row_line
from generator.pages.fire.section import where_words
from generator.pages.fire.swap_lines import swap_lines
from generator.pages.wording import Wording, wording
from generator.records.fire import FireTest
from generator.records.problems import Severity
from generator.rules.facts.case import Copy
from generator.rules.grounds import Ground
from generator.rules.sheet import Sheet

DESCRIPTION = """\
Of a part: for each fleet and place what the fire standard asks and who chose that, each test with what was
found, and which sets the tables would suggest, with the arithmetic of what burns there; and where it is not
answered, what else it could be made of and what that would change.
Of a material (its file's name, or the name in it): each report with its results, and every part, fleet and
place that rests on it. Words and rules are those of the pages. An aid: the fire engineer decides.
"""
EXAMPLE = """\
  spares fire TV-0417
  spares fire pa12-fr-grey
"""
_STYLES = {"passes": "bold green", "asks": "bold yellow", "missing": "bold red", "fails": "bold red"}
_CLOSE = 0.6


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("name", metavar="NUMBER|MATERIAL", nargs="?", help="number of a part (default: the part in whose folder one stands), or a material")
    asking.add_catalogue(parser)


def run(options: argparse.Namespace) -> int:
    terminal = Terminal()
    root, store = asking.catalogue_of(options.catalogue), asking.store_in(options.store)
    with terminal.progress() as report:
        read = examined(root, asking.today(), store, report, workers=options.workers)
    asked = options.name if options.name is not None else folder_here(read.catalogue, root).number
    words, name = wording(read.catalogue.language), asked.strip().casefold()
    sheets = [sheet for sheet in read.sheets if sheet.number.casefold() == name]
    materials = [each for each, told in read.catalogue.materials.items() if name in (each.casefold(), told.name.casefold())]
    if not sheets and not materials:
        raise _unreadable(name, read) or _unknown(asked, read)
    for sheet in sheets:
        _part(sheet, root, read, words, terminal)
    for material in materials:
        _material(material, read, words, terminal)
    terminal.say()
    terminal.say(words("fire.advice"), "dim")
    return Ending.CLEAN


def _unreadable(name: str, read: Assembled) -> Refusal | None:
    """A material whose file is there, but has mistakes."""
    file = next((each.where.file for each in read.problems if each.where.file.casefold() == f"materials/{name}.yml"), None)
    return refused("material_mistakes", file=file) if file else None


def _unknown(name: str, read: Assembled) -> Refusal:
    known = {sheet.number.casefold(): sheet.number for sheet in read.sheets}
    for each, told in read.catalogue.materials.items():
        known |= {told.name.casefold(): each, each.casefold(): each}
    close = difflib.get_close_matches(name.strip().casefold(), known, n=3, cutoff=_CLOSE)
    listed = list(dict.fromkeys(known[each] for each in close))
    return refused("no_part_or_material", Ending.MISUSE, near=listed, name=name)


def _part(sheet: Sheet, root: Path, read: Assembled, words: Wording, terminal: Terminal) -> None:
    terminal.say(sheet.title, "bold")
    meshes = {each.number: each.mesh for each in read.sheets}
    for ground in sheet.grounds:
        terminal.say()
        terminal.say(where_words(ground, read.catalogue, words), "bold")
        _need(ground, read, words, terminal)
        _rows([row_line(row, read.catalogue, words) for row in ground.fire.rows], words, terminal)
        fit = fit_at(sheet.part, ground.fleet, ground.place) if sheet.part and not ground.label_revision else None
        could = could_lines(sheet.part, fit, read.catalogue, meshes, words) if sheet.part and fit else None
        if could:
            if could.differs:
                terminal.say(could.differs, "bold yellow")
            terminal.say(f"{words('fire.could.heading')}:")
            _listed((*could.candidates, could.group_says, *could.members, could.total), terminal)
    _swaps(sheet, read, words, terminal)
    errors = [each for each in sheet.problems if each.severity is Severity.ERROR]
    terminal.problems(errors, root, read.catalogue.language)


def _swaps(sheet: Sheet, read: Assembled, words: Wording, terminal: Terminal) -> None:
    found = swap_lines(sheet, read.catalogue, words)
    if found is None:
        return
    terminal.say()
    terminal.say(words("fire.swaps.heading"), "bold")
    _listed((found.says, *(() if found.lines else (words("fire.swaps.none"),))), terminal)
    for line in found.lines:
        terminal.say(f"{line.verdict}  {words('fire.swaps.by', material=line.material, maker=line.maker)}", _STYLES[line.key])
        _listed((*line.why, *(f"{label}: {told}" for label, told in line.changes)), terminal)


def _need(ground: Ground, read: Assembled, words: Wording, terminal: Terminal) -> None:
    says = kind_words(ground.fire, words)
    for told in (*((says,) if says else ()), *asked_words(ground.fire, words)):
        terminal.say(told, "bold yellow")
    lines = need_lines(ground.fire, read.catalogue.fleets.get(ground.fleet), read.catalogue, words)
    _listed((f"{label}: {told}" for label, told, _ in lines), terminal)


def _rows(lines: list[RowLine], words: Wording, terminal: Terminal) -> None:
    for line in lines:
        test = ", ".join(each for each in (line.test, line.quantity) if each)
        terminal.say(f"{line.verdict}  {test} ({line.material})", _STYLES[line.key])
        found = ", ".join(each for each in (line.found, line.margin) if each)
        told = {
            "needed": f"{line.needed} ({line.limit_of})",
            "found": found,
            "specimen": "; ".join(each for each in (*line.specimen, line.report, line.days) if each),
            "part": "; ".join(line.part),
        }
        _listed((f"{words(f'fire.result.{key}')}: {value or words('missing')}" for key, value in told.items()), terminal)
        _listed(line.why, terminal)


def _material(name: str, read: Assembled, words: Wording, terminal: Terminal) -> None:
    material = read.catalogue.materials[name]
    terminal.say(f"{name}: {material.name}", "bold")
    _listed((f"{label}: {told}" for label, told in data_lines(material, words)), terminal)
    depot = read.catalogue.depot
    copy = Copy(asking.today(), depot.max_copy_age_days if depot else 1)
    against = failing(read.sheets)
    for paper in papers(read.catalogue, read.sheets, copy):
        if paper.material == name:
            _paper(paper, read, against, words, terminal)


def _paper(paper: Paper, read: Assembled, against: Failing, words: Wording, terminal: Terminal) -> None:
    terminal.say()
    terminal.say(f"{paper_words(paper.record, words)}: {last_words(paper.record, words)}", "bold")
    if not paper.is_kept:
        terminal.say(f"  {words('material.lost')}", "bold red")
    if isinstance(paper.record, FireTest):
        _listed((f"{label}: {told}" for label, told in report_lines(paper.record, read.catalogue, words)), terminal)
        for line in result_lines(paper.record, read.catalogue.standard, against, words):
            terminal.say(f"    {line.test}, {line.quantity}: {line.value}; {line.specimen}; {line.proves}")
    for rests in paper.rests:
        where = rest_where(rests, paper, read.catalogue, words)
        terminal.say(f"  {rests.sheet.title}, {where}: {then_words(rests, paper, words)}")
    if not paper.rests:
        terminal.say(f"  {words('evidence.nothing')}")


def _listed(lines: Iterable[str], terminal: Terminal) -> None:
    for line in lines:
        terminal.say(f"  {line}")
