"""What a record said in a commit, and the files that keep such states, so that git is not asked twice."""

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from generator.provenance.remembering.kept import as_plain, past_in, replaced
from generator.rules.past import Past


@dataclass(frozen=True, slots=True)
class State:
    """What a record said in a commit."""

    folder: str
    """Of a part; of a record of production the name that it is remembered by (rules/past_produced.py)."""
    commit: str
    day: str
    past: Past


def plain_of(state: State) -> list[Any]:
    return [state.folder, state.commit, state.day, as_plain(state.past)]


def state_in(plain: Any) -> State:
    """The same back. Raises KeyError, TypeError or ValueError for what is none."""
    folder, commit, day, past = plain
    return State(str(folder), str(commit), str(day), past_in(past))


def kept_in(file: Path) -> dict[str, Any]:
    try:
        found = json.loads(file.read_bytes())
    except (OSError, ValueError):
        return {}
    return found if isinstance(found, dict) else {}


def keep(file: Path, content: object) -> None:
    """Without it git is asked again, and nothing is lost."""
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        replaced(file, json.dumps(content, ensure_ascii=False).encode("utf-8", "surrogateescape"))
    except OSError:
        pass
