"""What was fitted, from the page of a part to a file that the records read; kept on the tablet until it is handed over."""

import json
from pathlib import Path
from urllib.parse import quote

import pytest
import yaml
from playwright.sync_api import Page

from generator.records.fitted_file import FittedList
from tests.browser.conftest import gone_to, pressed
from tests.browser.test_piece import site

__all__ = ["site"]
pytestmark = pytest.mark.browser


def opened(page: Page, site: Path, part: str = "P-0004", batch: str = "", vehicle: str = "") -> None:
    asked = f"part={quote(part)}" + (f"&batch={batch}" if batch else "") + (f"&vehicle={vehicle}" if vehicle else "")
    gone_to(page, (site / "fitted.html").as_uri() + f"#{asked}")


def put(page: Page, **answers: str) -> None:
    for name, text in answers.items():
        field = page.locator(f'[data-field="{name}"]')
        if field.locator("input[type=radio]").count():
            field.locator(f'input[value="{text}"]').evaluate("(box) => box.click()")
        else:
            field.locator("input").evaluate("(box, text) => { box.value = text; box.dispatchEvent(new Event('input', { bubbles: true })); }", text)


def faults(page: Page) -> dict[str, str]:
    wrong = page.locator(".field--wrong").all()
    return {str(each.get_attribute("data-field")): each.locator(".field__fault").inner_text() for each in wrong}


def add(page: Page) -> None:
    pressed(page.get_by_role("button", name="Add it to the list"))
    page.evaluate("spares.screen.partsData().then(() => new Promise((done) => setTimeout(done, 30)))")


def read_back(text: str) -> FittedList:
    return FittedList.model_validate_json(json.dumps(yaml.safe_load(text), default=str))


def rows(page: Page) -> list[str]:
    return page.locator(".fitted__row bdi").all_inner_texts()


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
    pressed(reader.get_by_role("button", name="Hand it over"))
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
    pressed(reader.get_by_role("button", name="Hand it over"))
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
    page.locator(f"#request-{name}").evaluate("(box) => box.dispatchEvent(new Event('change', { bubbles: true }))")


def meant(page: Page, name: str) -> list[str]:
    return page.locator(f'[data-field="{name}"] .meant button').all_inner_texts()


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
    put(reader, position="left, third window")
    assert told.inner_text() == ""  # no line before names any
    names = ["window 2", *(f"window {at} {side}" for at in range(3, 9) for side in ("left", "right"))]
    reader.evaluate("(names) => { sparesFitted.parts['P-0004'].positions['F1 cab'] = { names, one_each: true }; }", names)
    put(reader, vehicle="1")
    put(reader, vehicle="2")
    assert "names a position here so" in told.inner_text()
    pressed(reader.get_by_role("button", name="window 3", exact=True))
    assert reader.locator(".positions__row--second button").all_inner_texts() == ["window 3 left", "window 3 right"]
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
    sizes = [each.bounding_box() or {} for each in reader.locator(".positions__one, .choice:visible").all()]
    assert min(each["height"] for each in sizes) >= 48


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
