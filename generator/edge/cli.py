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

from generator.edge.refusals import Ending, Refusal


@dataclass(frozen=True, slots=True)
class Command:
    """A command: its module gives DESCRIPTION, EXAMPLE, add_arguments(parser) and run(options) -> int."""

    name: str
    module: str
    summary: str


COMMANDS = (
    Command("build", "generator.edge.build", "write the catalogue's site, or its plain Markdown"),
    Command("serve", "generator.edge.serve", "show the site and rebuild it at every edit"),
    Command("check", "generator.edge.check", "list everything that is wrong in the catalogue"),
    Command("new", "generator.edge.new", "start the folder of a new part from its mesh"),
    Command("find", "generator.edge.find", "find parts by words, numbers, sizes, fleet and fault"),
    Command("explain", "generator.edge.explain", "say why a part may or may not be fitted"),
    Command("approve", "generator.edge.approve", "record an approval or a trial, bound to what is there now"),
    Command("record", "generator.edge.record", "record any other event of the way to approval"),
    Command(
        "approvals",
        "generator.edge.approvals",
        "list every approval: stage, wait, what lapses, when it may come",
    ),
    Command(
        "request", "generator.edge.request", "add what tablets sent: requests for new designs, and voices"
    ),
    Command("schema", "generator.edge.schema", "write JSON Schemas, so that an editor checks while you type"),
)


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command; returns its exit code and never shows a traceback unless SPARES_TRACEBACK is set."""
    # A command makes many small objects and ends soon: looking through them for rings is a tenth of its time.
    gc.set_threshold(100_000, 50, 50)
    arguments = list(sys.argv[1:] if argv is None else argv)
    try:
        with _ending_like_an_interrupt():
            code = _run(arguments)
            sys.stdout.flush()
            return code
    except SystemExit as error:  # argparse has said what is wrong
        return error.code if isinstance(error.code, int) else Ending.MISUSE
    except Refusal as refusal:
        _refuse(refusal.says, refusal.fix)
        return refusal.ending
    except KeyboardInterrupt:
        _refuse("stopped before it was done; what was there before is as it was")
        return Ending.STOPPED
    except BrokenPipeError:  # `spares check | head`: the reader has gone, which is no mistake
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return Ending.PROBLEMS
    except Exception as error:
        if os.environ.get("SPARES_TRACEBACK"):
            raise
        says = f"a fault of spares itself: {type(error).__name__}: {error}"
        _refuse(
            says,
            "what was there before is as it was; run it with SPARES_TRACEBACK=1 and report what it shows",
        )
        return Ending.FAULT


def _run(arguments: list[str]) -> int:
    parser, modules = _parser(arguments)
    options = parser.parse_args(arguments)
    if options.command is None:
        parser.print_help()
        return Ending.MISUSE
    code: int = modules[options.command].run(options)
    return code


def _parser(arguments: list[str]) -> tuple[argparse.ArgumentParser, dict[str, ModuleType]]:
    """The parser; only the command that is called is loaded, so that help and mistakes answer at once."""
    parser = argparse.ArgumentParser(
        prog="spares",
        description="A railway depot's catalogue of printable replacement parts.",
        epilog="exit codes: 0 clean, 1 problems, 2 misuse\nhelp for one command: spares build --help",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    listed = parser.add_subparsers(dest="command", metavar="COMMAND", title="commands")
    called = next((word for word in arguments if not word.startswith("-")), None)
    modules = {}
    for command in COMMANDS:
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


def _refuse(says: str, fix: str = "") -> None:
    from generator.edge.terminal import Terminal  # noqa: PLC0415  loaded late: help needs no table drawing

    Terminal().refuse(says, fix)
