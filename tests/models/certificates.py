"""What stands in the papers of a material: inspection documents and fire test reports."""

from __future__ import annotations

from generator.records.fire import FireTest
from generator.records.materials import Certificate, InspectionDocument, Material
from tests.models.letters import GREEN, Letter, letter_pdf

TITLES = {
    InspectionDocument.DECLARATION: "Declaration of compliance 2.1",
    InspectionDocument.TEST_REPORT: "Test report 2.2",
    InspectionDocument.CERTIFICATE_3_1: "Inspection certificate 3.1",
    InspectionDocument.CERTIFICATE_3_2: "Inspection certificate 3.2",
}

# Test, unit, limit at HL2, limit at HL3, whether the limit is a least value; requirement sets of EN 45545-2:2020.
# Limits of R22 and R23 as quoted by secondary sources; R1, R24 and R26 from memory. The results are invented.
_OXYGEN = ("Oxygen index, EN ISO 4589-2", "%", 28.0, 32.0, True)
_LIMITS: dict[str, tuple[tuple[str, str, float, float, bool], ...]] = {
    "R1": (
        ("CFE, ISO 5658-2", "kW/m²", 20.0, 20.0, True),
        ("MARHE at 50 kW/m², ISO 5660-1", "kW/m²", 90.0, 60.0, False),
        ("Ds(4), EN ISO 5659-2", "-", 300.0, 150.0, False),
        ("VOF4, EN ISO 5659-2", "min", 600.0, 300.0, False),
        ("CIT G, EN ISO 5659-2", "-", 0.9, 0.75, False),
    ),
    "R22": (
        _OXYGEN,
        ("Ds max at 25 kW/m² with pilot flame, EN ISO 5659-2", "-", 300.0, 150.0, False),
        ("CIT NLP, tube furnace 600 °C", "-", 0.9, 0.75, False),
    ),
    "R23": (
        _OXYGEN,
        ("Ds max at 25 kW/m² with pilot flame, EN ISO 5659-2", "-", 600.0, 300.0, False),
        ("CIT NLP, tube furnace 600 °C", "-", 1.8, 1.5, False),
    ),
    "R24": (_OXYGEN,),
}


def certificate_pdf(material: Material, certificate: Certificate) -> bytes:
    """The inspection document of one lot."""
    properties = material.properties
    rows = [("Property", "Method", "Result", "Unit")]
    measured = (
        ("Density", "ISO 1183-1", material.density_g_cm3, "g/cm³"),
        ("Tensile strength", "ISO 527-2", properties.tensile_strength_mpa, "MPa"),
        ("Tensile strength, z", "ISO 527-2", properties.tensile_strength_z_mpa, "MPa"),
        ("Tensile modulus", "ISO 527-2", properties.tensile_modulus_mpa, "MPa"),
        ("Heat deflection, 0.45 MPa", "ISO 75-2", properties.heat_deflection_c, "°C"),
    )
    rows += [
        (name, method, f"{value:g}", unit) for name, method, value, unit in measured if value is not None
    ]
    specific = certificate.type in {InspectionDocument.CERTIFICATE_3_1, InspectionDocument.CERTIFICATE_3_2}
    basis = "tests on this lot" if specific else "tests of current production, not of this lot"
    return letter_pdf(
        Letter(
            house="Maker of the material (invented)",
            title=f"{TITLES[certificate.type]} - {material.name}",
            rows=[
                ("Reference", certificate.reference),
                ("Date", certificate.issued_on.isoformat()),
                ("Material", f"{material.name} ({material.family})"),
                ("Kind", f"EN 10204:2004, type {certificate.type}, used for plastics by analogy"),
            ],
            paragraphs=(
                f"We confirm that what was delivered is as ordered. The results rest on {basis}:",
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
                ("Tested", test.tested_on.isoformat()),
                ("Valid until", test.valid_until.isoformat() if test.valid_until else "no end given"),
                ("Standard", test.standard),
                ("Requirement set", test.requirement_set),
                ("Specimen", f"plates {test.thickness_mm:g} mm thick, printed solid"),
            ],
            paragraphs=(
                "Results, the mean of three specimens:",
                (
                    f"The material meets {test.requirement_set} up to {test.hazard_level} at a thickness of "
                    f"{test.thickness_mm:g} mm and more. Thinner parts are not covered."
                ),
            ),
            signed=f"Laboratory, {test.tested_on.isoformat()}",
            stamp=f"{test.requirement_set} {test.hazard_level} PASSED",
            ink=GREEN,
            table=_results(material, test),
        )
    )


def _results(material: Material, test: FireTest) -> tuple[tuple[str, ...], ...]:
    if test.requirement_set == "R26":
        return (("Test", "Class", "Needed"), ("Vertical flame, EN 60695-11-10", "V-0", "V-0"))
    strictest = test.hazard_level == "HL3"
    rows = [("Test", "Result", "Needed", "Unit")]
    for i, (name, unit, hl2, hl3, least) in enumerate(_LIMITS[test.requirement_set]):
        limit = hl3 if strictest else hl2
        share = 1.14 + 0.03 * i if least else 0.62 + 0.06 * i
        value = limit * share
        if name.startswith("Oxygen"):
            value = material.properties.limiting_oxygen_index_percent or limit
        needed = f"{'at least' if least else 'at most'} {limit:g}"
        rows.append((name, f"{value:.2f}" if limit < 2 else f"{value:.4g}", needed, unit))
    return tuple(rows)
