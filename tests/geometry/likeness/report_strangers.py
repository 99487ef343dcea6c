"""Is what others made and scanned ever taken for one of our parts? For reading; exit 1 where one is called the same in any size or hand.

python -m tests.geometry.likeness.report_strangers FOLDER

FOLDER: STL, OBJ, PLY or GLB files of anything, such as the sample data of packages of geometry, unpacked beside the repository (none that
the tests install carries any). Each is asked among the 222 made parts: the nearest are laid onto it, and what is called the
same there is measured on both meshes. Then they stand among the parts: does a copy find one of them first? Nothing of them is kept.
"""

import sys
from collections import Counter
from pathlib import Path

from generator.geometry.likeness.aligned import compared, surfaces_compared
from generator.geometry.likeness.descriptor import described
from generator.geometry.likeness.kinds import Sameness
from generator.geometry.likeness.nearest import nearest
from generator.geometry.likeness.surface import surface_of
from generator.geometry.mesh import Mesh
from generator.measuring.matching import LAID
from generator.measuring.meshes_laid import asks_for_meshes
from generator.reading.meshes.errors import MeshError
from generator.reading.meshes.load import mesh_from_bytes
from tests.geometry.likeness import kept
from tests.geometry.likeness.unseen_parts import part

_WHOLE = (Sameness.SAME, Sameness.SCALED, Sameness.OTHER_HAND)


def strangers(folder: Path) -> dict[str, Mesh]:
    found = {}
    for file in sorted(each for each in folder.rglob("*") if each.suffix.lower() in (".stl", ".obj", ".ply", ".glb")):
        try:
            found[file.relative_to(folder).as_posix()] = mesh_from_bytes(file.read_bytes(), file.suffix.lower(), None).mesh
        except MeshError as error:
            print(f"{file.name}: not read, {error.problem.key}")
    return found


def called(mesh: Mesh, name: str) -> Sameness:
    """As `spares match` calls it."""
    one, other = surface_of(mesh), surface_of(part(name))
    if one is None or other is None:
        return Sameness.OTHER
    told = surfaces_compared(one, other)
    return compared(mesh, part(name)).kind if asks_for_meshes(told) else told.kind


def main() -> int:
    known, copies = kept.read()
    odd = {}
    words: Counter[str] = Counter()
    taken = []
    for name, mesh in strangers(Path(sys.argv[1])).items():
        surface = surface_of(mesh)
        descriptor = described(surface) if surface else None
        if descriptor is None:
            print(f"{name}: has no area")
            continue
        odd[f"stranger {name}"] = descriptor
        kinds = {each.name: called(mesh, each.name) for each in nearest(descriptor, known)[:LAID]}
        words.update(kind.value for kind in kinds.values())
        taken += [(name, other, kind.value) for other, kind in kinds.items() if kind in _WHOLE]
        like = [f"{kind.value} {other}" for other, kind in kinds.items() if kind is not Sameness.OTHER]
        print(f"{name}: {len(mesh.faces)} faces, {', '.join(like) or 'like none'}", flush=True)
    print(f"{len(odd)} strangers, each laid onto {LAID} parts: {dict(words)}; called the same in any size or hand: {taken or 'none'}")
    every = known | odd
    for kind, some in copies.items():
        firsts = [nearest(each, every)[0].name for each in some.values()]
        print(f"{kind:12} of {len(firsts)} copies, a stranger is the nearest of {sum(each in odd for each in firsts)}")
    return 1 if taken else 0


if __name__ == "__main__":
    sys.exit(main())
