"""Data put into a shape, and each misfit with its path in the data and the keys that would have fitted there."""

from dataclasses import dataclass
from typing import Any, TypeVar

from witnessmark.files.shapes.column_shapes import MeasuredTableShape
from witnessmark.files.shapes.relation_shapes import NamedLetterShape, RelationShape
from witnessmark.files.shapes.shapes import (
    FIND_KEYS,
    FINDS,
    GIVEN_KEYS,
    GIVENS,
    ITEMS,
    BothLimitsShape,
    LimitShape,
    keys_of,
    validated,
)
from witnessmark.files.shapes.slip_shapes import (
    JudgeSlipShape,
    LimitsSlipShape,
    OrderSlipShape,
    PairSlipShape,
    SetSlipShape,
    SizeSlipShape,
)
from witnessmark.files.shapes.task_shapes import LateShape, RulesShape
from witnessmark.files.shapes.values import (
    Shape,
)
from witnessmark.files.shapes.yaml_text import Path

TAG_AT = 2  # where pydantic names the member of a union: ("find", "a", "judge", ...)


@dataclass(frozen=True, slots=True)
class ShapeError:
    """One misfit: its path in the data, pydantic's name for it, its limits, the value found, the keys allowed there."""

    path: Path
    kind: str
    limits: dict[str, Any]
    found: Any
    allowed: tuple[str, ...] = ()


S = TypeVar("S", bound=Shape)
SLIPS_OF: dict[str, type[Shape]] = {
    "limits": LimitsSlipShape, "judge": JudgeSlipShape, "order": OrderSlipShape, "several": SetSlipShape,
    "match": PairSlipShape,
    "standard": SizeSlipShape,
}  # fmt: skip
"""The slips of those kinds of find that have their own."""
ITEMS_OF: dict[str, type[Shape]] = {**ITEMS, "letters": NamedLetterShape, "relations": RelationShape}
BY_NAME = ("lines", "letters", "columns", "behind")  # these hold their items by name, others one after the other


def fitted(shape: type[S], data: Any, above: Path = ()) -> tuple[S | None, tuple[ShapeError, ...]]:
    """The data in its shape, or every misfit; `above` is the path of the data in its file."""
    value, errors = validated(shape, data)
    found = [_misfit(shape, e["type"], e["loc"], e.get("ctx", {}), e["input"], data) for e in errors]
    return value, tuple(ShapeError((*above, *e.path), e.kind, e.limits, e.found, e.allowed) for e in found)


def _misfit(shape: type[Shape], kind: str, loc: Path, limits: dict[str, Any], found: Any, data: Any) -> ShapeError:
    keys = keys_of(_owner(shape, loc)) if kind in ("extra_forbidden", "missing") else ()
    if kind == "union_tag_not_found":
        keys = tuple(GIVEN_KEYS) if loc[0] == "given" else tuple(FIND_KEYS)
    return ShapeError(_path(loc, data), kind, limits, found, keys)


def _path(loc: Path, data: Any) -> Path:
    """The path in the data: what pydantic says, without the tags of its unions."""
    path: list[str | int] = []
    for position, step in enumerate(loc):
        if position == TAG_AT and loc[0] in ("given", "find") and step in {**GIVENS, **FINDS}:
            continue
        inside = data is not None and (
            step in data if isinstance(data, dict) else isinstance(data, list) and isinstance(step, int)
        )
        if inside or position == len(loc) - 1:
            path.append(step)
            data = data[step] if inside else None
    return tuple(path)


def _owner(shape: type[Shape], loc: Path) -> type[Shape]:
    """The shape whose key stands at the end of this path."""
    above = loc[:-1]
    if len(above) > 1 and above[-2] in ITEMS_OF and (above[-2] in BY_NAME or isinstance(above[-1], int)):
        slips = next((SLIPS_OF[tag] for tag in SLIPS_OF if tag in above), None) if above[-2] == "slips" else None
        return slips or ITEMS_OF[str(above[-2])]
    if above == ("table",):
        return MeasuredTableShape
    if "limits" in above and above[-1] in ("largest", "smallest"):
        return LimitShape
    if above[TAG_AT:] == ("limits", "limits"):
        return BothLimitsShape
    of_task: dict[str, type[Shape]] = {"rules": RulesShape, "late": LateShape}
    if len(above) == 1 and above[0] in of_task:
        return of_task[str(above[0])]
    return {**GIVENS, **FINDS}.get(str(above[-1]), shape) if len(above) > 2 else shape


def keys_of_finds() -> frozenset[str]:
    """Every key that some kind of find knows."""
    return frozenset(key for shape in FINDS.values() for key in keys_of(shape))


def keys_of_givens() -> frozenset[str]:
    """Every key that some kind of given knows."""
    return frozenset(key for shape in GIVENS.values() for key in keys_of(shape))
