"""What never counted may be mended, whoever has seen it; what once counted stays held against the record, whatever is broken for a while."""

import shutil
from datetime import date

import pytest

from generator.assemble.whole_way import read_with_past
from generator.provenance.remembering.compared import for_site
from generator.provenance.remembering.kept import as_bytes, memory_file, remember
from generator.provenance.remembering.produced import produced_to_remember
from generator.records.fitted import COLUMNS
from generator.systems.store import Store
from tests.fixtures import produced
from tests.fixtures.told import line
from tests.provenance.remembering.test_git import asked

pytestmark = pytest.mark.skipif(not shutil.which("git"), reason="there is no git")
BATCH, LOT, RECALL, FITTED = "batches/B-0001.yml", "materials/lots/L-1.yml", "recalls/R-1.yml", "fitted/2026.csv"
TODAY = date(2026, 3, 1)
GOOD = "2026-02-10,A1,11,cab,,B-0001,1,,,,fitter,g1"
ALSO = "2026-02-20,A1,12,cab,,B-0001,1,,,,fitter,g2"
CALL = "batch: B-0001\nevents:\n  - {what: called back, on: 2026-02-01, by: fitter, why: cracks}\n"
LIFTED = "  - {what: lifted, on: 2026-02-05, by: keeper, why: no cracks}\n"
BAD_LIFT = LIFTED.replace("keeper", "fitter")
SCRAPPED = "  - {what: scrapped, on: 2026-02-08, by: fitter, count: 1, why: corner}\n"
COUNTED = "  - {what: counted, on: 2026-02-09, by: fitter, on_shelf: 11}\n"


def put(depot, name, text):
    (depot / name).parent.mkdir(parents=True, exist_ok=True)
    (depot / name).write_text(text, encoding="utf-8")


def spoilt(depot, name, was, now):
    text = (depot / name).read_text("utf-8")
    assert was in text
    put(depot, name, text.replace(was, now))
    return text


def rows(*lines):
    return "\n".join([",".join(COLUMNS), *lines, ""])


def batch(*events):
    return BODY[0] + "".join(each.lstrip() for each in events)


BODY: list[str] = []


@pytest.fixture
def place(depot):
    """A depot with a machine, a lot, a batch of twelve and a recall that was lifted; in no repository yet."""
    put(depot, "machines/M-1.yml", "name: Printer\nmaker: own-shop\nqualifications: []\n")
    produced.lot(depot, "L-1", "petg")
    produced.batch(depot, "B-0001", "EX-0001")
    BODY[:] = [(depot / BATCH).read_text("utf-8")]
    put(depot, BATCH, batch(SCRAPPED))
    put(depot, RECALL, CALL + LIFTED)
    put(depot, FITTED, rows(GOOD))
    return depot


class Git:
    """The witness that is git alone."""

    def __init__(self, depot):
        self.depot, self.day = depot, 0
        asked(depot, "init", "-q", "-b", "main")

    def sees(self, day=None):
        self.day += 1
        on = day or f"2026-03-{self.day:02d}"
        asked(self.depot, "add", "-A", day=on)
        asked(self.depot, "commit", "-q", "--allow-empty", "-m", "x", day=on)

    def told(self):
        return problems(read_with_past(self.depot, Store(self.depot.parent / f"fresh{self.day}"))[0])


class Kept:
    """The witness that is the store, or the site that was built from the store's."""

    def __init__(self, depot, is_site=False):
        self.depot, self.is_site = depot, is_site

    def sees(self, day=TODAY):
        day = date.fromisoformat(day) if isinstance(day, str) else day
        catalogue, memory = self._read()
        records = produced_to_remember(catalogue, memory.now, self.depot, day)
        if self.is_site:
            (self.depot.parent / "site").mkdir(exist_ok=True)
            (self.depot.parent / "site/remembered.json").write_bytes(as_bytes(for_site(memory, records)))
        else:
            assert remember(memory_file(self.depot.parent / "store", self.depot), records) is None

    def told(self):
        return problems(self._read()[0])

    def _read(self):
        site = self.depot.parent / "site" if self.is_site else None
        return read_with_past(self.depot, Store(self.depot.parent / ("none" if self.is_site else "store")), site)


def problems(catalogue):
    listed = (each for each in catalogue.problems if each.code in {"PAST08", "PAST09"})
    return [line(each).partition(": error ")[2].partition("\n")[0].partition(", as ")[0].partition(" as ")[0] for each in listed]


@pytest.fixture(params=["git", "store"])
def witness(request, place):
    return Git(place) if request.param == "git" else Kept(place)


SLIPS = [
    pytest.param(FITTED, rows(GOOD, ALSO.replace("02-20", "12-20")), rows(GOOD, ALSO), id="a day to come"),
    pytest.param(FITTED, rows(GOOD, ALSO.replace("02-20", "02-30")), rows(GOOD, ALSO), id="a day that there is not"),
    pytest.param(FITTED, rows(GOOD, ALSO + ",x"), rows(GOOD, ALSO), id="a line with a cell too many"),
    pytest.param(FITTED, rows(ALSO.replace(",12,", ",99,"), GOOD), rows(GOOD), id="a vehicle that there is not"),
    pytest.param(FITTED, rows(GOOD, ALSO.replace("fitter", "fiter")), rows(GOOD, ALSO), id="a role that there is not"),
    pytest.param(FITTED, rows(GOOD, ALSO.replace("cab", "cabin")), rows(GOOD, ALSO), id="a place that there is not"),
    pytest.param(FITTED, rows(GOOD, ALSO.replace("B-0001", "B-0010")), rows(GOOD, ALSO), id="a batch that there is not"),
    pytest.param(FITTED, rows(GOOD, "2026-02-21,A1,12,cab,,,,B-0001,1,worn,fitter,o1"), rows(GOOD, "2026-02-21,A1,11,cab,,,,B-0001,1,worn,fitter,o1"), id="never there"),
    pytest.param(FITTED, rows(GOOD, ALSO, ALSO.replace("cab", "door").replace("02-20", "02-21")), rows(GOOD, ALSO), id="a row's number twice"),
    pytest.param(RECALL, CALL + BAD_LIFT, CALL + LIFTED, id="lifted by a role that may not"),
    pytest.param(RECALL, CALL + BAD_LIFT, CALL, id="lifted by a role that may not, taken out"),
    pytest.param(RECALL, CALL + LIFTED.replace("keeper", "keper"), CALL + LIFTED, id="lifted by nobody"),
    pytest.param(RECALL, CALL + LIFTED + LIFTED, CALL + LIFTED, id="lifted twice"),
    pytest.param(RECALL, CALL + CALL.partition("events:\n")[2], CALL, id="called back twice"),
    pytest.param(RECALL, CALL.replace("2026-02-01", "2026-12-01"), CALL, id="called back on a day to come"),
    pytest.param(BATCH, "{}batch", None, id="a record that cannot be read"),
    pytest.param(LOT, "S-L-1", "S-L-2", id="the document of another lot"),
]  # fmt: skip


@pytest.mark.parametrize(("file", "slip", "mended"), SLIPS)
def test_what_never_counted_is_mended_without_a_word(witness, place, file, slip, mended):
    if file == LOT:
        mended = (place / LOT).read_text("utf-8")
        slip = mended.replace("- type", "- lot: X\n  type").replace("  lot: S-L-1\n", "")
        assert slip.count("S-L-1") == mended.count("S-L-1") - 1
    elif file == BATCH:
        slip, mended = batch(SCRAPPED) + "colour: red\n", batch(SCRAPPED, COUNTED)
    put(place, file, slip)
    witness.sees()
    put(place, file, mended)
    assert witness.told() == []
    witness.sees()
    assert witness.told() == []
    put(place, file, slip)  # and what is good now is kept, as it was of a record without a slip
    if file == FITTED and not set(mended.splitlines()) <= set(slip.splitlines()):
        assert witness.told() != []


def test_an_event_in_the_middle_is_mended_in_its_place_by_one_of_its_kind(witness, place):
    put(place, BATCH, batch(SCRAPPED, COUNTED.replace("11", "900"), SCRAPPED.replace("02-08", "02-10")))
    witness.sees()
    for mended in ((SCRAPPED, COUNTED), (SCRAPPED,)):
        put(place, BATCH, batch(*mended, SCRAPPED.replace("02-08", "02-10")))
        assert witness.told() == []
    issued = "  - {what: issued, on: 2026-02-09, by: fitter, count: 2}\n"
    put(place, BATCH, batch(SCRAPPED, issued, SCRAPPED.replace("02-08", "02-10")))
    assert [each[:40] for each in witness.told()] == ["PAST08: event 4 ('issued' of 2026-02-09)"]
    put(place, BATCH, batch(SCRAPPED, COUNTED, COUNTED, SCRAPPED.replace("02-08", "02-10")))
    assert len(witness.told()) == 1  # one place, one event


def test_what_makes_more_careful_is_put_right_and_never_goes(witness, place):
    """Else whoever mistypes the day of a call, a rejection or scrap on purpose could take it out again."""
    put(place, RECALL, CALL.replace("2026-02-01", "2026-12-01"))
    put(place, BATCH, batch(SCRAPPED, "  - {what: rejected, on: 2026-12-09, by: fitter, why: cracks}\n"))
    witness.sees()
    put(place, BATCH, batch(SCRAPPED))
    put(place, RECALL, "batch: B-0001\nevents:\n" + LIFTED)
    assert [each[:28] for each in witness.told()] == ["PAST08: event 4 is gone: 're", "PAST08: event 1 is gone: 'ca"]


BREAKS = [
    pytest.param("fleets.yml", 'vehicles: ["11-14"]', 'vehicles: ["13-14"]', id="its vehicle taken out"),
    pytest.param("fleets.yml", "fleets:", "fleets: [", id="the fleets unread"),
    pytest.param("depot.yml", "  - id: fitter\n    name: Fitter\n", "", id="its role taken out"),
    pytest.param("depot.yml", "railway:", "railway: [", id="the depot unread"),
    pytest.param(FITTED, "day,fleet", "Day,fleet", id="its head"),
    pytest.param(FITTED, GOOD, GOOD.replace("02-10", "02-31"), id="its own day"),
    pytest.param(FITTED, GOOD, GOOD.replace("02-10", "12-10"), id="its own day, to come"),
    pytest.param(FITTED, GOOD, '"' + GOOD, id="a quote that never ends"),
    pytest.param(FITTED, GOOD, GOOD.replace("cab", "door") + "\n" + GOOD, id="its row's number taken"),
    pytest.param(BATCH, "count: 12", "count: many", id="its batch unread"),
    pytest.param(BATCH, None, None, id="its batch gone"),
]


@pytest.mark.parametrize(("file", "was", "now"), BREAKS)
def test_no_true_line_is_forgotten_while_something_is_broken(witness, place, file, was, now):
    witness.sees()
    good = (place / file).read_text("utf-8")
    if was is None:
        (place / file).unlink()
    else:
        spoilt(place, file, was, now)
    witness.sees()  # one check, or one commit, with it
    for forged in (rows(), rows(GOOD.replace(",11,", ",14,"))):
        put(place, FITTED, forged)
        if file != FITTED:
            put(place, file, good)
        assert any("PAST09" in each for each in witness.told())
    witness.sees()
    assert any("PAST09" in each for each in witness.told())


@pytest.mark.parametrize("break_", ["role", "depot", "call's day", "batch"])
def test_no_true_event_is_forgotten_while_something_is_broken(witness, place, break_):
    witness.sees()
    depot = (place / "depot.yml").read_text("utf-8")
    if break_ == "role":
        put(place, "depot.yml", depot.replace("    acts_as: [customer]\n", "", 1))
    elif break_ == "depot":
        put(place, "depot.yml", "roles: [\n")
    elif break_ == "call's day":
        put(place, RECALL, CALL.replace("2026-02-01", "2026-02-07") + LIFTED)
    else:
        put(place, BATCH, batch(SCRAPPED).replace("count: 12", "count: 1").replace("count: 1,", "count: 2,"))
    witness.sees()
    put(place, "depot.yml", depot)
    put(place, RECALL, CALL)
    put(place, BATCH, batch())
    assert [each[:30] for each in witness.told() if "is gone" in each] == ["PAST08: event 3 is gone: 'scra", "PAST08: event 2 is gone: 'lift"]


def test_a_line_that_has_become_true_counts_from_then_on(witness, place):
    """Its vehicle came into the list later, or its day has come."""
    to_come, new = ALSO.replace("02-20", "03-05"), ALSO.replace(",12,", ",15,").replace("g2", "g3")
    put(place, FITTED, rows(GOOD, to_come, new))
    witness.sees("2026-03-01")
    spoilt(place, "fleets.yml", '"11-14"', '"11-15"')
    witness.sees("2026-03-04")
    put(place, FITTED, rows(GOOD, to_come))
    assert len(witness.told()) == 1
    put(place, FITTED, rows(GOOD, to_come, new))
    witness.sees("2026-03-06")
    put(place, FITTED, rows(GOOD, new))
    if isinstance(witness, Git):  # whoever takes it out has to commit that
        witness.sees("2026-03-07")
    assert len(witness.told()) == 1


def test_what_a_vehicle_to_be_does_to_a_mended_line_is_nothing(witness, place):
    put(place, FITTED, rows(GOOD, ALSO.replace(",12,", ",15,")))
    witness.sees("2026-03-01")
    put(place, FITTED, rows(GOOD, ALSO))
    witness.sees("2026-03-02")
    spoilt(place, "fleets.yml", '"11-14"', '"11-15"')
    witness.sees("2026-03-03")
    assert witness.told() == []


def test_good_lines_beside_a_slip_are_remembered(place):
    """A mistake that stays for months must not keep all that comes after it from being remembered."""
    store = Kept(place)
    store.sees()
    put(place, FITTED, rows(GOOD, ALSO.replace(",12,", ",99,"), ALSO))
    store.sees()
    put(place, FITTED, rows(ALSO))  # one that was good is gone, and is told
    late = "2026-02-25,A1,13,cab,,B-0001,1,,,,fitter,g3"
    put(place, FITTED, rows(ALSO, late))
    assert len(store.told()) == 1
    store.sees()
    put(place, FITTED, rows(GOOD))
    assert len(store.told()) == 2  # of what came while it was told nothing is lost either


def test_what_is_on_a_vehicle_and_should_not_be_counts_once_it_is_committed(place):
    """Never released, and at a place where it does not fit: until then batch or place may have been mistyped."""
    store, git = Kept(place), Git(place)
    astray = ALSO.replace("cab", "door")
    put(place, FITTED, rows(GOOD, astray))
    store.sees()
    put(place, FITTED, rows(GOOD, ALSO))
    assert store.told() == []
    put(place, FITTED, rows(GOOD, astray))
    git.sees()
    put(place, FITTED, rows(GOOD, ALSO))
    assert len(git.told()) == 1
    off = "2026-02-28,A1,12,door,,,,B-0001,1,wrong,fitter,o1"
    put(place, FITTED, rows(GOOD, astray, off))
    store.sees()
    put(place, FITTED, rows(GOOD, ALSO))
    assert len(store.told()) >= 2


def test_a_site_remembers_no_slip_and_all_that_is_good(place):
    site = Kept(place, is_site=True)
    put(place, FITTED, rows(GOOD, ALSO.replace(",12,", ",99,")))
    site.sees()
    put(place, FITTED, rows(GOOD, ALSO))
    assert site.told() == []
    put(place, FITTED, rows(ALSO))
    assert len(site.told()) == 1


def test_what_is_broken_is_told_as_that_alone(place):
    """Neither the rest of a file that cannot be read, nor an event that counts for nothing now, is said to be gone."""
    store = Kept(place)
    put(place, FITTED, rows(GOOD, ALSO))
    store.sees()
    put(place, FITTED, rows(GOOD, '"' + ALSO))
    assert store.told() == []
    put(place, FITTED, rows(GOOD, ALSO))
    spoilt(place, "depot.yml", "name: Keeper of the vehicles\n    acts_as: [customer]\n", "name: Keeper of the vehicles\n")
    assert store.told() == []


def test_a_good_line_stays_remembered_beside_a_new_slip_while_it_is_in_error_itself(place):
    store = Kept(place)
    store.sees()
    fleets = spoilt(place, "fleets.yml", 'vehicles: ["11-14"]', 'vehicles: ["13-14"]')
    put(place, FITTED, rows(GOOD, ALSO.replace(",12,", ",99,")))
    store.sees()
    put(place, "fleets.yml", fleets)
    put(place, FITTED, rows())
    assert len(store.told()) == 1


def test_what_was_committed_while_a_list_could_not_be_read_counted(place):
    git = Git(place)
    git.sees()
    fleets = spoilt(place, "fleets.yml", "fleets:", "fleets: [")
    put(place, FITTED, rows(GOOD, ALSO.replace(",12,", ",99,")))
    git.sees()
    put(place, "fleets.yml", fleets)
    put(place, FITTED, rows(GOOD))
    assert len(git.told()) == 1
