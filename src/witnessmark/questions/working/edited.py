"""The right method of a place with one or two edits in it, ranked by how plausible they are."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from witnessmark.maths.edits import Edit, edits
from witnessmark.maths.quantities import Dimension
from witnessmark.maths.syntax import Tree, names_alone
from witnessmark.questions.model.question import Question
from witnessmark.questions.working.methods import Method, fits_dimension

ONE_THING = 0.6
"""The least weight of an edit that people make as one mistake."""
SECOND = 0.3
"""A second edit makes a working this much less plausible."""


@dataclass(frozen=True, slots=True)
class Edited:
    """A method made by edits: what is done, in words that follow "if" (see `Edit`), and its weight among edits."""

    method: Method
    done: tuple[str, ...]
    weight: float

    @property
    def is_one_thing(self) -> bool:
        """True of what one person does by one mistake, so that a student is told of it."""
        return len(self.done) == 1 and self.weight >= ONE_THING


def edited_at(right: Method, names: Mapping[str, Dimension], question: Question) -> tuple[Edited, ...]:
    """Every single edit of the right method, in any of its lines or its last step, likeliest first.

    Results of another dimension are kept as bare numbers in metres and newtons, and in millimetres and newtons.
    """
    found: dict[Tree, Edited] = {}
    for edited in _edited(right, _Edits(names, question.stand_ins(names_alone(right.formula)))):
        formula = edited.method.formula
        if formula != right.formula and (formula not in found or found[formula].weight < edited.weight):
            found[formula] = edited
    ranked = sorted(found.values(), key=lambda e: -e.weight)
    return tuple(both for edited in ranked for both in in_both_systems(edited, names))


def edited_twice(
    singles: tuple[Edited, ...], names: Mapping[str, Dimension], question: Question, most: int
) -> tuple[Edited, ...]:
    """The `most` likeliest edits of edits that have the right dimension and are no single edit over again."""
    edits_of = _Edits(names, question.stand_ins(_alone(e.method for e in singles)))
    known = {e.method.formula for e in singles}
    found: list[Edited] = []
    for edited in sorted(_doubles(singles, edits_of), key=lambda e: -e.weight):
        formula = edited.method.formula
        if formula not in known:
            known.add(formula)
            if fits_dimension(edited.method, names):
                found.append(edited)
                if len(found) == most:
                    break
    return tuple(found)


def _alone(methods: Iterable[Method]) -> frozenset[str]:
    return frozenset[str]().union(*(names_alone(method.formula) for method in methods))


class _Edits(dict[Tree, tuple[Edit, ...]]):
    """The edits of each tree that was asked for, found once."""

    def __init__(self, names: Mapping[str, Dimension], others: tuple[str, ...]) -> None:
        super().__init__()
        self.names, self.others = names, others

    def __missing__(self, tree: Tree) -> tuple[Edit, ...]:
        found = self[tree] = edits(tree, self.names, self.others)
        return found


def _doubles(singles: tuple[Edited, ...], edits_of: _Edits) -> Iterator[Edited]:
    """Every edit of an edit that was worked in metres and newtons, some formulae several times over."""
    for first in singles:
        if not (first.method.bare and first.method.millimetres):
            for second in _edited(replace(first.method, bare=False), edits_of):
                weight = first.weight * second.weight * SECOND
                yield Edited(second.method, (*first.done, *second.done), weight)


def _edited(right: Method, edits_of: _Edits) -> Iterator[Edited]:
    for index, step in enumerate(right.steps):
        for edit in edits_of[step.asked.tree]:
            changed = replace(step, asked=replace(step.asked, tree=edit.tree))
            steps = (*right.steps[:index], changed, *right.steps[index + 1 :])
            yield Edited(replace(right, steps=steps), (edit.done,), edit.weight)
    for edit in edits_of[right.final.tree]:
        yield Edited(replace(right, final=replace(right.final, tree=edit.tree)), (edit.done,), edit.weight)


def in_both_systems(edited: Edited, names: Mapping[str, Dimension]) -> list[Edited]:
    """The method as it is where its result has the dimension asked; else as bare numbers in both working systems."""
    if fits_dimension(edited.method, names):
        return [edited]
    return [replace(edited, method=replace(edited.method, bare=True, millimetres=mm)) for mm in (False, True)]
