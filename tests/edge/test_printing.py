"""`spares printing` and `spares beam`: what a part's print asks, and a hand formula."""

import pytest

from generator.edge.refusals import Ending

BEAM = ("beam", "--length", "40", "--width", "12", "--thickness", "3", "--force", "30", "--material")
RUN = "  - {{on: 2026-03-0{day}, part: EX-0001, revision: A, maker: bench, count: {day}, minutes: {minutes}, grams: {grams}}}\n"


def test_without_recorded_prints_the_time_is_a_guess(depot, spares):
    code, out, err = spares("printing", "EX-0001")
    assert (code, err) == (0, "")
    assert "Best pose: +z of the model up" in out
    assert "A guess: fewer than 6 prints of this process are recorded in prints.yml, so nobody has counted" in out
    assert "are those of the best pose, +z of the model up; the settings name none." in out
    assert "bench: room, long side across" in out


def test_recorded_prints_are_told_with_their_error(depot, spares):
    runs = "".join(RUN.format(day=day, minutes=20 + 10 * day, grams=day) for day in range(1, 8))
    (depot / "catalogue" / "prints.yml").write_text("prints:\n" + runs, encoding="utf-8")
    _, out, _ = spares("printing", "EX-0001")
    assert "Print time, one piece: about 30 min" in out
    assert "From 7 recorded prints; each foretold by all others, off by 0 %, and 7 of 7 lay within such a range." in out
    assert "Reckoned for material extrusion: minutes = " in out


def test_a_mistyped_run_is_named_and_left_out(depot, spares):
    runs = "".join(RUN.format(day=day, minutes=(20 + 10 * day) * (10 if day == 4 else 1), grams=day) for day in range(1, 9))
    (depot / "catalogue" / "prints.yml").write_text("prints:\n" + runs, encoding="utf-8")
    code, out, _ = spares("check")
    told = " ".join(out.split())
    assert code == 0
    assert "prints.yml:5:83: warning PRINT05: took 600 min, and by all other prints it would have been about 60 min" in told
    _, out, _ = spares("printing", "EX-0001")
    assert "From 7 recorded prints (1 more left out, see spares check)" in out
    assert "about 30 min" in out


def test_more_pieces_than_the_plate_has_room_for_are_named_and_left_out(depot, spares):
    runs = "".join(RUN.format(day=day, minutes=20 + 10 * day, grams=day) for day in range(1, 8))
    runs += RUN.format(day=8, minutes=90, grams=8).replace("count: 8", "count: 500")
    (depot / "catalogue" / "prints.yml").write_text("prints:\n" + runs, encoding="utf-8")
    _, out, _ = spares("check")
    told = " ".join(out.split())
    assert "prints.yml:9:71: warning PRINT05: tells 500 pieces, and bench has room for no more than" in told
    assert told.count("PRINT05") == 1
    _, out, _ = spares("printing", "EX-0001")
    assert "From 7 recorded prints; each foretold by all others, off by 0 %" in out


@pytest.mark.parametrize(
    ("slip", "says"),
    [
        ((", count: 2", ", count: none"), "prints.yml:3:71: error"),
        ((", minutes: 40", ""), "prints.yml:3:5: error"),
        (("{on: 2026-03-02", "{on: 2026-03-02, on: 2026-03-02"), "prints.yml:3:"),
        (("prints:\n", "prints: [\n"), "prints.yml:"),
        (("grams: 7}", "grams: 7}\n\t- x"), "prints.yml:"),
    ],
)
def test_one_mistake_in_prints_is_named_where_no_run_counts(depot, spares, slip, says):
    runs = "prints:\n" + "".join(RUN.format(day=day, minutes=20 + 10 * day, grams=day) for day in range(1, 8))
    assert slip[0] in runs
    (depot / "catalogue" / "prints.yml").write_text(runs.replace(*slip, 1), encoding="utf-8")
    code, out, _ = spares("printing", "EX-0001")
    assert code == Ending.PROBLEMS
    assert "A guess: prints.yml has a mistake, so none of its runs is counted." in out
    assert "because of it no run is counted" in out
    assert says in out
    assert "fewer than" not in out


def test_a_run_of_tomorrow_is_an_error_at_its_day(depot, spares):
    (depot / "catalogue" / "prints.yml").write_text("prints:\n" + RUN.format(day=1, minutes=30, grams=1).replace("2026-03", "2027-03"), encoding="utf-8")
    code, out, _ = spares("check")
    assert code == Ending.PROBLEMS
    assert "prints.yml:2:10: error PRINT04: is dated 2027-03-01, which is still to come" in out


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("makers: [bench]\n", "no_model: {because: bought}\n", "it is bought, so there is no model of it to print"),
        ("makers: [bench]\n", "makers: [nobody]\n", "names no maker that makers.yml knows"),
        ("name: Lid knob\n", "", "its part.yml cannot be read"),
        ("infill_percent: 100", "infill_percent: 20", "Taken as solid: the settings say 20 % infill and no wall_mm"),
    ],
)
def test_why_nothing_is_said_or_as_what_it_is_taken(depot, spares, old, new, says):
    folder = depot / "catalogue/parts/EX-0001-lid-knob"
    text = (folder / "part.yml").read_text("utf-8")
    assert old in text
    (folder / "part.yml").write_text(text.replace(old, new), encoding="utf-8")
    if "no_model" in new:
        (folder / "model.stl").unlink()
    _, out, _ = spares("printing", "EX-0001")
    assert says in out


def test_what_its_maker_does_not_print_is_a_warning_of_check(depot, spares):
    makers = depot / "catalogue" / "makers.yml"
    makers.write_text(makers.read_text("utf-8").replace("    order_at: print counter\n", "    order_at: print counter\n    rules: {min_wall_mm: 50}\n"), encoding="utf-8")
    _, out, _ = spares("check")
    assert "warning PRINT01" in out
    assert "bench prints none below 50 mm by its own rules" in out.replace("\n", " ")
    _, told, _ = spares("printing", "EX-0001")
    assert "bench from 50 mm (own rule)." in told


def test_a_beam_by_hand(depot, spares):
    """A fifth of the force of below: how far it bends needs a modulus, which petg.yml does not tell."""
    code, out, _ = spares(*BEAM, "petg", "--force", "6")
    assert code == Ending.PROBLEMS
    assert "stress at the root 13.3 MPa" in out
    assert "31 % of the tensile strength along the layers, 43 MPa" in out
    assert "tells no tensile_modulus_mpa" in out
    assert "across the layers (z) nothing is known, which is weaker" in out
    assert "no promise" in out


def test_outside_of_its_limits_no_figure_is_told(depot, spares):
    code, out, _ = spares(*BEAM, "petg")
    assert code == Ending.PROBLEMS
    assert "No figure" in out
    assert "It breaks by the formula: the stress at its root would reach the tensile strength" in out
    assert "66.7" not in out
    _, out, _ = spares(*BEAM, "petg", "--length", "9")
    assert "shorter than eight times its thickness" in out


@pytest.mark.parametrize(("given", "says"), [(("nylom",), "there is no material 'nylom'"), (("petg", "--force", "0"), "'0' is no number above zero")])
def test_what_cannot_be_reckoned_is_refused(depot, spares, given, says):
    code, _, err = spares(*BEAM, *given)
    assert code == Ending.MISUSE
    assert says in err
