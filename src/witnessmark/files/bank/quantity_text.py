"""Finds that ask a number with a unit, with the division of the scale where it is read from a figure."""

from decimal import Decimal

from witnessmark.files.bank.working_text import Right, WorkingReader
from witnessmark.files.shapes.shapes import QuantityShape
from witnessmark.files.shapes.yaml_text import Path
from witnessmark.maths.quantities import Dimension
from witnessmark.questions.model.division import Division
from witnessmark.questions.model.kinds import result_names
from witnessmark.questions.model.parts import QuantityPart

SHARES = {"half a division": Decimal("0.5"), "one division": Decimal(1)}


class QuantityReader(WorkingReader):
    """Reads them, with every problem at its place."""

    def quantity(self, shape: QuantityShape, path: Path, key: str) -> QuantityPart | None:
        """A number, or problems."""
        self.marks((*path, "marks"), shape.marks)
        is_sound = has_unit = self.placed.unit((*path, "unit"), shape.unit)
        carried = self.carried((*path, "carries"), shape.carries)
        names: dict[str, Dimension] = {**self.scope.base, **carried}
        lines = self.lines(shape.lines, path, key, names)
        self.line_marks(shape.lines, path, shape.marks)
        answer = self.working((*path, "answer"), shape.answer, names)
        if answer is not None and is_sound:
            is_sound = self.scope.has_unit((*path, "answer"), answer, names, shape.unit, shape.is_)
        self.carries_used((*path, "carries"), shape.carries, [answer, *(line.value for line in lines)])
        tolerance, off = self.tolerance((*path, "tolerance"), shape.tolerance, shape.unit if has_unit else "")
        right = Right(shape.marks, answer, lines, result_names(key, shape.symbol))
        slips = self.slips(shape.slips, right, path, names)
        division = self.division(shape, path)
        self.name_result(key, shape.symbol, shape.unit, answer if is_sound else None, path)
        if answer is None or self.has_problems:
            return None
        used = [answer, *(line.value for line in lines), *(slip.answer for slip in slips)]
        return QuantityPart(
            key, shape.ask, shape.marks, shape.is_, shape.symbol, shape.unit, answer, lines,
            self.result_keys(shape.carries, used), slips, tolerance, shape.figures, division, off,
        )  # fmt: skip

    def division(self, shape: QuantityShape, path: Path) -> Division | None:
        """What a reading may be off; a problem where it lacks a division or the figures that its scale gives."""
        if shape.division is None:
            if "read_to" in shape.model_fields_set:
                self.placed.add_key("missing-key", (*path, "read to"), "the key 'division'", "none", "add division:")
            return None
        if shape.division <= 0:
            self.placed.add(
                "division",
                (*path, "division"),
                "a division greater than 0",
                str(shape.division),
                "type what one division of the scale is worth",
            )
            return None
        if shape.figures is None:
            expected = "the key 'figures': its scale says to how many a value is read"
            self.placed.add_key("missing-key", (*path, "division"), expected, "none", "add figures:")
        return Division(shape.division, SHARES[shape.read_to])
