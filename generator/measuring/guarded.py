"""How is a job run so that no file can hang, crash or fill the machine?"""

from __future__ import annotations

import contextlib
import os
import pickle
import queue
import subprocess
import sys
import threading
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, Final, Generic, Self, TypeVar

from generator.measuring.guarded_child import Ended, Hello, Reply, receive, send
from generator.measuring.workers import usual_workers
from generator.systems import lost
from generator.systems.limits import OUT_OF_TIME, UNLIMITED_MEMORY
from generator.systems.processes import apart, ended_by

A = TypeVar("A")
R = TypeVar("R")

_LOOK_UP_S: Final = 0.2  # how long Ctrl-C may wait where waiting cannot be interrupted (Windows)
_DEATH_S: Final = 5.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """What one job may use, all that it does together; a job that wants more is ended.

    seconds: by the clock, for one that sleeps, and where the system counts no processor time: so many that it judges
    no job that works, however busy the machine.
    processor_s: of the processor's time, so that a busy machine ends no job that a quiet one does; a job may allow
    itself less, see measuring/working.py.
    """

    seconds: float = 600.0
    processor_s: float = 60.0
    memory_mb: int = 4096  # address space: libraries alone reserve several hundred MB of it


@dataclass(frozen=True, slots=True)
class Done(Generic[R]):
    """The job gave a result."""

    value: R


@dataclass(frozen=True, slots=True)
class TooLong:
    """The job was ended at its time limit; given: what it had told until then, as of the other ends."""

    seconds: float
    given: tuple[Any, ...] = ()


@dataclass(frozen=True, slots=True)
class TooBig:
    """The job asked for more memory than it may have."""

    memory_mb: int
    given: tuple[Any, ...] = ()


@dataclass(frozen=True, slots=True)
class Crashed:
    """The job ended otherwise: by an error inside it, or with its process.

    says: one line. details: what a developer needs, a traceback for example; may be empty.
    """

    says: str
    details: str = ""
    given: tuple[Any, ...] = ()


Outcome = Done[R] | TooLong | TooBig | Crashed


class Guard:
    """A few child processes that run jobs; one that fails is replaced.

    Children start with the first jobs, not before, and are ended on leaving the `with` block, by
    Ctrl-C too. Should this process die without that, each child sees its pipe close and ends itself.
    Functions travel by module and name, so they must stand at the top of a module.
    """

    def __init__(self, *, workers: int | None = None, limits: Limits | None = None) -> None:
        """workers: by default as many as processors and memory allow; ValueError below one."""
        if workers is not None and workers < 1:
            raise ValueError(f"workers must be at least 1, not {workers}")
        self._limits = limits or Limits()
        self._workers = workers
        self._lock = threading.Lock()
        self._all: set[_Child] = set()
        self._idle: list[_Child] = []
        self._closed = False
        self.limits_memory: bool | None = None
        """Whether the memory limit holds on this system; unknown before the first job."""

    def __enter__(self) -> Self:
        """Start nothing yet."""
        return self

    def __exit__(self, *_: object) -> None:
        """End every child at once, whatever it does."""
        self.close()

    def close(self) -> None:
        """End every child for good; jobs that still run come back as Crashed."""
        with self._lock:
            self._closed = True
            children, self._all, self._idle = self._all, set(), []
        for child in children:
            child.end()

    def run_all(
        self,
        function: Callable[[A], R],
        jobs: Sequence[A],
        on_end: Callable[[int, Outcome[R]], None] | None = None,
    ) -> tuple[Outcome[R], ...]:
        """Run function(job) for each job in the children; outcomes stand in the order of the jobs.

        on_end: called in this thread with number and outcome of each job as it ends, in any order.
        KeyboardInterrupt ends the children and goes on to the caller.
        """
        waiting: queue.SimpleQueue[tuple[int, bytes]] = queue.SimpleQueue()
        for number, job in enumerate(jobs):
            waiting.put((number, pickle.dumps((function, job))))
        ended: queue.SimpleQueue[tuple[int, Outcome[R]]] = queue.SimpleQueue()

        def work() -> None:
            with contextlib.suppress(queue.Empty):
                while True:
                    number, message = waiting.get_nowait()
                    try:
                        ended.put((number, self._run(message)))
                    except Exception as error:  # noqa: BLE001  a thread that dies silently would be a hang
                        ended.put((number, Crashed(f"its answer was not understood: {error!r}")))

        for _ in range(min(self._workers or usual_workers(self._limits.memory_mb), len(jobs)) if jobs else 0):
            threading.Thread(target=work, daemon=True).start()
        try:
            return _gathered(ended, len(jobs), on_end)
        except BaseException:
            self.close()
            raise

    def _run(self, message: bytes) -> Outcome[Any]:
        child = self._taken()
        if child is None:
            return Crashed("no process could be started for it, or the work was stopped")
        outcome = child.run(message)
        with self._lock:
            if child.is_usable and not self._closed:
                self._idle.append(child)
                return outcome
            self._all.discard(child)
        child.end()
        return outcome

    def _taken(self) -> _Child | None:
        """Take an idle child, or start one; None when that fails or the guard was closed meanwhile."""
        with self._lock:
            if self._closed:
                return None
            if self._idle:
                return self._idle.pop()
        try:
            child = _Child(self._limits)
        except OSError:
            return None
        with self._lock:
            if not self._closed:
                self._all.add(child)
        child.greet()
        if self._closed:
            child.end()
            return None
        self.limits_memory = child.limits_memory
        return child


def _gathered(
    ended: queue.SimpleQueue[tuple[int, Outcome[R]]],
    count: int,
    on_end: Callable[[int, Outcome[R]], None] | None,
) -> tuple[Outcome[R], ...]:
    outcomes: dict[int, Outcome[R]] = {}
    while len(outcomes) < count:
        with contextlib.suppress(queue.Empty):
            number, outcome = ended.get(timeout=_LOOK_UP_S)
            outcomes[number] = outcome
            if on_end is not None:
                on_end(number, outcome)
    return tuple(outcomes[number] for number in range(count))


class _Deadline:
    """Kills a child when its time is over, unless it was stopped before."""

    def __init__(self, seconds: float, kill: Callable[[], None]) -> None:
        self._kill = kill
        self._lock = threading.Lock()
        self._is_over = False
        self._is_late = False
        self._timer = threading.Timer(seconds, self._strike)
        self._timer.daemon = True
        self._timer.start()

    def stopped(self) -> bool:
        """Stop it, and tell whether it was too late for that."""
        self._timer.cancel()
        with self._lock:  # a strike under way ends first, one that comes later does nothing
            self._is_over = True
            return self._is_late

    def _strike(self) -> None:
        with self._lock:
            if not self._is_over:
                self._is_late = True
                self._kill()


class _Child:
    """One child process and the two pipes to it."""

    def __init__(self, limits: Limits) -> None:
        self._limits = limits
        self.is_usable = True
        self.limits_memory = False
        # Not a multiprocessing child: that would import the caller's main module again, which for
        # MkDocs is the whole of MkDocs.
        self._popen = subprocess.Popen(
            [sys.executable, "-P", "-c", "from generator.measuring.guarded_child import main; main()"],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            env=_environment(),
            **apart(),
        )

    def greet(self) -> None:
        """Tell the limits and hear whether they hold; a child that is dead already shows at its first job."""
        answer = self._asked(pickle.dumps(Hello(self._limits.processor_s, self._limits.memory_mb)))
        self.limits_memory = answer is True
        if answer is False:  # one that is dead says nothing
            lost.note(UNLIMITED_MEMORY)

    def run(self, message: bytes) -> Outcome[Any]:
        """Run one job; afterwards `is_usable` says whether the child can take another."""
        deadline = _Deadline(self._limits.seconds, self._popen.kill)
        given, processor_s = [], self._limits.processor_s
        reply = self._asked(message)
        while isinstance(reply, Reply) and reply.ended in (Ended.GIVEN, Ended.ALLOWED):
            if reply.ended is Ended.GIVEN:
                given.append(reply.value)
            else:
                processor_s = reply.value
            reply = self._heard()
        outcome = self._judged(reply, processor_s, is_late=deadline.stopped())
        return outcome if isinstance(outcome, Done) else replace(outcome, given=tuple(given))

    def _asked(self, message: bytes) -> Any:
        """Send a message and wait for the answer; None when the child is gone."""
        if self._popen.stdin is None:
            return None
        try:
            send(self._popen.stdin, message)
        except (OSError, ValueError):  # ValueError: the pipe was closed by `end` meanwhile
            return None
        return self._heard()

    def _heard(self) -> Any:
        """Wait for what the child says next; None when it is gone."""
        if self._popen.stdout is None:
            return None
        try:
            answer = receive(self._popen.stdout)
        except (OSError, ValueError):
            return None
        return None if answer is None else pickle.loads(answer)  # noqa: S301  from our own child

    def _judged(self, reply: Any, processor_s: float, *, is_late: bool) -> Outcome[Any]:
        self.is_usable = isinstance(reply, Reply) and not is_late and not reply.is_worn and reply.ended is not Ended.NO_MEMORY
        if is_late:
            return TooLong(self._limits.seconds)
        if not isinstance(reply, Reply):
            says, by = _death(self._popen)
            return TooLong(processor_s) if by == OUT_OF_TIME else Crashed(says)
        match reply.ended:
            case Ended.RESULT:
                return Done(reply.value)
            case Ended.NO_MEMORY:
                return TooBig(self._limits.memory_mb)
            case Ended.RAISED:
                return Crashed(reply.says, reply.details)
        return Crashed("its answer was not understood")

    def end(self) -> None:
        """End the process now and wait for it, so that no zombie stays."""
        self._popen.kill()
        with contextlib.suppress(subprocess.TimeoutExpired):
            self._popen.wait(timeout=_DEATH_S)
        for stream in (self._popen.stdin, self._popen.stdout):
            if stream is not None:
                with contextlib.suppress(OSError):
                    stream.close()


def _environment() -> dict[str, str]:
    """Give the child our module path, and one thread: the children are the parallel part."""
    path = os.pathsep.join(entry or str(Path.cwd()) for entry in sys.path)
    one_thread = {"OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1", "MALLOC_ARENA_MAX": "2"}
    return {**os.environ, "PYTHONPATH": path, **one_thread}


def _death(popen: subprocess.Popen[bytes]) -> tuple[str, str | None]:
    """Say how the process ended, in one line, and name the signal that ended it, if one did."""
    try:
        code = popen.wait(timeout=_DEATH_S)
    except subprocess.TimeoutExpired:
        return "its process stopped answering", None
    name = ended_by(code)
    if name is None:
        return f"its process ended with code {code}", None
    hint = "; the machine may have run out of memory" if name == "SIGKILL" else ""
    return f"its process was ended by {name}{hint}", name
