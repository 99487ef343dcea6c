"""What does a guarded child process do: take a job from its pipe, run it within limits, answer, repeat?"""

from __future__ import annotations

import os
import pickle
import queue
import struct
import threading
import time
import traceback
from dataclasses import dataclass
from enum import Enum, auto
from typing import IO, Any, Final

from generator.measuring import working
from generator.systems.limits import limit_memory

# This module and those are all that a child imports before its first job, so they stay small.

_LENGTH: Final = struct.Struct("<Q")


class Ended(Enum):
    """How a job ended inside the child, or what it tells on its way."""

    GIVEN = auto()
    ALLOWED = auto()
    RESULT = auto()
    RAISED = auto()
    NO_MEMORY = auto()


@dataclass(frozen=True, slots=True)
class Hello:
    """What the parent says first."""

    processor_s: float
    memory_mb: int


@dataclass(frozen=True, slots=True)
class Reply:
    """What the child answers to a job; is_worn: whether another child should have the next one."""

    ended: Ended
    value: Any = None
    says: str = ""
    details: str = ""
    is_worn: bool = False


def send(stream: IO[bytes], message: bytes) -> None:
    """Write one message; OSError when the other side is gone."""
    stream.write(_LENGTH.pack(len(message)) + message)
    stream.flush()


def receive(stream: IO[bytes]) -> bytes | None:
    """Read one message; None when the other side is gone, at once or in the middle."""
    head = stream.read(_LENGTH.size)
    if len(head) < _LENGTH.size:
        return None
    (length,) = _LENGTH.unpack(head)
    message = stream.read(length)
    return message if len(message) == length else None


def main() -> None:
    """Serve jobs until the parent is gone."""
    requests, replies = _private_pipes()
    waiting: queue.SimpleQueue[bytes] = queue.SimpleQueue()
    threading.Thread(target=_listen, args=(requests, waiting), daemon=True).start()
    hello: Hello = pickle.loads(waiting.get())  # noqa: S301  from our own parent
    send(replies, pickle.dumps(limit_memory(hello.memory_mb)))
    while True:
        message = waiting.get()
        running = _running(replies, hello)
        working.begin(running)
        send(replies, _answer(message, running))


def _running(replies: IO[bytes], hello: Hello) -> working.Running:
    def told(ended: Ended, value: object) -> None:
        send(replies, pickle.dumps(Reply(ended, value)))

    return working.Running(
        give=lambda value: told(Ended.GIVEN, value),
        allow=lambda seconds: told(Ended.ALLOWED, seconds),
        began_s=time.process_time(),
        processor_s=hello.processor_s,
        memory_mb=hello.memory_mb,
    )


def _private_pipes() -> tuple[IO[bytes], IO[bytes]]:
    """Keep the pipes for ourselves: libraries print, and a print into the pipe would be taken for a reply."""
    requests, replies = os.fdopen(os.dup(0), "rb"), os.fdopen(os.dup(1), "wb")
    nowhere = os.open(os.devnull, os.O_RDWR)
    for stream in (0, 1, 2):
        os.dup2(nowhere, stream)
    return requests, replies


def _listen(requests: IO[bytes], waiting: queue.SimpleQueue[bytes]) -> None:
    """Take messages in while a job runs, for only so is the parent's death noticed in the middle of one."""
    while (message := receive(requests)) is not None:
        waiting.put(message)
    os._exit(0)


def _answer(message: bytes, running: working.Running) -> bytes:
    try:
        function, job = pickle.loads(message)  # noqa: S301  from our own parent
        result = function(job)
        return pickle.dumps(Reply(Ended.RESULT, result, is_worn=running.is_worn))
    except MemoryError:
        return pickle.dumps(Reply(Ended.NO_MEMORY))
    except Exception as error:  # noqa: BLE001  the border of the process: whatever it was, it becomes a value
        says = f"{type(error).__name__}: {error}".splitlines()[0][:300]
        return pickle.dumps(Reply(Ended.RAISED, says=says, details=traceback.format_exc()))
