"""A piece that was drawn before is not drawn again, and nothing that is drawn otherwise passes for the same."""

from typing import Any

import pytest
from markupsafe import Markup

from witnessmark.documents.figures import lettering, shapes
from witnessmark.documents.figures.drawn_once import drawn_once
from witnessmark.documents.figures.part import Box, Part


class Piece:
    """A piece that notes what it was told whenever it is drawn."""

    def __init__(self) -> None:
        self.told: list[tuple[Any, ...]] = []

    def __call__(self, *values: Any, **named: Any) -> Part:
        self.told.append((values, named))
        if values == ("bad",):
            raise ValueError("no such piece")
        return Part(repr((values, named)), Box(0, 0, 1, 1))


def drawn(*each: tuple[Any, ...]) -> int:
    """How many pieces are drawn where all these are asked for, one after the other."""
    piece = Piece()
    once = drawn_once(piece)
    for values in each:
        assert once(*values).svg == repr((values, {}))
    return len(piece.told)


def test_the_same_numbers_texts_and_points_are_drawn_once() -> None:
    assert drawn((1.5, "6 mm"), (1.5, "6 mm")) == 1
    assert drawn(([(0.5, 2.0), (3.0, 4.5)],), ([(0.5, 2.0), (3.0, 4.5)],)) == 1
    assert drawn((1.5, "6 mm"), (1.5, "8 mm"), (2.5, "6 mm"), (1.5,)) == 4


@pytest.mark.parametrize(
    ("one", "other"), [(1, True), (1, 1.0), (0.0, -0.0), ("6 < 8", Markup("6 < 8")), (None, "None")]
)
def test_what_python_takes_for_the_same_is_not_where_it_may_be_drawn_otherwise(one: Any, other: Any) -> None:
    assert drawn((one,), (other,), ([one],), ([other],)) == 4


def test_names_tell_and_their_order_does_not() -> None:
    piece = Piece()
    once = drawn_once(piece)
    for named in ({"size": 7.5, "at": "end"}, {"at": "end", "size": 7.5}, {"at": "end"}, {"size": 7.5}):
        once(**named)
    assert len(piece.told) == 3


def test_what_is_no_number_and_no_text_is_drawn_each_time() -> None:
    assert drawn(({"x": 1},), ({"x": 1},)) == 2


def test_a_piece_that_cannot_be_drawn_says_so_each_time() -> None:
    piece = Piece()
    once = drawn_once(piece)
    for _ in range(2):
        with pytest.raises(ValueError, match="no such piece"):
            once("bad")
    assert len(piece.told) == 2


def test_a_piece_of_a_figure_is_what_it_is_when_it_is_drawn_anew() -> None:
    hatch, text = drawn_once(shapes.hatch), drawn_once(lettering.text)
    area = [[(0.0, 0.0), (30.0, 0.0), (30.0, 20.0), (0.0, 20.0)]]
    for _ in range(2):
        assert hatch(area, spacing=4.0) == shapes.hatch(area, spacing=4.0)
        assert text(10.0, 20.0, "Ø 20 mm", halo=True) == lettering.text(10.0, 20.0, "Ø 20 mm", halo=True)
