"""What curves and charts show is what was reckoned; they are text alone, of classes that the stylesheet knows, and end in bounded size."""

import re
from decimal import Decimal
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.pages.holding.curve_svg import CurveWords
from generator.pages.plot import LETTER, WIDTH, nice_step, number
from generator.pages.savings.chart_svg import SavingsColumn, savings_svg
from generator.pages.stock.chart_svg import StockBar, stock_svg
from generator.planning.holding.curve import holding_curve
from generator.rules.control_chart import RUN as NINE
from tests.pages.drawn_plots import HIGH, RUN, STEADY, WILD, charted, drawn, pieces, some
from tests.pages.test_stock import BARS, COLUMNS
from tests.planning.holding.known import PLACEBO, SIX_MP, seen

CSS = (Path(__file__).parents[2] / "site_src/assets/css/plots.css").read_text(encoding="utf-8")
EVERY = {
    "two kinds": lambda: drawn(seen(SIX_MP), seen(PLACEBO)),
    "one kind": lambda: drawn(seen(SIX_MP)),
    "nothing failed": lambda: drawn(pieces(10, 400, failed=False)),
    "one failed alone": lambda: drawn(pieces(3)),
    "all failed on the day they were fitted, beside others": lambda: drawn(pieces(0, 0, 0), pieces(5, 9)),
    "nobody beside others": lambda: drawn([], pieces(5, 9)),
    "very many": lambda: drawn(some(5000, 2600, 4000), some(3000, 2000, 4200, seed=1)),
    "a hundred years": lambda: drawn(pieces(36525, 20000)),
    "no limits yet": lambda: charted(STEADY[:3]),
    "one batch": lambda: charted(STEADY[:1]),
    "in control": lambda: charted([*STEADY, STEADY[2]]),
    "out": lambda: charted([*STEADY, HIGH, WILD]),
    "a run": lambda: charted([*STEADY, *RUN]),
    "very many batches": lambda: charted(STEADY * 60),
    "batches all alike, no limits yet": lambda: charted([(49,) * 5] * 3),
    "stock": lambda: stock_svg([StockBar(name="TV-0001", there=0, point=3), StockBar(name="TV-0002", there=9, point=3), StockBar(name="TV-0003", there=900, point=3)], BARS),
    "savings": lambda: savings_svg([SavingsColumn(name=f"{at}/28", told=str(at), amount=Decimal(each)) for at, each in enumerate((120, -40, 0, 7000))], COLUMNS),
}


def tree(markup):
    return ET.fromstring(str(markup))


def texts(markup):
    return ["".join(each.itertext()) for each in tree(markup).iter("text")]


def paths(markup, kind):
    return [each.get("d") for each in tree(markup).iter("path") if kind in each.get("class").split()]


def points(data):
    """The corners of a path of M, H, V and L."""
    x = y = 0.0
    for command, rest in re.findall("([MHVLZ])([^MHVLZ]*)", data):
        given = [float(each) for each in rest.split()]
        x = given[0] if command in "MHL" else x
        y = given[-1] if command in "MVL" else y
        if command != "Z":
            yield x, y


@pytest.mark.parametrize("make", EVERY.values(), ids=EVERY)
def test_it_is_whole_and_lies_within_its_field(make):
    figure = tree(make())
    (drawing,) = figure
    _, _, width, height = map(float, drawing.get("viewBox").split())
    assert width == WIDTH
    assert "nan" not in str(make()).lower()
    for each in figure.iter("text"):
        assert 0 <= float(each.get("x")) <= width
        assert 0 < float(each.get("y")) < height
    for each in figure.iter("path"):
        if "a" not in each.get("d") and "l" not in each.get("d"):
            for x, y in points(re.sub("v[-0-9.]+", "", each.get("d"))):
                assert -0.1 <= x <= width + 0.1
                assert -0.1 <= y <= height


@pytest.mark.parametrize("make", EVERY.values(), ids=EVERY)
def test_it_has_no_style_of_its_own_and_its_classes_are_known(make):
    said = str(make())
    assert not re.search(r"style=|fill=|stroke=|<script|\n", said), "colours are the stylesheet's, and a line break would end it in Markdown"
    for name in set(re.findall('class="([^"]*)"', said)):
        for each in name.split():
            assert f".{each} " in CSS or each in {"plot--holding", "plot--chart", "plot--bars", "plot--columns"}, each


@pytest.mark.parametrize("make", EVERY.values(), ids=EVERY)
def test_twice_the_same(make):
    assert make() == make()


def test_very_many_end_in_a_bounded_size():
    assert len(EVERY["very many"]()) < 40_000


def test_the_steps_are_those_of_the_curve():
    """6-MP as if in days: a unit of share is 2.14 units of the drawing, one month 430 and a bit."""
    curve = holding_curve(seen(SIX_MP))
    (line,) = [each for each in paths(drawn(seen(SIX_MP)), "plot__line--ours") if "V" in each]
    told = list(points(line))
    top, left = told[0][1], told[0][0]
    bottom = next(float(each.get("y")) - 5 for each in tree(drawn(seen(SIX_MP))).iter("text") if each.text == "0")
    shares = [(bottom - y) / (bottom - top) for _, y in told[2::2]]
    assert shares == pytest.approx([step.share for step in curve.steps], abs=1e-3)
    by_day = (told[-1][0] - left) / curve.longest
    assert [(x - left) / by_day for x, _ in told[2::2]] == pytest.approx([step.days for step in curve.steps], abs=0.02)


def placed(made, *, anchor, kind=None):
    """Where texts of an anchor stand, in their order: (text, x, y)."""
    every = [each for each in tree(made).iter("text") if each.get("text-anchor") == anchor and each.get("class") == kind]
    return [(each.text, float(each.get("x")), float(each.get("y"))) for each in every]


def straight(pairs):
    """Whether places follow values by one scale, to the rounding of a drawing."""
    (least, start), (most, end) = min(pairs), max(pairs)
    return [place for _, place in pairs] == pytest.approx([start + (value - least) / (most - least) * (end - start) for value, _ in pairs], abs=0.11)


def test_shares_days_and_counts_stand_where_the_axes_have_them():
    made, curve = drawn(some(40, 700, 900)), holding_curve(some(40, 700, 900))
    shares = [(float(said), y - 5) for said, _, y in placed(made, anchor="end")]
    assert [said for said, _ in shares] == [0, 25, 50, 75, 100]
    line = list(points(next(each for each in paths(made, "plot__line--ours") if "V" in each)))
    assert straight([*shares, (100 * curve.steps[-1].share, line[-1][1])])
    axis, below = [], []
    for said, x, y in placed(made, anchor="middle"):
        (below if axis and y > axis[0][1] else axis).append(((said, x), y))
    assert [x for (_, x), _ in axis] == [x for (_, x), _ in below], "each count stands below its tick"
    assert straight([*((float(said) * 365.25 / 12, x) for (said, x), _ in axis), (curve.longest, line[-1][0])])
    ticks = re.findall(r"M(\S+) \S+v5", paths(made, "plot__axis")[0])
    assert [float(each) for each in ticks] == [x for (_, x), _ in axis]
    assert {y for _, y in points(paths(made, "plot__grid")[0])} == {y for _, y in shares[1:]}


def test_the_band_runs_along_both_bounds():
    made, curve = drawn(seen(SIX_MP)), holding_curve(seen(SIX_MP))
    corners = list(points(paths(made, "plot__band--ours")[0]))
    shares = [(float(said), y - 5) for said, _, y in placed(made, anchor="end")]
    half, count = len(corners) // 2, len(curve.steps)
    there, back = corners[1 : half + 1], corners[half + 1 :]
    assert straight([*shares, *((100 * step.high, there[2 * at][1]) for at, step in enumerate(curve.steps))])
    assert straight([*shares, *((100 * step.low, back[2 * (count - at) - 2][1]) for at, step in enumerate(curve.steps))])


def test_ours_lies_above_the_other_and_each_has_its_line_beside_its_name():
    made = drawn(seen(SIX_MP), seen(PLACEBO))
    kinds = [each.get("class").split("--")[1] for each in tree(made).iter("path") if each.get("class").startswith("plot__line")]
    assert kinds == ["theirs", "ours", "ours", "theirs"]


def test_the_line_ends_with_the_last_piece_and_the_band_with_it():
    line, band = (max(x for x, _ in points(paths(drawn(seen(SIX_MP)), kind)[0])) for kind in ("plot__line--ours", "plot__band--ours"))
    assert line == band


def test_where_nothing_failed_there_is_no_band_and_the_line_stays_at_all():
    made = drawn(pieces(10, 400, failed=False))
    assert paths(made, "plot__band") == []
    assert len({y for x, y in points(paths(made, "plot__line--ours")[0]) if x > 40}) == 1


def test_a_band_ends_where_none_is_left():
    made = drawn(pieces(100, 200, 300), pieces(400, 500))
    assert max(x for x, _ in points(paths(made, "plot__band--ours")[0])) == max(x for x, _ in points(paths(made, "plot__line--ours")[0]))


def test_the_counts_below_are_those_at_risk():
    made, curve = drawn(seen(SIX_MP)), holding_curve(seen(SIX_MP))
    ticks = [0, 1, 2]
    below = texts(made)[texts(made).index("printed: 24 pieces") + 1 :]
    assert below == [str(curve.at_risk(tick * 365.25 / 12)) for tick in ticks]


@pytest.mark.parametrize(
    ("longest", "unit", "ticks"),
    [
        (1, "months in use", "01"), (31, "months in use", "012"), (180, "months in use", "0123456"), (365, "months in use", "024681012"),
        (1095, "months in use", "061218243036"), (1097, "years in use", "01234"), (2300, "years in use", "02468"), (36525, "years in use", "020406080100"),
    ],
)  # fmt: skip
def test_the_axis_is_in_months_up_to_three_years(longest, unit, ticks):
    made = texts(drawn(pieces(longest)))
    assert unit in made
    first = made.index("100") + 1
    assert "".join(made[first : made.index(unit)]) == ticks


def test_a_piece_cut_off_has_a_tick_and_those_that_crowd_share_one():
    assert paths(drawn(pieces(100, failed=False)), "plot__cut-off")[0].count("M") == 1
    assert paths(drawn(pieces(*range(1000), failed=False)), "plot__cut-off")[0].count("M") < 100
    assert paths(drawn(pieces(100)), "plot__cut-off") == []


def test_the_two_kinds_differ_by_more_than_a_colour():
    for kind in ("line", "band"):
        theirs = re.search(rf"\.plot__{kind}--theirs {{([^}}]*)}}", CSS)[1]
        ours = re.search(rf"\.plot__{kind}--ours {{([^}}]*)}}", CSS)[1]
        assert ("dasharray" in theirs, "dasharray" in ours) == (True, False)


def test_without_pieces_or_time_in_use_nothing_is_drawn():
    assert drawn([]) is None
    assert drawn(pieces(0, 0), []) is None


@pytest.mark.parametrize("count", [0, 3])
def test_no_such_number_of_kinds(count):
    with pytest.raises(ValueError, match="kinds"):
        drawn(*[seen(SIX_MP)] * count, names=("a", "b", "c"))


def test_words_are_only_ever_read_as_text():
    bad = '<script>"&|*'
    words = CurveWords(label=bad, share=bad, months=bad, years=bad, at_risk=bad)
    made = drawn(seen(SIX_MP), names=(bad,), words=words)
    assert texts(made).count(bad) == 4
    assert tree(made)[0].get("aria-label") == bad


# Charts.
def told(made):
    return ["".join(each.find("title").itertext()) for each in tree(made).iter("g")]


def test_each_batch_is_told_with_its_mean_and_its_range():
    made = told(charted([*STEADY, HIGH]))
    assert (len(made), made[0], made[5], made[6], made[11]) == (12, "B-1: 49.0", "B-6: 50.6", "B-1: 2.0", "B-6: 1.0")


def test_limits_are_written_beside_the_field():
    made = texts(charted([*STEADY, STEADY[0]]))
    assert [each for each in made if "." in each] == ["47.5", "49.0", "50.5", "0.0", "2.6", "5.5"]


def test_values_limits_and_their_labels_have_one_scale():
    made = charted([*STEADY, STEADY[0], HIGH])
    labels = [(float(said), y - 5) for said, _, y in placed(made, anchor="end")]
    for at, (field, values) in enumerate(((labels[:3], [49] * 6 + [50.6]), (labels[3:], [2, 3, 2, 4, 2, 2, 1]))):
        way = [y for _, y in points(paths(made, "plot__way")[at])]
        # Labels are written to a tenth: the centre line's is exact, the limits are 1.5002 and 5.4964.
        exact = [47.4998, 49, 50.5002] if at == 0 else [0, 2.6, 5.4964]
        assert straight([*zip(values, way, strict=True), *zip(exact, [y for _, y in field], strict=True)])
        lines = {y for _, y in points(paths(made, "plot__limit")[at])} | {y for _, y in points(paths(made, "plot__centre")[at])}
        assert lines == {y for said, y in field if said}


def test_the_baseline_is_shaded_as_far_as_its_last_batch():
    made = charted([*STEADY, STEADY[0], HIGH])
    xs = [x for x, _ in points(paths(made, "plot__way")[0])]
    for each in tree(made).iter("rect"):
        assert float(each.get("x")) + float(each.get("width")) == pytest.approx((xs[4] + xs[5]) / 2, abs=0.11)
    assert [x for said, x, _ in placed(made, anchor="middle", kind="plot__name")] == [xs[6]]


def kinds(made):
    return [each.find("path").get("class") for each in tree(made).iter("g")]


def test_what_stands_out_has_another_shape_in_its_own_field_and_its_number_bold_where_there_is_room():
    made = charted([*STEADY, HIGH, WILD, *RUN])
    expected = {6: "plot__out", 7: "plot__out"} | dict.fromkeys(range(6 + NINE - 1, 18), "plot__run")
    means, ranges = kinds(made)[:17], kinds(made)[17:]
    assert dict(enumerate(means, 1)) == {at: expected.get(at, "plot__dot") for at in range(1, 18)}
    assert [at for at, kind in enumerate(ranges, 1) if kind == "plot__out"] == [7]
    bold = [each.text for each in tree(made).iter("text") if each.get("class") == "plot__name"]
    assert bold == ["6", "7", "14", "16"]


LOW, TEN = (47, 48, 47, 48, 47), [[10 + (at * 7 + place * 3) % 5 for place in range(10)] for at in range(5)]


@pytest.mark.parametrize(
    ("rows", "in_means", "in_ranges"),
    [
        ([*STEADY, HIGH], "plot__out", "plot__dot"),
        ([*STEADY, LOW], "plot__out", "plot__dot"),
        ([*STEADY, (46, 52, 49, 49, 49)], "plot__dot", "plot__out"),
        ([*TEN, [12.0] * 9 + [12.1]], "plot__dot", "plot__out"),
        ([*STEADY, *RUN[:NINE]], "plot__run", "plot__dot"),
        ([*STEADY, *[[98 - each for each in row] for row in RUN[:NINE]]], "plot__run", "plot__dot"),
    ],
    ids=["mean high", "mean low", "range high", "range low", "run above", "run below"],
)
def test_whatever_stands_out_is_marked_in_its_own_field(rows, in_means, in_ranges):
    made = kinds(charted(rows))
    assert (made[len(rows) - 1], made[-1]) == (in_means, in_ranges)


def test_in_control_a_field_reaches_a_little_beyond_its_limits():
    """1.3 times as far as they lie from the centre line; ranges down to nothing."""
    made = charted([*STEADY, STEADY[0]])
    for at, below in ((0, True), (1, False)):
        (_, top), (_, bottom), _ = points(paths(made, "plot__axis")[at])
        centre = next(points(paths(made, "plot__centre")[at]))[1]
        limits = [y for _, y in points(paths(made, "plot__limit")[at])]
        assert (centre - top) / (centre - min(limits)) == pytest.approx(1.3, abs=0.01)
        assert not below or (bottom - centre) / (max(limits) - centre) == pytest.approx(1.3, abs=0.01)
    assert placed(made, anchor="end")[3][0] == "0.0"
    assert placed(made, anchor="end")[3][2] == pytest.approx(bottom + 5)


def test_one_wild_batch_does_not_flatten_the_others():
    def spread(rows):
        way = paths(charted(rows), "plot__way")[1]
        ys = [y for _, y in points(way)][:5]
        return max(ys) - min(ys)

    assert spread([*STEADY, WILD]) > spread([*STEADY, HIGH]) / 2


def test_before_there_is_a_baseline_there_are_no_limits():
    made = charted(STEADY[:3])
    assert paths(made, "plot__limit") == paths(made, "plot__centre") == paths(made, "plot__from") == []
    assert len(told(made)) == 6


def test_what_is_unknown_is_not_drawn():
    assert charted([(49,) * 5] * 6) is None
    assert charted([]) is None
    assert charted([*STEADY, (49, 50, 51)]) is None


def test_numbers_below_do_not_run_into_each_other():
    made = tree(charted([*STEADY * 12, *[HIGH] * 30]))
    own = sorted((float(each.get("x")), each.text) for each in made.iter("text") if each.get("text-anchor") == "middle")
    for (x, one), (other, text) in pairwise(own):
        assert other - x >= LETTER * (len(one) + len(text)) / 2


@pytest.mark.parametrize(("longest", "most", "step"), [(0.5, 6, 1), (6, 6, 1), (6.1, 6, 2), (60, 6, 10), (100, 6, 20), (1e6, 6, 200_000)])
def test_steps_of_an_axis(longest, most, step):
    assert nice_step(longest, most) == step


def test_a_number_is_short_and_never_less_than_nothing_by_a_hair():
    assert [number(each) for each in (-0.01, 0.04, 1.25, 3.0, -7.0)] == ["0", "0", "1.2", "3", "-7"]


DAYS = st.lists(st.tuples(st.floats(0, 1e9) | st.integers(0, 3000), st.booleans()), max_size=12)
VALUES = st.floats(-1e150, 1e150) | st.sampled_from([0.0, 1e15, 1e15 + 0.125, 49.0])


@settings(max_examples=40, deadline=None)
@given(DAYS, DAYS, st.lists(st.tuples(*[VALUES] * 5), max_size=9))
def test_whatever_is_given_is_drawn_whole_or_not_at_all(ours, theirs, rows):
    for made in (drawn(seen(ours), seen(theirs)), charted(rows)):
        assert made is None or "nan" not in str(made)
        assert made is None or tree(made).tag == "figure"
