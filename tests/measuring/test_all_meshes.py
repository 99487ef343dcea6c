"""Every mesh is measured and drawn once, in a child, and never again while nothing changes."""

import hashlib
import io
import random

import pytest
from PIL import Image

from generator.measuring import all_meshes
from generator.measuring.all_meshes import worked_on
from generator.measuring.guarded import Crashed, Done, Guard, TooBig, TooLong
from generator.measuring.one_mesh import Order, blobs_of
from generator.measuring.store import Store
from generator.reading.meshes.errors import unusable
from generator.records.problems import Problem
from tests.fixtures.told import fix, says
from tests.reading.meshes import files

BOX = files.box(10, 20, 30)


class CountingGuard(Guard):
    """Notes which orders reach the children."""

    def __init__(self, **options):
        super().__init__(**options)
        self.seen = []

    def run_all(self, function, jobs, on_end=None):
        self.seen += [job.path.name for job in jobs]
        return super().run_all(function, jobs, on_end)


class NoChildren(Guard):
    """Answers without a child."""

    def __init__(self, outcome):
        super().__init__()
        self.outcome = outcome

    def run_all(self, function, jobs, on_end=None):
        for number in range(len(jobs)):
            on_end(number, self.outcome)
        return tuple(self.outcome for _ in jobs)


def order(folder, name="model.stl", content=None, **changes):
    path = folder / name
    content = files.binary_stl(*BOX) if content is None else content
    path.write_bytes(content)
    given = {"path": path, "sha256": hashlib.sha256(content).hexdigest(), "units": None, "tint": "#9eadbd", **changes}
    return Order(**given)


def silent(_what, _done, _of):
    pass


@pytest.fixture(scope="module")
def built(tmp_path_factory):
    """One round over four orders, of which two are alike and one is bad; and the same round again."""
    folder = tmp_path_factory.mktemp("parts")
    orders = {
        "good": order(folder, "good.stl"),
        "twin": order(folder, "twin.stl"),
        "metres": order(folder, "metres.glb", files.glb(*files.box(0.01, 0.02, 0.03))),
        "bad": order(folder, "bad.stl", files.binary_stl(*BOX)[:300]),
    }
    rounds = []
    for _ in range(2):
        told = []
        with CountingGuard() as guard:
            results = worked_on(orders, Store(folder / "store"), lambda *step, told=told: told.append(step), guard)
        rounds.append((results, guard.seen, told))
    return orders, rounds


def test_a_mesh_is_measured_and_drawn(built):
    good = built[1][0][0]["good"]
    assert good.facts.volume_mm3 == pytest.approx(6000)
    assert good.facts.oriented_size_mm == pytest.approx((30, 20, 10))
    sizes = {"front": (640, 480), "behind": (640, 480), "thumb": (160, 120)}
    for name, size in sizes.items():
        image = Image.open(io.BytesIO(getattr(good.pictures, name)))
        assert (image.format, image.size) == ("WEBP", size)
        assert len({image.convert("RGB").getpixel((x * size[0] // 9, size[1] // 2)) for x in range(9)}) > 3
    assert good.pictures.front != good.pictures.behind


def test_a_bad_mesh_is_a_mistake_and_the_others_go_on(built):
    results = built[1][0][0]
    bad = results["bad"]
    assert says(bad) == "the file ends after 4 of 12 triangles that its header promises"
    assert fix(bad)
    assert bad.where.line is None
    assert results["metres"].facts.volume_mm3 == pytest.approx(6000, rel=1e-6)


def test_equal_meshes_are_made_once(built):
    _, seen, told = built[1][0]
    assert len(seen) == 3
    assert len({"good.stl", "twin.stl"} & set(seen)) == 1
    results = built[1][0][0]
    assert results["twin"] == results["good"]
    assert told == [("draw", n, 3) for n in range(4)]


def test_the_second_time_nothing_is_loaded_measured_or_drawn(built):
    (first, _, _), (second, seen, told) = built[1]
    assert seen == []
    assert second == first
    assert told == [("draw", 3, 3)]


def test_what_the_result_depends_on_makes_it_anew(built, tmp_path, monkeypatch):
    orders, _ = built
    good = orders["good"]
    store = Store(good.path.parent / "store")
    variants = {
        "other tint": Order(path=good.path, sha256=good.sha256, units=None, tint="#202020"),
        "other units": Order(path=good.path, sha256=good.sha256, units="inch", tint=good.tint),
        "other bytes": Order(path=good.path, sha256="0" * 64, units=None, tint=good.tint),
        "other ending": Order(path=tmp_path / "good.obj", sha256=good.sha256, units=None, tint=good.tint),
    }
    guard = NoChildren(TooLong(1))
    assert all(isinstance(each, Problem) for each in worked_on(variants, store, silent, guard).values())
    monkeypatch.setattr(all_meshes, "code_version", lambda: "newer")
    assert isinstance(worked_on({"good": good}, store, silent, guard)["good"], Problem)


@pytest.mark.parametrize(
    ("outcome", "reason"),
    [
        (TooLong(120), "took longer than 120 s and was stopped"),
        (TooBig(4096), "needs more than 4,096 MB"),
        (Crashed("its process was ended by SIGSEGV"), "failed: its process was ended by SIGSEGV"),
    ],
)
def test_a_failure_of_the_child_is_told_but_not_kept(tmp_path, outcome, reason):
    job, store = order(tmp_path), Store(tmp_path / "store")
    assert reason in says(worked_on({"a": job}, store, silent, NoChildren(outcome))["a"])
    told = b'{"key": "stl out of place", "mend": "save again", "line": 3, "facts": {"text": "x", "expected": "facet"}}'
    blobs = {"facts.json": b"", "error.json": told}
    again = worked_on({"a": job}, store, silent, NoChildren(Done(blobs)))["a"]
    assert again == unusable("stl out of place", "save again", line=3, text="x", expected="facet").problem


def test_a_file_that_changes_meanwhile_is_not_kept_under_its_old_name(tmp_path):
    job = order(tmp_path)
    job.path.write_bytes(files.binary_stl(*files.box(1, 1, 1)))
    result = blobs_of(job)
    assert says(result) == "the file changed while the catalogue was read"
    job.path.unlink()
    assert "cannot be read" in says(blobs_of(job))


def test_the_same_mesh_gives_the_same_bytes(tmp_path):
    job = order(tmp_path)
    assert blobs_of(job) == blobs_of(job)


def test_without_a_store_the_work_goes_on(tmp_path):
    (tmp_path / "file").write_text("in the way")
    store = Store(tmp_path / "file")
    with Guard() as guard:
        results = worked_on({"a": order(tmp_path)}, store, silent, guard)
    assert results["a"].facts
    assert store.complaint


def test_a_cad_kernel_that_breaks_down_on_a_damaged_file_spoils_nothing_else(tmp_path):
    """Of such files the kernel reads some, drops faces of some, and dies of some; each way is an answer."""
    whole = files.step_box(10, 20, 30)
    dice = random.Random(7)
    orders = {}
    for number in range(8):
        damaged = bytearray(whole)
        for _ in range(4):
            damaged[dice.randrange(600, len(damaged) - 40)] = dice.choice(b"0123456789.$*")
        orders[f"damaged {number}"] = order(tmp_path, f"{number}.step", bytes(damaged))
    orders["whole"] = order(tmp_path, "whole.step", whole)
    with Guard() as guard:
        results = worked_on(orders, Store(tmp_path / "store"), silent, guard)
    assert results["whole"].facts.volume_mm3 == pytest.approx(6000)
    assert any(isinstance(each, Problem) for each in results.values())
