"""The files of a part that a list tells of: what it says is filled in, what only a person knows says TODO."""

from collections.abc import Mapping, Sequence

from generator.records.approvals import NEWEST_FORMAT
from generator.writing.comments import Comments
from generator.writing.new_part import screening
from generator.writing.yaml_text import Value, mapping_lines

TODO = "TODO"


def part_text(record: Mapping[str, Value], says: Comments, *, sizes: Sequence[str] = (), besides: Sequence[str] = (), measured: str = "") -> str:
    """part.yml. sizes: those that no key can hold. besides: what other columns say. measured: the size of the model, in mm."""
    lines = [f"# {says.replace}"]
    lines += [f"# {says.model_measures.format(size=measured)}"] if measured else []
    lines += [f"# {says.list_says.format(sizes=', '.join(sizes))}"] if sizes else []
    lines += [f"# {says.list_besides.format(said=each)}" for each in besides]
    return "\n".join([*lines, *_with_wanted(mapping_lines(record), says)]) + "\n"


def approval_text(route: str | None, event: Mapping[str, Value] | None, says: Comments, *, said: Sequence[str] = ()) -> str:
    """approval.yml: nothing has happened in it, or one letter was taken over; a way that nobody can date is not made up.
    said: what the list says of an approval that is not taken over, below a line of its own; it stays text that counts for nothing.
    """
    events = mapping_lines({"events": [event]}) if event else ["events: []"]
    head = _with_wanted(mapping_lines({"format": NEWEST_FORMAT, "route": route or TODO}), says)
    kept = [f"# {said[0]}", *(f"#   {line}" for line in said[1:])] if said else []
    return "\n".join([*head, *kept, f"# {says.only_add}", *events]) + "\n" + screening(says)


def fitting_text(number: str, says: Comments, sections: Sequence[str]) -> str:
    return f"# {says.fitting} {number}\n\n" + "\n\n".join(f"## {name}" for name in sections) + "\n"


def _with_wanted(lines: Sequence[str], says: Comments) -> list[str]:
    """Beside each TODO what is wanted there."""
    found = []
    for line in lines:
        key, colon, value = line.partition(": ")
        wanted = getattr(says, key.strip(" -"), None) if colon and value == TODO else None
        found.append(f"{line:<24}  # {wanted}" if isinstance(wanted, str) else line)
    return found
