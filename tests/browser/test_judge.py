"""Does the browser judge as the vectors say, step by step, and as Python does?"""

import json
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from generator.pages.addresses import addresses
from generator.pages.finder.index import finder_data
from generator.pages.part.verdict_data import part_script, rules_script
from generator.pages.verdict_lines import reason
from generator.pages.wording import wording
from generator.rules.verdicts import table_for_browser
from tests.browser.bundles import SCRIPTS
from tests.fixtures.produced import fitted, printed_depot
from tests.pages.sample import CATALOGUE, DAY, judged_sample
from tests.rules import vectors

VECTORS = vectors.read()
pytestmark = pytest.mark.browser

JUDGE_ALL = """([cases, table]) => cases.map(({ facts, day }) => {
  const told = spares.judge.judged(facts, day, table);
  return {
    verdict: told.verdict,
    decided_by: told.decidedBy && told.decidedBy.id,
    outcomes: Object.fromEntries(told.steps.map((step) => [step.id, step.outcome])),
  };
})"""


@pytest.fixture(scope="module")
def judge(chromium: Browser) -> Iterator[Page]:
    """One page for all: the judge is a function and remembers nothing."""
    page = chromium.new_page()
    page.add_script_tag(content=SCRIPTS.room("vehicles") + SCRIPTS.room("judge"))
    yield page
    page.close()


def test_every_vector_in_the_browser(judge: Page) -> None:
    cases = [
        {"facts": vectors.facts_of(each, VECTORS["good"]), "day": each["day"]} for each in VECTORS["vectors"]
    ]
    table = json.loads(json.dumps(table_for_browser()))
    told = judge.evaluate(JUDGE_ALL, [cases, table])
    for vector, judgement in zip(VECTORS["vectors"], told, strict=True):
        assert judgement == vectors.expected(vector, VECTORS["steps"]), vector["name"]


@pytest.mark.parametrize("case", VECTORS["permits"], ids=lambda each: each["name"])
def test_which_of_several_permits_counts(judge: Page, case: dict) -> None:
    permits = [VECTORS["good"] | change for change in case["permits"]]
    verdict, chosen = judge.evaluate(
        """([permits, day, table]) => {
          const told = spares.judge.judgedTogether(permits, day, table);
          return [told.verdict, permits.indexOf(told.facts)];
        }""",
        [permits, case["day"], table_for_browser()],
    )
    assert (verdict, chosen) == (case["verdict"], case["chosen"])


TABLE = table_for_browser()


@pytest.mark.parametrize(
    ("facts", "day", "table"),
    [
        pytest.param(VECTORS["good"], "2026-11-25", [], id="no table"),
        pytest.param(VECTORS["good"], "2026-11-25", None, id="table missing"),
        pytest.param(VECTORS["good"], "2026-11-25", [TABLE[0] | {"test": "likes"}], id="unknown look"),
        pytest.param(VECTORS["good"], "2026-11-25", [TABLE[0] | {"test": "constructor"}], id="inherited look"),
        pytest.param(VECTORS["good"], "2026-11-25", [TABLE[0] | {"otherwise": "fit"}], id="otherwise fit"),
        pytest.param(VECTORS["good"], "NaN-NaN-NaN", TABLE, id="a clock that shows no day"),
        pytest.param(None, "2026-11-25", TABLE, id="no facts"),
    ],
)
def test_what_cannot_be_read_is_an_error_and_never_a_verdict(judge: Page, facts, day, table) -> None:
    failed = judge.evaluate(
        """([facts, day, table]) => {
          try { return spares.judge.judged(facts, day, table).verdict; } catch (reason) { return "error"; }
        }""",
        [facts, day, table],
    )
    assert failed == "error"


@pytest.mark.parametrize("value", [5, True, {"yes": 1}, False, 0])
def test_a_fact_of_a_kind_that_no_record_has_is_unknown(judge: Page, value) -> None:
    for step in TABLE:
        facts = VECTORS["good"] | {step["fact"]: value}
        outcome = judge.evaluate(
            "([facts, table, id]) => spares.judge.judged(facts, '2026-11-25', table).steps.find((s) => s.id === id).outcome",
            [facts, TABLE, step["id"]],
        )
        assert outcome == "unknown", step["id"]


def test_inherited_names_are_no_facts(judge: Page) -> None:
    step = TABLE[0] | {"fact": "constructor"}
    told = judge.evaluate("([table]) => spares.judge.judged({}, '2026-11-25', table).steps[0].outcome", [[step]])
    assert told == "unknown"


OF_PIECES = """([rules, parts, data, batches, day]) => {
  for (const script of [rules, ...parts]) (0, eval)(script);
  const judge = spares.judge;
  return batches.map((batch) => {
    const piece = { batch, unknown: sparesRules.unknown_piece };
    const told = (grounds) => grounds.map(({ permits }) => {
      const judged = judge.judgedTogether(permits.map((facts) => ({ ...facts, copy: "whole", newer_copy: "none", forgotten: null })), day, sparesRules.table);
      return [judged.verdict, judge.reasonFor(judged, sparesRules.words)];
    });
    return [told(judge.spokenOn(sparesPart, piece)), told(judge.spokenOf(data, sparesPart.number, piece))];
  });
}"""


def test_a_piece_of_each_batch_is_judged_as_python_judges_it(judge: Page, tmp_path: Path) -> None:
    """By the data of its page, and by those of the finder, which a newer copy is read by."""
    root = printed_depot(CATALOGUE, tmp_path / "catalogue")
    fitted(root, {"day": "2026-11-10", "fleet": "F1", "vehicle": "1", "place": "roof", "batch": "B-0013", "count": 12, "by": "fitter"})
    catalogue, sheets, _ = judged_sample(root)
    w = wording("en")
    rules = rules_script(w, 45, DAY).decode()
    data = finder_data(catalogue, sheets, addresses(catalogue.parts), DAY)
    batches = [*catalogue.production.batches, "B-9999", "", None]  # None: nobody has said it
    words = set()
    for sheet in sheets:
        script = part_script(sheet, sheet.number, catalogue, w).decode()
        told = judge.evaluate(OF_PIECES, [rules, [script], data, batches, DAY.isoformat()])
        judged = [[ground.on(DAY) if batch is None else ground.of_piece(batch, DAY) for ground in sheet.grounds] for batch in batches]
        expected = [[[each.verdict.key, reason(each, w)] for each in some] for some in judged]
        assert told == [[each, each] for each in expected], sheet.number
        words |= {verdict for some in expected for verdict, _ in some}
    assert words == {"fit", "ask", "no"}
    anyone = next(sheet for sheet in sheets if sheet.number == "P-0004")
    assert {facts.piece for ground in anyone.grounds for facts in ground.permits} == {"choose", "unreleased"}
    about = [facts for ground in anyone.grounds for facts in ground.permits if facts.piece == "choose"]
    assert {(facts.piece_recalls, facts.piece_left, facts.piece_on_vehicles) for facts in about} == {(("R-001",), "12", "12")}, "a rejected one on the shelf, all of the one called back on vehicles"
