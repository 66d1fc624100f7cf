"""The worked solution of one part in the student's numbers: relation, numbers with units, result rounded once."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from witnessmark.documents.kinds.manner import number_word
from witnessmark.documents.kinds.many_steps import how_it_comes_about, long_calls
from witnessmark.documents.page.blocks import Block, Formula, Maths, Note, Options, Paragraph, Run, Words, words
from witnessmark.documents.page.wordings import symbols_of
from witnessmark.maths.compiled import compiled
from witnessmark.maths.printing.numbers import quantity_text
from witnessmark.maths.printing.pieces import (
    EQUALS,
    Amount,
    Letter,
    Piece,
    amount,
    formula,
    letter,
    row,
    substituted_formula,
)
from witnessmark.maths.printing.symbols import symbol_for
from witnessmark.maths.quantities import from_si
from witnessmark.maths.rounding import decimal_to_figures
from witnessmark.maths.syntax import Call, Name, Tree, is_count, names_in
from witnessmark.questions.model.constants import CONSTANTS
from witnessmark.questions.model.kinds import names_of, right_trees, unit_asked
from witnessmark.questions.model.parts import (
    ExpressionPart,
    JudgePart,
    LimitsPart,
    Part,
    PointsPart,
    QuantityPart,
    StandardPart,
    ValueChoicePart,
)
from witnessmark.questions.sheet.listing import si_of
from witnessmark.questions.sheet.right_texts import size_text
from witnessmark.questions.sheet.variant import Variant

MORE_FIGURES = 2  # steps on the way are shown with so many figures more than the result
KEPT_AS_SYMBOL = frozenset({"pi"})
# Exact by the definitions of the units: SI Brochure 9th ed. (2019), table 4 and 8.
CONVERSIONS = {
    "MPa": "1\u00a0MPa = 1\u00a0N/mm²",
    "GPa": "1\u00a0GPa = 1000\u00a0N/mm²",
    "kPa": "1\u00a0kPa = 1\u00a0kN/m²",
    "bar": "1\u00a0bar = 0.1\u00a0N/mm²",
}


def points_blocks(part: PointsPart) -> tuple[Block, ...]:
    """Every point that counts, in the first of its wordings."""
    accepted = tuple(("•", point.wordings[0] if point.wordings else point.name) for point in part.points)
    every, needed = len(part.points), number_word(part.needed)
    lead = "Each of these counts:" if part.needed >= every else f"Any {needed} of these will do:"
    return (Paragraph(words(lead)), Options(accepted))


@dataclass(frozen=True, slots=True)
class Working:
    """A student's numbers, and how they are worked: right values in SI by key, results to `figures` figures."""

    variant: Variant
    values: Mapping[str, float]
    figures: int

    @property
    def symbols(self) -> dict[str, str]:
        """The symbol of every name in the formulae."""
        return symbols_of(self.variant.question)

    @property
    def counts(self) -> frozenset[str]:
        """The keys of the results that are whole numbers."""
        return frozenset(part.key for part in self.variant.question.quantities if is_count(part.answer))

    def quantity(self, part: QuantityPart) -> tuple[Block, ...]:
        """What the figure reads, each line, then the result: in symbols, and below in numbers."""
        blocks: list[Block] = [*self.read_in_figure(part)]
        known = self.known(part)
        for line in part.lines:
            found = self.on_the_way(f"{part.key}.{line.name}", line.unit)
            blocks += self.step(line.name, line.value, known, found)
            known[line.name] = found
        result = self.amount(part.key, part.unit)
        blocks += self.step(part.symbol, part.answer, known, result)
        return (*blocks, *self.remarks(part, known))

    def read_in_figure(self, part: Part) -> tuple[Paragraph, ...]:
        """What this part takes from the figure, which the sheet printed nowhere: `m = 23 mm, whole millimetres`."""
        used = frozenset[str]().union(*(names_in(tree) for tree in right_trees(part)))
        runs: list[Run] = []
        for given in self.variant.question.givens:
            if given.in_figure and given.name in used and given.name in self.variant.shown:
                shown = self.variant.shown[given.name]
                told = f"\u00a0= {quantity_text(shown.number, shown.unit)}" + (f", {given.is_}" if given.is_ else "")
                lead = Words("; " if runs else "Read from the figure: ")
                runs += [lead, Maths(letter(given.name, self.symbols)), Words(told)]
        return (Paragraph((*runs, Words("."))),) if runs else ()

    def limits(self, part: LimitsPart) -> tuple[Block, ...]:
        """Both values, with their remarks once, below."""
        blocks = [block for side in part.sides for block in self.quantity(side)]
        notes = dict.fromkeys(block for block in blocks if isinstance(block, Note))
        return (*(block for block in blocks if not isinstance(block, Note)), *notes)

    def step(self, name: str, tree: Tree, known: Mapping[str, Amount], found: Amount) -> list[Block]:
        """`A_s = π d t`, and `A_s = π × 20 mm × 5 mm = 314.16 mm²`."""
        left: tuple[Piece, ...] = (Letter(symbol_for(name, self.symbols)), EQUALS) if name else ()
        relation = row(*left, formula(tree, self.symbols))
        numbers = row(*left, substituted_formula(tree, known, self.symbols), EQUALS, found)
        if calls := long_calls(tree):
            return [Formula(relation), Formula(row(*left, found), beside=True), *self.sums(calls)]
        told = bool(names_in(tree) - KEPT_AS_SYMBOL)
        return [Formula(relation), Formula(numbers, beside=True)] if told else [Formula(numbers)]

    def sums(self, calls: Sequence[Call]) -> list[Block]:
        """How spread and slope come about, since their numbers would not stand in one line."""
        numbers = {name: (float(shown.number), shown.unit) for name, shown in self.variant.shown.items()}
        for earlier in self.variant.question.quantities:
            if earlier.key in self.values:
                value = from_si(self.values[earlier.key], earlier.unit)
                numbers |= dict.fromkeys(names_of(earlier), (value, earlier.unit))
        return [Note(words(how_it_comes_about(call, numbers))) for call in calls]

    def known(self, part: Part, more: int = MORE_FIGURES) -> dict[str, Amount]:
        """The amount of every name that stands before this part: constants, givens, earlier results."""
        found = {
            name: amount(constant.value, constant.unit)
            for name, constant in CONSTANTS.items()
            if name not in KEPT_AS_SYMBOL
        }
        found |= {name: amount(shown.number, shown.unit) for name, shown in self.variant.shown.items()}
        for earlier in self.variant.question.quantities:
            if earlier.key == part.key:
                break
            if earlier.key in self.values:
                found |= dict.fromkeys(names_of(earlier), self.on_the_way(earlier.key, unit_asked(earlier), more))
        return found

    def amount(self, key: str, unit: str) -> Amount:
        """The result: rounded once, with all its figures; a count as it is."""
        if key in self.counts:
            return amount(Decimal(round(from_si(self.values[key], unit))), unit)
        return amount(from_si(self.values[key], unit), unit, self.figures)

    def on_the_way(self, key: str, unit: str, more: int = MORE_FIGURES) -> Amount:
        """A step: rounded later than the result, without zeros that say nothing."""
        number = Decimal(f"{from_si(self.values[key], unit):.12g}")
        return amount(decimal_to_figures(number, self.figures + more), unit)

    def remarks(self, part: QuantityPart, known: Mapping[str, Amount]) -> list[Block]:
        """Units that meet in the numbers, and that rounding comes last: one note, a run for each sentence."""
        names = frozenset[str]().union(*(names_in(tree) for tree in right_trees(part)))
        units = {known[name].unit for name in names if name in known} | {part.unit}
        sentences = [f"{CONVERSIONS[u]}." for u in CONVERSIONS if u in units and len(units) > 1]
        carried = any(set(names_of(p)) & names for p in self.variant.question.quantities if p.key != part.key)
        if part.lines or carried:
            sentences.append(f"Only the result is rounded, to {self.figures} figures; steps keep more.")
        return [Note(tuple(Words(f"{sentence} ") for sentence in sentences))] if sentences else []

    def judgement(self, part: JudgePart) -> tuple[Block, ...]:
        """The comparison in symbols, and in numbers with its answer."""
        known = self.known(part, more=0)
        says = "Yes." if self.truth(part) else "No."
        numbers = substituted_formula(part.judge, known, self.symbols)
        asked = Paragraph((Words("Is "), Maths(numbers), Words("? "), Words(says, strong=True)))
        return (Formula(formula(part.judge, self.symbols)), asked)

    def truth(self, part: JudgePart) -> bool:
        """What the comparison says of the right values."""
        names = {name: constant.value for name, constant in CONSTANTS.items()} | self.variant.values
        for earlier in self.variant.question.quantities:
            if earlier.key in self.values:
                names |= dict.fromkeys(names_of(earlier), self.values[earlier.key])
        return bool(compiled(part.judge)(names))

    def standard(self, part: StandardPart) -> tuple[Block, ...]:
        """How the value is worked, where it is not an earlier result, and the size that it chooses."""
        si = si_of(part.value, self.variant)
        found = amount(from_si(si, part.unit), part.unit, self.figures)
        steps = [] if isinstance(part.value, Name) else self.step("", part.value, self.known(part), found)
        value = quantity_text(from_si(si, part.unit), part.unit, self.figures + 1)
        name = Words(size_text(self.variant, part), strong=True)
        return (*steps, Paragraph((Words(f"Of the table, {part.choose.words} {value}: "), name, Words("."))))

    def offered(self, part: ValueChoicePart) -> tuple[Block, ...]:
        """How the right one of the values offered is worked."""
        known = self.known(part)
        found = amount(from_si(si_of(part.answer, self.variant), part.unit), part.unit, self.figures)
        return tuple(self.step("", part.answer, known, found))

    def expression(self, part: ExpressionPart) -> tuple[Block, ...]:
        """The formula, after its letter."""
        left: tuple[Piece, ...] = (Letter(symbol_for(part.symbol, self.symbols)), EQUALS) if part.symbol else ()
        return (Formula(row(*left, formula(part.answer, self.symbols))),)
