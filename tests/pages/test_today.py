"""Today in words and as a chart: what is reckoned is what is shown, in every language, and no record's text is more than text."""

import re
import shlex
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

from generator.edge.cli import _parser
from generator.pages.addresses import addresses
from generator.pages.around import Around
from generator.pages.marks import shown
from generator.pages.plot import WIDTH
from generator.pages.today.page import _chart, _page_of, today_page
from generator.pages.today.plan_svg import MOST_WEEKS, PlanWords, TaskBar, plan_svg
from generator.pages.today.told import (
    first_sentence,
    fitting_told,
    method_words,
    plan_words,
    skipped_words,
    today_told,
    waiting_words,
)
from generator.pages.wording import wording
from generator.planning.today.deadlines import Deadline
from generator.planning.today.drawn import todays
from generator.planning.today.guesses import Minutes
from generator.planning.today.tasks import TaskKind
from generator.reading.catalogue import read_catalogue
from tests.fixtures.production import batch
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
    line = next(line for task, line in zip(found.tasks, found.lines, strict=True) if task.kind is TaskKind.KEEP and task.what == "approval")
    assert line.why[0].startswith("Begun today, it comes after 30 Jun 2027 all the same with a chance of 100 %: that day is lost.")
    assert not any("It comes first" in each or "Of a week of delay" in each for each in line.why)
    assert "--approved-on 2025-" in line.command or "--approved-on 2026-" in line.command


def test_a_day_that_can_still_be_kept_says_what_a_week_changes(depot):
    found = told(depot, day=date(2027, 4, 11))
    task, line = next((task, line) for task, line in zip(found.tasks, found.lines, strict=True) if task.kind is TaskKind.KEEP and task.what == "approval")
    chance, later = (round(100 * each) for each in (task.deadline.chance, task.deadline.in_a_week))
    assert line.why[0] == f"It comes first: begun today, it lapses on 30 Jun 2027 all the same with a chance of {chance} %, begun in a week with {later} %."
    assert f"Of a week of delay {round(100 * task.deadline.delayed)} % counts: by so much it lacks longer, on average." in line.why
    assert chance < round(100 * task.deadline.delayed) < later


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


def bar(at: int, begins: float, ends: float, *, presses: bool = False, name: str | None = None) -> TaskBar:
    return TaskBar(name=name or f"{at} TV-{at:04}", begins=begins, ends=ends, is_pressing=presses, told="what it is")


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


@pytest.mark.parametrize("hours", [0.001, 1e-9, 5e-324])
@pytest.mark.parametrize("language", ["en", "de", "da"])
def test_what_does_not_fit_into_two_years_is_told_and_has_no_day(depot, hours, language):
    found, w = told(depot, language, hours=hours), wording(language)
    later = [each for each in found.plan if each.is_beyond]
    assert later
    assert f"{len(later)} " in plan_words(found, w)
    assert w.day(DAY + timedelta(days=730)) in plan_words(found, w)
    assert [w.day(DAY + timedelta(days=730)) in line.done_on for line in found.lines] == [each.is_beyond for each in found.plan]
    years = {int(year) for text in (plan_words(found, w), *(line.done_on for line in found.lines)) for year in re.findall(r"\d{4}", text)}
    assert max(years) <= DAY.year + 2


def test_where_all_fits_nothing_is_said_of_two_years(depot):
    assert "2028" not in plan_words(told(depot, hours=168), wording("en"))


def page_of(depot: Path, language: str = "en") -> str:
    catalogue = read_catalogue(depot)
    found = sheets(depot)[0]
    around = Around(catalogue=catalogue, sheets={each.number: each for each in found}, found=addresses(catalogue.parts), w=wording(language))
    return today_page(around, found, DAY).text


FOLD = re.compile(r'<details class="earlier board__fold printed-open">.*?</details>', re.DOTALL)
ROW = re.compile(r"<tr><td>(?:(?!</tr>).)*?<b>(\d+)</b>.*?</tr>", re.DOTALL)


@pytest.mark.parametrize("language", ["en", "de", "da"])
def test_the_whole_order_is_one_list_with_one_reason_each_and_nothing_is_told_twice(depot, language):
    text, found = page_of(depot, language), told(depot, language, hours=None)
    picked, _, listed = text.partition(f"## {wording(language)('today.plan')}")
    assert [int(row) for row in ROW.findall(listed)] == list(range(1, len(found.lines) + 1))
    for at, line in enumerate(found.lines, start=1):
        row = next(each[0] for each in ROW.finditer(listed) if each[1] == str(at))
        bare, is_picked = re.sub(FOLD, "", row), any(each == str(at) for each in ROW.findall(picked))
        assert line.reason in line.why
        assert str(shown(line.reason)) in bare
        assert not [why for why in line.why if why != line.reason and str(shown(why)) in bare]
        for told_once in (*(why for why in line.why if why != line.reason), line.do):
            whole = "".join(each[0] for each in ROW.finditer(text) if each[1] == str(at))
            assert whole.count(str(shown(told_once))) == 1, (at, is_picked)


def test_of_a_long_order_a_dozen_stands_open(depot, monkeypatch):
    assert 'id="later"' not in page_of(depot)
    monkeypatch.setattr("generator.pages.today.page._MOST_OPEN", 1)
    text = page_of(depot)
    opened, _, folded = text.partition("## What gets done by when")[2].partition('id="later"')
    assert ROW.findall(opened) == ["1"]
    assert ROW.findall(folded) == ["2"]
    assert "1 more task, no. 2" in folded


def test_what_leads_a_reason_is_what_presses_then_the_quotient(depot):
    pressing = told(depot, day=date(2027, 4, 11))
    for task, line, missed in zip(pressing.tasks, pressing.lines, pressing.missed, strict=True):
        if missed:
            assert line.reason.startswith("Too late by this plan")
        elif task.is_pressing:
            assert line.reason.startswith("It comes first")
        elif task.value_a_week:
            assert "÷" in line.reason


def test_of_each_kind_it_says_how_many_and_how_much_work(depot):
    found = told(depot)
    says = re.findall(r"<li>(.*?)</li>", page_of(depot).partition('id="kinds"')[2])
    numbers = [set(re.findall(r"\d+", each)) for each in says]
    for kind in dict.fromkeys(task.kind for task in found.tasks):
        own = [task.minutes.minutes for task in found.tasks if task.kind is kind]
        assert any({str(len(own)), str(sum(own))} <= each for each in numbers)


def test_what_does_not_fit_is_counted_and_folded_with_its_minutes(depot):
    found, w = told(depot), wording("en")
    fits = replace(fitting_told(found, 1, w), skipped=found.lines[:2])
    assert skipped_words(fits, w) == "2 tasks whose turn would come before do not fit; minutes are guesses where nothing else is said."
    assert all(line.own == f"{task.minutes.minutes} min" for task, line in zip(found.tasks, found.lines, strict=True))
    logged = replace(found.lines[0], own="20 min, as logged once", minutes="20 min, as logged once")
    assert skipped_words(replace(fits, skipped=(logged,)), w) == "1 task whose turn would come before does not fit."


def test_a_batch_and_what_stands_in_a_list_lead_there(depot):
    catalogue, found = read_catalogue(depot), told(depot)
    around = Around(catalogue=replace(catalogue, production=replace(catalogue.production, batches={"B-7": batch()})), sheets={}, found=addresses(catalogue.parts, catalogue.materials), w=wording("en"))
    task, line = found.tasks[0], replace(found.lines[0], part=None)
    pages = {
        (TaskKind.BATCH, "B-7"): "batches/B-7.md", (TaskKind.REMIND, "B-7"): "batches/B-7.md", (TaskKind.REQUEST, "coat-hook"): "requests.md", (TaskKind.TEST, "1"): "fire-tests.md",
        (TaskKind.RECORD, "makers.yml"): "catalogue.md", (TaskKind.KEEP, "petg"): "materials/petg.md", (TaskKind.BATCH, "B-8"): None,
    }  # fmt: skip
    assert {key: _page_of(replace(task, kind=key[0], number=key[1], row=None), line, around) for key in pages} == pages


def test_every_kind_has_its_name():
    assert set(wording("en").tree["today"]["kinds"]) == {kind.name.lower() for kind in TaskKind}


def test_what_is_folded_is_printed():
    css = (Path(__file__).parents[2] / "site_src/assets/css/approvals.css").read_text("utf-8")
    assert re.search(r"@media print \{[^@]*\.printed-open::details-content \{[^}]*content-visibility: visible", css)


@pytest.mark.parametrize(("hours", "shown"), [(6, "6"), (2.25, "2.25"), (0.001, "0.001"), (1e-6, "< 0.001")])
def test_few_hours_are_never_shown_as_none(depot, hours, shown):
    assert plan_words(told(depot, hours=hours), wording("en")) .startswith(f"In the {shown} hours a week that depot.yml states, one after the other.")


# EX-0001 is approved until 30 June 2027; how long before a task of it is drawn, and in how many hours a week it comes too late.
LATE = [(date(2027, 4, 11), 0.5, "latest start", "it may lapse on 30 Jun 2027"), (date(2027, 4, 11), 0.01, "last day", "it lapses on 30 Jun 2027"), (date(2027, 4, 11), 0, "last day", "never, too late")]


@pytest.mark.parametrize("language", ["en", "de", "da"])
@pytest.mark.parametrize(("day", "hours", "which", "says"), LATE)
def test_what_the_plan_lets_lapse_says_so_wherever_the_plan_is_told(depot, day, hours, which, says, language):
    found, w = told(depot, language, day, hours), wording(language)
    at = next(at for at, task in enumerate(found.tasks) if task.kind is TaskKind.KEEP and task.what == "approval")
    line, missed = found.lines[at], found.missed[at]
    assert missed is not None
    assert missed.value == which
    assert language != "en" or says in line.done_on
    assert w.day(found.tasks[at].deadline.last_day) in line.done_on
    assert line.why[0] != told(depot, language, day, 40).lines[at].why[0]
    assert line.subject in plan_words(found, w)
    assert "{" not in plan_words(found, w) + line.done_on + "".join(line.why)
    assert which != "latest start" or f"{at + 1} EX-0001 {w('today.chart_late')}" in _chart(found, w)


@pytest.mark.parametrize(("language", "said"), [("en", "has lain there for 89 days,"), ("de", "seit 89 Tagen,"), ("da", "i 89 dage,")])
def test_how_long_it_lies_there_stands_in_its_case(language, said):
    w = wording(language)
    assert said in w("today.tasks.remind.do", waited=w.count("today.lain", 89), rests="14")


def test_in_hours_enough_no_day_is_missed(depot):
    found = told(depot, day=date(2027, 4, 11), hours=40)
    assert found.missed == (None,) * len(found.tasks)
    assert "too late" not in plan_words(found, wording("en"))


def test_what_is_put_forward_says_so_and_is_done_in_time(depot):
    """By itself it takes all of its two days."""
    catalogue, w = read_catalogue(depot), wording("en")
    *others, last = (each for each in todays(sheets(depot)[0], catalogue, DAY) if each.value_a_week and not each.is_pressing)
    hours = last.minutes.minutes / 2 * 7 / 60
    catalogue = replace(catalogue, depot=catalogue.depot.model_copy(update={"hours_per_week": hours}))
    keeps = Deadline(last_day=DAY + timedelta(days=90), latest_start=DAY + timedelta(days=2), chance=0.1, in_a_week=0.3, delayed=0.2, is_pressing=False)
    found = today_told([*others, replace(last, deadline=keeps)], catalogue, DAY, w)
    assert found.tasks[0].deadline is keeps
    assert found.plan[0].done_on <= keeps.latest_start
    assert found.lines[0].why[0] == "By what waiting costs, its turn would come later; it stands here so that it is done by 27 Nov 2026."
    assert not any(each.startswith("By what waiting costs") for line in found.lines[1:] for each in line.why)
    assert found.missed == (None,) * len(found.tasks)


def test_the_task_of_a_batch_names_the_part_too(depot):
    """B-7 alone says nothing to who plans the day."""
    catalogue = read_catalogue(depot)
    catalogue = replace(catalogue, production=replace(catalogue.production, batches={"B-7": batch(events=())}))
    found = today_told(todays(sheets(depot)[0], catalogue, DAY), catalogue, DAY, wording("en"))
    [line] = [line for task, line in zip(found.tasks, found.lines, strict=True) if task.kind is TaskKind.BATCH]
    assert line.subject == "B-7 (EX-0001 Lid knob)"
