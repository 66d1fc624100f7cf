"""A question as a student has it before them: the expressions and units of its file, nothing worked out by others."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from witnessmark.strangers.arithmetic import Expression, keyed_angles, names_in, read, with_names
from witnessmark.strangers.tables import cells_of, columns_in, is_told, without_columns

Sheet = Mapping[str, tuple[str, str]]
"""The numbers of one student, by name, as they are printed: digits and unit."""


@dataclass(frozen=True, slots=True)
class Line:
    """A result on the way."""

    name: str
    unit: str
    tree: Expression


@dataclass(frozen=True, slots=True)
class Listed:
    """A wrong method that the question lists: its name, the line it stands in (or nothing), and how it is worked."""

    name: str
    line: str
    tree: Expression


@dataclass(frozen=True, slots=True)
class Asked:
    """One number that is asked: its letter, the name of its result, how it is worked, and the figures that it asks for
    itself (0: none)."""

    key: str
    name: str
    unit: str
    lines: tuple[Line, ...]
    tree: Expression
    carries: tuple[str, ...]
    listed: tuple[Listed, ...]
    figures: int = 0

    @property
    def own(self) -> frozenset[str]:
        """The names that are worked out within it."""
        return frozenset(line.name for line in self.lines)


@dataclass(frozen=True, slots=True)
class Paper:
    """A question: its key, level, the units of its givens (with those nobody is told) and what numbers it asks."""

    key: str
    level: int
    told: Mapping[str, str]
    asked: tuple[Asked, ...] = field(default=())

    def part(self, key: str) -> Asked:
        """The number asked under a letter; KeyError where there is none."""
        return next(a for a in self.asked if a.key == key)


def paper_of(text: Mapping[str, Any], units: Mapping[str, str]) -> Paper:
    """A question from the mapping that its file holds; `units` are those of every number on a sheet, by name."""
    told = {n: u for n, u in units.items() if "." in n or "is" in text.get("given", {}).get(n, {"is": ""})}
    columns = columns_in(text)
    told = {n: u for n, u in told.items() if not columns or is_told(n, text)}
    finds: Mapping[str, Any] = text["find"]
    rows = max(columns.values(), default=0)
    numbers = [one for letter, find in finds.items() for one in _numbers(letter, find, finds, rows)]
    asked = [_asked(key, without_columns(find, columns) if columns else find) for key, find in numbers]
    return Paper(str(text["question"]), int(text["level"]), told, tuple(asked))


def _numbers(
    letter: str, find: Mapping[str, Any], finds: Mapping[str, Any], rows: int
) -> Iterator[tuple[str, Mapping[str, Any]]]:
    """The numbers that a find asks: one, both of two limits or the cells of a column (as finds of one number), or
    none."""
    carries = [key for earlier in map(str, find.get("carries", ())) for key in _keys(earlier, finds, rows)]
    if "each row" in find:
        yield from ((key, {**cell, "carries": carries}) for key, cell in cells_of(letter, find, rows))
    if _is_number(find):
        yield letter, {**find, "carries": carries}
    for side, limit in find.get("limits", {}).items():
        slips = [{**slip, "answer": slip[side]} for slip in find.get("slips", ()) if side in slip]
        both = {"unit": find.get("unit", ""), "figures": find.get("figures", 0)}
        yield f"{letter}.{side}", {**limit, **both, "carries": carries, "slips": slips}


def _keys(letter: str, finds: Mapping[str, Any], rows: int) -> list[str]:
    """The keys of the numbers under a letter."""
    if "each row" in finds[letter]:
        return [key for key, _ in cells_of(letter, finds[letter], rows)]
    return [f"{letter}.{side}" for side in finds[letter].get("limits", ())] or [letter]


def _is_number(find: Mapping[str, Any]) -> bool:
    return "answer" in find and "choice" not in find


def _asked(key: str, find: Mapping[str, Any]) -> Asked:
    symbol = str(find.get("symbol", ""))
    name = symbol if symbol.isascii() and symbol.isidentifier() else key
    lines = [Line(n, str(of.get("unit", "")), read(str(of["value"]))) for n, of in find.get("lines", {}).items()]
    tree, by_line = read(str(find["answer"])), {line.name: line.tree for line in lines}
    listed = tuple(_listed(find.get("slips", ()), name, tree, by_line))
    carries = tuple(map(str, find.get("carries", ())))
    figures = int(find.get("figures", 0))
    return Asked(key, name, str(find.get("unit", "")), tuple(lines), tree, carries, listed, figures)


def _listed(slips: Any, name: str, tree: Expression, by_line: Mapping[str, Expression]) -> Iterator[Listed]:
    """The listed wrong methods; the name of the line or result they replace stands for what is right there."""
    for slip in slips:
        line = str(slip.get("line", ""))
        replaced, right = (line, by_line[line]) if line else (name, tree)
        wrong = keyed_angles(read(str(slip["answer"])))
        if replaced in names_in(wrong):
            wrong = with_names(wrong, {replaced: right})
        yield Listed(str(slip["misconception"]), line, wrong)
