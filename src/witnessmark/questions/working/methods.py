"""Methods: each way of getting a number that the marker knows, as lines and a final tree over the same names.

A method is the right working, or that working with a slip in its last step or in one of its lines. A slip whose
dimension is not the answer's is worked as bare numbers in both working systems (metre-newton, millimetre-newton).
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cached_property

from witnessmark.maths.cancelling import cancelled
from witnessmark.maths.dimensions import DimensionError, dimension_of
from witnessmark.maths.quantities import Dimension, unit
from witnessmark.maths.syntax import Binary, Name, Tree, names_in, substituted
from witnessmark.questions.model.constants import CONSTANTS
from witnessmark.questions.model.kinds import names_of
from witnessmark.questions.model.parts import Line, QuantityPart, Slip
from witnessmark.questions.model.question import Question
from witnessmark.questions.working.working import AskedNumber, asked_of


@dataclass(frozen=True, slots=True)
class Step:
    """One line of a method as it is worked: name, tree, and what rounding it may see."""

    name: str
    asked: AskedNumber


@dataclass(frozen=True)
class Method:
    """A way of getting one asked number: lines in order, then `final`. `millimetres`: bare numbers in mm and N.

    `likewise` are misconceptions whose own method gives the same number in every variant.
    """

    steps: tuple[Step, ...]
    final: AskedNumber
    misconceptions: tuple[str, ...] = ()
    keeps: Decimal = Decimal(0)
    millimetres: bool = False
    bare: bool = False
    likewise: tuple[str, ...] = ()

    @property
    def names(self) -> tuple[str, ...]:
        """Every misconception that gives this number: the method's own, and those that are always the same."""
        return self.misconceptions + self.likewise

    @cached_property
    def names_in_trees(self) -> frozenset[str]:
        """Every name in the method's trees."""
        return names_in(self.final.tree).union(*(names_in(step.asked.tree) for step in self.steps))

    @property
    def is_right(self) -> bool:
        """True of the right working."""
        return not self.misconceptions

    @cached_property
    def uses(self) -> frozenset[str]:
        """Every name that has a say in the result: those of the final tree, and of the lines it works with."""
        used = names_in(self.final.tree)
        for step in reversed(self.steps):
            if step.name in used:
                used |= names_in(step.asked.tree)
        return used

    @cached_property
    def formula(self) -> Tree:
        """The final tree with every line written out."""
        trees: dict[str, Tree] = {}
        for step in self.steps:
            trees[step.name] = substituted(step.asked.tree, trees)
        return substituted(self.final.tree, trees)

    def with_instead(self, instead: dict[str, Tree]) -> "Method":
        """The method with other trees in the place of names, in every line and in the last step."""
        steps = (replace(s, asked=replace(s.asked, tree=substituted(s.asked.tree, instead))) for s in self.steps)
        return replace(self, steps=tuple(steps), final=replace(self.final, tree=substituted(self.final.tree, instead)))


@dataclass(frozen=True, slots=True)
class NumberPlace:
    """Where an entry stands: a part, or one of its lines, with the names whose own values may be carried into it."""

    part: QuantityPart
    line: Line | None
    figures: int

    @property
    def key(self) -> str:
        """`a` or `a.A_s`."""
        return f"{self.part.key}.{self.line.name}" if self.line else self.part.key

    @property
    def asked(self) -> AskedNumber:
        """The number asked here."""
        return asked_of(self.part, self.figures, self.line)

    @property
    def lines_before(self) -> tuple[Line, ...]:
        """The lines that the working passes before this place."""
        lines = self.part.lines
        return lines if self.line is None else lines[: lines.index(self.line)]


def places(question: Question, figures: int) -> tuple[NumberPlace, ...]:
    """Every place of a question where a number is asked, in working order."""
    found: list[NumberPlace] = []
    for part in question.quantities:
        found += [NumberPlace(part, line, figures) for line in part.lines]
        found.append(NumberPlace(part, None, figures))
    return tuple(found)


def dimensions(question: Question) -> dict[str, Dimension]:
    """The dimension of every name that the question's expressions may use."""
    found = {name: unit(c.unit).dimension for name, c in CONSTANTS.items()}
    for row in question.rows:
        table = question.tables.get(row.table)
        found |= {f"{row.name}.{c}": unit(u).dimension for c, u in (table.units if table else {}).items()}
    found |= {given.name: unit(given.unit).dimension for given in question.givens}
    for part in question.quantities:
        found |= {line.name: unit(line.unit).dimension for line in part.lines}
        found |= dict.fromkeys(names_of(part), unit(part.unit).dimension)
    return found


def methods_at(place: NumberPlace, names: Mapping[str, Dimension]) -> tuple[Method, ...]:
    """The right method of a place first, then every modelled slip that can show there (`names`: see `dimensions`)."""
    found = [_method(place, {}, place.asked.tree, (), place.part.marks)]
    for slip in place.part.slips:
        found += [m for m in _slipped(place, slip, names) if m.formula != found[0].formula]
    return tuple(dict.fromkeys(found))


def _method(place: NumberPlace, swapped: dict[str, Tree], final: Tree, who: tuple[str, ...], keeps: Decimal) -> Method:
    steps = []
    for line in place.lines_before:
        asked = asked_of(place.part, place.figures, line)
        tree = swapped.get(line.name, asked.tree)
        steps.append(Step(line.name, AskedNumber(asked.key, tree, asked.unit, asked.figures)))
    asked = place.asked
    return Method(tuple(steps), asked.worked_by(final), who, keeps)


def _slipped(place: NumberPlace, slip: Slip, names: Mapping[str, Dimension]) -> list[Method]:
    swapped: dict[str, Tree] = {}
    final: Tree | None = slip.answer
    if slip.line:
        swapped = {slip.line: slip.answer}
        final = slip.answer if place.line and place.line.name == slip.line else place.asked.tree
        if place.line and slip.line not in {line.name for line in place.lines_before} | {place.line.name}:
            return []
    elif place.line is not None:
        final = _seen_in_line(place, slip)
    if final is None:
        return []
    method = _method(place, swapped, final, (slip.misconception,), slip.keeps)
    if fits_dimension(method, names):
        return [method]
    if place.line is not None and not slip.line:
        return []
    return [
        Method(method.steps, method.final, method.misconceptions, method.keeps, mm, bare=True) for mm in (False, True)
    ]


def _seen_in_line(place: NumberPlace, slip: Slip) -> Tree | None:
    """What a slip of the whole part makes of a line that its answer is proportional to: line times slip over answer.

    In `answer: tau*A_s` with the slip `tau*pi*d**2/4`, the line shows `A_s * (tau*pi*d**2/4) / (tau*A_s)`.
    """
    part, line = place.part, place.line
    if line is None or part.lines[-1] is not line:
        return None
    if not _proportional(part.answer, line.name) or line.name in names_in(slip.answer):
        return None
    ratio = Binary("/", Binary("*", Name(line.name), slip.answer), part.answer)
    return cancelled(substituted(ratio, {line.name: line.value}))


def _proportional(tree: Tree, name: str) -> bool:
    """True where the tree is a product or quotient with the name once, as a factor above the line."""
    match tree:
        case Name(name=found):
            return found == name
        case Binary(op="*", left=left, right=right):
            return (_proportional(left, name) and name not in names_in(right)) or (
                _proportional(right, name) and name not in names_in(left)
            )
        case Binary(op="/", left=left, right=right):
            return _proportional(left, name) and name not in names_in(right)
    return False


def fits_dimension(method: Method, known: Mapping[str, Dimension]) -> bool:
    """True where the method's result has the dimension that is asked; `known` are the dimensions of names."""
    return dimension_worked(method, known) == unit(method.final.unit).dimension


def dimension_worked(method: Method, known: Mapping[str, Dimension]) -> Dimension | None:
    """The dimension of what the method works out; None where it adds what cannot be added."""
    names = dict(known)
    try:
        for step in method.steps:
            names[step.name] = dimension_of(step.asked.tree, names)
        return dimension_of(method.final.tree, names)
    except DimensionError:
        return None


def millimetre_scale(dimension: Dimension) -> float:
    """The SI value of one unit of the millimetre, newton, second system: 10^-3 m, and 10^3 kg (1 N s^2/mm)."""
    length, mass = dimension.powers[0], dimension.powers[1]
    return float(10.0 ** (3 * mass - 3 * length))
