"""One broken folder per mistake, and the message that each must give.

`tests/bad/<mistake>/` holds the files that differ from the tiny depot, and `expect.txt` with every problem in full:
its place, what is wrong, how to mend it. Nothing else may be said.
"""

from functools import cache
from pathlib import Path

import pytest

from generator.records.problems import Severity
from generator.rules.facts.of_part import MODEL_DOUBTS
from generator.rules.verdicts import Verdict
from tests.fixtures.tiny import ALL_PARTS, DEPOT, KNOB, LEVER, copied, overlaid, sheets, verdicts
from tests.fixtures.told import fix, line, says

BAD = Path(__file__).parent.parent / "bad"
MISTAKES = sorted(folder for folder in BAD.iterdir() if folder.is_dir())


def test_the_tiny_depot_itself_is_clean():
    found, problems = sheets(DEPOT)
    assert problems == ()
    assert {sheet.number: sheet.best for sheet in found} == dict.fromkeys(ALL_PARTS, Verdict.FIT_IT)


@pytest.fixture(scope="module")
def judged(tmp_path_factory):
    """The depot with a mistake, judged once for all that is asked of it."""
    folder = tmp_path_factory.mktemp("bad")
    return cache(lambda mistake: sheets(overlaid(copied(folder / mistake.name), mistake)))


@pytest.mark.parametrize("mistake", MISTAKES, ids=lambda folder: folder.name)
def test_each_mistake_is_told_with_place_and_mend(mistake, judged):
    _, problems = judged(mistake)
    expected = (mistake / "expect.txt").read_text(encoding="utf-8")
    assert "\n".join(map(line, problems)) + "\n" == expected
    for problem in problems:
        assert problem.where.file
        assert says(problem)
        assert fix(problem)


@pytest.mark.parametrize("mistake", MISTAKES, ids=lambda folder: folder.name)
def test_a_part_with_a_mistake_is_not_fitted_and_spoils_no_other(mistake, judged):
    found, problems = judged(mistake)
    assert set(ALL_PARTS) - {sheet.number for sheet in found} <= {"EX-0003"}  # it may have a new number
    said = {
        problem.where.file.split("/")[1] for problem in problems if problem.where.file.startswith("parts/")
    }
    shared = any(
        problem.severity is Severity.ERROR and not problem.where.file.startswith(("parts/", "queries/", "requests/"))
        for problem in problems
    )
    for sheet in found:
        name = sheet.folder.folder.removeprefix("parts/")
        if sheet.is_broken:
            assert name in said
            assert sheet.worst is sheet.best is Verdict.DO_NOT_FIT
        elif any(problem.code in MODEL_DOUBTS or problem.code.startswith("FIT") for problem in sheet.problems):
            assert sheet.best is not Verdict.FIT_IT
        elif not shared:
            assert sheet.best is Verdict.FIT_IT


def test_all_mistakes_are_told_at_once(depot):
    together = (
        "unknown-key-part",
        "authority-event-on-customer-route",
        "trial-without-vehicles",
        "unknown-key-words",
    )
    for mistake in together:
        overlaid(depot, BAD / mistake)
    said = {line(problem) for problem in sheets(depot)[1]}
    for mistake in together:
        lines = (BAD / mistake / "expect.txt").read_text(encoding="utf-8").split("\n    mend: ")
        assert all(any(each.splitlines()[-1] in problem for problem in said) for each in lines[:-1])


def test_requests_of_mistakes_leave_the_parts_alone(depot):
    assert set(verdicts(overlaid(depot, BAD / "request-with-everything-wrong")).values()) == {Verdict.FIT_IT}


@pytest.mark.parametrize(
    "name",
    [
        "<script>alert(1)</script>",
        "Knob \"left\" & 'right'",
        "Knob | pipe | `code` | {{ jinja }} | {% raw %}",
        "Knob 🔧👩‍🔧",
        "ידית מכסה",
        "مقبض الغطاء",
        "Låsegreb Ø8",
        "#hash: - colon",
        "0417",
        "null",
        "true",
    ],
)
def test_unusual_names_are_names(name, depot):
    part = depot / "parts/EX-0002-brake-lever/part.yml"
    quoted = name.replace("\\", "\\\\").replace('"', '\\"')
    text = part.read_text(encoding="utf-8").replace("name: Brake lever", f'name: "{quoted}"')
    part.write_text(text, encoding="utf-8")
    found, problems = sheets(depot)
    lever = next(sheet for sheet in found if sheet.number == LEVER)
    assert problems == ()
    assert lever.name == name
    assert lever.best is Verdict.FIT_IT


def test_the_knob_is_found_by_a_number_with_a_leading_zero():
    found, _ = sheets(DEPOT)
    knob = next(sheet for sheet in found if sheet.number == KNOB)
    assert knob.part is not None
    assert [old.number for old in knob.part.replaces] == ["0417"]
