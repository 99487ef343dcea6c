"""Files in the habits of many exporters: read as they are, or refused in words, never wrong."""

import hashlib

import pytest

from generator.measuring.one_mesh import Job, Order, made_of
from generator.measuring.products import ERROR_FILE, FACTS, PRODUCTS
from tests.reading.meshes import unseen_packed, unseen_solids, unseen_step, unseen_text
from tests.reading.meshes.unseen import faults

OF = {
    "OBJ": unseen_text.OBJ,
    "PLY": unseen_text.PLY,
    "STL": unseen_text.STL,
    "3MF": unseen_packed.THREEMF,
    "GLB": unseen_packed.GLB,
    "collapsed": unseen_solids.COLLAPSED,
    "touching": unseen_solids.TOUCHING,
    "overlapping": unseen_solids.OVERLAPS,
    "turned": unseen_solids.TURNED,
    "pin": unseen_solids.PINNED,
    "STEP unit": unseen_step.UNITS,
    "STEP text": unseen_step.TEXTS,
    "STEP": unseen_step.SOLIDS,
}
CASES = {f"{kind}: {name}": case for kind, cases in OF.items() for name, case in cases.items()}


@pytest.mark.parametrize("name", CASES)
def test_a_file_is_read_as_it_is_or_refused_in_words(name, tmp_path):
    assert faults(CASES[name], tmp_path) == []


EMPTY = (
    "OBJ: only faces without area",
    "PLY: only faces without area",
    "STL: only faces without area",
    "STL: only faces without area in text",
    "STL: only lines",
    "3MF: only faces without area",
    "3MF: a flattened item",
    "GLB: only faces without area",
    "GLB: a flattened node",
    "turned: a sheet of two sides",
)


@pytest.mark.parametrize("name", EMPTY)
def test_what_has_no_surface_ends_in_words_that_last_whatever_is_made_of_it(name, tmp_path):
    """An exception here reaches the reader raw and is met again in each build."""
    case = CASES[name]
    path = tmp_path / f"model{case.suffix}"
    path.write_bytes(content := case.content())
    order = Order(path=path, sha256=hashlib.sha256(content).hexdigest(), units=None, tint="#8090a0")
    made = made_of(Job(order=order, wanted=PRODUCTS))
    assert isinstance(made, dict), made
    assert ERROR_FILE in made[FACTS] or set(made) == set(PRODUCTS)
