"""Where methods meet: pairs that some variants cannot tell apart, and pairs that none can.

Two methods meet in a variant where the numbers that each allows overlap, after all habits of rounding. Numbers are
looked at over all columns that are handed in; that a pair is one formula is then proved by algebra, where it can be.
"""

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from enum import StrEnum

import numpy as np

from witnessmark.maths.compiled import Array, compiled
from witnessmark.maths.syntax import Tree, names_in, substituted
from witnessmark.questions.checking.written_out import formula_in_drawn, worked_out
from witnessmark.questions.drawing.separation import (
    Clash,
    Truth,
    name_of,
    names_of_sample,
    near_on_the_sheet,
    same_numbers,
)
from witnessmark.questions.model.kinds import expressions_in, value_choices_in
from witnessmark.questions.model.parts import ExpressionPart, ValueChoicePart
from witnessmark.questions.model.question import Question
from witnessmark.questions.sheet.variant import DEFAULT_FIGURES
from witnessmark.questions.working.evaluation import can_work, names_in_full, number_of
from witnessmark.questions.working.methods import Method, dimensions, methods_at, places
from witnessmark.questions.working.working import Columns

RIGHT = "right"


class Known(StrEnum):
    """How it is known that two methods are one number in every variant."""

    ALGEBRA = "algebra"
    EVERY_VARIANT = "every variant"
    SAMPLE = "a sample of variants"


@dataclass(frozen=True, slots=True)
class Meeting:
    """Two methods of a place (`a`, `a.A_s`) by name (`right` or misconceptions), and the share in which they meet."""

    key: str
    first: str
    second: str
    share: float

    @property
    def never_apart(self) -> bool:
        """True where they meet in every variant, though they are not one number there."""
        return self.share == 1


@dataclass(frozen=True, slots=True)
class Pair:
    """Two methods of a place that are one number in every variant, and how that is known.

    `parted_by` are the lines that tell them apart where a student enters them; `keeps` the marks that each keeps.
    """

    key: str
    first: str
    second: str
    known_by: Known
    parted_by: tuple[str, ...] = ()
    keeps: tuple[Decimal, Decimal] = (Decimal(0), Decimal(0))

    def __str__(self) -> str:
        return f"{self.key}: {self.first} = {self.second}"


@dataclass(frozen=True, slots=True)
class PowerPair:
    """Two methods of a place that differ by one power of ten in every variant: `second` is `first` times 10^power."""

    key: str
    first: str
    second: str
    power: int


@dataclass(frozen=True, slots=True)
class _Twin:
    """A pair as it is found: names, both written out in what is drawn, and marks kept."""

    key: str
    names: tuple[str, str]
    trees: tuple[Tree, Tree]
    keeps: tuple[Decimal, Decimal]


def held_to(found: Sequence[Clash], question: Question, kept: Columns) -> tuple[Clash, ...]:
    """The clashes, `always` held to every variant that is looked at."""
    known, names = dimensions(question), names_in_full(question, kept)
    return tuple(
        replace(c, always=same_numbers(*(number_of(m, names, known) for m in c.methods))) if c.always else c
        for c in found
    )


def meetings(found: Sequence[Clash], size: int) -> tuple[Meeting, ...]:
    """The clashes over `size` variants by pair of names, most frequent first; pairs always one number aside."""
    rows: dict[tuple[str, str, str], Truth] = {}
    for clash in found:
        if not clash.always:
            at = (clash.key, clash.first, clash.second)
            rows[at] = rows.get(at, np.zeros(size, np.bool_)) | clash.rows
    every = [Meeting(*at, share=float(meet.mean())) for at, meet in rows.items()]
    return tuple(sorted(every, key=lambda m: -m.share))


def meetings_on_sheet(question: Question, kept: Columns, size: int) -> tuple[Meeting, ...]:
    """The same for values that a choice offers: they meet where they are too near each other to be offered both."""
    found = []
    for part in value_choices_in(question.parts):
        if size:
            names = names_in_full(question, kept)
            for (first, one), (second, other) in itertools.combinations(_offered(part), 2):
                near = near_on_the_sheet(compiled(one)(names), compiled(other)(names))
                if np.any(near) and not _alike(one, other, names_of_sample(question)):
                    found.append(Meeting(part.key, first, second, float(np.broadcast_to(near, size).mean())))
    return tuple(sorted(found, key=lambda m: -m.share))


def pairs(question: Question, found: Sequence[Clash], kept: Columns, known_by: Known) -> tuple[Pair, ...]:
    """The pairs that are one number in all kept variants: of numbers, of offered values, and of formulae."""
    names = names_in_full(question, kept)
    twins = [*_twins(question, found), *_twins_on_sheet(question, names)]
    pairs_of_numbers = [_pair(question, twin, Known.ALGEBRA if _proved(*twin.trees) else known_by) for twin in twins]
    formulae = [_pair(question, twin, Known.ALGEBRA) for twin in _twin_formulae(question)]
    return tuple({(p.key, p.first, p.second): p for p in [*pairs_of_numbers, *formulae]}.values())


def power_pairs(question: Question) -> tuple[PowerPair, ...]:
    """Pairs of methods that one power of ten parts in every variant; bare numbers aside, which any system may be."""
    known, sample = dimensions(question), names_of_sample(question)
    found = []
    for place in places(question, DEFAULT_FIGURES):
        methods = [m for m in methods_at(place, known) if can_work(m, sample) and not m.bare]
        for first, second in itertools.combinations(methods, 2):
            power = _power(number_of(first, sample, known), number_of(second, sample, known))
            if power and first.misconceptions != second.misconceptions:
                found.append(PowerPair(place.key, name_of(first), name_of(second), power))
    return tuple(found)


def _power(first: Array, second: Array) -> int:
    """The one power of ten between two columns; 0 where there is none."""
    with np.errstate(all="ignore"):
        ratio = second / first
        power = np.log10(np.abs(ratio))
    if not np.isfinite(power).all():
        return 0
    whole = round(float(np.ravel(power)[0]))
    return whole if np.all(np.abs(power - whole) < 1e-9) and np.all(ratio > 0) else 0


def _twins(question: Question, found: Sequence[Clash]) -> Iterator[_Twin]:
    known, drawn = dimensions(question), worked_out(question)
    for clash in found:
        one, other = clash.methods
        if clash.always:
            trees = formula_in_drawn(one, known, drawn), formula_in_drawn(other, known, drawn)
            yield _Twin(clash.key, (clash.first, clash.second), trees, (one.keeps, other.keeps))


def _twins_on_sheet(question: Question, names: Columns) -> Iterator[_Twin]:
    drawn = worked_out(question)
    for part in value_choices_in(question.parts):
        yield from (twin for twin in _twins_of(part, drawn) if _alike(*twin.trees, names))


def _twin_formulae(question: Question) -> Iterator[_Twin]:
    """Of formulae that are asked for, those that algebra turns into one another."""
    drawn, sample = worked_out(question), names_of_sample(question)
    for part in expressions_in(question.parts):
        yield from (t for t in _twins_of(part, drawn) if _alike(*t.trees, sample) and _proved(*t.trees))


def _twins_of(part: ValueChoicePart | ExpressionPart, drawn: dict[str, Tree]) -> Iterator[_Twin]:
    keeps = {RIGHT: part.marks, **{slip.misconception: slip.keeps for slip in part.slips}}
    for (first, one), (second, other) in itertools.combinations(_offered(part), 2):
        trees = substituted(one, drawn), substituted(other, drawn)
        yield _Twin(part.key, (first, second), trees, (keeps[first], keeps[second]))


def _offered(part: ValueChoicePart | ExpressionPart) -> list[tuple[str, Tree]]:
    """What is right and every slip of a part, by name."""
    return [(RIGHT, part.answer), *((slip.misconception, slip.answer) for slip in part.slips)]


def _alike(one: Tree, other: Tree, names: Columns) -> bool:
    if not names_in(one) | names_in(other) <= names.keys():
        return False
    return same_numbers(np.asarray(compiled(one)(names)), np.asarray(compiled(other)(names)))


def _pair(question: Question, twin: _Twin, known_by: Known) -> Pair:
    return Pair(twin.key, *twin.names, known_by, _parting_lines(question, twin), twin.keeps)


def _parting_lines(question: Question, twin: _Twin) -> tuple[str, ...]:
    """The lines of the part in which the two methods of its answer do not show the same number."""
    part_key, _, of_line = twin.key.partition(".")
    if of_line:
        return ()
    known, sample = dimensions(question), names_of_sample(question)
    found = []
    for place in places(question, DEFAULT_FIGURES):
        if place.line is not None and place.part.key == part_key:
            methods = [m for m in methods_at(place, known) if can_work(m, sample)]
            shown = [_shown_as(name, methods) for name in twin.names]
            one, other = (number_of(method, sample, known) for method in shown)
            if not same_numbers(one, other):
                found.append(place.key)
    return tuple(found)


def _shown_as(name: str, methods: Sequence[Method]) -> Method:
    """The method of that name at a place; the right one where the slip does not show there."""
    return next((m for m in methods if name_of(m) == name), methods[0])


def _proved(one: Tree, other: Tree) -> bool:
    from witnessmark.maths.formulas import Same, equal  # algebra takes a second to load

    return equal(one, other).same is Same.YES
