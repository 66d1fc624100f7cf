"""A question that can be drawn: what a bank holds, and what an issued bundle is rebuilt to."""

from dataclasses import dataclass

from witnessmark.questions.drawing.draw import draw
from witnessmark.questions.model.question import Question
from witnessmark.questions.sheet.stated import StatedGiven
from witnessmark.questions.sheet.variant import Variant, variant_of


@dataclass(frozen=True, slots=True, repr=False)
class DrawableQuestion(Question):
    """A question with its two ways to a variant: numbers drawn from a text, or numbers that are stated."""

    def draw(self, seed: str) -> Variant:
        """A variant drawn from any text, the same on every machine and for years; NoVariant where there is none."""
        return draw(self, seed)

    def variant(self, **given: StatedGiven) -> Variant:
        """A variant from stated givens (`d="20 mm"`, a number in the declared unit, a pint quantity).

        Neither ranges nor `keep` are enforced; see `witnessmark.questions.sheet.variant.variant_of`.
        """
        return variant_of(self, given)
