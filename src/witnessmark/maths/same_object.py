"""A value as a key of a cache: the same only for the same object, since a question holds what cannot be hashed."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache, wraps
from typing import Generic, TypeVar

Held = TypeVar("Held")
Result = TypeVar("Result")
MOST_KEPT = 50_000


@dataclass(frozen=True, slots=True, eq=False)
class SameObject(Generic[Held]):
    """Equal to another only where both hold the one object; it keeps the object alive, so that its id stays its own."""

    it: Held

    def __hash__(self) -> int:
        return id(self.it)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, SameObject) and self.it is other.it


def remembered(work: Callable[[Held], Result]) -> Callable[[Held], Result]:
    """The same function of a tree or its like, worked once for all that are equal; one that is known already is found
    without looking through it."""
    of_equal = lru_cache(MOST_KEPT)(work)

    @lru_cache(MOST_KEPT)
    def of_this(same: SameObject[Held]) -> Result:
        return of_equal(same.it)

    @wraps(work)
    def known(value: Held) -> Result:
        return of_this(SameObject(value))

    return known
