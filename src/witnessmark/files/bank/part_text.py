"""The finds of a question file, as parts: one reader for each kind of find."""

import re
from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal
from functools import singledispatchmethod

from witnessmark.files.bank.working_text import WorkingReader
from witnessmark.files.shapes.shapes import (
    ChoiceShape,
    ExpressionShape,
    FindShape,
    HandShape,
    JudgeShape,
    OrderShape,
    PointsShape,
    QuantityShape,
    ValuesShape,
)
from witnessmark.files.shapes.yaml_text import Path
from witnessmark.maths.quantities import Dimension
from witnessmark.maths.syntax import names_in
from witnessmark.questions.model.mark_steps import is_in_steps
from witnessmark.questions.model.question import Kind, Option, Part, Point, Slip
from witnessmark.words.nearest import near_or_all

LETTER = re.compile(r"[a-z]")


class PartReader(WorkingReader):
    """Reads the finds of one question in order."""

    def read_all(self, finds: Mapping[str, FindShape]) -> tuple[Part, ...]:
        """Every part in file order."""
        for key, shape in finds.items():
            path: Path = ("find", key)
            if not LETTER.fullmatch(key):
                self.placed.add_key("part-letter", path, "one small letter for each find", f"'{key}'", "type a, b, c")
            self.scope.placeholders((*path, "ask"), shape.ask)
            self.parts.append(self._read(shape, path, key))
        return tuple(self.parts)

    @singledispatchmethod
    def _read(self, shape: FindShape, path: Path, key: str) -> Part:
        raise TypeError(f"no reader for {type(shape).__name__} at {path} ({key})")

    @_read.register
    def _quantity(self, shape: QuantityShape, path: Path, key: str) -> Part:
        self.marks((*path, "marks"), shape.marks)
        is_sound = self.placed.unit((*path, "unit"), shape.unit)
        carried = self.carried((*path, "carries"), shape.carries)
        names: dict[str, Dimension] = {**self.scope.base, **carried}
        lines = self.lines(shape.lines, path, key, names)
        self.line_marks(shape.lines, path, shape.marks)
        answer = self.working((*path, "answer"), shape.answer, names)
        if answer is not None and is_sound:
            is_sound = self.scope.has_unit((*path, "answer"), answer, names, shape.unit, shape.is_)
        self.carries_used((*path, "carries"), shape.carries, [answer, *(line.value for line in lines)])
        tolerance = self.tolerance((*path, "tolerance"), shape.tolerance)
        part = Part(
            key, Kind.QUANTITY, shape.ask, shape.marks, shape.is_, shape.symbol, shape.unit, lines,
            tuple(shape.carries), answer, tolerance=tolerance, figures=shape.figures,
        )  # fmt: skip
        slips = self.slips(shape.slips, part, path, names)
        self.name_result(part, path, is_sound)
        return replace(part, slips=slips)

    @_read.register
    def _judge(self, shape: JudgeShape, path: Path, key: str) -> Part:
        self.marks((*path, "marks"), shape.marks)
        self.carried((*path, "carries"), shape.carries)
        names = {**self.scope.base, **self.scope.results}
        tree = self.scope.expression((*path, "judge"), shape.judge, names)
        if tree is not None and self.comparison((*path, "judge"), tree, True):
            self.scope.dimension((*path, "judge"), tree, names)
        used = names_in(tree) if tree is not None else frozenset()
        letters = {self.scope.part_of[name] for name in used & self.scope.part_of.keys()} | set(shape.carries)
        carries = tuple(part.key for part in self.parts if part.key in letters)
        slips = [Slip(slip.misconception, None) for slip in shape.slips]
        for position, slip in enumerate(slips):
            self.misconception((*path, "slips", position, "misconception"), slip.misconception)
        yes_words, no_words = self.words_of_judgement(shape.yes_words, shape.no_words, path)
        return Part(
            key, Kind.JUDGE, shape.ask, shape.marks, carries=carries, judge=tree, slips=tuple(slips),
            yes_words=yes_words, no_words=no_words,
        )  # fmt: skip

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

    @_read.register
    def _expression(self, shape: ExpressionShape, path: Path, key: str) -> Part:
        self.marks((*path, "marks"), shape.marks)
        names = self.scope.base
        answer = self.working((*path, "expression"), shape.expression, names)
        if answer is not None and shape.unit is None:
            self.scope.dimension((*path, "expression"), answer, names)
        elif answer is not None and shape.unit is not None and self.placed.unit((*path, "unit"), shape.unit):
            self.scope.has_unit((*path, "expression"), answer, names, shape.unit, shape.is_ or "the expression")
        part = Part(
            key, Kind.EXPRESSION, shape.ask, shape.marks, shape.is_, shape.symbol, shape.unit or "", answer=answer
        )  # fmt: skip
        return replace(part, slips=self.slips(shape.slips, part, path, names))

    @_read.register
    def _choice(self, shape: ChoiceShape, path: Path, key: str) -> Part:
        self.marks((*path, "marks"), shape.marks)
        right = [option for option in shape.choice if option.right]
        if len(right) != 1:
            self.placed.add("right-options", (*path, "choice"), "one option with right: true", f"{len(right)} of them")
        self.each_once((*path, "choice"), [option.text for option in shape.choice], "text")
        options = []
        for position, option in enumerate(shape.choice):
            at: Path = (*path, "choice", position)
            self.scope.placeholders((*at, "text"), option.text)
            if option.misconception:
                self.misconception((*at, "misconception"), option.misconception)
            if option.right and (option.misconception or option.keeps):
                found = "misconception or keeps beside right: true"
                self.placed.add("right-with-misconception", at, "the right option alone", found, "delete them")
            self.keeps((*at, "keeps"), option.keeps, shape.marks)
            options.append(Option(option.text, option.right, option.misconception, option.keeps))
        return Part(key, Kind.CHOICE, shape.ask, shape.marks, options=tuple(options))

    @_read.register
    def _values(self, shape: ValuesShape, path: Path, key: str) -> Part:
        self.marks((*path, "marks"), shape.marks)
        names = self.scope.base
        answer = self.working((*path, "answer"), shape.answer, names)
        is_sound = self.placed.unit((*path, "unit"), shape.unit)
        if answer is not None and is_sound:
            self.scope.has_unit((*path, "answer"), answer, names, shape.unit, shape.is_)
        part = Part(
            key, Kind.CHOICE, shape.ask, shape.marks, shape.is_, unit=shape.unit, answer=answer, figures=shape.figures
        )  # fmt: skip
        slips = self.slips(shape.slips, part, path, names)
        for position, slip in enumerate(slips):
            if slip.answer is not None and is_sound:
                self.scope.has_unit((*path, "slips", position, "answer"), slip.answer, names, shape.unit, shape.is_)
        return replace(part, slips=slips)

    @_read.register
    def _order(self, shape: OrderShape, path: Path, key: str) -> Part:
        self.marks((*path, "marks"), shape.marks)
        self.each_once((*path, "order"), shape.order)
        for position, step in enumerate(shape.order):
            self.scope.placeholders((*path, "order", position), step)
        slips = tuple(Slip(s.misconception, None, puts=s.puts, before=s.before) for s in shape.slips)
        for position, slip in enumerate(slips):
            self._order_slip(slip, (*path, "slips", position), shape.order)
        return Part(key, Kind.ORDER, shape.ask, shape.marks, steps=tuple(shape.order), slips=slips)

    def _order_slip(self, slip: Slip, at: Path, steps: list[str]) -> None:
        """A problem where a slip names no step, or puts two steps as they belong."""
        self.misconception((*at, "misconception"), slip.misconception)
        unknown = [(key, step) for key, step in (("puts", slip.puts), ("before", slip.before)) if step not in steps]
        for key, step in unknown:
            self.placed.add("unknown-step", (*at, key), "a step of this order", f"'{step}'", near_or_all(step, steps))
        if not unknown and steps.index(slip.puts) <= steps.index(slip.before):
            found = f"'{slip.puts}', which belongs there"
            self.placed.add("slip-is-right", (*at, "puts"), f"a step that must follow '{slip.before}'", found)

    @_read.register
    def _points(self, shape: PointsShape, path: Path, key: str) -> Part:
        self.marks((*path, "marks"), shape.marks)
        if shape.needed > len(shape.points):
            expected = f"at most {len(shape.points)}, the number of points listed"
            self.placed.add("needed", (*path, "needed"), expected, str(shape.needed))
        elif not is_in_steps(abs(shape.marks) / shape.needed):
            expected = f"marks that share out in halves over {shape.needed} points"
            self.placed.add("marks", (*path, "marks"), expected, str(shape.marks))
        wordings: dict[str, str] = {}
        for name, accepted in shape.points.items():
            for position, wording in enumerate(accepted):
                taken = wordings.setdefault(wording.casefold(), name)
                if taken != name:
                    at: Path = (*path, "points", name, position)
                    self.placed.add("wording-twice", at, "each wording under one point", f"'{wording}' also in {taken}")
        points = tuple(Point(name, tuple(accepted)) for name, accepted in shape.points.items())
        return Part(key, Kind.POINTS, shape.ask, shape.marks, points=points, needed=shape.needed)

    @_read.register
    def _hand(self, shape: HandShape, path: Path, key: str) -> Part:
        for position, criterion in enumerate(shape.hand):
            self.marks((*path, "hand", position, "marks"), criterion.marks)
        total = sum((criterion.marks for criterion in shape.hand), Decimal(0))
        if shape.marks is not None and shape.marks != total:
            expected = f"{total}, what the criteria add up to"
            self.placed.add("hand-marks", (*path, "marks"), expected, str(shape.marks), "or leave marks out")
        criteria = tuple((criterion.criterion, criterion.marks) for criterion in shape.hand)
        return Part(key, Kind.HAND, shape.ask, total, criteria=criteria)
