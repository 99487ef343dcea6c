"""Conditions before fitting: a box to tick for each, told in the verdict, and nothing kept."""

from datetime import datetime, timedelta
from itertools import pairwise
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import BrowserContext, Page

from generator.pages.part.verdict_data import script
from tests.browser.conftest import pressed, texts
from tests.browser.test_verdicts import GOOD, at, site, word

__all__ = ["site"]
pytestmark = pytest.mark.browser
ONE, TWO = "Gap is 2 mm.", "Screw <b>glued</b>."
ASKED = GOOD | {"conditions": [ONE, TWO], "before_fitting": [ONE, TWO]}
DAY = "2026-11-25"
CSS = Path(__file__).parents[2] / "site_src/assets/css"
LONG = [f"{n}: the gap is looked at, written into the book of the car and told to running gear." for n in range(3)]
SIZES = ({"width": 820, "height": 1180}, {"width": 1180, "height": 820})

@pytest.fixture
def page(reader: Page) -> Page:
    """It draws no frame, and nothing here waits for one but what asks for `drawn`."""
    return reader



def boxes(page: Page):
    return page.locator(".ticks input[type=checkbox]")


def ticked(page: Page) -> list[int]:
    return list(boxes(page).evaluate_all("(all) => [...all.keys()].filter((at) => all[at].checked)"))


def places(page: Page) -> list[tuple[float, float, float, float]]:
    """Where the boxes lie on the screen: left, top, width, height."""
    found = boxes(page).evaluate_all("(all) => all.map((each) => each.getBoundingClientRect()).map(({ x, y, width, height }) => [x, y, width, height])")
    return [tuple(each) for each in found]


def tick(page: Page, at_: int, is_: bool = True) -> None:
    """As a person does who looks: not before the box that was ticked before lets go of the others."""
    page.locator("html:not([data-held])").wait_for()
    boxes(page).nth(at_).set_checked(is_, force=True)


def styled(address: str, verdicts: int = 2) -> str:
    """The page as it looks, with a verdict for each of several vehicles."""
    file = Path(urlsplit(address).path)
    text = file.read_text(encoding="utf-8")
    begins, ends = text.index('<div class="verdict'), text.index('<p class="copy-age"')
    box = text[begins:ends].replace("<details", '<p class="verdict__ask">Ask: the office</p>\n<details')
    more = "".join(box.replace('ground="0"', f'ground="{at_}"') for at_ in range(verdicts))
    styles = "".join(f"<style>{(CSS / name).read_text(encoding='utf-8')}</style>" for name in ("base.css", "part.css", "verdict.css"))
    file.write_text(f'{text[:begins]}{styles}<main class="md-typeset" style="width: 20rem">{more}</main>{text[ends:]}', encoding="utf-8")
    return address


def grounds(*facts: dict) -> bytes:
    return script("sparesPart", {"number": "TV-1", "grounds": [{"permits": [each]} for each in facts]})


def reason(page: Page) -> str:
    return page.locator(".verdict__reason").text_content() or ""


def test_it_asks_until_all_are_ticked_and_then_names_them(page: Page, site) -> None:
    at(page, DAY, site(ASKED))
    assert (word(page), boxes(page).count()) == ("Ask first", 2)
    assert texts(page, ".tick", "textContent") == [ONE, TWO]
    tick(page, 0)
    assert word(page) == "Ask first"
    assert ONE not in reason(page)
    tick(page, 1)
    assert word(page) == "Fit it"
    assert f"Ticked here: {ONE[:-1]}; {TWO}" in reason(page)
    tick(page, 0, False)
    assert word(page) == "Ask first"


@pytest.mark.parametrize("size", SIZES, ids=["upright", "across"])
def test_no_box_moves_and_a_double_tap_never_ticks_two(drawn: Page, site, size) -> None:
    drawn.set_viewport_size(size)
    asked = GOOD | {"conditions": LONG, "before_fitting": LONG}
    at(drawn, DAY, styled(site(part=grounds(asked, asked | {"permit_reference": "L-13"}))))
    assert boxes(drawn).count() == 6
    for at_ in range(6):
        boxes(drawn).nth(at_).scroll_into_view_if_needed()
        before = places(drawn)
        for _ in range(2):
            drawn.locator("html:not([data-held])").wait_for()
            for _ in range(3):
                drawn.touchscreen.tap(before[at_][0] + 5, before[at_][1] + 5)
            assert ticked(drawn) in ([*range(at_)], [*range(at_ + 1)])
            assert places(drawn) == before
        tick(drawn, at_)
        assert places(drawn) == before
    assert texts(drawn, ".verdict__word") == ["Fit it", "Fit it"]


def test_no_box_moves_below_an_open_why(page: Page, site) -> None:
    asked = GOOD | {"conditions": LONG, "before_fitting": LONG}
    at(page, DAY, styled(site(part=grounds(asked, asked))))
    pressed(page.locator("summary").first)
    before = page.locator(".ticks").nth(1).evaluate("(box) => box.getBoundingClientRect().y + scrollY")
    for at_ in (0, 1, 2):
        tick(page, at_)
        assert page.locator(".ticks").nth(1).evaluate("(box) => box.getBoundingClientRect().y + scrollY") == before
    pressed(page.get_by_role("button", name="Next piece"))
    assert page.locator(".ticks").nth(1).evaluate("(box) => box.getBoundingClientRect().y + scrollY") == before


def test_a_second_tap_on_another_box_counts_only_after_a_moment(page: Page, site) -> None:
    at(page, DAY, site(ASKED))
    page.evaluate("[...document.querySelectorAll('.ticks input')].forEach((_, at) => document.querySelectorAll('.ticks input')[at].click())")
    assert (word(page), ticked(page)) == ("Ask first", [0])
    tick(page, 1)
    assert word(page) == "Fit it"


def test_rows_lie_apart_and_are_as_high_as_a_gloved_finger(page: Page, site) -> None:
    at(page, DAY, styled(site(ASKED | {"before_fitting": [*LONG, "Short."], "conditions": [*LONG, "Short."]}), 1))
    rows = [row.bounding_box() for row in page.locator(".tick").all()]
    assert min(row["height"] for row in rows) >= 48
    gaps = [below["y"] - above["y"] - above["height"] for above, below in pairwise(rows)]
    assert min(gaps) >= 8


def test_after_a_tick_the_same_box_has_the_focus(page: Page, site) -> None:
    at(page, DAY, site(ASKED))
    boxes(page).nth(1).focus()
    page.keyboard.press("Space")
    assert page.evaluate("document.activeElement === document.querySelectorAll('.ticks input')[1]")
    assert boxes(page).nth(1).is_checked()


def test_nothing_is_kept_over_a_reload(page: Page, site) -> None:
    at(page, DAY, site(ASKED))
    tick(page, 0)
    tick(page, 1)
    assert word(page) == "Fit it"
    page.reload()
    assert word(page) == "Ask first"
    assert boxes(page).nth(0).is_checked() is False
    assert page.evaluate("Object.keys(localStorage).concat(Object.keys(sessionStorage)).length") == 0


def test_another_day_begins_without_a_tick(page: Page, site) -> None:
    at(page, DAY, site(ASKED))
    tick(page, 0)
    tick(page, 1)
    page.clock.set_fixed_time(datetime.fromisoformat("2026-11-26T12:00:00").astimezone())
    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    assert (word(page), boxes(page).nth(0).is_checked()) == ("Ask first", False)


def all_ticked(page: Page) -> None:
    for at_ in range(boxes(page).count()):
        tick(page, at_)
    assert word(page) == "Fit it"


def test_the_next_piece_begins_without_a_tick(page: Page, site) -> None:
    at(page, DAY, styled(site(ASKED), 1))
    button = page.get_by_role("button", name="Next piece")
    tick(page, 0)
    assert button.count() == 0
    tick(page, 1)
    assert (button.bounding_box() or {})["height"] >= 48
    pressed(button)
    assert (word(page), ticked(page), button.count()) == ("Ask first", [], 0)
    assert page.locator(".verdict__ask").is_visible()


@pytest.mark.parametrize(("minutes", "verdict"), [(9, "Fit it"), (11, "Ask first"), (-1, "Ask first")], ids=["a moment", "long", "a clock set back"])
def test_out_of_sight_for_long_nothing_stays_ticked(page: Page, site, minutes, verdict) -> None:
    at(page, DAY, site(ASKED))
    all_ticked(page)
    page.evaluate("Object.defineProperty(document, 'visibilityState', { get: () => globalThis.seen, configurable: true })")
    for seen, minute in (("hidden", 0), ("visible", minutes)):
        page.clock.set_fixed_time(datetime.fromisoformat(f"{DAY}T12:00:00").astimezone() + timedelta(minutes=minute))
        page.evaluate("(seen) => { globalThis.seen = seen; document.dispatchEvent(new Event('visibilitychange')); }", seen)
    assert word(page) == verdict


def test_half_an_hour_after_the_last_tick_nothing_stays_ticked(own_tablet: BrowserContext, site) -> None:
    page = own_tablet.new_page()
    page.clock.install(time=datetime.fromisoformat(f"{DAY}T12:00:00").astimezone())
    page.goto(site(ASKED))
    for at_ in (0, 1):
        boxes(page).nth(at_).check(force=True)
        page.clock.run_for(29 * 60_000)
    assert word(page) == "Fit it"
    page.clock.run_for(2 * 60_000)
    assert (word(page), ticked(page)) == ("Ask first", [])


def test_a_page_that_comes_back_has_no_tick(page: Page, site) -> None:
    at(page, DAY, site(ASKED))
    all_ticked(page)
    page.evaluate("window.dispatchEvent(new PageTransitionEvent('pageshow', { persisted: true }))")
    assert (word(page), ticked(page)) == ("Ask first", [])


def test_paper_says_ask_first_with_empty_boxes(page: Page, site) -> None:
    at(page, DAY, site(ASKED))
    all_ticked(page)
    page.evaluate("window.addEventListener('beforeprint', () => { globalThis.printed = document.querySelector('.verdict').innerText; })")
    page.pdf()
    assert "Ask first" in page.evaluate("printed")
    assert ticked(page) == []


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
        tick(page, at_)
    assert word(page) == verdict


def test_of_two_permits_all_conditions_are_ticked(page: Page, site) -> None:
    other = ASKED | {"conditions": ["C."], "before_fitting": ["C."]}
    at(page, DAY, site(ASKED, other))
    assert boxes(page).count() == 3
    for each in (0, 1):
        tick(page, each)
    assert word(page) == "Ask first"
    tick(page, 2)
    assert word(page) == "Fit it"


@pytest.mark.parametrize("asked", [GOOD, ASKED], ids=["nothing to tick", "something"])
def test_what_is_kept_in_service_stands_in_lines_of_its_own_under_the_reason(page: Page, site, asked) -> None:
    kept = asked | {"in_service": ["Looked at monthly. (plan 4)", "Out at 10 years. (plan 5)"]}
    at(page, DAY, site(kept, kept))
    lines = page.locator(".verdict__reason ~ .verdict__service, .verdict__room ~ .verdict__service")
    for verdict in ["Ask first", "Fit it"][asked is GOOD :]:
        assert word(page) == verdict
        assert lines.all_inner_texts() == ["In service: Looked at monthly. (plan 4)", "In service: Out at 10 years. (plan 5)"]
        assert "monthly" not in reason(page)
        for at_ in range(boxes(page).count()):
            tick(page, at_)


def test_what_may_not_be_fitted_is_not_kept_in_service(page: Page, site) -> None:
    at(page, DAY, site(GOOD | {"in_service": ["Looked at monthly (plan 4)"], "certificate_until": "2026-11-01"}))
    assert (word(page), page.locator(".verdict__service").count()) == ("Do not fit", 0)


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
