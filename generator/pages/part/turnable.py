"""The model of a part to turn and measure, as a script that is read when somebody asks for it, and as its page names it."""

import base64
import hashlib
import json
from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial
from typing import Any

from generator.geometry.features.kinds import Feature, Features, Kind
from generator.geometry.features.telling import without_cores
from generator.geometry.measured import Kept, Turnable
from generator.pages.outputs import StoredAsset
from generator.pages.part.verdict_data import script
from generator.rules.sheet import Sheet

MODELS = "assets/models"
MOST_ROUNDS = 600
_DECIMALS = 4
_TAPPED = (Kind.HOLE, Kind.BOSS, Kind.SQUARE, Kind.HEXAGON, Kind.THREAD)


@dataclass(frozen=True, slots=True, kw_only=True)
class ModelView:
    """What a page says of the model: where it lies in the site, and which one it must be."""

    path: str
    mark: str


def model_view(sheet: Sheet, stem: str) -> ModelView | None:
    """None where there is nothing to turn."""
    if sheet.turnable is None or not sheet.turnable.mark:
        return None
    return ModelView(path=f"{MODELS}/{stem}.js", mark=_mark(sheet.turnable, sheet.features))


def model_asset(sheet: Sheet, stem: str) -> StoredAsset | None:
    """The script, as `model_view` names it; its bytes are put together when it is written."""
    view = model_view(sheet, stem)
    if view is None or sheet.turnable is None:
        return None
    read = partial(_script, sheet.turnable, sheet.features, view.mark)
    return StoredAsset(path=view.path, kept=Kept(f"{sheet.turnable.packed.key} {view.mark}", read))


def _script(turnable: Turnable, features: Features | None, mark: str) -> bytes:
    packed = base64.b64encode(turnable.packed.read()).decode("ascii")
    return script("sparesModel", {"mark": mark, "rounds": list(_rounds(features)), "packed": packed})


def _mark(turnable: Turnable, features: Features | None) -> str:
    """Of the file's whole content, so that a model of another build, with other bytes, is never taken for this one."""
    told = json.dumps(list(_rounds(features)), sort_keys=True)
    return hashlib.sha256(f"{turnable.mark}\n{told}".encode()).hexdigest()[:32]


def _rounds(features: Features | None) -> Iterator[dict[str, Any]]:
    """Round holes and bosses, drives and heads, threads: what is tapped alone tells its size. Of a thread its core is none of its own."""
    found = [each for each in without_cores(features.found) if each.kind in _TAPPED] if features else []
    for each in found[:MOST_ROUNDS]:
        yield {
            "at": [round(number, _DECIMALS) for number in each.at],
            "axis": [round(number, _DECIMALS + 2) for number in each.axis],
            "size_mm": round(each.size_mm, _DECIMALS),
            "within_mm": round(each.within_mm, _DECIMALS),
            "length_mm": None if each.length_mm is None else round(each.length_mm, _DECIMALS),
            "is_inner": each.is_inner,
            "is_through": bool(each.is_through),
            **_shape(each),
        }


def _shape(feature: Feature) -> dict[str, Any]:
    """What it is where it is no plain round: `size_mm` is across flats then, or a thread's outside diameter."""
    if feature.kind is Kind.THREAD:
        return {"shape": "thread", "pitch_mm": round(feature.second_mm or 0.0, _DECIMALS), "hand": str(feature.hand)}
    return {"shape": str(feature.kind)} if feature.kind in {Kind.SQUARE, Kind.HEXAGON} else {}
