"""Does the finder on the page find, judge, filter and stay usable, by touch, keyboard and screen reader, from disk?"""

import re
import shutil
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
import yaml
from playwright.sync_api import Page, expect

from generator.edge.site.build_identity import NOT_YET, marked
from generator.pages.finder.index import index_script
from generator.pages.part.verdict_data import rules_script
from generator.pages.wording import wording
from tests.browser.audit import violations
from tests.browser.bundles import write_bundles
from tests.browser.conftest import pressed, resized, texts
from tests.finder import catalogues
from tests.rules import vectors

ASSETS = catalogues.ROOT / "site_src" / "assets"
GOOD = vectors.read()["good"]
HOSTILE = '<img src=x onerror="window.hit=1"> & "quotes" | \u05d0\u05d1\u05d2'
pytestmark = pytest.mark.browser

PARTS: dict[str, Any] = {
    "TV-0001": {"name": "Window knob", "box_mm": [35.0, 35.0, 34.0], "on_shelf": 3, "grounds": [[0, 0, ["401-412"], None, [0]]]},
    "TV-0002": {"name": "Heater knob", "box_mm": [35.0, 35.0, 20.0], "grounds": [[0, 1, ["401-412"], None, [1]], [1, 1, ["701-708"], None, [0]]]},
    "TV-0003": {"name": "Wiper bush", "on_shelf": 0, "symptoms": ["wiper slaps"], "grounds": [[0, 1, ["401-402"], None, [2]], [0, 1, ["403-412"], None, [0]]]},
    "TV-0004": {"name": HOSTILE, "purpose": "hostile " + HOSTILE, "grounds": [[0, 0, ["401-412"], "A", [0]]]},
    "TV-0005": {"name": "Broken record", "grounds": []},
    **{f"TX-{at:04d}": {"name": f"Shelf clip {at}", "grounds": [[1, 0, ["701-708"], None, [0]]]} for at in range(40)},
    "R-0001": {"kind": "request", "name": "Knob for the side window", "page": "requests.html#knob", "grounds": [[0, 0, [], None, []]]},
}  # fmt: skip


@pytest.fixture
def page(reader: Page) -> Page:
    """It draws no frame, and nothing here waits for one but what asks for `drawn`."""
    return reader



def _facts() -> dict[str, Any]:
    permits = [GOOD, GOOD | {"conditions": ["look twice"]}, GOOD | {"permit_until": "2026-11-30"}]
    values: list[Any] = []
    for facts in permits:
        values += [value for value in facts.values() if value not in values]
    rows = [[values.index(value) for value in facts.values()] for facts in permits]
    return {"names": list(GOOD), "values": values, "permits": rows}


def _data() -> dict[str, Any]:
    parts = {number: {"page": f"parts/{number}.html", **part} for number, part in PARTS.items()}
    return catalogues.small("en", parts, []) | {
        "facts": _facts(),
        "fleets": [
            {"id": "TR4", "name": "TR4", "vehicles": ["401-412"]},
            {"id": "TR7", "name": "TR7", "vehicles": ["701-708"]},
        ],
        "places": ["Saloon", "Cab"],
    }


def _page(heading: str, box: str, depth: str) -> str:
    config = yaml.safe_load(re.sub(r"!!python\S+", "", (catalogues.ROOT / "mkdocs.yml").read_text("utf-8")))
    tags = [f'<script src="{depth}assets/data/rules.js"></script>']
    tags += [f'<script src="{depth}assets/js/{name}.js"></script>' for name in ("judge", "whole")]
    styles = "".join(f'<link rel="stylesheet" href="{depth}{name}">' for name in config["extra_css"])
    return f"""<!doctype html><html lang="en"><head><meta charset="utf-8"><meta name="spares-build" content="{NOT_YET}"><title>{heading}</title>
<meta name="viewport" content="width=device-width,initial-scale=1">{styles}</head><body data-md-color-scheme="default">
{box if "finder--top" in box else ""}<main class="md-typeset"><h1>{heading}</h1>{box if "finder--home" in box else ""}</main>{"".join(tags)}</body></html>"""  # fmt: skip


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A small site: home, one page with the finder in its header, the part pages as stubs."""
    root = tmp_path_factory.mktemp("site")
    shutil.copytree(ASSETS, root / "assets", ignore=shutil.ignore_patterns("js"))
    write_bundles(root)
    (root / "assets" / "data").mkdir(exist_ok=True)
    rules = rules_script(wording("en"), 45, catalogues.BUILT)
    (root / "assets" / "data" / "rules.js").write_bytes(rules)
    (root / "assets" / "data" / "finder.js").write_bytes(index_script(_data()))
    home = '<div class="finder finder--home" data-finder><p><a href="vehicles.html">By vehicle</a></p></div>'
    top = '<header class="top"><div class="finder finder--top" data-finder><a href="../vehicles.html">Find</a></div></header>'
    (root / "index.html").write_text(_page("Home", home, ""), "utf-8")
    (root / "parts").mkdir()
    (root / "parts" / "a.html").write_text(_page("A part", top, "../"), "utf-8")
    for number in PARTS:
        (root / "parts" / f"{number}.html").write_text(f"<title>{number}</title>", "utf-8")
    marked(root)
    return root


@pytest.fixture
def home(page: Page, folder: Path) -> Page:
    return opened(page, folder / "index.html")


def opened(page: Page, file: Path, asked: str = "", day: str = "2026-11-25") -> Page:
    page.clock.set_fixed_time(datetime.fromisoformat(f"{day}T12:00:00").astimezone())
    faults: list[str] = []
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.goto(file.as_uri() + asked)
    page.faults = faults  # type: ignore[attr-defined]
    expect(page.locator(".finder__input")).to_be_visible()
    return page


def numbers(page: Page) -> list[str]:
    return texts(page, ".hit__number")


def test_parts_appear_as_one_types_each_with_todays_verdict(home: Page) -> None:
    home.locator(".finder__input").type("knob tr4 35")
    expect(home.locator(".hit").first).to_be_visible()
    assert numbers(home)[:2] == ["TV-0001", "TV-0002"]  # a kind and a size off a tape: most likely one of these
    first = home.locator(".hit").first
    expect(first.locator(".hit__stand--fit")).to_have_text(re.compile("TR4.*Fit it"))
    assert home.locator(".hit").nth(1).locator(".hit__stand").all_text_contents() == ["TR4 Ask first", "TR7 Fit it"]
    assert "Measures 35 mm" in first.inner_text()


def test_the_verdict_in_the_list_is_that_of_today(page: Page, folder: Path) -> None:
    opened(page, folder / "index.html", "#q=wiper", day="2026-12-01")
    expect(page.locator(".hit__stand").first).to_be_visible()
    assert texts(page, ".hit__stand", "textContent") == ["TR4 401–402 Do not fit", "TR4 403–412 Fit it"]


@pytest.mark.parametrize("day", ["2026-11-24", "2027-02-01"])
def test_an_old_copy_or_a_wrong_clock_never_lists_fit_it(page: Page, folder: Path, day: str) -> None:
    opened(page, folder / "index.html", "#q=window%20knob", day=day)
    expect(page.locator(".hit__stand").first).to_be_visible()
    assert "Fit it" not in page.locator(".finder__found").inner_text()


def test_without_the_table_of_questions_no_verdict_is_shown(page: Page, folder: Path, tmp_path: Path) -> None:
    shutil.copytree(folder, tmp_path / "site")
    rules = rules_script(wording("en"), 45, catalogues.BUILT).decode()
    broken = re.sub(r'"table":\[.*?\](?=,"(?:unknown_piece|words)")', '"table":[]', rules)
    assert broken != rules
    (tmp_path / "site" / "assets" / "data" / "rules.js").write_text(broken)
    opened(page, tmp_path / "site" / "index.html", "#q=window%20knob")
    expect(page.locator(".hit__stand").first).to_have_text("TR4 See its page")


def test_a_vehicle_or_fleet_in_the_query_is_the_one_that_is_judged(page: Page, folder: Path) -> None:
    opened(page, folder / "index.html", "#q=wiper%20405", day="2026-12-01")
    for query, stands in (
        ("wiper 405", ["TR4 405 Fit it"]),
        ("wiper car 401", ["TR4 401 Do not fit"]),
        ("wiper tr4 401 405", ["TR4 401 Do not fit", "TR4 405 Fit it"]),
        ("heater knob 405", ["TR4 405 Ask first"]),
        ("heater knob tr7", ["TR7 Fit it", "TR4 Ask first"]),
    ):
        if query != "wiper 405":  # the first came by the address
            page.locator(".finder__input").fill("")
            expect(page.locator(".hit")).to_have_count(0)
            page.locator(".finder__input").fill(query)
        expect(page.locator(".hit").first).to_be_visible()
        assert page.locator(".hit").first.locator(".hit__stand").all_text_contents() == stands, query


def test_the_verdict_filter_judges_for_the_vehicle_that_is_asked_for(page: Page, folder: Path) -> None:
    opened(page, folder / "index.html", "#q=wiper%20bush%20401", day="2026-12-01")
    verdicts = page.get_by_label("Verdict today").locator("option")
    expect(verdicts.nth(0)).to_have_text("All verdicts (1)")
    assert verdicts.all_inner_texts()[1:] == ["Do not fit (1)"]  # not "Fit it", which holds for 403 to 412


def test_nothing_is_said_plainly_with_the_way_to_ask(home: Page) -> None:
    home.locator(".finder__input").fill("flux capacitor")
    expect(home.locator(".finder__none")).to_have_text("No such part.")
    expect(home.locator(".finder__ask")).to_have_attribute("href", re.compile(r"request\.html#q=flux"))


def test_what_comes_near_is_offered_as_likely_with_the_way_to_ask(home: Page) -> None:
    home.locator(".finder__input").fill("flux capacitor knob")
    expect(home.locator(".finder__likely")).to_have_text("Most likely one of these.")
    assert "TV-0001" in numbers(home)
    expect(home.locator(".finder__ask")).to_be_visible()


def test_a_sure_answer_is_headed_as_one_with_the_way_to_ask_below(home: Page) -> None:
    home.locator(".finder__input").fill("wiper bush")
    expect(home.locator(".finder__this")).to_have_text("This one")
    expect(home.locator(".finder__ask")).to_have_text("Not it? Ask for a new design")


def test_what_is_longer_than_anybody_types_is_cut_and_told(home: Page) -> None:
    home.locator(".finder__input").fill("knob " * 2000)
    expect(home.locator(".finder__cut")).to_have_text("Only the first 240 characters are looked for.")
    assert len(home.locator(".finder__input").input_value()) == 240
    home.locator(".finder__input").fill("knob")
    expect(home.locator(".finder__cut")).to_be_hidden()


def test_a_part_of_another_fleet_is_only_likely(home: Page) -> None:
    home.locator(".finder__input").fill("window knob tr7")
    expect(home.locator(".finder__likely")).to_be_visible()


def test_filters_narrow_and_count(home: Page) -> None:
    home.locator(".finder__input").fill("knob")
    expect(home.locator(".hit").first).to_be_visible()
    fleet = home.get_by_label("Fleet")
    expect(fleet.locator("option")).to_have_text(["All fleets (2)", "TR4 (2)", "TR7 (1)"])
    fleet.select_option("TR7")
    expect(home.locator(".hit--part")).to_have_count(1)
    fleet.select_option("")
    home.get_by_label("Verdict today").select_option("ask")
    assert [each for each in numbers(home) if each.startswith("TV")] == ["TV-0002"]
    home.get_by_label("Verdict today").select_option("")
    home.get_by_label("On the shelf").check(force=True)
    assert [each for each in numbers(home) if each.startswith("TV")] == ["TV-0001"]


def test_nothing_of_the_box_is_cut_and_its_filters_stand_in_line(drawn: Page, folder: Path) -> None:
    opened(drawn, folder / "index.html")
    expect(drawn.locator(".finder__stock .finder__count")).not_to_be_empty()
    for width in (390, 800, 1280):
        resized(drawn, {"width": width, "height": 900})
        drawn.evaluate("new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))")
        stands_in_line(drawn)


def stands_in_line(page: Page) -> None:
    needs = page.evaluate(
        """() => { const box = document.querySelector('.finder__input'); const style = getComputedStyle(box);
          const pen = document.createElement('canvas').getContext('2d'); pen.font = style.font;
          return pen.measureText(box.placeholder).width + parseFloat(style.paddingLeft) + parseFloat(style.paddingRight) - box.clientWidth; }"""
    )
    assert needs <= 0
    verdict, stock = (page.locator(each).bounding_box() or {} for each in ("select[name=verdict]", ".finder__stock"))
    assert abs(verdict["y"] - stock["y"]) < 1
    assert abs(verdict["height"] - stock["height"]) < 1


def test_filters_alone_list_the_parts(home: Page) -> None:
    home.get_by_label("Place").select_option("Cab")
    expect(home.locator(".hit--part")).to_have_count(2)


def test_the_address_carries_query_and_filters(page: Page, folder: Path) -> None:
    opened(page, folder / "index.html")
    page.locator(".finder__input").fill("knob")
    page.get_by_label("Fleet").select_option("TR7")
    expect(page.locator(".hit--part")).to_have_count(1)
    address = page.url
    assert "q=knob" in address
    assert "fleet=TR7" in address
    page.goto("about:blank")
    page.goto(address)
    expect(page.locator(".hit--part")).to_have_count(1)
    assert page.get_by_label("Fleet").input_value() == "TR7"


@pytest.mark.parametrize("sign", ["?", "#"])
def test_a_link_opens_the_finder_with_its_query(page: Page, folder: Path, sign: str) -> None:
    opened(page, folder / "index.html", f"{sign}q=TV-0003")
    expect(page.locator(".hit__number").first).to_have_text("TV-0003")
    assert page.locator(".finder__input").input_value() == "TV-0003"


def test_keyboard_alone_finds_and_opens_a_part(home: Page) -> None:
    home.locator(".finder__input").focus()
    home.keyboard.type("knob")
    expect(home.locator(".hit").first).to_be_visible()
    home.keyboard.press("ArrowDown")
    home.keyboard.press("ArrowDown")
    assert home.evaluate("document.activeElement.querySelector('.hit__number').textContent") == "TV-0002"
    home.keyboard.press("Escape")
    assert home.evaluate("document.activeElement.id") == "finder-home"
    home.keyboard.type(" window")
    expect(home.locator(".hit__number").first).to_have_text("TV-0001")
    home.keyboard.press("Enter")  # to the first of several
    home.keyboard.press("Enter")
    expect(home).to_have_title("TV-0001")


def test_a_screen_reader_is_told_once_typing_rests(home: Page) -> None:
    home.clock.resume()
    home.locator(".finder__input").fill("wiper bush")
    expect(home.get_by_role("status").first).to_have_text("This one: 1 part found. First: TV-0003 Wiper bush.")
    home.locator(".finder__input").fill("wiper")
    expect(home.get_by_role("status").first).to_have_text("Most likely one of these. First: TV-0003 Wiper bush.")
    home.locator(".finder__input").fill("zzzzzz")
    expect(home.get_by_role("status").first).to_have_text("No such part.")


def test_many_hits_are_shown_in_portions(home: Page) -> None:
    home.locator(".finder__input").fill("shelf clip")
    expect(home.locator(".hit")).to_have_count(24)
    pressed(home.get_by_role("button", name="Show 16 more"))
    expect(home.locator(".hit")).to_have_count(40)


def test_the_header_finder_opens_over_the_page_and_leads_home(page: Page, folder: Path) -> None:
    opened(page, folder / "parts" / "a.html")
    assert page.evaluate("typeof sparesIndex") == "undefined"  # read only when somebody wants to find something
    page.locator(".finder__input").focus()
    page.keyboard.type("shelf clip")
    expect(page.locator(".hit")).to_have_count(6)
    link = page.locator(".finder__all")
    assert re.search(r"/index\.html#q=shelf\+clip$", link.get_attribute("href") or "")
    page.keyboard.press("Escape")
    expect(page.locator(".finder__panel")).to_be_hidden()


BREAKING = ["x" * 10_000, "(((", "[a-z]+", "\\", "<script>window.hit=1</script>", "😀🚃", "مقبض", "$&", "constructor", "__proto__"]
TYPED = "(box, text) => { box.value = text; box.dispatchEvent(new Event('input', { bubbles: true })); }"


def test_no_query_breaks_it(home: Page) -> None:
    box = home.locator(".finder__input")
    for query in BREAKING:
        box.evaluate(TYPED, "knob")
        expect(home.locator(".hit").first).to_be_visible()
        box.evaluate(TYPED, query)
        expect(home.locator(".finder__none, .finder__examples").first).to_be_visible()
        assert home.locator(".hit").count() == 0, query[:20]
        assert home.faults == [], query[:20]  # type: ignore[attr-defined]
        assert home.evaluate("window.hit") is None, query[:20]


def test_a_hostile_name_stays_text(home: Page) -> None:
    home.locator(".finder__input").fill("hostile")
    expect(home.locator(".hit__name").first).to_have_text(HOSTILE)
    assert home.locator(".hit__name img").count() == 0
    assert home.evaluate("window.hit") is None
    expect(home.locator(".hit__stand").first).to_have_text("TR4 label A Fit it")


def test_a_part_whose_record_is_broken_is_not_to_be_fitted(home: Page) -> None:
    home.locator(".finder__input").fill("TV-0005")
    expect(home.locator(".hit__stand").first).to_have_text("Do not fit")


def test_without_its_data_the_way_by_vehicle_stays(page: Page, folder: Path, tmp_path: Path) -> None:
    shutil.copytree(folder, tmp_path / "site")
    (tmp_path / "site" / "assets" / "data" / "finder.js").unlink()
    opened(page, tmp_path / "site" / "index.html")
    page.locator(".finder__input").fill("knob")
    expect(page.get_by_role("link", name="By vehicle")).to_be_visible()
    expect(page.locator(".finder__none")).to_have_text(wording("en")("finder.broken"))


def test_axe_finds_nothing(home: Page) -> None:
    for query in ("", "knob", "flux capacitor knob"):
        home.locator(".finder__input").fill(query)
        if query:
            expect(home.locator(".hit").first).to_be_visible()
        for scheme in ("default", "slate"):
            home.evaluate("(scheme) => document.body.setAttribute('data-md-color-scheme', scheme)", scheme)
            assert violations(home, "light") == [], (query, scheme)


def test_everything_to_touch_is_large_enough_and_nothing_sticks_out(page: Page, folder: Path) -> None:
    opened(page, folder / "index.html", "#q=knob")
    expect(page.locator(".hit").first).to_be_visible()
    for width, height in ((800, 1280), (1280, 800), (400, 800)):
        resized(page, {"width": width, "height": height})
        page.evaluate("new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))")
        assert page.evaluate(TOO_SMALL) == [], width
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth"), width


TOO_SMALL = """() => [...document.querySelectorAll('.finder :is(a, button, select, input:not([type=checkbox]), label.finder__stock)')]
  .filter((each) => each.checkVisibility())
  .map((each) => [each.className, each.getBoundingClientRect()])
  .filter(([, box]) => box.height < 47.5 || box.width < 47.5)
  .map(([name, box]) => `${name} ${box.width}×${box.height}`)"""
