"""Builds one part with one fire need in memory from a neutral case, and asks the package's rules."""

import copy
import json
from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import pydantic
import yaml

from generator.records.catalogue import Catalogue, KeptFile
from generator.records.fire import Fire, FireTest
from generator.records.fleets import Area, FireRule
from generator.records.parts import Fit
from generator.rules.contested import contested
from generator.rules.facts.case import Case, Copy
from generator.rules.facts.of_fire import FireFound, fire_found
from generator.rules.fire.needs import misfits
from generator.rules.verdicts import Verdict, judged
from tests.rules import vectors
from tests.rules.cases import knob, tiny
from tests.rules.typed import typed

CASES = Path(__file__).parent / "cases.yml"
CATEGORY = {"HL1": 1, "HL2": 2, "HL3": 4}  # operation category of a vehicle of design category N
SHA = {"kept": "a" * 64, "changed": "b" * 64}
PROCESS = {"laser sintering": "powder bed fusion", "injection moulding": "moulded"}
KNOWN_ROLES = {"fire-engineer", "keeper", "authority"}


@cache
def cases() -> dict[str, Any]:
    return yaml.load(CASES.read_text("utf-8"), Loader=getattr(yaml, "CSafeLoader", yaml.SafeLoader))


def scene_of(case: dict[str, Any]) -> dict[str, Any]:
    """The whole of a case: its base with its changes."""
    scene = copy.deepcopy(cases()["bases"][case["base"]])
    for path, value in case.get("change") or ():
        _set(scene, path.split("."), value)
    return scene


def _set(there: Any, path: list[str], value: Any) -> None:
    *above, last = path
    for step in above:
        there = there[int(step)] if isinstance(there, list) else there[step]
    if isinstance(there, list):
        index = int(last)
        if value is None:
            del there[index]
        else:
            there[index : index + 1] = [value]
    elif value is None:
        there.pop(last, None)
    else:
        there[last] = value


class UnreadableError(Exception):
    """The record would be refused by its schema: the part says Do not fit, and why."""


def found(scene: dict[str, Any]) -> FireFound:
    """What the rules find; raises UnreadableError where a record cannot be read at all."""
    try:
        case, fit = _case(scene)
    except pydantic.ValidationError as error:
        raise UnreadableError(str(error)) from error
    fire = case.part.fire
    area = case.catalogue.fleets["A1"].places[0].area
    wrongly = [*misfits(fire, area, case.catalogue.standard)] if fire and case.catalogue.standard else []
    if wrongly or (fire and fire.chosen_by != "fire-engineer"):
        raise UnreadableError("the record has a mistake")
    return fire_found(case, fit, case.basis(fit))


def at_the_place_alone(scene: dict[str, Any], thinnest_mm: float | None) -> FireFound:
    """The same choice said for the place alone, with a wall of its own or none; the part keeps its own."""
    case, fit = _case(scene)
    fire = case.part.fire
    assert fire is not None
    own = fit.model_copy(update={"fire": fire.model_copy(update={"thinnest_wall_mm": thinnest_mm})})
    return fire_found(case, own, case.basis(own))


def verdict(fire: FireFound, today: date) -> str:
    """Of the fire questions alone."""
    facts = replace(
        typed(vectors.read()["good"]), built_on=today, fire_set="known" if fire.need else None, fire_need=fire.need_told, fire_kind=fire.kind,
        fire_report=fire.told, fire_until=fire.until, fire_failed=fire.failed, fire_asked=fire.asked,
    )  # fmt: skip
    bad = [taken.step.otherwise for taken in judged(facts, today).steps if taken.step.id.startswith("fire") and taken.outcome != "passed"]
    return max(bad, default=Verdict.FIT_IT).key


def _case(scene: dict[str, Any]) -> tuple[Case, Fit]:
    catalogue = _catalogue(scene)
    fire = _fire(scene.get("fire"))
    part = knob().model_copy(
        update={
            "fire": fire,
            "material": "petg",
            "further_materials": tuple(f"further-{i}" for i, _ in enumerate(scene.get("further_materials") or ())),
            "makers": tuple(f"maker-{i}" for i, _ in enumerate(scene["part"].get("processes") or ())),
            "settings": knob().settings.model_copy(update={key: scene["part"].get(key) for key in ("infill_percent", "wall_mm")}),
        }
    )
    walls = {"thinnest_wall_mm": scene["part"].get("thinnest_mm"), "thickest_section_mm": scene["part"].get("thickest_mm")}
    if fire:
        part = part.model_copy(update={"fire": fire.model_copy(update=walls)})
    folder = tiny().folder(part.number)
    assert folder is not None
    letters = tuple(
        KeptFile(path=f"{folder.folder}/documents/{name}.txt", size_bytes=9, sha256=SHA[state])
        for name, state in _letters(scene)
        if state in SHA
    )
    folder = replace(folder, part=part, documents=letters)
    fit = Fit(fleet="A1", place="cab", per_vehicle=1)
    case = Case(
        folder=folder, part=part, catalogue=catalogue, history=None, copy=Copy(scene["today"], 45), bound={}, problems=(),
        contested=contested(catalogue.materials),
    )  # fmt: skip
    return case, fit


def _letters(scene: dict[str, Any]) -> list[tuple[str, str]]:
    fire = scene.get("fire") or {}
    exemption = fire.get("exemption")
    return [("choice", fire.get("evidence", "absent")), ("statement", exemption if isinstance(exemption, str) else "kept" if exemption else "absent")]


def _fire(told: dict[str, Any] | None) -> Fire | None:
    if not told:
        return None
    told = dict(told)
    state, exemption = told.pop("evidence", "absent"), told.pop("exemption", None)
    on = told.pop("on", None)
    letter = {"file": "documents/choice.txt", "sha256": "a" * 64}
    told["evidence"] = letter if state != "absent" else None
    if exemption:
        days = exemption if isinstance(exemption, dict) else {}
        told["exemption"] = {
            "reference": "FN-1", "by": "fire-engineer", "on": "2026-05-04", "open_ended": True,
            "evidence": {"file": "documents/statement.txt", "sha256": "a" * 64},
        } | {key: _plain(value) for key, value in days.items() if key != "evidence"}  # fmt: skip
    return Fire.model_validate_json(_json({**told, "on": on}), strict=True)


def _plain(value: Any) -> Any:
    return value.isoformat() if isinstance(value, date) else value


def _json(content: Any) -> str:
    return json.dumps({key: value for key, value in content.items() if value is not None}, default=_plain)


def _rule(told: str) -> FireRule:
    if told not in list(FireRule):
        raise UnreadableError(f"no rule {told}")
    return FireRule(told)


def _area(told: str | None) -> Area:
    if told not in list(Area):
        raise UnreadableError(f"no area {told}")
    return Area(told)


def _catalogue(scene: dict[str, Any]) -> Catalogue:
    fleet = tiny().fleets["A1"]
    place = next(each for each in fleet.places if each.id == "cab").model_copy(update={"area": _area(scene.get("area"))})
    fleet = fleet.model_copy(
        update={
            "places": (place,),
            "operation_category": CATEGORY.get(scene.get("level"), 4),
            "fire_rule": _rule(scene.get("fire_rule") or "EN 45545-2"),
        }
    )
    maker = next(iter(tiny().makers.values()))
    processes = scene["part"].get("processes") or ()
    materials, files = {}, {}
    for name, own in [("petg", scene), *((f"further-{i}", each) for i, each in enumerate(scene.get("further_materials") or ()))]:
        reports = [_report(f"{name}-{i}", told, files) for i, told in enumerate(own.get("reports") or ())]
        said = {**(own.get("material") or {})}
        materials[name] = tiny().materials["petg"].model_copy(update={"colouring": said.get("colouring"), "lot_family": said.get("lot_family"), "fire_tests": tuple(reports)})
    depot = tiny().depot
    return replace(
        tiny(), fleets={"A1": fleet}, materials=materials, material_files=files, depot=depot,
        makers={f"maker-{i}": maker.model_copy(update={"id": f"maker-{i}", "process": PROCESS.get(process, process)}) for i, process in enumerate(processes)},
    )  # fmt: skip


def _report(name: str, told: dict[str, Any], files: dict[str, KeptFile]) -> FireTest:
    told = dict(told)
    state = told.pop("evidence", "kept")
    path, sha = f"documents/{name}.txt", (name.encode().hex() * 64)[:64]
    if state in SHA:
        files[path] = KeptFile(path=f"materials/{path}", size_bytes=9, sha256=sha if state == "kept" else "b" * 64)
    if isinstance(told.get("accepted_by"), str) and told["accepted_by"] not in KNOWN_ROLES:
        told["accepted_by"] = "trainee"
    told["process"] = PROCESS.get(told.get("process"), told.get("process"))
    return FireTest.model_validate_json(_json({**told, "file": path, "sha256": sha}), strict=True)
