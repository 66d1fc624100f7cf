"""Finds that ask for a size of a table: the next one up from a value, or the largest below it."""

from collections.abc import Mapping
from decimal import Decimal

from witnessmark.files.bank.working_text import WorkingReader, at_least_none
from witnessmark.files.shapes.shapes import StandardShape
from witnessmark.files.shapes.slip_shapes import SizeSlipShape
from witnessmark.files.shapes.yaml_text import Path
from witnessmark.maths.quantities import Dimension
from witnessmark.maths.syntax import Tree, substituted
from witnessmark.questions.model.parts import Slip, StandardPart
from witnessmark.questions.model.question import Table
from witnessmark.questions.model.sizes import Choose, Size, SizeSlip, Takes
from witnessmark.words.nearest import near_or_all

FEWEST_SIZES = 3
MOST_SIZES = 40  # a list of them is printed, and offered to be picked from


class StandardReader(WorkingReader):
    """Reads them, with every problem at its place."""

    def standard(self, shape: StandardShape, path: Path, key: str) -> StandardPart | None:
        """A size to be chosen, or problems."""
        self.marks((*path, "marks"), shape.marks)
        table = self._table(shape, path)
        names: dict[str, Dimension] = {**self.scope.base, **self.carried((*path, "carries"), shape.carries)}
        value = self.working((*path, "value"), shape.value, names)
        self.carries_used((*path, "carries"), shape.carries, [value])
        unit_name = table.units.get(shape.column) if table else None
        if value is not None and unit_name is not None:
            self.scope.has_unit((*path, "value"), value, names, unit_name, shape.is_)
        slips = self._size_slips(shape, path, value, names, unit_name)
        sizes = self._sizes(shape, path, table) if table and unit_name is not None else ()
        if value is None or table is None or unit_name is None or self.has_problems:
            return None
        used = [value, *(slip.answer for slip in slips if isinstance(slip, Slip))]
        return StandardPart(
            key, shape.ask, shape.marks, shape.is_, table.key, shape.column, unit_name, Choose(shape.choose), value,
            sizes, self.result_keys(shape.carries, used), slips,
        )  # fmt: skip

    def _table(self, shape: StandardShape, path: Path) -> Table | None:
        """The table, with a problem where there is none, or no such column of numbers, or no such row."""
        table = self.tables.by_key.get(shape.standard)
        if table is None:
            if shape.standard not in self.tables.broken:
                remedy = near_or_all(shape.standard, self.tables.by_key)
                self.placed.add("unknown-table", (*path, "standard"), "a table of bank/tables",
                                f"'{shape.standard}'", remedy)  # fmt: skip
            self.scope.broken.add(shape.standard)
            return None
        if shape.column not in table.units:
            expected, remedy = f"a column of numbers of {table.key}", near_or_all(shape.column, table.units)
            self.placed.add("unknown-column", (*path, "column"), expected, f"'{shape.column}'", remedy)
        for position, row in enumerate(shape.rows):
            if row not in table.rows:
                remedy = near_or_all(row, table.rows)
                self.placed.add("unknown-row", (*path, "rows", position), f"a row of {table.key}", f"'{row}'", remedy)
        self.each_once((*path, "rows"), shape.rows)
        return table

    def _sizes(self, shape: StandardShape, path: Path, table: Table) -> tuple[Size, ...]:
        """The sizes of the rows, smallest first; a problem where they are few or many, or lack a value or share one."""
        by_value: dict[Decimal, str] = {}
        at: Path = (*path, "column")
        rows: Mapping[str, Mapping[str, Decimal | str]] = {
            name: table.rows[name] for name in shape.rows or table.rows if name in table.rows
        }
        for name, cells in rows.items():
            value = cells.get(shape.column)
            if not isinstance(value, Decimal):
                expected = f"a value of {shape.column} in every row of {table.key} to choose from"
                self.placed.add("empty-cell", at, expected, f"none in '{name}'", "fill it, or name the rows")
            elif value in by_value:
                found = f"{value} in '{by_value[value]}' and in '{name}'"
                self.placed.add("size-twice", at, "each size once", found, "name the rows to choose from")
            else:
                by_value[value] = name
        if not FEWEST_SIZES <= len(rows) <= MOST_SIZES:
            expected = f"{FEWEST_SIZES} to {MOST_SIZES} sizes to choose from"
            self.placed.add("sizes", at, expected, str(len(rows)), "name the rows to choose from")
        return tuple(Size(by_value[value], value) for value in sorted(by_value))

    def _size_slips(
        self, shape: StandardShape, path: Path, value: Tree | None, names: Mapping[str, Dimension], unit: str | None
    ) -> tuple[Slip | SizeSlip, ...]:
        """The slips of the choice: sizes beside the right one, and other values put to the table."""
        found: list[Slip | SizeSlip] = []
        for position, slip in enumerate(shape.slips):
            at: Path = (*path, "slips", position)
            self.misconception((*at, "misconception"), slip.misconception)
            self.keeps((*at, "keeps"), slip.keeps, shape.marks)
            if any(slip.misconception == other.misconception for other in found):
                self.placed.add("slip-twice", at, "each misconception once", f"'{slip.misconception}' again")
            if bool(slip.takes) == bool(slip.value):
                told = "both" if slip.takes else "none"
                self.placed.add("takes-or-value", at, "the key 'takes' or the key 'value'", told)
            elif slip.takes:
                found.append(SizeSlip(slip.misconception, Takes(slip.takes), at_least_none(slip.keeps)))
            elif tree := self._wrong_value(slip, at, value, names):
                if unit is not None:
                    self.scope.has_unit((*at, "value"), tree, {**names, **self.scope.results}, unit, shape.is_)
                found.append(Slip(slip.misconception, tree, at_least_none(slip.keeps)))
        return tuple(found)

    def _wrong_value(
        self, slip: SizeSlipShape, at: Path, value: Tree | None, names: Mapping[str, Dimension]
    ) -> Tree | None:
        """The expression of a slip, which has the dimension of the right value and is not it."""
        tree = self.working((*at, "value"), slip.value, {**names, **self.scope.results})
        if tree is None or value is None:
            return tree
        known = self.scope.formulas
        if substituted(tree, known) == substituted(value, known):
            found = f"'{slip.value}', the right one"
            self.placed.add("slip-is-right", (*at, "value"), "a wrong expression", found)
        return tree
