"""Every mesh is measured and drawn once, in a child, and never again while nothing changes."""

import hashlib
import io
import random
import shutil
import sys
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from generator.measuring import kept_products, makers
from generator.measuring.all_meshes import worked_on
from generator.measuring.code import code_of
from generator.measuring.guarded import Crashed, Done, Guard, Limits, TooBig, TooLong
from generator.measuring.one_mesh import Job, Order, made_of, processor_s_of
from generator.measuring.products import (
    ERROR_FILE,
    FACTS,
    FEATURES,
    MODEL,
    PICTURE_FILE,
    PICTURES,
    PRODUCTS,
    SCALE_FILE,
    VIEWS,
    WALLS,
    WALLS_PICTURE,
)
from generator.pages.problems.said import said
from generator.pages.wording import wording
from generator.reading.meshes.errors import unusable
from generator.records.depot import Language
from generator.records.problems import Problem, Severity
from generator.rules.left_out import left_out
from generator.systems.store import Store
from tests.fixtures.told import fix, says
from tests.measuring.spoiled import made_spoiled
from tests.reading.meshes import files

BOX = files.box(10, 20, 30)
DRAWN = (*PICTURES, WALLS_PICTURE)


class CountingGuard(Guard):
    """Notes which orders reach the children."""

    def __init__(self, **options):
        super().__init__(**options)
        self.seen = []

    def run_all(self, function, jobs, on_end=None):
        self.seen += [job.order.path.name for job in jobs]
        return super().run_all(function, jobs, on_end)


class NoChildren(Guard):
    """Answers without a child: each job its outcome, the last one again for all that come after it."""

    def __init__(self, *outcomes):
        super().__init__()
        self.outcomes = outcomes
        self.jobs = []

    def run_all(self, function, jobs, on_end=None):
        self.jobs += jobs
        outcomes = [self.outcomes[min(number, len(self.outcomes) - 1)] for number in range(len(jobs))]
        for number, outcome in enumerate(outcomes):
            on_end(number, outcome)
        return tuple(outcomes)


def order(folder, name="model.stl", content=None, **changes):
    path = folder / name
    content = files.binary_stl(*BOX) if content is None else content
    path.write_bytes(content)
    given = {"path": path, "sha256": hashlib.sha256(content).hexdigest(), "units": None, "tint": "#9eadbd", **changes}
    return Order(**given)


def whole(order):
    return Job(order=order, wanted=PRODUCTS)


@pytest.fixture(scope="module")
def box_as_made(tmp_path_factory):
    """Every product of the box, made once for all tests that only hand them on."""
    return made_of(whole(order(tmp_path_factory.mktemp("box"))))


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
    assert good.walls.thinnest_mm == pytest.approx(10, abs=0.05)
    sizes = {"front": (640, 480), "behind": (640, 480), "thumb": (160, 120), "walls": (640, 480)}
    for name, size in sizes.items():
        image = Image.open(io.BytesIO(getattr(good.pictures, name).read()))
        assert (image.format, image.size) == ("WEBP", size)
        assert len({image.convert("RGB").getpixel((x * size[0] // 9, size[1] // 2)) for x in range(9)}) > 3
    assert len({getattr(good.pictures, name).read() for name in ("front", "behind", "walls")}) == 3
    assert good.pictures.front_mm_per_px > 0


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


def made_anew(orders, store):
    """The products that reach a child, by the name of the mesh; none of them comes back."""
    guard = NoChildren(TooLong(1))
    worked_on(orders, store, silent, guard)
    return {job.order.path.name: job.wanted for job in guard.jobs}


def test_what_a_product_depends_on_makes_it_anew_and_nothing_else(built, tmp_path):
    good = built[0]["good"]
    same = {"path": good.path, "sha256": good.sha256, "units": None, "tint": good.tint}
    store = Store(good.path.parent / "store")
    assert made_anew({"same": Order(**same)}, store) == {}
    assert made_anew({"other tint": Order(**same | {"tint": "#202020"})}, store) == {"good.stl": DRAWN}
    for other in ({"units": "inch"}, {"sha256": "0" * 64}, {"path": tmp_path / "good.obj"}):
        (wanted,) = made_anew({"other": Order(**same | other)}, store).values()
        assert wanted == PRODUCTS


@pytest.mark.parametrize(
    ("changed", "wanted"),
    [
        ("generator.measuring.facts_of", (FACTS,)),
        ("generator.measuring.walls_of", (WALLS,)),
        ("generator.measuring.features_of", (FEATURES,)),
        ("generator.measuring.pictures_of", PICTURES),
        ("generator.measuring.walls_picture_of", (WALLS_PICTURE,)),
    ],
)
def test_code_that_changes_makes_anew_what_hangs_on_it(built, monkeypatch, changed, wanted):
    good = built[0]["good"]
    monkeypatch.setattr(kept_products, "code_of", lambda module: code_of(module) + ("newer" * (module == changed)))
    assert made_anew({"good": good}, Store(good.path.parent / "store")) == {"good.stl": wanted}


def test_a_mesh_in_two_colours_is_measured_once(tmp_path):
    orders = {tint: order(tmp_path, f"{tint[1:]}.stl", tint=tint) for tint in ("#202020", "#e0e0e0")}
    asked = made_anew(orders, Store(tmp_path / "store"))
    assert asked == {"202020.stl": PRODUCTS, "e0e0e0.stl": DRAWN}


def test_what_spoils_the_facts_spoils_the_part_in_every_colour(tmp_path):
    orders = {tint: order(tmp_path, f"{tint[1:]}.stl", tint=tint) for tint in ("#202020", "#e0e0e0")}
    guard = NoChildren(TooLong(1), Done({name: {PICTURE_FILE: b"x"} for name in DRAWN}))
    results = worked_on(orders, Store(tmp_path / "store"), silent, guard)
    assert all(isinstance(each, Problem) for each in results.values())


@pytest.mark.parametrize("lose", [Path.unlink, lambda file: file.write_bytes(b"damaged")], ids=["lost", "damaged"])
def test_a_picture_that_the_store_lost_is_drawn_again_when_it_is_read(built, tmp_path, lose):
    good = built[0]["good"]
    store = Store(shutil.copytree(good.path.parent / "store", tmp_path / "store"))
    pictures = worked_on({"good": good}, store, silent, NoChildren(None))["good"].pictures
    before = pictures.behind.read(), pictures.front_mm_per_px
    for file in (tmp_path / "store").rglob("*"):
        if file.name in (PICTURE_FILE, SCALE_FILE):
            lose(file)
    again = worked_on({"good": good}, store, silent, NoChildren(None))["good"].pictures
    assert (again.behind.read(), again.front_mm_per_px) == before
    assert store.get(again.behind.key) == {PICTURE_FILE: before[0]}


def test_a_picture_that_cannot_be_drawn_again_is_an_error_of_the_disk(tmp_path, box_as_made):
    one, blobs = order(tmp_path), box_as_made
    store = Store(tmp_path / "store")
    pictures = worked_on({"a": one}, store, silent, NoChildren(Done(blobs)))["a"].pictures
    assert pictures.thumb.read() == blobs["thumb"][PICTURE_FILE]
    shutil.rmtree(tmp_path / "store")
    one.path.write_bytes(b"another")
    with pytest.raises(FileNotFoundError, match=r"model\.stl"):
        pictures.thumb.read()


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
    blobs = {FACTS: {ERROR_FILE: told}}
    again = worked_on({"a": job}, store, silent, NoChildren(Done(blobs)))["a"]
    assert again == unusable("stl out of place", "save again", line=3, text="x", expected="facet").problem


def test_a_file_that_changes_meanwhile_is_not_kept_under_its_old_name(tmp_path):
    job = order(tmp_path)
    job.path.write_bytes(files.binary_stl(*files.box(1, 1, 1)))
    result = made_of(whole(job))
    assert says(result) == "the file changed while the catalogue was read"
    job.path.unlink()
    assert "cannot be read" in says(made_of(whole(job)))


@pytest.mark.parametrize("left", [11, 12], ids=["open", "closed"])
def test_an_open_mesh_has_no_walls_and_no_picture_of_them(tmp_path, left):
    points, faces = BOX
    one = order(tmp_path, content=files.binary_stl(points, faces[:left]))
    worked = worked_on({"a": one}, Store(tmp_path / "store"), silent, NoChildren(Done(made_of(whole(one)))))["a"]
    is_closed = left == 12
    assert (worked.walls is not None, worked.pictures.walls is not None) == (is_closed, is_closed)


def test_bodies_in_one_place_have_the_walls_of_what_they_are_together(tmp_path):
    points, faces = map(np.asarray, BOX)
    both = np.vstack([points, points + np.array([5, 3, 2])]), np.vstack([faces, faces + len(points)])
    one = order(tmp_path, content=files.binary_stl(*both))
    worked = worked_on({"a": one}, Store(tmp_path / "store"), silent, NoChildren(Done(made_of(whole(one)))))["a"]
    assert worked.facts.volume_mm3 == pytest.approx(12000 - 5 * 17 * 28)
    assert worked.walls is not None
    assert worked.pictures.walls is not None


LINES = files.binary_stl(np.array([[0, 0, 0], [1, 1, 1], [2, 2, 2], [3, 3, 3.0]]), np.array([[0, 1, 2], [1, 2, 3]]))
POINT = files.binary_stl(np.zeros((3, 3)), np.array([[0, 1, 2]]))


@pytest.mark.parametrize(("content", "faces"), [(LINES, 2), (POINT, 1)])
def test_what_has_no_area_is_told_in_words_that_are_kept(tmp_path, content, faces):
    one, store = order(tmp_path, content=content), Store(tmp_path / "store")
    told = worked_on({"a": one}, store, silent, NoChildren(Done(made_of(whole(one)))))["a"]
    assert says(told) == f"none of its {faces} {'face' if faces == 1 else 'faces'} has an area"
    assert made_anew({"a": one}, store) == {}


@pytest.mark.parametrize("error", [ValueError("zero-size array to reduction operation minimum"), IndexError(), RecursionError()])
def test_a_shape_that_nobody_foresaw_is_told_in_words_that_are_kept(tmp_path, monkeypatch, error):
    def no_walls(_opened):
        raise error

    one, store = order(tmp_path), Store(tmp_path / "store")
    with monkeypatch.context() as patch:
        patch.setitem(makers.MAKERS, WALLS, no_walls)
        made = made_of(whole(one))
    told = worked_on({"a": one}, store, silent, NoChildren(Done(made)))["a"]
    assert says(told).startswith("it could not be measured or drawn: nobody foresaw such a shape (in the program: one_mesh.py:")
    assert "reduction" not in says(told)
    assert made_anew({"a": one}, store) == {}


def test_want_of_memory_is_no_mistake_of_the_mesh(tmp_path, monkeypatch):
    def hungry(_opened):
        raise MemoryError

    monkeypatch.setitem(makers.MAKERS, WALLS, hungry)
    with pytest.raises(MemoryError):
        made_of(whole(order(tmp_path)))


class SpoilingGuard(Guard):
    """One product of each mesh is made by a maker that never ends or takes all memory."""

    def __init__(self, product, how):
        super().__init__(workers=1, limits=Limits(processor_s=5, memory_mb=2048))
        self.spoiled = product, how

    def run_all(self, function, jobs, on_end=None):
        assert function is made_of
        return super().run_all(made_spoiled, [(*self.spoiled, job) for job in jobs], on_end)


TOO_LONG = "making a part of this took longer than 2 s and was stopped; left out: "


@pytest.mark.skipif(sys.platform == "win32", reason="no processor time is limited there")
@pytest.mark.parametrize(
    ("product", "how", "missing", "told"),
    [
        (WALLS, "spins", {"walls"}, TOO_LONG + "the thickness of its walls"),
        (VIEWS, "spins", {"views"}, TOO_LONG + "the drawing and the true size"),
        pytest.param(
            FEATURES, "eats", {"features"}, "making a part of this needs more than 2,048 MB of memory; left out: its holes and other features",
            marks=pytest.mark.skipif(sys.platform == "darwin", reason="no address-space limit there"),
        ),
        (MODEL, "spins deaf", {"turnable", "views", "pictures"}, "5 s and was stopped; left out: the model that is turned and measured, the drawing and the true size, its pictures, the picture of its walls"),
    ],
    ids=["walls that spin", "views that spin", "features that eat memory", "a model that hears no signal"],
)  # fmt: skip
def test_what_takes_too_much_is_left_out_alone(tmp_path, product, how, missing, told):
    one, store = order(tmp_path), Store(tmp_path / "store")
    with SpoilingGuard(product, how) as guard:
        worked = worked_on({"a": one}, store, silent, guard)["a"]
    assert worked.facts.volume_mm3 == pytest.approx(6000)
    (problem,) = left_out(worked)
    assert says(problem).endswith(told)
    parts = {name: getattr(worked, name) for name in ("walls", "features", "poses", "likeness", "turnable", "views", "pictures")}
    assert {name for name, each in parts.items() if each is None} == missing
    if worked.pictures:
        assert (worked.pictures.walls is None) == ("walls" in missing)
        assert worked.pictures.front.read()
    asked = set(made_anew({"a": one}, store)["model.stl"])  # what was made is kept, and the rest tried again
    assert product in asked
    assert FACTS not in asked
    assert ("front" in asked) == (worked.pictures is None)


@pytest.mark.parametrize("outcome", [TooLong(60), TooBig(4096), Crashed("its process was ended by SIGSEGV")])
def test_what_was_made_before_the_end_is_kept_in_every_language(tmp_path, box_as_made, outcome):
    one, store = order(tmp_path), Store(tmp_path / "store")
    given = tuple({name: box_as_made[name]} for name in (FACTS, WALLS, FEATURES))
    worked = worked_on({"a": one}, store, silent, NoChildren(replace(outcome, given=given)))["a"]
    assert worked.walls
    assert (worked.poses, worked.pictures, worked.likeness) == (None, None, None)
    assert {language: len(said(left_out(worked)[0], wording(language)).says) > 60 for language in Language} == dict.fromkeys(Language, True)
    without = worked_on({"a": one}, Store(tmp_path / "other"), silent, NoChildren(replace(outcome, given=given[1:])))["a"]
    assert isinstance(without, Problem)


def test_the_more_faces_the_more_time_a_mesh_has():
    assert [processor_s_of(faces) for faces in (12, 400_000, 700_000, 1_000_000, 2_000_000)] == [30, 30, 45, 60, 60]


def test_the_same_mesh_gives_the_same_bytes(tmp_path, box_as_made):
    assert made_of(whole(order(tmp_path))) == box_as_made


def test_without_a_store_the_work_goes_on(tmp_path):
    (tmp_path / "file").write_text("in the way")
    store = Store(tmp_path / "file")
    with Guard() as guard:
        results = worked_on({"a": order(tmp_path)}, store, silent, guard)
    assert results["a"].facts
    assert store.unkept


def test_a_cad_kernel_that_breaks_down_on_a_damaged_file_spoils_nothing_else(tmp_path):
    """Of such files the kernel reads some, drops faces of some, and dies of some; each way is an answer."""
    whole = files.STEP_BOX
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


def test_features_that_were_looked_for_up_to_a_bound_are_told(tmp_path, box_as_made):
    one = order(tmp_path)
    worked = worked_on({"a": one}, Store(tmp_path / "store"), silent, NoChildren(Done(box_as_made)))["a"]
    assert left_out(worked) == ()
    (told,) = left_out(replace(worked, features=replace(worked.features, is_whole=False)))
    assert "there may be more" in says(told)
    assert told.severity is Severity.WARNING
