"""Files in the habits of many exporters: read as they are, or refused in words, never wrong."""

import pytest

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
