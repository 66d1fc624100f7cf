"""Most pieces of a figure are the same for many students: one that was drawn before is not drawn again."""

from collections.abc import Callable
from functools import lru_cache
from typing import Any

from witnessmark.documents.figures.part import Part

MOST_KEPT = 4096
EXACT = frozenset({int, bool, type(None)})


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
        by_name = [(name, _fixed(value)) for name, value in sorted(named.items())] if named else ()
        self._key = (*[_fixed(value) for value in values], *by_name)

    def __hash__(self) -> int:
        return hash(self._key)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Told) and self._key == other._key


def _fixed(value: Any) -> object:
    kind = type(value)
    if kind is str or (kind is float and value):
        return value
    if kind in EXACT:
        return kind, value  # True is equal to 1
    if kind is list or kind is tuple:
        return tuple([_fixed(one) for one in value])
    if kind is float or isinstance(value, str):
        return kind, repr(value)  # 0.0 is equal to -0.0, and text that is marked as escaped to text
    raise _CannotBeKept
