"""How often is a copy found again the whole way, as `spares match` goes it? For reading, asserted nowhere.

python -m tests.geometry.likeness.report_whole_way [copies of each kind, 5 if not said] [kinds ...] [--kept FOLDER] [--half tuned|unseen]

Descriptors leave sixteen, these are laid onto the copy, the likeliest are measured on both meshes: the very functions, in this
process. What is made is kept in FOLDER for as long as the code is what it was. `report_unseen` tells of the descriptor alone,
over all copies. Half: families are sorted, and every other one was looked at where something was tuned.
"""

import argparse
import hashlib
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from generator.geometry.measured import Kept, Likeness
from generator.geometry.mesh import Mesh
from generator.measuring.code import code_of
from generator.measuring.guarded import Done, Guard
from generator.measuring.likeness_of import likeness_of
from generator.measuring.matching import Match, Shape, matched
from generator.measuring.one_mesh import Order
from generator.measuring.opened import Opened
from generator.measuring.products import LIKENESS_FILE, SURFACE_FILE
from generator.systems.store import Store, key_of
from tests.fixtures.stl import stl
from tests.geometry.likeness.unseen_copies import KINDS
from tests.geometry.likeness.unseen_parts import FAMILIES, HANDS, NAMES, family, part

_SPREAD = 0.6180339887498949  # multiples of the golden section are spread evenly over all names
TUNED = frozenset(sorted(make.__name__ for make in FAMILIES)[::2])


def shape(name: str, made: Callable[[], Mesh], folder: Path, store: Store) -> Shape:
    """The file of a mesh and what it is compared by, from the store where the code is what it was."""
    file = folder / f"{name}.stl"
    if not file.is_file():
        mesh = made()
        file.write_bytes(stl(mesh.vertices_mm[mesh.faces]))
    content = file.read_bytes()
    key = key_of("likeness of", code_of("generator.measuring.likeness_of"), content)
    kept = store.get(key)
    if kept is None:
        kept = likeness_of(Opened(content, ".stl", None))
        store.put(key, kept)
    one, other = kept[LIKENESS_FILE], kept[SURFACE_FILE]
    likeness = Likeness(descriptor=Kept(key, lambda: one), surface=Kept(f"{key} points", lambda: other))
    return Shape(likeness=likeness, file=Order(path=file, sha256=hashlib.sha256(content).hexdigest(), units=None, tint=""))


def in_this_process(_: Guard, function: Callable[[Any], Any], jobs: Sequence[Any], on_end: object = None) -> list[Done[Any]]:
    """In the place of guarded children."""
    return [Done(function(job)) for job in jobs]


def chosen(kind: str, count: int, half: str | None) -> list[str]:
    names = [name for name in NAMES if half is None or (family(name) in TUNED) == (half == "tuned")]
    at = list(KINDS).index(kind)
    return list(dict.fromkeys(names[int((at * 0.37 + i * _SPREAD) % 1 * len(names))] for i in range(count)))


def told(kind: str, names: list[str], known: dict[str, Shape], folder: Path, store: Store) -> str:
    first = hand = three = 0
    missed: list[str] = []
    words: Counter[str] = Counter()
    took = 0.0
    for name in names:
        asked = shape(f"{kind} {name}", lambda name=name: KINDS[kind](name), folder, store)  # type: ignore[misc]
        began = time.process_time()
        found: tuple[Match, ...] = matched(asked, known, store)
        took += time.process_time() - began
        near, right = [each.name for each in found], {name, HANDS.get(name, name)}
        first += near[0] in right
        hand += near[0] == name or (kind == "mirrored" and near[0] == HANDS.get(name))
        three += bool(right & set(near[:3]))
        missed += [f"{name}: {near[0]}"] if near[0] not in right else []
        words.update(each.compared.kind.value for each in found if each.name in right)
    share = "".join(f"{count / len(names):8.3f}" for count in (first, hand, three))
    return f"{kind:12}{len(names):5}{share}{took / len(names):8.1f}   {dict(words.most_common())} {', '.join(missed)}"


def main() -> None:
    asked = argparse.ArgumentParser()
    asked.add_argument("count", nargs="?", type=int, default=5)
    asked.add_argument("kinds", nargs="*", choices=[[], *KINDS])
    asked.add_argument("--kept", type=Path)
    asked.add_argument("--half", choices=("tuned", "unseen"))
    options = asked.parse_args()
    with tempfile.TemporaryDirectory() as once:
        folder = options.kept or Path(once)
        folder.mkdir(exist_ok=True)
        store = Store(folder / "store")
        Guard.run_all = in_this_process  # type: ignore[assignment,method-assign]
        known = {name: shape(f"known {name}", lambda name=name: part(name), folder, store) for name in NAMES}  # type: ignore[misc]
        print(f"among {len(NAMES)} parts\n{'copy':12}{'asked':>5}{'first':>8}{'by hand':>8}{'of three':>8}{'s':>8}   the word of the right one; missed")
        for kind in options.kinds or KINDS:
            print(told(kind, chosen(kind, options.count, options.half), known, folder, store), flush=True)


if __name__ == "__main__":
    main()
