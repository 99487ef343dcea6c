"""The files of a part that a list tells of: what it says is filled in, what only a person knows says TODO."""

from collections.abc import Mapping, Sequence

from generator.records.approvals import NEWEST_FORMAT
from generator.writing.comments import comments
from generator.writing.new_part import screening
from generator.writing.yaml_text import Value, mapping_lines

TODO = "TODO"
SECTIONS = ("Tools", "Steps", "Cautions", "Check after fitting")
# What is wanted where the list says nothing; see `new_part.py`.
_WANTED = {
    "revision": "the letter on the label and the drawing",
    "purpose": "what it does on the vehicle, in a sentence",
    "fleet": "as in fleets.yml",
    "vehicles": 'such as ["401-412"]; take the line out where it fits every vehicle of the fleet',
    "place": "a place of that fleet, see fleets.yml",
    "per_vehicle": "how many there are on one vehicle",
    "safety_role": "none, or safety if it carries or affects a safety function",
    "material": "as in materials/",
    "because": "bought, drawing only or scan to come",
    "makers": "who can print it, such as [bench]; see makers.yml",
    "orientation": "how it stands on the plate, such as flat, hook side up",
    "on_shelf": "how many lie there",
    "route": "customer, or authority: a part with a safety role goes to the authority",
}


def part_text(record: Mapping[str, Value], *, said: Sequence[str] = (), besides: Sequence[str] = (), measured: str = "") -> str:
    """part.yml. said: sizes that no key can hold. besides: what other columns say. measured: one line about the model."""
    lines = ["# Replace every TODO. `spares check` lists what is still open, with its line."]
    lines += [f"# {measured}"] if measured else []
    lines += [f"# The list says: {', '.join(said)}."] if said else []
    lines += [f"# In the list besides: {each}" for each in besides]
    return "\n".join([*lines, *_with_wanted(mapping_lines(record))]) + "\n"


def approval_text(route: str | None, event: Mapping[str, Value] | None, *, said: Sequence[str] = ()) -> str:
    """approval.yml: nothing has happened in it, or one letter was taken over; a way that nobody can date is not made up.
    said: what the list says of an approval that is not taken over, below a line of its own; it stays text that counts for nothing.
    """
    events = mapping_lines({"events": [event]}) if event else ["events: []"]
    head = _with_wanted(mapping_lines({"format": NEWEST_FORMAT, "route": route or TODO}))
    why = "# What happened, oldest first. Only add at the end, best with `spares record` and `spares take-over`."
    kept = [f"# {said[0]}", *(f"#   {line}" for line in said[1:])] if said else []
    return "\n".join([*head, *kept, why, *events]) + "\n" + screening(comments())


def fitting_text(number: str) -> str:
    sections = "\n\n".join(f"## {name}" for name in SECTIONS)
    return f"# Fitting {number}\n\n{sections}\n"


def _with_wanted(lines: Sequence[str]) -> list[str]:
    """Beside each TODO what is wanted there."""
    found = []
    for line in lines:
        key, colon, value = line.partition(": ")
        wanted = _WANTED.get(key.strip(" -")) if colon and value == TODO else None
        found.append(f"{line:<24}  # {wanted}" if wanted else line)
    return found
