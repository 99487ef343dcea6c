"""`spares build`: the catalogue becomes a site, or plain Markdown; the last good one stays until then."""

import argparse
import time
from collections import Counter
from pathlib import Path

from generator.assemble.whole_way import Assembled, assembled, remembered
from generator.edge.commands import options as asking
from generator.edge.commands.terminal import Terminal, counted
from generator.edge.disk.swapping import is_made, replaced
from generator.edge.refusals import Ending, reason_of, refused
from generator.edge.site.plain_files import write_plain
from generator.edge.site.plugin import BuildOptions
from generator.edge.site.site_builder import built, built_on, configured, hand_written
from generator.edge.site.zipped import zipped
from generator.edge.spoken import words
from generator.pages.site import Site
from generator.pages.wording import wording
from generator.records.problems import Severity
from generator.rules.verdicts import Verdict
from generator.systems.store import Store

DESCRIPTION = """\
Reads the catalogue, measures and draws its meshes, judges every part and writes the site.

The new site grows beside the old one and takes its place only when it is complete: on an error, a full
disk or Ctrl-C the last good site stays. A part with mistakes gets a page that says what is wrong and the
verdict "Do not fit"; the others are not touched by it. That is exit code 0 with a note; with --strict it is 1.
"""
EXAMPLE = """\
  spares build                       # catalogue/ → site/, then open site/index.html
  spares build --strict              # in CI: no new site while anything is wrong
  spares build --markdown handbook   # the same pages as plain Markdown, no site
  spares build --zip                 # and site.zip, which opens from a stick without any network
"""
SHOWN = 12


def add_arguments(parser: argparse.ArgumentParser) -> None:
    asking.add_catalogue(parser)
    parser.add_argument(
        "--site", type=Path, metavar="DIR", help="where the site goes (default: site_dir of mkdocs.yml)"
    )
    parser.add_argument(
        "--markdown", type=Path, metavar="DIR", help="write plain Markdown and pictures there, no site"
    )
    parser.add_argument(
        "--zip", action="store_true", help="also write it as one zip file beside the folder, for a stick"
    )
    parser.add_argument(
        "--strict", action="store_true", help="any error or dead link: exit 1, the last good site stays"
    )
    parser.add_argument(
        "--config", type=Path, metavar="FILE", default=Path("mkdocs.yml"), help="default: mkdocs.yml"
    )
    asking.add_day(parser, "judge as on this day (default: SOURCE_DATE_EPOCH, else today)")


def run(options: argparse.Namespace) -> int:
    terminal = Terminal()
    began = time.monotonic()
    day = options.on or asking.today()
    root = asking.catalogue_of(options.catalogue)
    # A depot that wants Markdown only need not have the site builder's file.
    config = configured(options.config) if options.config.is_file() or not options.markdown else None
    store = asking.store_in(options.store)
    target = _short(options.markdown or options.site or Path(config.site_dir if config else "site"))
    with terminal.progress() as report, built_on(day):
        found = assembled(root, day, store, report, workers=options.workers, published=target)
        read_s = time.monotonic() - began
        site = _site(found, root, terminal, target, strict=options.strict)
        asked = BuildOptions(catalogue=root, store=options.store, day=day, ready=found, report=report)
        _refuse_source(target, [root, *([Path(config.docs_dir)] if config else [])])
        with replaced(target) as fresh:
            if options.markdown:
                heard = []
                write_plain(site, root, hand_written(config, found.catalogue.language) if config else [], fresh)
            elif config:
                heard = built(config, fresh, asked)
            if heard and options.strict:
                raise refused("site_dead_links", stays=_stays(target), heard="\n  ".join(heard))
    notes = [*found.notes, *filter(None, [remembered(root, store, found.records)])]
    _summary(terminal, found, root, heard, store)
    w = wording(found.catalogue.language)
    if not found.sheets:
        terminal.say(w("starting.no_parts"))
    terminal.notes(notes, found.catalogue.language)
    whole_s = time.monotonic() - began
    terminal.say(w("terminal.took", read=w.number(read_s, 1), written=w.number(whole_s - read_s, 1)))
    opening = target if options.markdown else target / "index.html"
    terminal.say(w("terminal.markdown" if options.markdown else "terminal.site", day=w.day(day), where=str(opening)), "bold")
    if options.zip:
        archive = target.with_name(f"{target.name}.zip")
        size = zipped(target, archive)
        terminal.say(w("terminal.stick", archive=str(archive), mb=w.number(size / 1e6, 1)), "bold")
    return Ending.CLEAN


def _refuse_source(target: Path, sources: list[Path]) -> None:
    """A site never grows inside what it is made from."""
    for source in sources:
        if target.resolve() == source.resolve() or source.resolve() in target.resolve().parents:
            raise refused("site_inside", Ending.MISUSE, folder=str(target), source=str(_short(source)))


def _site(found: Assembled, root: Path, terminal: Terminal, target: Path, *, strict: bool) -> Site:
    """The pages, or a Refusal with the problems listed."""
    if found.site is None:
        terminal.problems(found.problems, root, found.catalogue.language, SHOWN)
        raise refused("site_no_depot", stays=_stays(target))
    if strict and any(problem.severity is Severity.ERROR for problem in found.problems):
        terminal.problems(found.problems, root, found.catalogue.language, SHOWN)
        raise refused("site_strict", count=_counted(found), stays=_stays(target))
    return found.site


def _stays(target: Path) -> str:
    """What readers have where nothing is built."""
    return words()("commands.stays.site" if is_made(target) else "commands.stays.nothing")


def _summary(
    terminal: Terminal, found: Assembled, root: Path, heard: list[str], store: Store
) -> None:
    terminal.problems(found.problems, root, found.catalogue.language, SHOWN)
    for line in heard:
        terminal.say(f"site: {line}", "yellow")
    w, verdicts = wording(found.catalogue.language), Counter(each.best for each in found.sheets)
    if store.unkept:
        told = w("commands.disk.unkept", folder=str(store.folder), reason=reason_of(store.unkept))
        terminal.say(f"{w('terminal.note')} {told}", "yellow")
    told = ", ".join(f"{verdicts[each]} × {w(f'verdict.{each.key}')}" for each in (Verdict.FIT_IT, Verdict.ASK_FIRST, Verdict.DO_NOT_FIT))
    terminal.say(w.count("terminal.built", len(found.sheets), told=told, count=_counted(found)))
    broken = [each.number for each in found.sheets if each.is_broken]
    if broken:
        named = ", ".join(broken[:8]) + (" …" if len(broken) > 8 else "")
        terminal.say(w("terminal.broken", verdict=w("verdict.no"), numbers=named), "bold red")


def _counted(found: Assembled) -> str:
    return counted(found.problems, wording(found.catalogue.language))


def _short(folder: Path) -> Path:
    """The folder as short as it goes from here."""
    return folder.relative_to(Path.cwd()) if folder.is_relative_to(Path.cwd()) else folder
