"""What each system does in its own way, by the one switch."""

import os
import signal
import subprocess
import sys

import pytest

from generator import systems
from generator.edge.disk.atomic import is_abandoned
from generator.edge.refusals import disk_refusal
from generator.systems import System, _named, processes, renaming
from generator.systems.folders import settings_folder


@pytest.fixture(params=list(System), ids=lambda each: each.name)
def system(request, monkeypatch):
    monkeypatch.setattr(systems, "SYSTEM", request.param)
    return request.param


def test_the_system_is_known_by_its_name():
    assert [_named(name) for name in ("linux", "linux2", "darwin", "win32", "freebsd14")] == [
        System.LINUX, System.LINUX, System.MACOS, System.WINDOWS, System.OTHER,
    ]  # fmt: skip


def test_what_a_dead_process_left_is_nobodys_and_where_none_is_asked_a_day_decides(system, tmp_path):
    ended = subprocess.Popen([sys.executable, "-c", ""])
    ended.wait()
    fresh = tmp_path / "left"
    fresh.touch()
    can_tell = system is not System.WINDOWS
    assert is_abandoned(fresh, ended.pid) is can_tell
    assert not is_abandoned(fresh, os.getppid())
    os.utime(fresh, (1, 1))
    assert is_abandoned(fresh, ended.pid)
    assert is_abandoned(fresh, os.getppid()) is not can_tell


def test_settings_lie_where_the_system_keeps_them(system, monkeypatch, tmp_path):
    for name in ("HOME", "APPDATA", "XDG_CONFIG_HOME"):
        monkeypatch.setenv(name, str(tmp_path / name))
    inside = {System.WINDOWS: "APPDATA", System.MACOS: "HOME/Library/Application Support"}.get(system, "XDG_CONFIG_HOME")
    assert settings_folder() == tmp_path / inside


def test_a_file_that_is_held_open_is_tried_for_a_moment_on_windows_alone(system, monkeypatch, tmp_path):
    monkeypatch.setattr(renaming, "PATIENCE_S", 60)
    monkeypatch.setattr(renaming, "_STEP_S", 0)
    tries = []

    def lets_go_at_the_third(*_):
        tries.append(1)
        if len(tries) < 3:
            raise PermissionError(13, "Permission denied", "x")

    monkeypatch.setattr(os, "replace", lets_go_at_the_third)
    if system is System.WINDOWS:
        renaming.replaced(tmp_path / "one", tmp_path / "other")
        assert len(tries) == 3
        return
    with pytest.raises(PermissionError) as refused:
        renaming.replaced(tmp_path / "one", tmp_path / "other")
    assert len(tries) == 1
    assert "this account may not write there" in disk_refusal(refused.value, "writing", tmp_path).says


def test_children_start_apart_and_ask_nobody(system):
    is_windows = system is System.WINDOWS
    assert ("creationflags" in processes.apart(), "creationflags" in processes.unasking()) == (is_windows, is_windows)
    assert processes.ended_by(0) is None
    assert processes.ended_by(-signal.SIGTERM) == "SIGTERM"
    assert processes.ended_by(-250) == "signal 250"
