"""What the tests take from a shelf in place of a child's work is what that child would have given."""

import hashlib

import pytest

from generator.measuring.guarded import Done, Guard, Limits
from generator.measuring.one_mesh import Job, Order, made_of
from generator.measuring.products import ERROR_FILE, FACTS, WALLS
from tests.fixtures import measured_once
from tests.reading.meshes import files


@pytest.fixture
def asked(monkeypatch):
    """How many jobs each question brought to the children, whose work is done here."""
    seen = []

    def here(guard, function, jobs, on_end):
        seen.append(len(jobs))
        for number, job in enumerate(jobs):
            on_end and on_end(number, Done(function(job)))
        return tuple(Done(function(job)) for job in jobs)

    monkeypatch.setattr(measured_once, "_REAL", here)
    return seen


def job(file, *wanted, content=None):
    if content is not None:
        file.write_bytes(content)
    return Job(order=Order(path=file, sha256=hashlib.sha256(file.read_bytes()).hexdigest(), units=None, tint="#808080"), wanted=wanted)


def outcomes(jobs, **options):
    told = {}
    with measured_once.measured_once(), Guard(workers=1, **options) as guard:
        found = guard.run_all(made_of, jobs, told.__setitem__)
    assert tuple(told[number] for number in range(len(jobs))) == found
    return found


def test_what_was_made_once_is_given_as_a_child_gives_it(tmp_path, asked):
    box = job(tmp_path / "box.stl", FACTS, WALLS, content=files.binary_stl(*files.box(3, 5, 7)))
    broken = job(tmp_path / "broken.stl", FACTS, WALLS, content=b"no mesh")
    first = outcomes([box, broken])
    assert outcomes([broken, box]) == first[::-1]
    assert asked == [2, 0]
    with Guard(workers=1) as guard:
        assert guard.run_all(made_of, [box, broken]) == first
    assert ERROR_FILE in first[1].value[FACTS]


def test_what_a_child_may_see_otherwise_goes_to_a_child(tmp_path, asked):
    box = job(tmp_path / "box.stl", FACTS, content=files.binary_stl(*files.box(3, 5, 9)))
    outcomes([box])
    outcomes([box], limits=Limits(seconds=60))
    larger = job(tmp_path / "larger.stl", FACTS, content=files.binary_stl(*files.box(3, 5, 11)))
    outcomes([larger, box])
    (tmp_path / "box.stl").write_bytes(b"changed meanwhile")
    (changed,) = outcomes([box])
    assert isinstance(changed, Done)
    assert not isinstance(changed.value, dict)
    (tmp_path / "box.stl").unlink()
    (gone,) = outcomes([box])
    assert not isinstance(gone.value, dict)
    assert asked == [1, 1, 1, 1, 1]
