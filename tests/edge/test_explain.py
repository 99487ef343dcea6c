"""`spares explain`: the verdict of the page, on any day, with every question."""

from pathlib import Path

import pytest

from generator.edge.refusals import Ending
from generator.rules.facts.fields import OF_THE_TABLET
from generator.rules.verdicts import TABLE
from tests.fixtures.produced import REJECTED, RELEASED, batch, knob_printed, recall


@pytest.mark.parametrize(
    ("arguments", "line"),
    [
        (["EX-0001"], "Fit it. Approved by L-1. Last day: 30 Jun 2027."),
        (["ex-0001", "--on", "2027-06-30"], "Fit it. Approved by L-1. Last day: 30 Jun 2027."),
        (["EX-0001", "--on", "2027-07-01"], "Do not fit. Ended: the last day was 30 Jun 2027"),
        (["EX-0001", "--on", "2026-01-14"], "Do not fit. No approval speaks of these vehicles"),
        (["EX-0002", "--fleet", "b2"], "Do not fit. No approval speaks of these vehicles"),
    ],
    ids=lambda each: " ".join(each) if isinstance(each, list) else "",
)
def test_verdict_and_reason_on_a_day(depot, spares, arguments, line):
    code, out, err = spares("explain", *arguments)
    assert (code, err) == (0, "")
    assert any(each.startswith(line) for each in out.splitlines())


def test_every_question_of_the_table_is_there(depot, spares):
    _, out, _ = spares("explain", "EX-0001")
    assert sum(line[:1] in ("✓", "✕", "?") for line in out.splitlines()) == len(
        [step for step in TABLE if step.fact not in OF_THE_TABLET]
    )
    assert "EX-0001 Lid knob, 25 Nov 2026" in out
    assert "A1 11–14 · Driver's cab" in out


def test_only_the_fleet_asked_for(depot, spares):
    _, out, _ = spares("explain", "EX-0002", "--fleet", "A1")
    assert "A1 11–14" in out
    assert "B2" not in out
    code, _, err = spares("explain", "EX-0001", "--fleet", "B2")
    assert (code, err) == (Ending.MISUSE, "spares: EX-0001 does not fit B2\n  mend: it fits A1\n")


def test_a_part_that_cannot_be_read_is_not_fitted_and_its_mistakes_are_named(depot, spares):
    file = Path("catalogue/parts/EX-0001-lid-knob/part.yml")
    file.write_text(file.read_text().replace("name: Lid knob", "name: [Lid]"))
    code, out, _ = spares("explain", "EX-0001")
    assert code == 0
    assert "\nDo not fit\n" in out
    assert "part.yml:3:7: error REC03" in out


def test_an_earlier_day_does_not_know_of_later_events(depot, spares):
    _, out, _ = spares("explain", "EX-0001", "--on", "2025-10-25")
    assert "still to come" not in out
    assert "Stage: documents, since 1 Oct 2025" in out


def test_an_event_of_tomorrow_is_a_mistake_on_any_day(depot, spares):
    file = Path("catalogue/parts/EX-0001-lid-knob/approval.yml")
    file.write_text(file.read_text().replace("on: 2026-01-15", "on: 2026-11-26"))
    for day in ("2026-11-25", "2026-02-01"):
        _, out, _ = spares("explain", "EX-0001", "--on", day)
        assert "is dated 2026-11-26, which is still to come" in out
        assert "Fit it. " not in out


def test_each_question_shows_the_file_that_proves_it(depot, spares):
    _, out, _ = spares("explain", "EX-0001")
    row: dict[str, str] = {}
    for line in out.splitlines():  # what belongs to a question stands indented below it
        if line[:1] in ("✓", "✕", "?"):
            question = line.split("  ")[1].strip()
        elif line.startswith("     "):
            row[question] = f"{row.get(question, '')} {line.strip()}"
    letter = "catalogue/parts/EX-0001-lid-knob/documents/approval-letter.txt"
    assert row["Is there an approval or a trial for these vehicles?"].endswith(letter)
    assert row["Is there an inspection document of the material, as the part's route asks?"].endswith("catalogue/materials/documents/petg-certificate.txt")
    Path(letter).unlink()
    assert f"{letter} (missing)" in spares("explain", "EX-0001")[1]


def test_what_does_not_pass_says_what_is_needed_and_no_line_is_wider_than_its_words(depot, spares):
    _, out, _ = spares("explain", "EX-0002")
    lines = out.splitlines()
    at = next(i for i, line in enumerate(lines) if line.startswith("?  Is there an approval or a trial for these vehicles?"))
    assert lines[at + 1] == "     needed: an approval or a trial"
    assert not any("   " in line.strip() for line in lines)


def test_of_a_piece_of_a_batch(depot, spares):
    root = knob_printed(depot / "catalogue")
    batch(root, "B-0002", "EX-0001", events=REJECTED)
    batch(root, "B-0003", "EX-0002")
    for name, line in {
        "B-0001": "Fit it. Approved by L-1.",
        "b-0002": "Do not fit. Batch B-0002: rejected on 11 Jul 2025",
        "B-0009": "Ask first. This copy does not know the batch of the piece.",
    }.items():
        code, out, _ = spares("explain", "EX-0001", "--batch", name)
        assert code == 0
        assert any(each.startswith(line) for each in out.splitlines()), out
    lines = spares("explain", "EX-0001", "--batch", "B-0001")[1].splitlines()
    certificate, asked = (next(at for at, line in enumerate(lines) if begin in line) for begin in ("Is there an inspection document of the material", "Are the material lot and the machine"))
    assert lines[certificate + 1].split(", ")[0].strip().endswith("materials/lots/documents/L-1.txt"), "its own lot's comes first"
    assert "3.1 C L-1 (S-L-1)" in lines[asked]
    assert lines[asked + 1].strip().endswith("materials/lots/documents/L-1.txt")
    assert "L-1.txt" not in spares("explain", "EX-0001")[1], "of no piece in particular no lot is told"
    recall(root, "R-001", batch="B-0001")
    assert "Do not fit. Called back on 20 Nov 2026: It cracked (recall R-001)" in spares("explain", "EX-0001", "--batch", "B-0001")[1]
    for typed in ("b1", "EX-0001 A B-0001", "EX0001AB0001"):
        code, out, err = spares("explain", "ex0001", "--batch", typed)
        assert (code, "is taken as B-0001" in err, "Called back on 20 Nov 2026" in out) == (0, True, True)
    for typed, told in (("EX-0002 A B-0001", "The label says EX-0002"), ("B-0001 B-0002", "Two batches stand here: B-0001, B-0002"), ("EX-0001 C B-0001", "revision C")):
        code, _, err = spares("explain", "EX-0001", "--batch", typed)
        assert (code, told in " ".join(err.split())) == (Ending.MISUSE, True)
    code, out, err = spares("explain", "EX-0001", "--batch", "B-OO01")
    assert (code, "Perhaps you meant B-0001" in err, "Fit it" in out) == (0, True, False)
    code, _, err = spares("explain", "EX-0001", "--batch", "B-0003")
    assert (code, "batch B-0003 is of EX-0002, not of EX-0001" in err) == (Ending.MISUSE, True)


def test_a_day_that_is_gone_is_judged_by_what_was_known_and_what_came_since_is_told(depot, spares):
    root = knob_printed(depot / "catalogue")
    batch(root, "B-0002", "EX-0001", events=[*RELEASED, {"what": "rejected", "on": "2026-11-10", "by": "reviewer", "why": "tried"}])
    recall(root, "R-001", batch="B-0001")  # on 20 November 2026
    for day, name, verdict, since in (
        ("2026-11-01", "B-0001", "Fit it.", ["Since then: called back on 20 Nov 2026 (R-001): B-0001"]),
        ("2026-11-19", "B-0001", "Fit it.", ["Since then: called back on 20 Nov 2026 (R-001): B-0001"]),
        ("2026-11-20", "B-0001", "Do not fit. Called back", []),
        ("2026-11-09", "B-0002", "Fit it.", ["Since then: rejected on 10 Nov 2026: B-0002"]),
        ("2026-11-10", "B-0002", "Do not fit.", []),
        ("2026-11-01", None, "Fit it.", ["Since then: rejected on 10 Nov 2026: B-0002", "Since then: called back on 20 Nov 2026 (R-001): B-0001"]),
        ("2026-11-15", None, "Ask first.", ["Since then: called back on 20 Nov 2026 (R-001): B-0001"]),
        ("2025-07-09", "B-0001", "Do not fit.", ["Since then: called back on 20 Nov 2026 (R-001): B-0001"]),
    ):
        code, out, _ = spares("explain", "EX-0001", "--on", day, *(("--batch", name) if name else ()))
        assert code == 0
        lines = out.splitlines()
        assert any(line.startswith(verdict) for line in lines), (day, name, out)
        assert [line for line in lines if line.startswith("Since then")] == since, (day, name)
