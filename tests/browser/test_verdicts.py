"""Does a page say today what still holds, by the tablet's own clock, and the careful form where it cannot?"""

import json
import re
from collections.abc import Callable
from datetime import UTC, date, datetime
from itertools import groupby
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Page

from generator.edge.site.build_identity import NOT_YET, marked
from generator.pages.part.verdict_data import rules_script, script
from generator.pages.verdict_lines import failed_first, reason, step_line
from generator.pages.wording import wording
from generator.rules.verdicts import judged
from tests.browser.bundles import write_bundles
from tests.browser.conftest import pressed, texts
from tests.rules import vectors
from tests.rules.typed import typed

WORDS = wording("en")
VECTORS = vectors.read()
GOOD = VECTORS["good"]
BUILT = date(2026, 11, 25)
CAREFUL = "On 25 Nov 2026 the answer was: Fit it."
ORDER = ("judge.js", "whole.js")
pytestmark = pytest.mark.browser

HTML = """<!doctype html><html lang="en"><meta charset="utf-8"><meta name="spares-build" content="{mark}"><title>t</title><body>
<div class="verdict verdict--ask" data-number="TV-1" data-ground="0">
<p class="verdict__who">TR4</p><p class="verdict__word">Ask first</p><p class="verdict__reason">{careful}</p>
<details class="verdict__steps"><summary>Why</summary><ol><li class="step step--passed">as built</li></ol></details>
</div><p class="copy-age">made then</p>
{scripts}
</body></html>"""

@pytest.fixture
def page(reader: Page) -> Page:
    """It draws no frame, and nothing here waits for one but what asks for `drawn`."""
    return reader



STEPS = """[...document.querySelectorAll(".step")].map((line) => [
  line.className,
  line.querySelector(".step__question").textContent,
  line.querySelector(".step__found").textContent,
])"""


@pytest.fixture
def site(tmp_path: Path):
    """A page of one part as the generator leaves it, opened from disk."""

    def built(
        *facts: dict,
        number: str = "TV-1",
        leave_out: tuple[str, ...] = (),
        judge: Callable[[str], str] = str,
        **data: bytes,
    ) -> str:
        write_bundles(tmp_path)
        kept = tmp_path / "assets/data"
        kept.mkdir(exist_ok=True)
        (kept / "rules.js").write_bytes(data.get("rules", rules_script(WORDS, 45, BUILT)))
        part = {"number": number, "grounds": [{"permits": list(facts)}]}
        (kept / "part.js").write_bytes(data.get("part", script("sparesPart", part)))
        names = ["data/rules.js", "data/part.js", *(f"js/{name}" for name in ORDER)]
        kept_in = [name for name in names if name.partition("/")[2] not in leave_out]
        tags = "\n".join(f'<script src="assets/{name}"></script>' for name in kept_in)
        page = HTML.format(careful=CAREFUL, scripts=tags, mark=NOT_YET)
        (tmp_path / "page.html").write_text(page, encoding="utf-8")
        marked(tmp_path)
        bundle = tmp_path / "assets/js/judge.js"
        bundle.write_text(judge(bundle.read_text(encoding="utf-8")), encoding="utf-8")
        return (tmp_path / "page.html").as_uri()

    return built


def without(bundle: str, script: str) -> str:
    """The bundle without one of its scripts."""
    begins = bundle.index(f"\n// {script}\n")
    return bundle[:begins] + bundle[bundle.index("\n})();\n", begins) + len("\n})();\n") :]


def at(page: Page, day: str, address: str) -> None:
    page.clock.set_fixed_time(datetime.fromisoformat(f"{day}T12:00:00").astimezone())
    page.goto(address)


def word(page: Page) -> str:
    return page.locator(".verdict__word").inner_text()


def test_fit_it_appears_only_after_judging(reader: Page, site) -> None:
    at(reader, "2026-11-25", site(GOOD))
    assert word(reader) == "Fit it"
    assert "verdict--fit" in (reader.locator(".verdict").get_attribute("class") or "")
    assert reader.locator(".verdict__reason").inner_text() == "Approved by L-12. Last day: 1 Mar 2027."


# Judged anew, as where another piece is in the hand; and all that then stands there.
JUDGED_OF = f"""(facts) => {{
  sparesPart.grounds[0].permits = [facts];
  const told = ["copy", "newer_copy", "forgotten"].filter((name) => name in facts).map((name) => [name, facts[name]]);
  spares.screen.copyFacts = () => Object.fromEntries(told);
  document.querySelector(".verdict").setAttribute("data-judged-on", "");
  document.dispatchEvent(new Event("spares:piece"));
  const box = document.querySelector(".verdict");
  return [box.dataset.judgedOn, box.querySelector(".verdict__word").innerText, box.querySelector(".verdict__reason").textContent, {STEPS}];
}}"""


def test_the_browser_prints_what_python_prints(reader: Page, site) -> None:
    at(reader, "2026-11-25", site(GOOD))
    by_days = sorted(VECTORS["vectors"], key=lambda vector: vector["day"])
    for day, vectors_ in groupby(by_days, key=lambda vector: max(vector["day"], "1970-01-02")):
        reader.clock.set_fixed_time(datetime.fromisoformat(f"{day}T12:00:00").astimezone())
        for vector in vectors_:
            facts = vectors.facts_of(vector, GOOD) | {"built_on": BUILT.isoformat()}
            judgement = judged(typed(facts), date.fromisoformat(day))
            due = [[f"step step--{line.outcome}", line.question, line.found]
                   for line in (step_line(taken, judgement.facts, WORDS) for taken in failed_first(judgement))]  # fmt: skip
            told = [day, WORDS(f"verdict.{judgement.verdict.key}"), reason(judgement, WORDS), due]
            assert reader.evaluate(JUDGED_OF, facts) == told, vector["name"]


def test_the_files_behind_a_question_can_be_opened_from_it(page: Page, site) -> None:
    files = {
        "p/letter.pdf": {"title": "The <b>letter", "href": "TV-1/letter.pdf", "is_saved": False},
        "p/table.ods": {"title": "Table", "href": "TV-1/table.ods.zip", "is_saved": True},
        "p/gone.pdf": {"title": "gone.pdf (missing)", "href": None, "is_saved": False},
    }
    facts = GOOD | {"permit_files": list(files)}
    part = {"number": "TV-1", "grounds": [{"permits": [facts]}], "files": files}
    at(page, "2026-11-25", site(part=script("sparesPart", part)))
    found = page.locator(".step", has_text="Is there an approval").locator(".step__file")
    assert found.all_text_contents() == ["The <b>letter", "Table", "gone.pdf (missing)"]
    links = found.locator("a")
    assert [each.get_attribute("href") for each in links.all()] == ["TV-1/letter.pdf", "TV-1/table.ods.zip"]
    assert [each.get_attribute("download") for each in links.all()] == [None, ""]


def test_an_approval_ends_at_midnight_while_the_page_is_open(own_tablet: BrowserContext, site) -> None:
    page = own_tablet.new_page()
    address = site(GOOD | {"permit_until": "2026-11-26"})
    page.clock.install(time=datetime.fromisoformat("2026-11-26T23:59:30").astimezone())
    page.goto(address)
    assert word(page) == "Fit it"
    page.clock.run_for(60_000)
    assert word(page) == "Do not fit"
    assert page.locator(".verdict__reason").inner_text() == "Ended: the last day was 26 Nov 2026"


def test_a_tablet_that_slept_judges_when_it_is_looked_at(page: Page, site) -> None:
    at(page, "2026-11-26", site(GOOD | {"permit_until": "2026-11-26"}))
    assert word(page) == "Fit it"
    page.clock.set_fixed_time(datetime.fromisoformat("2026-12-03T07:00:00").astimezone())
    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    assert word(page) == "Do not fit"


def test_the_day_is_the_tablets_own_and_not_that_of_greenwich(chromium, site) -> None:
    address = site(GOOD | {"permit_until": "2026-11-26"})
    for zone, expected in (("Pacific/Auckland", "Do not fit"), ("America/Anchorage", "Fit it")):
        context = chromium.new_context(timezone_id=zone)
        page = context.new_page()
        page.clock.set_fixed_time(datetime(2026, 11, 26, 20, 0, tzinfo=UTC))
        page.goto(address)
        assert word(page) == expected, zone
        context.close()


@pytest.mark.parametrize(
    ("day", "state", "line"),
    [
        ("2026-11-25", "good", "This copy was made today."),
        ("2026-11-26", "good", "This copy is 1 day old (made on 25 Nov 2026)."),
        ("2027-01-09", "good", "This copy is 45 days old (made on 25 Nov 2026)."),
        ("2027-01-10", "old", "This copy is too old: 46 days (made on 25 Nov 2026). Get a new one."),
        ("2026-11-24", "clock", "The clock of this tablet is wrong: it shows a day before 25 Nov 2026, when this copy was made."),
    ],
)  # fmt: skip
def test_the_age_of_the_copy_stands_on_the_page(reader: Page, site, day, state, line) -> None:
    at(reader, day, site(GOOD))
    assert reader.locator(".copy-age").inner_text() == line
    assert reader.locator(".copy-age").get_attribute("data-state") == state
    assert word(reader) == ("Fit it" if state == "good" else "Ask first")


def _altered(**changes: object) -> bytes:
    text = rules_script(WORDS, 45, BUILT).decode("ascii")
    rules = json.loads(text[text.index("=") + 1 : -2])
    return script("sparesRules", rules | changes)


def _words_without(*path: str) -> dict:
    words = WORDS.for_browser()
    steps = {key: dict(value) for key, value in words["steps"].items()}
    del steps[path[0]][path[1]]
    return words | {"steps": steps}


@pytest.mark.parametrize(
    "broken",
    [
        pytest.param({"leave_out": ("rules.js",)}, id="rules missing"),
        pytest.param({"leave_out": ("part.js",)}, id="facts missing"),
        pytest.param({"leave_out": ("judge.js",)}, id="judge missing"),
        pytest.param({"judge": lambda text: text[: len(text) // 2]}, id="judge cut in the middle"),
        pytest.param({"judge": lambda text: text[: text.index("\n// screen/verdicts.js")]}, id="judge cut before what shows"),
        pytest.param({"judge": lambda text: without(text, "judge/verdict.js")}, id="a judge that does not judge"),
        pytest.param({"judge": lambda text: without(text, "judge/wording.js")}, id="a judge without wording"),
        pytest.param({"judge": lambda text: without(text, "judge/reasons.js")}, id="a judge without reasons"),
        pytest.param({"part": b"globalThis.sparesPart={"}, id="facts cut off"),
        pytest.param({"part": b"globalThis.sparesPart={number:'TV-1',grounds:[]};"}, id="no ground"),
        pytest.param({"part": b"globalThis.sparesPart={number:'TV-1',grounds:[{permits:[]}]};"}, id="no permit"),
        pytest.param({"number": "TV-2"}, id="facts of another part"),
        pytest.param({"rules": _altered(table=[])}, id="empty table"),
        pytest.param({"rules": _altered(table=None)}, id="no table"),
        pytest.param({"rules": _altered(built_on="2026-11-01")}, id="another build"),
        pytest.param({"rules": _altered(words={})}, id="no words"),
        pytest.param({"rules": _altered(words=_words_without("lasts", "passed"))}, id="one word missing"),
    ],
)  # fmt: skip
def test_whatever_is_missing_the_careful_form_stays(reader: Page, site, broken) -> None:
    at(reader, "2026-11-25", site(GOOD, **broken))
    assert word(reader) == "Ask first"
    assert reader.locator(".verdict__reason").inner_text() == CAREFUL
    assert reader.locator(".verdict").get_attribute("class") == "verdict verdict--ask"
    assert texts(reader, ".step") == [""]  # folded, as built
    assert reader.locator(".step").text_content() == "as built"


@pytest.mark.parametrize(
    ("broken", "state"),
    [
        pytest.param({"judge": lambda text: text[: text.rindex("(globalThis.sparesStamps")]}, "broken", id="its end is cut off"),
        pytest.param({"judge": lambda text: re.sub(r'"[0-9a-f]{32}"', f'"{32 * "0"}"', text)}, "mixed", id="of another build"),
        pytest.param({"leave_out": ("whole.js",)}, "broken", id="the page is cut off"),
    ],
)  # fmt: skip
def test_a_judge_that_is_not_whole_or_of_another_build_asks(reader: Page, site, broken, state) -> None:
    at(reader, "2026-11-25", site(GOOD, **broken))
    assert word(reader) == "Ask first"
    assert reader.locator(".copy-age").get_attribute("data-state") == state


def test_what_fails_later_brings_the_careful_form_back(reader: Page, site) -> None:
    at(reader, "2026-11-25", site(GOOD))
    assert word(reader) == "Fit it"
    reader.evaluate("delete globalThis.sparesPart")
    reader.clock.set_fixed_time(datetime.fromisoformat("2026-11-26T12:00:00").astimezone())
    reader.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    assert word(reader) == "Ask first"
    assert reader.locator(".verdict__reason").inner_text() == CAREFUL


def test_without_scripts_nothing_says_fit_it(chromium, site) -> None:
    context: BrowserContext = chromium.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(site(GOOD))
    assert word(page) == "Ask first"
    context.close()


def test_text_of_a_record_stays_text(reader: Page, site) -> None:
    nasty = '<img src=x onerror="document.title=1"> $& {permit_until:date} [x] \u05d0\u05d1'
    at(reader, "2026-11-25", site(GOOD | {"conditions": [nasty, "two"], "before_fitting": [nasty, "two"]}))
    said = reader.locator(".verdict__reason").text_content()
    assert said == f"Approved with a condition, before fitting: {nasty}; two"
    assert reader.title() == "t"
    assert reader.locator(".verdict img").count() == 0


def test_open_steps_stay_open_when_the_day_changes(page: Page, site) -> None:
    at(page, "2026-11-25", site(GOOD))
    pressed(page.locator("summary"))
    page.clock.set_fixed_time(datetime.fromisoformat("2026-11-26T12:00:00").astimezone())
    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    assert page.locator("details").get_attribute("open") is not None
    assert re.search("passed", page.locator(".step").first.get_attribute("class") or "")


@pytest.mark.parametrize("how", ["loaded anew", "as it was left"])
def test_who_comes_back_from_a_file_finds_why_open_and_no_tick(own_tablet: BrowserContext, site, tmp_path: Path, how) -> None:
    (tmp_path / "letter.txt").write_text("a letter", encoding="utf-8")
    facts = GOOD | {"permit_files": ["p/letter.txt"], "conditions": ["A."], "before_fitting": ["A."]}
    files = {"p/letter.txt": {"title": "Letter", "href": "letter.txt", "is_saved": False}}
    part = {"number": "TV-1", "grounds": [{"permits": [facts]}], "files": files}
    address, page = site(part=script("sparesPart", part)), own_tablet.new_page()
    if how == "loaded anew":
        page.add_init_script("window.addEventListener('unload', () => {})")  # keeps it out of the back/forward cache
    at(page, "2026-11-25", address)
    page.locator(".ticks input").check(force=True)
    pressed(page.locator("summary"))
    page.wait_for_function("history.state !== null")
    pressed(page.get_by_role("link", name="Letter").first)
    page.wait_for_url("**/letter.txt")
    page.go_back()
    assert page.locator("details").get_attribute("open") is not None
    assert (word(page), page.locator(".ticks input").is_checked()) == ("Ask first", False)
    pressed(page.locator("summary"))
    page.wait_for_function("!Object.values(history.state).flat().includes(true)")
    page.reload()
    assert page.locator("details").get_attribute("open") is None
