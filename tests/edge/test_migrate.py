"""`spares migrate`: records of the older form, written in the newest; a later one than we know is Do not fit."""

from pathlib import Path

from generator.edge.refusals import Ending
from tests.edge.conftest import bytes_of

KNOB = Path("catalogue/parts/EX-0001-lid-knob/approval.yml")


def older(depot):
    """Every record of the depot in the older form."""
    for file in (depot / "catalogue/parts").glob("*/approval.yml"):
        file.write_bytes(file.read_bytes().replace(b"format: 2\n", b""))
    return bytes_of(depot / "catalogue")


def test_a_dry_run_says_what_would_be_written_and_writes_nothing(depot, spares):
    before = older(depot)
    code, out, _ = spares("migrate", "--dry-run")
    assert (code, out.splitlines()[-1]) == (0, "3 would be written, 0 left as they are")
    assert f"{KNOB}: format 2" in out.splitlines()
    assert bytes_of(depot / "catalogue") == before


def test_every_record_gets_its_line_and_nothing_else(depot, spares):
    before = older(depot)
    assert spares("migrate")[0] == 0
    after = bytes_of(depot / "catalogue")
    changed = {name for name in after if after[name] != before.get(name)}
    assert changed == {name for name in before if name.endswith("/approval.yml")}
    assert all(after[name] == b"format: 2\n" + before[name] for name in changed)
    assert spares("migrate")[1] == "0 written, 0 left as they are\n"
    assert "Fit it. " in spares("explain", "EX-0001")[1]


def test_only_the_parts_that_are_named(depot, spares):
    older(depot)
    assert spares("migrate", "ex-0001")[1].splitlines() == [f"{KNOB}: format 2", "1 written, 0 left as they are"]
    assert spares("migrate", "EX-0099")[0] == Ending.MISUSE


def test_what_cannot_be_read_is_told_and_the_others_are_written(depot, spares):
    older(depot)
    KNOB.write_text(KNOB.read_text().replace("route: customer", "route: nobody"))
    before = KNOB.read_bytes()
    code, out, err = spares("migrate")
    assert (code, out.splitlines()[-1]) == (1, "2 written, 1 left as they are")
    assert f"{KNOB} cannot be read" in err
    assert KNOB.read_bytes() == before


def test_a_later_format_is_do_not_fit_until_spares_is_updated(depot, spares):
    KNOB.write_text("format: 3\n" + KNOB.read_text().replace("format: 2\n", ""))
    _, out, _ = spares("explain", "EX-0001")
    assert "Fit it" not in out
    assert "\nDo not fit. " in out
    assert "update spares" in out
    assert spares("check")[0] == 1
    assert spares("record", "EX-0001", "withdrawn", "--by", "keeper", "--reason", "x")[0] == 1
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
