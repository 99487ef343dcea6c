"""Builds one part with any history in memory, and asks the package's rules for its verdicts."""

import json
from dataclasses import replace
from datetime import date
from functools import cache

from generator.reading.catalogue import read_catalogue
from generator.records.approvals import Approval, TakenOver
from generator.records.catalogue import Catalogue, KeptFile, PartFolder
from generator.records.environment import Environment
from generator.records.fitting import FittingNotes
from generator.records.parts import Fit, Part, SafetyRole
from generator.records.problems import Where
from generator.records.proof import Proof
from generator.records.vehicles import as_ranges, vehicles_in
from generator.rules.binding import approved_text
from generator.rules.canonical import fingerprint
from generator.rules.chain import own_fingerprint
from generator.rules.facts.case import Copy
from generator.rules.fingerprint import BoundBeside, canonical_text
from generator.rules.screening import SIX_QUESTIONS
from generator.rules.sheet import Sheet, sheet
from tests.fixtures.tiny import DEPOT, KNOB

FITS = (
    Fit(fleet="A1", place="cab", per_vehicle=2),
    Fit(fleet="A1", vehicles=("11-12",), place="door", per_vehicle=1),
    Fit(fleet="B2", place="bogie", per_vehicle=1),
)
EVIDENCE = {"file": "documents/approval-letter.txt", "sha256": "0" * 64}
_ANSWER = {"answer": "no", "by": "keeper", "on": "2025-06-01"}
SCREENED = {
    "identical_function": _ANSWER | {"reason": "it is another"},
    "change_case": {"case": "a", "reason": "no deviation", "by": "keeper", "on": "2025-06-01"},
    **dict.fromkeys(SIX_QUESTIONS, _ANSWER),
    "judged_significant": "no", "judged_by": "keeper", "judged_on": "2025-06-01",
}  # fmt: skip
_PAPER = {"file": "documents/authorisation.txt", "sha256": "1" * 64}
_NOTE = {"file": "documents/fire-note.txt", "sha256": "cc44af79512ac46ca2a040285c7766f395d18c10dae8cc01a7db237d7298774a"}
_AUTHORISED = {"reference": "A-1", "by": "authority", "on": "2025-06-01", "evidence": _PAPER}
GROUND = tuple(
    (fleet, place, vehicle)
    for fleet, places, vehicles in (
        ("A1", ("cab", "door"), (11, 12, 13, 14)),
        ("B2", ("cab", "bogie"), (21, 22)),
    )
    for place in places
    for vehicle in vehicles
)


@cache
def tiny() -> Catalogue:
    return read_catalogue(DEPOT)


@cache
def knob(safety: bool = False) -> Part:
    folder = tiny().folder(KNOB)
    assert folder is not None
    assert folder.part is not None
    role = SafetyRole.SAFETY if safety else SafetyRole.NONE
    return folder.part.model_copy(update={"fits": FITS, "safety_role": role})


@cache
def text_of(
    bound: tuple[str, ...], safety: bool, certificate_until: date | None, fire_until: date | None, proof: str = "kept"
) -> str:
    """The canonical text of number, revision, mesh and steps of the second judge, naming the papers that there are."""
    number, revision, mesh, notes = (*bound, "read")[:4]
    part = knob(safety).model_copy(update={"number": number, "revision": revision})
    return canonical_text(part, with_proof(with_days(certificate_until, fire_until), proof).materials["petg"], tiny().makers.values(), _sha256(mesh), BoundBeside(fitting=_notes(notes)))


def _notes(steps: str) -> FittingNotes:
    return FittingNotes("", steps, "", "")


def _sha256(mesh: str) -> str:
    return (mesh.encode().hex() * 64)[:64]


def as_record(event: dict, case: dict) -> dict:
    """A plain event of the second judge as it stands in approval.yml."""
    own = ("bound", "submitted", "evidence", "scope", "id", "letter")
    record = {key: value for key, value in event.items() if key not in own}
    record["evidence"] = [letter_of(event)] if event.get("evidence") else []
    if "scope" in event and event["what"] not in ("change accepted", "take-over confirmed"):
        record["scope"] = [
            one | {"vehicles": as_ranges(map(str, one["vehicles"]))} if one.get("vehicles") else one
            for one in event["scope"]
        ]
    papers = (case["safety"], case.get("certificate_until"), case.get("fire_until"), case.get("proof", "kept"))
    there = with_proof(tiny(), case.get("proof", "kept"))
    if event["what"] == "take-over confirmed" and "confirms" not in event:
        record["confirms"] = confirms(event, case)
    if "bound" in event:
        sites = [(one["fleet"], place) for one in event["scope"] for place in one.get("places") or ()]
        text = approved_text(text_of(event["bound"], *papers), sites, there, knob())
        record |= {"approved_as": text, "fingerprint": fingerprint(text)}
    if event.get("submitted"):
        sites = [(fit.fleet, fit.place) for fit in FITS]
        text = approved_text(text_of(event["submitted"], *papers), sites, there, knob())
        record |= {"revision": event["submitted"][1], "submitted_as": text, "fingerprint": fingerprint(text)}
    return record


def confirms(event: dict, case: dict) -> str:
    """The fingerprint of the letter's event that a confirmation speaks of; of none where there is none."""
    taken = (each for each in case["events"] if each["what"] == "taken over" and each["on"] == event["approved_on"])
    meant = next((each for each in taken if each["scope"] == event["scope"]), None)
    if meant is None:
        return "0" * 64
    return own_fingerprint(TakenOver.model_validate_json(json.dumps(as_record(meant, case), default=str)))


def letter_of(event: dict) -> dict:
    """The file that an event names: its own, unless `letter` says whose it is."""
    name = event.get("letter", event.get("id", 0))
    return EVIDENCE | {"sha256": _sha256(f"letter {name}")}


def approval(case: dict) -> Approval:
    content = {
        "route": case["route"],
        "events": [as_record(event, case) for event in case["events"]],
    }
    if case["waiver"]:
        content["waiver"] = {"reason": "No safety function.", "by": "keeper", "reference": "W-1"}
    content["screening"] = screening(case)
    return Approval.model_validate_json(json.dumps(content, default=str))


def screening(case: dict) -> dict:
    """What was answered and judged, as the case says: "judged", "significant" or "open"."""
    told, authorisation = dict(SCREENED), case.get("authorisation", "not needed")
    if case.get("screening") == "open":
        del told["monitoring"]
    if case.get("screening") == "significant":
        told["judged_significant"] = "yes"
    if authorisation != "not needed":
        told["change_case"] = {**SCREENED["change_case"], "case": "d"}
    if authorisation == "kept":
        told["authorisation"] = _AUTHORISED
    return told


def with_days(certificate_until: date | None, fire_until: date | None) -> Catalogue:
    """The tiny catalogue whose certificate and fire report end on these days; None: there is none."""
    petg = tiny().materials["petg"]
    one, test = petg.certificates[0], petg.fire_tests[0]
    material = petg.model_copy(
        update={
            "certificates": (one.model_copy(update={"valid_until": certificate_until}),)
            if certificate_until
            else (),
            "fire_tests": (test.model_copy(update={"valid_until": fire_until}),) if fire_until else (),
        }
    )
    return replace(tiny(), materials={**tiny().materials, "petg": material})


_PROOF = {
    "property": "hottest_c", "method": "ISO 75-2", "value": 85, "unit": "°C", "passed": True, "tested_on": "2024-05-06",
    "file": "documents/heat.txt", "sha256": "2" * 64,
}  # fmt: skip
_OTHERWISE = {"failed": {"passed": False}, "too little": {"value": 60}, "to come": {"tested_on": "2099-01-01"}, "TBD": {"method": "TBD"}}


def with_proof(catalogue: Catalogue, how: str) -> Catalogue:
    """A1's doors ask for 80 °C, and it is shown of PETG as the case says: "kept", "none", or what is wrong with it."""
    a1, petg = catalogue.fleets["A1"], catalogue.materials["petg"]
    hot = Environment(hottest_c=80.0)
    places = tuple(each.model_copy(update={"environment": hot if each.id == "door" else None}) for each in a1.places)
    proof = Proof.model_validate_json(json.dumps(_PROOF | _OTHERWISE.get(how, {})))
    material = petg.model_copy(update={"proof": () if how == "none" else (proof,)})
    heat = KeptFile(path="materials/documents/heat.txt", size_bytes=0 if how == "empty" else 9, sha256="2" * 64)
    return replace(
        catalogue,
        fleets=catalogue.fleets | {"A1": a1.model_copy(update={"places": places})},
        materials=catalogue.materials | {"petg": material},
        material_files=catalogue.material_files | {"documents/heat.txt": heat},
    )


def sheet_of(case: dict) -> Sheet:
    """The package's judgement of a case of the second judge."""
    number, revision, mesh, notes = (*case["now"], "read")[:4]
    record = approval(case)
    folder = PartFolder(
        folder="parts/EX-0001-lid-knob",
        number=number,
        part=knob(case["safety"]).model_copy(update={"number": number, "revision": revision}),
        approval=record,
        fitting=_notes(notes),
        mesh=KeptFile(path="parts/EX-0001-lid-knob/model.stl", size_bytes=84, sha256=_sha256(mesh)),
        documents=tuple(
            KeptFile(path=f"parts/EX-0001-lid-knob/{each['file']}", size_bytes=9, sha256=each["sha256"]) for each in (EVIDENCE, _PAPER, _NOTE)
        ),
        photos=(),
        event_places=tuple(Where("approval.yml", i + 1) for i in range(len(record.events))),
        problems=case.get("problems", ()),
    )
    catalogue = with_proof(with_days(case["certificate_until"], case["fire_until"]), case.get("proof", "kept"))
    return sheet(folder, None, catalogue, Copy(case["built_on"], case["max_age"]))


def verdicts(judged: Sheet, day: date) -> dict[tuple[str, str, int, str | None], str]:
    """The verdict for each fleet, place, vehicle and label; the best where several grounds speak."""
    found: dict[tuple[str, str, int, str | None], str] = {}
    order = ("fit", "ask", "no")
    for ground in judged.grounds:
        key = ground.on(day).verdict.key
        for vehicle in vehicles_in(ground.vehicles):
            where = (ground.fleet, ground.place, int(vehicle), ground.label_revision)
            found[where] = min(key, found.get(where, "no"), key=order.index)
    return found
