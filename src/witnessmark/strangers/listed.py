"""The ways that a question lists, alone and two together, as a stranger reads them from its file."""

import ast
import itertools
import math
from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import cache

from witnessmark.strangers.arithmetic import Expression, both, names_in, work
from witnessmark.strangers.papers import Asked, Listed
from witnessmark.strangers.working import Way, right_way

SAME = 1e-9


@cache
def listed_ways(asked: Asked) -> tuple[Way, ...]:
    """Every listed wrong method alone."""
    return tuple(_with(right_way(asked), one) for one in asked.listed)


def _with(way: Way, one: Listed) -> Way:
    names = way.listed | {one.name}
    if one.line:
        return replace(way, lines={**way.lines, one.line: one.tree}, listed=names)
    return replace(way, tree=one.tree, listed=names)


@cache
def pairs(asked: Asked) -> tuple[Way, ...]:
    """Two listed methods in one working, where both leave a trace: in two lines, in a line and in a last step that uses
    it, or in a last step of factors where each changes factors that the other leaves alone."""
    return tuple(_pairs(asked))


def _pairs(asked: Asked) -> Iterator[Way]:
    right = right_way(asked)
    for one, other in itertools.combinations(asked.listed, 2):
        if one.name == other.name:
            continue
        first, second = (one, other) if one.line else (other, one)
        if first.line and first.line != second.line:
            way = _with(_with(right, first), second)
            if {first.line, second.line} - {""} <= _used(asked, way):
                yield way
        elif not first.line and (tree := _factors(asked.tree, one.tree, other.tree)) is not None:
            yield replace(right, tree=tree, listed=frozenset({one.name, other.name}))


def _used(asked: Asked, way: Way) -> frozenset[str]:
    """The lines that have a say in the result."""
    used = names_in(way.tree)
    for line in reversed(asked.lines):
        if line.name in used:
            used |= names_in(way.lines[line.name])
    return used


def _factors(right: Expression, one: Expression, other: Expression) -> Expression | None:
    """Right times what each wrong method has too much, where all are products and the changes do not touch."""
    powers = [_powers(tree) for tree in (right, one, other)]
    if any(p is None for p in powers):
        return None
    base, first, second = (p or {} for p in powers)
    changed = [{n for n in base.keys() | p.keys() if abs(p.get(n, 0) - base.get(n, 0)) > SAME} for p in (first, second)]
    if not all(changed) or changed[0] & changed[1]:
        return None
    return both(both(one, ast.Mult(), other), ast.Div(), right)


def _powers(tree: Expression) -> Mapping[str, float] | None:
    """The powers of a product, by name, with the logarithm of its number under ``; None for a sum or a function."""
    allowed = (ast.Mult, ast.Div, ast.Pow, ast.USub)
    operations = [n for n in ast.walk(tree) if isinstance(n, ast.operator | ast.unaryop)]
    if any(not isinstance(n, allowed) for n in operations) or any(isinstance(n, ast.Call) for n in ast.walk(tree)):
        return None
    names = names_in(tree)
    ones = dict.fromkeys(names, 1.0)
    number = abs(work(tree, ones))
    if not number > 0:
        return None
    found = {n: math.log2(abs(work(tree, {**ones, n: 2.0})) / number) for n in names}
    return {**found, "": math.log(number)}
