"""The finds of a question file, as parts: one reader a kind. The one module of `files/` that tells kinds apart."""

import re
from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import assert_never

from witnessmark.files.bank.cells_text import CellsReader
from witnessmark.files.bank.limits_text import LimitsReader
from witnessmark.files.bank.options_text import OptionsReader
from witnessmark.files.bank.pairs_text import PairsReader
from witnessmark.files.bank.standard_text import StandardReader
from witnessmark.files.bank.working_text import Right
from witnessmark.files.shapes.column_shapes import EachRowShape
from witnessmark.files.shapes.shapes import (
    AnyFind,
    ChoiceShape,
    ExpressionShape,
    HandShape,
    JudgeShape,
    LimitsShape,
    MatchShape,
    OrderShape,
    PointsShape,
    QuantityShape,
    SeveralShape,
    StandardShape,
    ValuesShape,
)
from witnessmark.files.shapes.slip_shapes import OrderSlipShape
from witnessmark.files.shapes.yaml_text import Path
from witnessmark.maths.syntax import Comparison, Tree, names_in
from witnessmark.questions.model.kinds import result_names
from witnessmark.questions.model.mark_steps import is_in_steps
from witnessmark.questions.model.options import Point
from witnessmark.questions.model.parts import (
    ExpressionPart,
    HandPart,
    JudgePart,
    OrderPart,
    Part,
    PointsPart,
    ValueChoicePart,
)
from witnessmark.questions.model.slips import JudgeSlip, OrderSlip
from witnessmark.words.nearest import near_or_all

LETTER = re.compile(r"[a-z]")
LIMIT = re.compile(
    r"(?P<left>.+?)\s*(?P<op><=|>=|<|>)\s*(?P<number>[-+]?[0-9.]+(?:[eE][-+]?[0-9]{1,2})?)\s+(?P<unit>[^\W\d].*|°.*)"
)


class PartReader(OptionsReader, PairsReader, LimitsReader, StandardReader, CellsReader):
    """Reads the finds of one question in order."""

    def read_all(self, finds: Mapping[str, AnyFind]) -> tuple[Part, ...]:
        """Every part in file order, but for those with problems."""
        parts: list[Part] = []
        for key, shape in finds.items():
            path: Path = ("find", key)
            if not LETTER.fullmatch(key):
                self.placed.add_key("part-letter", path, "one small letter for each find", f"'{key}'", "type a, b, c")
            elif self.scope.owners.get(key) == "a given" and self.letters_are_free:
                found = f"'{key}', which is the letter of a part as well"
                remedy = f"call it {key}_1, say, and add symbol: {key}"
                self.placed.add_key("name-of-part", ("given", key), "a name that no part has", found, remedy)
            self.scope.placeholders((*path, "ask"), shape.ask)
            self.found_before = len(self.placed.problems)
            part = self._read(shape, path, key)
            if part is not None:
                parts += part if isinstance(part, tuple) else [part]
        return tuple(parts)

    def _read(self, shape: AnyFind, path: Path, key: str) -> Part | tuple[Part, ...] | None:
        match shape:
            case QuantityShape():
                return self.quantity(shape, path, key)
            case LimitsShape():
                return self.limits(shape, path, key)
            case JudgeShape():
                return self._judge(shape, path, key)
            case StandardShape():
                return self.standard(shape, path, key)
            case ChoiceShape():
                return self.choice(shape, path, key)
            case ValuesShape():
                return self._values(shape, path, key)
            case SeveralShape():
                return self.several(shape, path, key)
            case MatchShape():
                return self.match(shape, path, key)
            case ExpressionShape():
                return self._expression(shape, path, key)
            case OrderShape():
                return self._order(shape, path, key)
            case PointsShape():
                return self._points(shape, path, key)
            case HandShape():
                return self._hand(shape, path, key)
            case EachRowShape():
                return self.cells(shape, path, key)
        assert_never(shape)

    def _judge(self, shape: JudgeShape, path: Path, key: str) -> Part | None:
        self.marks((*path, "marks"), shape.marks)
        self.carried((*path, "carries"), shape.carries)
        names = {**self.scope.base, **self.scope.results}
        if limit := LIMIT.fullmatch(shape.judge):
            number, unit_name = limit["number"], limit["unit"].strip()
            remedy = (
                f"make it a given, such as limit: {{is: limit, unit: {unit_name}, one of: [{number}]}}, and type limit"
            )
            at: Path = (*path, "judge")
            self.placed.add(
                "number-with-unit", at, "names alone, each with its unit", f"'{number} {unit_name}'", remedy
            )
            return None
        tree = self.scope.expression((*path, "judge"), shape.judge, names)
        if tree is not None and self.comparison((*path, "judge"), tree, True):
            self.scope.dimension((*path, "judge"), tree, names)
        for position, slip in enumerate(shape.slips):
            self.misconception((*path, "slips", position, "misconception"), slip.misconception)
        yes_words, no_words = self.words_of_judgement(shape.yes_words, shape.no_words, path)
        if not isinstance(tree, Comparison) or self.has_problems:
            return None
        return JudgePart(
            key, shape.ask, shape.marks, tree, self._judged(tree, shape.carries),
            tuple(JudgeSlip(slip.misconception) for slip in shape.slips), yes_words, no_words,
        )  # fmt: skip

    def _judged(self, tree: Tree, carries: Sequence[str]) -> tuple[str, ...]:
        """The letters of the quantities that a judgement carries: those named, and those whose results it uses."""
        used = names_in(tree) & self.scope.part_of.keys()
        letters = {self.scope.part_of[name] for name in used} | set(carries)
        carried = [letter for letter in self.quantities if letter in letters]
        cells = set(self.column_of.values())
        return tuple(key for one in carried for key in (self.result_keys([one], [tree]) if one in cells else (one,)))

    def words_of_judgement(self, yes: list[str], no: list[str], path: Path) -> tuple[tuple[str, ...], tuple[str, ...]]:
        """The further words of yes and no, in small letters; a problem for one under both, or that is not one word."""
        lists = [tuple(word.casefold() for word in words) for words in (yes, no)]
        for key, words in zip(("yes words", "no words"), lists, strict=True):
            for position, word in enumerate(words):
                if not word.isalpha():
                    self.placed.add("one-word", (*path, key, position), "one word of letters alone", f"'{word}'")
        for position, word in enumerate(lists[1]):
            if word in lists[0]:
                at: Path = (*path, "no words", position)
                self.placed.add("word-twice", at, "each word under yes words or no words", f"'{word}' under both")
        return lists[0], lists[1]

    def _expression(self, shape: ExpressionShape, path: Path, key: str) -> Part | None:
        self.marks((*path, "marks"), shape.marks)
        names = self.scope.base
        answer = self.working((*path, "expression"), shape.expression, names)
        if answer is not None and shape.unit is None:
            self.scope.dimension((*path, "expression"), answer, names)
        elif answer is not None and shape.unit is not None and self.placed.unit((*path, "unit"), shape.unit):
            self.scope.has_unit((*path, "expression"), answer, names, shape.unit, shape.is_ or "the expression")
        right = Right(shape.marks, answer, names=result_names(key, shape.symbol))
        slips = self.slips(shape.slips, right, path, names)
        if answer is None or self.has_problems:
            return None
        return ExpressionPart(
            key, shape.ask, shape.marks, shape.is_, shape.symbol, shape.unit or "", answer, slips
        )  # fmt: skip

    def _values(self, shape: ValuesShape, path: Path, key: str) -> Part | None:
        self.marks((*path, "marks"), shape.marks)
        names = self.scope.base
        answer = self.working((*path, "answer"), shape.answer, names)
        is_sound = self.placed.unit((*path, "unit"), shape.unit)
        if answer is not None and is_sound:
            self.scope.has_unit((*path, "answer"), answer, names, shape.unit, shape.is_)
        slips = self.slips(shape.slips, Right(shape.marks, answer, names=(key,)), path, names)
        for position, slip in enumerate(slips):
            if is_sound:
                self.scope.has_unit((*path, "slips", position, "answer"), slip.answer, names, shape.unit, shape.is_)
        if answer is None or self.has_problems:
            return None
        return ValueChoicePart(key, shape.ask, shape.marks, shape.is_, shape.unit, answer, slips, shape.figures)

    def _order(self, shape: OrderShape, path: Path, key: str) -> Part | None:
        self.marks((*path, "marks"), shape.marks)
        self.each_once((*path, "order"), shape.order)
        for position, step in enumerate(shape.order):
            self.scope.placeholders((*path, "order", position), step)
        for position, slip in enumerate(shape.slips):
            self._order_slip(slip, (*path, "slips", position), shape.order)
        if self.has_problems:
            return None
        slips = tuple(OrderSlip(s.misconception, s.puts, s.before) for s in shape.slips)
        return OrderPart(key, shape.ask, shape.marks, tuple(shape.order), slips, shuffled=True)

    def _order_slip(self, slip: OrderSlipShape, at: Path, steps: list[str]) -> None:
        """A problem where a slip names no step, or puts two steps as they belong."""
        self.misconception((*at, "misconception"), slip.misconception)
        unknown = [(key, step) for key, step in (("puts", slip.puts), ("before", slip.before)) if step not in steps]
        for key, step in unknown:
            self.placed.add("unknown-step", (*at, key), "a step of this order", f"'{step}'", near_or_all(step, steps))
        if not unknown and steps.index(slip.puts) <= steps.index(slip.before):
            found = f"'{slip.puts}', which belongs there"
            self.placed.add("slip-is-right", (*at, "puts"), f"a step that must follow '{slip.before}'", found)

    def _points(self, shape: PointsShape, path: Path, key: str) -> Part | None:
        self.marks((*path, "marks"), shape.marks)
        if shape.needed > len(shape.points):
            expected = f"at most {len(shape.points)}, the number of points listed"
            self.placed.add("needed", (*path, "needed"), expected, str(shape.needed))
        elif not is_in_steps(abs(shape.marks) / shape.needed):
            expected = f"marks that share out in halves over {shape.needed} points"
            self.placed.add("marks", (*path, "marks"), expected, str(shape.marks))
        wordings: dict[str, str] = {}
        for name, accepted in shape.points.items():
            if not name.strip():
                self.placed.add_key("missing-key", (*path, "points", name), "a name for this point", f"'{name}'")
            for position, wording in enumerate(accepted):
                taken = wordings.setdefault(wording.casefold(), name)
                if taken != name:
                    at: Path = (*path, "points", name, position)
                    self.placed.add("wording-twice", at, "each wording under one point", f"'{wording}' also in {taken}")
        self._refused(shape, (*path, "refuse"))
        if self.has_problems:
            return None
        points = tuple(
            Point(name, tuple(accepted), tuple(shape.refuse.get(name, ()))) for name, accepted in shape.points.items()
        )
        return PointsPart(key, shape.ask, shape.marks, points, shape.needed)

    def _refused(self, shape: PointsShape, at: Path) -> None:
        """A problem where wordings are refused for a point that is not listed, or refused and accepted for one."""
        for name, refused in shape.refuse.items():
            if name not in shape.points:
                remedy = near_or_all(name, list(shape.points))
                self.placed.add_key("unknown-point", (*at, name), "a point of this find", f"'{name}'", remedy)
            accepted = {wording.casefold() for wording in shape.points.get(name, ())}
            for position, wording in enumerate(refused):
                if wording.casefold() in accepted:
                    expected = f"a wording that {name} does not accept"
                    self.placed.add("accepted-and-refused", (*at, name, position), expected, f"'{wording}'")

    def _hand(self, shape: HandShape, path: Path, key: str) -> Part | None:
        for position, criterion in enumerate(shape.hand):
            self.marks((*path, "hand", position, "marks"), criterion.marks)
        total = sum((criterion.marks for criterion in shape.hand), Decimal(0))
        if shape.marks is not None and shape.marks != total:
            expected = f"{total}, what the criteria add up to"
            self.placed.add("hand-marks", (*path, "marks"), expected, str(shape.marks), "or leave marks out")
        criteria = tuple((criterion.criterion, criterion.marks) for criterion in shape.hand)
        return None if self.has_problems else HandPart(key, shape.ask, total, criteria)
