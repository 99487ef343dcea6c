"""Small screens and large letters: nothing that sticks takes the page away, tables are lists, and words mean one thing."""

import json
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from tests.browser.audit import violations
from tests.browser.conftest import LANDSCAPE, PHONE, PORTRAIT, gone_to, pressed
from tests.browser.patience import wait_until

pytestmark = [pytest.mark.browser, pytest.mark.slow]

SCREENS = {"phone": PHONE, "upright": PORTRAIT, "across": LANDSCAPE}
KINDS = ["index.html", "vehicles.html", "parts/TV-0140.html", "approvals.html", "evidence.html", "requests.html", "guide/mechanics.html", "states/approved.html"]
LARGE = "document.documentElement.style.setProperty('font-size', '250%', 'important')"  # 125 % is the pages' own
STICKS = """[...document.querySelectorAll("body *")].filter(each => ["sticky", "fixed"].includes(getComputedStyle(each).position) && !each.closest(".md-skip, .md-dialog:not(.md-dialog--active)"))
  .reduce((sum, each) => sum + each.getBoundingClientRect().height, 0)"""
LINES = """selector => [...document.querySelectorAll(selector)].filter(each => each.getClientRects().length).map(each => {
  const ranges = (each.textContent.match(/\\d+(–\\d+)?(?=,|$| )/g) || []).length;
  const range = document.createRange();
  range.selectNodeContents(each);
  return [ranges, new Set([...range.getClientRects()].map(box => Math.round(box.bottom / 8))).size, each.textContent];
})"""

@pytest.fixture
def page(reader: Page) -> Page:
    """It draws no frame, and nothing here waits for one but what asks for `drawn`."""
    return reader



def opened(page: Page, site: Path, kind: str, size: dict[str, int], large: bool = True) -> Page:
    page.set_viewport_size(size)
    gone_to(page, f"{site.as_uri()}/{kind}")
    if large:
        page.evaluate(LARGE)
        settled(page)
    return page


def settled(page: Page) -> None:
    """Once it has looked how much room it has: as a page does that draws a frame, and one that draws none."""
    page.evaluate("""new Promise(done => {
      window.dispatchEvent(new Event('resize'));
      requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(done, 50)));
    })""")


def sized(page: Page, site: Path, kind: str, letters: tuple[bool, ...] = (False, True)) -> Iterator[tuple[str, bool]]:
    """One kind of page, opened once, on one screen after the other, as it is and in large letters."""
    opened(page, site, kind, PHONE, large=False)
    for large in letters:
        if large:
            page.evaluate(LARGE)
        for name, size in SCREENS.items():
            page.set_viewport_size(size)
            settled(page)
            yield name, large


def test_what_sticks_takes_a_fifth_of_the_height_at_most(page: Page, site: Path) -> None:
    for kind in ("index.html", "parts/TV-0140.html", "vehicles.html", "parts/TV-0140.html#vehicle=403"):
        for screen, large in sized(page, site, kind):
            assert page.evaluate(STICKS) <= SCREENS[screen]["height"] / 5, (kind, screen, large)


CUT = """() => { const box = document.querySelector(".carried__choice"), style = getComputedStyle(box), pen = document.createElement("canvas").getContext("2d");
  pen.font = `${style.fontWeight} ${style.fontSize} ${style.fontFamily}`;
  return pen.measureText(box.selectedOptions[0].text).width + parseFloat(style.paddingLeft) + 20 - box.clientWidth; }"""


def test_the_vehicle_in_the_header_is_whole_and_the_header_leaves_the_page_its_room(page: Page, site: Path) -> None:
    for kind in ("index.html#vehicle=405", "parts/TV-0417.html#vehicle=405"):
        opened(page, site, kind, PHONE, large=False)
        for how in ("as it is", "200 %"):
            if how == "200 %":
                page.evaluate(LARGE)
                settled(page)
            assert page.evaluate(CUT) <= 0, (kind, how)
            assert page.locator(".top").evaluate("one => one.getBoundingClientRect().height") <= PHONE["height"] / 4, (kind, how)


def test_tables_are_lists(page: Page, site: Path) -> None:
    for kind in ("parts/TV-0140.html", "approvals.html", "evidence.html", "states/approved.html", "guide/mechanics.html"):
        opened(page, site, kind, PHONE)
        page.evaluate("document.querySelectorAll('details').forEach(each => { each.open = true })")
        side_by_side = page.evaluate("""() => [...document.querySelectorAll(".sheet tbody tr")].filter(row => row.getClientRects().length && !row.closest(".hazard")).filter(row => {
          const tops = [...row.cells].map(cell => Math.round(cell.getBoundingClientRect().top));
          return new Set(tops).size < tops.length;
        }).map(row => row.outerHTML.slice(0, 200))""")
        assert side_by_side == [], kind
        if page.locator("table.measure").count():
            said = page.locator("table.measure tbody td").first.evaluate("cell => getComputedStyle(cell, '::before').content")
            assert "At least" in said
    assert "At least" in said, "one of them has such a table"


def test_a_tablet_shows_tables_and_a_place_on_the_vehicle_alone_as_such(page: Page, site: Path) -> None:
    opened(page, site, "parts/TV-0140.html", SCREENS["upright"], large=False)
    assert "At the same place" not in page.locator("body").inner_text()
    assert "Beside it on the shelf" in page.locator(".shelf__beside").first.inner_text()
    tops = page.evaluate("[...document.querySelector('table.measure tbody tr').cells].map(cell => Math.round(cell.getBoundingClientRect().top))")
    assert len(set(tops)) == 1


def test_ranges_of_vehicles_do_not_stand_one_on_a_line(page: Page, site: Path) -> None:
    opened(page, site, "parts/TV-0140.html", PHONE)
    told = [each for each in page.evaluate(LINES, ".verdict__who") if "408" in each[2]]
    heights = page.evaluate("[...document.querySelectorAll('.verdict__who .range')].slice(0, 3).map(each => Math.round(each.getBoundingClientRect().top))")
    assert told
    assert len(set(heights)) < 3
    opened(page, site, "index.html#q=sanding+hose+guide", PHONE)
    page.locator(".hit__link").first.wait_for()
    (ranges, lines, _) = next(each for each in page.evaluate(LINES, ".hit__who") if "408" in each[2])
    assert lines < ranges


PLACEHOLDER = """input => {
  const style = getComputedStyle(input), pen = document.createElement("canvas").getContext("2d");
  pen.font = `${style.fontWeight} ${parseFloat(style.fontSize) * parseFloat(style.getPropertyValue("--hold") || 1)}px ${style.fontFamily}`;
  return [pen.measureText(input.placeholder).width, input.clientWidth - parseFloat(style.paddingLeft) - parseFloat(style.paddingRight), input.placeholder];
}"""


def test_the_placeholder_is_not_cut(drawn: Page, site: Path) -> None:
    for kind in ("index.html", "parts/TV-0417.html#vehicle=405"):
        for screen, large in sized(drawn, site, kind):
            wide, room, text = drawn.locator(".finder__input").evaluate(PLACEHOLDER)
            assert text
            assert wide <= room + 0.5, (kind, screen, large, text)


def test_the_filters_are_whole_on_a_small_tablet(page: Page, site: Path) -> None:
    opened(page, site, "index.html", {"width": 768, "height": 1024}, large=False)
    filters_are_whole(page)
    page.set_viewport_size({"width": 1024, "height": 768})
    settled(page)
    filters_are_whole(page)


def filters_are_whole(page: Page) -> None:
    wait_until(page, "/part/.test(document.querySelector('.finder__stock .finder__count').textContent)")
    cut = page.evaluate("""() => [...document.querySelectorAll(".finder__select")].filter(box => {
      const style = getComputedStyle(box), pen = document.createElement("canvas").getContext("2d");
      pen.font = `${style.fontWeight} ${style.fontSize} ${style.fontFamily}`;
      return pen.measureText(box.selectedOptions[0].text).width > box.clientWidth - 30;
    }).map(box => box.selectedOptions[0].text)""")
    assert cut == []
    lines = page.locator(".finder__stock span").first.evaluate("one => one.getBoundingClientRect().height / parseFloat(getComputedStyle(one).lineHeight)")
    assert round(lines) == 1


SMALL = """() => [...document.querySelectorAll(".sheet :is(a[href], button, summary, select, textarea, input)")].map(each => {
  const box = (each.matches("[type=checkbox], [type=radio]") && each.closest("label") || each).getBoundingClientRect();
  return [each.outerHTML.slice(0, 90), Math.round(box.width), Math.round(box.height)];
}).filter(([, wide, high]) => wide > 1 && (wide < 48 || high < 48))"""


def test_links_and_boxes_of_a_mechanics_pages_are_as_high_as_a_finger(page: Page, site: Path) -> None:
    for kind in ("index.html", "requests.html", "request.html", "looked-for.html", "guide/mechanics.html", "guide/tablet.html", "parts/TV-0104.html#vehicle=405", "by-look.html", "recalls/RC-0001.html", "vehicles/TR4/no-403.html", "carried.html", "recalls.html"):
        opened(page, site, kind, PORTRAIT, large=False)
        page.evaluate("document.querySelectorAll('details').forEach(each => { each.open = true })")
        assert page.evaluate(SMALL) == [], kind


FOCUS = """() => {
  const each = document.activeElement, label = each.closest("label"), box = each.getBoundingClientRect();
  if (each === document.body) return null;
  const at = document.elementFromPoint(box.left + box.width / 2, box.top + Math.min(box.height / 2, 20));
  const isCovered = !at || !(each.contains(at) || at.contains(each) || (label && label.contains(at)));
  const isMarked = [each, label].some(one => one && getComputedStyle(one).outlineStyle !== "none" && parseFloat(getComputedStyle(one).outlineWidth) > 0);
  globalThis.reached = globalThis.reached || new Set();
  reached.add(each);
  return [isMarked, !isCovered, each.outerHTML.slice(0, 80)];
}"""
LEFT = """[...document.querySelectorAll("a[href], button, input, select, textarea, summary")].filter(each => each.getClientRects().length && !each.disabled
  && each.tabIndex >= 0 && each.type !== "radio" && getComputedStyle(each).visibility !== "hidden" && !reached.has(each)).map(each => each.outerHTML.slice(0, 80))"""


def test_the_keyboard_reaches_everything_and_is_seen_and_not_under_a_bar(page: Page, site: Path) -> None:
    for kind in ("index.html#q=knob+701&vehicle=405", "parts/TV-0104.html#vehicle=405", "requests.html"):
        opened(page, site, kind, {"width": 1024, "height": 768}, large=False)
        page.locator(".hit__link" if "q=" in kind else "h1").first.wait_for()
        page.evaluate("document.querySelectorAll('details').forEach(each => { each.open = true })")
        wrong: list[object] = []
        left = 0
        for at in range(280):
            page.keyboard.press("Tab")
            found = page.evaluate(FOCUS)
            wrong += [found] if found and not (found[0] and found[1]) else []
            left += bool(at and not found)  # at its end, or once before it where a part is drawn anew below the focus; what was not reached is told below
            if left > 1:
                break
        assert wrong == [], kind
        assert page.evaluate(LEFT) == [], kind


def test_no_word_of_the_bar_is_broken(page: Page, site: Path) -> None:
    opened(page, site, "index.html", PHONE)
    assert page.evaluate("[...document.querySelectorAll('.bar span')].every(each => each.scrollWidth <= each.parentElement.clientWidth && each.getBoundingClientRect().width <= each.parentElement.clientWidth)")
    heights = page.evaluate("[...document.querySelectorAll('.bar span')].map(each => [each.textContent, each.getBoundingClientRect().height / parseFloat(getComputedStyle(each).lineHeight)])")
    assert [word for word, lines in heights if round(lines) > len(word.split())] == []


def test_no_page_is_wider_than_the_screen_with_a_vehicle(page: Page, site: Path) -> None:
    for kind in KINDS:
        for screen, _ in sized(page, site, f"{kind}#vehicle=403", letters=(True,)):
            assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0, (screen, kind)


def test_the_audit_finds_nothing_in_large_letters(page: Page, site: Path) -> None:
    for kind in ("index.html", "parts/TV-0140.html"):
        opened(page, site, kind, PHONE)
        page.evaluate("document.querySelectorAll('details').forEach(each => { each.open = true })")
        assert violations(page, "light") == [], kind


# ---- words that mean one thing ----


def test_on_the_shelf_counts_pieces_where_it_looks_like_pieces(page: Page, site: Path) -> None:
    opened(page, site, "index.html", SCREENS["upright"], large=False)
    page.locator(".finder__input").fill("knob")
    wait_until(page, "/part/.test(document.querySelector('.finder__stock .finder__count').textContent)")
    opened(page, site, "parts/TV-0417.html", SCREENS["upright"], large=False)
    assert page.locator(".shelf__line").first.inner_text().startswith("38 on 3 Nov 2026, counted:")


def voice(page: Page, site: Path) -> str:
    opened(page, site, "requests.html", SCREENS["upright"], large=False)
    link = page.get_by_role("link", name="I need this too").first
    name = page.locator(".asked h3").first.inner_text()
    pressed(link)
    page.get_by_label("How many are needed").fill("3")
    page.get_by_label("Your role").select_option(index=1)
    return name


def test_i_need_this_too_is_headed_as_what_it_is(page: Page, site: Path) -> None:
    name = voice(page, site)
    assert page.locator("h1").inner_text() == "I need this too"
    assert page.title().startswith("I need this too")
    assert page.locator(".request h2").inner_text() == name
    pressed(page.get_by_role("button", name="Make my voice"))
    assert page.locator(".request h2").inner_text() == "Your voice is ready"
    assert "Ask for a new design" not in page.locator(".sheet").inner_text()
    opened(page, site, "request.html", SCREENS["upright"], large=False)
    assert page.locator("h1").inner_text() == "Ask for a new design"


def test_what_was_handed_over_is_remembered_until_the_copy_tells_it(page: Page, site: Path) -> None:
    name = voice(page, site)
    pressed(page.get_by_role("button", name="Make my voice"))
    pressed(page.get_by_role("button", name="It is handed over"))
    page.wait_for_url("**/requests.html*")
    told = page.locator(".handed__one")
    assert name in told.inner_text()
    assert "handed over, not yet in this copy" in told.inner_text()
    page.reload()
    assert told.count() == 1
    kept = json.loads(page.evaluate("localStorage.getItem('spares.handed')"))[0]
    page.evaluate("([id, voice]) => document.querySelector(`[data-request-id=\"${id}\"]`).setAttribute('data-voices', voice)", [kept["id"], f"{kept['day']}:{kept['by']}"])
    page.evaluate("window.dispatchEvent(new PageTransitionEvent('pageshow'))")
    assert told.count() == 0, "a copy that tells of it"
    assert page.locator(".handed").is_hidden()


def test_a_request_that_was_handed_over_can_be_forgotten_and_bad_memory_harms_nothing(page: Page, site: Path) -> None:
    opened(page, site, "requests.html", SCREENS["upright"], large=False)
    for kept, count in (("{", 0), ("7", 0), ('[{"name": 1}, null]', 0), (json.dumps([{"name": "<img src=x onerror=alert(1)>", "id": "", "day": "2026-11-25", "by": "x"}]), 1)):
        page.evaluate("kept => localStorage.setItem('spares.handed', kept)", kept)
        page.reload()
        assert page.locator(".handed__one").count() == count, kept
    pressed(page.get_by_role("button", name="Forget that it was handed over"))
    assert page.locator(".handed").is_hidden()
    assert page.evaluate("localStorage.getItem('spares.handed')") is None


def test_without_scripts_a_phone_keeps_its_tables_and_its_page(chromium: Browser, site: Path) -> None:
    context = chromium.new_context(viewport=PHONE, java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{site.as_uri()}/parts/TV-0140.html")
    assert page.evaluate("1") == 1
    assert page.locator("table.measure").is_visible()
    assert page.locator(".handed").count() == 0
    page.goto(f"{site.as_uri()}/requests.html")
    assert page.locator(".handed").is_hidden()
    context.close()
