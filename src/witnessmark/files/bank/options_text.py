"""Finds whose options the question words: one right one, or any number of them."""

from decimal import Decimal

from witnessmark.files.bank.working_text import WorkingReader
from witnessmark.files.shapes.shapes import ChoiceShape, OneOfSeveralShape, OptionShape, SeveralShape
from witnessmark.files.shapes.slip_shapes import SetSlipShape
from witnessmark.files.shapes.yaml_text import Path
from witnessmark.questions.model.mark_steps import is_in_steps
from witnessmark.questions.model.options import Option
from witnessmark.questions.model.parts import ChoicePart, SeveralPart
from witnessmark.questions.model.slips import SetSlip
from witnessmark.words.nearest import near_or_all

NOTHING = Decimal(0)


class OptionsReader(WorkingReader):
    """Reads them, with every problem of an option at its place."""

    def choice(self, shape: ChoiceShape, path: Path, key: str) -> ChoicePart | None:
        """One right option, or problems."""
        self.marks((*path, "marks"), shape.marks)
        right = [option for option in shape.choice if option.right]
        if len(right) != 1:
            self.placed.add("right-options", (*path, "choice"), "one option with right: true", f"{len(right)} of them")
        self.each_once((*path, "choice"), [option.text for option in shape.choice], "text")
        for position, option in enumerate(shape.choice):
            self._option(option, (*path, "choice", position), shape)
        if self.has_problems:
            return None
        options = tuple(Option(o.text, o.right, o.misconception, o.keeps) for o in shape.choice)
        return ChoicePart(key, shape.ask, shape.marks, options)

    def _option(self, option: OptionShape, at: Path, of: ChoiceShape) -> None:
        """A problem where an option names no misconception of the bank, or keeps what it cannot."""
        self._shown_by(option, at, option.keeps)
        self.keeps((*at, "keeps"), option.keeps, of.marks)

    def _shown_by(self, option: OptionShape | OneOfSeveralShape, at: Path, keeps: Decimal = NOTHING) -> None:
        self.scope.placeholders((*at, "text"), option.text)
        if option.misconception:
            self.misconception((*at, "misconception"), option.misconception)
        if option.right and (option.misconception or keeps):
            found = "misconception or keeps beside right: true"
            self.placed.add("right-with-misconception", at, "the right option alone", found, "delete them")

    def several(self, shape: SeveralShape, path: Path, key: str) -> SeveralPart | None:
        """Any number of right options, or problems."""
        self.marks((*path, "marks"), shape.marks)
        right = [option.text for option in shape.several if option.right]
        if not 0 < len(right) < len(shape.several):
            found = f"{len(right)} of {len(shape.several)}"
            self.placed.add("right-options", (*path, "several"), "right: true in some options, not in all", found)
        elif not is_in_steps(abs(shape.marks) / len(right)):
            expected = f"marks that share out in halves over {len(right)} right options"
            self.placed.add("marks", (*path, "marks"), expected, str(shape.marks))
        self.each_once((*path, "several"), [option.text for option in shape.several], "text")
        for position, option in enumerate(shape.several):
            self._shown_by(option, (*path, "several", position))
        for position, slip in enumerate(shape.slips):
            self._set_slip(slip, (*path, "slips", position), [option.text for option in shape.several], right)
        if self.has_problems:
            return None
        options = tuple(Option(o.text, o.right, o.misconception) for o in shape.several)
        slips = tuple(SetSlip(slip.misconception, tuple(slip.chooses)) for slip in shape.slips)
        return SeveralPart(key, shape.ask, shape.marks, options, slips)

    def _set_slip(self, slip: SetSlipShape, at: Path, options: list[str], right: list[str]) -> None:
        """A problem where a slip chooses what is no option, or just the right ones."""
        self.misconception((*at, "misconception"), slip.misconception)
        self.each_once((*at, "chooses"), slip.chooses)
        for position, text in enumerate(slip.chooses):
            if text not in options:
                remedy = near_or_all(text, options)
                self.placed.add("unknown-option", (*at, "chooses", position), "an option of this find", f"'{text}'",
                                remedy)  # fmt: skip
        if set(slip.chooses) == set(right):
            self.placed.add("slip-is-right", (*at, "chooses"), "a wrong set of options", "the right options")
