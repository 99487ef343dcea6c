"""How often is a copy found again, and by which word is it called? Over all parts; for reading, asserted nowhere.

python -m tests.geometry.likeness.report_unseen [every Nth part for the words, 6 if not said] [kinds ...]
"""

import sys
import time
from collections import Counter
from itertools import pairwise

from tests.geometry.likeness import asked
from tests.geometry.likeness.unseen_copies import KINDS
from tests.geometry.likeness.unseen_parts import HANDS, NAMES, OTHER_HOLES, family, part


def of_kind(kind: str) -> str:
    first = hand = three = 0
    missed: Counter[str] = Counter()
    took = 0.0
    for name in NAMES:
        copy = KINDS[kind](name)
        began = time.perf_counter()
        near = [each for each, *_ in asked.nearest(copy, NAMES)[:3]]
        took += time.perf_counter() - began
        right = {name, HANDS.get(name, name)}
        hand += near[:1] == [name]
        first += near[0] in right if near else 0
        three += bool(right & set(near))
        missed[family(name)] += not right & set(near)
    worst = ", ".join(f"{each} {count}" for each, count in missed.most_common(4) if count)
    share = [f"{count / len(NAMES):8.3f}" for count in (first, hand, three)]
    return f"{kind:12}{''.join(share)}{took / len(NAMES) * 1000:8.0f}   {worst}"


def words(kind: str, every: int) -> Counter[str]:
    return Counter(asked.compared(KINDS[kind](name), part(name))[0] for name in NAMES[::every])


def pairs() -> dict[str, Counter[str]]:
    """Parts that are not the same, by how they differ."""
    in_a_row = [(one, other) for one, other in pairwise(NAMES) if family(one) == family(other) and HANDS.get(one) != other]
    strangers = [(one, NAMES[(at * 7 + 60) % len(NAMES)]) for at, one in enumerate(NAMES[::8])]
    told = {"hands": tuple(HANDS.items()), "other holes": OTHER_HOLES, "of one family": in_a_row[::3],
            "strangers": [(one, other) for one, other in strangers if family(one) != family(other)]}  # fmt: skip
    return {how: Counter(asked.compared(part(one), part(other))[0] for one, other in these) for how, these in told.items()}


def row(name: str, counted: Counter[str]) -> str:
    return f"{name:14}" + "".join(f"{counted[word]:12}" for word in asked.WORDS)


def main() -> None:
    every = int(sys.argv[1]) if len(sys.argv) > 1 else 6
    kinds = sys.argv[2:] or list(KINDS)
    print(f"{len(NAMES)} parts\n{'copy':12}{'first':>8}{'by hand':>8}{'of three':>8}{'ms':>8}   missed most")
    for kind in kinds:
        print(of_kind(kind), flush=True)
    print(f"\n{'the word':14}" + "".join(f"{word:>12}" for word in asked.WORDS))
    for kind in kinds:
        print(row(kind, words(kind, every)), flush=True)
    for how, counted in pairs().items():
        print(row(how, counted), flush=True)


if __name__ == "__main__":
    main()
