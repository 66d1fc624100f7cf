"""How even the variants of a question are: figures of the results, conversions of units, branches of judgements."""

import itertools
from collections.abc import Iterator

import numpy as np

from witnessmark.maths.compiled import Array, compiled
from witnessmark.maths.quantities import Dimension, from_si, unit
from witnessmark.maths.rounding import to_figures
from witnessmark.maths.syntax import Call, Name, Tree, children, names_in
from witnessmark.questions.model.constants import CONSTANTS
from witnessmark.questions.model.kinds import judged_by, names_of, right_trees
from witnessmark.questions.model.parts import QuantityPart
from witnessmark.questions.model.question import Question
from witnessmark.questions.sheet.variant import Variant
from witnessmark.questions.working.evaluation import names_in_full
from witnessmark.questions.working.methods import dimensions
from witnessmark.questions.working.working import Columns, worked

FIGURES = (1, 2, 3)
EXACT = 1e-9
LENGTHS = (1.0, 1e-2, 1e-3, 1e-6)
FORCES = (1.0, 1e3)
TAKES_DEGREES = frozenset({"sin", "cos", "tan"})
GIVES_DEGREES = frozenset({"asin", "acos", "atan", "atan2"})

Shares = tuple[float, ...]


def figures_of_results(question: Question, givens: Columns, size: int) -> tuple[tuple[str, Shares], ...]:
    """For each result by part, in its asked unit: the share of variants that one, two, three figures say exactly, and
    of those that need more."""
    right = worked(question, givens) if size else {}
    found = []
    for part in question.quantities:
        if part.key in right:
            u = unit(part.unit)
            needed = _figures_needed(np.broadcast_to((right[part.key] - u.offset) / u.scale, size))
            found.append((part.key, tuple(float((needed == n).mean()) for n in (*FIGURES, FIGURES[-1] + 1))))
    return tuple(found)


def _figures_needed(numbers: Array) -> Array:
    needed = np.full(numbers.shape, FIGURES[-1] + 1.0)
    for figures in reversed(FIGURES):
        with np.errstate(all="ignore"):
            exact = np.abs(to_figures(numbers, figures) - numbers) <= EXACT * np.abs(numbers)
        needed[exact] = figures
    return needed


def judged_yes(question: Question, givens: Columns, size: int) -> tuple[tuple[str, float], ...]:
    """How often each judgement is a yes, by part, as a share of the variants."""
    if not size:
        return ()
    names = names_in_full(question, givens)
    trees = [(part.key, judged_by(part)) for part in question.parts]
    said = [(key, np.broadcast_to(compiled(tree)(names), size)) for key, tree in trees if tree is not None]
    return tuple((key, float(truth.mean())) for key, truth in said)


def conversions(variant: Variant) -> int:
    """How many numbers of a variant have to be changed to another unit on the way to its results, as it prints them.

    Each part is worked in the system of LENGTHS and FORCES (and what follows from them and the second) that changes
    least; every given, constant and carried result that it uses counts once, and the unit that is asked once. Degrees
    count nothing where a sine, cosine or tangent takes or gives them, or where nothing else comes in. Degrees Celsius
    count nothing, as differences are the same in kelvins.
    """
    known = dimensions(variant.question)
    units = {name: constant.unit for name, constant in CONSTANTS.items()}
    units |= {name: shown.unit for name, shown in variant.shown.items()}
    for part in variant.question.quantities:
        units |= dict.fromkeys(names_of(part), part.unit)
    return sum(_of_part(part, units, known) for part in variant.question.quantities)


def _of_part(part: QuantityPart, units: dict[str, str], known: dict[str, Dimension]) -> int:
    trees = right_trees(part)
    used = frozenset[str]().union(*(names_in(tree) for tree in trees)) - {line.name for line in part.lines}
    plain = {name for tree in trees for name in _names_as_numbers(tree)}
    counted = [(units[n], known[n]) for n in used & units.keys() if n in plain or not _is_degrees(units[n])]
    if not (_is_degrees(part.unit) and isinstance(part.answer, Call) and part.answer.function in GIVES_DEGREES):
        counted.append((part.unit, unit(part.unit).dimension))
    if all(_is_degrees(name) for name, _ in counted):
        return 0
    systems = itertools.product(LENGTHS, FORCES)
    return min(sum(_differs(name, _scale(d, *system)) for name, d in counted) for system in systems)


def _scale(dimension: Dimension, length: float, force: float) -> float:
    """The SI value of one unit of the system with these units of length (m) and force (N), and the second."""
    return float(length ** dimension.powers[0] * (force / length) ** dimension.powers[1])


def _names_as_numbers(tree: Tree) -> Iterator[str]:
    """Names that stand elsewhere than alone inside a sine, cosine or tangent."""
    if isinstance(tree, Name):
        yield tree.name
    for child in children(tree):
        if not (isinstance(tree, Call) and tree.function in TAKES_DEGREES and isinstance(child, Name)):
            yield from _names_as_numbers(child)


def _is_degrees(name: str) -> bool:
    return unit(name).dimension.is_number and abs(from_si(np.pi, name) - 180) < EXACT


def _differs(name: str, scale: float) -> bool:
    return abs(unit(name).scale / scale - 1) > EXACT
