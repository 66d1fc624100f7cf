"""Frozen dataclasses to JSON text and back, by their annotations: decimals stay exact, any text survives.

A coder is built once for each type. A field that a later version adds takes its default when older data lacks it; a
field that was dropped is passed over. The text is written piece by piece, which takes half the time of building plain
data first.
"""

import json
from collections.abc import Callable, Mapping
from dataclasses import MISSING, fields, is_dataclass
from datetime import date
from decimal import Decimal
from enum import Enum
from functools import cache
from json.encoder import encode_basestring
from math import isfinite
from types import NoneType, UnionType
from typing import Any, NamedTuple, TypeVar, Union, get_args, get_origin, get_type_hints

T = TypeVar("T")
Plain = Any
"""What JSON can hold."""
Writer = Callable[[Any], str]


class Coder(NamedTuple):
    """Both ways of one type: to JSON text, and from plain data."""

    write: Writer
    back: Callable[[Plain], Any]


def storable(text: str) -> str:
    """JSON text as UTF-8 can hold it: half a surrogate pair is escaped."""
    return text if is_storable(text) else json.dumps(json.loads(text), separators=(",", ":"))


def is_storable(text: str) -> bool:
    """True when a text can be written as UTF-8."""
    try:
        text.encode()
    except UnicodeEncodeError:
        return False
    return True


def to_json(plain: Plain) -> str:
    """Plain data as JSON text, letters as they are. ValueError for a float that is no number."""
    return storable(json.dumps(plain, ensure_ascii=False, allow_nan=False, separators=(",", ":")))


def dump(value: Any) -> str:
    """A dataclass as JSON text."""
    of: Any = type(value)
    return storable(coder(of).write(value))


def load(cls: type[T], text: str) -> T:
    """The dataclass back from its JSON text."""
    of: Any = cls
    found: T = coder(of).back(json.loads(text))
    return found


@cache
def coder(of: Any) -> Coder:
    """The coder of a type: dataclasses, tuples, dicts by text, decimals, dates, enumerations, optional values."""
    if is_dataclass(of):
        return Coder(writer_of(of), _reader_of(of))
    origin, inner = get_origin(of), get_args(of)
    if origin is tuple:
        return _tuple_coder(inner)
    if origin is dict:
        return _dict_coder(inner[1])
    if origin in (Union, UnionType):
        return _optional_coder(inner)
    return _scalar_coder(of)


def writer_of(cls: Any, without: tuple[str, ...] = ()) -> Writer:
    """Writes a dataclass as JSON text, some fields left out."""
    hints = get_type_hints(cls)
    each = [(f'"{f.name}":', f.name, coder(hints[f.name]).write) for f in fields(cls) if f.name not in without]

    def write(value: Any) -> str:
        return "{" + ",".join([label + into(getattr(value, name)) for label, name, into in each]) + "}"

    return write


def _reader_of(cls: Any) -> Callable[[Plain], Any]:
    hints = get_type_hints(cls)
    each = [(f.name, coder(hints[f.name]).back) for f in fields(cls)]
    needed = {f.name for f in fields(cls) if f.default is MISSING and f.default_factory is MISSING}

    def back(plain: Mapping[str, Plain]) -> Any:
        return cls(**{name: read(plain[name]) for name, read in each if name in plain or name in needed})

    return back


def _scalar_coder(of: Any) -> Coder:
    if of is str:
        return Coder(encode_basestring, _same)
    if of is Decimal:
        return Coder(lambda d: f'"{d}"', Decimal)
    if of is date:
        return Coder(lambda d: f'"{d.isoformat()}"', date.fromisoformat)
    if isinstance(of, type) and issubclass(of, Enum):
        texts = {member: json.dumps(member.value) for member in of}
        return Coder(texts.__getitem__, of)
    if of is float:
        return Coder(_float, float)
    if of in (int, bool):
        return Coder(json.dumps, _same)
    raise TypeError(f"the record cannot hold {of}")


def _float(value: float) -> str:
    if not isfinite(value):
        raise ValueError(f"{value} cannot be stored as a number")
    return repr(float(value))


def _same(value: Any) -> Any:
    return value


def _optional_coder(inner: tuple[Any, ...]) -> Coder:
    (kept,) = (t for t in inner if t is not NoneType)
    write, back = coder(kept)
    return Coder(lambda v: "null" if v is None else write(v), lambda p: None if p is None else back(p))


def _tuple_coder(inner: tuple[Any, ...]) -> Coder:
    if len(inner) == 2 and inner[1] is Ellipsis:
        write, back = coder(inner[0])
        reader: Callable[[Plain], Any] = tuple if back is _same else lambda p: tuple(map(back, p))
        return Coder(lambda v: f"[{','.join(map(write, v))}]" if v else "[]", reader)
    each = [coder(t) for t in inner]
    return Coder(
        lambda v: f"[{','.join(c.write(x) for c, x in zip(each, v, strict=True))}]",
        lambda p: tuple(c.back(x) for c, x in zip(each, p, strict=True)),
    )


def _dict_coder(of_values: Any) -> Coder:
    write, back = coder(of_values)
    return Coder(
        lambda v: "{" + ",".join(f"{encode_basestring(k)}:{write(x)}" for k, x in v.items()) + "}",
        lambda p: {k: back(x) for k, x in p.items()},
    )
