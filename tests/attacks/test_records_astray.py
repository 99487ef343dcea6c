"""Tried from outside: a record of prints that lies under another name, or in another folder, never lets its pieces be fitted unasked."""

from datetime import date
from shutil import rmtree

import pytest

from generator.edge.cli import main
from generator.edge.disk.print_records import free_number
from generator.edge.disk.recall_files import next_number
from generator.reading.catalogue import read_catalogue
from generator.records.problems import Severity
from generator.rules.production.incomplete import gaps_of
from generator.rules.production.piece import mistaken
from generator.rules.production.unheld import unheld_lots, unheld_problems
from generator.rules.verdicts import Verdict
from tests.fixtures.produced import fitted, knob_printed, recall
from tests.fixtures.tiny import copied, sheets

DAY = date(2026, 11, 25)
ROW = {"day": "2026-02-01", "fleet": "DMU1", "vehicle": "101", "place": "cab", "batch": "B-0001", "count": 1, "by": "fitter"}
BATCH, LOT, RECALL, LINES, MACHINE = "batches/B-0001.yml", "materials/lots/L-1.yml", "recalls/RC-0001.yml", "fitted/2026.csv", "machines/M-1.yml"
# Where a file went, the code that tells it, and whether its own part and another one ask.
CASES = [
    (BATCH, "batches/B-0001.yaml", "FOLD06", True, False),
    (BATCH, "batches/B-0001.YML", "FOLD06", True, False),
    (BATCH, "batches/B-0001.yml.bak", "FOLD06", True, False),
    (BATCH, "batches/.B-0001.yml", "FOLD06", True, False),
    (BATCH, "batches/B-0001", "FOLD06", True, False),
    (BATCH, "batches/B-0001 (copy).txt", "FOLD06", True, False),
    (BATCH, "batches/first of July.txt", "FOLD06", True, False),  # by what it says
    (BATCH, "batches/old/B-0001.yml", "FOLD06", True, False),
    (BATCH, "batches/documents/../old/2025/B-0001.yml", "FOLD06", True, False),
    (BATCH, "batches/documents/B-0001.yml", "FOLD06", True, False),
    (BATCH, "materials/documents/B-0001.YAML", "FOLD06", True, False),
    (BATCH, "parts/EX-0002-brake-lever/B-0001.yml", "FOLD06", True, False),
    (BATCH, "parts/EX-0002-brake-lever/documents/B-0001.yml", "FOLD06", True, False),
    (RECALL, "batches/documents/RC-0001.yml", "RECALL02", True, True),
    (RECALL, "parts/EX-0002-brake-lever/RC-0001.yml", "RECALL02", True, True),
    (LOT, "materials/lots/documents/L-1.yml", "FOLD06", True, True),
    (BATCH, "B-0001.yml", "FOLD06", True, False),
    (BATCH, "batches_old/B-0001.yml", "FOLD06", True, False),
    (BATCH, "machines/B-0001.yml", "FOLD06", True, False),
    (BATCH, "fitted/B-0001.yml", "FOLD06", True, False),
    (BATCH, "parts/B-0001.yml", "FOLD06", True, False),
    (LOT, "materials/lots/L-1.yaml", "FOLD06", True, True),
    (LOT, "materials/L-1.yml", "FOLD06", True, True),
    (LOT, "L-1.yml", "FOLD06", True, True),
    (LOT, "lots/L-1.yml", "FOLD06", True, True),
    (RECALL, "RC-0001.yml", "RECALL02", True, True),
    (RECALL, "called back.yml", "RECALL02", True, True),
    (RECALL, "materials/RC-0001.yml", "RECALL02", True, True),
    (RECALL, "recalls/.RC-0001.yml", "RECALL02", True, True),
    (RECALL, "batches/old/RC-0001.yml", "RECALL02", True, True),
    (RECALL, "recalls/documents/RC-0001.yml", "RECALL02", True, True),
    (RECALL, "recalls/documents/letter.yaml", "RECALL02", True, True),
    (RECALL, "recalls/documents/.RC-0001.yml", "RECALL02", True, True),
    (RECALL, "recalls/documents/2026/call.txt", "RECALL02", True, True),  # by what it says
    (BATCH, "recalls/documents/first of July.txt", "FOLD06", True, False),
    (MACHINE, "machines/M-1.yaml", "FOLD06", False, False),  # which is asked about where a batch names it
    (LINES, "2026.csv", "FOLD06", False, False),
    (LINES, "fitted/2026.csv.bak", "FOLD06", False, False),
    (LINES, "fitted/2026.CSV", "FOLD06", False, False),
    (LINES, "fitted/old/2026.csv", "FOLD06", False, False),
    (LINES, "fitted/lines.txt", "FOLD06", False, False),
    (LINES, "batches/2026.csv", "FOLD06", False, False),
]


@pytest.fixture(scope="module")
def printed(tmp_path_factory):
    root = knob_printed(copied(tmp_path_factory.mktemp("astray") / "catalogue"))
    fitted(root, ROW)
    recall(root, "RC-0001", part="EX-0003", revision="A")
    return root


@pytest.fixture
def tidy(printed):
    """Without anything beside the recalls, before and after."""

    def tidied():
        for each in ("recalls/documents", "recalls/old", "recalls/letter.pdf", "Recalls", "recalls.old"):
            (printed / each).unlink() if (printed / each).is_symlink() or (printed / each).is_file() else rmtree(printed / each, ignore_errors=True)

    tidied()
    yield printed
    tidied()


def moved(root, of, to):
    target = root / to
    target.parent.mkdir(parents=True, exist_ok=True)
    (root / of).rename(target)
    return target


@pytest.mark.parametrize(("of", "to", "code", "own", "other"), CASES, ids=[to for _, to, *_ in CASES])
def test_what_may_be_a_record_is_an_error_and_asks(printed, of, to, code, own, other):
    target = moved(printed, of, to)
    try:
        catalogue = read_catalogue(printed)
        at = target.resolve().relative_to(printed.resolve()).as_posix()
        told = [each for each in catalogue.problems if each.where.file == at]
        assert code in {each.code for each in told if each.severity is Severity.ERROR}, catalogue.problems
        assert not {"FOLD01", "FOLD03", "FITTED01"} & {each.code for each in told}  # once
        assert (catalogue.production.is_unsaid("EX-0001"), catalogue.production.is_unsaid("EX-0002")) == (own, other)
        if of != MACHINE:  # machines tell of no pieces
            assert at in {each.file for each in gaps_of(catalogue.production)}
        if of in (BATCH, LOT, RECALL):
            assert catalogue.production.folder_of(at) == of.rpartition("/")[0]
        if of != LINES:  # it is there: it is not told as gone as well
            assert not [each for each in unheld_problems(catalogue.production) if each.where.file == of]
    finally:
        target.rename(printed / of)


def test_a_recall_among_the_papers_of_batches_stops_what_one_stops_that_cannot_be_read(printed, monkeypatch, capsys):
    target = moved(printed, RECALL, "batches/documents/RC-0001.yml")
    lines, lots = (printed / LINES).read_bytes(), moved(printed, LOT, "batches/old/L-1.yml")
    monkeypatch.setenv("SOURCE_DATE_EPOCH", str(1_772_400_000))
    try:
        catalogue = read_catalogue(printed)
        production = catalogue.production
        assert (production.unread_file("recalls", "RC-0001"), production.unread_file("materials/lots", "L-1")) == ("batches/documents/RC-0001.yml", "batches/old/L-1.yml")
        assert not any(production.may_be_unread("batches", name) for name in ("RC-0001", "L-1"))
        assert not mistaken("EX-0001", catalogue)  # it is no batch, of which a label could name a piece
        assert "batches/documents/RC-0001.yml" not in {each.file for each in gaps_of(production, recalls=False)}
        assert not list(unheld_problems(production))
        assert not unheld_lots(production)
        off = {"batch": "", "count": "", "removed_batch": "B-0001", "removed": 1, "why": "campaign"}
        fitted(printed, ROW | off | {"day": "2026-02-02"})
        assert "RECALL04" not in {each.code for each in read_catalogue(printed).problems}  # it may be the one
        assert main(["notice", "--catalogue", str(printed), "RC-0001", "--to", str(printed.parent / "n.pdf")]) != 0
        assert "cannot be read" in capsys.readouterr().err
    finally:
        (printed / LINES).write_bytes(lines)
        target.rename(printed / RECALL)
        lots.rename(printed / LOT)


def test_a_depot_whose_only_batch_lies_too_high_keeps_batches_all_the_same(printed):
    target, lines = moved(printed, BATCH, "B-0001.yml"), moved(printed, LINES, "L.txt")
    try:
        assert read_catalogue(printed).production.keeps_batches
    finally:
        target.rename(printed / BATCH)
        lines.rename(printed / LINES)


@pytest.mark.parametrize("name", ["batches/B-0009.yaml", "batches/old/B-0009.yml.gz", "RC-0009.yml", "materials/lots/L-0009.YML", "parts/B-0009.yml"])
def test_one_that_says_nothing_any_more_is_told_by_its_name_and_every_part_asks(printed, name):
    file = printed / name
    file.parent.mkdir(exist_ok=True)
    file.write_bytes(b"\x1f\x8b\x00" if name.endswith(".gz") else b"")
    try:
        found = read_catalogue(printed)
        assert {each.code for each in found.problems if each.where.file == name} <= {"FOLD06", "RECALL02"}
        assert found.production.is_unsaid("EX-0002")
    finally:
        file.unlink()


def test_the_depot_itself_is_at_rest_and_a_paper_is_no_record(printed):
    papers = {"batches/B-0001.pdf": b"%PDF-1.7\n", "batches/notes.txt": b"call the supplier", "B-0001.txt": b"plates are in drawer 2", "materials/lots/L-1.png": b"\x89PNG\r\n\x1a\n"}
    for name, raw in papers.items():
        (printed / name).write_bytes(raw)
    try:
        found = read_catalogue(printed)
        assert {each.where.file: each.code for each in found.problems if each.where.file in papers} == dict.fromkeys(papers, "FOLD01")
        assert not found.production.is_unsaid("EX-0001")
    finally:
        for name in papers:
            (printed / name).unlink()


def test_a_second_copy_of_a_batch_lets_no_piece_pass_unasked(printed):
    def said(name):
        knob = next(each for each in sheets(printed, only="EX-0001")[0])
        return max(ground.of_piece(name, DAY).verdict for ground in knob.grounds)

    assert said("B-0001") is Verdict.FIT_IT
    copy = printed / "batches/B-0001.yml.bak"
    copy.write_bytes((printed / BATCH).read_bytes())
    try:
        assert said("B-0001") is Verdict.ASK_FIRST
    finally:
        copy.unlink()


@pytest.mark.parametrize(
    "name",
    [
        "recalls/documents/",
        "recalls/documents/2026/",
        "recalls/old/",
        "recalls/old/2025/",
        "Recalls/",
        "recalls.old/",
        "recalls/documents/RC-0001.pdf",
        "recalls/documents/2026/RC-0001 letter.pdf",
        "recalls/documents/drum.png",
        "recalls/documents/call with the supplier.txt",
        "recalls/documents/RC-0001.txt",
        "recalls/documents/README.md",
        "recalls/documents/.DS_Store",
    ],
)
def test_a_folder_that_is_empty_or_holds_papers_calls_nothing_back(tidy, name):
    made = tidy / name
    (made if name.endswith("/") else made.parent).mkdir(parents=True)
    if not name.endswith("/"):
        made.write_bytes({".pdf": b"%PDF-1.7\n", ".png": b"\x89PNG\r\n\x1a\n"}.get(made.suffix, b"they call drum 7 back, we wait for the letter"))
    found = read_catalogue(tidy)
    assert {each.code for each in found.problems if each.where.file.casefold().startswith("recalls")} <= {"FOLD01"}
    assert not [each for each in found.problems if each.where.file.startswith("recalls/documents")]
    assert not found.production.is_unsaid("EX-0001")


@pytest.mark.parametrize("name", ["recalls/documents/to come.yml", "recalls/documents/RC-9.yaml.gz", "recalls/old/letter.pdf", "recalls/old/RC-1.yml", "recalls/letter.pdf", "Recalls/RC-1.yml"])
def test_what_may_be_a_recall_by_where_it_lies_or_by_its_name_asks(tidy, name):
    file = tidy / name
    file.parent.mkdir(exist_ok=True)
    file.write_bytes(b"%PDF-1.7\n" if name.endswith(".pdf") else b"\x1f\x8b\x00")
    assert read_catalogue(tidy).production.is_unsaid("EX-0002")


@pytest.mark.parametrize("name", ["recalls/documents", "recalls/old", "Recalls", "recalls/documents/2026", "recalls/old/2026"])
def test_a_folder_into_which_nobody_can_look_asks(tidy, name, tmp_path):
    link = tidy / name
    link.parent.mkdir(exist_ok=True)
    link.symlink_to(tmp_path)
    assert read_catalogue(tidy).production.is_unsaid("EX-0002")


@pytest.mark.parametrize("name", ["recalls/RC-0007.yaml", "recalls/documents/RC-0007.yml", "recalls/old/RC-0007.yml", "RC-0007.yml", "recalls/.RC-0007.yml", "recalls/rc-0007.yml.bak"])
def test_the_number_of_an_unread_recall_is_taken(printed, name):
    assert next_number(printed) == "RC-0002"
    file = printed / name
    file.parent.mkdir(exist_ok=True)
    file.write_text("x", encoding="utf-8")
    try:
        assert next_number(printed) == "RC-0008"
    finally:
        file.unlink()


@pytest.mark.parametrize("name", ["batches/B-0041.yaml", "batches/old/B-0041.yml", "B-0041.yml", "batches/B-0041.yml.bak"])
def test_the_number_of_an_unread_batch_is_taken(printed, name):
    file = printed / name
    file.parent.mkdir(exist_ok=True)
    file.write_text("x", encoding="utf-8")
    try:
        assert free_number("batch", "B", printed) == "B-0042"
    finally:
        file.unlink()
