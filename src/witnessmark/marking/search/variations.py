"""Every working within two changes of the right one: which there are, how likely each is, and what they give.

A working's changes are those of the grammar (`changes.py`) in any of its lines or its last step, and those that put
something else in the place of a name throughout. Of formulas that give equal numbers (but for a power of ten) in every
variant the likeliest is kept; those that a method of the bank gives are left out.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

import numpy as np

from witnessmark.marking.search.changed_workings import Change, changed, with_changes
from witnessmark.marking.search.changes import SELF, Context, Form, forms_at, together, words_of
from witnessmark.marking.search.samples import (
    SIZE_OF_CHANGE,
    Sample,
    Table,
    cheapest,
    crossed,
    description_lengths,
    empty,
    hashed,
    joined,
    same_values,
    with_one_more,
)
from witnessmark.marking.search.tables import (
    MOST_CHANGES,
    NO_CHANGE,
    POWERS_OF_DIMENSION,
    Columns,
    Ints,
    Node,
    Piece,
    Template,
    combined,
    pieces,
    template_of,
    work_whole,
    worked,
)
from witnessmark.maths.compiled import Array, compiled
from witnessmark.maths.syntax import (
    Binary,
    Name,
    Number,
    Tree,
    children,
    is_call_of_many,
    names_in,
    rebuilt,
    substituted,
    walk,
)
from witnessmark.questions.working.methods import Method

MOST_TOGETHER, MOST_BESIDE = 40, 150
"""How many changes of names throughout there are, and with how many others each of them is joined."""
ADDED_TO_THE_RESULT, STOPPED_EARLY = 0.2, 0.3


class Variations:
    """The changed workings of one right method, planned on a sample of variants."""

    def __init__(self, right: Method, sample: Sample, context: Context, asked: Array, known: Sequence[Array]) -> None:
        self.right, self._context, self._sample = right, context, sample
        self.changes: list[Change] = []
        self._lines = {step.name: step.asked.tree for step in right.steps}
        self._often = self._used_often()
        self._inlined = self._written_out()
        self._columns = self.with_lines(sample.columns)
        self._dimensions = self._line_dimensions()
        self._root, tables = self._node(right.final.tree, "", (), is_term=True, at_root=True)
        self._bound = self._bindings()
        stacked = self._tables_beside(tables)
        every = joined([*tables[1:], *stacked])
        self._kept = self._distinct(every, known)
        kept = every.only(self._kept)
        self.of = kept.changes
        self.costs = description_lengths(kept, asked)

    @property
    def count(self) -> int:
        """How many formulas there are."""
        return len(self.costs)

    def values(self, columns: Columns, size: int) -> Array:
        """What every formula gives with these names, (formulas, size)."""
        with np.errstate(all="ignore"):
            whole = self.with_lines(columns)
            alone = worked(self._root, whole, size)
            return np.concatenate([*alone[1:], *self._values_beside(columns, size)])[self._kept]

    def done(self, row: int) -> tuple[Change, ...]:
        """The changes of a formula, in the order in which they are done."""
        chosen = [self.changes[n] for n in self.of[row].tolist() if n != NO_CHANGE]
        return tuple(sorted(chosen, key=lambda c: -len(c.path)))

    def method(self, row: int) -> Method:
        """A formula as a method, with the lines of the right one."""
        return with_changes(self.right, self.done(row))

    def with_lines(self, columns: Columns) -> dict[str, Array]:
        """The names with every line worked from them in full."""
        found = dict(columns)
        for name, tree in self._lines.items():
            found[name] = compiled(tree)(found)
        return found

    def _line_dimensions(self) -> dict[str, Array]:
        found = dict(self._sample.dimensions)
        for name, tree in self._lines.items():
            found[name] = template_of(tree).dimension(found)
        return found

    def _used_often(self) -> frozenset[str]:
        """The lines that the working uses more than once: a change in one is seen everywhere."""
        trees = [*self._lines.values(), self.right.final.tree]
        uses = [t.name for tree in trees for t in walk(tree) if isinstance(t, Name) and t.name in self._lines]
        return frozenset(name for name in uses if uses.count(name) > 1)

    def _written_out(self) -> dict[str, Tree]:
        """Every line that is used once by its formula, so that a change of the line is not one of other places."""
        found: dict[str, Tree] = {}
        for name, tree in self._lines.items():
            if name not in self._often:
                found[name] = substituted(tree, found)
        return found

    def _node(
        self, tree: Tree, step: str, path: tuple[int, ...], is_term: bool, at_root: bool = False
    ) -> tuple[Node, list[Table]]:
        """The node of a tree with its tables on the sample; a line that is used once is gone into."""
        if isinstance(tree, Name) and tree.name in self._lines and tree.name not in self._often:
            return self._node(self._lines[tree.name], tree.name, (), is_term)
        terms = _are_terms(tree)
        below = [self._node(c, step, (*path, n), terms) for n, c in enumerate(_children(tree))]
        forms = forms_at(tree, "the result" if at_root else words_of(tree), self._context, is_term)
        forms += tuple(self._at_root(tree)) if at_root else ()
        inlined = [replace(form, template=substituted(form.template, self._inlined)) for form in forms]
        numbered = [(self._number(Change(form, step, path)), form) for form in inlined if self._can_work(form)]
        node = Node(
            template_of(_over_children(tree)), tuple(n for n, _ in below),
            tuple((n, template_of(f.template)) for n, f in numbered if not f.whole),
            tuple((n, template_of(f.template)) for n, f in numbered if f.whole),
        )  # fmt: skip
        return node, self._tables(node, [t for _, t in below])

    def _number(self, change: Change) -> int:
        self.changes.append(change)
        return len(self.changes) - 1

    def _can_work(self, form: Form) -> bool:
        return all(name in self._columns or name.startswith("§") for name in names_in(form.template))

    def _at_root(self, tree: Tree) -> Iterator[Form]:
        """What is done to the result: it is taken before the working is over, or something of its kind is added."""
        for line in self._lines:
            yield Form(Name(line), f"{line} were given as the result", STOPPED_EARLY)
        for below in [*walk(tree)][1:]:
            if children(below):
                yield Form(below, "the working ended too early", STOPPED_EARLY)
        for other in (*self._context.others, *self._lines):
            if other in self._dimensions and self._is_of_result(other):
                for op, said in (("+", "added to"), ("-", "taken from")):
                    template = Binary(op, SELF, Name(other))
                    yield Form(template, f"{other} were {said} the result", ADDED_TO_THE_RESULT, whole=True)

    def _is_of_result(self, name: str) -> bool:
        asked = template_of(self.right.final.tree).dimension(self._dimensions)
        return bool(np.allclose(asked, self._dimensions[name]))

    def _tables(self, node: Node, below: Sequence[Sequence[Table]]) -> list[Table]:
        """The tables of a node on the sample, and in the node which rows are kept."""
        found: list[Table] = []
        for level in range(MOST_CHANGES + 1):
            made = [self._piece(piece, below) for piece in pieces(node, level)]
            inner = sum(len(t.weights) for t in made)
            if level:
                inside = found[0] if level == 1 else found[1].only(np.arange(node.inside))
                made += [self._whole(number, template, inside) for number, template in node.whole]
            table = joined([empty(self._sample.size), *made])
            kept = np.arange(len(table.weights)) if level == 0 else cheapest(table, same_values(table.values))
            node.kept.append(kept)
            if level == 1:
                node.inside = int((kept < inner).sum())
            found.append(table.only(kept))
        return found

    def _piece(self, piece: Piece, below: Sequence[Sequence[Table]]) -> Table:
        """The rows of a piece with what is known of them."""
        rows = [below[n][level] for n, level in enumerate(piece.levels)]
        with np.errstate(all="ignore"):
            values = combined(piece.template.work, [r.values for r in rows], self._columns, self._sample.size)
            dimensions = combined(
                piece.template.dimension, [r.dimensions for r in rows], self._dimensions, POWERS_OF_DIMENSION
            )
        changes, weights = np.full((1, SIZE_OF_CHANGE), NO_CHANGE), np.zeros(1)
        for row in rows:
            changes, weights = crossed(changes, row.changes), (weights[:, None] + row.weights).ravel()
        if piece.change != NO_CHANGE:
            changes = with_one_more(changes, piece.change)
            weights = weights + math.log(self.changes[piece.change].form.weight)
        return Table(values, changes, weights, dimensions)

    def _whole(self, number: int, template: Template, inside: Table) -> Table:
        """The rows of a change of the whole node."""
        with np.errstate(all="ignore"):
            values = work_whole(template, inside.values, self._columns)
            dimensions = np.broadcast_to(
                template.dimension({**self._dimensions, SELF.name: inside.dimensions}), inside.dimensions.shape
            )
        weights = inside.weights + math.log(self.changes[number].form.weight)
        return Table(values, with_one_more(inside.changes, number), weights, dimensions)

    def _bindings(self) -> list[tuple[int, Mapping[str, Tree]]]:
        """Changes of names throughout, of names that stand several times, or of two names; and of lines used often."""
        formula = self.right.formula
        names = [t.name for t in walk(formula) if isinstance(t, Name) and t.name not in ("pi", "g")]
        found: list[tuple[int, Mapping[str, Tree]]] = []
        for trees, done, weight in together(list(dict.fromkeys(names)), self._context):
            if len(trees) > 1 or names.count(next(iter(trees))) > 1:
                form = Form(Number("0"), done, weight)
                found.append((self._number(Change(form, throughout=trees)), trees))
        for line in sorted(self._often):
            node, _ = self._node(self._lines[line], line, (), is_term=True)
            for number in (n for n, _ in (*node.inner, *node.whole)):
                change = self.changes[number]
                found.append((number, {line: changed(self._lines[line], change.path, change.form)}))
        ranked = sorted(found, key=lambda f: -self.changes[f[0]].form.weight)
        return ranked[:MOST_TOGETHER]

    def _stacked(self, columns: Columns, size: int) -> dict[str, Array]:
        """The columns once for each change of names throughout, one after the other."""
        every: list[dict[str, Array]] = []
        for _, trees in self._bound:
            own = {name: compiled(tree)(self.with_lines(columns)) for name, tree in trees.items()}
            every.append({**self.with_lines({**columns, **own}), **own})
        return {n: np.concatenate([np.broadcast_to(e[n], (size,)) for e in every]) for n in self.with_lines(columns)}

    def _values_beside(self, columns: Columns, size: int) -> list[Array]:
        """What the formulas give that change names throughout, alone and with one change more."""
        if not self._bound:
            return []
        tables = worked(self._root, self._stacked(columns, size), len(self._bound) * size, 1)
        return [table[rows].reshape(-1, size) for table, rows in zip(tables, self._beside, strict=True)]

    def _tables_beside(self, tables: Sequence[Table]) -> list[Table]:
        likeliest = np.argsort(-tables[1].weights, kind="stable")[:MOST_BESIDE]
        self._beside = (np.arange(1), likeliest)
        size = self._sample.size
        values = self._values_beside(self._sample.columns, size)
        found = []
        for level, value in enumerate(values):
            table = tables[level].only(self._beside[level])
            numbers = np.array([n for n, _ in self._bound])
            weights = np.array([math.log(self.changes[n].form.weight) for n in numbers.tolist()])
            count = len(numbers)
            changes = np.repeat(table.changes, count, 0)
            changes[:, 1] = np.where(changes[:, 0] == NO_CHANGE, NO_CHANGE, np.tile(numbers, len(table.changes)))
            changes[:, 0] = np.where(changes[:, 0] == NO_CHANGE, np.tile(numbers, len(table.changes)), changes[:, 0])
            found.append(Table(
                value, changes, (table.weights[:, None] + weights).ravel(), np.repeat(table.dimensions, count, 0)
            ))  # fmt: skip
        return found

    def _distinct(self, table: Table, known: Sequence[Array]) -> Ints:
        """Of formulas that are one power of ten apart everywhere the likeliest; none that is a known method."""
        with np.errstate(all="ignore"):
            logs = np.log10(np.abs(np.concatenate([table.values, *(np.atleast_2d(k) for k in known)])))
            keys = hashed(logs - np.round(logs[:, :1]))
        size = len(table.weights)
        usable = np.isfinite(logs[:size]).all(1) & ~np.isin(keys[:size], keys[size:])
        return cheapest(table, keys[:size], usable)


def _children(tree: Tree) -> tuple[Tree, ...]:
    """The trees below, without an exponent that is a plain number, and without the readings of a mean and its like."""
    if isinstance(tree, Binary) and tree.op == "**" and isinstance(tree.right, Number):
        return (tree.left,)
    return () if is_call_of_many(tree) else children(tree)


def _over_children(tree: Tree) -> Tree:
    """The node over placeholders for what stands below."""
    below = children(tree)
    held = _children(tree)
    return rebuilt(tree, (*(Name(f"§{n}") for n in range(len(held))), *below[len(held) :]))


def _are_terms(tree: Tree) -> bool:
    """True where what stands below is no factor of the node."""
    return not (isinstance(tree, Binary) and tree.op in ("*", "/", "**"))
