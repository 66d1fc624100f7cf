"""Methods and formulae written out in what is drawn: givens, table cells and constants, with no line or result left."""

from collections.abc import Mapping

from witnessmark.maths.quantities import Dimension
from witnessmark.maths.syntax import Binary, Name, Number, Tree, names_in, substituted
from witnessmark.questions.checking.remarks import formulas_of
from witnessmark.questions.model.question import Question
from witnessmark.questions.working.evaluation import bare_factor
from witnessmark.questions.working.methods import Method


def worked_out(question: Question) -> dict[str, Tree]:
    """Every line, result and worked-out given of a question, by name, written in what is drawn."""
    computed: dict[str, Tree] = {}
    for given in question.givens:
        if given.value is not None:
            computed[given.name] = substituted(given.value, computed)
    return computed | {name: substituted(tree, computed) for name, tree in formulas_of(question).items()}


def formula_in_drawn(method: Method, known: Mapping[str, Dimension], names: dict[str, Tree]) -> Tree:
    """The whole method as one formula (SI) of what is drawn; `names` as from `worked_out`.

    A method that is worked in bare millimetres and newtons divides every value by its unit there, and the result has
    the unit that is asked.
    """
    divisors, factor = bare_factor(method, known)
    tree = method.formula
    scaled: dict[str, Tree] = {
        name: Binary("/", Name(name), _number(divisors[name]))
        for name in names_in(tree) & divisors.keys()
        if divisors[name] != 1
    }
    tree = substituted(substituted(tree, scaled), names)
    return tree if factor == 1 else Binary("*", tree, _number(factor))


def _number(value: float) -> Number:
    return Number(f"{value:.15g}")
