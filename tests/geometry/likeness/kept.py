"""Descriptors of all made parts and of copies of every seventh, kept so that shares can be asked in each run.

`python -m tests.geometry.likeness.kept` makes them anew, in some minutes; who changes the descriptor runs it. That they are what the
code makes is held for a few of them by `test_unseen.py`.
"""

from collections.abc import Mapping
from pathlib import Path

import numpy as np

from generator.geometry.likeness.described import Descriptor
from tests.geometry.likeness.unseen_parts import NAMES

KEPT = Path(__file__).with_name("descriptors.npz")
SEVENTH = NAMES[::7]
_PLAIN = ("outline", "d2", "shells", "twist")
_STEPS = 65_535  # as Descriptor.to_json rounds shares


def read() -> tuple[dict[str, Descriptor], dict[str, dict[str, Descriptor]]]:
    """Of the known parts by name, and of copies by kind and name."""
    known: dict[str, Descriptor] = {}
    copies: dict[str, dict[str, Descriptor]] = {}
    with np.load(KEPT) as kept:
        arrays = dict(kept)
    for at, told in enumerate(arrays["names"].tolist()):
        kind, _, name = told.rpartition(" ")
        area = float(arrays["area_mm2"][at])
        found = Descriptor(
            size_mm=float(arrays["size_mm"][at]),
            area_mm2=area,
            around=arrays["around"][at] / _STEPS,
            ladder=arrays["ladder"][at] / _STEPS * area,
            **{each: arrays[each][at].astype(np.float64) for each in _PLAIN},
        )
        (copies.setdefault(kind, {}) if kind else known)[name] = found
    return known, copies


def write(described: Mapping[str, Descriptor]) -> None:
    """By name, a copy's with its kind before it."""
    each = list(described.values())
    arrays = {name: np.stack([getattr(one, name) for one in each]).astype("<f4") for name in _PLAIN}
    shares = {"around": [one.around for one in each], "ladder": [one.ladder / one.area_mm2 for one in each]}
    arrays |= {name: np.rint(np.stack(rows) * _STEPS).astype("<u2") for name, rows in shares.items()}
    sizes = {name: np.array([getattr(one, name) for one in each]) for name in ("size_mm", "area_mm2")}
    np.savez_compressed(KEPT, names=np.array(list(described)), **arrays, **sizes)


def main() -> None:
    from tests.geometry.likeness import asked
    from tests.geometry.likeness.unseen_copies import KINDS

    known = {name: asked.known(name) for name in NAMES}
    copies = {f"{kind} {name}": asked.described(KINDS[kind](name)) for kind in KINDS for name in SEVENTH}
    write({name: each for name, each in (known | copies).items() if each})


if __name__ == "__main__":
    main()
