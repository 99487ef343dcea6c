"""Can a mechanic ask for a new design with no network, and does what comes out get into the catalogue?"""

import base64
import io
from datetime import UTC, datetime
from pathlib import Path

import pytest
import zxingcpp
from PIL import Image
from playwright.sync_api import BrowserContext, Page, expect

from generator.edge.cli import main
from generator.reading.catalogue import read_catalogue
from tests.browser.audit import in_both, violations
from tests.browser.conftest import LANDSCAPE, PORTRAIT, gone_to, pressed, resized
from tests.browser.patience import wait_until
from tests.fixtures.copying import copied_from
from tests.fixtures.tablets import unseen
from tests.pages.sample import CATALOGUE, DAY

pytestmark = [pytest.mark.browser, pytest.mark.slow]

NOON = datetime(DAY.year, DAY.month, DAY.day, 12, tzinfo=UTC)
ODD = 'Löfte "é" #1: \\ {x} [y] \U0001f527 \u202eturned\u0007 <b>&'
PLAIN_ODD = 'Löfte "é" #1: \\ {x} [y] \U0001f527 turned <b>&'


@pytest.fixture
def site(sample_site: Path) -> Path:
    return sample_site


@pytest.fixture
def page(reader: Page) -> Page:
    """From disk, without any network: the harder case. It draws no frame, and nothing here waits for one but what asks for `drawn`."""
    reader.context.set_offline(True)
    return reader


@pytest.fixture
def catalogue(tmp_path: Path) -> Path:
    return copied_from(CATALOGUE, tmp_path / "catalogue")


def opened(page: Page, site: Path, more: str = "") -> Page:
    return gone_to(page, f"{site.as_uri()}/request.html{more}")


def none_of_these(page: Page) -> None:
    pressed(page.get_by_role("button", name="Ask for a new design"))


def filled(page: Page) -> None:
    page.get_by_label("What is it called?").fill("Blind cord toggle")
    page.get_by_label("F1").check(force=True)
    page.get_by_label("Cab", exact=True).check(force=True)
    page.get_by_label("Longest").fill("42,5")
    page.get_by_label("Middle").fill("18 mm")
    page.get_by_label("Number on the old part").fill("007-1, S/40")
    none_of_these(page)
    page.get_by_label("What does it do?").fill(f"Holds the cord.\n{ODD}")
    page.get_by_label("What stops without it?").fill(ODD)
    page.get_by_label("How many are needed").fill("0,5")
    page.get_by_label("Only for these").fill("1, 3-4")
    page.get_by_label("Your role").select_option("fitter")


def saved(page: Page, folder: Path) -> Path:
    with page.expect_download() as coming:
        pressed(page.get_by_role("button", name="Save as a file"))
    file = folder / coming.value.suggested_filename
    coming.value.save_as(file)
    return file


def photo(width: int = 3000, height: int = 2000) -> bytes:
    """A camera's picture that tells where it was taken."""
    image = Image.effect_noise((width // 8, height // 8), 50).convert("RGB").resize((width, height))
    exif = image.getexif()
    exif[0x010E] = "taken in the yard"
    held = io.BytesIO()
    image.save(held, "JPEG", quality=90, exif=exif)
    return held.getvalue()


def test_the_form_opens_only_after_what_is_near_was_seen(page: Page, site: Path) -> None:
    opened(page, site)
    expect(page.get_by_label("What does it do?")).to_be_hidden()
    expect(page.get_by_role("button", name="Ask for a new design")).to_be_hidden()
    page.get_by_label("What is it called?").fill("flap stop")
    hits = page.locator(".near .hit")
    expect(hits.filter(has_text="R-1")).to_have_count(1)
    expect(hits.get_by_role("link", name="I need this too")).to_be_visible()
    none_of_these(page)
    expect(page.get_by_label("What does it do?")).to_be_visible()


def test_sizes_alone_find_what_is_near(page: Page, site: Path) -> None:
    opened(page, site)
    page.get_by_label("Longest").fill("20")
    page.get_by_label("Middle").fill("12")
    expect(page.locator(".near .hit").filter(has_text="R-1")).to_have_count(1)


def test_what_was_asked_in_the_finder_comes_along(page: Page, site: Path) -> None:
    opened(page, site, "#q=blind+cord")
    expect(page.get_by_label("What is it called?")).to_have_value("blind cord")
    page.goto(f"{site.as_uri()}/index.html#q=zzzgrommet")
    link = page.get_by_role("link", name="Ask for a new design")
    assert link.get_attribute("href").endswith("request.html#q=zzzgrommet")


def test_what_was_asked_comes_into_the_fields_that_it_speaks_of(page: Page, demo_site: Path) -> None:
    for query, told in (
        ("coffee machine 405 120x80x40", {"name": "coffee machine", "fleet": "TR4", "sizes-0": "120", "sizes-1": "80", "sizes-2": "40", "vehicles": "405"}),
        ("zzgrommet 4-117-9999 7,1x8 Wagen 702", {"name": "zzgrommet", "fleet": "TR7", "sizes-0": "7.1", "sizes-1": "8", "vehicles": "702", "numbers": "4-117-9999"}),
    ):  # fmt: skip
        gone_to(page, f"{demo_site.as_uri()}/request.html#q={query.replace(' ', '+')}")
        expect(page.locator("#request-name")).to_have_value(told["name"])
        filled_in = page.evaluate("Object.fromEntries([...document.querySelectorAll('[data-request] :is(input, textarea)')].filter(each => each.value && (each.type !== 'radio' || each.checked)).map(each => [(each.id || each.name).replace('request-', ''), each.value]))")  # fmt: skip
        assert filled_in == told
        page.reload()
        expect(page.locator("#request-vehicles")).to_have_value(told["vehicles"])
        assert page.locator(".request__began").count() == 0, "it is the same query still"
        page.goto("about:blank")
        page.goto(f"{demo_site.as_uri()}/404.html")
        page.evaluate("localStorage.removeItem('spares.request.draft')")


def test_a_request_made_offline_gets_into_the_catalogue(
    page: Page, site: Path, catalogue: Path, warm_store: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    opened(page, site)
    filled(page)
    page.locator("input[type=file]").set_input_files(
        [{"name": "a.jpg", "mimeType": "image/jpeg", "buffer": photo()}]
    )
    expect(page.locator(".photo__shown")).to_be_visible()
    pressed(page.get_by_role("button", name="Make the request"))
    file = saved(page, tmp_path)
    assert file.name == "request-2026-11-25-blind-cord-toggle.yml"
    arguments = [
        "request",
        "add",
        str(file),
        "--catalogue",
        str(catalogue),
        "--store",
        str(warm_store),
        "--on",
        DAY.isoformat(),
    ]
    assert main(arguments) == 0, capsys.readouterr()
    read = read_catalogue(catalogue)
    request = read.requests["R-0003" if "R-0003" in read.requests else "R-0001"]
    assert request.name == "Blind cord toggle"
    assert (request.fleet, request.place, request.vehicles) == ("F1", "cab", ("1", "3-4"))
    assert (request.sizes_mm, request.numbers, request.yearly_demand) == ((42.5, 18), ("007-1", "S/40"), 0.5)
    assert request.what_it_does == f"Holds the cord.\n{PLAIN_ODD}"
    assert request.stops_without == PLAIN_ODD
    with Image.open(catalogue / "requests" / str(request.photo)) as kept:
        assert kept.size == (1280, 853)
        assert not kept.getexif()
    assert main(["check", "--catalogue", str(catalogue), "--store", str(warm_store)]) == main(
        ["check", "--catalogue", str(CATALOGUE), "--store", str(warm_store)]
    )


def test_a_tablet_that_dies_keeps_what_was_typed(page: Page, site: Path) -> None:
    opened(page, site)
    filled(page)
    page.locator("input[type=file]").set_input_files(
        [{"name": "a.jpg", "mimeType": "image/jpeg", "buffer": photo(400, 300)}]
    )
    expect(page.locator(".photo__shown")).to_be_visible()
    wait_until(page, "((kept) => kept && kept.by === 'fitter' && kept.photo)(spares.screen.draft.read())")
    other = unseen(page.context)
    page.close(run_before_unload=False)
    again = opened(other, site)
    expect(again.get_by_label("What is it called?")).to_have_value("Blind cord toggle")
    expect(again.get_by_label("Cab", exact=True)).to_be_checked()
    expect(again.get_by_label("Middle")).to_have_value("18 mm")
    expect(again.get_by_label("Your role")).to_have_value("fitter")
    expect(again.locator(".photo__shown")).to_be_visible()
    pressed(again.get_by_role("button", name="Start anew"))
    expect(again.get_by_label("What is it called?")).to_have_value("")


def test_a_tablet_that_keeps_nothing_says_so(own_tablet: BrowserContext, site: Path) -> None:
    own_tablet.add_init_script(
        "Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError'); }"
    )
    page = opened(own_tablet.new_page(), site)
    page.get_by_label("What is it called?").fill("Toggle")
    expect(page.locator(".request__kept")).to_contain_text("keeps nothing")


def test_mistakes_stand_by_their_fields(page: Page, site: Path) -> None:
    opened(page, site)
    page.get_by_label("What is it called?").fill("Toggle")
    none_of_these(page)
    page.get_by_label("Longest").fill("wide")
    page.get_by_label("How many are needed").fill("many")
    pressed(page.get_by_role("button", name="Make the request"))
    expect(page.locator(".request__told")).to_contain_text("6 answers")
    for field, says in (
        ("fleet", "choose"),
        ("sizes", "mm"),
        ("what", "fill this in"),
        ("yearly", "a number"),
        ("by", "choose"),
    ):
        box = page.locator(f"[data-field={field}]")
        expect(box.locator(".field__fault")).to_contain_text(says)
        fault = box.locator(".field__fault").get_attribute("id")
        assert box.evaluate(
            "(box, id) => [box, ...box.querySelectorAll('*')].some((each) => (each.getAttribute('aria-describedby') || '').includes(id) && each.getAttribute('aria-invalid') === 'true')",
            fault,
        )
    assert page.evaluate("document.activeElement.closest('.field').dataset.field") == "fleet"
    page.get_by_label("F1").check(force=True)
    page.get_by_label("Only for these").fill("9")
    pressed(page.get_by_role("button", name="Make the request"))
    expect(page.locator("[data-field=vehicles] .field__fault")).to_contain_text("no such vehicle")
    expect(page.locator("[data-field=fleet] .field__fault")).to_be_hidden()


def test_the_code_is_read_by_a_scanner(drawn: Page, site: Path) -> None:
    opened(drawn, site)
    filled(drawn)
    pressed(drawn.get_by_role("button", name="Make the request"))
    pressed(drawn.get_by_role("button", name="Show a code"))
    shot = Image.open(io.BytesIO(drawn.locator(".handover__qr").screenshot()))
    (code,) = zxingcpp.read_barcodes(shot)
    assert code.text == drawn.locator(".handover__text").text_content()


def test_one_voice_more_for_what_is_asked_for_already(
    page: Page, site: Path, catalogue: Path, warm_store: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    page.goto(f"{site.as_uri()}/requests.html")
    pressed(page.get_by_role("link", name="I need this too").first)
    page.get_by_label("How many are needed").fill("3")
    page.get_by_label("Your role").select_option("fitter")
    page.get_by_label("Anything else").fill(ODD)
    pressed(page.get_by_role("button", name="Make"))
    file = saved(page, tmp_path)
    before = (catalogue / "requests/R-1.yml").read_bytes()
    where = ["--catalogue", str(catalogue), "--store", str(warm_store), "--on", DAY.isoformat()]
    assert main(["request", "add", str(file), *where]) == 0, capsys.readouterr()
    after = (catalogue / "requests/R-1.yml").read_bytes()
    assert after.startswith(before)
    voice = read_catalogue(catalogue).requests["R-1"].also_wanted[-1]
    assert (voice.on, voice.by, voice.yearly_demand, voice.note) == (DAY, "fitter", 3, PLAIN_ODD)


def test_a_request_that_is_gone_is_told(page: Page, site: Path) -> None:
    opened(page, site, "#adds=R-9999")
    expect(page.locator(".request")).to_contain_text("no open request R-9999")
    opened(page, site, "#adds=constructor")
    expect(page.locator(".request")).to_contain_text("no open request constructor")


def test_by_keyboard_alone(page: Page, site: Path, tmp_path: Path) -> None:
    opened(page, site)
    page.get_by_label("What is it called?").focus()
    page.keyboard.type("Toggle")
    page.keyboard.press("Tab")
    page.keyboard.press("Space")  # the only fleet
    expect(page.get_by_label("F1")).to_be_checked()
    go = page.get_by_role("button", name="Ask for a new design")
    expect(go).to_be_visible()
    for _ in range(12):
        page.keyboard.press("Tab")
        if go.evaluate("each => each === document.activeElement"):
            break
    page.keyboard.press("Enter")
    for text in ("Holds it", "Nothing stops", "4"):
        page.keyboard.press("Tab")
        page.keyboard.type(text)
    for _ in range(3):
        page.keyboard.press("Tab")
    page.keyboard.type("Fit")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    expect(page.locator(".handover__text")).to_contain_text("what_it_does: Holds it")
    assert page.evaluate("document.activeElement.textContent") == "The request is ready"


def small_targets(page: Page) -> list[str]:
    """What can be tapped and is less than 48 px high; a box in a label counts with its label."""
    return page.evaluate(
        """() => [...document.querySelectorAll(".request button, .request a, .request input, .request select, .request textarea, .asked a, .offline-panel button")]
          .filter((each) => each.getClientRects().length && !each.classList.contains("photo__input"))
          .map((each) => each.closest("label") || each)
          .filter((each) => each.getBoundingClientRect().height < 48).map((each) => each.outerHTML)"""
    )


def test_hands_and_eyes(page: Page, site: Path) -> None:
    opened(page, site)
    filled(page)
    for step in ("form", "done", "requests.html", "guide/tablet.html"):
        if step == "done":
            pressed(page.get_by_role("button", name="Make the request"))
        elif step != "form":
            page.goto(f"{site.as_uri()}/{step}")
        for size in (LANDSCAPE, PORTRAIT):
            resized(page, size)
            assert small_targets(page) == [], (step, size)
            assert page.evaluate("document.documentElement.scrollWidth <= innerWidth"), (step, size)
            found = violations(page, "shape") if size == LANDSCAPE else in_both(page)
            assert found == [], (step, size)


def test_without_scripts_it_says_whom_to_ask(chromium, site: Path) -> None:
    context = chromium.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{site.as_uri()}/request.html")
    expect(page.locator(".request")).to_contain_text("the office")
    context.close()


def test_what_is_kept_by_others_under_our_name_does_no_harm(page: Page, site: Path) -> None:
    opened(page, site)
    for kept in (
        '"text"',
        "[1]",
        '{"name": 5, "sizes": {"a": 1}, "photo": "javascript:alert(1)", "rest": "x"}',
        "{",
    ):
        page.evaluate("kept => localStorage.setItem('spares.request.draft', kept)", kept)
        page.reload()
        expect(page.get_by_label("What is it called?")).to_have_value("")
        assert page.locator(".photo__shown").get_attribute("src") is None


def test_photo_data_is_the_picture_that_was_taken(page: Page, site: Path) -> None:
    opened(page, site)
    filled(page)
    page.locator("input[type=file]").set_input_files(
        [{"name": "notes.txt", "mimeType": "image/png", "buffer": b"no picture"}]
    )
    expect(page.locator("[data-field=photo] .field__fault")).to_contain_text("cannot be read")
    page.locator("input[type=file]").set_input_files(
        [{"name": "a.jpg", "mimeType": "image/jpeg", "buffer": photo(800, 1200)}]
    )
    expect(page.locator("[data-field=photo] .field__fault")).to_be_hidden()
    expect(page.locator(".photo__shown")).to_be_visible()
    shown = page.locator(".photo__shown").get_attribute("src").split(",")[1]
    with Image.open(io.BytesIO(base64.b64decode(shown))) as kept:
        assert (kept.format, kept.size) == ("JPEG", (800, 1200))
