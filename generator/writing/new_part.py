"""The files of a new part's folder: what is known is filled in, what only a person knows says TODO."""

import re
import unicodedata
from dataclasses import dataclass
from datetime import date
from math import floor

from generator.records.approvals import NEWEST_FORMAT
from generator.records.depot import Language
from generator.records.fitting import headings
from generator.records.requests import Request
from generator.writing.comments import Comments, comments
from generator.writing.yaml_text import Value, mapping_lines, quoted, scalar

TODO = "TODO"


@dataclass(frozen=True, slots=True, kw_only=True)
class AnsweredRequest:
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
class ProposedCheck:
    """A check that a person may keep; its name in the depot's language."""

    name: str
    nominal_mm: float
    plus_mm: float
    minus_mm: float
    feature: str
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Suggested:
    """Settings that the model suggests; None where it suggests none."""

    nominal_mm: float | None
    """Its usual wall."""
    thinnest_mm: float | None
    up: str | None
    """The axis of its best pose."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NewPart:
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
    asked: AnsweredRequest | None = None
    proposed: tuple[ProposedCheck, ...] = ()
    """Checks that the model suggests."""
    tolerance: str = ""
    """Of the proposed checks."""
    suggested: Suggested | None = None
    language: Language = Language.ENGLISH

    @property
    def says(self) -> Comments:
        """What stands beside the records, in the depot's language."""
        return comments(self.language)


# Letters of our languages that have no plain one inside.
_SPELT = str.maketrans({"ß": "ss", "ø": "o", "Ø": "O", "æ": "ae", "Æ": "Ae", "đ": "d", "ł": "l", "Ł": "L"})


def folder_name(number: str, name: str) -> str:
    """'TV-0417', 'Window-latch knob' → 'TV-0417-window-latch-knob'; a name without Latin letters adds nothing."""
    plain = unicodedata.normalize("NFKD", name.translate(_SPELT)).encode("ascii", "ignore").decode()
    slug = "-".join(re.findall(r"[a-z0-9]+", plain.lower()))[:60].strip("-")
    return f"{number}-{slug}" if slug else number


def new_part_files(draft: NewPart) -> dict[str, str]:
    """part.yml, approval.yml and fitting.md by name."""
    return {"part.yml": _part(draft), "approval.yml": _approval(draft), "fitting.md": _fitting(draft)}


def _part(draft: NewPart) -> str:
    request, says = draft.asked.request if draft.asked else None, draft.says
    lines = [
        f"# {says.replace}",
        *([f"# {draft.measured}"] if draft.measured else []),
        f"number: {scalar(draft.number)}",
        "revision: A",
        f"name: {scalar(draft.name)}",
        *(_known("other_names", list(request.words) if request else []) or [f"# other_names: [{says.other_names}]"]),
        *(_known("purpose", request.what_it_does) if request else [_line("purpose: ", None, says.purpose)]),
        *_symptoms(draft.asked, says),
        *_replaces(request, says),
        "fits:",
        _line("  - fleet: ", draft.fleet, says.choice(draft.fleets)),
        *([f"    vehicles: [{', '.join(map(quoted, draft.vehicles))}]"] if draft.vehicles else []),
        _line("    place: ", draft.place, says.choice(draft.places) or says.place),
        _line("    per_vehicle: ", draft.per_vehicle, says.per_vehicle),
        _line("safety_role: ", None, says.safety_role),
        _line("material: ", draft.material, says.choice(draft.materials)),
        *(_without_model(draft) if draft.no_model else _made(draft)),
        f"# {says.without_these}",
        *_fire(draft),
        *_checks(draft),
        *_sizes(draft.asked, says),
        f"yearly_demand: {draft.asked.yearly_demand:g}" if draft.asked else "# yearly_demand: 4",
    ]
    return "\n".join(lines) + "\n"


def _fire(draft: NewPart) -> tuple[str, ...]:
    thinnest = draft.suggested.thinnest_mm if draft.suggested else None
    return (
        "# fire:",
        "#   requirement_set: R22",
        f"#   thinnest_wall_mm: {2.0 if thinnest is None else _down(thinnest)}",
        "#   chosen_by: fire-engineer",
        f"#   reason: {draft.says.fire_reason}",
    )


def _down(length_mm: float) -> float:
    """To a tenth below: what is typed of a wall is never more than there is."""
    return max(0.1, floor(length_mm * 10 + 1e-6) / 10)


def _checks(draft: NewPart) -> list[str]:
    """What the model proposes, as comments: nobody has said yet that the part lives by it. Nothing is made up."""
    says = draft.says
    if not draft.proposed:
        return [f"# checks:                  # {says.checks}"]
    lines = [f"# {says.proposed.format(tolerance=draft.tolerance)}", "# checks:"]
    for each in draft.proposed:
        count = f"   # {says.proposed_count.format(count=each.count)}" if each.count > 1 else ""
        lines += [
            f"#   - name: {each.name}{count}",
            f"#     nominal_mm: {each.nominal_mm}",
            f"#     plus_mm: {each.plus_mm}",
            f"#     minus_mm: {each.minus_mm}",
            f"#     feature: {each.feature}",
        ]
    return lines


def _made(draft: NewPart) -> list[str]:
    makers = f"[{', '.join(draft.makers)}]" if draft.makers else None
    return [
        _line("makers: ", makers, draft.says.makers),
        "settings:",
        _line("  orientation: ", None, draft.says.orientation),
        *_settings(draft),
        *([f"mesh_units: {draft.mesh_units}"] if draft.mesh_units else []),
    ]


def _settings(draft: NewPart) -> list[str]:
    suggested, says = draft.suggested, draft.says
    nominal, up = (suggested.nominal_mm, suggested.up) if suggested else (None, None)
    return [
        *([f"  # up: {quoted(up):<18}   # {says.up}"] if up else []),
        "  # layer_mm: 0.2",
        *([f"  # wall_mm: {_down(nominal / 2)}   # {says.wall.format(nominal=f'{nominal:g}')}"] if nominal else []),
        "  # infill_percent: 100",
        *(f"  # {line:<40} # {wanted}" for line, wanted in says.ordered),
    ]


def _without_model(draft: NewPart) -> list[str]:
    size = draft.size_by_hand
    return [
        "no_model:",
        f"  because: {draft.no_model}",
        f"  size_mm: [{', '.join(f'{side:g}' for side in size)}]" if size else f"  # size_mm: [62, 40, 18]   # {draft.says.by_hand}",
        f"  # buy_at: {draft.says.buy_at}   # {draft.says.buy_where}",
    ]


def _known(key: str, value: Value) -> list[str]:
    return mapping_lines({key: value}) if value else []


def _symptoms(asked: AnsweredRequest | None, says: Comments) -> list[str]:
    """A request tells what stops without the part, not how the old one fails: that is asked for."""
    if asked is None:
        return ["# symptoms:", f"#   - {says.symptoms}"]
    stops = scalar(f"TODO: {says.stops.format(request=asked.name, stops=asked.request.stops_without)}"[:200])
    return ["symptoms:", f"  - {stops}"]


def _replaces(request: Request | None, says: Comments) -> list[str]:
    """Nobody has said whose numbers those of a request are."""
    if request is None or not request.numbers:
        return ["# replaces:", '#   - number: "12.3456-7"', f"#     kind: old number          # {says.number_kind}"]
    kind = f"    kind: old number          # {says.number_kind}"
    return ["replaces:", *(line for each in dict.fromkeys(request.numbers) for line in (f"  - number: {quoted(each)}", kind))]


def _sizes(asked: AnsweredRequest | None, says: Comments) -> list[str]:
    """What somebody measured on the old part: found by it, once somebody says what each is."""
    if asked is None or not asked.sizes_mm:
        return []
    lines = [f"# {says.measured.format(request=asked.name)}", "features:"]
    for size in asked.sizes_mm:
        lines += ["  - feature: TODO", f"    name: {says.feature.format(size=f'{size:g}')}", f"    size: {size:g}"]
    return lines


def _line(key: str, value: str | int | None, wanted: str) -> str:
    """A key with its value, or with TODO and what is wanted there."""
    if value is not None:
        return f"{key}{value}"
    return f"{key + TODO:<24}  # {wanted}" if wanted else f"{key}{TODO}"


def screening(says: Comments) -> str:
    """The questions of the screening, all as comments."""
    aid, own = "\n".join(f"# {line}" for line in says.screening), says.own_answers
    return f"""
{aid}
# screening:
#   identical_function:        # {says.regulation} (EU) 2018/545 Art. 16(1)
#     answer: "yes"
#     reason: {says.identical_reason}
#     by: design-engineer
#     on: 2026-01-31
#   failure_consequence:       # {says.regulation} (EU) 402/2013 Art. 4(2)(a); {says.likewise[0]}
#     answer: {says.happens:<19}# {says.likewise[1]}
#     by: safety-manager
#     on: 2026-01-31
#   judged_significant: "no"   # {says.proposer}
#   judged_by: keeper
#   judged_on: 2026-02-02
# {own}
"""


def _approval(draft: NewPart) -> str:
    says, end = draft.says, "\n"
    return (
        f"format: {NEWEST_FORMAT}\n"
        f"{_line('route: ', None, says.route)}\n"
        f"{''.join(f'# {line}{end}' for line in says.events)}"
        "events:\n"
        f"  - on: {draft.on.isoformat()}\n"
        "    what: design started\n"
        f"{_line('    by: ', draft.by, says.choice(draft.roles))}\n"
        f"{screening(says)}"
    )


def _fitting(draft: NewPart) -> str:
    sections = "\n\n".join(f"## {name}" for name in headings(draft.language))
    return f"# {draft.says.fitting} {draft.number} {draft.name}\n\n{sections}\n"
