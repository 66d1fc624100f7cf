"""Which methods are one number in every variant, found on a sample of the variants that keep what the question asks.

Radius for diameter and a halved result can be the same whatever the draw; no digits part them, so they share a name.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from witnessmark.maths.compiled import Array
from witnessmark.maths.syntax import Tree
from witnessmark.questions.drawing.separation import names_of_sample
from witnessmark.questions.model.question import Question
from witnessmark.questions.working.edited import Edited
from witnessmark.questions.working.evaluation import number_of
from witnessmark.questions.working.methods import Method, dimensions

SAMPLE = 9
DIGITS = 8
Signature = tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Likeness:
    """Compares methods by their values (common logarithms) over a sample of variants."""

    names: dict[str, Array]
    question: Question

    def of(self, method: Method) -> Signature | None:
        """The signature of a method: equal for two that give one number in every variant; None if it has none."""
        try:
            value = np.broadcast_to(number_of(method, self.names, dimensions(self.question)), (SAMPLE,))
        except KeyError:
            return None
        with np.errstate(all="ignore"):
            logs = np.log10(np.abs(value))
        if not np.isfinite(logs).all():
            return None
        return tuple(np.round(np.sign(value) * 100 + logs, DIGITS).tolist())

    def is_times(self, method: Method, factor: float, other: Method) -> bool:
        """True where a method gives the other's number times a factor (above 0) in every variant."""
        mine, others = self.of(method), self.of(other)
        if mine is None or others is None:
            return False
        return bool(np.allclose(mine, np.array(others) + math.log10(factor), rtol=0, atol=10.0 ** (1 - DIGITS)))

    def shape_of(self, method: Method) -> Signature | None:
        """The same for methods a power of ten apart in every variant; a minus sign throughout is left aside."""
        signature = self.of(method)
        if signature is None:
            return None
        whole = math.floor(signature[0] + 0.25)  # a decade ends at 5.62: at 1 floats would fall either way
        return tuple(round(x - whole, DIGITS) for x in signature)


def likeness(question: Question) -> Likeness:
    """The comparison of a question's methods, on variants that keep what it asks, whether they may be issued or not."""
    sample = names_of_sample(question).items()
    return Likeness({name: np.resize(value, SAMPLE) if np.ndim(value) else value for name, value in sample}, question)


def merged(methods: tuple[Method, ...], alike: Likeness) -> tuple[Method, ...]:
    """The methods, those that are always one number as one with all their names, which keeps what the kindest does."""
    found: dict[Signature | int, Method] = {}
    for index, method in enumerate(methods):
        signature = alike.of(method) or index
        if signature in found and index:
            first = found[signature]
            further = tuple(m for m in method.misconceptions if m not in first.names)
            if not first.is_right:
                keeps = max(first.keeps, method.keeps)
                found[signature] = replace(first, likewise=first.likewise + further, keeps=keeps)
        else:
            found[signature] = method
    return tuple(found.values())


def new_to(known: Sequence[Method], methods: Sequence[Method], alike: Likeness) -> tuple[Method, ...]:
    """Those methods that are not, in every variant, a known one's number or a power of ten of it; none twice.

    One that is worked in bare numbers is kept in both working systems, which are powers of ten apart.
    """
    shapes = {alike.shape_of(m) for m in known} | {None}
    found: dict[Signature, Method] = {}
    in_metres: set[Tree] = set()
    for method in methods:
        shape, signature = alike.shape_of(method), alike.of(method)
        other_system = method.millimetres and method.formula in in_metres
        if signature is not None and signature not in found and (shape not in shapes or other_system):
            found[signature] = method
            shapes.add(shape)
            if method.bare and not method.millimetres:
                in_metres.add(method.formula)
    return tuple(found.values())


def telling(known: Sequence[Method], edited: Sequence[Edited], alike: Likeness) -> tuple[Edited, ...]:
    """Those of the edited methods that are, in some variant, no known number, nor a power of ten of the right one; none
    twice. A power of ten of a wrong one may be among them: one thing done stands against two."""
    same, right = {alike.of(m) for m in known} | {None}, alike.shape_of(known[0])
    found: dict[Signature | None, Edited] = {}
    for e in edited:
        signature = alike.of(e.method)
        if signature not in same and signature not in found and alike.shape_of(e.method) != right:
            found[signature] = e
    return tuple(found.values())


def new_edits(known: Sequence[Method], edited: Sequence[Edited], alike: Likeness) -> tuple[Edited, ...]:
    """The same for edited methods, likeliest first; a bare one is compared in its own working system."""
    kept = {id(m) for m in new_to(known, [e.method for e in edited], alike)}
    return tuple(e for e in edited if id(e.method) in kept)
