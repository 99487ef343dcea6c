"""What decides a test of a set, of several reports: the fire engineer reads which report it is, by how much, until when and why. Worked out by hand.

R22 at HL2 asks 28 % by T01, 300 by T10.03 and 0.9 by T12 (the data file); walls of 1.4 to 6 mm.
"""

from dataclasses import replace
from datetime import date

import pytest

from generator.reading.standards import shipped_standard
from generator.records.fire import HazardLevel, Layers
from generator.records.standards import Certainty
from generator.rules.fire.rows import FireAnswer, Reports, on_day, rows
from generator.rules.lasting import FOR_EVER
from tests.rules.fire.reports import OXYGEN, TOXICITY, asked, report_of, result_of

STANDARD = shipped_standard()
BOTH = (Layers.ALONG, Layers.ACROSS)
SOON, LATE = date(2027, 1, 1), date(2028, 1, 1)


def showing(name, value=31.2, layers=BOTH, thickness_mm=1.2, until=None, method=OXYGEN, **more):
    mass = {"mass_g": 1.0} if method is TOXICITY else {}
    result = result_of(method, value, thickness_mm, layers=layers, **mass)
    ends = {"valid_until": until, "open_ended": False} if until else {}
    return report_of(result, **({"report": name, "sha256": (name.encode().hex() * 32)[:64]} | ends | more))


def stating(name, thickness_mm=1.2, level=HazardLevel.HL2, number="R22", until=None, **more):
    said = {"requirement_set": number, "hazard_level": level, "thickness_mm": thickness_mm, "results": ()}
    ends = {"valid_until": until, "open_ended": False} if until else {}
    return report_of(None, **({"report": name, "sha256": (name.encode().hex() * 32)[:64]} | said | ends | more))


def row(*counting, uncounted=(), test="T01", of=None, standard=STANDARD):
    found = {each.wanted.method.test: each for each in rows(of or asked(), standard, Reports(counting, uncounted))}
    return found[test]


def told(row):
    return str(row.answer), row.why, row.report.report if row.report else None


def test_each_test_of_the_set_is_asked_at_its_limit():
    found = rows(asked(), STANDARD, Reports(()))
    assert [(each.wanted.method.test, each.wanted.limit, told(each)) for each in found] == [
        (test, limit, ("missing", ("no result",), None)) for test, limit in (("T01", 28), ("T10.03", 300), ("T12", 0.9))
    ]
    r1 = {level: [each.wanted.method.test for each in rows(replace(asked(), set="R1", level=level), STANDARD, Reports(()))] for level in HazardLevel}
    assert "T03.01" not in r1["HL1"]  # the set asks nothing by it there
    assert "T03.01" in r1["HL2"]


def without(**change):
    (only,) = rows(replace(asked(), **change), STANDARD, Reports((showing("a"),)))
    return told(only), only.wanted


def test_where_we_hold_no_figures_a_report_is_not_enough():
    answer, wanted = without(edition="2013")
    assert (answer, wanted.certainty) == (("missing", ("no figures",), None), Certainty.UNSURE)
    assert without(set="R99")[0] == ("missing", ("no figures",), None)
    bare = next(each for each in STANDARD.sets if not each.limits)
    assert without(set=bare.set)[1].certainty is bare.certainty
    (only,) = rows(asked(), None, Reports((showing("a"),)))
    assert told(only) == ("missing", ("no standard",), None)
    (only,) = rows(replace(asked(), edition=None), None, Reports((stating("s"),)))
    assert told(only) == ("asks", ("no standard", "stated"), "s")
    other_edition = stating("s", standard="EN 45545-2:2020", colour="black")
    (only,) = rows(asked(), None, Reports((other_edition,)))
    assert told(only) == ("asks", ("no standard", "stated", "edition", "colour"), "s")
    (only,) = rows(replace(asked(), edition=None), None, Reports((other_edition,)))
    assert told(only) == ("asks", ("no standard", "stated", "colour"), "s")


def test_a_pass_rests_on_the_report_that_ends_last_and_tells_its_day_and_margin():
    assert told(row(showing("a", until=SOON), showing("b", until=LATE))) == ("passes", (), "b")
    found = row(showing("a", 29.0, until=LATE), showing("b", 33.0, until=LATE))
    assert (told(found), found.until, found.margin) == (("passes", (), "a"), LATE, pytest.approx(1.0))
    assert told(row(showing("b", 33.0, until=LATE), showing("a", 29.0, until=LATE))) == ("passes", (), "a")
    assert row(showing("a")).until == FOR_EVER
    by_mass = row(showing("a", 0.5, method=TOXICITY, until=SOON), showing("b", 0.8, method=TOXICITY, until=LATE), test="T12")
    assert (told(by_mass), by_mass.margin) == (("passes", (), "b"), pytest.approx(0.1))


def test_where_layers_are_no_matter_nobody_has_to_say_them():
    assert told(row(showing("a", 0.5, layers=(), method=TOXICITY), test="T12")) == ("passes", (), "a")


def test_a_report_of_which_nobody_says_until_when_it_counts_comes_last():
    endless = showing("a", open_ended=False)
    for order in ((endless, showing("b", until=SOON)), (showing("b", until=SOON), endless)):
        assert told(row(*order)) == ("passes", (), "b")
    assert row(endless).until is None


def test_each_way_of_the_layers_rests_on_its_longest_report_and_the_answer_ends_with_the_first_of_them():
    along, across = showing("a", layers=(Layers.ALONG,), until=LATE), showing("c", layers=(Layers.ACROSS,), until=SOON)
    assert told(row(along, across)) == ("passes", (), "c")
    assert row(along, across).until == SOON
    assert row(along, across, showing("d", layers=(Layers.ACROSS,), until=date(2027, 6, 1))).until == date(2027, 6, 1)
    same_end = row(along, showing("e", 28.5, layers=(Layers.ACROSS,), until=LATE))
    assert (told(same_end), same_end.margin) == (("passes", (), "e"), pytest.approx(0.5))
    # The other way about.
    ends_first = showing("b", 40.0, layers=(Layers.ALONG,), until=SOON)
    assert told(row(ends_first, showing("c", 29.0, layers=(Layers.ACROSS,), until=LATE))) == ("passes", (), "b")
    nearest = showing("b", 28.5, layers=(Layers.ALONG,), until=LATE)
    assert told(row(nearest, showing("c", layers=(Layers.ACROSS,), until=LATE))) == ("passes", (), "b")
    assert told(row(along)) == ("asks", ("layers",), "a")
    assert told(row(showing("a", layers=()))) == ("asks", ("layers",), "a")
    assert told(row(along, showing("b", layers=(Layers.ACROSS,), colour="black"))) == ("asks", ("layers",), "a")


def test_what_only_asks_rests_on_the_report_with_the_fewest_differences_then_on_the_best():
    two, one = showing("a", 40.0, colour="black", lot_family="type 5"), showing("b", 29.0, colour="black")
    assert told(row(two, one)) == ("asks", ("colour",), "b")
    assert told(row(one, showing("c", 30.0, colour="black"))) == ("asks", ("colour",), "c")
    assert told(row(showing("a", layers=(Layers.ALONG,), colour="black"))) == ("asks", ("colour", "layers"), "a")
    assert told(row(showing("a", 0.5, method=TOXICITY, layers=(), colour="black"), test="T12")) == ("asks", ("colour",), "a")


def test_a_failing_report_decides_where_nothing_clean_passes_and_one_of_the_part_before_others():
    of_another, worse = showing("a", 10.0, colour="black"), showing("b", 20.0)
    assert told(row(of_another, worse, showing("c", 25.0))) == ("fails", (), "b")
    assert told(row(of_another, showing("d", 5.0, colour="black"))) == ("fails", ("colour",), "d")
    assert row(worse).margin == -8
    # Who accepts a failing report is no matter, and is not told as if it were.
    assert told(row(showing("b", 20.0, accepted_by="trainee"))) == ("fails", (), "b")
    assert told(row(showing("a", colour="black"), worse)) == ("fails", (), "b")


def test_beside_a_pass_what_fails_otherwise_asks_but_not_a_specimen_that_was_harder_to_pass_with():
    good = showing("a")
    assert told(row(good, showing("b", 20.0, colour="black"))) == ("asks", ("fails otherwise",), "a")
    assert told(row(good, showing("b", 20.0, standard="DIN 5510-2:2009"))) == ("asks", ("fails otherwise",), "a")
    assert told(row(good, showing("b", 20.0, thickness_mm=1.0))) == ("passes", (), "a")
    assert told(row(good, showing("b", "20 or so"))) == ("asks", ("unread result",), "a")
    assert told(row(good, uncounted=(showing("b", "20 or so"),))) == ("asks", ("unread result",), "a")
    assert told(row(good, uncounted=(showing("b", 20.0, colour="black"),))) == ("asks", ("fails otherwise",), "a")
    assert told(row(good, uncounted=(showing("b", 33.0),))) == ("passes", (), "a")


def test_a_report_that_does_not_count_proves_nothing_for_the_part_and_everything_against_it():
    assert told(row(uncounted=(showing("a"),))) == ("missing", ("not named",), None)
    assert told(row(uncounted=(showing("a", 20.0),))) == ("fails", (), "a")
    assert told(row(showing("a"), uncounted=(showing("b", 20.0),))) == ("fails", (), "b")
    assert told(row(showing("a", thickness_mm=2.0), uncounted=(showing("b"),))) == ("missing", ("outside thickness",), None)


def test_a_limit_that_is_not_sure_never_passes_by_itself():
    limits = tuple(each.model_copy(update={"certainty": Certainty.UNSURE}) for each in STANDARD.set_of("R22").limits)
    unsure = STANDARD.model_copy(update={"sets": (STANDARD.set_of("R22").model_copy(update={"limits": limits}),)})
    assert told(row(showing("a"), standard=unsure)) == ("asks", ("limit unsure",), "a")
    assert told(row(showing("a", 20.0), standard=unsure)) == ("fails", (), "a")


def test_why_nothing_answers_is_told_once_each():
    assert told(row(showing("a", thickness_mm=2.0))) == ("missing", ("outside thickness",), None)
    assert told(row(showing("a", thickness_mm=None), showing("b", thickness_mm=None))) == ("missing", ("no thickness",), None)
    odd = showing("a", "some"), showing("b", standard="DIN 5510-2"), showing("c", thickness_mm=None)
    assert told(row(*odd)) == ("missing", ("no such value", "other standard", "no thickness"), None)


@pytest.mark.parametrize(
    ("change", "counts"),
    [
        ({}, True), ({"level": HazardLevel.HL3}, True), ({"level": HazardLevel.HL1}, False), ({"number": "R24"}, False),
        ({"thickness_mm": 1.4}, True), ({"thickness_mm": 1.5}, False), ({"standard": "DIN 5510-2"}, False),
        ({"level": None, "results": (result_of(TOXICITY, 0.4, mass_g=1.0),)}, False),
        ({"thickness_mm": None, "results": (result_of(TOXICITY, 0.4, mass_g=1.0),)}, False),
    ],
)  # fmt: skip
def test_what_a_report_only_states_is_believed_for_its_set_level_and_thickness(change, counts):
    assert told(row(stating("s", **change))) == (("asks", ("stated",), "s") if counts else ("missing", ("no result",), None))


def test_a_statement_speaks_for_no_wall_that_nobody_knows():
    assert told(row(stating("s"), of=asked(thinnest_mm=None))) == ("missing", ("no result",), None)


def test_of_several_statements_the_one_with_the_fewest_differences_then_the_longest_is_taken():
    assert told(row(stating("s", colour="black"), stating("t", until=SOON))) == ("asks", ("stated",), "t")
    assert told(row(stating("s", until=SOON), stating("t", until=LATE))) == ("asks", ("stated",), "t")
    endless = stating("s", until=SOON, open_ended=True)  # no end and an end: nobody knows
    assert told(row(endless, stating("t", until=SOON))) == ("asks", ("stated",), "t")
    assert told(row(stating("s", colour="black", lot_family="type 5"))) == ("asks", ("stated", "colour", "lot family"), "s")
    assert row(stating("s", until=SOON)).until == SOON


def test_a_statement_does_not_mend_what_the_same_report_shows():
    shows = showing("a", thickness_mm=2.0, requirement_set="R22", hazard_level=HazardLevel.HL2)
    both = shows.model_copy(update={"thickness_mm": 1.2})
    assert told(row(both)) == ("missing", ("outside thickness",), None)
    assert told(row(both, stating("s"))) == ("asks", ("stated",), "s")


def test_the_answer_of_a_day():
    passing, failing = row(showing("a", until=SOON)), row(showing("a", 20.0, until=SOON))
    assert on_day(passing, SOON) is passing
    ended = on_day(passing, date(2027, 1, 2))
    assert (ended.answer, ended.why) == (FireAnswer.MISSING, ("no longer accepted",))
    assert on_day(failing, date(2027, 1, 2)) is failing
    nothing = row()
    assert on_day(nothing, LATE) is nothing
