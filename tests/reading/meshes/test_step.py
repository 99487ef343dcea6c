"""STEP against exact solids of the CAD kernel, in every unit and with assemblies."""

import re

import numpy as np
import pytest

from generator.geometry.measure import mesh_facts
from generator.reading.meshes import step
from generator.reading.meshes.load import load_mesh, mesh_from_bytes
from tests.fixtures.told import refused
from tests.reading.meshes import files

BOX = files.STEP_BOX
SI = "( LENGTH_UNIT() NAMED_UNIT(*) SI_UNIT({},.METRE.) );"
INCH = (
    "( CONVERSION_BASED_UNIT('{}',#9001) LENGTH_UNIT() NAMED_UNIT(#9002) );\n"
    "#9001 = LENGTH_MEASURE_WITH_UNIT(LENGTH_MEASURE({}),#9003);\n"
    "#9002 = DIMENSIONAL_EXPONENTS(1.,0.,0.,0.,0.,0.,0.);\n"
    "#9003 = ( LENGTH_UNIT() NAMED_UNIT(*) SI_UNIT(.MILLI.,.METRE.) );"
)


@pytest.fixture(scope="module")
def cad():
    """The exact kernel, loaded where it is asked: no other process needs it."""
    import build123d

    return build123d


def test_the_kept_box_is_the_one_that_the_kernel_writes():
    kept, now = (mesh_facts(mesh_from_bytes(each, ".step", None).mesh) for each in (BOX, files.step_box(10, 20, 30)))
    assert kept == now


def in_unit(text):
    """The box with its length unit replaced as ISO 10303-41 writes it (si_unit, conversion_based_unit)."""
    changed, count = re.subn(rb"\( LENGTH_UNIT\(\) NAMED_UNIT\(\*\) SI_UNIT\(\.MILLI\.,\.METRE\.\) \);", text.encode(), BOX)
    assert count == 1
    return changed


@pytest.mark.parametrize(
    ("text", "units", "mm"),
    [
        (SI.format(".MILLI."), "mm", 1),
        (SI.format(".CENTI."), "cm", 10),
        (SI.format("$"), "m", 1000),
        (INCH.format("INCH", "25.4"), "inch", 25.4),
        (INCH.format("inch", "25.4"), "inch", 25.4),
        (INCH.format("FOOT", "304.8"), "foot", 304.8),
        (INCH.format("ZOLL", "25.4"), "inch", 25.4),
        (INCH.format("INCH", "10."), "cm", 10),  # what is meant by a name is what it measures
        (INCH.format("MILLIMETRE", "1.E0"), "mm", 1),
        (INCH.format("inch", "0.0254").replace(".MILLI.", "$"), "inch", 25.4),
    ],
)
def test_the_unit_of_the_file_is_read_and_kept(text, units, mm):
    loaded = mesh_from_bytes(in_unit(text), ".step", None)
    assert loaded.units == units
    assert np.ptp(loaded.mesh.vertices_mm, axis=0) == pytest.approx(np.array([10, 20, 30]) * mm, rel=1e-6)


def test_a_file_in_two_units_or_none_is_refused():
    with refused("mixes units: m, mm"):
        mesh_from_bytes(with_more(METRE + CONTEXT.format("GEOMETRIC_REPRESENTATION_CONTEXT(3) ")), ".step", None)
    with refused("does not state the unit"):
        mesh_from_bytes(BOX.replace(b"LENGTH_UNIT()", b"RATIO_UNIT()"), ".step", None)
    with refused("drawn in 'SMOOT'"):
        mesh_from_bytes(in_unit(INCH.format("SMOOT", "1702.")), ".step", None)
    with refused("drawn in '100 mm'"):
        mesh_from_bytes(in_unit(SI.format(".DECI.")), ".step", None)
    in_pieces = INCH.replace("LENGTH_MEASURE_WITH_UNIT(", "( LENGTH_MEASURE_WITH_UNIT() MEASURE_WITH_UNIT(")
    for broken in (
        in_pieces.replace("#9003);", "#9003) );"),  # allowed, but the kernel takes it for millimetres
        INCH.replace("LENGTH_MEASURE(", "PLANE_ANGLE_MEASURE("),
        INCH.replace(".MILLI.,.METRE.", ".MILLI.,.GRAM."),
    ):
        with refused("does not state its length unit in a way that is read"):
            mesh_from_bytes(in_unit(broken.format("INCH", "25.4")), ".step", None)


METRE = "#9100 = ( LENGTH_UNIT() NAMED_UNIT(*) SI_UNIT($,.METRE.) );\n"
CONTEXT = "#9101 = ( {}GLOBAL_UNIT_ASSIGNED_CONTEXT((#9100)) REPRESENTATION_CONTEXT('a;b','#9') );\n"
FONT = "#9102 = EXTERNALLY_DEFINED_TEXT_FONT(IDENTIFIER('arial'),#9103);\n#9103 = EXTERNAL_SOURCE(IDENTIFIER('fonts'));\n"
CURVES = "#9102 = EXTERNALLY_DEFINED_CURVE_FONT(IDENTIFIER('dashed'),#9103);\n#9103 = EXTERNAL_SOURCE(IDENTIFIER('lines'));\n"


def with_more(text):
    return BOX.replace(b"ENDSEC;\nEND-ISO", text.encode() + b"ENDSEC;\nEND-ISO")


@pytest.mark.parametrize("text", [METRE, METRE + CONTEXT.format(""), FONT, CURVES])
def test_what_has_no_shape_changes_nothing(text):
    """The unit of a property (a density per cubic metre) or of its context is not the drawing's; a font is no shape."""
    loaded = mesh_from_bytes(with_more(text), ".step", None)
    assert (loaded.units, len(loaded.mesh.faces)) == ("mm", 12)


def test_a_shape_defined_elsewhere_is_missed():
    for kind in ("EXTERNALLY_DEFINED_REPRESENTATION", "EXTERNALLY_DEFINED_FEATURE_DEFINITION", "EXTERNALLY_DEFINED_ITEM"):
        with refused("lie in other files"):
            mesh_from_bytes(with_more(f"#9102 = {kind}(IDENTIFIER('a'),#9103);\n#9103 = EXTERNAL_SOURCE(IDENTIFIER('b'));\n"), ".step", None)


SOLIDS = [
    # share of the volume that may be lost to facets: sag 0.02 mm and 0.2 rad between neighbours
    pytest.param(lambda cad: cad.fillet(cad.Box(30, 20, 10).edges(), 2), 0.002, id="filleted box"),
    pytest.param(lambda cad: cad.Cylinder(10, 20) - cad.Cylinder(6, 20), 0.004, id="tube"),
    pytest.param(lambda cad: cad.Sphere(15), 0.006, id="ball"),
]


@pytest.mark.parametrize(("solid", "share"), SOLIDS)
def test_volume_agrees_with_the_exact_solid(cad, solid, share, tmp_path):
    exact = solid(cad)
    cad.export_step(exact, str(tmp_path / "model.step"))
    facts = mesh_facts(load_mesh(tmp_path / "model.step", None).mesh)
    assert facts.is_watertight
    assert facts.defects == ()
    assert facts.volume_mm3 == pytest.approx(exact.volume, rel=share)


def test_the_parts_of_an_assembly_stand_where_it_puts_them(cad, tmp_path):
    turned = cad.Pos(50, 0, 0) * cad.Rot(0, 0, 90) * cad.Box(10, 20, 30)
    assembly = cad.Compound(children=[cad.Box(10, 20, 30), turned])
    cad.export_step(assembly, str(tmp_path / "model.step"))
    facts = mesh_facts(load_mesh(tmp_path / "model.step", None).mesh)
    assert facts.bodies == 2
    assert facts.size_mm == pytest.approx((65, 20, 30), rel=1e-6)
    assert facts.volume_mm3 == pytest.approx(12000, rel=1e-6)


def test_a_face_that_the_kernel_leaves_out_is_noticed(monkeypatch):
    """The kernel says nothing when it drops a face; counting them does."""
    import cascadio

    whole = cascadio.load
    monkeypatch.setattr(cascadio, "load", lambda *a, **k: whole(*a, **{**k, "merge_primitives": True}))
    with refused("could make only 1 of the file's 6 faces"):
        step.step(BOX)


def test_a_kernel_that_gives_nothing_is_an_error(monkeypatch):
    import cascadio

    monkeypatch.setattr(cascadio, "load", lambda *_, **__: b"")
    with refused("could not make a surface"):
        step.step(BOX)


def test_comments_and_strings_do_not_mislead():
    told = BOX.replace(b"DATA;", b"/* don't read #77777; END-ISO-10303-21; */\nDATA;").replace(b"'distance", b"'#88888 /* distance")
    assert len(mesh_from_bytes(told, ".step", None).mesh.faces) == 12
