"""Frozen dataclasses to plain data and back, by their annotations: decimals stay exact, any text survives.

A coder is built once for each type. A field that a later version adds takes its default when older data lacks it; a
field that was dropped is passed over.
"""

import json
from collections.abc import Callable
from dataclasses import MISSING, fields, is_dataclass
from datetime import date
from decimal import Decimal
from enum import Enum
from functools import cache
from types import NoneType, UnionType
from typing import Any, NamedTuple, TypeVar, Union, get_args, get_origin, get_type_hints

T = TypeVar("T")
Plain = Any
"""What JSON can hold."""


class Coder(NamedTuple):
    """Both ways of one type."""

    to_plain: Callable[[Any], Plain]
    from_plain: Callable[[Plain], Any]


def to_json(value: Any) -> str:
    """A value as JSON text: names in order of the fields, letters as they are.

    Text with half a surrogate pair cannot be stored as UTF-8; it is escaped. ValueError for a float that is no number.
    """
    text = json.dumps(value, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
    return text if is_storable(text) else json.dumps(value, allow_nan=False, separators=(",", ":"))


def is_storable(text: str) -> bool:
    """True when a text can be written as UTF-8."""
    try:
        text.encode()
    except UnicodeEncodeError:
        return False
    return True


def dump(value: Any) -> str:
    """A dataclass as JSON text."""
    of: Any = type(value)
    return to_json(coder(of).to_plain(value))


def load(cls: type[T], text: str) -> T:
    """The dataclass back from its JSON text."""
    of: Any = cls
    found: T = coder(of).from_plain(json.loads(text))
    return found


@cache
def coder(of: Any) -> Coder:
    """The coder of a type: dataclasses, tuples, dicts by text, decimals, dates, enumerations, optional values."""
    if is_dataclass(of):
        return _dataclass_coder(of)
    origin, inner = get_origin(of), get_args(of)
    if origin is tuple:
        return _tuple_coder(inner)
    if origin is dict:
        return _dict_coder(inner[1])
    if origin in (Union, UnionType):
        return _optional_coder(inner)
    return _scalar_coder(of)


def _scalar_coder(of: Any) -> Coder:
    if of is Decimal:
        return Coder(str, Decimal)
    if of is date:
        return Coder(lambda d: d.isoformat(), date.fromisoformat)
    if isinstance(of, type) and issubclass(of, Enum):
        return Coder(lambda e: e.value, of)
    if of in (str, int, float, bool):
        return Coder(_same, _same)
    raise TypeError(f"the record cannot hold {of}")


def _same(value: Any) -> Any:
    return value


def _optional_coder(inner: tuple[Any, ...]) -> Coder:
    (kept,) = (t for t in inner if t is not NoneType)
    into, back = coder(kept)
    return Coder(lambda v: None if v is None else into(v), lambda p: None if p is None else back(p))


def _tuple_coder(inner: tuple[Any, ...]) -> Coder:
    if len(inner) == 2 and inner[1] is Ellipsis:
        into, back = coder(inner[0])
        if into is _same:
            return Coder(list, tuple)
        return Coder(lambda v: [into(x) for x in v], lambda p: tuple(back(x) for x in p))
    each = [coder(t) for t in inner]
    return Coder(
        lambda v: [c.to_plain(x) for c, x in zip(each, v, strict=True)],
        lambda p: tuple(c.from_plain(x) for c, x in zip(each, p, strict=True)),
    )


def _dict_coder(of_values: Any) -> Coder:
    into, back = coder(of_values)
    return Coder(lambda v: {k: into(x) for k, x in v.items()}, lambda p: {k: back(x) for k, x in p.items()})


def _dataclass_coder(cls: Any) -> Coder:
    hints = get_type_hints(cls)
    each = [(f.name, coder(hints[f.name])) for f in fields(cls)]
    needed = {f.name for f in fields(cls) if f.default is MISSING and f.default_factory is MISSING}

    def into(value: Any) -> Plain:
        return {name: c.to_plain(getattr(value, name)) for name, c in each}

    def back(plain: Plain) -> Any:
        return cls(**{name: c.from_plain(plain[name]) for name, c in each if name in plain or name in needed})

    return Coder(into, back)
