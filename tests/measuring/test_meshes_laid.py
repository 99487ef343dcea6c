"""What nobody could confirm on the meshes is never called the same."""

from types import SimpleNamespace

import pytest

from generator.geometry.likeness.kinds import Compared, Sameness
from generator.measuring.guarded import Done, TooLong
from generator.measuring.meshes_laid import asks_for_meshes, confirmed, mesh_pair_laid
from generator.measuring.one_mesh import Order


def laid(kind, covered=1.0):
    return Compared(kind=kind, distance_mm=0.02, ratio=1.0, covered=covered, explained=1.0, within_mm=0.1)


def ended(outcome):
    return SimpleNamespace(run_all=lambda job, pairs: [outcome for _ in pairs])


@pytest.mark.parametrize("outcome", [TooLong(1.0), Done(None)], ids=["too long", "changed meanwhile"])
def test_what_could_not_be_measured_is_only_similar_and_not_sure(outcome):
    ((told, is_sure),) = confirmed([(None, None, laid(Sameness.SAME))], ended(outcome))
    assert (told.kind, is_sure) == (Sameness.SIMILAR, False)


def test_the_meshes_have_the_last_word():
    assert confirmed([(None, None, laid(Sameness.SAME))], ended(Done(laid(Sameness.OTHER)))) == [(laid(Sameness.OTHER), True)]


def test_what_nearly_lies_on_the_other_is_measured_too_and_a_piece_is_not():
    assert asks_for_meshes(laid(Sameness.SIMILAR, 0.99))
    assert not asks_for_meshes(laid(Sameness.SIMILAR, 0.6))


def test_a_file_that_is_not_what_was_measured_says_nothing(tmp_path):
    (tmp_path / "a.stl").write_bytes(b"solid nothing")
    order = Order(path=tmp_path / "a.stl", sha256="0" * 64, units=None, tint="#000000")
    assert mesh_pair_laid((order, order)) is None
