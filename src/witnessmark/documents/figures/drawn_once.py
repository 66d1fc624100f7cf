"""Most pieces of a figure are the same for many students: one that was drawn before is not drawn again."""

from collections.abc import Callable, Hashable
from functools import lru_cache
from typing import Any

from witnessmark.documents.figures.part import Part

MOST_KEPT = 4096


def drawn_once(piece: Callable[..., Part]) -> Callable[..., Part]:
    """The function of a piece, which keeps what it drew by all that it was told."""

    @lru_cache(maxsize=MOST_KEPT)
    def kept(told: "_Told") -> Part:
        return piece(*told.values, **told.named)

    def draw(*values: Any, **named: Any) -> Part:
        try:
            return kept(_Told(values, named))
        except _CannotBeKept:
            return piece(*values, **named)

    return draw


class _CannotBeKept(TypeError):
    """Something was told that is no number, no text and no list of such."""


class _Told:
    """What a piece was told, as a key: two are the same only where nothing can be drawn otherwise."""

    __slots__ = ("_key", "named", "values")

    def __init__(self, values: tuple[Any, ...], named: dict[str, Any]) -> None:
        self.values, self.named = values, named
        self._key = (*map(_fixed, values), *((name, _fixed(value)) for name, value in sorted(named.items())))

    def __hash__(self) -> int:
        return hash(self._key)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Told) and self._key == other._key


def _fixed(value: object) -> Hashable:
    kind = type(value)
    if isinstance(value, str) and kind is str:
        return value
    if isinstance(value, float) and value:
        return value
    if isinstance(value, list | tuple):
        return tuple(map(_fixed, value))
    if kind in {int, float, bool, type(None)} or isinstance(value, str):
        return kind, repr(value)  # True is equal to 1, 0.0 to -0.0, and text that is marked as escaped to text
    raise _CannotBeKept
