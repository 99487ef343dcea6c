"""A vehicle that is named in a query, a link or a field: the answers are for it and for no other, and a stranger is told."""

from pathlib import Path

import pytest
from playwright.sync_api import Page

from tests.browser.conftest import pressed, texts
from tests.browser.patience import wait_until
from tests.browser.test_carried import carried, choose, opened, seen

pytestmark = [pytest.mark.browser, pytest.mark.slow]

@pytest.fixture
def page(reader: Page) -> Page:
    """It draws no frame, and nothing here waits for one but what asks for `drawn`."""
    return reader



def asked(page: Page, site: Path, query: str, carries: str = "") -> list[str]:
    """The verdicts on the hits, as `TR4 405 Fit it`."""
    if page.url.partition("#")[0] == f"{site.as_uri()}/index.html":
        page.locator(".finder--home .finder__input").fill("")
        page.locator(".finder--home").locator(".hit__link, .finder__none, .finder__vehicle").first.wait_for(state="detached")
    else:
        opened(page, site, "index.html")
    choose(page, carries)
    page.locator(".finder__input").fill(query)
    page.locator(".finder--home").locator(".hit__link, .finder__none, .finder__vehicle").first.wait_for()
    return [each.replace("\n", " ") for each in texts(page, ".finder--home .hit__stand")]


def said(page: Page) -> str:
    return "".join(texts(page, ".finder__vehicle"))


ANSWERED = {"knob 7.1 square 701": "TR7 701", "mirror shroud left 405": "TR4 405", "knob 702": "TR7 702", "car 703 knob": "TR7 703", "TR4 405 end plug": "TR4 405", "Wagen 405 knob": "TR4 405"}  # fmt: skip


@pytest.mark.parametrize("carries", ["405", ""], ids=["405 is carried", "none is"])
def test_the_vehicle_of_the_query_is_the_one_that_is_answered(reader: Page, site: Path, carries: str) -> None:
    for query, who in ANSWERED.items():
        stands = asked(reader, site, query, carries)
        assert stands, query
        assert [each for each in stands if not each.startswith(f"{who} ")] == [], query
        is_other = carries and not who.endswith(carries)
        assert (f"names {who}" in said(reader)) == bool(is_other), query
        assert ("TR4 405 stays chosen" in said(reader)) == bool(is_other), query


def test_another_than_the_one_that_is_carried_is_offered_and_its_answers_lead_to_it(page: Page, site: Path) -> None:
    asked(page, site, "knob 702", "405")
    page.wait_for_timeout(1000)
    assert carried(page) == "405", "what is chosen stays chosen until a hand changes it"
    pressed(page.locator(".hit__link").first)
    page.wait_for_url("**/parts/**")
    assert carried(page) == "702", "the page speaks of the vehicle that its hit spoke of"
    assert "TR7 702 is chosen now" in page.locator(".carried__told").inner_text()
    pressed(page.get_by_role("button", name="Back to TR4 405"))
    assert carried(page) == "405"
    assert page.locator(".carried__told").is_hidden()
    asked(page, site, "knob 702", "405")
    pressed(page.get_by_role("button", name="Choose TR7 702 instead"))
    assert (carried(page), said(page)) == ("702", "")
    assert page.evaluate("document.activeElement.className") == "finder__input"


def test_several_vehicles_are_said_aloud_and_each_has_its_answer(reader: Page, site: Path) -> None:
    stands = asked(reader, site, "403 703")
    assert "several vehicles: TR4 403; TR7 703" in said(reader)
    hits = texts(reader, ".hit--part .hit__stands")
    assert len(hits) == reader.locator(".hit--part").count()
    assert hits
    assert all("403" in each and "703" in each for each in hits), stands
    assert carried(reader) == ""


def test_a_stranger_is_told_and_nothing_fits_it(reader: Page, site: Path) -> None:
    for query in ("knob 799", "car 799 knob", "Wagen 799", "TR4 701 knob", "TR4-799 knob", "knob car no. 799", "799 405 knob", "799"):
        for carries in ("", "405"):
            stands = asked(reader, site, query, carries)
            assert ("TR4 has no vehicle 701; TR7 has" if "701" in query else "No vehicle 799 is known") in said(reader)
            assert ("stays chosen" in said(reader)) == bool(carries)
            assert ("mm." in said(reader)) == (query in ("knob 799", "799 405 knob", "799")), query
            assert [each for each in stands if "405" not in each and "Do not fit" not in each] == [], query
    reader.locator(".finder__input").press("Enter")
    reader.wait_for_timeout(900)
    assert carried(reader) == "405"


def test_a_number_that_only_something_near_explains_is_a_stranger(reader: Page, site: Path) -> None:
    queries = ("window knob 413", "bush 413", "window knob in 413", "TR4/413 window knob", "window knob on 709", "mirror left 709", "413")
    for carries in ("", "405"):
        for query in queries:
            stands = asked(reader, site, query, carries)
            assert f"No vehicle {'709' if '709' in query else '413'} is known" in said(reader), query
            assert [each for each in stands if "Fit it" in each] == [], query


def test_a_vehicle_that_is_denied_is_not_asked(reader: Page, site: Path) -> None:
    for query in ("window knob not 405", "window knob ikke vogn 405", "window knob ohne TR4 405", "window knob undtagen 405"):
        for carries in ("", "405"):
            stands = asked(reader, site, query, carries)
            assert stands
            assert [each for each in stands if "405" in each] == [], query
    reader.wait_for_timeout(900)
    assert carried(reader) == "405", "what a hand has chosen stays"


def test_a_size_is_no_stranger(reader: Page, site: Path) -> None:
    for query in ("799 mm knob", "knob 0417", "knob 49 x 43", "4-117-0417", "70.2214-6", "bush 120 mm", "413 mm knob"):
        asked(reader, site, query)
        assert said(reader) == "", query


def test_a_link_never_takes_the_carried_vehicle_away_in_silence(reader: Page, site: Path) -> None:
    choose(opened(reader, site, "parts/TV-0101.html"), "405")
    opened(reader, site, "parts/TV-0101.html#vehicle=999")
    told = reader.locator(".carried__told")
    assert "No vehicle 999 is known in this copy. TR4 405 stays chosen" in told.inner_text()
    assert (carried(reader), seen(reader)) == ("405", ["Ask first"])
    assert "TR4 405" in reader.locator(".mine__vehicle").inner_text()
    assert reader.evaluate("localStorage.getItem('spares.vehicle')") == "405"
    opened(reader, site, "parts/TV-0101.html#vehicle=702")
    assert (carried(reader), "instead of TR4 405" in told.inner_text()) == ("702", True)
    choose(reader, "703")
    assert told.is_hidden()


def test_the_number_of_a_car_counts_the_same_however_it_is_typed(page: Page, site: Path) -> None:
    counts = set()
    for query in ("405", "car 405", "TR4 405", "Wagen 405"):
        asked(page, site, query)
        wait_until(page, "/part/.test(document.querySelector('.finder__stock .finder__count').textContent)")
        counts.add(page.locator(".finder__stock .finder__count").inner_text())
        pressed(page.locator(".finder__stock"))
        assert page.locator(".finder__found").get_by_text("Do not fit").count() < page.locator(".hit--part").count()
        pressed(page.locator(".finder__stock"))
    assert len(counts) == 1


def test_what_is_told_of_the_list_is_never_of_another_list(reader: Page, site: Path) -> None:
    asked(reader, site, "knob")
    wait_until(reader, "document.querySelector('.finder--home .finder__told').textContent")
    first = reader.locator(".finder--home .finder__told").inner_text()
    reader.evaluate("""() => { globalThis.seen = []; new MutationObserver(() => seen.push(document.querySelector('.finder--home .finder__told').textContent)).observe(document.querySelector('.finder--home .finder__found'), { childList: true }); }""")
    reader.locator(".finder__input").fill("hose guide")
    wait_until(reader, "seen.length > 0")
    assert first not in reader.evaluate("seen")
    wait_until(reader, "/Sanding-hose/.test(document.querySelector('.finder--home .finder__told').textContent)")


def test_a_number_of_two_fleets_is_answered_for_both(reader: Page, site: Path) -> None:
    reader.route("**/rules.js", lambda route: route.fulfill(body=(site / "assets/data/rules.js").read_text().replace('"701-708"', '"405-412"'), content_type="text/javascript"))
    choose(opened(reader, site, "parts/TV-0417.html"), "405")
    assert "TR4, TR7 405" in reader.locator(".carried__choice option:checked").inner_text()
    assert seen(reader) == ["Fit it", "Do not fit"], "one fleet's word is none for the other's vehicle of that number"
    assert "TR7 405" in reader.locator(".verdict--strange").inner_text()
    opened(reader, site, "states/approved.html")
    reader.locator(".stand").first.wait_for()
    assert "TR7 405" in reader.locator("tr", has_text="TV-0417").inner_text()
    reader.unroute_all()


def test_hostile_queries_name_no_vehicle_and_break_nothing(reader: Page, site: Path) -> None:
    faults: list[str] = []
    reader.on("pageerror", lambda error: faults.append(str(error)))
    opened(reader, site, "index.html")
    for query in ("car " + "9" * 10_000, "car <img src=x onerror=alert(1)>", "TR4 ^.*$", "car 🔧", "مقبض 405", "car -1", "car 0", "__proto__ 405", "car 1e9"):
        reader.locator(".finder__input").fill(query)
        reader.wait_for_timeout(150)
        assert len(said(reader)) < 200, query[:20]
        assert reader.locator(".hit__verdict", has_text="Fit it").count() == 0 or query[:5] not in ("car 9", "car -", "car 0"), query[:20]
    assert faults == []


def test_what_no_fleet_has_is_told_however_it_is_written(page: Page, site: Path) -> None:
    told = {
        "car B31 window knob": "No vehicle B31 is known", "window knob 401–420": "No fleet in this copy has all of 401–420", "405A window knob": "No vehicle 405A is known",
        "TR7 405 window knob": "TR7 has no vehicle 405; TR4 has.", "W2 405 coat hook": "W2 has no vehicle 405; TR4 has.", "set 7-03 knob": "No vehicle 7-03 is known",
    }  # fmt: skip
    understood = {"window knob 405-7": "TR4 405; TR4 406; TR4 407", "window knob 405,406": "TR4 405; TR4 406", "window knob ４０５": "", "window knob 405/": "", "fuse box cover hinge distance 120": ""}
    for carries in ("404", ""):
        for query, line in told.items():
            stands = asked(page, site, query, carries)
            assert line in said(page), query
            assert [each for each in stands if "Fit it" in each] == [], query
        asked(page, site, "TR7 405 window knob", carries)
        pressed(page.locator(".hit__link").first)
        page.wait_for_url("**/parts/**")
        assert (carried(page), "No vehicle TR7 405 is known" in page.locator(".carried__told").inner_text()) == (carries, True), "it is not TR4 405"
        for query, line in understood.items():
            asked(page, site, query, carries)
            assert "No " not in said(page), query
            assert line in said(page), query


def test_a_typed_vehicle_is_taken_as_soon_as_a_hand_goes_on(page: Page, site: Path) -> None:
    def typed(query: str) -> None:
        opened(page, site, "index.html")
        choose(page, "")
        page.locator(".finder--home .finder__input").fill(query)
        page.locator(".finder--home .hit__link").first.wait_for()

    typed("405")
    pressed(page.locator(".back a, nav a[href*='vehicles']").first)
    page.wait_for_url("**/vehicles.html*")
    assert carried(page) == "405"
    typed("window knob 405")
    page.keyboard.press("Enter")
    wait_until(page, "spares.screen.vehicle()?.number === '405'")
    typed("knob 405")
    page.keyboard.press("ArrowDown")
    assert carried(page) == "405", "the keyboard has left the box"
    wait_until(page, "document.activeElement.className === 'hit__link'")
    page.keyboard.press("ArrowDown")
    assert page.evaluate("document.activeElement !== document.querySelector('.hit__link') && document.activeElement.closest('.finder__found') !== null")
    opened(page, site, "parts/TV-0417.html")
    choose(page, "")
    page.locator(".finder__input").fill("405")
    page.keyboard.press("Enter")
    wait_until(page, "spares.screen.vehicle()?.number === '405'")
    opened(page, site, "index.html")
    choose(page, "")
    page.locator(".finder--home .finder__input").fill("405 x")
    pressed(page.locator("h1").first)
    assert carried(page) == "", "it may be the beginning of a size"
