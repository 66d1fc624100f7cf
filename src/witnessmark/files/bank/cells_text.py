"""A find for each row of the table: its cells as parts of their own, a number each, under the keys `a1`, `a2`, ..."""

from dataclasses import replace
from decimal import Decimal

from witnessmark.files.bank.quantity_text import QuantityReader
from witnessmark.files.shapes.column_shapes import EachRowShape
from witnessmark.files.shapes.shapes import QuantityShape
from witnessmark.files.shapes.yaml_text import Path
from witnessmark.questions.model.parts import QuantityPart
from witnessmark.questions.model.table import MOST_ROWS, TableColumn, cell_key, cell_name


class CellsReader(QuantityReader):
    """Reads the finds that ask a column of the table."""

    def cells(self, shape: EachRowShape, path: Path, key: str) -> tuple[QuantityPart, ...]:
        """The cell of every row, or none with the problems of the first; `asked_columns` has the column then."""
        if not self.rows:
            self.placed.add_key("no-table", (*path, "each row"), "a table: with rows", "none", "add table:")
            return self._broken(shape, key)
        if not self.scope.claim((*path, "symbol"), shape.symbol, f"the column of part {key}", at_key=False):
            return self._broken(shape, key)
        self._told_at(path)
        self.scope.columns[shape.symbol] = self.rows
        parts: list[QuantityPart] = []
        for row in range(1, self.rows + 1):
            part = self._cell(shape, path, key, row)
            if part is None:
                return self._broken(shape, key)
            parts.append(part)
        self.asked_columns.append(
            TableColumn(shape.symbol, shape.is_, shape.symbol, shape.unit, self.rows, key, shape.ask)
        )
        return tuple(parts)

    def _broken(self, shape: EachRowShape, key: str) -> tuple[QuantityPart, ...]:
        """No parts, and no further problems where the column or its cells are named."""
        self.scope.broken |= {shape.symbol, key, *(cell_name(shape.symbol, row) for row in range(1, MOST_ROWS + 1))}
        return ()

    def _told_at(self, path: Path) -> None:
        """What is found in the answer of a cell is told at the formula of its column."""
        spots = self.placed.text.values
        if (formula := spots.get((*path, "each row"))) is not None:
            spots[(*path, "answer")] = formula

    def _cell(self, shape: EachRowShape, path: Path, key: str, row: int) -> QuantityPart | None:
        said = shape.model_dump(by_alias=True, exclude_unset=True)
        of_row = {
            "answer": said.pop("each row"), "ask": f"{shape.ask} Row {row}.", "is": f"{shape.is_}, row {row}",
            "symbol": cell_name(shape.symbol, row), **({"figures": Decimal(shape.figures)} if shape.figures else {}),
        }  # fmt: skip
        cell = QuantityShape.model_validate({**said, **of_row})
        self.column_of[cell_key(key, row)] = key
        self.scope.row = row
        part = self.quantity(cell, path, cell_key(key, row))
        self.scope.row = 0
        return part and replace(part, in_table=True)
