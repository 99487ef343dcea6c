"""A job that hangs, dies, fills memory or fails becomes a value, and the others go on."""

import ctypes
import math
import os
import signal
import subprocess
import sys
import textwrap
import threading
import time

import psutil
import pytest

from generator.measuring.guarded import Crashed, Done, Guard, Limits, TooBig, TooLong

# Functions of the standard library serve as jobs: they can be named to any child.
needs_posix = pytest.mark.skipif(sys.platform == "win32", reason="signals and address space are POSIX")
needs_cap = pytest.mark.skipif(sys.platform in ("win32", "darwin"), reason="no address-space limit there")


def children_of(pid, besides=frozenset()):
    return [
        child
        for child in psutil.Process(pid).children()
        if child.status() != psutil.STATUS_ZOMBIE and child.pid not in besides
    ]


@pytest.fixture
def own_children():
    """The children that came since the test began: a browser of another test may still be there."""
    before = {child.pid for child in children_of(os.getpid())}
    return lambda: children_of(os.getpid(), before)


def until(condition, seconds=10.0):
    end = time.monotonic() + seconds
    while not condition():
        assert time.monotonic() < end, "waited in vain"
        time.sleep(0.02)


def test_results_come_back_in_order_and_are_told_as_they_end():
    told = []
    with Guard(workers=2) as guard:
        outcomes = guard.run_all(math.sqrt, [x * x for x in range(50)], lambda number, _: told.append(number))
    assert outcomes == tuple(Done(float(x)) for x in range(50))
    assert sorted(told) == list(range(50))


def test_one_child_serves_many_jobs():
    with Guard(workers=1) as guard:
        pids = guard.run_all(eval, ["__import__('os').getpid()"] * 20)
        again = guard.run_all(eval, ["__import__('os').getpid()"])
    assert len({outcome.value for outcome in pids + again}) == 1
    assert pids[0].value != os.getpid()


def test_no_child_starts_without_a_job(own_children):
    with Guard() as guard:
        assert guard.run_all(math.sqrt, []) == ()
        assert own_children() == []


@pytest.mark.parametrize(
    ("function", "bad_job", "good_job", "expected"),
    [
        pytest.param(time.sleep, 60, 0.0, TooLong(1.0), id="sleeps on"),
        pytest.param(eval, "len(bytes(3 << 30))", "1", TooBig(2048), id="asks for 3 GB", marks=needs_cap),
        pytest.param(os._exit, 7, None, Crashed("its process ended with code 7"), id="exits"),
    ],
)
def test_a_job_beyond_its_limits_is_a_value_and_the_next_job_runs(function, bad_job, good_job, expected):
    with Guard(workers=1, limits=Limits(seconds=1.0, memory_mb=2048)) as guard:
        (outcome,) = guard.run_all(function, [bad_job])
        assert outcome == expected
        if good_job is not None:
            assert isinstance(guard.run_all(function, [good_job])[0], Done)
        assert guard.run_all(math.sqrt, [4]) == (Done(2.0),)


def test_a_job_that_would_sleep_for_days_does_not_hold_up_the_caller():
    with Guard(workers=1, limits=Limits(seconds=1.0)) as guard:
        outcomes = []
        caller = threading.Thread(target=lambda: outcomes.extend(guard.run_all(time.sleep, [10**6])), daemon=True)
        caller.start()
        until(lambda: outcomes == [TooLong(1.0)], seconds=30)


@needs_posix
def test_a_segmentation_fault_is_named():
    with Guard(workers=1) as guard:
        (outcome,) = guard.run_all(ctypes.string_at, [0])
    assert outcome == Crashed("its process was ended by SIGSEGV")


def test_busy_loop_that_never_gives_up_the_interpreter_is_ended():
    with Guard(workers=1, limits=Limits(seconds=1.0)) as guard:
        (outcome,) = guard.run_all(math.factorial, [10_000_000])
    assert outcome == TooLong(1.0)


@needs_posix
def test_a_job_is_ended_by_what_it_has_of_the_processor_however_long_the_clock_would_wait():
    with Guard(workers=1, limits=Limits(seconds=600, processor_s=1)) as guard:
        (outcome,) = guard.run_all(math.factorial, [10_000_000])
        assert outcome == TooLong(1)
        assert guard.run_all(math.sqrt, [4]) == (Done(2.0),)


def test_an_error_inside_a_job_is_told_with_its_traceback_and_keeps_the_child():
    with Guard(workers=1) as guard:
        good, bad, after = guard.run_all(eval, ["__import__('os').getpid()", "1/0", "__import__('os').getpid()"])
    assert isinstance(bad, Crashed)
    assert bad.says == "ZeroDivisionError: division by zero"
    assert "Traceback" in bad.details
    assert good == after


def test_a_result_that_cannot_travel_is_told():
    with Guard(workers=1) as guard:
        (outcome,) = guard.run_all(eval, ["lambda: 1"])
    assert isinstance(outcome, Crashed)
    assert "pickle" in outcome.says.lower()


def test_printing_in_a_job_disturbs_nothing(capfd):
    with Guard(workers=1) as guard:
        outcomes = guard.run_all(eval, ["print('x' * 10000) or 5", "__import__('os').write(1, b'junk') and 6"])
    assert outcomes == (Done(5), Done(6))
    assert capfd.readouterr() == ("", "")


def test_one_bad_job_among_many_spoils_only_itself():
    jobs = ["1+1", "__import__('os')._exit(3)", "2+2", "__import__('os').abort()", "3+3"]
    with Guard(workers=2) as guard:
        outcomes = guard.run_all(eval, jobs)
    assert [o.value if isinstance(o, Done) else None for o in outcomes] == [2, None, 4, None, 6]


def test_leaving_the_block_leaves_no_process(own_children):
    with Guard(workers=2) as guard:
        guard.run_all(math.sqrt, [1, 2, 3])
        assert own_children()
    assert own_children() == []


def test_an_error_in_the_caller_s_progress_ends_the_children(own_children):
    def broken(_number, _outcome):
        raise RuntimeError

    with Guard(workers=2) as guard, pytest.raises(RuntimeError):
        guard.run_all(time.sleep, [0, 60, 60], broken)
    assert own_children() == []


def test_a_guard_needs_a_worker():
    with pytest.raises(ValueError, match="at least 1"):
        Guard(workers=0)


_PROGRAM = textwrap.dedent("""
    import signal, time
    from generator.measuring.guarded import Guard
    signal.signal(signal.SIGINT, signal.default_int_handler)  # a shell's background job ignores it
    with Guard(workers=2) as guard:
        guard.run_all(print, [1])
        print("ready", flush=True)
        guard.run_all(time.sleep, [60, 60, 60])
""")


@pytest.fixture
def program():
    started = subprocess.Popen(
        [sys.executable, "-c", _PROGRAM], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
        env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)},
    )  # fmt: skip
    assert started.stdout.readline() == "ready\n"
    until(lambda: len(children_of(started.pid)) == 2)
    yield started, children_of(started.pid)
    started.kill()
    started.communicate()


@needs_posix
def test_ctrl_c_ends_program_and_children(program):
    started, children = program
    started.send_signal(signal.SIGINT)
    _, errors = started.communicate(timeout=10)
    assert started.returncode != 0
    assert errors.rstrip().endswith("KeyboardInterrupt")
    until(lambda: not any(child.is_running() for child in children))


@needs_posix
def test_children_of_a_killed_program_end_themselves(program):
    started, children = program
    started.kill()
    started.wait(timeout=10)
    until(lambda: not any(child.is_running() for child in children))
