"""`spares printing` and `spares beam`: what a part's print asks, and a hand formula."""

import pytest

from generator.edge.refusals import Ending

BEAM = ("beam", "--length", "40", "--width", "12", "--thickness", "3", "--force", "30", "--material")
RUN = "  - {{on: 2026-03-0{day}, part: EX-0001, revision: A, maker: bench, count: {day}, minutes: {minutes}, grams: {grams}}}\n"


def test_without_recorded_prints_the_time_is_a_guess(depot, spares):
    code, out, err = spares("printing", "EX-0001")
    assert (code, err) == (0, "")
    assert "Best pose: +z of the model up" in out
    assert "A guess: fewer than 6 prints of this process are recorded in prints.yml." in out
    assert "bench: room, long side across" in out


def test_recorded_prints_are_told_with_their_error(depot, spares):
    runs = "".join(RUN.format(day=day, minutes=20 + 10 * day, grams=day) for day in range(1, 8))
    (depot / "catalogue" / "prints.yml").write_text("prints:\n" + runs, encoding="utf-8")
    _, out, _ = spares("printing", "EX-0001")
    assert "Print time, one piece: about 30 min" in out
    assert "From 7 recorded prints; each foretold by all others, off by 0 %." in out
    assert "Reckoned for material extrusion: minutes = " in out


def test_what_its_maker_does_not_print_is_a_warning_of_check(depot, spares):
    makers = depot / "catalogue" / "makers.yml"
    makers.write_text(makers.read_text("utf-8").replace("    order_at: print counter\n", "    order_at: print counter\n    rules: {min_wall_mm: 50}\n"), encoding="utf-8")
    _, out, _ = spares("check")
    assert "warning PRINT01" in out
    assert "bench prints none below 50 mm by its own rules" in out.replace("\n", " ")
    _, told, _ = spares("printing", "EX-0001")
    assert "bench from 50 mm (own rule)." in told


def test_a_beam_by_hand(depot, spares):
    """60 % of the strength that petg.yml tells; how far it bends needs a modulus, which it does not tell."""
    code, out, _ = spares(*BEAM, "petg")
    assert code == Ending.PROBLEMS
    assert "stress at the root 66.7 MPa" in out
    assert "155 % of the tensile strength along the layers, 43 MPa" in out
    assert "by the formula it breaks" in out
    assert "tells no tensile_modulus_mpa" in out
    assert "across the layers (z) nothing is known, which is weaker" in out
    assert "no promise" in out


@pytest.mark.parametrize(("given", "says"), [(("nylom",), "there is no material 'nylom'"), (("petg", "--force", "0"), "'0' is no number above zero")])
def test_what_cannot_be_reckoned_is_refused(depot, spares, given, says):
    code, _, err = spares(*BEAM, *given)
    assert code == Ending.MISUSE
    assert says in err
