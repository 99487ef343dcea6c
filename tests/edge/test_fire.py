"""`spares fire`: the fire evidence of a part or a material, in the words of the pages."""

import pytest

from generator.edge.refusals import Ending


@pytest.mark.parametrize("number", ["EX-0001", "ex-0001"])
def test_a_part_tells_need_tests_candidates_and_arithmetic(depot, spares, number):
    code, out, err = spares("fire", number)
    assert (code, err) == (0, "")
    lines = [line.strip() for line in out.splitlines()]
    assert "EX-0001 Lid knob" in lines
    assert "A1 11–14 · Driver's cab" in lines
    assert "Hazard level: HL2: operation category 2, design category N, standard" in lines
    assert any(line.startswith("passes  T01, EN ISO 4589-2, oxygen index (") for line in lines)
    assert any(line.startswith("Needed: ≥ 28 % (R22 at HL2, ") for line in lines)
    assert "Sets that could be meant here, and what burns here:" in lines
    assert any(line.startswith("EX-0001 Lid knob: ") and " g/cm³ × 2 = " in line for line in lines)
    assert any(line.startswith("Together, counted up: ") for line in lines)
    assert "the fire engineer decides" in lines[-1]


@pytest.mark.parametrize("name", ["petg", "PETG"])
def test_a_material_tells_its_results_and_what_rests_on_them(depot, spares, name):
    code, out, err = spares("fire", name)
    assert (code, err) == (0, "")
    assert "T01, EN ISO 4589-2, oxygen index: " in out
    assert "held against the limits of each place" in out
    assert "EX-0001 Lid knob, A1 11–14 · Driver's cab: R22 T01, " in out
    assert "Last day: 30 Sep 2027" in out


@pytest.mark.parametrize(("name", "near"), [
    ("EX-0009", "did you mean EX-000"),
    ("petgg", "did you mean petg"),
    ("zzzz", "name a part's number, or a file of materials/ without its ending"),
])  # fmt: skip
def test_an_unknown_name_gives_one_message_with_what_comes_near(depot, spares, name, near):
    code, out, err = spares("fire", name)
    assert (code, out) == (Ending.MISUSE, "")
    assert err.startswith(f"spares: there is no part and no material {name}\n  mend: {near}")


def test_a_material_that_cannot_be_read_is_not_called_unknown(depot, spares):
    file = depot / "catalogue/materials/petg.yml"
    file.write_text(file.read_text("utf-8").replace("name: PETG", "name: [PETG]"), "utf-8")
    code, _, err = spares("fire", "PETG")
    assert code == Ending.PROBLEMS
    assert err == (
        "spares: materials/petg.yml has mistakes, so that nothing is known of the material\n"
        "  mend: spares check names each with its line and mend\n"
    )


def test_a_part_that_cannot_be_read_names_its_mistakes(depot, spares):
    file = depot / "catalogue/parts/EX-0001-lid-knob/part.yml"
    file.write_text(file.read_text().replace("name: Lid knob", "name: [Lid]"))
    code, out, _ = spares("fire", "EX-0001")
    assert code == 0
    assert "error REC03" in out


def test_what_else_it_could_be_made_of_is_told_only_where_it_is_not_answered(depot, spares):
    assert "What else it could be made of" not in spares("fire", "EX-0001")[1]
    file = depot / "catalogue/materials/petg.yml"
    file.write_text("".join(line for line in file.read_text("utf-8").splitlines(keepends=True) if "test: T01" not in line), "utf-8")
    code, out, _ = spares("fire", "EX-0001")
    told = out.split("What else it could be made of\n")[1]
    assert code == 0
    assert told.startswith("  Not answered as it is: A1 Driver's cab. ")
    assert "would pass  PETG, new, The bench\n  Mass: 10.16 g → 10.24 g (0.08 g more)\n" in told
