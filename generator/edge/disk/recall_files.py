"""A recall is written as a file of its own; its lifting behind what stands there."""

import re
from pathlib import Path

from generator.edge.disk import done
from generator.edge.disk.atomic import ChangedMeanwhileError, created_whole, exchanged_whole, tidied
from generator.edge.disk.unbroken import unbroken
from generator.edge.refusals import disk_refusal, refused
from generator.reading.validating import record
from generator.reading.yaml_places import read_yaml
from generator.records.recalls import CalledBack, Lifted, Recall
from generator.writing.appending import CannotAppendError, with_entry
from generator.writing.yaml_text import Value, mapping_lines

FOLDER = "recalls"
_NUMBER = re.compile(r"(?<![A-Za-z0-9])RC-([0-9]{1,8})(?![0-9])", re.IGNORECASE)


def next_number(root: Path) -> str:
    """One more than the highest that any file there, below it or one folder too high bears, whether it can be read or not."""
    try:
        names = [each.name for each in (*(root / FOLDER).rglob("*"), *root.iterdir())]
    except OSError as error:
        raise disk_refusal(error, "reading", root / FOLDER) from error
    return f"RC-{1 + max((int(found[1]) for name in names if (found := _NUMBER.search(name))), default=0):04}"


def text_of(recall: Recall) -> str:
    plain: dict[str, Value] = {key: value for key in ("lot", "batch", "part", "revision") if (value := getattr(recall, key))}
    return "\n".join(mapping_lines({**plain, "events": [event_of(each) for each in recall.events]})) + "\n"


def event_of(event: CalledBack | Lifted) -> dict[str, Value]:
    """As it stands in a record."""
    plain: dict[str, Value] = {"what": event.what, "on": event.on.isoformat(), "by": event.by, "why": event.why}
    return plain | ({"reference": event.reference} if event.reference else {})


def write_recall(name: str, recall: Recall, root: Path) -> Path:
    """A new file. Raises Refusal."""
    file = root / FOLDER / f"{name}.yml"
    try:
        with unbroken():
            (root / FOLDER).mkdir(exist_ok=True)
            tidied(root / FOLDER)
            created_whole(file, text_of(recall).encode("utf-8"))
            done.wrote(f"{file} is written")
    except OSError as error:
        raise disk_refusal(error, "writing", file) from error
    return file


def append_lifting(name: str, lifted: Lifted, root: Path) -> Path:
    """The event behind the last one. Raises Refusal where the file cannot be added to by machine."""
    file = root / FOLDER / f"{name}.yml"
    try:
        before = file.read_bytes()
        content = with_entry(before, "events", event_of(lifted)).content
        found = record(Recall, read_yaml(file.name, content))
        if found is None or found.events[-1] != lifted:
            raise refused("recall_form", file=str(file))
        with unbroken():
            exchanged_whole(file, before, content)
            done.wrote(f"{file} is written")
    except CannotAppendError as error:
        raise refused("recall_form", file=str(file)) from error
    except ChangedMeanwhileError as error:
        raise refused("changed", file=str(file)) from error
    except OSError as error:
        raise disk_refusal(error, "writing", file) from error
    return file
