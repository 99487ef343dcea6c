"""The model of a part in a browser, from disk and without network: turned, pinched, cut open, measured; and a picture where it cannot be drawn."""

import base64
import json
import re
from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from playwright.sync_api import CDPSession, Page, expect

from tests.browser.audit import in_both
from tests.browser.conftest import LANDSCAPE, PORTRAIT, gone_to, texts
from tests.browser.depot_server import serving
from tests.browser.patience import wait_until

pytestmark = [pytest.mark.browser, pytest.mark.slow]

CAP = "TV-0252"
PHONE = {"width": 360, "height": 740}
# Where places of the part, in the mesh's own mm, are seen from home.
SEEN = """async (places) => {
  const { model } = await spares.screen.readModel(document.querySelector("[data-model]").dataset.model, document.querySelector("[data-model]").dataset.mark);
  const box = document.querySelector(".turn__canvas").getBoundingClientRect();
  const camera = spares.model.homeCamera(model.box, box);
  return places.map((each) => { const [x, y] = spares.model.seenAt(camera, box, each); return [x + box.left, y + box.top]; });
}"""


def of(page: Page, site: Path, number: str = CAP) -> Page:
    return gone_to(page, f"{site.as_uri()}/parts/{number}.html")


def opened(page: Page) -> Page:
    page.locator(".model__open").tap()
    page.locator(".turn__stage[data-is=live][data-drawn]").wait_for()
    return page


def button(page: Page, name: str):
    return page.locator(".turn").get_by_role("button", name=name, exact=True)


def told(page: Page) -> str:
    return page.locator(".turn__told").inner_text()


def drawn(page: Page) -> np.ndarray:
    """The canvas as it is seen within the frame of who has the keyboard, once what was asked for last is drawn: (h, w, 3)."""
    page.evaluate("() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))")
    shot = page.locator(".turn__stage").screenshot()
    return np.asarray(Image.open(BytesIO(shot)).convert("RGB")).astype(int)[8:-8, 8:-8]


def inked(picture: np.ndarray) -> np.ndarray:
    """The rows and columns between which something is drawn."""
    seen = np.abs(picture - picture[3, 3]).sum(axis=2) > 30
    rows, columns = np.flatnonzero(seen.any(axis=1)), np.flatnonzero(seen.any(axis=0))
    return np.array([rows[0], rows[-1], columns[0], columns[-1]])


def touch(session: CDPSession, kind: str, *fingers: tuple[float, float]) -> None:
    points = [{"x": x, "y": y, "id": number} for number, (x, y) in enumerate(fingers)]
    session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})


def tap_at(page: Page, *places: list[float]) -> None:
    for x, y in page.evaluate(SEEN, list(places)):
        page.touchscreen.tap(x, y)


def test_nothing_of_it_is_read_before_it_is_asked_for_and_the_verdict_stays(page: Page, site: Path) -> None:
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url.rpartition("/")[2]))
    of(page, site)
    before = texts(page, ".verdict__word")
    assert [each for each in asked if each.startswith(("model", CAP)) and each.endswith(".js")] == [f"{CAP}.js"], "the facts alone"
    opened(page)
    assert asked[-2:] == ["model.js", f"{CAP}.js"]
    assert texts(page, ".verdict__word") == before
    assert page.locator(".turn__canvas").evaluate("(each) => getComputedStyle(each).touchAction") == "none"
    button(page, "Close").tap()
    expect(page.locator("canvas.turn__canvas")).to_have_count(0)
    assert page.evaluate("getComputedStyle(document.documentElement).overflowY") != "hidden", "the page scrolls again"


def test_back_closes_the_window_and_stays_with_the_part(page: Page, site: Path) -> None:
    of(page, site)
    address, steps = page.url, page.evaluate("history.length")
    opened(page)
    page.evaluate("history.back()")
    expect(page.locator(".turn")).to_have_count(0)
    assert page.url == address
    opened(page)
    button(page, "Close").tap()
    expect(page.locator(".turn")).to_have_count(0)
    wait_until(page, "!(history.state || {})['spares.window']")
    opened(page)  # once more, right after
    page.keyboard.press("Escape")
    wait_until(page, "!document.querySelector('.turn') && !(history.state || {})['spares.window']")
    assert page.url == address
    assert page.evaluate("history.length") == steps + 1, "one step ahead, however often it was opened"


def test_hands_turn_pinch_and_move_it_and_home_brings_it_back(page: Page, site: Path) -> None:
    opened(of(page, site))
    home = drawn(page)
    session = page.context.new_cdp_session(page)
    touch(session, "touchStart", (400, 500))
    touch(session, "touchMove", (450, 520))
    touch(session, "touchMove", (520, 540))
    touch(session, "touchEnd")
    turned = drawn(page)
    assert (np.abs(turned - home).sum(axis=2) > 60).mean() > 0.01
    button(page, "Home view").tap()
    assert np.array_equal(drawn(page), home)
    touch(session, "touchStart", (350, 500), (450, 500))
    touch(session, "touchMove", (325, 500), (475, 500))
    touch(session, "touchMove", (300, 500), (500, 500))
    touch(session, "touchEnd")
    session.detach()
    _, _, left, right = inked(home)
    box = inked(drawn(page))
    assert box[2] < left - 50 or box[3] > right + 50, "twice as large, it is wider than the canvas or nearly"
    button(page, "Home view").tap()
    canvas = page.locator(".turn__canvas")
    canvas.focus()
    for key in ("ArrowLeft", "ArrowRight", "ArrowUp", "ArrowDown"):
        page.keyboard.press(key)
    assert (np.abs(drawn(page) - home).sum(axis=2) > 60).mean() < 0.03
    page.keyboard.press("+")
    assert inked(drawn(page))[3] > right
    page.keyboard.press("Home")
    page.mouse.move(400, 500)
    page.mouse.wheel(0, -400)
    assert inked(drawn(page))[3] > right
    page.keyboard.press("Home")
    page.mouse.move(400, 500)
    page.keyboard.down("Shift")
    page.mouse.down()
    page.mouse.move(400, 560)
    page.mouse.up()
    page.keyboard.up("Shift")
    assert inked(drawn(page))[0] == pytest.approx(inked(home)[0] + 60, abs=3), "shift moves it as far as the mouse went"


def test_lengths_are_those_of_the_cad_script(page: Page, site: Path) -> None:
    """Exact: ribs of 150 mm, holes of 5.3 mm at ±22 mm along x (tests/models/caps.py, `tread_edge_cap`)."""
    opened(of(page, site))
    tap_at(page, [0, 0, 34])
    assert "±" not in told(page), "nobody asked to measure"
    button(page, "Measure").tap()
    tap_at(page, [-74, -6.75, 34], [76, -6.75, 34])
    assert told(page) == "Corner to corner: 150.0 mm ± 0.1"
    assert page.locator(".turn__figure").text_content() == "150.0 mm ± 0.1"
    button(page, "Measure anew").tap()
    expect(page.locator(".turn__place")).to_have_count(0)
    tap_at(page, [-22, 14.5, 34])
    assert told(page).startswith("Hole Ø ")
    tap_at(page, [22, 14.5, 34])
    assert told(page) == "Middle of a hole to middle of a hole, from axis to axis: 44.0 mm ± 0.1"
    page.touchscreen.tap(20, 120)
    assert "44.0 mm" in told(page), "a slip beside the part wipes nothing"
    button(page, "Measure anew").tap()
    tap_at(page, [-10, -6.75, 34], [10, -6.75, 34])
    assert re.fullmatch(r"Edge to edge: \d+\.\d mm between the two spots tapped", told(page)), "no bound on where fingers fell"
    button(page, "Measure anew").tap()
    page.touchscreen.tap(20, 120)
    assert told(page) == "There is nothing of the part at this spot."
    assert page.locator(".turn__told").get_attribute("role") == "status"


def test_it_is_cut_open_and_made_whole(page: Page, site: Path) -> None:
    opened(of(page, site))
    whole = drawn(page)
    button(page, "Left to right").tap()
    cut = drawn(page)
    hatched = np.abs(cut - [237, 204, 153]).sum(axis=2) < 30
    assert hatched.mean() > 0.002, "material that is cut has its own colour"
    assert not (np.abs(whole - [237, 204, 153]).sum(axis=2) < 30).any()
    button(page, "Other half").tap()
    assert (np.abs(drawn(page) - cut).sum(axis=2) > 60).mean() > 0.01
    page.locator(".turn__slider").fill("20")
    assert (np.abs(drawn(page) - cut).sum(axis=2) > 60).mean() > 0.01
    button(page, "Left to right").tap()
    assert np.array_equal(drawn(page), whole)


def test_a_lost_context_leaves_the_picture_until_it_is_back(page: Page, site: Path) -> None:
    opened(of(page, site))
    before = drawn(page)
    lose = page.evaluate_handle("document.querySelector('.turn__canvas').getContext('webgl2').getExtension('WEBGL_lose_context')")
    lose.evaluate("(each) => each.loseContext()")
    page.locator(".turn__stage[data-is=still]").wait_for()
    assert page.locator(".turn__still").evaluate("(each) => each.complete && each.naturalWidth > 0 && each.clientWidth > 100")
    assert "comes back by itself" in told(page)
    assert not page.locator(".turn__controls").is_visible()
    lose.evaluate("(each) => each.restoreContext()")
    page.locator(".turn__stage[data-is=live]").wait_for()
    assert (np.abs(drawn(page) - before).sum(axis=2) > 60).mean() < 0.001


NO_GL = "HTMLCanvasElement.prototype.getContext = () => null"


@pytest.mark.parametrize(
    ("amiss", "says"),
    [
        (NO_GL, "This tablet cannot draw a model"),
        ("document.querySelector('[data-model]').dataset.mark = 'f'.repeat(32)", "belongs to another catalogue"),
        ("document.querySelector('[data-model]').dataset.model = 'assets/models/none.js'", "not on this tablet"),
        ("delete globalThis.DecompressionStream", "too old"),
        ("globalThis.atob = () => 'no model at all'", "cannot be read"),
    ],
    ids=["no WebGL", "of another build", "not there", "old browser", "spoilt"],
)
def test_where_it_cannot_be_shown_the_picture_stays_and_says_why(page: Page, site: Path, amiss: str, says: str) -> None:
    of(page, site)
    before = texts(page, ".verdict__word")
    page.evaluate(amiss)
    page.locator(".model__open").tap()
    expect(page.locator(".turn__told")).to_contain_text(says)
    assert page.locator(".turn__still").evaluate("(each) => each.complete && each.clientWidth > 100")
    assert page.locator(".turn__canvas").count() == 0
    assert texts(page, ".verdict__word") == before, "a model judges nothing"
    page.keyboard.press("Escape")
    expect(page.locator(".turn")).to_have_count(0)


@pytest.mark.parametrize("size", [PORTRAIT, LANDSCAPE, PHONE], ids=["upright", "across", "phone"])
def test_every_button_is_as_large_as_a_finger_and_the_model_has_room(page: Page, site: Path, size: dict[str, int]) -> None:
    page.set_viewport_size(size)
    opened(of(page, site))
    button(page, "Top to bottom").tap()
    for each in page.locator(".turn button, .turn input").all():
        each.scroll_into_view_if_needed()
        box = each.bounding_box()
        assert min(box["width"], box["height"]) >= 48, each.inner_text()
        assert box["x"] >= 0
        assert box["x"] + box["width"] <= size["width"]
    stage = page.locator(".turn__stage").bounding_box()
    controls = page.locator(".turn__controls").bounding_box()
    button(page, "Measure").tap()
    page.evaluate("document.querySelector('.turn__told').classList.add('turn__told--value')")
    page.evaluate("document.querySelector('.turn__told').textContent = 'Hole Ø 33.0 mm ± 0.1, 12.0 mm deep. Tap another place for the distance.'")
    assert (stage, controls) == (page.locator(".turn__stage").bounding_box(), page.locator(".turn__controls").bounding_box()), "nothing jumps"
    assert stage["width"] * stage["height"] > 0.28 * size["width"] * size["height"]
    if size == PORTRAIT:
        assert in_both(page) == []


def test_no_model_is_kept_unasked(site: Path) -> None:
    listed = json.loads((site / "sw.js").read_text("utf-8").split("const FILES = ", 1)[1].split(";\n", 1)[0])
    models = {path: is_kept for path, _, is_kept, _ in listed if path.startswith("assets/models/")}
    assert len(models) > 30
    assert not any(models.values()), "kept with everything, or once opened, never unasked"


def test_without_network_it_opens_once_everything_is_kept(page: Page, sample_site: Path) -> None:
    """On a site of four parts: to keep the demo's takes four times as long, and is the same for each model."""
    with serving(sample_site) as depot:
        page.goto(depot.url)
        wait_until(page, "navigator.serviceWorker.controller")
        page.goto(f"{depot.url}parts/P-0001.html")
        page.context.set_offline(True)
        page.locator(".model__open").tap()
        expect(page.locator(".turn__told")).to_contain_text("not on this tablet")
        button(page, "Close").tap()
        page.context.set_offline(False)
        page.evaluate("""async (kept) => {
          const { active } = await navigator.serviceWorker.ready;
          const told = new Promise((done) => navigator.serviceWorker.addEventListener("message", ({ data }) => data.spares === kept && done()));
          active.postMessage({ spares: "keep-everything" });
          await told;
        }""", "kept-everything")  # fmt: skip
        page.context.set_offline(True)
        opened(page)
        assert (np.abs(drawn(page) - drawn(page)[3, 3]).sum(axis=2) > 30).mean() > 0.02


def test_each_model_is_small_and_stands_in_one_call(site: Path) -> None:
    for file in sorted((site / "assets/models").iterdir()):
        text = file.read_text("ascii")
        assert re.fullmatch(r"globalThis\.sparesModel=\{.*\};\n", text), file.name
        assert len(text) < 200_000, file.name
        given = json.loads(text.removeprefix("globalThis.sparesModel=").rstrip(";\n"))
        assert set(given) == {"mark", "rounds", "packed"}
        assert base64.b64decode(given["packed"], validate=True)
        assert given["mark"] in (site / f"parts/{file.stem}.html").read_text("utf-8")
