"""`spares migrate`: records of the older form, written in the newest; a later one than we know is Do not fit."""

import shutil
from datetime import timedelta
from pathlib import Path

import pytest

from generator.edge.commands import migrate
from generator.edge.refusals import Ending
from generator.reading.catalogue import read_catalogue
from tests.edge.conftest import FIXTURE, bytes_of
from tests.fixtures.tiny import DAY, sheets_of

DEMO = Path(__file__).parents[2] / "catalogue"
KNOB = Path("catalogue/parts/EX-0001-lid-knob/approval.yml")
DEPOT = Path("catalogue/depot.yml")


def older(depot):
    """The depot and every record of it in the older form."""
    DEPOT.write_bytes(DEPOT.read_bytes().replace(b"format: 2\n", b""))
    for file in (depot / "catalogue/parts").glob("*/approval.yml"):
        file.write_bytes(file.read_bytes().replace(b"format: 2\n", b""))
    return bytes_of(depot / "catalogue")


def test_a_dry_run_says_what_would_be_written_and_writes_nothing(depot, spares):
    before = older(depot)
    code, out, _ = spares("migrate", "--dry-run")
    assert (code, out.splitlines()[-1]) == (0, "4 would be written, 0 left as they are")
    assert f"{KNOB}:1: nothing → format: 2" in out.splitlines()
    assert bytes_of(depot / "catalogue") == before


def test_every_record_gets_its_line_and_nothing_else(depot, spares):
    before = older(depot)
    assert spares("migrate")[0] == 0
    after = bytes_of(depot / "catalogue")
    changed = {name for name in after if after[name] != before.get(name)}
    assert changed == {"depot.yml", *(name for name in before if name.endswith("/approval.yml"))}
    assert all(after[name] == b"format: 2\n" + before[name] for name in changed)
    times = {each: each.stat().st_mtime_ns for each in Path("catalogue").rglob("*") if each.is_file()}
    assert spares("migrate")[:2] == (0, "nothing to do: all is of the newest format\n")
    assert {each: each.stat().st_mtime_ns for each in times} == times
    assert "Fit it. " in spares("explain", "EX-0001")[1]


def test_only_the_parts_that_are_named(depot, spares):
    older(depot)
    assert spares("migrate", "ex-0001")[1].splitlines() == [f"{KNOB}:1: nothing → format: 2", "1 written, 0 left as they are"]
    assert spares("migrate", "EX-0099")[0] == Ending.MISUSE


def test_what_cannot_be_read_is_told_and_the_others_are_written(depot, spares):
    older(depot)
    KNOB.write_text(KNOB.read_text().replace("route: customer", "route: nobody"))
    before = KNOB.read_bytes()
    code, out, err = spares("migrate")
    assert (code, out.splitlines()[-1]) == (1, "2 written, 1 left as they are")
    assert f"{KNOB} cannot be read" in err
    assert KNOB.read_bytes() == before
    assert b"format" not in DEPOT.read_bytes(), "half lifted, it still counts as the older one"


LEFT_OPEN = "route: TODO  # customer or authority"


def left_open(depot):
    """The knob's record as `spares import` leaves one: only a person knows the route."""
    KNOB.write_text(KNOB.read_text().replace("route: customer", LEFT_OPEN))
    return KNOB.read_bytes()


def test_a_record_that_holds_todo_and_is_of_the_newest_form_holds_nothing_up(depot, spares):
    older(depot)
    KNOB.write_text("format: 2\n" + KNOB.read_text())
    before = left_open(depot)
    code, out, err = spares("migrate")
    assert (code, err, out.splitlines()[-1]) == (0, "", "3 written, 0 left as they are")
    assert KNOB.read_bytes() == before
    assert DEPOT.read_bytes().startswith(b"format: 2\n")
    assert spares("migrate")[0] == 0


def test_a_record_of_the_older_form_that_holds_todo_gets_its_line_and_nothing_else(depot, spares):
    older(depot)
    before = left_open(depot)
    code, out, _ = spares("migrate")
    assert (code, out.splitlines()[-1]) == (0, "4 written, 0 left as they are")
    assert KNOB.read_bytes() == b"format: 2\n" + before
    assert b"format: 2" in DEPOT.read_bytes()


@pytest.mark.parametrize("spoil", ["\nstrange: 1\n", "\nroute: authority\n", "\n  - [\n", "\nformat: two\n"])
def test_todo_beside_a_mistake_is_still_named_and_left(depot, spares, spoil):
    older(depot)
    before = left_open(depot) + spoil.encode()
    KNOB.write_bytes(before)
    code, out, err = spares("migrate")
    assert (code, out.splitlines()[-1]) == (1, "2 written, 1 left as they are")
    assert f"{KNOB} cannot be read" in err
    assert KNOB.read_bytes() == before
    assert b"format" not in DEPOT.read_bytes()


def test_a_depot_that_holds_todo_is_lifted_with_its_records(depot, spares):
    older(depot)
    DEPOT.write_text(DEPOT.read_text().replace("railway: ", "railway: TODO  # ", 1))
    code, out, _ = spares("migrate")
    assert (code, out.splitlines()[-1]) == (0, "4 written, 0 left as they are")
    assert DEPOT.read_text().startswith("format: 2\nrailway: TODO")


def test_broken_off_it_goes_on_where_it_was(depot, spares, monkeypatch):
    before = older(depot)
    whole = {name: b"format: 2\n" + raw if name == "depot.yml" or name.endswith("/approval.yml") else raw for name, raw in before.items()}
    wrote, real = [], migrate.exchanged_whole

    def killed(file, was, now):
        if len(wrote) == 2:
            raise KeyboardInterrupt
        wrote.append(file)
        real(file, was, now)

    monkeypatch.setattr(migrate, "exchanged_whole", killed)
    assert spares("migrate")[0] == Ending.STOPPED
    assert b"format" not in DEPOT.read_bytes()
    code, _, err = spares("check")
    assert (code, "spares migrate" in err) == (0, True)
    monkeypatch.undo()
    assert spares("migrate", "--catalogue", depot / "catalogue")[0] == 0
    assert bytes_of(depot / "catalogue") == whole


def test_ends_of_lines_comments_and_order_of_depot_yml_stay(depot, spares):
    older(depot)
    odd = b"# Who\xc2\xa0we are\r\n\r\n" + DEPOT.read_bytes().replace(b"\n", b"\r\n") + b"# the end, without one"
    DEPOT.write_bytes(odd)
    assert spares("migrate")[0] == 0
    assert DEPOT.read_bytes() == odd.replace(b"railway:", b"format: 2\r\nrailway:", 1)


def test_a_depot_that_cannot_be_read_is_left_with_all_its_records(depot, spares):
    for broken in ("", "- a\n", "railway: [\n", "format: 1.0\nrailway: x\n"):
        older(depot)
        DEPOT.write_text(broken)
        before = bytes_of(depot / "catalogue")
        code, out, err = spares("migrate")
        assert (code, "mend depot.yml first" in err, "depot.yml" in out) == (1, True, True)
        assert bytes_of(depot / "catalogue") == before
        shutil.copyfile(FIXTURE / "depot.yml", DEPOT)


LATER = (
    ("check",), ("build",), ("build", "--markdown", "out"), ("find", "knob"), ("explain", "EX-0001"), ("next", "EX-0001"), ("fire", "EX-0001"),
    ("approvals",), ("fire-tests",), ("holds",), ("queries",), ("migrate",), ("migrate", "--dry-run"), ("request", "add", "asked.yml"),
    ("record", "EX-0001", "withdrawn", "--by", "keeper", "--reason", "tried"), ("sign", "EX-0001", "--key", "key"),
    ("new", "EX-0077", "Knob", "--mesh", "catalogue/parts/EX-0001-lid-knob/model.stl"),
)  # fmt: skip


@pytest.mark.parametrize("command", LATER, ids=" ".join)
def test_a_later_format_of_the_whole_is_refused_by_every_command_and_judged_by_none(depot, spares, command):
    DEPOT.write_text("# ours\n" + DEPOT.read_text().replace("format: 2", "format: 3"))
    Path("asked.yml").write_text("name: x\n")
    before = bytes_of(depot / "catalogue")
    code, out, err = spares(*command)
    assert (code, out) == (1, "")
    assert err.splitlines() == [
        "spares: catalogue/depot.yml:2:9: the catalogue is of format 3, made by a newer spares; this one reads up to 2, and judges nothing of it",
        "  mend: update spares",
    ]
    assert bytes_of(depot / "catalogue") == before
    assert not Path("out").exists()


@pytest.mark.parametrize("none", ['"2"', "2.0", "2.5", "two", "true", "null", "[2]", "02", "0x2", "-1", "0", "NaN", "1" + "0" * 30, ""])
def test_a_format_of_the_whole_that_is_none_is_told_with_its_place(depot, spares, none):
    DEPOT.write_text(DEPOT.read_text().replace("format: 2", f"format: {none}"))
    code, out, _ = spares("check")
    assert (code, "catalogue/depot.yml:1:" in out) == (1, True)
    assert spares("build")[0] == 1


@pytest.mark.parametrize(("line", "says"), [("fromat: 2", "did you mean"), ("format: 2\nformat: 2", "depot.yml:2:1"), ("Format: 2", "format")])
def test_a_slip_of_the_key_is_told_and_not_taken_for_a_format_left_out(depot, spares, line, says):
    DEPOT.write_text(DEPOT.read_text().replace("format: 2", line))
    code, out, _ = spares("check")
    assert (code, says in out) == (1, True)
    assert "is of format 1" not in out


def test_the_oldest_form_is_read_and_said_once(depot, spares):
    older(depot)
    code, _, err = spares("check")
    assert code == 0
    assert err.count("the catalogue is of format 1, an older one; it is read as it is; spares migrate writes format 2") == 1


def test_a_later_format_is_do_not_fit_until_spares_is_updated(depot, spares):
    KNOB.write_text("format: 3\n" + KNOB.read_text().replace("format: 2\n", ""))
    _, out, _ = spares("explain", "EX-0001")
    assert "Fit it" not in out
    assert "\nDo not fit. " in out
    assert "update spares" in out
    assert spares("check")[0] == 1
    assert spares("record", "EX-0001", "withdrawn", "--by", "keeper", "--reason", "tried")[0] == 1
    assert spares("migrate")[0] == 1


def test_a_format_that_is_none_is_a_mistake(depot, spares):
    older(depot)
    before = KNOB.read_text()
    for none in ("0", "two", "1.5", "true"):
        KNOB.write_text(f"format: {none}\n{before}")
        assert spares("check")[0] == 1, none


def test_a_new_record_is_of_the_newest_form(depot, spares):
    KNOB.unlink()
    assert spares("record", "EX-0001", "design started", "--by", "specialist")[0] == 0
    assert KNOB.read_text().startswith("format: 2\nroute: customer\n")


def judged(root):
    """The stage of every part and its verdict on every ground, on days around the ends of permits too."""
    days = [DAY + timedelta(days=apart) for apart in (-1, 0, 1, 730)]
    catalogue = read_catalogue(root)
    return [
        [(each.number, each.stage, [int(one.verdict) for one in each.judgements]) for each in sheets_of(catalogue, day)]
        for day in days
    ]


def asked_of(verdicts):
    return [[verdict for part in day for verdict in part[2]] for day in verdicts]


def test_the_demo_is_of_the_newest_format(spares):
    before = bytes_of(DEMO)
    assert spares("migrate", "--dry-run", "--catalogue", DEMO)[:2] == (0, "nothing to do: all is of the newest format\n")
    assert bytes_of(DEMO) == before


def test_no_verdict_of_the_demo_becomes_kinder(tmp_path, spares):
    root = shutil.copytree(DEMO, tmp_path / "demo")
    for file in (root / "depot.yml", *root.glob("parts/*/approval.yml")):
        file.write_bytes(b"".join(each for each in file.read_bytes().splitlines(keepends=True) if not each.startswith(b"format:")))
    before = judged(root)
    spares("migrate", "--catalogue", root)
    after = judged(root)
    for was, now in zip(asked_of(before), asked_of(after), strict=True):
        assert all(one <= other for one, other in zip(was, now, strict=True))
    assert [[part[:2] for part in day] for day in after] == [[part[:2] for part in day] for day in before]
