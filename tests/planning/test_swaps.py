"""Of what else could it be made? Judged by the rules; masses and prices by hand."""

from dataclasses import replace
from datetime import date

import pytest

from generator.planning.swaps import unanswered
from generator.records.fire import AsksNothing
from generator.records.makers import PriceRule, Process
from generator.records.materials import Properties
from generator.rules.verdicts import Verdict
from tests.planning.fire_scene import (
    AT_HL1,
    AT_HL2,
    COPY,
    certificate,
    cube,
    depot,
    fire,
    full,
    judged,
    maker,
    material,
    part,
    report,
    result,
)

SINTERED = Process.POWDER_BED_FUSION
WEAK = report("weak", result("T01", 28.0, 1.0), result("T10.03", 450.0, 6.0), result("T12", 0.9))


def looked_for(catalogue, worked=None):
    return list(unanswered(judged(catalogue, worked=worked), catalogue, COPY))


def told(catalogue):
    (one,) = looked_for(catalogue)
    return [(each.material, each.maker.id, each.word) for each in one.swaps]


def two(own=(), other=(), makers=None, folder=None, **made):
    return depot([folder or part("P-1")], {"petg": material(*own), "other": material(*other, **made)}, makers)


def test_a_part_that_is_answered_needs_nothing_else():
    assert looked_for(two(own=[full("F")], other=[full("G")])) == []


def test_what_passes_at_each_place_is_offered():
    assert told(two(other=[full("G")])) == [("other", "bench", Verdict.FIT_IT)]


def test_none_is_told_as_none():
    (one,) = looked_for(two())
    assert one.swaps == ()
    assert [fit.place for fit in one.places] == ["cab"]


def test_it_must_pass_at_the_harder_place_too():
    """Smoke of 450 meets 600 at HL1 and not 300 at HL2 (R22, generator/standards/en-45545-2.yml)."""
    here = part("P-1", places=(AT_HL1,))
    both = part("P-1", places=(AT_HL1, AT_HL2))
    assert told(two(other=[WEAK], folder=here)) == [("other", "bench", Verdict.FIT_IT)]
    assert told(two(other=[WEAK], folder=both)) == []


def test_what_would_only_ask_stands_behind_with_its_reasons():
    materials = {"petg": material(), "asks": material(full("G", colour="black")), "other": material(full("H"))}
    (one,) = looked_for(depot([part("P-1")], materials))
    assert [(each.material, each.word, each.why) for each in one.swaps] == [
        ("other", Verdict.FIT_IT, ()),
        ("asks", Verdict.ASK_FIRST, ("colour",)),
    ]


def test_a_report_of_the_old_material_speaks_of_no_other():
    """Its own report fails by its colour alone; the other material has none."""
    assert told(two(own=[full("F", colour="black")])) == []


def test_one_file_for_two_materials_speaks_of_neither():
    assert told(two(own=[full("F", colour="black")], other=[full("F")])) == []


def test_each_maker_is_judged_by_its_own_process():
    makers = maker("bench", ("petg", "other")), maker("bureau", ("other",), SINTERED)
    catalogue = two(other=[full("G", process=SINTERED)], makers=makers)
    assert told(catalogue) == [("other", "bureau", Verdict.FIT_IT), ("other", "bench", Verdict.ASK_FIRST)]
    (one,) = looked_for(catalogue)
    assert one.swaps[0].process_now == (Process.MATERIAL_EXTRUSION,)


def test_a_maker_that_cannot_print_it_is_not_offered():
    makers = maker("bench", ("petg",)), maker("bureau", ("other",), SINTERED)
    assert told(two(other=[full("G")], makers=makers, processes=(Process.MATERIAL_EXTRUSION,))) == []


def test_a_report_that_ended_yesterday_offers_nothing_and_today_it_does():
    assert told(two(other=[full("G", valid_until=COPY.built_on)])) == [("other", "bench", Verdict.FIT_IT)]
    assert told(two(other=[full("G", valid_until=date(2026, 11, 24))])) == []


def test_a_second_material_keeps_its_own_need():
    folder = part("P-1", further_materials=("pane",))
    materials = {"petg": material(), "pane": material(), "other": material(full("G"))}
    assert told(depot([folder], materials)) == []
    assert told(depot([folder], materials | {"pane": material(full("H"))})) == [("other", "bench", Verdict.FIT_IT)]


def exempted(**told):
    letter = {"file": "documents/note.txt", "sha256": "a" * 64}
    said = {"reference": "S-1", "by": "fire-engineer", "on": date(2025, 6, 1), "evidence": letter} | told
    return fire(exemption=said)


def test_the_statement_that_no_test_is_asked_is_of_the_part_as_it_is():
    assert looked_for(two(folder=part("P-1", need=exempted(open_ended=True)))) == []
    assert told(two(folder=part("P-1", need=exempted(valid_until=date(2026, 1, 1))))) == []
    assert told(two(other=[full("G")], folder=part("P-1", need=exempted(valid_until=date(2026, 1, 1)))))[0][2] is Verdict.FIT_IT


@pytest.mark.parametrize(
    ("nothing", "combustible", "word"),
    [
        (AsksNothing.NON_COMBUSTIBLE, True, []),
        (AsksNothing.NON_COMBUSTIBLE, False, [Verdict.ASK_FIRST]),
        (AsksNothing.NO_REQUIREMENT, True, [Verdict.ASK_FIRST]),
    ],
)
def test_that_nothing_is_asked_was_said_of_the_part_as_it_is(nothing, combustible, word):
    need = fire(requirement_set=None, asks_nothing=nothing, reference=None)  # without its note the part itself asks
    catalogue = two(folder=part("P-1", need=need), combustible=combustible)
    (one,) = looked_for(catalogue)
    assert [each.word for each in one.swaps] == word
    assert all("said of another" in each.why for each in one.swaps)


def test_mass_price_heat_and_stiffness_now_and_then():
    """By hand: 10 cm³; 1.27 and 1.05 g/cm³ weigh 12.7 and 10.5 g; 0.1 a gram at the bench, 30 and 0.5 a gram at the bureau."""
    bureau = maker("bureau", ("other",), SINTERED, price=PriceRule(per_order=30, per_gram=0.5))
    makers = maker("bench", ("petg",), price=PriceRule(per_gram=0.1)), bureau
    hot = Properties(heat_deflection_c=165, tensile_modulus_mpa=2050)
    catalogue = two(other=[full("G", process=SINTERED)], makers=makers, density_g_cm3=1.05, properties=hot)
    (one,) = looked_for(catalogue, cube())
    (swap,) = one.swaps
    assert (swap.mass_g.now, swap.mass_g.then) == pytest.approx((12.7, 10.5))
    assert swap.mass_g.by == pytest.approx(-2.2)
    assert (swap.price_one.now, swap.price_one.then) == pytest.approx((1.27, 35.25))
    assert (swap.heat_deflection_c.now, swap.heat_deflection_c.then) == (None, 165)
    assert swap.tensile_modulus_mpa.by is None
    assert swap.fits_plate is True


def test_without_a_mesh_mass_and_price_are_unknown():
    (one,) = looked_for(two(other=[full("G")]))
    (swap,) = one.swaps
    assert (swap.mass_g.now, swap.mass_g.then, swap.price_one.now, swap.price_one.then, swap.fits_plate) == (None,) * 5


def test_of_a_material_that_is_not_in_the_catalogue_nothing_is_known_now():
    catalogue = two(other=[full("G")], folder=part("P-1", "gone"))
    (one,) = looked_for(catalogue, cube())
    assert [(each.material, each.mass_g.now, each.mass_g.by) for each in one.swaps] == [("other", None, None)]
    assert one.swaps[0].mass_g.then is not None


@pytest.mark.parametrize(("papers", "has"), [((), False), ((certificate("C"),), True), ((certificate("C", valid_until=date(2026, 1, 1)),), False)])
def test_without_a_certificate_that_counts_it_says_so(papers, has):
    (one,) = looked_for(two(other=[full("G")], certificates=papers))
    assert [each.has_certificate for each in one.swaps] == [has]


def test_a_part_too_large_for_the_maker_is_not_offered():
    makers = maker("bench", ("petg",)), maker("small", ("other",), build_volume_mm=(5.0, 5.0, 5.0))
    (one,) = looked_for(two(other=[full("G")], makers=makers), cube())
    assert one.swaps == ()


def test_without_a_choice_no_material_passes():
    folder = part("P-1")
    folder = replace(folder, part=folder.part.model_copy(update={"fire": None}))
    assert told(two(other=[full("G")], folder=folder)) == []
