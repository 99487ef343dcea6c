"""`spares check` of a part whose mesh nobody can use: one problem that names the file and mends it, and no figure."""

import json

import pytest

from tests.reading.meshes.unseen import are_words
from tests.reading.meshes.unseen_packed import GLB
from tests.reading.meshes.unseen_text import OBJ, PLY, STL

BAD = {
    "model.stl": STL["decimal commas"],
    "model.obj": OBJ["an index too large"],
    "model.ply": PLY["only points of a scan"],
    "model.glb": GLB["compressed"],
}
EMPTY = {"model.stl": STL["only faces without area in text"], "model.ply": PLY["only faces without area"], "model.obj": OBJ["only faces without area"]}


@pytest.mark.parametrize(("name", "case"), [*BAD.items(), *EMPTY.items()], ids=lambda each: each if isinstance(each, str) else "")
def test_a_mesh_that_cannot_be_used_is_one_problem_with_its_file_and_mend(depot, spares, name, case):
    part = depot / "catalogue" / "parts" / "EX-0001-lid-knob"
    (part / "model.stl").unlink()
    (part / name).write_bytes(case.content())
    for _ in "twice":  # the second time from what is kept
        code, out, err = spares("check", "--format", "json")
        of_mesh = [each for each in json.loads(out)["problems"] if each["code"].startswith("MESH") and "EX-0001" in each["file"]]
        assert (code, err) == (1, "")
        assert [each["file"] for each in of_mesh] == [f"parts/EX-0001-lid-knob/{name}"]
        assert are_words(of_mesh[0]["says"])
        assert are_words(of_mesh[0]["fix"])
