"""The piece in the hand: a batch is chosen on a part's page, and the verdicts answer for that piece alone."""

from pathlib import Path
from urllib.parse import quote

import pytest
from playwright.sync_api import Page

from tests.browser.conftest import gone_to, least, pressed, texts
from tests.browser.patience import wait_until
from tests.fixtures.produced import fitted, printed_depot
from tests.fixtures.shared import made_once
from tests.pages.conftest import build_site
from tests.pages.sample import CATALOGUE

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory, warm_store: Path) -> Path:
    def make(folder: Path) -> None:
        root = printed_depot(CATALOGUE, folder / "catalogue")
        sits = {"fleet": "F1", "place": "cab", "by": "fitter", "part": "P-0004", "count": 1}
        fitted(
            root,
            {**sits, "day": "2026-11-10", "vehicle": "2", "position": "left", "batch": "B-0013"},
            {**sits, "day": "2026-11-21", "vehicle": "2", "position": "right", "batch": "B-0011"},
            {**sits, "day": "2026-11-12", "vehicle": "3", "position": "left", "batch": "B-0099", "as_found": "yes"},
        )
        build_site(root, folder / "site", warm_store)

    return made_once(tmp_path_factory, "printed", make) / "site"


def at(page: Page, site: Path, part: str, batch: str = "") -> Page:
    return gone_to(page, (site / f"parts/{part}.html").as_uri() + (f"#batch={batch}" if batch else ""))


def answers(page: Page) -> list[tuple[str, str]]:
    """Label and word of each verdict that is not folded away."""
    all_ = """[...document.querySelectorAll(".verdicts > .verdict, .verdicts > .mine > .verdict")]
      .map(box => [box.getAttribute("data-label") || "", box.querySelector(".verdict__word").innerText])"""
    return [(label, word) for label, word in page.evaluate(all_)]


def first_reason(page: Page) -> str:
    return page.locator(".verdict__reason").first.text_content() or ""


def said(page: Page) -> str:
    return page.locator(".piece__told").inner_text()


def chosen(page: Page) -> str:
    return page.locator(".piece__chosen").inner_text()


def choose(page: Page, text: str) -> None:
    """Typed and left, whether the fold is open or not."""
    page.evaluate("(text) => { const box = document.querySelector('.piece__box'); box.value = text; box.dispatchEvent(new Event('change')); }", text)


def test_without_a_batch_it_asks_where_some_are_stopped_and_the_choice_stands_open(reader: Page, site: Path) -> None:
    at(reader, site, "P-0004")
    assert answers(reader) == [("", "Do not fit"), ("A", "Ask first")]
    assert "Stopped: B-0012; B-0013" in (reader.locator(".verdict__reason").nth(1).text_content() or "")
    assert reader.locator(".piece").get_attribute("open") is not None
    assert least(reader, ".piece__row button, .piece__box, .piece > summary") >= 48


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
    pressed(reader.get_by_role("button", name="No label, or no batch on it"))
    assert [word for _, word in answers(reader)] == ["Do not fit", "Ask first"]
    assert "does not know the batch" in (reader.locator(".verdict__reason").nth(1).text_content() or "")
    assert "Put it apart" in said(reader)
    assert "ask whoever releases the prints before it is fitted" in said(reader)


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
    reader.evaluate("location.hash = 'batch=B-0011&batch=B-0013'")
    reader.wait_for_function("spares.screen.piece() !== 'B-0011'")
    assert "Fit it" not in reader.locator(".verdicts").inner_text()
    reader.evaluate("location.hash = 'x=1&amp;Batch=B-0011'")
    reader.wait_for_function("spares.screen.piece() === 'B-0011'")
    assert answers(reader) == [("A", "Fit it")]
    reader.evaluate("location.hash = 'serie=B-0011'")
    reader.wait_for_function("spares.screen.piece() !== 'B-0011'")
    assert "Fit it" not in reader.locator(".verdicts").inner_text()
    choose(reader, "b 11")
    assert (answers(reader), "serie" in reader.url) == ([("A", "Fit it")], False)
    reader.evaluate("location.hash = 'revision=Z'")
    reader.wait_for_function("spares.screen.piece() === 'Rev. Z'")
    assert "Fit it" not in reader.locator(".verdicts").inner_text()  # a revision without a batch is of some piece, too


@pytest.mark.parametrize(("told", "is_open"), [("choose", True), ("unreleased", True), (None, True), ("any", False), ("not kept", False)])
def test_the_choice_stands_open_wherever_nobody_can_tell_which_pieces_are_good(reader: Page, site: Path, told: str | None, is_open: bool) -> None:
    """None: of a record that is gone or cannot be read."""
    at(reader, site, "P-0004", "B-0011")
    reader.evaluate("(told) => { for (const ground of sparesPart.grounds) for (const facts of ground.permits) facts.piece = told; }", told)
    choose(reader, "")
    assert (chosen(reader), reader.locator(".piece").get_attribute("open") is not None) == ("Any", is_open)


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
    assert texts(reader, ".piece__one", "textContent") == ["No label, or no batch on it"]
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


def test_the_shelf_says_that_its_word_is_of_the_others(reader: Page, site: Path) -> None:
    at(reader, site, "P-0004")
    word = reader.locator(".shelf__ask:visible, .shelf__no:visible").first
    assert word.inner_text() == "Ask first."
    choose(reader, "B-0011")
    assert (answers(reader), word.inner_text()) == ([("A", "Fit it")], "Any other piece on the shelf: ask first.")
    choose(reader, "")
    assert word.inner_text() == "Ask first."


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
    assert "the code holds the number P-0004 B-0013" in reader.evaluate("paper")  # opened from disk, as a label says it


def test_the_paper_of_what_must_not_be_fitted_does_not_tell_how(reader: Page, site: Path) -> None:
    at(reader, site, "P-0004")
    # What a page of a part with fitting notes holds, before its footer.
    reader.evaluate("document.querySelector('.sheet .md-typeset').insertAdjacentHTML('beforeend', '<h2>Steps</h2><div class=steps><ol><li>Turn it in.</li></ol></div>')")
    reader.evaluate("window.addEventListener('beforeprint', () => { globalThis.paper = document.querySelector('.paper').innerText; })")
    told = {}
    for batch in ("B-0011", "B-0013"):
        choose(reader, batch)
        reader.pdf()
        told[answers(reader)[0][1]] = ("Turn it in." in reader.evaluate("paper"), "Do not fit. How it is fitted" in reader.evaluate("paper"))
    assert told == {"Fit it": (True, False), "Do not fit": (False, True)}


def test_the_paper_names_every_vehicle_on_which_something_must_come_off(reader: Page, site: Path) -> None:
    """It may be carried to any of them, whichever was chosen when it was printed."""
    at(reader, site, "P-0004", "B-0011")
    reader.evaluate("window.addEventListener('beforeprint', () => { globalThis.paper = document.querySelector('.paper').innerText; })")
    for chosen in ("1", "2"):
        reader.evaluate(f"spares.screen.choose('{chosen}')")
        reader.pdf()
        told = [line for line in reader.evaluate("paper").split("\n") if "as recorded on 25 Nov 2026" in line]
        assert [(line.partition(",")[0], "F1 2 (1 ×)" in line, "F1 3" in line) for line in told] == [("Must come off", True, False), ("To be asked about", False, True)]


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


def test_a_piece_that_is_said_without_its_number_is_asked_about_in_the_finder(reader: Page, site: Path) -> None:
    gone_to(reader, (site / "index.html").as_uri())
    box, told = reader.locator(".finder input").first, "document.querySelector('.finder__list, .finder')?.innerText"
    for typed, said in {"vane L-2": "L-2, called back or blocked: which piece is it?", "vane no label": "no label, no batch to read: which piece is it?", "vane not B-0011": "not B-0011 ?, unknown batch"}.items():
        box.fill(typed)
        wait_until(reader, f"({told} || '').includes('{said}')")
        assert "Fit it" not in str(reader.evaluate(told))


def test_a_label_that_is_typed_into_the_finder_leads_to_its_piece_or_says_what_is_wrong(reader: Page, site: Path) -> None:
    gone_to(reader, (site / "index.html").as_uri())
    box, first = reader.locator(".finder input").first, "document.querySelector('.hit__link')?.href"
    box.fill("p0004ab0011")
    wait_until(reader, f"{first}?.endsWith('parts/P-0004.html#batch=B-0011')")
    assert reader.locator(".hit").first.locator(".hit__stand--fit").count() == 1
    box.fill("P-0002 A B-0011")
    wait_until(reader, f"{first}?.includes('parts/P-0002.html#batch=P-0002')")
    assert set(reader.locator(".hit").first.locator(".hit__verdict").all_inner_texts()) == {"Do not fit"}
    page = reader.evaluate(first)
    box.fill("P-0004 A B-OO11")
    wait_until(reader, "document.querySelector('.finder__alike')?.textContent === 'B-0011'")
    box.fill("B-0011 B-0012")
    wait_until(reader, "document.querySelectorAll('.finder__alike').length === 2")
    assert "Two pieces stand here: B-0011, B-0012. One piece at a time" in reader.locator(".finder__list, .finder").first.inner_text()
    pressed(reader.locator(".finder__alike").last)
    wait_until(reader, f"{first}?.endsWith('parts/P-0004.html#batch=B-0012')")
    gone_to(reader, page)
    assert {word for _, word in answers(reader)} == {"Do not fit"}
    reader.get_by_role("link", name="Open P-0004").wait_for()


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
    assert "does not agree with the label" in reader.locator(".verdicts").inner_text()
    pressed(reader.get_by_role("button", name="B-0012"))
    assert said(reader) == ""
    assert "label" not in first_reason(reader)


def also(page: Page) -> str:
    return " ".join(texts(page, ".verdicts > .verdict .verdict__also, .verdicts > .mine > .verdict .verdict__also", "textContent"))


@pytest.mark.parametrize("label", ["P-0002 A B-0013", "P-0004 B B-0013"])
def test_a_called_back_piece_is_told_as_such_first_whatever_its_label_says(reader: Page, site: Path, label: str) -> None:
    at(reader, site, "P-0004")
    choose(reader, label)
    assert {word for _, word in answers(reader)} == {"Do not fit"}
    assert first_reason(reader).startswith("Called back on 20 Nov 2026: It cracked (recall R-001)")
    assert "does not agree with the label" in also(reader)
    reader.locator(".piece__box").press("Enter")
    assert (reader.locator(".piece__box").input_value(), "does not agree with the label" in also(reader)) == (label, True)
    choose(reader, "B-0013")
    assert (first_reason(reader).startswith("Called back"), "agree with the label" in also(reader)) == (True, False)


def test_a_called_back_piece_of_another_part_is_told_as_called_back(reader: Page, site: Path) -> None:
    at(reader, site, "P-0002")
    for text in ("b0013", "P-0004 A B-0013", "P0004AB0013"):
        choose(reader, text)
        reader.get_by_role("link", name="Open P-0004").wait_for()
        assert {word for _, word in answers(reader)} == {"Do not fit"}
        assert first_reason(reader).startswith("Called back on 20 Nov 2026")
        assert "is of another part" in also(reader)
        choose(reader, "")
    choose(reader, "b0011")
    reader.get_by_role("link", name="Open P-0004").wait_for()
    assert "Called back" not in reader.locator(".verdicts > .verdict").first.inner_text()


def test_a_vehicle_that_carries_a_called_back_piece_says_so_at_the_top(reader: Page, site: Path) -> None:
    at(reader, site, "P-0004", "B-0011")
    told = reader.locator(".sitting")
    assert not told.is_visible()
    reader.evaluate("spares.screen.choose('2')")
    assert "On F1 2 now, and must come off:" in told.inner_text()
    assert "Cab, left: 1 × batch B-0013. Called back: take it off (recall R-001)" in told.inner_text()
    assert "B-0011" not in told.inner_text()
    assert answers(reader) == [("A", "Fit it")]  # the piece in the hand is another one
    assert (told.bounding_box() or {})["y"] < (reader.locator(".first").bounding_box() or {})["y"]
    ways = {each.inner_text(): str(each.get_attribute("href")) for each in told.locator("a").all()}
    assert ways["Write down what came off"].endswith("fitted.html#part=P-0004&vehicle=2")
    page = next(href for text, href in ways.items() if text == "All that sits on F1 2")
    reader.evaluate("spares.screen.choose('3')")
    assert "On F1 3 now, and to be asked about:" in told.inner_text()
    assert "B-0099. No record of its batch: read the label, and ask" in told.inner_text()
    assert "must come off" not in told.inner_text()
    reader.evaluate("spares.screen.choose('1')")
    assert not told.is_visible()
    gone_to(reader, page)
    assert "Must not stay on this vehicle" in reader.locator("main").inner_text()


def test_the_finder_tells_what_sits_on_the_vehicle_too(reader: Page, site: Path) -> None:
    gone_to(reader, (site / "index.html").as_uri())
    reader.evaluate("spares.screen.choose('2')")
    for query, line in (("P-0004", "F1 2 carries 1 of it that must come off"), ("P-0004 car 3", "F1 3 carries 1 of it to be asked about"), ("P-0004 car 1", "")):
        reader.locator(".finder input").first.fill(query)
        told = "[...(document.querySelector('.hit')?.querySelectorAll('.hit__sitting') || [])].map((each) => each.textContent).join(' ')"
        wait_until(reader, f"document.querySelector('.hit') && {told} === {line!r}")
    reader.evaluate("spares.screen.choose('')")


def test_a_label_in_the_address_is_read_as_if_it_were_typed(reader: Page, site: Path) -> None:
    at(reader, site, "P-0004", quote("P-0004 A b0011"))
    assert (chosen(reader), answers(reader)) == ("Batch B-0011, revision A", [("A", "Fit it")])
    at(reader, site, "P-0004", quote("P-0002 A B-0011"))
    assert {word for _, word in answers(reader)} == {"Do not fit"}
    assert "The label says P-0002" in said(reader)


def test_two_labels_at_once_are_no_piece(reader: Page, site: Path) -> None:
    at(reader, site, "P-0004")
    for text in ("B-0011 B-0014", "P-0004 A B-0011 P-0004 B B-0014", "b11, b14", "B0011B0014"):
        choose(reader, text)
        assert "Two batches stand here: B-0011, B-0014. One piece at a time" in said(reader)
        assert {word for _, word in answers(reader)} == {"Do not fit", "Ask first"}
        assert texts(reader, ".piece__meant button") == ["B-0011", "B-0014"]
    pressed(reader.locator(".piece__meant button").first)
    assert (chosen(reader), said(reader)) == ("Batch B-0011, revision A", "")


def test_a_letter_for_a_digit_is_offered_as_a_button_and_is_not_taken(reader: Page, site: Path) -> None:
    at(reader, site, "P-0004")
    choose(reader, "8-O0ll")
    assert "Fit it" not in reader.locator(".verdicts").inner_text()
    assert texts(reader, ".piece__meant button") == ["B-0011"]
    pressed(reader.locator(".piece__meant button"))
    assert (chosen(reader), answers(reader), reader.locator(".piece__meant").count()) == ("Batch B-0011, revision A", [("A", "Fit it")], 0)


def test_what_is_said_of_a_piece_stays_within_its_box_on_a_phone(reader: Page, site: Path) -> None:
    before = reader.viewport_size
    reader.set_viewport_size({"width": 360, "height": 780})
    try:
        gone_to(reader, (site / "parts/P-0004.html").as_uri() + "?batches=B-0199-and-more-that-no-label-has")
        inside = "[...document.querySelectorAll('.verdict__piece strong')].map((each) => each.getBoundingClientRect().right <= each.closest('.verdict__who').parentElement.getBoundingClientRect().right)"
        assert "batches: not B-0199" in reader.locator(".verdict__piece").first.inner_text()
        assert set(reader.evaluate(inside)) == {True}
    finally:
        if before:
            reader.set_viewport_size(before)
