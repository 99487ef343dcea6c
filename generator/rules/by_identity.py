"""What is worked out once of records that are deep: the key compares them by identity, for to compare all that they hold is dear."""

from dataclasses import dataclass
from operator import is_
from typing import Generic, TypeVarTuple

Held = TypeVarTuple("Held")


@dataclass(frozen=True, slots=True, eq=False)
class ByIdentity(Generic[*Held]):
    """Of equal keys each holds the very same things, which stay as they are as long as the key is kept."""

    held: tuple[*Held]

    def __hash__(self) -> int:
        return hash(tuple(map(id, self.held)))

    def __eq__(self, other: object) -> bool:
        return isinstance(other, ByIdentity) and len(self.held) == len(other.held) and all(map(is_, self.held, other.held))
