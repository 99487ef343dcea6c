"""Today in words and as a chart: what is reckoned is what is shown, in every language, and no record's text is more than text."""

import re
import shlex
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

from generator.edge.cli import _parser
from generator.pages.plot import WIDTH
from generator.pages.today.plan_svg import MOST_WEEKS, Bar, PlanWords, plan_svg
from generator.pages.today.told import (
    first_sentence,
    fitting_told,
    method_words,
    skipped_words,
    today_told,
    waiting_words,
)
from generator.pages.wording import wording
from generator.planning.today.drawn import todays
from generator.planning.today.guesses import Minutes
from generator.planning.today.tasks import Kind
from generator.reading.catalogue import read_catalogue
from tests.fixtures.tiny import DAY, sheets

CSS = (Path(__file__).parents[2] / "site_src/assets/css/plots.css").read_text(encoding="utf-8")
WORDS = PlanWords(label="What gets done.", weeks="weeks from 25 Nov 2026", pressing="begun now, or it lapses")
TASKS = wording("en").tree["today"]["tasks"]


def told(depot: Path, language: str = "en", day: date = DAY, hours: float | None = 6):
    catalogue = read_catalogue(depot)
    catalogue = replace(catalogue, depot=catalogue.depot.model_copy(update={"hours_per_week": hours}))
    return today_told(todays(sheets(depot, day)[0], catalogue, day), catalogue, day, wording(language))


@pytest.mark.parametrize("language", ["en", "de", "da"])
@pytest.mark.parametrize("day", [DAY, date(2027, 6, 20), date(2027, 7, 20)], ids=["long before", "just before", "lapsed"])
def test_every_task_has_its_words_in_every_language(depot, language, day):
    found = told(depot, language, day)
    assert found.lines
    for task, line in zip(found.tasks, found.lines, strict=True):
        said = [line.subject, line.what, line.do, line.command, line.minutes, line.value, *line.why]
        assert all(said), line
        assert not re.search(r"[{}]", " ".join(said)), line
        assert wording(language)("missing") not in (line.what, line.do), line
        assert str(task.minutes.minutes) in line.minutes


def test_a_line_gives_the_figures_that_its_place_comes_from(depot):
    found = told(depot)
    for task, line in zip(found.tasks, found.lines, strict=True):
        why = " ".join(line.why)
        if task.value_a_week:
            assert f"{task.value_a_week:,.2f} EUR a week ÷ {task.whole_minutes:,} minutes of own work" in why
        assert ("It comes first" in why) == task.is_pressing


def test_what_presses_says_with_which_chance(depot):
    found = told(depot, day=date(2027, 6, 20))
    line = next(line for task, line in zip(found.tasks, found.lines, strict=True) if task.kind is Kind.KEEP and task.what == "approval")
    assert line.why[0] == "It comes first: begun today, it lapses on 30 Jun 2027 all the same with a chance of 100 %."
    assert "--approved-on 2025-" in line.command or "--approved-on 2026-" in line.command


def test_what_is_a_guess_is_called_one_and_what_was_logged_is_not(depot):
    found = told(depot)
    w = wording("en")
    assert all(line.minutes.endswith("a guess") for line in found.lines)
    tasks = [replace(task, minutes=Minutes(17, logged=3)) for task in found.tasks]
    assert all(line.minutes == "17 min, median of 3 that were logged" for line in today_told(tasks, read_catalogue(depot), DAY, w).lines)


def test_what_is_only_begun_says_how_much_of_it(depot):
    found, w = told(depot), wording("en")
    long = replace(found, tasks=found.tasks[:1], lines=found.lines[:1])
    whole = found.tasks[0].minutes.minutes
    fits = fitting_told(long, 3, w)
    assert [line.now for line in fits.lines] == [f"begin: 3 of {whole} min"]
    assert (skipped_words(fits, w), waiting_words(fits, w)) == (None, None)


@pytest.mark.parametrize(
    ("text", "first"),
    [
        ("Verlängerung: die Freigabe endet am 18. Dez. 2026", "Verlängerung: die Freigabe endet am 18. Dez. 2026"),
        ("Nicht belegt, dass es hält. Geprüft: kalt", "Nicht belegt, dass es hält"),
        ("Ikke vist. Ældre end 2 år", "Ikke vist"),
        ("Ended on 3 Jan. 2026. Ask whoever approved it", "Ended on 3 Jan. 2026. Ask whoever approved it"),
        ("EN 10204 3.1 is asked", "EN 10204 3.1 is asked"),
        ("", ""),
    ],
)
def test_a_day_ends_no_sentence(text, first):
    assert first_sentence(text) == first


def test_the_conventions_are_told_with_the_depots_own_figures(depot):
    catalogue = read_catalogue(depot)
    own = replace(catalogue, depot=catalogue.depot.model_copy(update={"stop_worth": 1250.0}))
    assert "100.00 EUR" in method_words(catalogue, wording("en"))
    assert "1,250.00 EUR" in method_words(own, wording("en"))
    assert "1.250,00 EUR" in method_words(own, wording("de"))


@pytest.mark.parametrize("which", [key for key in TASKS if "command" in TASKS[key]])
def test_each_command_is_one_that_spares_takes(which):
    gaps = {"ROLE": "quality", "DATE": "2027-01-31", "TEXT": "caliper", "NAME=VALUES": "Collar=35", "NUMBER": "EX-0009", "FILE": "model.stl"}
    command = TASKS[which]["command"].replace("{number}", "EX-0001")
    words = [gaps.get(word, word) for word in shlex.split(command)]
    assert words[0] == "spares"
    _parser(words[1:])[0].parse_args(words[1:])


def bar(at: int, begins: float, ends: float, *, presses: bool = False, name: str | None = None) -> Bar:
    return Bar(name=name or f"{at} TV-{at:04}", begins=begins, ends=ends, is_pressing=presses, told="what it is")


EVERY = {
    "one": [bar(1, 0, 0.1)],
    "some": [bar(1, 0, 0.5, presses=True), bar(2, 0.5, 1.25), bar(3, 1.25, 3)],
    "nothing takes time": [bar(1, 0, 0), bar(2, 0, 0)],
    "very many": [bar(at, at / 100, (at + 1) / 100) for at in range(300)],
    "to the last week": [bar(1, 0, MOST_WEEKS)],
    "a name that would be more than text": [bar(1, 0, 1, name='<script>"&')],
}


def tree(bars) -> ET.Element:
    return ET.fromstring(str(plan_svg(bars, WORDS)))


def rects(root: ET.Element) -> list[tuple[float, float]]:
    return [(float(each.get("x")), float(each.get("width"))) for each in root.iter("rect")]


@pytest.mark.parametrize("which", EVERY)
def test_the_chart_is_text_alone_inside_its_frame_of_classes_that_the_stylesheet_knows(which):
    root = tree(EVERY[which])
    classes = {name for each in root.iter() for name in (each.get("class") or "").split() if name.startswith("plot__")}
    assert classes - {"plot__drawing"} <= set(re.findall(r"\.(plot__[\w-]+)", CSS))
    assert not any(each.get("style") for each in root.iter())
    assert all(x >= 0 and x + width <= WIDTH for x, width in rects(root))
    assert {each.tag for each in root.iter()} <= {"figure", "svg", "text", "path", "rect", "title"}


def test_bars_are_as_long_as_their_weeks():
    first, second, third, legend = rects(tree(EVERY["some"]))
    assert second[1] / first[1] == pytest.approx(1.5, rel=0.01)
    assert third[1] / first[1] == pytest.approx(3.5, rel=0.01)
    assert second[0] == pytest.approx(first[0] + first[1], abs=0.2)
    assert legend


def test_what_presses_differs_by_more_than_its_colour():
    assert re.search(r"plot__task--pressing \{[^}]*stroke-width", CSS)
    assert [each.get("class") for each in tree(EVERY["some"]).iter("rect")].count("plot__task plot__task--pressing") == 2


def test_what_is_done_in_a_quarter_of_a_year_or_later_stands_in_the_table_alone():
    assert len(rects(tree([bar(1, 0, 1), bar(2, 1, MOST_WEEKS + 0.1)]))) == 1
    assert plan_svg([bar(1, 0, MOST_WEEKS + 1)], WORDS) is None
    assert plan_svg([], WORDS) is None


def test_the_days_of_the_table_are_those_of_the_plan(depot):
    found = told(depot, hours=1)
    w = wording("en")
    assert [line.done_on for line in found.lines] == [w.day(each.done_on) for each in found.plan]
    assert found.plan[-1].done_on >= DAY + timedelta(days=found.plan[-1].ends * 7 // 60)
    assert all(line.done_on == "never" for line in told(depot, hours=0).lines)
    assert all(line.done_on is None for line in told(depot, hours=None).lines)
