"""What stands in the papers of a material: inspection documents and fire test reports."""

from __future__ import annotations

from generator.records.fire import FireTest
from generator.records.inspection import InspectionDocument, SpeaksOf
from generator.records.materials import Certificate, Material
from tests.models.letters import GREEN, Letter, letter_pdf

TITLES = {
    InspectionDocument.DECLARATION: "Declaration of compliance 2.1",
    InspectionDocument.TEST_REPORT: "Test report 2.2",
    InspectionDocument.CERTIFICATE_3_1: "Inspection certificate 3.1",
    InspectionDocument.CERTIFICATE_3_2: "Inspection certificate 3.2",
}


def certificate_pdf(material: Material, certificate: Certificate) -> bytes:
    """The inspection document of one lot."""
    properties = material.properties
    rows = [("Property", "Method", "Result", "Unit")]
    density, pull = ("ISO 1183-1", "ISO 527-2") if material.combustible else ("ISO 3369", "ISO 6892-1")
    measured = (
        ("Density", density, material.density_g_cm3, "g/cm³"),
        ("Tensile strength", pull, properties.tensile_strength_mpa, "MPa"),
        ("Tensile strength, z", pull, properties.tensile_strength_z_mpa, "MPa"),
        ("Tensile modulus", pull, properties.tensile_modulus_mpa, "MPa"),
        ("Heat deflection, 0.45 MPa", "ISO 75-2", properties.heat_deflection_c, "°C"),
    )
    rows += [
        (name, method, f"{value:g}", unit) for name, method, value, unit in measured if value is not None
    ]
    specific = certificate.type in {InspectionDocument.CERTIFICATE_3_1, InspectionDocument.CERTIFICATE_3_2}
    analogy = ", used for plastics by analogy" if material.combustible else ""  # EN 10204 is a standard for metals
    of_coupons = certificate.speaks_of is SpeaksOf.COUPONS
    basis = "tests on this lot" if specific else "tests of current production, not of this lot"
    basis = "coupons that were printed with the parts" if of_coupons else basis
    return letter_pdf(
        Letter(
            house=certificate.issued_by or "Maker of the material (invented)",
            title=f"{TITLES[certificate.type]} - {material.name}{', printed coupons' if of_coupons else ''}",
            rows=[
                ("Reference", certificate.reference),
                ("Date", certificate.issued_on.isoformat()),
                ("Material", f"{material.name} ({material.family})"),
                ("Kind", f"EN 10204:2004, type {certificate.type}{analogy}"),
            ],
            paragraphs=(
                f"We confirm that what was {'printed' if of_coupons else 'delivered'} is as ordered. The results rest on {basis}:",
                "Bars printed flat; z is across the layers.",
            ),
            signed=f"Inspection, {certificate.issued_on.isoformat()}",
            stamp=f"TYPE {certificate.type}",
            table=tuple(rows),
        )
    )


def fire_report_pdf(material: Material, test: FireTest) -> bytes:
    """The summary page of a fire test report."""
    return letter_pdf(
        Letter(
            house=test.laboratory,
            title=f"Fire test report - {material.name}",
            rows=[
                ("Report", test.report),
                ("Laboratory", f"accredited, {test.accreditation}" if test.accreditation else "no accreditation given"),
                ("Tested", test.tested_on.isoformat()),
                ("Accepted until", test.valid_until.isoformat() if test.valid_until else "no end given"),
                ("Standard", test.standard),
                ("Specimens", _specimens(material, test)),
            ],
            paragraphs=_found(test),
            signed=f"Laboratory, {test.tested_on.isoformat()}",
            stamp=f"{test.requirement_set} {test.hazard_level} PASSED" if test.requirement_set else "RESULTS",
            ink=GREEN,
            table=_results(test),
        )
    )


def _specimens(material: Material, test: FireTest) -> str:
    return f"{test.colour or 'colour not given'}, {test.process or 'process not given'}, {material.family} {test.lot_family or ''}".strip()


def _found(test: FireTest) -> tuple[str, ...]:
    told = ["Results, the mean of three specimens:"] if test.results else []
    if test.requirement_set and test.thickness_mm:
        told.append(
            f"The material meets {test.requirement_set} up to {test.hazard_level} at a thickness of {test.thickness_mm:g} mm and "
            "more. Thinner parts are not covered."
        )
    return tuple(told)


def _results(test: FireTest) -> tuple[tuple[str, ...], ...]:
    rows = [("Test", "Method", "Result", "Specimen", "Layers")]
    for each in test.results:
        value = each.value if isinstance(each.value, str) else f"{each.value:g}"
        unit = "" if each.unit in ("-", "class") else f" {each.unit}"
        size = f"{each.thickness_mm:g} mm" if each.thickness_mm else f"{each.mass_g:g} g"
        infill = "" if each.infill_percent in (None, 100) else f", infill {each.infill_percent:g} %"
        rows.append((each.test, each.method, f"{value}{unit}".replace("²", "2"), f"{size}{infill}", " and ".join(each.layers) or "-"))
    return tuple(rows) if test.results else ()
