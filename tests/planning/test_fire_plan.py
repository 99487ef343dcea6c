"""What to test next. Limits: R22 of generator/standards/en-45545-2.yml, 28 % / 300 / 0.9 at HL2, 28 % / 600 / 1.2 at HL1.

That a test frees what the plan says is judged again by the rules themselves, with the report added to the catalogue, and the
best sets are held against every choice (brute force). The examples are worked by hand.
"""

import itertools
from dataclasses import replace
from datetime import date

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from generator.geometry.sections import Walls
from generator.planning.fire_cases import Books, case_of, planned
from generator.planning.fire_plan import fire_plan
from generator.records.fire import Layers
from generator.records.makers import Process
from generator.rules.facts.case import Copy
from generator.rules.facts.of_fire import fire_found
from generator.rules.fire.rows import FireAnswer
from generator.rules.history import Stage
from generator.rules.sheet import sheet
from tests.planning.fire_scene import (
    AT_HL1,
    AT_HL2,
    BOTH,
    COPY,
    DAY,
    cube,
    depot,
    files_of,
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


def plan(catalogue, copy=COPY, **told):
    return fire_plan(judged(catalogue, copy), catalogue, copy, **told)


def ordered(found):
    """Test → thickness, of a plan that orders each test once."""
    return {each.kind.test: each.thickness_mm for each in found.orders}


def once_passed(catalogue, orders, values=()):
    """The catalogue once the tests are passed, just at their limit where `values` do not say otherwise, in one report each."""
    added = dict(catalogue.materials)
    for i, each in enumerate(orders):
        value = dict(values).get(each.kind.test) or each.limit
        one = result(each.kind.test, float(value), each.thickness_mm, each.layers or BOTH)
        made = added[each.kind.material]
        paper = report(f"new-{i}", one, tested_on=DAY, process=each.kind.process, colour=each.colour, lot_family=each.lot_family)
        added[each.kind.material] = made.model_copy(update={"fire_tests": (*made.fire_tests, paper)})
    return replace(catalogue, materials=added, material_files=files_of(added))


def answered(catalogue, copy=COPY):
    """Numbers of the parts that have an answer to every row at every place, by the rules."""
    books = Books.of(catalogue, copy)
    found = set()
    for one, of in planned(judged(catalogue, copy)):
        case = case_of(one, of, books)
        rows = [row for fit in of.fits for row in fire_found(case, fit, case.basis(fit)).rows]
        if rows and all(row.answer is FireAnswer.PASSES and row.until and row.until >= copy.built_on for row in rows):
            found.add(one.number)
    return found


def test_one_set_of_specimens_frees_every_part_by_hand():
    """Walls of 1.4 and 2 mm, sections of 4 and 6 mm: an oxygen index at 1.4 mm, smoke at 6 mm, gases by the gram."""
    catalogue = depot([part("P-1", need=fire(1.4, 4.0)), part("P-2", need=fire(2.0, 6.0))], {"petg": material()})
    found = plan(catalogue)
    assert ordered(found) == {"T01": 1.4, "T10.03": 6.0, "T12": None}
    assert {each.kind.test: each.limit for each in found.orders} == {"T01": 28, "T10.03": 300, "T12": 0.9}
    assert all(each.parts == ("P-1", "P-2") and each.frees == () for each in found.orders)
    assert [(best.orders, best.frees) for best in found.best] == [((0, 1, 2), ("P-1", "P-2"))]
    assert {each.kind.test: [(one.thickness_mm, one.parts) for one in each.options] for each in found.orders} == {
        "T01": [(1.4, ("P-1", "P-2")), (2.0, ("P-2",))],
        "T10.03": [(6.0, ("P-1", "P-2")), (4.0, ("P-1",))],
        "T12": [],
    }
    assert answered(once_passed(catalogue, found.orders)) == {"P-1", "P-2"}
    assert answered(once_passed(catalogue, found.orders[:2])) == set()


def test_what_is_answered_asks_for_no_test():
    assert plan(depot([part("P-1")], {"petg": material(full("F"))})).open_parts == 0


def test_a_thinner_wall_than_tested_wants_that_test_alone():
    found = plan(depot([part("P-1", need=fire(0.8, 6.0))], {"petg": material(full("F", thin=1.2))}))
    assert ordered(found) == {"T01": 0.8}
    assert found.orders[0].frees == ("P-1",)
    assert found.best[0].orders == (0,)


def test_a_part_at_two_hazard_levels_wants_the_harder_limit():
    found = plan(depot([part("P-1", places=(AT_HL1, AT_HL2)), part("P-2", places=(AT_HL1,))], {"petg": material()}))
    smoke = next(each for each in found.orders if each.kind.test == "T10.03")
    assert smoke.limit == 300
    assert smoke.limits == ((600, 2), (300, 1))


@pytest.mark.parametrize("value", [600.0, 300.1])
def test_a_result_that_only_meets_the_lower_level_frees_no_part_at_the_higher(value):
    catalogue = depot([part("P-1", places=(AT_HL1, AT_HL2)), part("P-2", places=(AT_HL1,))], {"petg": material()})
    found = plan(catalogue)
    values = {each.kind.test: value if each.kind.test == "T10.03" else None for each in found.orders}
    assert answered(once_passed(catalogue, found.orders, values)) == {"P-2"}
    assert answered(once_passed(catalogue, found.orders)) == {"P-1", "P-2"}


def test_a_part_of_two_materials_is_freed_by_the_tests_of_both():
    catalogue = depot([part("P-1", further_materials=("pane",))], {"petg": material(), "pane": material()})
    found = plan(catalogue)
    assert sorted({each.kind.material for each in found.orders}) == ["pane", "petg"]
    assert [(len(best.orders), best.frees) for best in found.best] == [(6, ("P-1",))]
    assert answered(once_passed(catalogue, [each for each in found.orders if each.kind.material == "petg"])) == set()
    assert answered(once_passed(catalogue, found.orders)) == {"P-1"}


def test_two_makers_of_different_process_want_specimens_of_both():
    makers = maker("bench", ("petg",)), maker("bureau", ("petg",), SINTERED)
    catalogue = depot([part("P-1", makers=("bench", "bureau"))], {"petg": material(full("F"))}, makers)
    found = plan(catalogue)
    assert {each.kind.process for each in found.orders} == {SINTERED}
    assert len(found.orders) == 3
    assert answered(once_passed(catalogue, found.orders)) == {"P-1"}


def test_a_report_that_ends_tomorrow_still_answers_and_the_day_after_it_does_not():
    catalogue = depot([part("P-1")], {"petg": material(full("F", valid_until=date(2026, 11, 26)))})
    assert plan(catalogue, Copy(date(2026, 11, 26), 45)).open_parts == 0
    assert len(plan(catalogue, Copy(date(2026, 11, 27), 45)).orders) == 3


def test_a_failing_result_is_not_freed_by_a_test_of_the_same():
    """27.9 % at 1 mm: a wall of 1 mm is not tested again; one of 2 mm may be, with what is thicker than 1 mm."""
    failing = report("F", result("T01", 27.9, 1.0), result("T10.03", 210.0, 6.0), result("T12", 0.4))
    catalogue = depot([part("P-1", need=fire(1.0)), part("P-2", need=fire(2.0))], {"petg": material(failing)})
    found = plan(catalogue)
    assert [(each.why, each.material, each.parts) for each in found.kept] == [("fails", "petg", ("P-1",))]
    assert [(each.thickness_mm, each.frees) for each in found.orders] == [(2.0, ("P-2",))]
    assert answered(once_passed(catalogue, found.orders)) == {"P-2"}


def test_gases_that_fail_are_freed_by_nothing():
    found = plan(depot([part("P-1")], {"petg": material(report("F", result("T12", 1.0)))}))
    assert [(each.why, each.parts) for each in found.kept] == [("fails", ("P-1",))]
    assert found.best == ()


def test_what_failed_in_another_colour_may_be_tested_in_this_one():
    black = full("F", colour="black")
    failing = black.model_copy(update={"results": (result("T01", 20.0, 1.0), *black.results[1:])})
    catalogue = depot([part("P-1")], {"petg": material(failing)})
    assert answered(once_passed(catalogue, plan(catalogue).orders)) == {"P-1"}


def test_one_way_of_the_layers_is_enough_where_the_other_is_answered():
    half = report("F", result("T01", 31.2, 1.0, [Layers.ALONG]), result("T10.03", 210.0, 6.0), result("T12", 0.4))
    catalogue = depot([part("P-1")], {"petg": material(half)})
    found = plan(catalogue)
    assert [(each.kind.test, each.layers) for each in found.orders] == [("T01", (Layers.ACROSS,))]
    assert answered(once_passed(catalogue, found.orders)) == {"P-1"}


@pytest.mark.parametrize("told", [{"accreditation": None}, {"accepted_by": None}, {"accreditation": None, "accepted_by": None}])
def test_a_report_that_lacks_papers_alone_wants_no_test(told):
    found = plan(depot([part("P-1")], {"petg": material(full("F", **told))}))
    assert found.orders == ()
    assert [(each.report.report, set(each.why), each.parts) for each in found.papers] == [
        ("F", {{"accreditation": "accreditation", "accepted_by": "acceptance"}[key] for key in told}, ("P-1",))
    ]


def test_a_part_that_wants_papers_as_well_is_not_called_free():
    lacking = report("F", result("T01", 31.2, 1.0), result("T10.03", 210.0, 6.0), accepted_by=None)
    found = plan(depot([part("P-1")], {"petg": material(lacking)}))
    assert [(each.kind.test, each.frees) for each in found.orders] == [("T12", ())]
    assert [(best.frees, best.with_papers) for best in found.best] == [((), ("P-1",))]


def test_a_test_to_a_lower_level_mends_no_paper_of_a_higher():
    """Smoke: 210 at 6 mm that nobody has accepted speaks of P-1 (300 at HL2); P-2 wants 600 (HL1) at 9 mm, which may be worse."""
    lacking = report("F", result("T10.03", 210.0, 6.0), accepted_by=None)
    ready = report("G", result("T01", 31.2, 1.0))
    parts = [part("P-1"), part("P-2", places=(AT_HL1,), need=fire(1.4, 9.0))]
    found = plan(depot(parts, {"petg": material(lacking, ready)}))
    assert {each.kind.test: each.limit for each in found.orders} == {"T10.03": 600, "T12": 0.9}
    assert [(best.frees, best.with_papers) for best in found.best] == [((), ("P-1",)), (("P-2",), ("P-1",))]


@pytest.mark.parametrize(("stage", "open_parts"), [(Stage.WITHDRAWN, 0), (Stage.SUPERSEDED, 0), (Stage.LAPSED, 1)])
def test_a_part_that_is_gone_asks_for_nothing(stage, open_parts):
    catalogue = depot([part("P-1")], {"petg": material()})
    sheets = tuple(replace(each, stage=stage) for each in judged(catalogue))
    assert fire_plan(sheets, catalogue, COPY).open_parts == open_parts


def test_a_report_whose_end_is_not_said_lacks_a_paper():
    found = plan(depot([part("P-1")], {"petg": material(full("F", valid_until=None))}))
    assert [(each.report.report, each.why) for each in found.papers] == [("F", ())]


@pytest.mark.parametrize(
    ("why", "need", "made"),
    [
        ("wall unknown", fire(None, None), {}),
        ("colour unknown", fire(), {"colouring": None}),
        ("lot family unknown", fire(), {"lot_family": None}),
        ("no figures", fire(edition="2013"), {}),
        ("no specimen", fire(0.05), {}),
        ("limit unsure", fire(requirement_set="R17"), {}),
    ],
)
def test_what_no_test_answers_is_told_and_not_called_free(why, need, made):
    found = plan(depot([part("P-1", need=need)], {"petg": material(**made)}))
    assert why in [each.why for each in found.kept]
    assert all(each.frees == () for each in found.orders)
    assert found.best == ()


def test_measured_walls_count_as_the_rules_count_them():
    """The model is thinner and thicker than somebody typed: the more careful of the two."""
    catalogue = depot([part("P-1", need=fire(1.4, 6.0))], {"petg": material()})
    worked = replace(cube(), walls=Walls(thinnest_mm=1.17, thickest_mm=7.31, nominal_mm=2.0, thinnest_at=(0, 0, 0), thickest_at=(0, 0, 0)))
    found = fire_plan(judged(catalogue, worked=worked), catalogue, COPY)
    assert ordered(found) == {"T01": 1.1, "T10.03": 7.4, "T12": None}


def test_a_process_that_nobody_knows_is_told():
    found = plan(depot([part("P-1", makers=("nobody",))], {"petg": material()}))
    assert [each.why for each in found.kept] == ["process unknown"]


def test_without_a_choice_nobody_knows_what_to_test():
    folder = part("P-1")
    folder = replace(folder, part=folder.part.model_copy(update={"fire": None}))
    assert [(each.why, each.material) for each in plan(depot([folder], {"petg": material()})).kept] == [("no set", None)]


def test_two_editions_are_two_tests():
    catalogue = depot([part("P-1"), part("P-2", need=fire(edition="2020"))], {"petg": material()})
    assert len(plan(catalogue).orders) == 6


def test_those_that_free_most_come_first():
    ready = full("F", thin=1.2)
    catalogue = depot([part("P-1", need=fire(0.8)), part("P-2", need=fire(1.0)), part("P-3", need=fire(1.4, 9.0))], {"petg": material(ready)})
    found = plan(catalogue)
    assert [(each.kind.test, each.thickness_mm, each.frees) for each in found.orders] == [("T01", 0.8, ("P-1", "P-2")), ("T10.03", 9.0, ("P-3",))]


def test_cut_short_it_does_not_call_itself_exact():
    parts = [part("P-1"), part("P-2", "other")]
    found = plan(depot(parts, {"petg": material(), "other": material()}), nodes=0)
    assert any(not best.is_exact for best in found.best)


def test_one_specimen_as_thick_as_one_of_another_colour_that_failed_leaves_a_doubt():
    """Black at 6 mm gave 450: enough at HL1 (600), not at HL2 (300), so that the part there wants a thinner one of its own."""
    parts = [part("P-1", places=(AT_HL2,), need=fire(0.8, 2.0)), part("P-2", places=(AT_HL1,), need=fire(0.8, 6.0))]
    catalogue = depot(parts, {"petg": material(report("F", result("T10.03", 450.0, 6.0), colour="black"))})
    found = plan(catalogue)
    assert [(each.thickness_mm, each.parts) for each in found.orders if each.kind.test == "T10.03"] == [(2.0, ("P-1",)), (6.0, ("P-2",))]
    assert answered(once_passed(catalogue, found.orders)) == {"P-1", "P-2"} == set(found.best[-1].frees)


WALL = st.sampled_from([0.8, 1.2, 2.0, None])
REPORTS = st.lists(
    st.tuples(
        st.sampled_from([("T01", 31.2), ("T01", 25.0), ("T10.03", 210.0), ("T10.03", 450.0), ("T12", 0.4), ("T12", 1.0)]),
        st.sampled_from([0.6, 1.0, 1.6, 6.0]),
        st.sampled_from(["natural", "black"]),
        st.sampled_from([BOTH, (Layers.ALONG,)]),
        st.sampled_from(["fire-engineer", None]),
    ),
    max_size=3,
)
PART = st.tuples(WALL, st.sampled_from([2.0, 6.0]), st.sampled_from(["petg", "other"]), st.sampled_from([(AT_HL2,), (AT_HL1,), (AT_HL1, AT_HL2)]))


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.lists(PART, min_size=1, max_size=3), REPORTS)
def test_no_other_tests_free_more(parts, reports):
    """The plan against every choice of its tests, judged by the rules with their reports in the catalogue."""
    papers = [
        report(f"R-{i}", result(*test, None if test[0] == "T12" else thick, layers), colour=colour, accepted_by=role)
        for i, (test, thick, colour, layers, role) in enumerate(reports)
    ]
    folders = [part(f"P-{i}", made_of, places, fire(thin, thick if thin is None else max(thick, thin))) for i, (thin, thick, made_of, places) in enumerate(parts)]
    catalogue = depot(folders, {"petg": material(*papers), "other": material()})
    found = plan(catalogue)
    before = answered(catalogue)
    for best in found.best:
        size = len(best.orders)
        assert best.is_exact
        assert answered(once_passed(catalogue, [found.orders[i] for i in best.orders])) - before == set(best.frees)
        if size <= 3:
            tried = itertools.combinations(found.orders, min(size, len(found.orders)))
            assert max(len(answered(once_passed(catalogue, chosen)) - before) for chosen in tried) == len(best.frees)
    for each in found.orders:
        assert answered(once_passed(catalogue, [each])) - before == set(each.frees)
    everything = answered(once_passed(catalogue, found.orders)) - before
    assert everything == set(found.best[-1].frees if found.best else ())


def test_the_reports_of_one_day_are_judged_by_the_rules_themselves():
    """The helper above judges as the sheets do: the tests of this file rest on it."""
    catalogue = depot([part("P-1")], {"petg": material(full("F"))})
    (one,) = (sheet(each, None, catalogue, COPY) for each in catalogue.parts)
    assert one.grounds[0].permits[0].fire_asked == ()
    assert answered(catalogue) == {"P-1"}
