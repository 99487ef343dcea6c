"""3MF as the 3MF Core Specification (version 1.4) and the Production Extension (1.1) ask."""

import numpy as np
import pytest

from generator.reading.meshes.errors import MeshError
from generator.reading.meshes.load import mesh_from_bytes
from tests.fixtures.told import refused
from tests.reading.meshes import files

UNIT_BOX = files.threemf_object(*files.box(1, 2, 3))


def loaded(objects, build, more=(), **options):
    content = files.threemf(files.threemf_model(objects, build, **options), more=more)
    return mesh_from_bytes(content, ".3mf", None)


def extent(mesh):
    return np.vstack([mesh.vertices_mm.min(axis=0), mesh.vertices_mm.max(axis=0)])


@pytest.mark.parametrize(
    ("unit", "mm"),
    # Core Specification 3.4, ST_Unit; lengths by SI and the 1959 yard and pound agreement.
    [("micron", 0.001), ("millimeter", 1), ("centimeter", 10), ("inch", 25.4), ("foot", 304.8), ("meter", 1000),
     pytest.param(None, 1, id="no unit stated: millimeter by the specification")],
)  # fmt: skip
def test_the_stated_unit_scales_corners_and_transforms(unit, mm):
    build = '<item objectid="1" transform="1 0 0 0 1 0 0 0 1 5 6 7"/>'
    mesh = loaded(UNIT_BOX, build, unit=unit).mesh
    assert extent(mesh) == pytest.approx(np.array([[5, 6, 7], [6, 8, 10]]) * mm)


def test_a_transform_is_for_row_vectors():
    """Core Specification 3.3: [x y z 1] times the matrix; this one turns x into y."""
    mesh = loaded(UNIT_BOX, '<item objectid="1" transform="0 1 0 -1 0 0 0 0 1 0 0 0"/>').mesh
    assert extent(mesh) == pytest.approx(np.array([[-2, 0, 0], [0, 1, 3]]))
    assert files.volume(mesh) == pytest.approx(6)


def test_a_mirroring_transform_keeps_the_outside_outside():
    mesh = loaded(UNIT_BOX, '<item objectid="1" transform="-1 0 0 0 1 0 0 0 1 0 0 0"/>').mesh
    assert extent(mesh) == pytest.approx(np.array([[-1, 0, 0], [0, 2, 3]]))
    assert files.volume(mesh) == pytest.approx(6)


def test_components_are_placed_inside_out():
    """Scaled by two, then moved by ten as component, then moved by one in the build."""
    components = (
        '<object id="2"><components><component objectid="1" transform="2 0 0 0 2 0 0 0 2 10 0 0"/>'
        '<component objectid="1"/></components></object>'
    )
    mesh = loaded(UNIT_BOX + components, '<item objectid="2" transform="1 0 0 0 1 0 0 0 1 0 1 0"/>').mesh
    assert len(mesh.faces) == 24
    assert extent(mesh) == pytest.approx(np.array([[0, 1, 0], [12, 5, 6]]))
    assert files.volume(mesh) == pytest.approx(6 * 8 + 6)


def test_what_is_not_in_the_build_list_is_not_part_of_the_model():
    """Core Specification 3.4.2: objects that are not referenced by the build are not output."""
    other = files.threemf_object(*files.box(100, 100, 100), number=2)
    assert files.volume(loaded(UNIT_BOX + other, '<item objectid="1"/>').mesh) == pytest.approx(6)


def test_the_production_extension_reads_other_parts_of_the_package():
    inner = files.threemf_model(files.threemf_object(*files.box(2, 2, 2), number=9), "")
    outer = '<item objectid="9" p:path="/3D/Objects/inner.model"/>'
    options = {"attributes": f'xmlns:p="{files.PRODUCTION}" requiredextensions="p"'}
    mesh = loaded("", outer, more=[("3D/Objects/inner.model", inner)], **options).mesh
    assert files.volume(mesh) == pytest.approx(8)
    for path in ("../../inner.model", "https://example.org/inner.model", "/../inner.model", "C:/inner.model"):
        with refused("points outside itself"):
            loaded("", outer.replace("/3D/Objects/inner.model", path), **options)
    inches = inner.replace("millimeter", "inch")
    with refused("in another unit"):
        loaded("", outer, more=[("3D/Objects/inner.model", inches)], **options)


def test_the_start_part_is_found_by_its_relationship_not_by_its_name():
    model = files.threemf_model(UNIT_BOX, '<item objectid="1"/>')
    content = files.threemf("decoy", target="/elsewhere/part%20one.model", more=[("elsewhere/part one.model", model)])
    assert files.volume(mesh_from_bytes(content, ".3mf", None).mesh) == pytest.approx(6)


def test_an_error_names_the_line_of_the_model():
    bad = UNIT_BOX.replace("\n<triangles>", "\n\n\n<triangles>").replace('v3="3"', 'v3="three"')
    with pytest.raises(MeshError) as caught:
        loaded(bad, '<item objectid="1"/>')
    assert caught.value.problem.where.line == 6
