"""Conditions before fitting: a box to tick for each, told in the verdict, and nothing kept."""

from datetime import datetime

import pytest
from playwright.sync_api import Page

from tests.browser.test_verdicts import GOOD, at, site, word

__all__ = ["site"]
pytestmark = pytest.mark.browser
ONE, TWO = "Gap is 2 mm.", "Screw <b>glued</b>."
ASKED = GOOD | {"conditions": [ONE, TWO], "before_fitting": [ONE, TWO]}
DAY = "2026-11-25"


def boxes(page: Page):
    return page.locator(".ticks input[type=checkbox]")


def reason(page: Page) -> str:
    return page.locator(".verdict__reason").text_content() or ""


def test_it_asks_until_all_are_ticked_and_then_names_them(page: Page, site) -> None:
    at(page, DAY, site(ASKED))
    assert (word(page), boxes(page).count()) == ("Ask first", 2)
    assert page.locator(".tick").all_text_contents() == [ONE, TWO]
    boxes(page).nth(0).check()
    assert word(page) == "Ask first"
    assert ONE not in reason(page)
    boxes(page).nth(1).check()
    assert word(page) == "Fit it"
    assert f"Ticked here: {ONE}; {TWO}" in reason(page)
    boxes(page).nth(0).uncheck()
    assert word(page) == "Ask first"


def test_after_a_tick_the_same_box_has_the_focus(page: Page, site) -> None:
    at(page, DAY, site(ASKED))
    boxes(page).nth(1).focus()
    page.keyboard.press("Space")
    assert page.evaluate("document.activeElement === document.querySelectorAll('.ticks input')[1]")
    assert boxes(page).nth(1).is_checked()


def test_nothing_is_kept_over_a_reload(page: Page, site) -> None:
    at(page, DAY, site(ASKED))
    boxes(page).nth(0).check()
    boxes(page).nth(1).check()
    assert word(page) == "Fit it"
    page.reload()
    assert word(page) == "Ask first"
    assert boxes(page).nth(0).is_checked() is False
    assert page.evaluate("Object.keys(localStorage).concat(Object.keys(sessionStorage)).length") == 0


def test_another_day_begins_without_a_tick(page: Page, site) -> None:
    at(page, DAY, site(ASKED))
    boxes(page).nth(0).check()
    boxes(page).nth(1).check()
    page.clock.set_fixed_time(datetime.fromisoformat("2026-11-26T12:00:00").astimezone())
    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    assert (word(page), boxes(page).nth(0).is_checked()) == ("Ask first", False)


@pytest.mark.parametrize(
    ("change", "verdict", "count"),
    [
        ({"conditions": [ONE, TWO, "C."], "unplanned": ["C."]}, "Ask first", 2),
        ({"question_open_since": "2026-11-20"}, "Ask first", 2),
        ({"certificate_until": "2026-11-01"}, "Do not fit", 0),
        ({"permit_from": "2026-12-01"}, "Do not fit", 0),
        ({"before_fitting": None}, "Ask first", 0),
        ({"before_fitting": ONE}, "Ask first", 0),
        ({"conditions": ["C."], "before_fitting": []}, "Ask first", 0),
    ],
    ids=["unplanned", "a question", "no certificate", "not begun", "not said", "no list", "another"],
)
def test_ticks_change_nothing_else(page: Page, site, change, verdict, count) -> None:
    at(page, DAY, site(ASKED | change))
    assert (word(page), boxes(page).count()) == (verdict, count)
    for at_ in range(count):
        boxes(page).nth(at_).check()
    assert word(page) == verdict


def test_of_two_permits_all_conditions_are_ticked(page: Page, site) -> None:
    other = ASKED | {"conditions": ["C."], "before_fitting": ["C."]}
    at(page, DAY, site(ASKED, other))
    assert boxes(page).count() == 3
    for each in (0, 1):
        boxes(page).nth(each).check()
    assert word(page) == "Ask first"
    boxes(page).nth(2).check()
    assert word(page) == "Fit it"


def test_what_is_kept_in_service_stands_under_the_word(page: Page, site) -> None:
    at(page, DAY, site(GOOD | {"in_service": ["Looked at monthly (plan 4)"]}))
    assert word(page) == "Fit it"
    assert "In service: Looked at monthly (plan 4)" in reason(page)


def test_a_newer_copy_that_wants_more_ticked_says_otherwise(page: Page, site) -> None:
    at(page, DAY, site(ASKED))
    more = ASKED | {"conditions": [ONE, TWO, "C."], "before_fitting": [ONE, TWO, "C."]}
    compared = """([own, other]) => {
      const names = Object.keys(other);
      const ground = { fleet: "A", place: "cab", label: null, vehicles: ["1-2"], permits: [own] };
      const data = {
        fleets: [{ id: "A" }], places: ["cab"],
        facts: { names, values: Object.values(other), permits: [names.map((_, at) => at)] },
        records: [{ kind: "part", number: "X", grounds: [[0, 0, ["1-2"], null, [0]]] }],
      };
      return spares.judge.compared([ground], sparesRules, { data, rules: sparesRules }, "X", "2026-11-25");
    }"""
    told = [page.evaluate(compared, [ASKED, newer]) for newer in (ASKED, more, ASKED | {"question_open_since": DAY})]
    assert told == ["same", "differs", "differs"]
