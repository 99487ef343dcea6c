"""Does a tablet keep "Do not fit" where a later copy has forgotten a withdrawal that it has seen?"""

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from generator.edge.site.build_identity import NOT_YET, marked
from generator.pages.part.verdict_data import rules_script, script
from generator.pages.wording import wording
from tests.browser.bundles import SCRIPTS, write_bundles
from tests.browser.conftest import LANDSCAPE
from tests.browser.test_verdicts import BUILT, GOOD, HTML
from tests.fixtures.tablets import forgetting, unseen

WORDS = wording("en")
WITHDRAWN = GOOD | {"withdrawn_on": "2026-10-01", "permit": None}
pytestmark = pytest.mark.browser

@pytest.fixture
def page(reader: Page) -> Page:
    """It draws no frame, and nothing here waits for one but what asks for `drawn`."""
    return reader



@pytest.fixture(scope="module")
def one_page(chromium: Browser) -> Iterator[Page]:
    """It is only read."""
    context = chromium.new_context()
    yield unseen(context)
    context.close()


@pytest.fixture
def shown(tmp_path: Path, one_page: Page):
    """What the page of a part says on this tablet, copy after copy: its word and its reason."""

    def opened(*facts: dict, vehicles: str = "401–412", number: str = "TV-1", fleet: str = "TR4", label: str | None = None) -> list[str]:
        write_bundles(tmp_path)
        (tmp_path / "assets/data").mkdir(exist_ok=True)
        ground = {"fleet": fleet, "place": "Cab", "vehicles": vehicles, "label_revision": label, "permits": list(facts)}
        (tmp_path / "assets/data/rules.js").write_bytes(rules_script(WORDS, 45, BUILT))
        (tmp_path / "assets/data/part.js").write_bytes(script("sparesPart", {"number": number, "grounds": [ground], "files": {}}))
        names = ("data/rules.js", "data/part.js", "js/judge.js", "js/whole.js")
        tags = "\n".join(f'<script src="assets/{name}"></script>' for name in names)
        html = HTML.replace("TV-1", number).format(careful="careful", scripts=tags, mark=NOT_YET)
        (tmp_path / "page.html").write_text(html, encoding="utf-8")
        marked(tmp_path)
        page = one_page
        page.clock.set_fixed_time(datetime(2026, 11, 25, 12, tzinfo=UTC))
        page.goto((tmp_path / "page.html").as_uri())
        return [page.locator(f".verdict__{each}").inner_text() for each in ("word", "reason")]

    yield opened
    forgetting(one_page.context, LANDSCAPE)


def test_what_was_never_withdrawn_is_fitted(shown) -> None:
    assert [shown(GOOD)[0], shown(GOOD)[0]] == ["Fit it", "Fit it"]


def test_a_copy_that_has_forgotten_it_is_not_believed_and_the_page_says_so(shown) -> None:
    assert shown(WITHDRAWN)[0] == "Do not fit"
    for _ in range(2):
        assert shown(GOOD) == [
            "Do not fit", "This tablet has seen it withdrawn or superseded on 1 Oct 2026, and this copy has forgotten that"
        ]  # fmt: skip


def test_a_supersession_is_kept_too(shown) -> None:
    shown(GOOD | {"superseded_on": "2026-10-01", "permit": None})
    assert shown(GOOD)[0] == "Do not fit"


def test_an_approval_of_a_later_day_counts_and_one_of_the_same_day_or_a_trial_does_not(shown) -> None:
    shown(WITHDRAWN)
    assert shown(GOOD | {"permit_on": "2026-10-01"})[0] == "Do not fit"
    assert shown(GOOD | {"permit": "trial", "permit_on": "2026-10-02"})[0] == "Do not fit"
    assert shown(GOOD | {"permit_on": "2026-10-02"})[0] == "Fit it"


@pytest.mark.parametrize(
    ("other", "word"),
    [
        ({"vehicles": "413"}, "Fit it"),
        ({"vehicles": "405, 500–510"}, "Do not fit"),
        ({"fleet": "TR5"}, "Fit it"),
        ({"number": "TV-2"}, "Fit it"),
        ({"vehicles": "x–"}, "Fit it"),
    ],
    ids=["other vehicle", "one of them", "other fleet", "other part", "no vehicle"],
)
def test_it_speaks_of_the_vehicles_that_it_was_said_of(shown, other, word) -> None:
    shown(WITHDRAWN)
    assert shown(GOOD, **other)[0] == word


@pytest.mark.parametrize("kept", ["", "[]", "{}", "null", "{", '{"TV-1": 3}', '{"TV-1": [null, 3, {"fleet": 1}]}', '{"__proto__": []}'])
def test_a_memory_that_cannot_be_read_is_none(one_page: Page, shown, kept) -> None:
    shown(GOOD)
    one_page.evaluate("(text) => localStorage.setItem('spares.ended', text)", kept)
    assert shown(GOOD)[0] == "Fit it"
    shown(WITHDRAWN)
    assert shown(GOOD)[0] == "Do not fit"


@pytest.fixture(scope="module")
def judge(chromium: Browser):
    page = chromium.new_page()
    page.add_script_tag(content=SCRIPTS.room("vehicles") + SCRIPTS.room("judge"))
    yield page
    page.close()


def ground(*permits, vehicles=("401-412",), label=None):
    return {"fleet": "TR4", "place": "Cab", "label": label, "vehicles": list(vehicles), "permits": list(permits)}


KNOWN = [{"fleet": "TR4", "vehicles": ["401-412"], "day": "2026-10-01"}]
OLD = {"permit": "approval", "permit_on": "2026-03-02", "taken_over": "no", "withdrawn_on": None}
NEW = OLD | {"permit_on": "2026-10-02"}
TOLD = OLD | {"withdrawn_on": "2026-10-01"}


@pytest.mark.parametrize(
    ("known", "grounds", "day"),
    [
        (KNOWN, [ground(OLD)], "2026-10-01"),
        ([], [ground(OLD)], None),
        (KNOWN, [ground(NEW)], None),
        (KNOWN, [ground(NEW, OLD)], None),
        (KNOWN, [ground(NEW | {"taken_over": "confirmed"})], "2026-10-01"),
        (KNOWN, [ground({"permit": "approval", "permit_on": "2026-10-02"})], "2026-10-01"),
        (KNOWN, [ground(TOLD)], None),
        (KNOWN, [ground(OLD), ground(TOLD, label="A")], None),
        (KNOWN, [ground(OLD), ground(OLD | {"superseded_on": "2026-10-02"}, label="A")], "2026-10-01"),
        ([*KNOWN, {**KNOWN[0], "day": "2026-11-01"}], [ground(NEW)], "2026-11-01"),
        (KNOWN, [ground(OLD, vehicles=[])], None),
    ],
)
def test_what_a_copy_tells_itself_is_not_forgotten(judge: Page, known, grounds, day) -> None:
    asked = "([known, grounds]) => spares.judge.forgottenOn(known, grounds, grounds[0])"
    assert judge.evaluate(asked, [known, grounds]) == day
