"""The command `spares`: one table of commands, each in a module of its own that is loaded when it is called."""

import argparse
import gc
import importlib
import os
import signal
import sys
import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from types import FrameType, ModuleType

from generator.edge.around import standing_in
from generator.edge.disk import done
from generator.edge.disk.outputs import READER_GONE, Outputs, watched
from generator.edge.refusals import Ending, Refusal, disk_refusal, lacking_refusal, refused
from generator.edge.spoken import listen
from generator.pages.lacking import LackingWordsError
from generator.records.depot import LaterFormatError
from generator.systems import lost

_AS_IT_WAS = "what was there before is as it was"


@dataclass(frozen=True, slots=True)
class Command:
    """A command: its module gives DESCRIPTION, EXAMPLE, add_arguments(parser) and run(options) -> int."""

    name: str
    module: str
    summary: str


COMMANDS = (
    Command("init", "generator.edge.commands.init", "start a folder for a depot of your own"),
    Command("build", "generator.edge.commands.build", "write the catalogue's site, or its plain Markdown"),
    Command("serve", "generator.edge.commands.serve", "show the site and rebuild it at every edit"),
    Command("check", "generator.edge.commands.check", "list everything that is wrong in the catalogue"),
    Command("hook", "generator.edge.commands.hook", "have git check what is committed and build what is pushed"),
    Command("new", "generator.edge.commands.new", "start the folder of a new part from its mesh"),
    Command("import", "generator.edge.commands.import_list", "take in a depot's own list of parts, such as a spreadsheet"),
    Command("find", "generator.edge.commands.find", "find parts by words, numbers, sizes, fleet and fault"),
    Command("match", "generator.edge.commands.match", "find the parts that a model or scan might be"),
    Command("explain", "generator.edge.commands.explain", "say why a part may or may not be fitted"),
    Command("printing", "generator.edge.commands.printing", "tell how a part is printed: pose, room, time and material"),
    Command("labels", "generator.edge.commands.labels", "write labels with QR codes as a PDF, on sheets or on a roll"),
    Command("beam", "generator.edge.commands.beam", "reckon how a clamped bar bends, by a hand formula"),
    Command("fire", "generator.edge.commands.fire", "tell the fire evidence of a part, or what rests on a material"),
    Command("approve", "generator.edge.commands.approve", "record an approval or a trial, bound to what is there now"),
    Command("take-over", "generator.edge.commands.take_over", "record an approval of before this catalogue, by its letter"),
    Command("record", "generator.edge.commands.record", "record any other event of the way to approval"),
    Command("next", "generator.edge.commands.next", "tell the following step of a part, with its command"),
    Command("today", "generator.edge.commands.today", "tell what the specialist does next, and what fits into the time there is"),
    Command("batch", "generator.edge.commands.batch", "write down what was printed: new, measured, released, counted"),
    Command("lot", "generator.edge.commands.lot", "write down what becomes of a lot of material"),
    Command("role", "generator.edge.commands.role", "tell or keep the role that you record as"),
    Command("sign", "generator.edge.commands.sign", "sign the events of one's own role with an SSH key"),
    Command(
        "approvals",
        "generator.edge.commands.approvals",
        "list every approval: stage, wait, what lapses, when it may come",
    ),
    Command("families", "generator.edge.commands.families", "list parts that can be submitted to a reviewer as one"),
    Command("submission", "generator.edge.commands.submission", "write what a reviewer needs of a part, as a PDF and a zip"),
    Command("report", "generator.edge.commands.report", "tell what happened in a month: approvals, prints, what was fitted and failed"),
    Command("stock", "generator.edge.commands.stock", "tell what to order or print now, how many, and why"),
    Command("savings", "generator.edge.commands.savings", "tell what printed parts have saved, by part, fleet and month"),
    Command("fire-tests", "generator.edge.commands.fire_next", "list the fire tests to order next, by how many parts they free"),
    Command("holds", "generator.edge.commands.holds", "tell how long the pieces of parts hold, and which batches stand out"),
    Command("migrate", "generator.edge.commands.migrate", "write a catalogue of an older format in the newest"),
    Command(
        "request", "generator.edge.commands.request", "add what tablets sent: requests for new designs, and voices"
    ),
    Command("queries", "generator.edge.commands.queries", "tell what people looked for in vain, and take in more of it"),
    Command("fitted", "generator.edge.commands.fitted", "tell what sits on which vehicle, and take in what was fitted"),
    Command("trace", "generator.edge.commands.trace", "tell which vehicles carry a lot, batch, part or machine's work, and back"),
    Command("recall", "generator.edge.commands.recall", "call back a lot, a batch or a revision, or lift that"),
    Command("notice", "generator.edge.commands.notice", "write the notice of a recall as a PDF"),
    Command("schema", "generator.edge.commands.schema", "write JSON Schemas, so that an editor checks while you type"),
)
_AXES_BELOW = ("-x", "-y", "-z")


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command; returns its exit code and never shows a traceback unless SPARES_TRACEBACK is set."""
    # A command makes many small objects and ends soon: looking through them for rings is a tenth of its time.
    gc.set_threshold(100_000, 50, 50)
    done.begin()
    listen()
    with watched() as outputs:
        lost.taken()
        code = _outcome(list(sys.argv[1:] if argv is None else argv))
        _say_what_was_lost(lost.taken())
        outputs.flush()
        return _where_words_are_lost(code, outputs)


def _outcome(arguments: list[str]) -> int:
    try:
        with _ending_like_an_interrupt():
            return _run(arguments)
    except SystemExit as error:  # argparse has said what is wrong
        return error.code if isinstance(error.code, int) else Ending.MISUSE
    except Refusal as refusal:
        _refuse(refusal.says, refusal.fix, because=refusal)
        return refusal.ending
    except LaterFormatError as error:
        _refuse_later(error)
        return Ending.PROBLEMS
    except LackingWordsError as error:
        if os.environ.get("SPARES_TRACEBACK"):
            raise
        return _refuse_lacking(error)
    except KeyboardInterrupt:
        _refuse("stopped before it was done" + ("" if done.so_far() else f"; {_AS_IT_WAS}"))
        return Ending.STOPPED
    except OSError as error:  # what no command foresaw: a name too long, a folder that vanished
        if os.environ.get("SPARES_TRACEBACK"):
            raise
        told = disk_refusal(error, "running", f"spares {arguments[0] if arguments else ''}".strip())
        _refuse(told.says, told.fix)
        return told.ending
    except MemoryError:
        _refuse("there is not enough memory for it", "close other programs, or give it smaller files")
        return Ending.PROBLEMS
    except Exception as error:
        lacking = lacking_refusal(error)
        if lacking:
            _refuse(lacking.says, lacking.fix)
            return lacking.ending
        if os.environ.get("SPARES_TRACEBACK"):
            raise
        report = "run it with SPARES_TRACEBACK=1 and report what it shows"
        says = f"a fault of spares itself: {type(error).__name__}: {error}"
        _refuse(says, report if done.so_far() else f"{_AS_IT_WAS}; {report}")
        return Ending.FAULT


def _where_words_are_lost(code: int, outputs: Outputs) -> int:
    """The exit code, and a word on standard error, where the answer could not be shown.

    Where nothing can be said anywhere, the code alone tells whether the work was done.
    """
    if not outputs.out.lost or code != Ending.CLEAN:
        return code
    if done.so_far():
        _refuse(f"{done.so_far()}; only the message could not be shown: {outputs.out.lost}", told=True)
        outputs.flush()
        return Ending.CLEAN if outputs.err.lost else Ending.PROBLEMS
    if outputs.out.lost != READER_GONE:  # `spares check | head` is no mistake
        _refuse(f"the answer could not be shown: {outputs.out.lost}")
    return Ending.PROBLEMS


def _say_what_was_lost(words: Sequence[str]) -> None:
    for each in words:
        from generator.edge.commands.terminal import Terminal  # noqa: PLC0415  loaded late, as below

        Terminal().note(f"Note: {each}")


def _run(arguments: list[str]) -> int:
    parser, modules = _parser(arguments)
    options = parser.parse_args(_axes_joined(arguments))
    if options.command is None:
        parser.print_help()
        return Ending.MISUSE
    if standing_in() is None:
        raise refused("nowhere")
    listen(catalogue=getattr(options, "catalogue", None), language=getattr(options, "language", None))
    code: int = modules[options.command].run(options)
    return code


def _axes_joined(arguments: list[str]) -> list[str]:
    """With --up=-x in place of --up -x: argparse takes what begins with a dash for an option."""
    joined: list[str] = []
    for each in arguments:
        if joined and joined[-1] == "--up" and each in _AXES_BELOW:
            joined[-1] = f"--up={each}"
        else:
            joined.append(each)
    return joined


def _parser(arguments: list[str]) -> tuple[argparse.ArgumentParser, dict[str, ModuleType]]:
    """The parser; only the command that is called is loaded, so that help and mistakes answer at once.

    It alone is listed too, where nothing stands before it: making all of them takes longer than many a command.
    """
    parser = argparse.ArgumentParser(
        prog="spares",
        description="A railway depot's catalogue of printable replacement parts.",
        epilog="exit codes: 0 clean, 1 problems or refused, 2 misuse\nDATE is a day such as 2026-11-28, N a number; sizes are in mm, masses in grams\nhelp for one command: spares build --help",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    listed = parser.add_subparsers(dest="command", metavar="COMMAND", title="commands")
    called = next((word for word in arguments if not word.startswith("-")), None)
    modules = {}
    alone = [command for command in COMMANDS if arguments[:1] == [command.name]]
    for command in alone or COMMANDS:
        one = listed.add_parser(
            command.name, help=command.summary, formatter_class=argparse.RawDescriptionHelpFormatter
        )
        if command.name == called:
            module = modules[command.name] = importlib.import_module(command.module)
            one.description, one.epilog = module.DESCRIPTION, "example:\n" + module.EXAMPLE
            module.add_arguments(one)
    return parser, modules


@contextmanager
def _ending_like_an_interrupt() -> Iterator[None]:
    """A polite end from outside (SIGTERM) cleans up as Ctrl-C does."""

    def interrupt(_number: int, _frame: FrameType | None) -> None:
        raise KeyboardInterrupt

    if threading.current_thread() is not threading.main_thread():
        yield
        return
    before = signal.signal(signal.SIGTERM, interrupt)
    try:
        yield
    finally:
        signal.signal(signal.SIGTERM, before)


def _refuse_later(error: LaterFormatError) -> None:
    from generator.pages.problems.said import said  # noqa: PLC0415  loaded late, as the terminal is
    from generator.pages.wording import wording  # noqa: PLC0415

    told, where = said(error.problem, wording(error.language)), error.problem.where
    _refuse(f"{error.folder}/{where}: {told.says}", told.fix)


def _refuse_lacking(error: LackingWordsError) -> int:
    """In plain English as it stands here, for the words files are what is broken."""
    from generator.pages.wording import lacking  # noqa: PLC0415  loaded late, as above

    mend = "write it there, in English; the other languages are measured by it" + ("" if done.so_far() else f"; {_AS_IT_WAS}")
    _refuse(str(lacking(error.key)), "" if error.key == "told.mend" else mend)  # the word before a mend may be the one that lacks
    return Ending.PROBLEMS


def _refuse(says: str, fix: str = "", *, told: bool = False, because: Refusal | None = None) -> None:
    """The last words of a command that did not end well, with what is written for good all the same."""
    from generator.edge.commands.terminal import Terminal  # noqa: PLC0415  loaded late: help needs no table drawing

    terminal = Terminal()
    if because:
        terminal.problems(because.problems, because.root, because.language)
    terminal.refuse(says, fix)
    if done.so_far() and not told:
        terminal.note(f"  before that: {done.so_far()}")
