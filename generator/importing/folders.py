"""A draft → the files of a part's folder; and what an existing folder says otherwise than the list."""

import hashlib
from collections.abc import Mapping
from datetime import date
from typing import Any

from generator.importing.drafts import TODO, Draft, Letter
from generator.importing.likely import ALL_VEHICLES
from generator.reading.meshes.endings import UNITLESS_ENDINGS
from generator.records.depot import Language
from generator.records.fitting import headings
from generator.records.mesh_units import MeshUnits
from generator.writing.comments import comments
from generator.writing.listed_part import approval_text, fitting_text, part_text
from generator.writing.yaml_text import Value


def part_record(draft: Draft, units: MeshUnits, makers: tuple[str, ...] = ()) -> dict[str, Value]:
    """part.yml as keys and values: what the list tells, and TODO where only a person knows. makers: who could print it."""
    told = dict(draft.told)
    printed: dict[str, Value] = {}
    if draft.mesh is not None:
        ending = draft.mesh.rpartition(".")[2].lower()
        printed = {"makers": told.get("makers") or list(makers) or TODO, "settings": {"orientation": TODO}}
        printed |= {"mesh_units": units.value} if ending in UNITLESS_ENDINGS else {}
    record: dict[str, Value] = {
        "number": draft.number,
        "revision": told.get("revision", TODO),
        "name": draft.name,
        "other_names": told.get("other_names"),
        "purpose": told.get("purpose", TODO),
        "symptoms": told.get("symptoms"),
        "replaces": told.get("replaces"),
        "fits": [_fit(told.get("fits"))],
        "safety_role": told.get("safety_role", TODO),
        "material": told.get("material", TODO),
        "no_model": _no_model(draft),
        "makers": told.get("makers"),
        **printed,
        "yearly_demand": told.get("yearly_demand"),
        "stock": _stock(told.get("stock")),
    }
    return {key: value for key, value in record.items() if value is not None}


def _no_model(draft: Draft) -> Mapping[str, Value] | None:
    if draft.mesh is not None:
        return None
    size: dict[str, Value] = {"size_mm": list(draft.size_mm)} if draft.size_mm else {}
    return {"because": draft.because or TODO, **size}


def _fit(told: Value) -> Mapping[str, Value]:
    """One place that it fits. Vehicles that nobody names are left to a person: left out, they would be all of them."""
    known = told[0] if isinstance(told, list) and told and isinstance(told[0], Mapping) else {}
    fit = {key: known.get(key, TODO) for key in ("fleet", "vehicles", "place", "per_vehicle")}
    if fit["vehicles"] == ALL_VEHICLES:
        del fit["vehicles"]
    return fit


def _stock(told: Value) -> Mapping[str, Value] | None:
    if not isinstance(told, Mapping):
        return None
    return {"place": told.get("place") or TODO, "on_shelf": told["on_shelf"] if told.get("on_shelf") is not None else TODO}


def folder_files(
    draft: Draft, content: Mapping[str, bytes], *, units: MeshUnits, makers: tuple[str, ...], on: date, by: str | None, measured: str = "", unconfirmed: str = "",
    language: Language = Language.ENGLISH,
) -> dict[str, bytes]:
    """Every file of the new folder by its path in it. content: the bytes of the draft's own files by their path in the
    folder of files. by: the role that takes the list over; without it no approval is taken over.
    unconfirmed: what stands above the text of an approval that is not taken over.
    """
    says = comments(language)
    sizes = () if draft.size_mm and not draft.mesh else draft.measured
    event = taken_over(draft.letter, content, on, by, says.letter_title) if draft.letter and by else None
    files = {
        "part.yml": part_text(part_record(draft, units, makers), says, sizes=sizes, besides=draft.besides, measured=measured).encode(),
        "approval.yml": approval_text(draft.route if event else None, event, says, said=() if event or not draft.approval else (unconfirmed, *draft.approval)).encode(),
        "fitting.md": fitting_text(draft.number, says, headings(language)).encode(),
    }
    return files | {place: content[name] for name, place in placed(draft, letter=event is not None).items()}


def placed(draft: Draft, *, letter: bool) -> dict[str, str]:
    """Where each file of the draft goes in the part's folder."""
    places = {name: f"documents/{_last(name)}" for name in draft.documents}
    places |= {name: f"photos/{_last(name)}" for name in draft.photos}
    if draft.letter and letter:
        places[draft.letter.file] = f"documents/{_last(draft.letter.file)}"
    if draft.mesh:
        places[draft.mesh] = f"model.{draft.mesh.rpartition('.')[2].lower()}"
    return places


def taken_over(letter: Letter, content: Mapping[str, bytes], on: date, by: str, title: str) -> dict[str, Value]:
    """The event of approval.yml; somebody who acts for the approver has still to confirm what lies here."""
    end: dict[str, Value] = {"valid_until": letter.valid_until.isoformat()} if letter.valid_until else {"open_ended": True}
    evidence: dict[str, Value] = {
        "file": f"documents/{_last(letter.file)}",
        "sha256": hashlib.sha256(content[letter.file]).hexdigest(),
        "title": title,
    }
    return {
        "on": on.isoformat(),
        "what": "taken over",
        "by": by,
        "reference": letter.reference,
        "letter_of": letter.letter_of.isoformat(),
        "approved_by": letter.approved_by,
        "approver": letter.approver,
        "scope": [dict(letter.scope)],
        **end,
        "evidence": [evidence],
        "revision": letter.revision,
    }


def differences(draft: Draft, record: Mapping[str, Any]) -> list[tuple[str, str, str]]:
    """Key, what the list says and what the folder says, wherever they differ; what the list does not tell is not compared."""
    found = []
    for key, told in draft.told.items():
        there = record.get(key)
        if key == "fits":
            found += _other_fits(told, there)
        elif not _same(told, there):
            found.append((key, _short(told), _short(there)))
    return found


def _other_fits(told: Value, there: Any) -> list[tuple[str, str, str]]:
    fits = [each for each in there if isinstance(each, Mapping)] if isinstance(there, list) else []
    wanted = told[0] if isinstance(told, list) and isinstance(told[0], Mapping) else {}
    wanted = {key: None if value == ALL_VEHICLES else value for key, value in wanted.items()}
    if any(all(_same(value, fit.get(key)) for key, value in wanted.items()) for fit in fits):
        return []
    here = [_short({key: fit.get(key) for key in wanted}) for fit in fits]
    return [("fits", _short(wanted), " / ".join(here) or "nothing")]


def _same(told: Any, there: Any) -> bool:
    if isinstance(told, Mapping) and isinstance(there, Mapping):
        return all(_same(value, there.get(key)) for key, value in told.items() if value is not None)
    if isinstance(told, list | tuple) and isinstance(there, list | tuple):
        return len(told) == len(there) and all(_same(one, other) for one, other in zip(told, there, strict=True))
    return bool(told == there)


def _short(value: Any) -> str:
    if isinstance(value, Mapping):
        return ", ".join(f"{key} {_short(each)}" for key, each in value.items() if each is not None)
    if isinstance(value, list | tuple):
        return "; ".join(_short(each) for each in value)
    text = "nothing" if value is None else str(value)
    seen = "".join(sign if sign.isprintable() else " " for sign in text)
    return f"{seen[:60]}…" if len(seen) > 60 else seen


def _last(name: str) -> str:
    return name.rpartition("/")[2]
