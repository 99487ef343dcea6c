"""The piece in the hand: a batch is chosen on a part's page, and the verdicts answer for that piece alone."""

from pathlib import Path

import pytest
from playwright.sync_api import Page

from tests.browser.conftest import gone_to, pressed
from tests.fixtures.produced import printed_depot
from tests.fixtures.shared import made_once
from tests.pages.conftest import build_site
from tests.pages.sample import CATALOGUE

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory, warm_store: Path) -> Path:
    def make(folder: Path) -> None:
        build_site(printed_depot(CATALOGUE, folder / "catalogue"), folder / "site", warm_store)

    return made_once(tmp_path_factory, "printed", make) / "site"


def at(page: Page, site: Path, part: str, batch: str = "") -> Page:
    return gone_to(page, (site / f"parts/{part}.html").as_uri() + (f"#batch={batch}" if batch else ""))


def answers(page: Page) -> list[tuple[str, str]]:
    """Label and word of each verdict that is not folded away."""
    boxes = page.locator(".verdicts > .verdict, .verdicts > .mine > .verdict").all()
    return [(box.get_attribute("data-label") or "", box.locator(".verdict__word").inner_text()) for box in boxes]


def first_reason(page: Page) -> str:
    return page.locator(".verdict__reason").first.text_content() or ""


def said(page: Page) -> str:
    return page.locator(".piece__told").inner_text()


def chosen(page: Page) -> str:
    return page.locator(".piece__chosen").inner_text()


def choose(page: Page, text: str) -> None:
    """Typed and left, whether the fold is open or not."""
    page.locator(".piece__box").evaluate("(box, text) => { box.value = text; box.dispatchEvent(new Event('change')); }", text)


def test_without_a_batch_it_asks_where_some_are_stopped_and_the_choice_stands_open(reader: Page, site: Path) -> None:
    at(reader, site, "P-0004")
    assert answers(reader) == [("", "Do not fit"), ("A", "Ask first")]
    assert "Stopped: B-0012; B-0013" in (reader.locator(".verdict__reason").nth(1).text_content() or "")
    assert reader.locator(".piece").get_attribute("open") is not None
    sizes = [each.bounding_box() or {} for each in reader.locator(".piece__row button:visible, .piece__box, .piece > summary").all()]
    assert min(each["height"] for each in sizes) >= 48


@pytest.mark.parametrize(
    ("batch", "answer", "reason"),
    [
        ("B-0011", ("A", "Fit it"), "Approved by letter 9"),
        ("B-0012", ("A", "Do not fit"), "Batch B-0012: rejected"),
        ("B-0013", ("A", "Do not fit"), "Called back on 20 Nov 2026: It cracked (recall R-001), material lot L-2"),
        ("B-0014", ("", "Do not fit"), "Changed since approval"),
    ],
)
def test_a_label_opens_the_page_for_its_own_piece(reader: Page, site: Path, batch: str, answer, reason: str) -> None:
    at(reader, site, "P-0004", batch)
    assert answers(reader) == [answer]
    assert reason in first_reason(reader)
    assert f"this piece, batch {batch}" in reader.locator(".verdict__who").first.inner_text()
    assert reader.locator(".others .verdict").count() == 1
    assert reader.locator(".piece").get_attribute("open") is None


def test_pressed_and_dropped(reader: Page, site: Path) -> None:
    at(reader, site, "P-0004")
    pressed(reader.get_by_role("button", name="B-0011"))
    assert answers(reader) == [("A", "Fit it")]
    reader.locator(".piece").evaluate("(fold) => { fold.open = true; }")
    pressed(reader.get_by_role("button", name="Any piece"))
    assert answers(reader) == [("", "Do not fit"), ("A", "Ask first")]
    pressed(reader.get_by_role("button", name="No batch on it"))
    assert [word for _, word in answers(reader)] == ["Do not fit", "Ask first"]
    assert "does not know the batch" in (reader.locator(".verdict__reason").nth(1).text_content() or "")


def test_a_choice_is_of_this_visit_and_takes_the_place_of_the_address(reader: Page, site: Path) -> None:
    at(reader, site, "P-0004", "B-0011")
    choose(reader, "b 13")
    assert (chosen(reader), answers(reader)) == ("Batch B-0013, revision A", [("A", "Do not fit")])
    assert "batch" not in reader.url
    reader.reload()
    assert (chosen(reader), len(answers(reader))) == ("Any", 2)
    reader.evaluate("location.hash = 'batch=B-0011'")
    reader.wait_for_function("spares.screen.piece() === 'B-0011'")
    assert answers(reader) == [("A", "Fit it")]


@pytest.mark.parametrize("typed", ["B-0199", "X", "B-0199; drop", "<b>", "P-101\u200b", "🔧"])
def test_what_this_copy_does_not_know_is_asked_about(reader: Page, site: Path, typed: str) -> None:
    at(reader, site, "P-0002")
    choose(reader, typed)
    assert answers(reader)[0] == ("", "Ask first")
    assert said(reader)
    assert "Fit it" not in reader.locator(".verdicts").inner_text()


def test_the_batch_of_another_part_is_told_with_the_way_there_and_fits_nowhere(reader: Page, site: Path) -> None:
    at(reader, site, "P-0002")
    choose(reader, "b0011")
    reader.get_by_role("link", name="Open P-0004").wait_for()
    assert "Batch B-0011 is of P-0004 Vane" in said(reader)
    assert {word for _, word in answers(reader)} == {"Do not fit"}
    assert (reader.get_by_role("link", name="Open P-0004").get_attribute("href") or "").endswith("P-0004.html#batch=B-0011")
    choose(reader, "P-101")
    assert (said(reader), answers(reader)[0]) == ("", ("", "Ask first"))  # of its condition
    assert "Only with the seal" in first_reason(reader)


def test_many_batches_are_typed_with_what_is_known_to_choose_from(reader: Page, site: Path) -> None:
    at(reader, site, "P-0002")
    assert reader.locator(".piece__one").all_text_contents() == ["No batch on it"]
    options = [each.get_attribute("value") for each in reader.locator("#piece-batches option").all()]
    assert options == ["P-106", "P-105", "P-104", "P-103", "P-102", "P-101"]


def test_a_tick_is_of_one_piece(reader: Page, site: Path) -> None:
    at(reader, site, "P-0002", "P-101")
    box = reader.locator(".ticks input").first
    box.check(force=True)
    choose(reader, "P-102")
    assert (chosen(reader), box.is_checked()) == ("Batch P-102, revision A", False)
    reader.locator("html:not([data-held])").wait_for()
    box.check(force=True)
    pressed(reader.get_by_role("button", name="Next piece"))
    assert (chosen(reader), box.is_checked()) == ("Any", False)


def test_shelf_and_order_speak_of_other_pieces_than_the_one_in_the_hand(reader: Page, site: Path) -> None:
    at(reader, site, "P-0002", "P-101")
    before = reader.evaluate("spares.screen.standsFor(null)")
    assert "batch" not in str(before)
    assert "In the hand is a piece of batch P-101." in (reader.locator(".order__verdicts").first.text_content() or "")
    choose(reader, "B-0012")
    reader.get_by_role("link", name="Open P-0004").wait_for()
    assert reader.evaluate("spares.screen.standsFor(null)") == before
    assert reader.evaluate("spares.screen.notOrdered()") == ""


def test_with_a_vehicle_its_own_verdict_stands_first(reader: Page, site: Path) -> None:
    at(reader, site, "P-0004", "B-0011")
    reader.evaluate("spares.screen.choose('2')")
    assert answers(reader) == [("A", "Fit it")]
    assert reader.locator(".mine .verdict").count() == 1
    assert set(reader.url.partition("#")[2].split("&")) == {"batch=B-0011", "vehicle=2"}


def test_the_paper_names_the_batch(reader: Page, site: Path) -> None:
    at(reader, site, "P-0004", "B-0013")
    reader.evaluate("window.addEventListener('beforeprint', () => { globalThis.paper = document.querySelector('.paper').innerText; })")
    reader.pdf()
    assert "this piece, batch B-0013" in reader.evaluate("paper")


def test_data_without_the_batch_that_they_name_leave_the_careful_form(reader: Page, site: Path) -> None:
    at(reader, site, "P-0004")
    for spoilt in ("sparesPart.pieces.length = 0", "sparesRules.unknown_piece = null"):
        reader.evaluate(spoilt)
        reader.evaluate("spares.screen.choosePiece('B-0011')")
        assert "Fit it" not in [word for _, word in answers(reader)]
        reader.evaluate("spares.screen.choosePiece(null)")


def test_a_newer_copy_is_compared_for_the_piece_in_the_hand(reader: Page, site: Path) -> None:
    at(reader, site, "P-0004")
    reader.evaluate("spares.screen.partsData()")
    told = reader.evaluate(
        """() => {
          const coming = { data: structuredClone(sparesIndex), rules: sparesRules };
          const record = coming.data.records.find((each) => each.number === "P-0004");
          const at = record.batches.findIndex(([name]) => name === "B-0011");
          for (const ground of record.grounds) ground[5] = ground[5].map((row) => row.map((piece, nth) => {
            if (nth !== at) return piece;
            coming.data.pieces.push({ ...coming.data.pieces[piece], piece_recalled_on: "2026-11-24" });
            return coming.data.pieces.length - 1;
          }));
          const unknown = sparesRules.unknown_piece;
          const compared = (batch, data) => spares.judge.compared(spares.judge.spokenOn(sparesPart, { batch, unknown }), sparesRules, { ...coming, data }, "P-0004", "2026-11-25", batch);
          return [null, "B-0011", "B-0012", "B-0199", ""].map((batch) => [compared(batch, sparesIndex), compared(batch, coming.data)]);
        }"""
    )
    assert told == [["same", "same"], ["same", "differs"], ["same", "same"], ["same", "same"], ["same", "same"]]


def test_a_batch_that_is_typed_into_the_finder_leads_to_its_piece(reader: Page, site: Path) -> None:
    gone_to(reader, (site / "index.html").as_uri())
    reader.locator(".finder input").first.fill("b0013")
    link = reader.locator(".hit__link").first
    link.wait_for()
    assert (link.get_attribute("href") or "").endswith("parts/P-0004.html#batch=B-0013")
    assert "batch" in link.inner_text()


def test_a_whole_label_is_read_and_one_that_does_not_agree_fits_nowhere(reader: Page, site: Path) -> None:
    at(reader, site, "P-0004")
    choose(reader, "p-0004 a b–0011")
    assert (chosen(reader), answers(reader), said(reader)) == ("Batch B-0011, revision A", [("A", "Fit it")], "")
    choose(reader, "P-0002 A B-0011")
    assert "The label says P-0002, and this page is of P-0004" in said(reader)
    assert {word for _, word in answers(reader)} == {"Do not fit"}
    choose(reader, "B-0011")
    choose(reader, "P-0004 B B-0011")
    assert "The label says revision B, and batch B-0011 is of revision A" in said(reader)
    assert {word for _, word in answers(reader)} == {"Do not fit"}
    pressed(reader.get_by_role("button", name="B-0012"))
    assert said(reader) == ""


def test_a_letter_for_a_digit_is_offered_as_a_button_and_is_not_taken(reader: Page, site: Path) -> None:
    at(reader, site, "P-0004")
    choose(reader, "8-O0ll")
    assert "Fit it" not in reader.locator(".verdicts").inner_text()
    assert reader.locator(".piece__meant button").all_inner_texts() == ["B-0011"]
    pressed(reader.locator(".piece__meant button"))
    assert (chosen(reader), answers(reader), reader.locator(".piece__meant").count()) == ("Batch B-0011, revision A", [("A", "Fit it")], 0)
