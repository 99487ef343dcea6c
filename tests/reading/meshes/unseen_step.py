"""STEP in the habits of CAD programs: units that lie about the place, assemblies, touching and nested solids."""

import re
import tempfile
from collections.abc import Callable
from functools import cache
from pathlib import Path

import numpy as np

from tests.reading.meshes import files
from tests.reading.meshes.unseen import BOXED, EITHER, REFUSED, Case, Truth

UNIT = rb"\( LENGTH_UNIT\(\) NAMED_UNIT\(\*\) SI_UNIT\(\.MILLI\.,\.METRE\.\) \);"
LAST = b"ENDSEC;\nEND-ISO"


def in_unit(text, *more, of=files.STEP_BOX):
    changed, count = re.subn(UNIT, lambda _: text.encode(), of)
    assert count
    return changed.replace(LAST, "".join(f"{each}\n" for each in more).encode() + LAST)


def converted(name, factor, base):
    """A conversion based unit as ISO 10303-41 writes it, over a metre with a prefix."""
    return (
        f"( CONVERSION_BASED_UNIT('{name}',#9001) LENGTH_UNIT() NAMED_UNIT(#9002) );",
        f"#9001=LENGTH_MEASURE_WITH_UNIT(LENGTH_MEASURE({factor}),#9003);",
        "#9002=DIMENSIONAL_EXPONENTS(1.,0.,0.,0.,0.,0.,0.);",
        f"#9003=( LENGTH_UNIT() NAMED_UNIT(*) SI_UNIT({base},.METRE.) );",
    )


INCH = converted("INCH", "25.4", ".MILLI.")


def by_factor(name, factor, base=".MILLI."):
    return in_unit(*converted(name, factor, base))


def of_size(mm, **more):
    return Truth(size=(10 * mm, 20 * mm, 30 * mm), volume=6000 * mm**3, area=2200 * mm**2, **more)


def with_more(*rows):
    return in_unit("( LENGTH_UNIT() NAMED_UNIT(*) SI_UNIT(.MILLI.,.METRE.) );", *rows)


def step(content, truth=BOXED, suffix=".step"):
    return Case(suffix=suffix, content=content if isinstance(content, Callable) else lambda: content, truth=truth)


DENSITY = (
    "#9100=( LENGTH_UNIT() NAMED_UNIT(*) SI_UNIT(.CENTI.,.METRE.) );",
    "#9101=( MASS_UNIT() NAMED_UNIT(*) SI_UNIT($,.GRAM.) );",
    "#9102=DERIVED_UNIT_ELEMENT(#9100,-3.);",
    "#9103=DERIVED_UNIT_ELEMENT(#9101,1.);",
    "#9104=DERIVED_UNIT((#9102,#9103));",
    "#9105=MEASURE_REPRESENTATION_ITEM('density',POSITIVE_RATIO_MEASURE(1.14),#9104);",
)
FONT = (
    "#9200=EXTERNAL_SOURCE(IDENTIFIER('fonts of the program'));",
    "#9201=EXTERNALLY_DEFINED_TEXT_FONT(IDENTIFIER('isonorm'),#9200);",
    "#9202=DRAUGHTING_PRE_DEFINED_TEXT_FONT('ISO 3098-1 font A');",
)
METRE_APART = ("#9300=( LENGTH_UNIT() NAMED_UNIT(*) SI_UNIT($,.METRE.) );",)
UNITS = {
    "an inch by its factor in metres": step(by_factor("INCH", "0.0254", "$"), of_size(25.4)),
    "an inch by its factor in centimetres": step(by_factor("INCH", "2.54", ".CENTI."), of_size(25.4)),
    "an inch of another name": step(by_factor("INCHES", "25.4"), of_size(25.4)),
    "an inch in German": step(by_factor("Zoll", "25.4"), of_size(25.4)),
    "an inch without a name": step(by_factor("", "25.4"), of_size(25.4)),
    "a foot by its factor in metres": step(by_factor("FOOT", "0.3048", "$"), of_size(304.8)),
    "a millimetre by its factor": step(by_factor("MILLIMETRE", "1.E-3", "$"), of_size(1)),
    "a millimetre that calls itself an inch": step(by_factor("INCH", "1."), of_size(1, may_refuse=True)),
    "an inch that calls itself a millimetre": step(by_factor("MILLIMETRE", "25.4"), of_size(25.4, may_refuse=True)),
    "a thousandth of an inch": step(by_factor("MIL", "0.0254"), of_size(0.0254, may_refuse=True)),
    "a unit of nobody": step(by_factor("SMOOT", "1702."), of_size(1702, may_refuse=True)),
    "a factor of nothing": step(by_factor("INCH", "0."), REFUSED),
    "a factor below nothing": step(by_factor("INCH", "-25.4"), REFUSED),
    "micrometres": step(in_unit("( LENGTH_UNIT() NAMED_UNIT(*) SI_UNIT(.MICRO.,.METRE.) );"), of_size(0.001, may_refuse=True)),
    "decimetres": step(in_unit("( LENGTH_UNIT() NAMED_UNIT(*) SI_UNIT(.DECI.,.METRE.) );"), of_size(100, may_refuse=True)),
    "the unit's parts in another order": step(in_unit("(NAMED_UNIT(*)LENGTH_UNIT()SI_UNIT(.CENTI.,.METRE.));"), of_size(10)),
    "a density per cubic centimetre": step(with_more(*DENSITY)),
    "a metre that nothing uses": step(with_more(*METRE_APART)),
    "an inch's density in a part of inches": step(by_factor("INCH", "25.4").replace(LAST, "\n".join(DENSITY).encode() + b"\n" + LAST), of_size(25.4)),
    "an uncertainty in metres": step(with_more(*METRE_APART).replace(b"LENGTH_MEASURE(1.E-07),#346", b"LENGTH_MEASURE(1.E-10),#9300"), EITHER),
    "fonts defined elsewhere": step(with_more(*FONT)),
    "a note and a dimension": step(with_more(*FONT, "#9400=DESCRIPTIVE_REPRESENTATION_ITEM('note','\\X2\\00D8\\X0\\ 8 H7 #77777');")),
}
TEXTS = {
    "Windows line ends": step(files.STEP_BOX.replace(b"\n", b"\r\n")),
    "old Macintosh line ends": step(files.STEP_BOX.replace(b"\n", b"\r"), EITHER),
    "all in one line": step(files.STEP_BOX.replace(b"\n", b" ")),
    "without spaces": step(re.sub(rb" = ", b"=", files.STEP_BOX)),
    "a line end behind": step(files.STEP_BOX + b"\n\n"),
    "zeros behind": step(files.STEP_BOX + b"\0" * 20, EITHER),
    "the mark of UTF-8 before it": step(b"\xef\xbb\xbf" + files.STEP_BOX, EITHER),
    "umlauts in the author's name": step(files.STEP_BOX.replace(b"'Author'", "'Jörg Übel'".encode("latin-1"))),
    "a later schema": step(files.STEP_BOX.replace(b"AUTOMOTIVE_DESIGN { 1 0 10303 214 1 1 1 1 }", b"AP242_MANAGED_MODEL_BASED_3D_ENGINEERING_MIM_LF { 1 0 10303 442 3 1 4 }")),
    "an ending in capitals": step(files.STEP_BOX, suffix=".STEP"),
    "a shell turned round": step(
        files.STEP_BOX.replace(b"('',#16)", b"('',#9500)").replace(LAST, b"#9500=ORIENTED_CLOSED_SHELL('',*,#16,.F.);\n" + LAST), EITHER
    ),
    "nothing in it": step(re.sub(rb"DATA;.*ENDSEC;", b"DATA;\nENDSEC;", files.STEP_BOX, flags=re.DOTALL), REFUSED),
    "a shape that is not there": step(files.STEP_BOX.replace(b"#17,#137,#237", b"#17,#137,#7777"), REFUSED),
    "cut in half": step(files.STEP_BOX[: len(files.STEP_BOX) // 2], REFUSED),
}


@cache
def cad():
    """The exact kernel, loaded where it is asked."""
    import build123d

    return build123d


def exported(make, **how):
    """What the kernel writes of a shape, when it is asked for."""

    def content():
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder) / "model.step"
            cad().export_step(make(cad()), str(path), **how)
            return path.read_bytes()

    return content


def together(*solids):
    return cad().Compound(children=list(solids))


def box(at=(0, 0, 0), size=(10, 20, 30)):
    return cad().Pos(*at) * cad().Box(*size)


def plate_and_pin(hole, across):
    """A plate 40 x 40 x 10 with a hole, and a pin of 20 length in it, through both sides."""
    return together(cad().Box(40, 40, 10) - cad().Cylinder(hole / 2, 10), cad().Cylinder(across / 2, 20))


def pinned(hole, across):
    return 16000 - np.pi * hole**2 / 4 * 10 + np.pi * across**2 / 4 * 20


def nested_thrice(b):
    inner = together(box((20, 0, 0)))
    middle = b.Compound(children=[b.Rot(0, 0, 90) * inner, box()])
    return b.Compound(children=[b.Pos(100, 0, 0) * middle, box((0, 200, 0))])


def reversed_box(b):
    return b.Solid(b.Solid.make_box(10, 20, 30).wrapped.Reversed())


ROUND = {"within": 0.004}  # sag 0.02 mm and 0.2 rad between neighbours
SOLIDS = {
    "a drilled plate in inches": step(
        lambda: in_unit(*INCH, of=exported(lambda b: b.Box(4, 3, 0.5) - b.Cylinder(0.5, 0.5))()),
        Truth(size=(101.6, 76.2, 12.7), volume=(6 - np.pi * 0.125) * 25.4**3, bodies=1, **ROUND),
    ),
    "two boxes by a face": step(exported(lambda b: together(box(), box((10, 0, 0)))), Truth(size=(20, 20, 30), volume=12000)),
    "two boxes by a part of a face": step(exported(lambda b: together(box(), box((10, 5, 5)))), Truth(size=(20, 25, 35), volume=12000)),
    "two boxes by an edge": step(exported(lambda b: together(box(), box((10, 20, 0)))), Truth(size=(20, 40, 30), volume=12000)),
    "two boxes by a corner": step(exported(lambda b: together(box(), box((10, 20, 30)))), Truth(size=(20, 40, 60), volume=12000)),
    "two boxes apart": step(exported(lambda b: together(box(), box((50, 0, 0)))), Truth(size=(60, 20, 30), volume=12000, area=4400, bodies=2)),
    "a pin with a tenth around it": step(exported(lambda b: plate_and_pin(10.2, 10)), Truth(size=(40, 40, 20), volume=pinned(10.2, 10), bodies=2, **ROUND)),
    "a pin that fills its hole": step(exported(lambda b: plate_and_pin(10, 10)), Truth(size=(40, 40, 20), volume=pinned(10, 10), **ROUND)),
    "a pin that is pressed in": step(exported(lambda b: plate_and_pin(9.9, 10)), Truth(size=(40, 40, 20), volume=16000 + np.pi * 250, may_withhold=True, **ROUND)),
    "a pin against the bottom of a blind hole": step(
        exported(lambda b: together(b.Box(40, 40, 10) - b.Pos(0, 0, 2) * b.Cylinder(5, 6), b.Pos(0, 0, 9) * b.Cylinder(5, 20))),
        Truth(size=(40, 40, 24), volume=16000 + np.pi * 25 * 14, **ROUND),
    ),
    "one box half in another": step(exported(lambda b: together(box(), box((5, 0, 0)))), Truth(size=(15, 20, 30), volume=9000, may_withhold=True)),
    "one box within another": step(exported(lambda b: together(box(), box(size=(2, 2, 2)))), Truth(may_withhold=True)),
    "a void": step(exported(lambda b: box() - box(size=(4, 4, 4))), Truth(volume=6000 - 64, area=2200 + 96, bodies=1)),
    "a solid loose in a void": step(exported(lambda b: together(box() - box(size=(4, 4, 4)), box(size=(2, 2, 2)))), Truth(volume=6000 - 64 + 8, area=2296 + 24, bodies=2)),
    "a solid inside out": step(exported(reversed_box), EITHER),
    "a solid inside out beside another": step(exported(lambda b: together(reversed_box(b), box((50, 0, 0)))), Truth(size=None, volume=12000, area=4400, may_refuse=True)),
    # Turned by a quarter the inner box stands at y 15..25, x -10..10; then all by 100 in x; the others' y from -10 to 210.
    "three assemblies deep": step(exported(nested_thrice), Truth(size=(115, 220, 30), volume=18000, may_withhold=True, within=1e-5)),
    "an open shell": step(exported(lambda b: b.Shell(box().faces()[:5])), Truth(size=(10, 20, 30), volume=None, may_refuse=True)),
    "only edges": step(exported(lambda b: b.Compound(children=[b.Edge.make_circle(5)])), REFUSED),
}
