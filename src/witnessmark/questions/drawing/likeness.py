"""Which methods are one number in every variant, found on a sample of the variants that keep what the question asks.

Radius for diameter and a halved result can be the same whatever the draw; no digits part them, so they share a name.
"""

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from typing import TypeVar

import numpy as np

from witnessmark.maths.compiled import Array
from witnessmark.maths.quantities import unit
from witnessmark.maths.syntax import Tree
from witnessmark.questions.drawing.separation import names_of_sample
from witnessmark.questions.model.question import Question
from witnessmark.questions.working.edited import Edited
from witnessmark.questions.working.evaluation import NOTHING, in_millimetres, value_of
from witnessmark.questions.working.methods import Method, dimensions, millimetre_scale

SAMPLE = 9
DIGITS = 8
Signature = tuple[float, ...]
T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Likeness:
    """Compares methods by their values (common logarithms) over a sample of variants."""

    names: dict[str, Array]
    question: Question
    _millimetres: dict[str, Array] = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "_millimetres", in_millimetres(self.names, dimensions(self.question)))

    def of(self, method: Method) -> Signature | None:
        """The signature of a method: equal for two that give one number in every variant; None if it has none."""
        return self.of_each([method])[0]

    def of_each(self, methods: Sequence[Method]) -> list[Signature | None]:
        """The signatures of many methods, found together."""
        values = np.full((len(methods), SAMPLE), np.nan)
        for row, method in zip(values, methods, strict=True):
            try:
                row[:] = self._value(method)
            except KeyError:
                continue
        with np.errstate(all="ignore"):
            logs = np.log10(np.abs(values))
            signatures = np.round(np.sign(values) * 100 + logs, DIGITS).tolist()
        has_one = np.isfinite(logs).all(axis=1).tolist()
        return [tuple(s) if has else None for s, has in zip(signatures, has_one, strict=True)]

    def shape_of(self, method: Method) -> Signature | None:
        """The same for methods a power of ten apart in every variant; a minus sign throughout is left aside."""
        return shape_of(self.of(method))

    def _value(self, method: Method) -> Array:
        if not method.millimetres:
            return value_of(method, self.names, NOTHING)
        factor = millimetre_scale(unit(method.final.unit).dimension)
        return value_of(method, self._millimetres, NOTHING) * factor


def shape_of(signature: Signature | None) -> Signature | None:
    """What signatures share whose methods are a power of ten apart in every variant, or a minus sign throughout."""
    if signature is None:
        return None
    whole = math.floor(signature[0])  # signatures are rounded: a power of ten is just that
    return tuple(round(x - whole, DIGITS) for x in signature)


def is_times(mine: Signature | None, factor: float, other: Signature | None) -> bool:
    """True where a method gives another's number times a factor (above 0) in every variant, by their signatures."""
    if mine is None or other is None:
        return False
    shift, room = math.log10(factor), 10.0 ** (1 - DIGITS)
    return all(abs(m - (o + shift)) <= room for m, o in zip(mine, other, strict=True))


def likeness(question: Question) -> Likeness:
    """The comparison of a question's methods, on variants that keep what it asks, whether they may be issued or not."""
    sample = names_of_sample(question).items()
    return Likeness({name: np.resize(value, SAMPLE) if np.ndim(value) else value for name, value in sample}, question)


def merged(methods: tuple[Method, ...], alike: Likeness) -> tuple[Method, ...]:
    """The methods, those that are always one number as one with all their names, which keeps what the kindest does."""
    found: dict[Signature | int, Method] = {}
    for index, (method, known) in enumerate(zip(methods, alike.of_each(methods), strict=True)):
        signature = known or index
        if signature in found:
            first = found[signature]
            further = tuple(m for m in method.misconceptions if m not in first.names)
            if not first.is_right:
                keeps = max(first.keeps, method.keeps)
                found[signature] = replace(first, likewise=first.likewise + further, keeps=keeps)
        else:
            found[signature] = method
    return tuple(found.values())


class Newcomers:
    """Finds among methods those that are not, in every variant, the number of one known before or a power of ten of it;
    what it finds is known from then on.

    One that is worked in bare numbers is kept in both working systems, which are powers of ten apart.
    """

    def __init__(self, known: Sequence[Method], alike: Likeness) -> None:
        self._alike = alike
        self._shapes = {shape_of(signature) for signature in alike.of_each(known)}

    def among(self, methods: Sequence[Method]) -> tuple[Method, ...]:
        """Those methods that are new; none twice."""
        return tuple(self._new(methods, lambda method: method))

    def among_edits(self, edited: Sequence[Edited]) -> tuple[Edited, ...]:
        """The same for edited methods, likeliest first; a bare one is compared in its own working system."""
        return tuple(self._new(edited, lambda e: e.method))

    def _new(self, things: Sequence[T], method_of: Callable[[T], Method]) -> Iterator[T]:
        found: set[Signature] = set()
        bare: set[Tree] = set()
        methods = [method_of(thing) for thing in things]
        for thing, method, signature in zip(things, methods, self._alike.of_each(methods), strict=True):
            if signature is None or signature in found:
                continue
            shape = shape_of(signature)
            if shape not in self._shapes or (method.millimetres and method.formula in bare):
                yield thing
                found.add(signature)
                self._shapes.add(shape)
                if method.bare:
                    bare.add(method.formula)


def new_to(known: Sequence[Method], methods: Sequence[Method], alike: Likeness) -> tuple[Method, ...]:
    """Those methods that are new to the known ones, as `Newcomers` tells it."""
    return Newcomers(known, alike).among(methods)


def new_edits(known: Sequence[Method], edited: Sequence[Edited], alike: Likeness) -> tuple[Edited, ...]:
    """The same for edited methods, likeliest first."""
    return Newcomers(known, alike).among_edits(edited)


def telling(known: Sequence[Method], edited: Sequence[Edited], alike: Likeness) -> tuple[Edited, ...]:
    """Those of the edited methods that are, in some variant, no known number, nor a power of ten of the right one; none
    twice. A power of ten of a wrong one may be among them: one thing done stands against two."""
    of_known = alike.of_each(known)
    same, right = {*of_known, None}, shape_of(of_known[0])
    found: dict[Signature | None, Edited] = {}
    for e, signature in zip(edited, alike.of_each([e.method for e in edited]), strict=True):
        if signature not in same and signature not in found and shape_of(signature) != right:
            found[signature] = e
    return tuple(found.values())
