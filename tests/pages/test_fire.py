"""What a fire engineer looks for: the need with its reasons, each test with what was found, and what rests on each paper."""

import html
import re
from pathlib import Path
from shutil import copytree, rmtree
from typing import Any

import pytest
import yaml

from generator.pages.fire import could_lines
from generator.pages.site import site
from tests.pages.conftest import HOSTILE, _with_on
from tests.pages.sample import CATALOGUE, DAY, judged_sample

LATCH, VANE = "parts/P-0001-latch", "parts/P-0004-vane"


class Depot:
    """A copy of the sample whose parts nobody has approved: what is recorded now is what is judged."""

    def __init__(self, folder: Path) -> None:
        self.root = Path(copytree(CATALOGUE, folder))
        for approval in self.root.glob("parts/*/approval.yml"):
            approval.unlink()
        self.result(1, thickness_mm=10)  # the model of the sample is up to 10 mm thick

    def edit(self, file: str, **change: Any) -> None:
        path = self.root / file
        content = _with_on(yaml.safe_load(path.read_text(encoding="utf-8")))
        path.write_text(yaml.safe_dump(content | change, allow_unicode=True, sort_keys=False), encoding="utf-8")

    def read(self, file: str) -> dict[str, Any]:
        return _with_on(yaml.safe_load((self.root / file).read_text(encoding="utf-8")))

    def report(self, **change: Any) -> None:
        told = self.read("materials/plain.yml")["fire_tests"][0] | change
        self.edit("materials/plain.yml", fire_tests=[{key: value for key, value in told.items() if value is not None}])

    def result(self, number: int, **change: Any) -> None:
        results = self.read("materials/plain.yml")["fire_tests"][0]["results"]
        results[number] |= change
        self.report(results=[{key: value for key, value in each.items() if value is not None} for each in results])

    def fire(self, **change: Any) -> None:
        told = self.read(f"{LATCH}/part.yml")["fire"] | change
        self.edit(f"{LATCH}/part.yml", fire={key: value for key, value in told.items() if value is not None})

    def fleet(self, **change: Any) -> None:
        self.edit("fleets.yml", fleets=[self.read("fleets.yml")["fleets"][0] | change])

    def page(self, path: str = "parts/P-0001.md") -> str:
        catalogue, sheets, problems = judged_sample(self.root)
        return next(each.text for each in site(catalogue, sheets, problems, DAY, lambda _front, _wanted: {}).pages if each.path == path)

    def section(self) -> str:
        """The section on fire, as it stands in the page."""
        return self.page().split('id="fire">Fire</span></summary>\n')[1].split('<details class="earlier folded"')[0]

    def rows(self) -> list[list[str]]:
        """Each row of the table of results as its cells."""
        table = self.section().split('<div class="fires">')[1].split("</table>")[0]
        return [[text(cell) for cell in re.findall(r"<td.*?</td>", row, re.DOTALL)] for row in table.split("<tr>")[2:]]


def text(marked: str) -> str:
    """What a reader sees of it, on one line."""
    return " ".join(html.unescape(re.sub(r"<[^>]*>", " ", marked)).split())


@pytest.fixture
def depot(tmp_path: Path) -> Depot:
    return Depot(tmp_path / "catalogue")


def test_each_test_tells_need_result_margin_specimen_part_and_verdict(depot):
    assert depot.rows() == [
        [
            "T01, EN ISO 4589-2 oxygen index Plain plastic",
            "≥ 28 % R22 at HL2, two sources agree, S1 S2",
            "31.2 % 3.2 percentage points to spare",
            "1.5 mm, layers along the face, layers across the face, solid material extrusion, natural, type 1 FR-1, Laboratory tested 1 Feb 2024, last day 1 Feb 2030",
            "2 mm to 10 mm material extrusion, natural, type 1",
            "passes",
        ],
        [
            "T10.03, EN ISO 5659-2 smoke, Ds max at 25 kW/m² with pilot flame Plain plastic",
            "≤ 300 R22 at HL2, two sources agree, S1 S2",
            "210 90 to spare",
            "10 mm, layers along the face, layers across the face, solid material extrusion, natural, type 1 FR-1, Laboratory tested 1 Feb 2024, last day 1 Feb 2030",
            "2 mm to 10 mm material extrusion, natural, type 1",
            "passes",
        ],
        [
            "T12, NF X70-100 toxic gases, CITNLP at 600 °C Plain plastic",
            "≤ 0.9 R22 at HL2, two sources agree, S1 S2",
            "0.4 0.5 to spare",
            "1 g material extrusion, natural, type 1 FR-1, Laboratory tested 1 Feb 2024, last day 1 Feb 2030",
            "thickness does not count, the method goes by mass material extrusion, natural, type 1",
            "passes",
        ],
    ]


def test_a_result_at_its_limit_is_just_met_and_one_below_it_fails(depot):
    depot.result(0, value=28)
    assert depot.rows()[0][2::3] == ["28 % just met", "passes"]
    depot.result(0, value=27.9)
    assert depot.rows()[0][2::3] == ["27.9 % misses by 0.1 percentage points", "fails"]


def test_a_class_is_told_as_a_class(depot):
    depot.fire(requirement_set="R26", product="EL10", electrotechnical=True)
    told = {"test": "T17", "method": "EN 60695-11-10", "value": "V-1", "unit": "class", "thickness_mm": 1.5, "layers": ["along", "across"], "infill_percent": 100}
    depot.report(results=[told])
    (row,) = depot.rows()
    assert (row[1].split(" R26")[0], row[2], row[5]) == ("V-0 or better", "V-1 misses by 1 class", "fails")


@pytest.mark.parametrize(("change", "why"), [
    ({"colour": "red"}, "another colour"),
    ({"process": None}, "nobody has said by which"),
    ({"lot_family": "type 2"}, "another formulation"),
    ({"accreditation": None}, "the laboratory's accreditation is not noted"),
    ({"accepted_by": None}, "nobody has said that the report is accepted"),
    ({"standard": "EN 45545-2:2013"}, "tested by another edition of the standard"),
])  # fmt: skip
def test_what_differs_asks_and_says_in_words_what(depot, change, why):
    depot.report(**change)
    for row in depot.rows():
        assert row[5].startswith("ask ")
        assert why in row[5]


@pytest.mark.parametrize(("change", "why"), [
    ({"unit": "cm"}, "in another unit"),
    ({"method": "ISO 1"}, "by another method"),
    ({"thickness_mm": 3}, "outside the tested thickness"),
])  # fmt: skip
def test_what_proves_nothing_is_missing_and_says_why(depot, change, why):
    depot.report(requirement_set=None, hazard_level=None, thickness_mm=None)
    depot.result(0, **change)
    row = depot.rows()[0]
    assert (row[2], row[3], row[5]) == ("no result", "–", f"missing {why}")


def test_what_a_report_only_states_is_told_so(depot):
    depot.report(results=None)
    row = depot.rows()[0]
    assert row[2] == "stated as met, no result shown"
    assert row[5] == "ask the report only states that it is met; no result is shown"


def test_the_need_tells_its_level_its_set_who_chose_it_and_by_which_note(depot):
    told = text(depot.section())
    for each in (
        "Hazard level HL2: operation category 2, design category N, standard",
        "Requirement set R22: small interior parts",
        "(read in a secondary source, S1 S2)",
        "Chosen by Reviewer", "Note of the choice fire note N-1, 1 Jun 2025", "Reason Small part, grouped.", "Edition of the choice 2020+A1:2023",
        "Product of Table 2 not listed",
        "the fire engineer decides", "Read your own copy of the standard",
    ):  # fmt: skip
        assert each in told
    assert 'href="P-0001/documents/fire-note.txt.html"' in depot.section()
    assert 'href="../materials/documents/report.txt.html"' in depot.section()
    assert 'href="../materials/plain.html"' in depot.section()


def test_the_fleets_own_cell_of_the_hazard_table_is_marked_in_words(depot):
    assert re.findall(r"<b>(HL\d, this fleet)</b>", depot.section()) == ["HL2, this fleet"]
    depot.fleet(operation_category=4, design_category="S")
    assert re.findall(r"<b>(HL\d, this fleet)</b>", depot.section()) == ["HL3, this fleet"]
    last = depot.section().split('<th scope="row">4</th>')[1].split("</tr>")[0]
    assert last.endswith("<td><b>HL3, this fleet</b></td>")


def test_a_choice_without_its_note_is_asked_about(depot):
    depot.fire(reference=None, on=None, evidence=None)
    told = text(depot.section())
    assert "Ask the fire engineer: no note is kept in which the fire engineer chose" in told
    assert "No note is kept in which the fire engineer chose." in told


def test_an_older_rule_shows_no_limit_and_no_candidate(depot):
    depot.fleet(fire_rule="DIN 5510-2")
    told = depot.section()
    assert "The fleet was approved to DIN 5510-2. That rule is never read as the European one" in text(told)
    assert 'class="fires"' not in told
    assert "Sets that could be meant" not in told
    assert "this fleet</b>" not in told


def test_what_asks_nothing_says_so(depot):
    depot.fire(requirement_set=None, asks_nothing="no requirement", reason="Behind a steel door.")
    told = text(depot.section())
    assert "The standard asks nothing here." in told
    assert "Reason Behind a steel door." in told
    assert 'class="fires"' not in depot.section()


def test_a_statement_is_told_with_its_day_and_file(depot):
    note = depot.read(f"{LATCH}/part.yml")["fire"]["evidence"]
    depot.fire(exemption={"reference": "N-9", "by": "reviewer", "on": "2026-01-05", "valid_until": "2030-01-05", "evidence": note})
    told = text(depot.section())
    assert "No test is asked here, by the fire engineer's statement." in told
    assert "Statement that no test is asked N-9, Reviewer, 5 Jan 2026, last day 5 Jan 2030" in told


def test_where_nobody_has_said_what_is_asked_it_says_that(depot):
    part = depot.read(f"{LATCH}/part.yml")
    del part["fire"]
    (depot.root / LATCH / "part.yml").write_text(yaml.safe_dump(part), encoding="utf-8")
    told = text(depot.section())
    assert "Nobody has said what the fire standard asks here." in told
    assert "Sets that could be meant here" in told  # just where somebody has to choose


def test_places_that_stand_alike_are_told_once(depot):
    places = depot.read("fleets.yml")["fleets"][0]["places"]
    depot.fleet(places=[*places, {"id": "hall", "name": "Hall", "area": "interior", "largest_mm": 100}])
    fits = [{"fleet": "F1", "place": place, "per_vehicle": 2} for place in ("cab", "hall", "roof")]
    depot.edit(f"{VANE}/part.yml", fits=[{"fleet": "F1", "place": "roof", "per_vehicle": 1}])
    depot.edit(f"{LATCH}/part.yml", fits=fits)
    heads = [text(each) for each in re.findall(r"<h3>.*?</h3>", depot.section())]
    assert heads == ["F1 1–4 · Cab F1 1–4 · Hall", "F1 1–4 · Roof"]


def test_the_arithmetic_of_the_group_stands_below_what_could_be_meant(depot):
    """2 latches and 2 vanes of 8 cm³ at 1 g/cm³: 32 g; their surfaces 4 × 2 800 mm² = 0.0112 m²."""
    told = text(depot.section())
    assert "No test, a candidate for exemption, which the fire engineer confirms: the group weighs 32 g, below 100 g." in told
    assert "P-0001 Latch: 8 cm³ × 1 g/cm³ × 2 = 16 g; exposed 2,800 mm² × 2 = 0.0056 m²" in told
    assert "P-0004 Vane: 8 cm³ × 1 g/cm³ × 2 = 16 g" in told
    assert "Together, counted up: 32 g and 0.0112 m² exposed" in told


def test_of_very_many_at_one_place_the_lightest_are_told_as_one_sum(depot, monkeypatch):
    """As above; of the vane beside it only the sum stands there, 16 g and 2 × 2 800 mm², and the whole stays the whole."""
    monkeypatch.setattr(could_lines, "MOST_NAMED", 0)
    told = text(depot.section())
    assert "P-0001 Latch: 8 cm³" in told
    assert "P-0004 Vane: 8 cm³" not in told
    assert "1 more part of the catalogue, together, counted up: 16 g and 0.0056 m² exposed" in told
    assert "Together, counted up: 32 g and 0.0112 m² exposed" in told


def test_another_set_than_the_tables_suggest_is_told_in_the_open(depot):
    """0.3 m² exposed ask for surfaces, R1 (clause 4, see standards/en-45545-2.yml); the engineer chose R22."""
    says = "suggest R1; the fire engineer's choice: R22."
    assert says not in text(depot.section())
    depot.fire(exposed_area_m2=0.3)
    shown = depot.section().split('<details class="earlier could">')[0]
    assert says in text(shown)
    depot.fire(requirement_set="R1")
    assert "suggest" not in text(depot.section().split('<details class="earlier could">')[0])


def test_nothing_asked_where_the_tables_suggest_a_set_is_told_in_the_open(depot):
    depot.fire(requirement_set=None, asks_nothing="no requirement", exposed_area_m2=0.3)
    assert "suggest R1; the fire engineer's choice: The standard asks nothing here." in text(depot.section())


def test_a_broken_file_of_the_standard_is_named_as_the_cause(depot):
    """Not "another edition": which one is wanted, nobody can tell."""
    (depot.root / "standards").mkdir()
    (depot.root / "standards/en-45545-2.yml").write_text("standard: EN 45545-2\n", encoding="utf-8")
    told = text(depot.section())
    assert "the depot's own notes of the standard have mistakes" in told
    assert "another edition" not in told
    assert "we hold no figures" not in told


def test_hostile_words_of_a_report_stay_words(depot):
    depot.report(report=HOSTILE, laboratory=HOSTILE, colour=HOSTILE, lot_family=HOSTILE, accreditation=HOSTILE)
    depot.result(0, unit=HOSTILE[:20])
    depot.fire(reason=HOSTILE, reference=HOSTILE)
    for path in ("parts/P-0001.md", "materials/plain.md", "evidence.md"):
        page = depot.page(path)
        assert "<script>" not in page
        assert "](javascript:" not in page
        assert text(HOSTILE.replace("<", "&lt;").replace(">", "&gt;")) in text(page)


def test_the_page_of_a_material_tells_each_result_and_what_it_proves(depot):
    depot.result(0, unit="cm")
    told = text(depot.page("materials/plain.md"))
    for each in (
        "Laboratory Laboratory", "Accreditation L-1", "Held against EN 45545-2:2020+A1:2023", "Accepted by Reviewer", "Last day 1 Feb 2030",
        "T01, EN ISO 4589-2 oxygen index 31.2 cm 1.5 mm, layers along the face, layers across the face, solid nothing: in another unit",
        "T12, NF X70-100 toxic gases, CITNLP at 600 °C 0.4 1 g held against the limits of each place",
        "C-1 (type 3.1), of the feedstock", "10 Jan 2030", "P-0001 Latch F1 1–4 · Cab",
    ):  # fmt: skip
        assert each in told


def test_the_page_of_a_material_marks_a_result_that_fails_somewhere(depot):
    assert "fails" not in text(depot.page("materials/plain.md"))
    depot.result(0, value=10)
    assert "solid fails ≥ 28 % of R22, HL2" in text(depot.page("materials/plain.md"))


def test_the_evidence_page_tells_what_rests_on_a_statement_and_until_when(depot):
    assert "Statements of the fire engineer" not in depot.page("evidence.md")
    note = depot.read(f"{LATCH}/part.yml")["fire"]["evidence"]
    depot.fire(exemption={"reference": "N-9", "by": "reviewer", "on": "2026-01-05", "valid_until": "2030-01-05", "evidence": note})
    told = text(depot.page("evidence.md").split("Statements of the fire engineer")[1])
    assert "N-9, Reviewer, 5 Jan 2026 5 Jan 2030 P-0001 Latch F1 1–4 · Cab" in told


def test_a_paper_that_is_other_than_recorded_says_that_it_proves_nothing(depot):
    assert "proves nothing" not in depot.page("materials/plain.md")
    (depot.root / "materials/documents/report.txt").write_text("another", encoding="utf-8")
    assert "it proves nothing" in depot.page("materials/plain.md")
    assert "it proves nothing" in depot.page("evidence.md")


def test_the_page_of_a_material_that_lost_its_part_still_stands(depot):
    rmtree(depot.root / LATCH)
    assert "Plain plastic" in depot.page("materials/plain.md")


def test_the_evidence_page_is_reached_from_parts_materials_approvals_and_states(depot):
    for path in ("parts/P-0001.md", "materials/plain.md", "approvals.md", "states.md"):
        assert "evidence.md)" in depot.page(path)
    assert "(materials/plain.html)" in depot.page("evidence.md") or 'href="materials/plain.html"' in depot.page("evidence.md")


def test_the_evidence_page_tells_what_rests_on_each_paper(depot):
    told = text(depot.page("evidence.md"))
    assert "Fire test report FR-1, Laboratory Plain plastic 1 Feb 2030" in told
    assert "P-0001 Latch F1 1–4 · Cab: R22 T01, T10.03, T12" in told
    assert "Certificate C-1 (type 3.1)" in told
    depot.result(0, value=10)
    assert "a result of it fails there" in text(depot.page("evidence.md"))
