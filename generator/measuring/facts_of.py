"""What does a mesh measure, as it is kept: facts, or the mistake that forbids them?"""

from __future__ import annotations

import json
from dataclasses import replace

from generator.geometry.facts import DefectKind, MeshFacts
from generator.measuring.kept_problem import problem_blob
from generator.measuring.measured_of import measured_of
from generator.measuring.opened import Opened
from generator.measuring.products import ERROR_FILE, FACTS_FILE
from generator.measuring.second_opinion import check_second_opinion
from generator.reading.meshes.errors import EXPORT_STL, MeshError, unusable


def facts_of(opened: Opened) -> dict[str, bytes]:
    """The facts of a mesh and of the file it came in; of one that cannot be used its mistake, as lasting as its bytes."""
    try:
        loaded = opened.loaded
        found = measured_of(opened)
        _check_area(found.facts, len(loaded.mesh.faces))
        if found.solid is not None:
            check_second_opinion(found.solid, found.facts)
    except MeshError as error:
        return {ERROR_FILE: problem_blob(error.problem)}
    told = {
        "facts": replace(found.facts, defects=(*found.facts.defects, *loaded.notes)).to_json(),
        "format": loaded.format.value,
        "units": loaded.units.value,
        "unit_source": loaded.unit_source.value,
    }
    return {FACTS_FILE: (json.dumps(told, indent=1, sort_keys=True, ensure_ascii=False) + "\n").encode()}


def _check_area(facts: MeshFacts, faces: int) -> None:
    """Raise MeshError where no face has an area: there is nothing to measure, and nothing to draw."""
    if any(each.kind is DefectKind.ZERO_AREA_FACES and each.count == faces for each in facts.defects):
        raise unusable("no area", EXPORT_STL, faces=faces)
