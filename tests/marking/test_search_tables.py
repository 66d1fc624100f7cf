"""Tables of changed formulas: their dimensions against those of whole expressions, their rows against rows by hand."""

import numpy as np
import pytest

from maths.test_dimensions import HAS_UNIT, NAMES
from witnessmark.marking.search.tables import NO_CHANGE, Node, Piece, pieces, template_of, worked
from witnessmark.maths.quantities import unit
from witnessmark.maths.syntax import Comparison, parse

POWERS = {name: np.array([dimension.powers]) for name, dimension in NAMES.items()} | {"pi": np.zeros((1, 6))}
EXPRESSIONS = [(text, of) for text, of in HAS_UNIT if not isinstance(parse(text), Comparison) and "**n" not in text]


@pytest.mark.parametrize(("text", "of"), EXPRESSIONS)
def test_a_template_has_the_dimension_of_its_unit(text: str, of: str) -> None:
    found = np.broadcast_to(template_of(parse(text)).dimension(POWERS), (1, 6))
    assert found.tolist() == [pytest.approx(unit(of).dimension.powers)]


@pytest.mark.parametrize("text", ["d + F", "min(d, A)", "sin(d)", "exp(F/A)", "atan2(d, F)", "d**(A/t)"])
def test_what_has_no_dimension_has_none(text: str) -> None:
    assert np.isnan(template_of(parse(text)).dimension(POWERS)).all()


def leaf(name: str, *changes: str) -> Node:
    """A name that may be changed into these, numbered from 10."""
    inner = tuple((n, template_of(parse(text))) for n, text in enumerate(changes, 10))
    node = Node(template_of(parse(name)), (), inner, ())
    node.kept = [np.arange(1), np.arange(len(changes)), np.arange(0)]
    return node


LEFT, RIGHT = leaf("a", "2*a", "a**2"), leaf("b", "b/2")


def product() -> Node:
    """a*b, which may also be the quotient (change 3), and the whole of it may be halved (change 7)."""
    from witnessmark.marking.search.changes import BELOW, SELF
    from witnessmark.maths.syntax import Binary, Number

    joins = template_of(Binary("*", *BELOW))
    inner = ((3, template_of(Binary("/", *BELOW))),)
    return Node(joins, (LEFT, RIGHT), inner, ((7, template_of(Binary("/", SELF, Number("2")))),))


def test_the_rows_of_each_table_come_in_one_order() -> None:
    node = product()
    joins, quotient = node.joins, node.inner[0][1]
    assert list(pieces(node, 0)) == [Piece(joins, (0, 0), NO_CHANGE)]
    assert list(pieces(node, 1)) == [Piece(joins, (1, 0)), Piece(joins, (0, 1)), Piece(quotient, (0, 0), 3)]
    assert list(pieces(node, 2)) == [
        Piece(joins, (2, 0)), Piece(joins, (0, 2)), Piece(joins, (1, 1)), Piece(quotient, (1, 0), 3),
        Piece(quotient, (0, 1), 3),
    ]  # fmt: skip


def test_changed_formulas_are_worked_as_one_would_by_hand() -> None:
    """a = 6, b = 4. One change: 12*4, 36*4, 6*2, 6/4, half of 24. Two: 12*2, 36*2, 12/4, 36/4, 6/2, and halves of the
    four that have one change within."""
    node = product()
    node.inside = 4
    node.kept = [np.arange(1), np.arange(5), np.arange(9)]
    none, one, two = worked(node, {"a": np.array([6.0]), "b": np.array([4.0])}, 1)
    assert none.ravel().tolist() == [24]
    assert one.ravel().tolist() == [48, 144, 12, 1.5, 12]
    assert two.ravel().tolist() == [24, 72, 3, 9, 3, 24, 72, 6, 0.75]
    assert len(worked(node, {"a": np.array([6.0]), "b": np.array([4.0])}, 1, most=1)) == 2
