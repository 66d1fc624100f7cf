"""Tables of changed formulas: their dimensions against those of whole expressions, their rows against rows by hand."""

import math

import numpy as np
import pytest

from maths.test_dimensions import HAS_UNIT, NAMES
from witnessmark.marking.search.changes import BELOW, SELF
from witnessmark.marking.search.tables import NO_CHANGE, Node, Piece, pieces, template_of, worked
from witnessmark.maths.quantities import unit
from witnessmark.maths.syntax import Binary, Call, Comparison, Minus, Number, parse

POWERS = {name: np.array([dimension.powers]) for name, dimension in NAMES.items()} | {"pi": np.zeros((1, 6))}
EXPRESSIONS = [(text, of) for text, of in HAS_UNIT if not isinstance(parse(text), Comparison) and "**n" not in text]


@pytest.mark.parametrize(("text", "of"), EXPRESSIONS)
def test_a_template_has_the_dimension_of_its_unit(text: str, of: str) -> None:
    found = np.broadcast_to(template_of(parse(text)).dimension(POWERS), (1, 6))
    assert found.tolist() == [pytest.approx(unit(of).dimension.powers)]


@pytest.mark.parametrize("text", ["d + F", "min(d, A)", "sin(d)", "exp(F/A)", "atan2(d, F)", "d**(A/t)"])
def test_what_has_no_dimension_has_none(text: str) -> None:
    assert np.isnan(template_of(parse(text)).dimension(POWERS)).all()


@pytest.mark.parametrize(("text", "of"), [
    ("mean(d, t, d)", "m"), ("median(F, m*a)", "N"), ("spread(A, d*t)", "m^2"), ("slope(d, t, F, m*a)", "N/m"),
    ("slope(F, F, d, t)", "m/N"),
])  # fmt: skip
def test_a_mean_has_the_dimension_of_its_readings_and_a_slope_that_of_y_over_x(text: str, of: str) -> None:
    found = np.broadcast_to(template_of(parse(text)).dimension(POWERS), (1, 6))
    assert found.tolist() == [pytest.approx(unit(of).dimension.powers)]


@pytest.mark.parametrize("text", ["mean(d, F)", "slope(d, F, t, t)", "slope(d, t, F, A)"])
def test_unlike_readings_have_no_dimension_together(text: str) -> None:
    assert np.isnan(template_of(parse(text)).dimension(POWERS)).all()


def test_dimensions_of_many_formulas_are_added_row_by_row_and_a_name_may_have_them_in_one() -> None:
    """Two formulas in the place of d, a length and a force: the first may be added to t, the second may not."""
    rows = {"d": np.array([NAMES["d"].powers, NAMES["F"].powers]), "t": np.array(NAMES["t"].powers)}
    found = template_of(parse("d + t")).dimension(rows)
    assert found[0].tolist() == pytest.approx(NAMES["t"].powers)
    assert np.isnan(found[1]).all()
    assert template_of(parse("t + t")).dimension(rows).tolist() == pytest.approx(NAMES["t"].powers)


def leaf(name: str, *changes: str) -> Node:
    """A name that may be changed into these, numbered from 10."""
    inner = tuple((n, template_of(parse(text))) for n, text in enumerate(changes, 10))
    node = Node(template_of(parse(name)), (), inner, ())
    node.kept = [np.arange(1), np.arange(len(changes)), np.arange(0)]
    return node


LEFT, RIGHT = leaf("a", "2*a", "a**2"), leaf("b", "b/2")


def product() -> Node:
    """a*b, which may also be the quotient (change 3), and the whole of it may be halved (change 7)."""
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


def root() -> Node:
    """sqrt(a), of which the root may be left out (change 0) or a minus be set before it (change 1)."""
    inner = ((0, template_of(BELOW[0])), (1, template_of(Minus(BELOW[0]))))
    return Node(template_of(Call("sqrt", BELOW[:1])), (LEFT,), inner, ())


def test_a_node_with_one_below_it_has_two_changes_below_or_one_below_and_one_of_its_own() -> None:
    node = root()
    (out, _), (minus, _) = ((template, number) for number, template in node.inner)
    assert list(pieces(node, 1)) == [Piece(node.joins, (1,)), Piece(out, (0,), 0), Piece(minus, (0,), 1)]
    assert list(pieces(node, 2)) == [Piece(node.joins, (2,)), Piece(out, (1,), 0), Piece(minus, (1,), 1)]
    assert all(piece.change != NO_CHANGE for piece in pieces(node, 2) if piece.template is not node.joins)


def test_what_stands_below_one_node_is_worked_as_by_hand_in_every_variant() -> None:
    """a = 8 and 2; doubled 16 and 4, squared 64 and 4."""
    node = root()
    node.kept = [np.arange(1), np.arange(4), np.arange(4)]
    none, one, two = worked(node, {"a": np.array([8.0, 2.0])}, 2)
    assert none.tolist() == [pytest.approx([math.sqrt(8), math.sqrt(2)])]
    assert one.tolist() == [pytest.approx([4, 2]), pytest.approx([8, 2]), [8, 2], [-8, -2]]
    assert two.tolist() == [[16, 4], [64, 4], [-16, -4], [-64, -4]]


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
