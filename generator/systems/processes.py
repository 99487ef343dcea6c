"""How processes start, end and are asked after on each system."""

import os
import signal
import subprocess
from typing import Any, Final

from generator import systems
from generator.systems import System

HELD_BACK: Final = (signal.SIGINT, signal.SIGTERM)
"""What asks a command to end and can wait; every system has these two by name."""


def apart() -> dict[str, Any]:
    """Settings of Popen for a child that Ctrl-C does not reach: the parent hears it, and ends the child."""
    if systems.SYSTEM is System.WINDOWS:
        return {"creationflags": getattr(subprocess, "CREATE_NEW_PROCESS_GROUP", 0)}
    return {"process_group": 0}


def unasking() -> dict[str, Any]:
    """Settings of `run` for a program that can ask nobody at a terminal."""
    if systems.SYSTEM is System.WINDOWS:
        return {"creationflags": getattr(subprocess, "CREATE_NO_WINDOW", 0)}
    return {"start_new_session": True}


def ended_by(code: int) -> str | None:
    """The name of the signal that ended a process, by its exit code; None where none did."""
    if code >= 0:
        return None
    try:
        return signal.Signals(-code).name
    except ValueError:
        return f"signal {-code}"


def lives(process: int) -> bool | None:
    """Whether another process of that number lives; None where that cannot be told."""
    if process == os.getpid():
        return False
    if systems.SYSTEM is System.WINDOWS:  # os.kill would end it there, whatever the signal
        return None
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    except (OSError, OverflowError):
        return True
    return True
