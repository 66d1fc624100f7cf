"""Finds that ask two limits, such as the largest and the smallest size, as two quantities of one part."""

from decimal import Decimal

from witnessmark.files.bank.working_text import WorkingReader, at_least_none
from witnessmark.files.shapes.shapes import LimitShape, LimitsShape
from witnessmark.files.shapes.slip_shapes import LimitsSlipShape
from witnessmark.files.shapes.yaml_text import Path
from witnessmark.maths.quantities import Dimension
from witnessmark.maths.syntax import Tree, is_name, substituted
from witnessmark.questions.model.mark_steps import keeps_text
from witnessmark.questions.model.parts import LimitsPart, QuantityPart, Slip

SIDES = ("largest", "smallest")
Answers = dict[str, Tree]
"""The right expressions by side."""


class LimitsReader(WorkingReader):
    """Reads them, with every problem at its place."""

    def limits(self, shape: LimitsShape, path: Path, key: str) -> LimitsPart | None:
        """Two limits, or problems."""
        self.marks((*path, "marks"), shape.marks)
        is_sound = self.placed.unit((*path, "unit"), shape.unit)
        names: dict[str, Dimension] = {**self.scope.base, **self.carried((*path, "carries"), shape.carries)}
        of_sides = dict(zip(SIDES, (shape.limits.largest, shape.limits.smallest), strict=True))
        answers: Answers = {}
        for side, limit in of_sides.items():
            tree = self._side(limit, (*path, "limits", side), names, shape.unit if is_sound else None)
            answers |= {side: tree} if tree is not None else {}
        self.carries_used((*path, "carries"), shape.carries, [answers.get(side) for side in SIDES])
        tolerance, off = self.tolerance((*path, "tolerance"), shape.tolerance, shape.unit if is_sound else "")
        slips = self._both_slips(shape, path, names, answers)
        for side, limit in of_sides.items():
            at: Path = (*path, "limits", side)
            self.name_result(key, limit.symbol, shape.unit, answers.get(side) if is_sound else None, at, side)
        if len(answers) < len(SIDES) or self.has_problems:
            return None
        largest, smallest = (
            QuantityPart(
                f"{key}.{side}", shape.ask, shape.marks, limit.is_, limit.symbol, shape.unit, answers[side], (),
                self.result_keys(shape.carries, [answers[side], *(slip.answer for slip in slips[side])]),
                tuple(slips[side]), tolerance, shape.figures, off=off,
            )
            for side, limit in of_sides.items()
        )  # fmt: skip
        return LimitsPart(key, shape.ask, shape.marks, largest, smallest)

    def _side(self, limit: LimitShape, at: Path, names: dict[str, Dimension], unit_name: str | None) -> Tree | None:
        """How one limit is worked; `unit_name` is None where the unit is none."""
        if not is_name(limit.symbol):
            expected = "a symbol that later parts can type: letters a to z, digits and _"
            self.placed.add("symbol-to-type", (*at, "symbol"), expected, f"'{limit.symbol}'", "type D_max, say")
        tree = self.working((*at, "answer"), limit.answer, names)
        if tree is None or unit_name is None:
            return tree
        return tree if self.scope.has_unit((*at, "answer"), tree, names, unit_name, limit.is_) else None

    def _both_slips(
        self, shape: LimitsShape, path: Path, names: dict[str, Dimension], answers: Answers
    ) -> dict[str, list[Slip]]:
        """The slips of each side. One whose expression is left out is right there."""
        found: dict[str, list[Slip]] = {side: [] for side in SIDES}
        seen: set[str] = set()
        for position, slip in enumerate(shape.slips):
            at: Path = (*path, "slips", position)
            self.misconception((*at, "misconception"), slip.misconception)
            if slip.misconception in seen:
                self.placed.add("slip-twice", at, "each misconception once", f"'{slip.misconception}' again")
            seen.add(slip.misconception)
            texts = {side: text for side, text in zip(SIDES, (slip.largest, slip.smallest), strict=True) if text}
            if not texts:
                self.placed.add("missing-key", at, "the key 'largest', the key 'smallest', or both", "none")
            keeps = self._kept_by_side(slip, (*at, "keeps"), shape.marks, len(texts))
            for side, text in texts.items():
                tree = self._wrong((*at, side), text, side, shape, names, answers)
                found[side] += [Slip(slip.misconception, tree, keeps)] if tree is not None else []
        return found

    def _kept_by_side(self, slip: LimitsSlipShape, at: Path, marks: Decimal, wrong: int) -> Decimal:
        """What a wrong value keeps out of the marks of the part, so that the whole slip keeps what it says: a right
        value beside it has half of them already."""
        self.keeps(at, slip.keeps, marks)
        if wrong == 1 and slip.keeps * 2 < marks:
            expected = f"{keeps_text(marks)}, and at least half of them, which the other value earns"
            self.placed.add("keeps", at, expected, str(slip.keeps))
        return at_least_none(slip.keeps if wrong != 1 else 2 * slip.keeps - marks)

    def _wrong(
        self, at: Path, text: str, side: str, shape: LimitsShape, names: dict[str, Dimension], answers: Answers
    ) -> Tree | None:
        """A slip's expression; the symbols of the two limits in it stand for the right values."""
        own = (shape.limits.largest.symbol, shape.limits.smallest.symbol)
        tree = self.working(at, text, {**names, **self.scope.results}, own)
        if tree is None or len(answers) < len(SIDES):
            return None
        meant = dict(zip(own, (answers[s] for s in SIDES), strict=True))
        tree = substituted(tree, meant)
        if substituted(tree, self.scope.formulas) == substituted(answers[side], self.scope.formulas):
            found = f"'{text}', the right one"
            self.placed.add("slip-is-right", at, "a wrong expression", found, f"leave {side} out")
        return tree
