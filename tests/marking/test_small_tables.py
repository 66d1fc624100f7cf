"""Tables of a few rows, worked by hand: whose answers are alike, what counts as a given, letters, classes, partitions.

A hole of 20 mm through 6 mm of 300 MPa takes 113.1 kN by its edge (3 marks); 94.2 kN are by its face (1 mark), and
56.5 kN by the radius (2 marks).
"""

import math
from collections.abc import Sequence
from decimal import Decimal
from itertools import pairwise
from typing import Any

import numpy as np
import pandas as pd
import pytest

import witnessmark as wm
from bank_cases import SMALL_BANK
from witnessmark.files.bank.question_text import question_from_text
from witnessmark.marking.pieces import BLOCK, LEAST_PIECE, Alone, evenly, pieces_of
from witnessmark.questions.sheet.task import Rules
from witnessmark.words.errors import UnknownName

BANK = wm.load_bank(SMALL_BANK)
HOLE, EDGE = BANK["drain-hole"], BANK["cut-edge"]


def holes(*answers: object, d: Sequence[float] | float = 20.0, **more: object) -> pd.DataFrame:
    return pd.DataFrame({"tau": 300.0, "d": d, "t": 6.0, "a": list(answers), **more})


def marks(table: pd.DataFrame, key: str = "a") -> list[float]:
    found: list[float] = table[f"{key}.marks"].tolist()
    return found


def test_every_row_has_the_outcome_of_its_own_givens_and_answer_in_its_own_place() -> None:
    """A hole of 10 mm takes 56.5 kN by its edge, one of 5 mm by twice its diameter; each with the answers of all."""
    texts = ["113 kN", "56.5 kN", "113 kN", "56.5 kN", "56.5 kN", "113 kN"]
    table = wm.mark_table(HOLE, holes(*texts, d=[20.0, 10.0, 10.0, 20.0, 20.0, 20.0]))
    assert marks(table) == [3.0, 3.0, 0.0, 2.0, 2.0, 3.0]
    assert table["a.verdict"].tolist() == ["right", "right", "edit", "slip", "slip", "right"]
    assert set(table["a.out_of"]) == {3.0}
    radius = "radius-for-diameter"
    assert table["a.misconceptions"].tolist() == ["", "", "", radius, radius, ""]


def test_names_stand_beside_their_own_answers_and_none_beside_what_has_none() -> None:
    """By hand 94.2 kN by the face; 47.1 kN by its half."""
    table = wm.mark_table(HOLE, holes("100 kN", "94.2 kN", "", "113 kN", "47.1 kN", "56.5 kN", "?"))
    face, radius = "face-area-for-sheared-edge", "radius-for-diameter"
    found = [set(names.split("+")) for names in table["a.misconceptions"]]
    assert found == [{""}, {face}, {""}, {""}, {face, radius}, {radius}, {""}]


@pytest.mark.parametrize("dtype", ["string", object])
def test_a_missing_answer_is_blank_beside_any_other_of_the_same_givens(dtype: Any) -> None:
    frame = holes("56.5 kN", "113 kN", None, "113 kN", d=[20.0, 20.0, 10.0, 10.0]).astype({"a": dtype})
    table = wm.mark_table(HOLE, frame)
    assert table["a.verdict"].tolist() == ["slip", "right", "blank", "edit"]
    assert table["a"].isna().tolist() == [False, False, True, False]


def test_of_three_kinds_of_givens_and_two_of_answers_each_is_told_from_the_others() -> None:
    """By hand 113.1, 56.5 and 28.3 kN."""
    d = [20.0, 10.0, 5.0] * 2
    table = wm.mark_table(HOLE, holes(*["113 kN"] * 3, *["56.5 kN"] * 3, d=d))
    assert table["a.verdict"].tolist() == ["right", "edit", "edit", "slip", "right", "edit"]


def test_answers_of_any_kind_are_texts_as_they_would_be_typed() -> None:
    strength = {"punch.compressive_strength": 1150.0}
    table = wm.mark_table(HOLE, holes(113.1, None, "113 kN", c=[True, False, "yes"], b="360 MPa", **strength))
    assert table["a.verdict"].tolist() == ["unit", "blank", "right"]
    assert table["c.verdict"].tolist() == ["right", "wrong", "right"]
    with pytest.raises(TypeError, match=r"^a: expected text"):
        wm.mark_table(HOLE, holes(True))


def test_rules_count_where_they_are_told() -> None:
    assert marks(wm.mark_table(HOLE, holes("113"), Rules(unit_missing=Decimal(1)))) == [2.0]
    assert marks(wm.mark_table(HOLE, holes("113"))) == [2.5]


def test_a_table_keeps_its_index_and_columns_and_an_empty_one_stays_as_it_is() -> None:
    frame = holes("113 kN", "94.2 kN", who=["x", "y"]).set_index(pd.Index([7, 3]))
    table = wm.mark_table(HOLE, frame)
    assert (table.index.tolist(), table["who"].tolist(), marks(table)) == ([7, 3], ["x", "y"], [3.0, 1.0])
    assert list(table.columns) == [
        *frame.columns, "a.marks", "a.out_of", "a.verdict", "a.misconceptions", "a.sure",
    ]  # fmt: skip
    for empty in (frame.iloc[:0], pd.DataFrame({"material": pd.Series(dtype=str), "d": 0.0, "t": 0.0, "a": ""})):
        for as_class in (False, True):
            assert list(wm.mark_table(HOLE, empty, as_class=as_class).columns) == list(empty.columns)


@pytest.mark.parametrize("t", [[6.0, 7.0, math.nan, 6.0], [math.nan, 7.0, 6.0, 6.0], [math.nan] * 4])
def test_a_given_that_is_missing_is_told_wherever_it_stands(t: list[float]) -> None:
    frame = holes(*["113 kN"] * 4, d=[20.0, 25.0, 20.0, 20.0]).assign(t=t)
    with pytest.raises(TypeError, match=r"column t: expected a number in mm in every row, found .*nan"):
        wm.mark_table(HOLE, frame)


def test_where_no_answer_can_be_marked_the_missing_givens_are_named() -> None:
    with pytest.raises(UnknownName, match="without it a cannot be marked"):
        wm.mark_table(HOLE, pd.DataFrame({"d": [20.0], "a": ["113 kN"]}))


# Rows of tables, and letters.


def test_the_cells_of_a_named_row_are_givens() -> None:
    """Mild steel has 300 MPa, soft aluminium 80 MPa: a hole of 20 mm through 6 mm takes 113.1 and 30.2 kN."""
    named = BANK.tables["sheet-metals"].rows
    strengths = [float(named[name]["shear_strength"]) for name in named]
    forces = [f"{math.pi * 20 * 6 * tau / 1000:.4g} kN" for tau in strengths]
    table = wm.mark_table(HOLE, pd.DataFrame({"material": list(named), "d": 20.0, "t": 6.0, "a": forces}))
    assert set(table["a.verdict"]) == {"right"}
    assert len(set(strengths)) > 1


def test_a_name_that_is_no_row_is_told_with_the_column_and_the_table() -> None:
    with pytest.raises(UnknownName, match="mild stel: no row of sheet-metals, in column material"):
        wm.mark_table(HOLE, pd.DataFrame({"material": ["mild steel", "mild stel"], "d": 20.0, "t": 6.0, "a": "1 kN"}))


def edges(**columns: object) -> pd.DataFrame:
    variant = EDGE.variant(material="mild steel", t="3 mm")
    letters = [name for name in "ABC" if wm.mark(variant, {"b": name})["b"].verdict == "right"]
    return pd.DataFrame({"t": [3.0], "b": letters, **columns})


def test_letters_are_known_where_all_that_is_drawn_has_a_column_and_wait_where_it_has_not() -> None:
    verdicts = {
        told: wm.mark_table(EDGE, edges(**columns))["b.verdict"].tolist()
        for told, columns in {"all": {"material": "mild steel"}, "some": {}}.items()
    }
    assert verdicts == {"all": ["right"], "some": ["unreadable"]}
    without_t = edges(material="mild steel").drop(columns="t")
    assert wm.mark_table(EDGE, without_t)["b.verdict"].tolist() == ["unreadable"]


def test_either_limit_may_be_answered_by_itself_and_is_told_only_then() -> None:
    """A plate of 3 mm that may differ by a tenth has 3.3 mm at most."""
    variant = EDGE.variant(material="mild steel", t="3 mm")
    alone, both = wm.mark(variant, {"h.largest": "3.3 mm"}), wm.mark(variant, {"h": "3.3 and 2.7 mm"})
    assert [(key, str(out.verdict)) for key, out in alone.items() if key.startswith("h.")] == [("h.largest", "right")]
    assert [key for key in both if key.startswith("h.")] == []
    assert [key for key in wm.mark(EDGE.variant(), {"h.largest": "3.3 mm"}) if key.startswith("h")] == []


def test_words_are_marked_beside_numbers() -> None:
    table = wm.mark_table(EDGE, edges(material="mild steel", d="a high burr; more force", f="1.0 mm"))
    assert [marks(table, key) for key in "bdf"] == [[1.0], [2.0], [1.0]]
    assert table["d.out_of"].tolist() == [2.0]


# Givens of our own.

WARM = """question: warm
title: Warm
topic: heat
level: 1
setting: A tank of {m} at {T} is lifted {n} times.
given:
  T: {is: temperature, unit: degC, one of: [27, 77]}
  m: {is: mass, unit: kg, one of: [2, 3]}
  n: {is: number of times, one of: [2, 3]}
  F: {is: weight, unit: N, value: m*g}
  Z: {is: all there is, unit: N, value: m*g*n*T*F*pi/(T*m*g*n)}
find:
  a: {ask: Find the absolute temperature., is: absolute temperature, symbol: T_0, unit: K, answer: T, marks: 1}
  b: {ask: Find the weight., is: weight, symbol: W, unit: N, answer: n*F, marks: 1}
  c: {ask: Find all., is: all, symbol: Y, unit: N, answer: 1*Z, marks: 1}
"""


def warm() -> Any:
    found, problems = question_from_text(WARM, "warm.yaml", {})
    assert problems == ()
    return found


def test_givens_are_taken_in_their_unit_and_worked_ones_from_the_others() -> None:
    """27 °C is 300.15 K; 2 kg weigh 19.62 N, twice that is 39.24 N, and pi times one of them 61.6 N."""
    frame = pd.DataFrame({"T": [27.0], "m": 2.0, "n": 2.0, "a": "300 K", "b": "39.24 N", "c": "61.6 N"})
    table = wm.mark_table(warm(), frame)
    assert [table[f"{key}.verdict"].tolist() for key in "abc"] == [["right"]] * 3
    assert wm.mark_table(warm(), frame.assign(F=100.0, b="200 N"))["b.verdict"].tolist() == ["right"]


def test_a_task_may_take_another_acceleration_of_free_fall() -> None:
    """2 kg twice at 10 m/s² weigh 40 N."""
    frame = pd.DataFrame({"m": [2.0], "n": 2.0, "b": "40.00 N"})
    found = [wm.mark_table(warm(), frame, Rules(g=g))["b.verdict"].tolist() for g in (Decimal(10), Decimal("9.81"))]
    assert found[0] == ["right"] != found[1]


@pytest.mark.parametrize(("column", "said"), [("m", "a number in kg in every row"), ("n", "a number in every row")])
def test_a_cell_that_is_no_number_is_told_with_its_column_and_unit(column: str, said: str) -> None:
    frame = pd.DataFrame({"m": [2.0, 2.0], "n": 2.0, "b": "39.24 N"}).assign(**{column: pd.Series([2.0, "x"])})
    with pytest.raises(TypeError, match=f"column {column}: expected {said}, found 'x'"):
        wm.mark_table(warm(), frame)


# Classes, partitions and blocks.


def a_class() -> pd.DataFrame:
    """One who may have taken the radius or the face (the diameter is twice the thickness: 33.9 kN by either), and six
    who surely took the radius, each through a plate of their own."""
    d, t = [12.0, 20.0, 16.0, 25.0, 20.0, 16.0, 25.0], [6.0, 3.5, 4.5, 5.5, 6.5, 7.5, 3.5]
    forces = ["33.9 kN", *(f"{math.pi * a / 2 * b * 300 / 1000:.4g} kN" for a, b in zip(d[1:], t[1:], strict=True))]
    return pd.DataFrame({"tau": 300.0, "d": d, "t": t, "a": forces})


def test_rows_are_a_class_only_where_that_is_asked() -> None:
    plain, together = (wm.mark_table(HOLE, a_class(), as_class=as_class) for as_class in (False, True))
    assert (plain["a.sure"][0] < 0.6, together["a.sure"][0] > 0.7) == (True, True)
    assert wm.mark_table(HOLE, a_class())["a.sure"].tolist() == plain["a.sure"].tolist()
    pd.testing.assert_frame_equal(together.iloc[1:], plain.iloc[1:])


class Parts:
    """A table in two partitions, the first without rows."""

    def __init__(self, frame: pd.DataFrame) -> None:
        self.parts, self.asked = (frame.iloc[:0], frame), list[tuple[int, int]]()

    def head(self, n: int, npartitions: int) -> pd.DataFrame:
        self.asked.append((n, npartitions))
        return self.parts[1].head(n)

    def map_partitions(self, act: Any, /, *, meta: pd.DataFrame) -> list[pd.DataFrame]:
        return [meta, *(act(part) for part in self.parts)]


def test_partitions_are_marked_one_by_one_and_look_alike_with_rows_or_without() -> None:
    parts = Parts(a_class())
    meta, empty, full = wm.mark_table(HOLE, parts)
    assert parts.asked == [(1, -1)]  # one row of all, to know the columns
    assert (len(meta), len(empty)) == (0, 0)
    pd.testing.assert_frame_equal(full, wm.mark_table(HOLE, a_class()))
    assert list(meta.dtypes) == list(empty.dtypes) == list(full.dtypes)
    with pytest.raises(ValueError, match="marked in one table"):
        wm.mark_table(HOLE, parts, as_class=True)


def test_what_is_no_table_is_refused_by_its_kind() -> None:
    with pytest.raises(TypeError, match=r"expected a table \(pandas.DataFrame\), found list"):
        wm.mark_table(HOLE, [])  # type: ignore[call-overload]


def starts_and_ends(size: int, workers: int) -> list[tuple[int, int]]:
    """The pieces of a table of which nobody knows who was told the same."""
    return [(piece.start, piece.stop) for piece in pieces_of(None, size, workers) if isinstance(piece, slice)]


def test_who_is_alone_has_one_piece_as_long_as_memory_allows_it() -> None:
    assert starts_and_ends(BLOCK, Alone().count) == [(0, BLOCK)]


@pytest.mark.parametrize("workers", [1, 2, 8])
@pytest.mark.parametrize("size", [0, 1, LEAST_PIECE, 2 * LEAST_PIECE, 2 * BLOCK, 2 * BLOCK + 1, 5 * BLOCK])
def test_a_large_table_is_marked_in_even_pieces_as_many_for_each_worker(size: int, workers: int) -> None:
    found = starts_and_ends(size, workers)
    assert found == list(pairwise([0, *(stop for _, stop in found)]))
    lengths = [stop - start for start, stop in found]
    assert sum(lengths) == size
    assert all(0 < length <= BLOCK for length in lengths)
    assert np.ptp(lengths or [0]) <= 1
    busy = max(min(workers, size // LEAST_PIECE), 1)
    assert len(found) == (busy * math.ceil(size / (busy * BLOCK)) if size else 0)


def test_who_was_told_the_same_is_marked_by_the_same_worker_where_no_few_are_too_many() -> None:
    """Four kinds of a quarter each are two for each worker; of one kind that is nearly all, each has half the rows."""
    rows = 4 * LEAST_PIECE
    kinds = np.arange(rows) % 4
    first, second = (np.asarray(piece) for piece in pieces_of(kinds, rows, 2))
    assert sorted([*first.tolist(), *second.tolist()]) == list(range(rows))
    assert (set(kinds[first].tolist()), set(kinds[second].tolist())) == ({0, 1}, {2, 3})
    assert pieces_of((np.arange(rows) < 10).astype(np.intp), rows, 2) == [slice(0, rows // 2), slice(rows // 2, rows)]
    assert [len(np.asarray(piece)) for piece in pieces_of(np.zeros(9, np.intp), 9, 2)] == [9]


def test_many_rows_are_marked_block_by_block() -> None:
    assert evenly(2 * BLOCK + 1, 3) == [range(133_333), range(133_333, 266_667), range(266_667, 400_001)]
