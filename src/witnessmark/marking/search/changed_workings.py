"""A working with changes in it: where each change is done, and the method that it makes of the right one."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from witnessmark.marking.search.changes import Form
from witnessmark.maths.syntax import Tree, children, rebuilt, substituted
from witnessmark.questions.working.methods import Method


@dataclass(frozen=True, slots=True)
class Change:
    """A form of change at a node: in which line (`` for the last step), and the way down to it. With `throughout` trees
    take the place of names in all lines instead."""

    form: Form
    step: str = ""
    path: tuple[int, ...] = ()
    throughout: Mapping[str, Tree] = field(default_factory=dict)


def with_changes(right: Method, changes: Sequence[Change]) -> Method:
    """The right method with these changes, done in this order, in its own lines."""
    trees = {step.name: step.asked.tree for step in right.steps} | {"": right.final.tree}
    for change in changes:
        for name, tree in trees.items():
            if change.throughout:
                trees[name] = substituted(tree, dict(change.throughout))
            elif name == change.step:
                trees[name] = changed(tree, change.path, change.form)
    steps = tuple(replace(s, asked=replace(s.asked, tree=trees[s.name])) for s in right.steps)
    return replace(right, steps=steps, final=replace(right.final, tree=trees[""]))


def changed(tree: Tree, path: tuple[int, ...], form: Form) -> Tree:
    """The tree with a form of change at the end of a path."""
    below = children(tree)
    if not path:
        return substituted(form.template, {"§": tree, **{f"§{n}": c for n, c in enumerate(below)}})
    first, *rest = path
    return rebuilt(tree, tuple(changed(c, tuple(rest), form) if n == first else c for n, c in enumerate(below)))
