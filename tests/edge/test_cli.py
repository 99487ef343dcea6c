"""Every command answers help, and misuse is 2 with one message and no traceback."""

import argparse
import errno
import os
import subprocess
import sys
from pathlib import Path

import pytest

from generator.edge import cli
from generator.edge.around import catalogue_around
from generator.edge.cli import COMMANDS, main
from generator.edge.refusals import Ending


@pytest.mark.parametrize("command", [each.name for each in COMMANDS])
def test_every_command_has_help_with_an_example(command, capsys):
    assert main([command, "--help"]) == 0
    said = capsys.readouterr().out
    assert "example:" in said
    assert f"  spares {command}" in said


@pytest.mark.parametrize("command", [each.name for each in COMMANDS])
def test_a_folder_that_is_gone_is_told_by_every_command(command, spares, tmp_path, monkeypatch):
    gone = tmp_path / "gone"
    gone.mkdir()
    monkeypatch.chdir(gone)
    gone.rmdir()
    assert "Traceback" not in spares(command)[2]
    code, out, err = spares("check")
    assert (code, out, err.splitlines()[0]) == (Ending.PROBLEMS, "", "spares: the folder in which you stand is gone, or this account may not go into it")
    assert len(err.splitlines()) == 2


def test_a_folder_that_may_not_be_entered_is_told_too(spares, monkeypatch):
    real = os.stat
    monkeypatch.setattr("os.stat", lambda path, **how: refuse() if str(path) == "." else real(path, **how))
    code, _, err = spares("check")
    assert (code, "may not go into it" in err) == (Ending.PROBLEMS, True)


def test_folders_above_that_may_not_be_looked_into_hold_no_catalogue(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr("pathlib.Path.is_file", refuse)
    assert catalogue_around() == Path("catalogue")


def refuse(*_given):
    raise PermissionError(errno.EACCES, "not permitted")


@pytest.mark.parametrize(
    "arguments",
    [
        [],
        ["bogus"],
        ["check", "--bogus"],
        ["check", "--format", "xml"],
        ["build", "--on", "2026-02-30"],
        ["explain"],
        ["schema", "bogus"],
        ["approve", "EX-0001"],
    ],
    ids=" ".join,
)
def test_misuse_is_two(arguments, depot, spares):
    code, _, _ = spares(*arguments)
    assert code == Ending.MISUSE


@pytest.mark.parametrize("command", ["check", "build", "explain EX-0001"])
def test_a_missing_catalogue_is_misuse_with_a_mend(command, depot, spares):
    code, out, err = spares(*command.split(), "--catalogue", "nowhere")
    assert code == Ending.MISUSE
    assert out == ""
    assert err == (
        "spares: there is no folder nowhere\n"
        "  mend: run it beside your catalogue/, or name the folder with --catalogue DIR; spares init DIR starts a depot of your own\n"
    )


def test_a_wrong_epoch_is_misuse(depot, spares, monkeypatch):
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "yesterday")
    code, _, err = spares("check")
    assert (code, err.splitlines()[0]) == (
        Ending.MISUSE,
        "spares: SOURCE_DATE_EPOCH is 'yesterday', which is no number of seconds since 1970",
    )


def test_a_fault_of_our_own_is_one_message(depot, spares, monkeypatch):
    monkeypatch.setattr(cli, "_run", lambda _: 1 / 0)
    code, _, err = spares("check")
    assert code == Ending.FAULT
    assert err.startswith("spares: a fault of spares itself: ZeroDivisionError")


def test_the_console_command_runs_and_a_closed_pipe_is_no_mistake(depot):
    script = Path(sys.executable).with_name("spares")
    for _ in range(2):  # the first one, on a fresh machine, says that it remembers nothing yet
        said = subprocess.run([script, "check"], capture_output=True, text=True, check=False)
    assert (said.returncode, said.stderr) == (0, "")
    assert said.stdout == "3 parts in catalogue: no problems.\n"
    piped = f"{script} check --format json | true"
    assert subprocess.run(piped, shell=True, capture_output=True, text=True, check=False).stderr == ""


def options_of(parser, name):
    """Each option and each word of a command and of what stands below it."""
    for action in parser._actions:
        yield name, action
        if isinstance(action, argparse._SubParsersAction):
            for below, own in action.choices.items():
                yield from options_of(own, f"{name} {below}")


def test_no_option_is_without_its_word():
    told = [each for command in COMMANDS for each in options_of(cli._parser([command.name])[0], "spares")]
    assert len(told) > 400
    assert [(name, action.dest) for name, action in told if not action.help and not isinstance(action, argparse._SubParsersAction)] == []


@pytest.mark.parametrize("typed", [("--up", "-x"), ("--up=-x",), ("--up", "+y")], ids=" ".join)
def test_an_axis_that_points_down_is_no_option(typed, depot, capsys):
    assert main(["batch", "new", "EX-0001", *typed, "--help"]) == 0
