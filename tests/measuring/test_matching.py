"""What is laid onto a stranger's model, and is it laid again when the catalogue grows?"""

import json
from pathlib import Path

import pytest

from generator.geometry.likeness.kinds import Compared, Sameness
from generator.geometry.measured import Kept, Likeness
from generator.measuring.guarded import Done, Guard
from generator.measuring.matching import LAID, Shape, matched
from generator.measuring.one_mesh import Order
from generator.systems.store import Store
from tests.geometry.likeness import kept

KNOWN, COPIES = kept.read()
APART = Compared(kind=Sameness.OTHER, distance_mm=1.0, ratio=1.0, covered=0.2, explained=0.2, within_mm=0.1)


def shape(name, descriptor):
    told = json.dumps(descriptor.to_json()).encode()
    likeness = Likeness(descriptor=Kept(name, lambda: told), surface=Kept(name, name.encode))
    return Shape(likeness=likeness, file=Order(path=Path(name), sha256=name, units=None, tint=""))


@pytest.fixture
def laid(monkeypatch):
    """The names of the known shapes that children were asked to lay, in the place of children."""
    jobs = []

    def run_all(_, __, asked, on_end=None):
        jobs.extend(other.decode() for ((_, other),) in asked)
        return [Done((APART,)) for _ in asked]

    monkeypatch.setattr(Guard, "run_all", run_all)
    return jobs


def test_the_nearest_are_laid_and_each_pair_once_however_the_catalogue_grows(laid, tmp_path):
    store, names = Store(tmp_path), list(KNOWN)
    asked = shape("asked", COPIES["noisy"][kept.SEVENTH[4]])
    few = {name: shape(name, KNOWN[name]) for name in names[:40]}
    found = matched(asked, few, store)
    assert sorted(laid) == sorted(each.name for each in found)
    assert len(laid) == LAID
    assert matched(asked, few, store) == found
    every = {name: shape(name, each) for name, each in KNOWN.items()}
    more = matched(asked, every, store)
    assert sorted(laid) == sorted({each.name for each in found} | {each.name for each in more})
    assert len(laid) == len(set(laid)) > LAID
