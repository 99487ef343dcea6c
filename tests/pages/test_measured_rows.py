"""How is what was recognised in the model told?"""

from generator.geometry.features.kinds import Feature, Features, Hand, Kind, Void
from generator.pages.part.measured import measured_rows
from generator.pages.wording import wording
from generator.records.depot import Language

AXES = ((1, 0, 0), (0, 1, 0), (0, 0, 1))


def feature(kind, size, at=(0.0, -1e-9, 2.0), **more):
    return Feature(kind=kind, at=at, axis=(0.0, 0.0, 1.0), size_mm=size, within_mm=0.01, **more)


def told(*found, language=Language.ENGLISH):
    features = Features(found=found, size_mm=(9, 9, 9), box_mm=(9, 9, 9), box_axes=AXES)
    return [(each.feature, each.size, each.depth, each.where) for each in measured_rows(features, wording(language))]


def test_equal_holes_are_one_row_with_each_place():
    holes = [feature(Kind.HOLE, 4.3, at=(x, 0.0, 0.0), length_mm=5.0, is_inner=True, is_through=True) for x in (1.0, 2.0)]
    assert told(*holes) == [("2 × Round hole", "Ø 4.30", "through, 5.0", "1.0 / 0.0 / 0.0; 2.0 / 0.0 / 0.0")]


def test_seats_threads_and_arcs_are_named():
    assert told(
        feature(Kind.HOLE, 8.6, seat=1, second_mm=4.3, length_mm=2.2, is_inner=True),
        feature(Kind.HOLE, 10.2, arc_deg=250.0, length_mm=20.0, is_inner=True),
        feature(Kind.THREAD, 31.8, second_mm=1.5, hand=Hand.LEFT, length_mm=16.5),
    ) == [
        ("Round hole", "Ø 10.20 (250°)", "20.0", "0.0 / 0.0 / 2.0"),
        ("Countersink", "Ø 8.60", "2.2", "0.0 / 0.0 / 2.0"),
        ("Outside, thread-like, left-hand", "Ø 31.80 × 1.5", "16.5", "0.0 / 0.0 / 2.0"),
    ]


def test_every_kind_has_its_words_in_each_language():
    for language in Language:
        for kind in Kind:
            for is_inner in (True, False):
                rows = told(feature(kind, 9.0, length_mm=3.0, is_inner=is_inner, count=5, hand=Hand.RIGHT), language=language)
                assert bool(rows) is (kind is not Kind.FACES)


def test_nothing_recognised_has_no_row():
    assert measured_rows(None, wording(Language.ENGLISH)) == ()


def test_a_void_is_told_as_a_hollow_and_as_no_hole():
    cube = (60.0, 60.0, 60.0)
    features = Features(found=(), size_mm=cube, box_mm=cube, box_axes=AXES, voids=(Void(at=(30.0, 30.0, 24.0), size_mm=(28.0, 27.94, 27.9)),))
    rows = [measured_rows(features, wording(each)) for each in Language]
    assert [each.feature for each, *_ in rows] == ["Closed hollow, nothing opens it", "Lukket hulrum uden åbning", "Geschlossener Hohlraum, ohne Öffnung"]
    assert (rows[0][0].size, rows[0][0].where) == ("28.0 × 27.9 × 27.9", "30.0 / 30.0 / 24.0")
