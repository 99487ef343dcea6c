"""Which files are recorded as papers that they cannot all be?

One file is a certificate, a fire report or the proof of properties, never two of them, and no two reports; it speaks of one
material, unless both are of one grade.
Common practice, no source: a copied entry is the usual slip.
"""

from collections import defaultdict
from collections.abc import Mapping

from generator.records.fire import FireTest
from generator.records.materials import Certificate, Material
from generator.records.problems import Path
from generator.records.proof import Proof

Recorded = tuple[str, Path, Certificate | FireTest | Proof]
"""Id of the material, place in its record, and the paper."""


def contested(materials: Mapping[str, Material]) -> dict[str, tuple[Recorded, ...]]:
    """Every file by its SHA-256 that is recorded so, with all that it is recorded as; none of it counts."""
    by_file: dict[str, list[Recorded]] = defaultdict(list)
    for name, material in sorted(materials.items()):
        for i, certificate in enumerate(material.certificates):
            by_file[certificate.sha256].append((name, ("certificates", i), certificate))
        for i, test in enumerate(material.fire_tests):
            by_file[test.sha256].append((name, ("fire_tests", i), test))
        for i, proof in enumerate(material.proof):
            by_file[proof.sha256].append((name, ("proof", i), proof))
    return {sha256: tuple(each) for sha256, each in by_file.items() if _cannot_be(each, materials)}


def _cannot_be(recorded: list[Recorded], materials: Mapping[str, Material]) -> bool:
    kinds = {type(paper) for _, _, paper in recorded}
    names = {name for name, _, _ in recorded}
    grades = {materials[name].grade for name in names}
    one_twice = len(recorded) > len(names) and FireTest in kinds
    return len(kinds) > 1 or one_twice or (len(names) > 1 and (len(grades) > 1 or None in grades))
