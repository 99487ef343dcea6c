"""Curves and charts of made-up pieces and batches, for the tests that look at how they are drawn."""

import random
from datetime import date, timedelta

from generator.pages.holding.curve_svg import CurveWords, NamedCurve, curve_svg
from generator.pages.printed.chart_svg import ChartWords, chart_svg
from generator.planning.holding.curve import Observation, holding_curve
from generator.rules.control_chart import Subgroup, control_chart

CURVE_WORDS = CurveWords(
    label="How long printed and bought pieces held.", share="still holding, %", months="months in use", years="years in use",
    at_risk="pieces that were in use so long",
)  # fmt: skip
CHART_WORDS = ChartWords(
    label="Tensile strength of each batch.", mean="mean of a batch, MPa", range="range within a batch, MPa",
    order="batches in the order of their days", baseline="limits from these", figure=lambda value: f"{value:.1f}",
)  # fmt: skip


def pieces(*ended, failed=True):
    return [Observation(days=days, failed=failed) for days in ended]


def some(count, mean, longest, seed=417):
    chance = random.Random(seed)
    lives = [(chance.expovariate(1 / mean), chance.uniform(0, longest)) for _ in range(count)]
    return [Observation(days=int(min(life, left)), failed=life < left) for life, left in lives]


def drawn(*groups, names=("printed: 24 pieces", "bought: 31 pieces"), words=CURVE_WORDS):
    return curve_svg([NamedCurve(name=name, curve=holding_curve(group)) for name, group in zip(names, groups, strict=False)], words)


def batches(rows):
    return [Subgroup(name=f"B-{at + 1}", day=date(2026, 1, 5) + timedelta(days=at), values=tuple(map(float, row))) for at, row in enumerate(rows)]


def charted(rows, words=CHART_WORDS):
    return chart_svg(control_chart(batches(rows)), words)


STEADY = [(48, 49, 50, 49, 49), (49, 51, 49, 48, 48), (50, 49, 48, 50, 48), (49, 49, 51, 47, 49), (48, 50, 49, 49, 49)]
HIGH, WILD = (51, 50, 51, 50, 51), (90, 2, 90, 90, 90)
RUN = [(49.4, 48.4, 50.4, 49.4, 49.4)] * 10
