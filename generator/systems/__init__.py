"""What systems do each in their own way. Nothing else in the program asks on which one it runs.

| what                            | Linux             | macOS              | Windows                  | lost where it is not there                |
|---------------------------------|-------------------|--------------------|--------------------------|-------------------------------------------|
| memory limit of a child         | RLIMIT_AS         | taken and ignored  | none                     | a huge mesh may fill memory: said once    |
| processor limit of an orphan    | RLIMIT_CPU        | RLIMIT_CPU         | none                     | the pipe's end ends it, unless one call   |
|                                 |                   |                    |                          | holds the interpreter                     |
| time limit of a child           | a timer of the parent, on every system; no signal is needed                                              |
| Ctrl-C reaches the parent alone | process group     | process group      | CREATE_NEW_PROCESS_GROUP | nothing                                   |
| no question at a terminal       | session (setsid)  | session            | CREATE_NO_WINDOW         | nothing                                   |
| ends that wait for a whole step | SIGINT, SIGTERM   | SIGINT, SIGTERM    | SIGINT                   | a hard end leaves what the next one tidies |
| two names change hands          | renameat2         | renamex_np         | none                     | for an instant no folder has the name     |
| a file held open by a program   | may be replaced   | may be replaced    | PermissionError          | three seconds of tries, then a plain word |
| does a process live             | kill(pid, 0)      | kill(pid, 0)       | not asked                | what is left goes when a day old          |
| lock of one writer              | flock             | flock              | LockFile                 | nothing: the package filelock knows both  |
| free memory                     | /proc, cgroups    | half of what is in | not told                 | two children at most                      |
| the user's settings             | XDG_CONFIG_HOME   | Application Support| APPDATA                  | nothing                                   |

processes.py: children and their ends; limits.py: what a child may use; renaming.py: names that change hands; capacity.py:
cores and memory; folders.py: where a user's settings lie. Alike on every system: store.py, what was made before; own_site.py,
what spares brings along. Names that Windows forbids are a matter of records, on every system alike: `records/file_names.py`.
"""

import sys
from enum import Enum
from typing import Final


class System(Enum):
    """The kinds of systems that differ here; a BSD is taken for one that has the usual POSIX calls and no more."""

    LINUX = "linux"
    MACOS = "darwin"
    WINDOWS = "win32"
    OTHER = "other"


def _named(platform: str) -> System:
    return next((each for each in System if platform.startswith(each.value)), System.OTHER)


SYSTEM: Final = _named(sys.platform)
