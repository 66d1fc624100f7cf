"""A value as a key of a cache: the same only for the same object, since a question holds what cannot be hashed."""

from dataclasses import dataclass
from typing import Generic, TypeVar

Held = TypeVar("Held")


@dataclass(frozen=True, slots=True, eq=False)
class SameObject(Generic[Held]):
    """Equal to another only where both hold the one object; it keeps the object alive, so that its id stays its own."""

    it: Held

    def __hash__(self) -> int:
        return id(self.it)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, SameObject) and self.it is other.it
