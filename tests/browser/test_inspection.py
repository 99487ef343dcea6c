"""The inspection sheet filled on the tablet, and taken in by `spares batch measure --sheet`."""

import os
import re
from pathlib import Path
from shutil import copytree

import pytest
import yaml
from playwright.sync_api import Page

from generator.reading.catalogue import read_catalogue
from generator.records.batches import Measured
from tests.browser.conftest import gone_to, pressed, texts
from tests.fixtures.in_process import answered
from tests.fixtures.prints import BATCH, PRINTS
from tests.fixtures.shared import made_once
from tests.fixtures.tiny import copied, overlaid
from tests.pages.conftest import build_site

pytestmark = pytest.mark.browser
WAITS = "B-0002"


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory, tiny_store: Path) -> Path:
    """The tiny depot with a released batch, and one like it of four pieces that waits."""

    def make(folder: Path) -> None:
        root = overlaid(copied(folder / "catalogue"), PRINTS)
        told = yaml.safe_load((root / f"batches/{BATCH}.yml").read_text("utf-8"))
        told |= {"count": 4, "started": "2026-11-10 08:00", "ended": "2026-11-10 12:00", "events": []}
        (root / f"batches/{WAITS}.yml").write_text(yaml.safe_dump(told, sort_keys=False, allow_unicode=True), encoding="utf-8")
        build_site(root, folder / "site", copytree(tiny_store, folder / "store"))

    return made_once(tmp_path_factory, "inspected", make)


@pytest.fixture
def sheet(reader: Page, made: Path) -> Page:
    return gone_to(reader, (made / f"site/batches/{WAITS}.html").as_uri())


def put(page: Page, **answers: str) -> None:
    """By id; `v0` is the first piece."""
    if by := answers.pop("by", None):
        page.evaluate("by => document.querySelector(`[data-field=by] input[value='${by}']`).click()", by)
    ids = {"gauge": "request-check-0-gauge", "until": "request-check-0-until", "passed": "request-check-0-passed", "failed": "request-check-0-failed"}
    for name, text in answers.items():
        at = f"inspected-0-{name[1:]}" if name[0] == "v" else ids.get(name, f"request-{name}")
        page.evaluate("([id, text]) => { const box = document.getElementById(id); box.value = text; for (const kind of ['input', 'change']) box.dispatchEvent(new Event(kind, { bubbles: true })); }", [at, text])


def filled(page: Page) -> None:
    put(page, v0="6,01", v1="6.02", v2="6", v3="6.03 mm", gauge='pin "P-2"', until="2027-03-31", by="specialist", day="2026-11-11", note="in: hall 2")


def stands(page: Page) -> list[str]:
    return list(page.evaluate("[...document.querySelector('.inspected').querySelectorAll('.inspected__stands')].map(each => each.innerText)"))


def hand_over(page: Page) -> None:
    pressed(page.get_by_role("button", name="Hand the sheet over"))


def faults(page: Page) -> list[str]:
    return [each for each in texts(page, ".field--wrong .field__fault, .side--out .inspected__stands") if each]


def test_a_sheet_is_filled_survives_and_is_taken_in(sheet: Page, made: Path, tmp_path: Path) -> None:
    assert "6 to 6.1 mm" in sheet.locator(".inspected__limits").first.inner_text()
    filled(sheet)
    assert stands(sheet) == ["✓ in"] * 4
    sheet.reload()
    assert stands(sheet) == ["✓ in"] * 4
    hand_over(sheet)
    text = sheet.locator(".handover__text").inner_text()
    root = copytree(made / "catalogue", tmp_path / "catalogue")
    file = tmp_path / f"inspection-{WAITS}.yml"
    file.write_text(text, encoding="utf-8")
    done = answered(["batch", "measure", WAITS, "--sheet", file, "--catalogue", root], cwd=tmp_path, env=dict(os.environ) | {"SOURCE_DATE_EPOCH": "1795608000"})
    assert done.returncode == 0, done.stdout + done.stderr
    (event,) = read_catalogue(root).production.batches[WAITS].events
    assert isinstance(event, Measured)
    assert (event.by, event.on.isoformat(), event.note) == ("specialist", "2026-11-11", "in: hall 2")
    (check,) = event.checks
    assert (check.check, check.values_mm, check.gauge, check.calibrated_until.isoformat()) == ("Bore", (6.01, 6.02, 6.0, 6.03), 'pin "P-2"', "2027-03-31")
    pressed(sheet.get_by_role("button", name="It is handed over"))
    assert stands(sheet) == [""] * 4
    pressed(sheet.get_by_role("button", name="Bring it back"))
    assert stands(sheet) == ["✓ in"] * 4


REFUSED = {
    "no number": ({"v1": "six"}, "▲ no number"),
    "less than nothing": ({"v1": "-6.02"}, "▲ no number"),
    "more pieces than stood there": ({"pieces": "5"}, "Write a number from 1 to 4: so many stood on the plate."),
    "no piece": ({"pieces": "0"}, "Write a number from 1 to 4: so many stood on the plate."),
    "no gauge": ({"gauge": " "}, "Which gauge? Write its name and number."),
    "calibrated until the day before": ({"until": "2026-11-10"}, "The calibration ended before 11 Nov 2026: this measurement would not count. Take another gauge."),
    "no calibration": ({"until": ""}, "Until when is it calibrated?"),
    "before it was printed": ({"day": "2026-11-09"}, "Choose a day from 10 Nov 2026 until today."),
    "a day to come": ({"day": "2026-11-26"}, "Choose a day from 10 Nov 2026 until today."),
    "nothing": ({"v0": "", "v1": "", "v2": "", "v3": ""}, "▲ nothing is measured yet"),
}


@pytest.mark.parametrize("case", REFUSED)
def test_what_cannot_be_is_refused_at_its_field(sheet: Page, case: str) -> None:
    answers, says = REFUSED[case]
    filled(sheet)
    put(sheet, **answers)
    hand_over(sheet)
    assert faults(sheet) == [says]
    assert sheet.locator(".handover").count() == 0


def test_what_is_out_is_told_and_written_down(sheet: Page) -> None:
    filled(sheet)
    put(sheet, v1="6.1000001", v2="5.999", v0="6.1", pieces="3", until="2026-11-11")
    assert stands(sheet) == ["✓ in", "▲ no number", "▲ out"]
    put(sheet, v1="6.1001")
    assert stands(sheet) == ["✓ in", "▲ out", "▲ out"]
    assert "Out: piece 2, 3. The batch is not released with it." in sheet.locator(".inspected__says").first.inner_text()
    hand_over(sheet)
    assert yaml.safe_load(sheet.locator(".handover__text").inner_text())["checks"][0]["values_mm"] == [6.1, 6.1001, 5.999]


def test_a_gauge_without_figures_passes_or_fails_every_piece(sheet: Page) -> None:
    filled(sheet)
    sheet.locator(".inspected input[value=gauge]").first.evaluate("(box) => box.click()")
    put(sheet, passed="3", failed="2")
    hand_over(sheet)
    assert faults(sheet) == ["Passed and failed are 4 together: so many pieces are measured."]
    put(sheet, failed="1")
    assert "Failed: the batch is not released with it." in sheet.locator(".inspected__says").first.inner_text()
    hand_over(sheet)
    (check,) = yaml.safe_load(sheet.locator(".handover__text").inner_text())["checks"]
    assert (check["passed"], check["failed"], "values_mm" in check) == (3, 1, False)


def test_a_released_batch_has_no_form_and_a_strange_store_harms_none(reader: Page, made: Path) -> None:
    gone_to(reader, (made / f"site/batches/{BATCH}.html").as_uri())
    assert reader.locator("[data-inspection]").count() == 0
    plain = re.sub("<[^>]+>", "", (made / f"site/batches/{WAITS}.html").read_text("utf-8"))  # as it stands where no script runs
    assert "spares batch sheet B-0002" in plain
    gone_to(reader, (made / f"site/batches/{WAITS}.html").as_uri())
    for strange in ("[]", "{", '{"B-0002": 5}', '{"B-0002": {"typed": {"pieces": 3}, "handed": 1}}'):
        reader.evaluate("(text) => localStorage.setItem('spares.inspections', text)", strange)
        reader.reload()
        assert stands(reader) == [""] * 4


def test_what_is_not_measured_may_be_left_out_and_is_told(sheet: Page) -> None:
    filled(sheet)
    put(sheet, v1="", v3=" ")
    hand_over(sheet)
    assert faults(sheet) == []
    assert texts(sheet, ".handover__note") == ["Bore: no figure for piece 2, 4. The sheet holds those of the others."]
    assert yaml.safe_load(sheet.locator(".handover__text").inner_text())["checks"][0]["values_mm"] == [6.01, 6.0]


def test_nobody_is_refused_and_who_measured_last_is_proposed(sheet: Page) -> None:
    put(sheet, v0="6,01", pieces="1", gauge="P-2", until="2027-03-31")
    hand_over(sheet)
    assert faults(sheet) == ["Choose your role."]
    put(sheet, by="specialist")
    hand_over(sheet)
    assert (sheet.locator(".handover").count(), sheet.locator(".handover__note").count()) == (1, 0)
    pressed(sheet.get_by_role("button", name="It is handed over"))
    sheet.reload()
    assert sheet.locator("[data-field=by] input:checked").get_attribute("value") == "specialist"
    assert "As last time" in sheet.locator("[data-field=by]").inner_text()


def test_a_gauge_whose_calibration_has_ended_is_told_at_once(sheet: Page) -> None:
    fault = sheet.locator("[data-field='check-0-until'] .field__fault")
    filled(sheet)
    assert not fault.inner_text()
    put(sheet, until="2026-11-10")
    assert "The calibration ended before 11 Nov 2026" in fault.inner_text()
    put(sheet, day="2026-11-10")
    assert not fault.inner_text()
    put(sheet, day="2026-11-11")
    assert "Take another gauge" in fault.inner_text()
    put(sheet, until="2026-11-11")
    assert not fault.inner_text()


def test_a_gauge_that_is_still_to_come_is_none(sheet: Page) -> None:
    filled(sheet)
    put(sheet, gauge="k. A.", v1="0")
    hand_over(sheet)
    assert faults(sheet) == ["▲ no number", "Which gauge? Write its name and number."]
    put(sheet, gauge="07", v1="6.02")
    hand_over(sheet)
    assert faults(sheet) == []
