"""`spares fitted add`: what a tablet tells of the vehicles is written once, whole or not at all, and nothing that stands is touched."""

import threading

import pytest

from generator.edge.disk.writing_lock import held
from generator.records.fitted import COLUMNS
from tests.edge.conftest import bytes_of
from tests.fixtures.with_batches import with_batches

HEAD = "fitted: 1\nrailway: Example Railway\ndepot: Testing depot\nmade_on: 2026-11-24\nrows:\n"
ON = '  - {day: 2026-03-01, fleet: A1, vehicle: "11", place: cab, part: EX-0001, batch: B-0001, count: 2, by: fitter, row: aa-1}\n'
OFF = '  - {day: 2026-03-02, fleet: A1, vehicle: "11", place: cab, removed_batch: B-0001, removed: 1, why: worn, by: fitter, row: aa-2}\n'
CSV = ",".join(COLUMNS) + "\n"


@pytest.fixture
def stocked(depot):
    with_batches(depot / "catalogue")
    return depot


@pytest.fixture
def sent(stocked):
    def write(text, name="fitted-2026-11-24.yml"):
        (stocked / name).write_bytes(text if isinstance(text, bytes) else text.encode())
        return name

    return write


def year(depot, name="2026"):
    file = depot / "catalogue" / "fitted" / f"{name}.csv"
    return file.read_text(encoding="utf-8") if file.exists() else None


def test_what_a_tablet_tells_is_written_once(stocked, sent, spares):
    file = sent(HEAD + ON + OFF)
    code, out, err = spares("fitted", "add", file)
    assert (code, err) == (0, "")
    assert "2 lines added" in out
    assert year(stocked) == CSV + "2026-03-01,A1,11,cab,,B-0001,2,,,,fitter,aa-1\n2026-03-02,A1,11,cab,,,,B-0001,1,worn,fitter,aa-2\n"
    before = bytes_of(stocked / "catalogue")
    code, out, _ = spares("fitted", "add", file)  # the same file twice has no effect, and says so
    assert code == 0
    assert "2 lines stand there already" in out
    assert bytes_of(stocked / "catalogue") == before
    code, out, _ = spares("fitted")
    assert out.splitlines()[1].split("  ")[0] == "A1 11"
    assert len(out.splitlines()) == 2


@pytest.mark.parametrize("rest", ["", "\n\n", ",,,,,,,,,,,\n"])
def test_a_table_without_a_line_is_told_as_such_beside_what_is_new_or_stands(rest, stocked, sent, spares):
    empty = sent(CSV + rest, "head.csv")
    code, out, err = spares("fitted", "add", empty)
    assert (code, err, "holds no line" in out, "Nothing new" in out) == (0, "", True, False)
    code, out, _ = spares("fitted", "add", empty, sent(HEAD + ON))
    assert (code, "head.csv holds no line" in out, "1 line added" in out) == (0, True, True)
    code, out, _ = spares("fitted", "add", empty, sent(HEAD + ON))
    assert ("Nothing new in fitted-2026-11-24.yml." in out, "head.csv holds no line" in out) == (True, True)


def test_a_later_file_with_the_same_rows_adds_the_others_alone(stocked, sent, spares):
    spares("fitted", "add", sent(HEAD + ON))
    code, out, _ = spares("fitted", "add", sent(HEAD + ON + OFF, "again.yml"), sent(HEAD + OFF, "third.yml"))
    assert code == 0
    assert "1 line added" in out
    assert year(stocked).count("aa-1") == year(stocked).count("aa-2") == 1


REFUSED = {
    "another depot": (HEAD.replace("Testing", "Other") + ON, ":3:", "is of another depot"),
    "a later form": (HEAD.replace("fitted: 1", "fitted: 2\nnew_key: 1") + ON, ":1:", "is of form 2"),
    "no rows": (HEAD.replace("rows:\n", "rows: []\n"), ":5:", ""),
    "a vehicle as a number": (HEAD + ON.replace('"11"', "11"), ":6:", ""),
    "not of the fleet": (HEAD + ON.replace('"11"', '"21"'), ":6", "A1 has no vehicle 21"),
    "another part's batch": (HEAD + ON.replace("EX-0001", "EX-0003"), ":6", "is told of EX-0003"),
    "a batch without a count": (HEAD + ON.replace("count: 2, ", ""), ":6", "a batch without a count"),
    "more than sit there": (HEAD + ON.replace("count: 2", "count: 3"), ":6", "2 is the most"),
    "none left": (HEAD + "".join(ON.replace("aa-1", f"aa-{at}").replace('"11"', f'"{at}"') for at in range(11, 15)), ":9", "0 were left"),
    "the day before its release": (HEAD + ON.replace("2026-03-01", "2026-01-13"), ":6", "before it was released"),
    "rejected by then": (HEAD + ON.replace("2026-03-01", "2026-05-02").replace("B-0001", "B-0002"), ":6", "after it was rejected"),
    "off what never sat there": (HEAD + OFF, ":6", "none of batch B-0001 sat"),
    "a day to come": (HEAD + ON.replace("2026-03-01", "2026-11-26"), ":6", "has not come yet"),
    "a role that there is not": (HEAD + ON.replace("by: fitter", "by: bob"), ":6", "there is no role bob"),
    "the same row with other words": (HEAD + ON + ON.replace("count: 2", "count: 1"), ":7", "says otherwise"),
    "the same line twice": (HEAD + ON + ON, ":7", "counts once"),
    "a row without its mark": (HEAD + ON.replace(", row: aa-1", ""), ":6:", "row"),
    "no list at all": ("- a\n", ":1", ""),
}


@pytest.mark.parametrize("case", REFUSED)
def test_what_cannot_be_is_refused_whole_with_its_line(case, stocked, sent, spares):
    text, where, says = REFUSED[case]
    good = sent(HEAD + ON.replace("aa-1", "zz-1").replace('"11"', '"14"').replace("count: 2", "count: 1"), "good.yml")
    before = bytes_of(stocked / "catalogue")
    code, out, err = spares("fitted", "add", good, sent(text))
    assert code == 1
    assert f"fitted-2026-11-24.yml{where}" in out
    assert says in out
    assert "nothing is added" in err
    assert bytes_of(stocked / "catalogue") == before


@pytest.mark.parametrize(
    ("column", "written", "mend"),
    [
        ("vehicle", "11.0", "write 11, if that is meant"), ("vehicle", "011", "write 11, if that is meant"), ("vehicle", "99", "write one of 11-14"), ("place", "Driver's cab", "write cab, if that is meant"),
        ("place", "CAB", "write cab, if that is meant"), ("fleet", "a1", "write A1, if that is meant"), ("by", "Fitter", "write fitter, if that is meant"),
    ],
)  # fmt: skip
def test_what_a_line_names_otherwise_is_one_mistake_with_its_mend(column, written, mend, stocked, sent, spares):
    """What came off there is then no second one, and no option writes the line."""
    spares("fitted", "add", sent(HEAD + ON))
    cells = dict(zip(COLUMNS, ["2026-03-02", "A1", "11", "cab", "", "B-0001", "1", "B-0001", "1", "worn", "fitter", ""], strict=True)) | {column: written}
    code, out, err = spares("fitted", "add", sent(CSV + ",".join(cells.values()) + "\n", "other.csv"))
    assert (code, out.count("error"), "error FITTED04" in out, mend in out, "--as-found" in err) == (1, 1, True, True, False), out + err


def test_good_rows_are_written_and_the_others_told_so_that_nothing_is_lost(stocked, sent, spares):
    bad = ON.replace("aa-1", "aa-9").replace('"11"', '"21"')
    code, out, _ = spares("fitted", "add", sent(HEAD + bad + ON + OFF), "--good-rows")
    assert code == 1
    assert "2 lines added" in out
    assert year(stocked).count("\n") == 3
    mended = sent(HEAD + bad.replace('"21"', '"12"') + ON + OFF)
    assert spares("fitted", "add", mended)[0] == 0
    assert year(stocked).count("\n") == 4


def test_a_row_that_needs_a_bad_one_is_no_good_row(stocked, sent, spares):
    on = ON.replace('"11"', '"21"')  # nothing goes on, so that nothing can come off
    code, out, err = spares("fitted", "add", sent(HEAD + on + OFF), "--good-rows")
    assert code == 1
    assert "none of batch B-0001 sat" in out
    assert "nothing is added" in err
    assert year(stocked) is None


def test_good_rows_of_a_file_of_another_depot_are_none(stocked, sent, spares):
    assert spares("fitted", "add", sent(HEAD.replace("Testing", "Other") + ON), "--good-rows")[0] == 1
    assert year(stocked) is None


@pytest.mark.parametrize("beside", [(), ("fitted-2026-11-24.yml",), ("fitted-2026-11-24.yml", "--good-rows")])
def test_beside_a_file_that_is_missing_nothing_is_written_and_nothing_else_is_said(beside, stocked, sent, spares):
    sent(HEAD + ON)
    code, out, err = spares("fitted", "add", "missing.yml", *beside)
    assert code == 1
    assert [line.split(":")[0] for line in out.splitlines() if not line.startswith(" ")] == ["missing.yml"]
    assert "--good-rows" not in err  # which would help nothing
    assert year(stocked) is None


def test_a_row_that_makes_one_that_stands_impossible_is_refused(stocked, sent, spares):
    spares("fitted", "add", sent(HEAD + ON))
    late = sent(HEAD + ON.replace("aa-1", "aa-3").replace("2026-03-01", "2026-02-01").replace("count: 2", "count: 1"), "late.yml")
    code, out, _ = spares("fitted", "add", late)
    assert code == 1
    assert "catalogue/fitted/2026.csv:2" in out


def test_lines_of_two_years_go_into_their_files_and_what_stands_stays(stocked, sent, spares):
    (stocked / "catalogue/fitted").mkdir()
    own = CSV.replace("\n", "\r\n") + "2026-02-01,A1,12,cab,,B-0001,1,,,,fitter,"  # no end of line, and those of another system
    (stocked / "catalogue/fitted/2026.csv").write_bytes(own.encode())
    table = CSV + '2025-03-01,A1,13,cab,,,,,1,worn,,\n2026-03-01,A1,13,cab,"left, third",B-0001,1,,,,,\n'
    code, _, err = spares("fitted", "add", sent(table, "week.csv"), "--by", "fitter")
    assert (code, err) == (0, "")
    assert (stocked / "catalogue/fitted/2026.csv").read_bytes() == own.encode() + b'\r\n2026-03-01,A1,13,cab,"left, third",B-0001,1,,,,fitter,\r\n'
    assert year(stocked, "2025") == CSV + "2025-03-01,A1,13,cab,,,,,1,worn,fitter,\n"
    before = bytes_of(stocked / "catalogue")
    assert "2 lines stand there already" in spares("fitted", "add", "week.csv", "--by", "fitter")[1]
    assert bytes_of(stocked / "catalogue") == before


def test_behind_a_file_with_a_mistake_of_form_nothing_is_written(stocked, sent, spares):
    (stocked / "catalogue/fitted").mkdir()
    broken = CSV + '2026-02-01,A1,12,cab,"left,B-0001,1,,,,fitter,\n'
    (stocked / "catalogue/fitted/2026.csv").write_text(broken, encoding="utf-8")
    code, _, err = spares("fitted", "add", sent(HEAD + ON))
    assert code == 1
    assert "mistakes of form" in err
    assert year(stocked) == broken


def test_a_year_that_would_grow_beyond_what_is_read_is_refused_before_anything_is_written(stocked, sent, spares, monkeypatch):
    assert spares("fitted", "add", sent(HEAD + ON))[0] == 0
    before = bytes_of(stocked / "catalogue")
    size = len(before["fitted/2026.csv"])
    monkeypatch.setattr("generator.edge.disk.fitted_files.LARGEST_LINES_BYTES", size)
    code, _, err = spares("fitted", "add", sent(HEAD + OFF, "second.yml"))
    assert code == 1
    assert "2026.csv would grow beyond" in err
    assert bytes_of(stocked / "catalogue") == before


def test_a_year_of_more_than_a_typed_file_is_read(stocked, sent, spares):
    spares("fitted", "add", sent(HEAD + ON))
    file = stocked / "catalogue" / "fitted" / "2026.csv"
    with file.open("a") as stream:
        stream.write("\n" * 2_100_000)
    assert "too large" not in spares("check")[1]


def test_a_table_of_a_german_spreadsheet_is_written_in_the_records_own_form_and_no_cell_is_a_formula(stocked, sent, spares):
    head = CSV.replace(",", ";").replace("\n", "\r\n")
    file = sent((head + "01.03.2026;A1;11;cab;'=Tür;B-0001;1;;;;fitter;\r\n02.03.2026;A1;11;cab;-Tür;B-0001;1;;;;fitter;\r\n").encode("cp1252"), "t.csv")
    code, _, err = spares("fitted", "add", file)
    assert (code, err) == (0, "")
    assert year(stocked) == CSV + "2026-03-01,A1,11,cab,'=Tür,B-0001,1,,,,fitter,\n2026-03-02,A1,11,cab,'-Tür,B-0001,1,,,,fitter,\n"
    _, out, _ = spares("trace", "--batch", "B-0001", "--format", "csv")
    assert [line.split(",")[3] for line in out.splitlines()[1:]] == ["'-Tür", "'=Tür"]
    assert "there already" in spares("fitted", "add", file)[1]


def test_a_workbook_is_told_how_to_save_it_and_a_tablets_file_may_be_called_a_text(stocked, sent, spares):
    code, out, err = spares("fitted", "add", sent(b"PK\x03\x04" + bytes(50), "week.xlsx"))
    assert code != 0
    assert "week.xlsx:1: error FITTED02: is a workbook" in out
    assert "semicolons or commas" in out
    assert "YAML" not in out + err
    assert spares("fitted", "add", sent(HEAD + ON, "fitted.yml.txt"))[0] == 0


def test_what_a_table_may_weigh_is_one_figure(stocked, sent, spares, monkeypatch):
    monkeypatch.setattr("generator.edge.disk.fitted_files.LARGEST_LINES_BYTES", 2_000_000)
    lines = "".join(f'2026-03-01,A1,11,cab,{"x" * 60},B-0001,1,,,,fitter,row-{each}\n' for each in range(15_000))
    code, out, _ = spares("fitted", "add", sent(CSV + lines, "t.csv"))
    assert code != 0
    assert "MB large" not in out  # it is read: what is wrong with it are its counts
    _, out, _ = spares("fitted", "add", sent(CSV + lines * 2, "t.csv"))
    assert "keep it below 16 MB" in out


def test_a_table_without_roles_needs_one(stocked, sent, spares):
    code, out, _ = spares("fitted", "add", sent(CSV + "2026-03-01,A1,13,cab,,B-0001,1,,,,,\n", "week.csv"))
    assert code == 1
    assert "week.csv:2" in out
    assert "by is empty" in out


def test_what_was_not_to_be_fitted_is_written_and_told(stocked, sent, spares):
    spares("recall", "--batch", "B-0001", "--why", "cracks", "--by", "fitter", "--on", "2026-02-01")
    code, _, err = spares("fitted", "add", sent(HEAD + ON))
    assert code == 0
    assert "batch B-0001 on A1 11" in err
    assert "Do not fit" in err
    assert year(stocked).count("\n") == 2
    assert "FITTED09" in spares("check")[1]


def test_a_dry_run_shows_the_lines_and_writes_none(stocked, sent, spares):
    before = bytes_of(stocked / "catalogue")
    code, out, _ = spares("fitted", "add", sent(HEAD + ON), "--dry-run")
    assert code == 0
    assert "2026-03-01,A1,11,cab,,B-0001,2,,,,fitter,aa-1" in out
    assert bytes_of(stocked / "catalogue") == before


def test_the_disk_fills_up_between_two_years(stocked, sent, spares, monkeypatch):
    table = CSV + "2025-03-01,A1,13,cab,,,,,1,worn,fitter,\n2026-03-01,A1,13,cab,,B-0001,1,,,,fitter,\n"
    from generator.edge.disk import fitted_files

    written = fitted_files.exchanged_whole

    def full(file, before, content):
        if file.name == "2026.csv":
            raise OSError(28, "No space left on device")
        written(file, before, content)

    monkeypatch.setattr(fitted_files, "exchanged_whole", full)
    code, _, err = spares("fitted", "add", sent(table, "week.csv"))
    assert code == 1
    assert "full" in err
    assert year(stocked, "2025") is None
    assert year(stocked) is None


def test_it_waits_for_whoever_writes(stocked, sent, spares):
    file, ready, done = sent(HEAD + ON), threading.Event(), threading.Event()

    def other():
        with held(stocked / "catalogue", "record EX-0001", lambda _: None):
            ready.set()
            done.wait(2)

    thread = threading.Thread(target=other)
    thread.start()
    ready.wait()
    code, _, err = spares("fitted", "add", file)
    done.set()
    thread.join()
    assert code == 0
    assert "Waiting for" in err


def test_a_position_that_is_new_beside_one_like_it_is_asked_about_and_added(stocked, sent, spares):
    placed = ON.replace("place: cab,", "place: cab, position: left window,").replace("count: 2", "count: 1")
    assert spares("fitted", "add", sent(HEAD + placed))[0] == 0
    again = placed.replace("left window", "left windwo").replace("aa-1", "aa-2")
    code, out, err = spares("fitted", "add", sent(HEAD + again, "again.yml"))
    assert code == 0
    assert "did you mean 'left window'?" in out + err
    assert "left windwo" in year(stocked)
    blank = placed.replace("left window", '"Left  window"').replace(", row: aa-1", ", row: aa-3")
    assert "did you mean" not in "".join(map(str, spares("fitted", "add", sent(HEAD + blank.replace('"11"', '"12"'), "third.yml"))))


UNKNOWN = ON.replace("B-0001", "B-0077").replace("count: 2", "count: 1")
WIDE = ",".join((*COLUMNS, "as_found")) + "\n"


def test_what_was_found_so_is_written_with_its_mark_and_no_line_that_stands_is_touched(stocked, sent, spares):
    assert spares("fitted", "add", sent(HEAD + ON))[0] == 0
    stands = year(stocked).splitlines()[1]
    found = sent(HEAD + UNKNOWN.replace("aa-1", "aa-5").replace('"11"', '"12"'), "found.yml")
    code, out, err = spares("fitted", "add", found)
    assert code == 1
    assert "keep" in out or "ask" in out
    assert "--as-found" in err
    code, _, err = spares("fitted", "add", found, "--as-found")
    assert (code, err) == (0, "")
    assert year(stocked) == WIDE + stands + "\n" + "2026-03-01,A1,12,cab,,B-0077,1,,,,fitter,aa-5,yes\n"
    before = bytes_of(stocked / "catalogue")
    assert "stands there already" in spares("fitted", "add", found)[1]  # without the option: it is the same line
    assert bytes_of(stocked / "catalogue") == before
    assert spares("fitted", "add", sent(HEAD + OFF, "off.yml"))[0] == 0
    assert year(stocked).splitlines()[-1] == "2026-03-02,A1,11,cab,,,,B-0001,1,worn,fitter,aa-2,"
    code, out, _ = spares("check")
    assert "warning FITTED04" in out
    assert "error FITTED" not in out


def test_what_the_tablet_marked_needs_no_option_and_its_label_counts_before_the_page_it_was_made_on(stocked, sent, spares):
    marked = UNKNOWN.replace("by: fitter", "as_found: true, by: fitter")
    rejected = marked.replace("B-0077", "B-0002").replace("aa-1", "aa-3").replace("2026-03-01", "2026-05-02").replace('"11"', '"13"')
    other = rejected.replace("EX-0001", "EX-0003").replace("aa-3", "aa-4").replace('"13"', '"12"')
    assert spares("fitted", "add", sent(HEAD + marked + rejected + other))[0] == 0
    assert [line.rsplit(",", 2)[-2:] for line in year(stocked).splitlines()[1:]] == [["aa-1", "yes"], ["aa-3", "yes"], ["aa-4", "yes"]]
    off = OFF.replace("B-0001", "B-0077")
    assert spares("fitted", "add", sent(HEAD + off, "off.yml"))[0] == 0  # and comes off again as any piece does


def test_of_a_line_that_is_left_out_what_came_off_by_it_is_told(stocked, sent, spares):
    changed = UNKNOWN.replace("by: fitter", "removed_batch: B-0001, removed: 1, why: worn, by: fitter").replace("aa-1", "aa-7").replace("2026-03-01", "2026-03-05")
    code, out, _ = spares("fitted", "add", sent(HEAD + ON + changed), "--good-rows")
    assert code == 1
    assert "fitted-2026-11-24.yml:7: not written down: 1 × B-0077 on; 1 off, B-0001. Vehicle A1 11" in out
    assert "--as-found" in out
    assert year(stocked).count("\n") == 2


def test_what_must_come_off_is_said_before_that_none_was_left(stocked, sent, spares):
    many = "".join(ON.replace("aa-1", f"aa-{at}").replace('"11"', f'"{at}"') for at in (11, 12, 13))
    assert spares("fitted", "add", sent(HEAD + many))[0] == 0
    spares("recall", "--batch", "B-0001", "--why", "cracks", "--by", "fitter", "--on", "2026-04-01")
    code, out, _ = spares("fitted", "add", sent(HEAD + ON.replace("2026-03-01", "2026-05-01").replace('"11"', '"14"'), "late.yml"))
    assert code == 1
    assert out.index("called back") < out.index("take it off") < out.index("0 were left")


def test_a_table_may_bear_the_mark_itself_and_no_other_word(stocked, sent, spares):
    line = "2026-03-01,A1,13,cab,,B-0077,1,,,,fitter,,"
    assert spares("fitted", "add", sent(WIDE + line + "yes\n", "week.csv"))[0] == 0
    code, out, _ = spares("fitted", "add", sent(WIDE + line.replace("13", "14") + "no\n", "second.csv"))
    assert code == 1
    assert "as_found: no is neither yes nor empty" in out


def test_a_head_without_an_end_of_line_or_from_another_system_is_widened_at_its_end(stocked, sent, spares):
    file = stocked / "catalogue/fitted/2026.csv"
    file.parent.mkdir()
    for head in (b"\xef\xbb\xbf" + CSV.strip().encode(), CSV.replace("\n", "\r\n").encode()):
        file.write_bytes(head)
        assert spares("fitted", "add", sent(HEAD + UNKNOWN), "--as-found")[0] == 0
        assert file.read_bytes().startswith(head.rstrip(b"\r\n") + b",as_found")
        assert file.read_bytes().rstrip().endswith(b"aa-1,yes")
