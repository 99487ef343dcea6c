"""The files of a new part's folder: what is known is filled in, what only a person knows says TODO."""

import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from generator.records.approvals import NEWEST_FORMAT
from generator.records.requests import Request
from generator.writing.yaml_text import Value, mapping_lines, quoted, scalar

TODO = "TODO"


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """The request that a part answers, with its number. What it says is anybody's text, and only ever a quoted value."""

    name: str
    request: Request

    @property
    def yearly_demand(self) -> float:
        """What everybody together asks for."""
        return self.request.yearly_demand + sum(each.yearly_demand for each in self.request.also_wanted)

    @property
    def sizes_mm(self) -> list[float]:
        return sorted(set(self.request.sizes_mm), reverse=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """What is known of a new part; None is left to a person."""

    number: str
    name: str
    mesh_units: str | None
    """None where the file carries its own unit."""
    measured: str
    """One line about the model, such as its size."""
    on: date
    no_model: str | None = None
    """Why there is no model, where there is none."""
    size_by_hand: tuple[float, float, float] | None = None
    fleet: str | None = None
    vehicles: tuple[str, ...] = ()
    place: str | None = None
    per_vehicle: int | None = None
    material: str | None = None
    makers: tuple[str, ...] = ()
    by: str | None = None
    fleets: tuple[str, ...] = ()
    """What there is to choose from, as are the next three."""
    places: tuple[str, ...] = ()
    materials: tuple[str, ...] = ()
    roles: tuple[str, ...] = ()
    asked: Asked | None = None


# Letters of our languages that have no plain one inside.
_SPELT = str.maketrans({"ß": "ss", "ø": "o", "Ø": "O", "æ": "ae", "Æ": "Ae", "đ": "d", "ł": "l", "Ł": "L"})


def folder_name(number: str, name: str) -> str:
    """'TV-0417', 'Window-latch knob' → 'TV-0417-window-latch-knob'; a name without Latin letters adds nothing."""
    plain = unicodedata.normalize("NFKD", name.translate(_SPELT)).encode("ascii", "ignore").decode()
    slug = "-".join(re.findall(r"[a-z0-9]+", plain.lower()))[:60].strip("-")
    return f"{number}-{slug}" if slug else number


def new_part_files(draft: Draft) -> dict[str, str]:
    """part.yml, approval.yml and fitting.md by name."""
    return {"part.yml": _part(draft), "approval.yml": _approval(draft), "fitting.md": _fitting(draft)}


def _part(draft: Draft) -> str:
    request = draft.asked.request if draft.asked else None
    lines = [
        "# Replace every TODO. `spares check` lists what is still open, with its line.",
        *([f"# {draft.measured}"] if draft.measured else []),
        f"number: {scalar(draft.number)}",
        "revision: A",
        f"name: {scalar(draft.name)}",
        *(_known("other_names", list(request.words) if request else []) or ["# other_names: [what the fitters call it, another name]"]),
        *(_known("purpose", request.what_it_does) if request else [_line("purpose: ", None, "what it does on the vehicle, in a sentence")]),
        *_symptoms(draft.asked),
        *_replaces(request),
        "fits:",
        _line("  - fleet: ", draft.fleet, _one_of(draft.fleets)),
        *([f"    vehicles: [{', '.join(map(quoted, draft.vehicles))}]"] if draft.vehicles else []),
        _line("    place: ", draft.place, _one_of(draft.places) or "a place of that fleet, see fleets.yml"),
        _line("    per_vehicle: ", draft.per_vehicle, "how many there are on one vehicle"),
        _line("safety_role: ", None, "none, or safety if it carries or affects a safety function"),
        _line("material: ", draft.material, _one_of(draft.materials)),
        *(_without_model(draft) if draft.no_model else _made(draft)),
        "# Without these two the verdict stays 'Do not fit' or a wrong size is not noticed:",
        *FIRE_AND_CHECKS,
        *_sizes(draft.asked),
        f"yearly_demand: {draft.asked.yearly_demand:g}" if draft.asked else "# yearly_demand: 4",
    ]
    return "\n".join(lines) + "\n"


FIRE_AND_CHECKS = (
    "# fire:",
    "#   requirement_set: R22",
    "#   thinnest_wall_mm: 2.0",
    "#   chosen_by: fire-engineer",
    "#   reason: why this set, for this place",
    "# checks:",
    "#   - name: Bore",
    "#     nominal_mm: 6.0",
    "#     plus_mm: 0.1",
    "#     minus_mm: 0.0",
)


def _made(draft: Draft) -> list[str]:
    makers = f"[{', '.join(draft.makers)}]" if draft.makers else None
    return [
        _line("makers: ", makers, "who can print it, such as [bench]; see makers.yml"),
        "settings:",
        _line("  orientation: ", None, "how it stands on the plate, such as flat, hook side up"),
        "  # layer_mm: 0.2",
        "  # infill_percent: 100",
        *([f"mesh_units: {draft.mesh_units}"] if draft.mesh_units else []),
    ]


def _without_model(draft: Draft) -> list[str]:
    size = draft.size_by_hand
    return [
        "no_model:",
        f"  because: {draft.no_model}",
        f"  size_mm: [{', '.join(f'{side:g}' for side in size)}]" if size else "  # size_mm: [62, 40, 18]   # by hand: length, width, height",
        "  # buy_at: central stores, 40.1187   # where one gets it, and under which number",
    ]


def _known(key: str, value: Value) -> list[str]:
    return mapping_lines({key: value}) if value else []


def _symptoms(asked: Asked | None) -> list[str]:
    """A request tells what stops without the part, not how the old one fails: that is asked for."""
    if asked is None:
        return ["# symptoms:", "#   - how the old part fails, as a fitter says it"]
    stops = scalar(f"TODO: how the old part fails; {asked.name} says what stops without it: {asked.request.stops_without}"[:200])
    return ["symptoms:", f"  - {stops}"]


def _replaces(request: Request | None) -> list[str]:
    """Nobody has said whose numbers those of a request are."""
    if request is None or not request.numbers:
        return ["# replaces:", '#   - number: "12.3456-7"', "#     kind: old number          # or maker's number, drawing number, stores number"]
    kind = "    kind: old number          # or maker's number, drawing number, stores number"
    return ["replaces:", *(line for each in dict.fromkeys(request.numbers) for line in (f"  - number: {quoted(each)}", kind))]


def _sizes(asked: Asked | None) -> list[str]:
    """What somebody measured on the old part: found by it, once somebody says what each is."""
    if asked is None or not asked.sizes_mm:
        return []
    lines = [f"# As measured on the old part, see {asked.name}. Say what each is, such as bore, length, thickness; or take it out:", "features:"]
    for size in asked.sizes_mm:
        lines += ["  - feature: TODO", f"    name: Measured on the old part {size:g} mm", f"    size: {size:g}"]
    return lines


def _line(key: str, value: str | int | None, wanted: str) -> str:
    """A key with its value, or with TODO and what is wanted there."""
    if value is not None:
        return f"{key}{value}"
    return f"{key + TODO:<24}  # {wanted}" if wanted else f"{key}{TODO}"


def _one_of(choices: Iterable[str]) -> str:
    listed = list(choices)
    return f"one of: {', '.join(listed)}" if listed else ""


SCREENING = """
# Screening of the change, an aid only: what people answered, each with role and day. Whether the change is significant
# is judged by the entity that manages it, never by this catalogue. Until all is answered and judged: Ask first.
# screening:
#   identical_function:        # Regulation (EU) 2018/545 Art. 16(1)
#     answer: "yes"
#     reason: turns the same latch by the same angle
#     by: design-engineer
#     on: 2026-01-31
#   failure_consequence:       # Regulation (EU) 402/2013 Art. 4(2)(a); likewise novelty (b), complexity (c),
#     answer: what happens     # monitoring (d), reversibility (e), additionality (f)
#     by: safety-manager
#     on: 2026-01-31
#   judged_significant: "no"   # the proposer's own judgement; "yes" needs a safety assessment report
#   judged_by: keeper
#   judged_on: 2026-02-02
# Where 'law' in depot.yml asks questions of its own, they are answered under own_answers, each by its id.
"""


def _approval(draft: Draft) -> str:
    return (
        f"format: {NEWEST_FORMAT}\n"
        f"{_line('route: ', None, 'customer, or authority: a part with a safety role goes to the authority')}\n"
        "# What happened, oldest first. Only add at the end, best with `spares record` and `spares approve`:\n"
        "# stage, waiting time and verdict are worked out from it.\n"
        "events:\n"
        f"  - on: {draft.on.isoformat()}\n"
        "    what: design started\n"
        f"{_line('    by: ', draft.by, _one_of(draft.roles))}\n"
        f"{SCREENING}"
    )


def _fitting(draft: Draft) -> str:
    sections = "\n\n".join(f"## {name}" for name in ("Tools", "Steps", "Cautions", "Check after fitting"))
    return f"# Fitting {draft.number} {draft.name}\n\n{sections}\n"
