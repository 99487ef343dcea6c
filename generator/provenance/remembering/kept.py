"""What was remembered of the records, as a file: in the store, and in every site that is built."""

import hashlib
import json
import os
import tempfile
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path
from typing import Any

from filelock import FileLock, Timeout

from generator.records.problems import Problem, doubt
from generator.rules.past import Past, PastEvent, further
from generator.rules.past_produced import further_of, is_produced
from generator.systems import renaming

FILE = "remembered.json"
"""Its name in a site."""
_PATIENCE_S = 20.0


class UnreadableError(Exception):
    """The file is there and cannot be read as what was remembered."""


def memory_file(store: Path, root: Path) -> Path:
    """Where a store remembers the records of the catalogue in `root`; not among what is pruned."""
    name = hashlib.sha256(os.fsencode(root.resolve())).hexdigest()[:32]
    return store / "memory" / f"{name}.json"


def remembered(file: Path) -> dict[str, Past]:
    """What the file holds, by the number of the part or the file of a record of production; nothing where there is none. Raises UnreadableError."""
    try:
        content = json.loads(file.read_bytes())
        return {number: past_in(plain) for number, plain in content["records"].items()}
    except FileNotFoundError:
        return {}
    except (OSError, ValueError, KeyError, TypeError, AttributeError) as error:
        raise UnreadableError from error


def as_bytes(records: Mapping[str, Past]) -> bytes:
    """The file's content: plain JSON, the same for the same records."""
    plain = {number: as_plain(past) for number, past in sorted(records.items())}
    return (json.dumps({"records": plain}, ensure_ascii=False, indent=0, sort_keys=True) + "\n").encode("utf-8")


def remember(file: Path, records: Mapping[str, Past]) -> Problem | None:
    """Add to the file what it does not know yet; what it knows stays. Where that cannot be, says why."""
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        with FileLock(file.with_suffix(".lock"), timeout=_PATIENCE_S):
            _add(file, records)
    except (OSError, Timeout) as error:
        reason = (getattr(error, "strerror", None) or type(error).__name__).lower()
        return doubt("PAST07", "unwritten", file=file.as_posix(), reason=reason)
    return None


def _add(file: Path, records: Mapping[str, Past]) -> None:
    try:
        before = remembered(file)
    except UnreadableError:
        before = {}
    # Another command may have remembered more since the records were read.
    after = before | {name: further_of_any(name, before.get(name), past) for name, past in records.items()}
    content = as_bytes(after)
    if file.exists() and file.read_bytes() == content:
        return
    replaced(file, content)


def further_of_any(name: str, before: Past | None, now: Past) -> Past:
    """What is remembered from now on of a part's record, by its number, or of one of production, by its file."""
    return further_of(name, before, now) if is_produced(name) else further(before, now)


def replaced(file: Path, content: bytes) -> None:
    """The file holds `content`, all of it or what it held before. Raises OSError."""
    handle, fresh = tempfile.mkstemp(prefix=".new-", dir=file.parent)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(content)
        Path(fresh).chmod(0o644)  # mkstemp keeps others out, but a person may look
        renaming.replaced(Path(fresh), file)
    finally:
        with suppress(FileNotFoundError):
            Path(fresh).unlink()


def as_plain(past: Past) -> dict[str, Any]:
    """One record as JSON holds it."""
    return {"keys": dict(past.keys), "events": [list(event) for event in past.events]}



def past_in(plain: Any) -> Past:
    """The same back. Raises KeyError, TypeError or ValueError for what is none."""
    keys, events = plain["keys"], plain["events"]
    if not all(isinstance(text, str) for event in events for text in event):
        raise ValueError("an event is texts")
    return Past({str(key): str(value) for key, value in keys.items()}, tuple(PastEvent(*event) for event in events))
