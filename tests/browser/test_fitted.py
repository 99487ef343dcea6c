"""What was fitted, from the page of a part to a file that the records read; kept on the tablet until it is handed over."""

import json
from pathlib import Path
from urllib.parse import quote

import pytest
import yaml
from playwright.sync_api import Page

from generator.records.fitted_file import FittedList
from tests.browser.conftest import gone_to, least, pressed, texts
from tests.browser.test_piece import site

__all__ = ["site"]
pytestmark = pytest.mark.browser


def opened(page: Page, site: Path, part: str = "P-0004", batch: str = "", vehicle: str = "") -> None:
    asked = f"part={quote(part)}" + (f"&batch={batch}" if batch else "") + (f"&vehicle={vehicle}" if vehicle else "")
    gone_to(page, (site / "fitted.html").as_uri() + f"#{asked}")


# One after the other, as a hand does.
PUT = """(answers) => {
  for (const [name, text] of Object.entries(answers)) {
    const [field, ...others] = document.querySelectorAll(`[data-field="${name}"]`);
    const radios = [...field.querySelectorAll("input[type=radio]")], boxes = radios.length ? radios.filter(each => each.value === text) : [...field.querySelectorAll("input")];
    if (boxes.length !== 1 || others.length) throw new Error(`there is not one box ${name} for ${text}`);
    if (radios.length) { boxes[0].click(); continue; }
    boxes[0].value = text;
    boxes[0].dispatchEvent(new Event("input", { bubbles: true }));
  }
}"""


def put(page: Page, **answers: str) -> None:
    page.evaluate(PUT, answers)


def faults(page: Page) -> dict[str, str]:
    wrong = """() => [...document.querySelectorAll(".field--wrong")].map(each => [each.dataset.field, each.querySelector(".field__fault").innerText])"""
    return dict(page.evaluate(wrong))


def add(page: Page) -> None:
    """Not by its place: what is said of the piece, a moment after the last word, moves it."""
    page.get_by_role("button", name="Add it to the list").dispatch_event("click")
    page.evaluate("spares.screen.partsData().then(() => new Promise((done) => setTimeout(done, 30)))")


def hand_over(page: Page) -> None:
    """Not by its place either."""
    page.get_by_role("button", name="Hand it over").dispatch_event("click")


def read_back(text: str) -> FittedList:
    return FittedList.model_validate_json(json.dumps(yaml.safe_load(text), default=str))


def rows(page: Page) -> list[str]:
    return texts(page, ".fitted__row bdi")


def test_a_row_from_the_part_to_a_file_that_the_records_read(reader: Page, site: Path) -> None:
    gone_to(reader, (site / "parts/P-0004.html").as_uri() + "#batch=B-0011&vehicle=2")
    way = reader.locator(".fitted-way a")
    assert "batch=B-0011" in (way.get_attribute("href") or "")
    opened(reader, site, batch="B-0011", vehicle="2")
    put(reader, position='left, "third" window', count="2", removed="1", removed_batch="b 0013", why="broken", by="fitter")
    add(reader)
    assert faults(reader) == {}
    assert rows(reader) == ['25 Nov 2026 · F1 2 · Cab · left, "third" window · P-0004 · 2 × B-0011 on · 1 off, B-0013, broken']
    reader.reload()
    assert len(rows(reader)) == 1
    hand_over(reader)
    text = reader.locator(".handover__text").inner_text()
    told = read_back(text)
    assert (told.railway, told.depot, told.made_on.isoformat(), len(told.rows)) == ("Sample Railway", "Sample depot", "2026-11-25", 1)
    row = told.rows[0]
    assert (row.fleet, row.vehicle, row.place, row.position, row.part) == ("F1", "2", "cab", 'left, "third" window', "P-0004")
    assert (row.batch, row.count, row.removed_batch, row.removed, row.why, row.by) == ("B-0011", 2, "B-0013", 1, "broken", "fitter")
    pressed(reader.get_by_role("button", name="It is handed over"))
    assert (rows(reader), "1 entry was handed over" in reader.locator(".fitted__handed").inner_text()) == ([], True)
    pressed(reader.get_by_role("button", name="Bring back"))
    assert len(rows(reader)) == 1
    hand_over(reader)
    again = read_back(reader.locator(".handover__text").inner_text())
    assert again.rows[0].row == row.row


IMPOSSIBLE = {
    "a vehicle of no fleet": ({"vehicle": "99"}, {"vehicle"}),
    "more than sit there": ({"count": "3"}, {"count"}),
    "none": ({"count": "0"}, {"count"}),
    "less than none": ({"count": "-1"}, {"count"}),
    "a count in words": ({"count": "two"}, {"count"}),
    "no batch": ({"batch": ""}, {"batch"}),
    "no number of a batch": ({"batch": "vane"}, {"batch"}),
    "a batch of another part": ({"batch": "P-101"}, {"batch"}),
    "a day before it was released": ({"day": "2025-11-26"}, set()),
    "a day to come": ({"day": "2026-11-26"}, {"day"}),
    "a day long ago": ({"day": "2024-11-26"}, {"day"}),
    "no day": ({"day": ""}, {"day"}),
    "came off without a reason": ({"removed": "1"}, {"why"}),
    "more came off than sit there": ({"removed": "3", "why": "worn"}, {"removed"}),
    "a reason, and nothing came off": ({"why": "worn"}, {"removed"}),
    "nothing at all": ({"batch": "", "count": ""}, {"count"}),
}


@pytest.mark.parametrize("case", IMPOSSIBLE)
def test_what_cannot_be_is_refused_at_its_field(reader: Page, site: Path, case: str) -> None:
    answers, wrong = IMPOSSIBLE[case]
    opened(reader, site, batch="B-0011", vehicle="2")
    put(reader, count="2", by="fitter")
    put(reader, **answers)
    add(reader)
    assert set(faults(reader)) == wrong
    assert len(rows(reader)) == (0 if wrong else 1)


def test_no_role_is_refused_and_a_removal_alone_is_not(reader: Page, site: Path) -> None:
    opened(reader, site, vehicle="2")
    put(reader, removed="1", why="worn")
    add(reader)
    assert set(faults(reader)) == {"by"}
    put(reader, by="fitter")
    add(reader)
    assert rows(reader) == ["25 Nov 2026 · F1 2 · Cab · P-0004 · 1 off, worn"]


@pytest.mark.parametrize(
    ("batch", "told"), [("B-0011", ""), ("B-0013", "Do not fit. Called back"), ("B-0012", "Do not fit. Batch B-0012: rejected"), ("B-0199", "Ask first")]
)
def test_it_says_plainly_where_the_piece_was_not_to_be_fitted(reader: Page, site: Path, batch: str, told: str) -> None:
    opened(reader, site, batch=batch, vehicle="2")
    site_of = "{ fleet: 'F1', place: 'cab', name: 'Cab', id: 'F1 cab', most: 2 }"
    found = reader.evaluate(f"spares.screen.aboutFitted('P-0004', {site_of}, '2', '{batch}')")
    assert (found["stands"]["verdict"] == "fit") is not bool(told)
    if told:
        reader.locator(".fitted__stands p").first.wait_for()
    assert told in reader.locator(".fitted__stands").inner_text()
    assert bool(reader.locator(".fitted__stands").inner_text()) is bool(told)


def test_a_batch_of_another_part_is_told_with_the_way_to_write_it_down_there(reader: Page, site: Path) -> None:
    for batch, recalled in (("b13", True), ("P-0004 A B-0011", False)):
        opened(reader, site, part="P-0002", batch=quote(batch), vehicle="2")
        told = reader.locator(".fitted__stands")
        told.locator("a").wait_for()
        assert "is of P-0004 Vane, not of P-0002" in told.inner_text()
        assert ("Called back on 20 Nov 2026" in told.inner_text()) is recalled
        assert "does not know" not in told.inner_text()
        assert (set(faults(reader)), "P-0004" in faults(reader)["batch"]) == ({"batch"}, True)
    pressed(told.locator("a"))
    reader.locator(".request__form h2", has_text="P-0004").wait_for()
    assert (reader.locator("#request-batch").input_value(), reader.locator("#request-vehicle").input_value()) == ("B-0011", "2")
    change(reader, "batch", "B-0011 B-0012")
    assert "Two batches stand here: B-0011, B-0012" in faults(reader)["batch"]
    put(reader, count="1", by="fitter")
    add(reader)
    assert (set(faults(reader)), rows(reader)) == ({"batch"}, [])


@pytest.mark.parametrize("sign", ["#", "?"])
@pytest.mark.parametrize(
    ("keys", "holds", "fault"),
    [
        ("Part=P-0004&Batch=B-0011", "B-0011", ""),
        ("part=P-0004&BATCH=b11", "B-0011", ""),
        ("part=P-0004&amp;batch=B-0011", "B-0011", ""),
        ("part=P-0004&batch=B-0011&BATCH=B-0012", "B-0011, B-0012", "Two batches stand here: B-0011, B-0012"),
        ("part=P-0004&batches=B-0199", "? batches: not B-0199 ?", ""),
        ("part=P-0004&b=11", "? b: not 11 ?", ""),
    ],
)
def test_the_form_reads_its_address_however_the_keys_are_written(reader: Page, site: Path, sign: str, keys: str, holds: str, fault: str) -> None:
    gone_to(reader, (site / "fitted.html").as_uri() + sign + keys + "&vehicle=2")
    assert reader.locator("#request-batch").input_value() == holds
    assert fault in faults(reader).get("batch", "")
    put(reader, count="1", by="fitter")
    add(reader)
    assert ("batch" in faults(reader)) is (holds != "B-0011")
    assert len(rows(reader)) == (holds == "B-0011")


def test_what_is_kept_and_is_none_of_ours_is_left_out(reader: Page, site: Path) -> None:
    opened(reader, site)
    for strange in ("[]", "null", '{"rows": 5}', '{"rows": [null, 1, {"day": 3}]}', "{"):
        reader.evaluate("(text) => localStorage.setItem('spares.fitted', text)", strange)
        reader.reload()
        assert rows(reader) == []
        assert reader.get_by_role("button", name="Add it to the list").count() == 1


def change(page: Page, name: str, text: str) -> None:
    """Typed or scanned, and left."""
    put(page, **{name: text})
    page.evaluate("(name) => document.getElementById(`request-${name}`).dispatchEvent(new Event('change', { bubbles: true }))", name)


def meant(page: Page, name: str) -> list[str]:
    return texts(page, f'[data-field="{name}"] .meant button')


def test_a_whole_label_is_read_and_one_of_another_piece_is_told_at_once(reader: Page, site: Path) -> None:
    opened(reader, site, vehicle="2")
    change(reader, "batch", "p‑0004 a  b0011")
    assert (reader.locator("#request-batch").input_value(), faults(reader)) == ("B-0011", {})
    change(reader, "batch", "P-0002 A B-0011")
    assert "The label says P-0002, and this is about P-0004" in faults(reader)["batch"]
    change(reader, "removed_batch", "P-0004 B B-0011")
    assert "revision B, and batch B-0011 is of revision A" in faults(reader)["removed_batch"]
    put(reader, count="1", by="fitter", removed="1", why="worn")
    add(reader)
    assert (set(faults(reader)), rows(reader)) == ({"batch", "removed_batch"}, [])
    change(reader, "removed_batch", "")
    change(reader, "batch", "https://parts.example/parts/P-0004.html#batch=B-0011")
    add(reader)
    assert rows(reader) == ["25 Nov 2026 · F1 2 · Cab · P-0004 · 1 × B-0011 on · 1 off, worn"]


def test_the_label_of_another_part_comes_off_where_the_wrong_part_sat_there(reader: Page, site: Path) -> None:
    opened(reader, site, vehicle="2")
    put(reader, removed="1", why="worn", by="fitter")
    change(reader, "removed_batch", "P-0002 A P-101")
    assert "If the wrong part sat there" in faults(reader)["removed_batch"]
    put(reader, why="wrong")
    assert faults(reader) == {}
    add(reader)
    assert rows(reader) == ["25 Nov 2026 · F1 2 · Cab · P-0004 · 1 off, P-101, wrong part"]


def test_what_looks_like_a_known_number_is_offered_and_never_taken(reader: Page, site: Path) -> None:
    opened(reader, site)
    put(reader, vehicle="Z", batch="8-OO11", count="1", by="fitter")
    assert (meant(reader, "vehicle"), meant(reader, "batch")) == (["2"], ["B-0011"])
    add(reader)
    assert set(faults(reader)) == {"vehicle", "batch"}
    pressed(reader.locator('[data-field="vehicle"] .meant button'))
    pressed(reader.locator('[data-field="batch"] .meant button'))
    assert (meant(reader, "vehicle"), meant(reader, "batch")) == ([], [])
    add(reader)
    assert rows(reader) == ["25 Nov 2026 · F1 2 · Cab · P-0004 · 1 × B-0011 on"]


def test_known_positions_are_pressed_and_a_new_one_is_told(reader: Page, site: Path) -> None:
    opened(reader, site, batch="B-0011", vehicle="2")
    told = reader.locator(".positions__told")
    reader.evaluate("() => { sparesFitted.parts['P-0004'].positions = {}; }")
    put(reader, vehicle="1")
    put(reader, vehicle="2")
    put(reader, position="left, third window")
    assert told.inner_text() == ""  # no line before names any
    names = ["window 2", *(f"window {at} {side}" for at in range(3, 9) for side in ("left", "right"))]
    reader.evaluate("(names) => { sparesFitted.parts['P-0004'].positions['F1 cab'] = { names, one_each: true }; }", names)
    put(reader, vehicle="1")
    put(reader, vehicle="2")
    assert "names a position here so" in told.inner_text()
    pressed(reader.get_by_role("button", name="window 3", exact=True))
    assert texts(reader, ".positions__row--second button") == ["window 3 left", "window 3 right"]
    pressed(reader.get_by_role("button", name="window 3 right"))
    assert (reader.locator("#request-position").input_value(), told.inner_text()) == ("window 3 right", "")
    assert reader.locator("#request-count").input_value() == "1"
    put(reader, position=" WINDOW  3 left", by="fitter")
    assert told.inner_text() == ""
    put(reader, count="2")
    put(reader, position="window 3 left")
    assert reader.locator("#request-count").input_value() == "2"
    add(reader)
    assert rows(reader) == ["25 Nov 2026 · F1 2 · Cab · window 3 left · P-0004 · 2 × B-0011 on"]
    assert least(reader, ".positions__one, .choice") >= 48


def test_one_piece_is_proposed_where_one_sits_and_only_where_something_went_on_or_came_off(reader: Page, site: Path) -> None:
    opened(reader, site, vehicle="2")
    reader.evaluate("sparesFitted.parts['P-0004'].fits.forEach((fit) => { fit[3] = 1; })")
    count, removed = reader.locator("#request-count"), reader.locator("#request-removed")
    put(reader, vehicle="2")
    assert (count.input_value(), removed.input_value()) == ("", "")
    put(reader, batch="B-0011")
    assert (count.input_value(), removed.input_value()) == ("1", "")
    put(reader, why="worn")
    assert (count.input_value(), removed.input_value()) == ("1", "1")
    put(reader, batch="")
    assert count.input_value() == ""
    put(reader, count="", batch="B-0011")
    assert count.input_value() == ""  # somebody has emptied it
    add(reader)
    assert faults(reader)["count"] == "Write 1: one sits there."


def test_the_role_of_last_time_is_shown_as_such_and_others_stand_behind_one_button(reader: Page, site: Path) -> None:
    opened(reader, site, batch="B-0011", vehicle="2")
    hint = reader.locator('[data-field="by"] .field__hint')
    assert (reader.locator('[data-field="by"] input:checked').count(), hint.is_visible()) == (0, False)
    put(reader, count="1")
    others = [each["id"] for each in reader.evaluate("sparesFitted.roles") if not each["first"]]
    put(reader, by="another role")
    add(reader)
    assert set(faults(reader)) == {"by"}
    reader.locator(".role__other").select_option(others[0], force=True)
    add(reader)
    assert len(rows(reader)) == 1
    opened(reader, site, batch="B-0011", vehicle="2")
    assert reader.locator('[data-field="by"] input:checked').get_attribute("value") == others[0]
    assert hint.inner_text() == "As last time on this tablet. Change it if that is not you."
    put(reader, by="fitter")
    assert not hint.is_visible()


ONE_SITS = "(batch) => { sparesFitted.parts['P-0004'].positions['F1 cab'] = { names: ['left', 'right'], one_each: true, sits: { 2: [[0, batch]] } }; }"


def stands_at(page: Page) -> str:
    return page.locator('[data-field="position"] .meant').last.inner_text()


def test_where_one_sits_it_is_asked_at_once_what_came_off(reader: Page, site: Path) -> None:
    opened(reader, site, batch="B-0011", vehicle="2")
    reader.evaluate(ONE_SITS, "B-0013")
    put(reader, vehicle="2", by="fitter", position="right", count="1")
    assert stands_at(reader) == ""
    put(reader, position=" Left")
    assert "By the records B-0013 sits there. What came off?" in stands_at(reader)
    add(reader)
    assert faults(reader) == {"removed": "By the records B-0013 sits at this position. Write what came off, or choose the other position."}
    button = reader.get_by_role("button", name="B-0013 came off")
    assert (button.bounding_box() or {})["height"] >= 48
    pressed(button)
    assert (reader.locator("#request-removed").input_value(), reader.locator("#request-removed_batch").input_value(), stands_at(reader)) == ("1", "B-0013", "")
    put(reader, why="worn")
    add(reader)
    assert rows(reader) == ["25 Nov 2026 · F1 2 · Cab · left · P-0004 · 1 × B-0011 on · 1 off, B-0013, worn"]
    put(reader, position="left", removed="1", removed_batch="B-0013", why="worn")  # a second time: the row that waits took it
    add(reader)
    assert faults(reader) == {"removed_batch": "By the records B-0013 does not sit at this position, but B-0011. Read the label of what came off again."}
    put(reader, removed="", removed_batch="")
    put(reader, position="left")
    assert "B-0011 sits there" in stands_at(reader)


AS_FOUND = """document.querySelector('[data-field="as_found"] input').click()"""
SEEN = {
    "more than sit there": ({"count": "3"}, "count"),
    "a batch of another part": ({"batch": "P-101"}, "batch"),
    "one sits there": ({"position": "left"}, "removed"),
    "off where another sits": ({"position": "left", "removed": "1", "removed_batch": "B-0012", "why": "worn"}, "removed_batch"),
}


@pytest.mark.parametrize("case", SEEN)
def test_what_contradicts_the_records_is_told_and_taken_with_a_tick_of_whoever_has_seen_it(reader: Page, site: Path, case: str) -> None:
    answers, wrong = SEEN[case]
    opened(reader, site, batch="B-0011", vehicle="2")
    reader.evaluate(ONE_SITS, "B-0013")
    put(reader, vehicle="2", by="fitter", count="1")
    put(reader, **answers)
    seen = reader.locator('[data-field="as_found"]')
    assert not seen.is_visible()
    add(reader)
    assert (set(faults(reader)), seen.is_visible()) == ({wrong}, True)
    assert least(reader, '[data-field="as_found"] label') >= 48
    reader.evaluate(AS_FOUND)
    add(reader)
    assert "marked: seen on the vehicle" in rows(reader)[0]
    assert (seen.is_visible(), seen.locator("input").is_checked()) == (False, False)
    hand_over(reader)
    assert read_back(reader.locator(".handover__text").inner_text()).rows[0].as_found


def test_a_vehicle_that_there_is_not_is_refused_whoever_has_seen_it(reader: Page, site: Path) -> None:
    opened(reader, site, batch="B-0011", vehicle="2")
    put(reader, count="3", by="fitter")
    add(reader)
    reader.evaluate(AS_FOUND)
    put(reader, vehicle="99", count="0")
    add(reader)
    assert (set(faults(reader)), rows(reader)) == ({"vehicle", "count"}, [])
    assert faults(reader)["count"] == "Write a number, 1 or more."  # how many sit there nobody knows without the vehicle


@pytest.mark.parametrize(("batch", "is_marked"), [("B-0011", False), ("B-0012", True), ("B-0013", True), ("B-0199", True)])
def test_what_must_not_be_there_is_marked_as_the_page_says(reader: Page, site: Path, batch: str, *, is_marked: bool) -> None:
    opened(reader, site, batch=batch, vehicle="2")
    put(reader, count="1", by="fitter")
    add(reader)
    assert ("marked: seen on the vehicle" in rows(reader)[0]) is is_marked
    hand_over(reader)
    assert read_back(reader.locator(".handover__text").inner_text()).rows[0].as_found is is_marked
