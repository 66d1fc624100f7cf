"""Frozen dataclasses to JSON text and back, by their annotations: decimals stay exact, any text survives.

A field that a later version adds takes its default when older data lacks it; a field that was dropped is passed over.
pydantic writes and reads the text. Where it would spell a value otherwise than this record always has (a small float:
`0.00001` for `1e-05`), lose it (a float that is no number becomes null) or refuse it (half of a surrogate pair), `json`
does.
"""

import json
import re
from collections.abc import Collection
from functools import cache
from typing import Any, TypeVar

from pydantic import TypeAdapter, ValidationError
from pydantic.errors import PydanticSchemaGenerationError
from pydantic_core import PydanticSerializationError

T = TypeVar("T")
Plain = Any
"""What JSON can hold."""
SPELT_OTHERWISE = re.compile(rb"[0-9]e-[0-9]|0\.0000|null")


class Unreadable(ValueError):
    """Stored text that is not what its place in the record should hold."""


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


def from_json(text: str) -> Plain:
    """Plain data of stored JSON text. Unreadable where it is none."""
    try:
        return json.loads(text)
    except (ValueError, RecursionError) as error:
        raise Unreadable(f"stored text that is no JSON: {error}") from error


def dump(value: Any, without: Collection[str] = ()) -> str:
    """A dataclass as JSON text, some of its fields left out. ValueError for a float that is no number."""
    kind: Any = type(value)
    of, left_out = adapter(kind), set(without) or None
    try:
        text = of.dump_json(value, exclude=left_out)
    except PydanticSerializationError:
        text = b"null"
    if SPELT_OTHERWISE.search(text):
        return to_json(of.dump_python(value, mode="json", exclude=left_out))
    return text.decode()


def load(cls: type[T], text: str) -> T:
    """The value of a type back from its JSON text. Unreadable where the text does not hold one."""
    of: Any = cls
    try:
        found: T = adapter(of).validate_json(text)
    except ValidationError:
        found = from_plain(cls, from_json(text))  # pydantic's reader refuses half of a surrogate pair
    return found


def from_plain(cls: type[T], plain: Plain) -> T:
    """The value of a type from plain data. Unreadable where it does not fit."""
    of: Any = cls
    try:
        found: T = adapter(of).validate_python(plain)
    except ValidationError as error:
        first = error.errors(include_url=False, include_input=False)[0]
        where = ".".join(map(str, first["loc"]))
        raise Unreadable(f"stored text that is no {cls.__name__}: {where or 'all of it'}: {first['msg']}") from error
    return found


@cache
def adapter(of: Any) -> TypeAdapter[Any]:
    """What turns values of a type to plain data and back; built once for each type."""
    try:
        return TypeAdapter(of)
    except PydanticSchemaGenerationError as error:
        raise TypeError(f"the record cannot hold {of}") from error
