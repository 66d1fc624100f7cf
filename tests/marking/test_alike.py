"""Rows that are the same at one place are marked once there, and every one of them has what it would have alone."""

import itertools
from typing import Any

import numpy as np
import pandas as pd
import pytest

import benchmark_table
import witnessmark as wm
from witnessmark.marking.answered import Answered
from witnessmark.marking.frames import _alike, _repeated, _texts_numbered, _told
from witnessmark.marking.kinds import alike
from witnessmark.marking.kinds.alike import LEAST_ROWS, alike_at
from witnessmark.marking.marker import QuestionMarked, mark_question
from witnessmark.marking.weighing.weighing import Fits
from witnessmark.maths.quantities import unit
from witnessmark.maths.same_rows import firsts_of, numbered
from witnessmark.questions.sheet.task import Rules

QUESTION = benchmark_table.question()


def typed(size: int) -> pd.DataFrame:
    """So many rows, of which no two are the same and many have the same force: three plates, and stresses of
    each."""
    forces = ["113 kN", "113.1 kN", "94.2 kN", "94248 N", "56.5", "", "about 100", "1,131 kN", "72.3 kN"]
    given = [(300.0, 20.0, 6.0), (300.0, 20.0, 8.0), (200.0, 10.0, 4.0)]
    rows = [
        (*sizes, force, f"{stress} MPa")
        for stress, sizes, force in itertools.product(range(size // (len(forces) * 3) + 1), given, forces)
    ]
    return pd.DataFrame(rows[:size], columns=["tau", "d", "t", "a", "b"])


def test_a_table_of_places_that_are_the_same_says_what_smaller_tables_say() -> None:
    frame = typed(LEAST_ROWS + 200)
    few = [wm.mark_table(QUESTION, part.reset_index(drop=True)) for _, part in frame.groupby(frame.index // 150)]
    pd.testing.assert_frame_equal(wm.mark_table(QUESTION, frame), pd.concat(few, ignore_index=True))


def marked(frame: pd.DataFrame, told: "np.ndarray[tuple[int], np.dtype[np.intp]] | None") -> QuestionMarked:
    """A table marked as columns; `told` numbers its plates."""
    givens = {
        name: frame[name].to_numpy() * unit(sign).scale for name, sign in (("tau", "MPa"), ("d", "mm"), ("t", "mm"))
    }
    entries = {key: frame[key].tolist() for key in ("a", "b")}
    return mark_question(QUESTION, Answered(givens, entries, len(frame), told=told), Rules())


def test_each_row_keeps_its_reading_its_evidence_and_its_sentence() -> None:
    frame = typed(LEAST_ROWS)
    plates = frame.t.to_numpy().astype(np.intp)
    once, each = marked(frame, plates), marked(frame, None)
    for row in (*range(40), LEAST_ROWS - 1):
        assert once.outcomes(row) == each.outcomes(row)


def test_a_place_is_looked_at_once_for_rows_that_are_the_same_there(monkeypatch: pytest.MonkeyPatch) -> None:
    found: list[alike.Alike | None] = []

    def noted(*asked: Any) -> alike.Alike | None:
        found.append(alike_at(*asked))
        return found[-1]

    monkeypatch.setattr("witnessmark.marking.kinds.quantity.alike_at", noted)
    wm.mark_table(QUESTION, typed(LEAST_ROWS))
    force, stress = found
    assert force is not None
    assert (len(force.firsts), len(force.which)) == (27, LEAST_ROWS)
    assert stress is None


def test_a_number_without_its_unit_is_weighed_with_the_same_that_has_it_and_costs_what_it_costs() -> None:
    """113 kN by the edge of a hole of 20 mm through 6 mm of 300 MPa, 94.2 kN by its face; a unit left out costs half a
    mark."""
    rows = [(force, f"{stress} MPa") for stress in range(600) for force in ("113 kN", "113", "94.2", "94.2 kN")]
    frame = pd.DataFrame(rows, columns=["a", "b"]).assign(tau=300.0, d=20.0, t=6.0)
    place = marked(frame, np.zeros(len(frame), np.intp)).numbers["a"]
    assert place.reading.same is not None
    assert [len(set(place.reading.same[rows].tolist())) for rows in ([0, 1], [2, 3], [1, 2])] == [1, 1, 2]
    table = wm.mark_table(QUESTION, frame)
    assert table["a.marks"].tolist() == [3.0, 2.5, 0.5, 1.0] * 600
    assert table["a.verdict"].tolist() == ["right", "unit", "slip", "slip"] * 600


def test_rows_of_other_givens_other_texts_or_other_results_before_are_not_the_same(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(alike, "LEAST_ROWS", 1)
    told, texts = np.array([0, 0, 1, 1, 0, 1]), np.array([0, 1, 0, 0, 0, 0])
    first = alike_at(told, texts, ())
    assert first is not None
    assert (first.firsts.tolist(), first.which.tolist()) == ([0, 1, 2], [0, 1, 2, 2, 0, 2])
    second = alike_at(told, np.zeros(6, np.intp), [first])
    assert second is not None
    assert [len(set(second.which[rows])) for rows in ([0, 4], [2, 3, 5], [0, 1, 2])] == [1, 1, 3]
    assert alike_at(None, texts, ()) is None
    assert alike_at(told, None, ()) is None
    assert alike_at(told, texts, [first, None]) is None
    assert alike_at(np.arange(6), texts, ()) is None


def test_what_explains_a_row_explains_every_row_that_is_the_same() -> None:
    fits = Fits(np.array([0, 1, 1]), np.array([7, 8, 9]), np.array([0.9, 0.5, 0.25]), np.array([0.1, 0.25]))
    found = fits.of_rows(np.array([1, 0, 1, 1]))
    each = sorted(zip(found.row.tolist(), found.hypothesis.tolist(), found.posterior.tolist(), strict=True))
    assert each == [(0, 8, 0.5), (0, 9, 0.25), (1, 7, 0.9), (2, 8, 0.5), (2, 9, 0.25), (3, 8, 0.5), (3, 9, 0.25)]
    assert found.none.tolist() == [0.25, 0.1, 0.25, 0.25]


def test_rows_of_many_wide_columns_are_told_apart_by_each_of_them() -> None:
    """Eleven columns of 256 numbers each make 2^88 rows, more than a number of 64 bits can count."""
    several = 256
    rows = np.tile(np.arange(several * 3)[:, None] % several, (1, 11))
    rows[several : 2 * several, 0] += 1
    columns = (rows % several).T
    expected = [*range(2 * several), *range(several)]
    told = _told(pd.DataFrame(dict(zip("abcdefghijk", columns, strict=True))), [*"abcdefghijk"])
    assert told is not None
    assert told.tolist() == expected
    found = _alike(np.zeros(several * 3, np.intp), columns)
    assert len(found.firsts) == 2 * several
    assert found.which.tolist() == expected
    assert firsts_of(numbered(columns)).size == 2 * several


def test_distinct_rows_stand_together_by_what_they_were_told() -> None:
    found = _alike(np.array([1, 0, 1, 0, 1]), [np.array([5, 4, 3, 4, 5])])
    assert (found.firsts.tolist(), found.which.tolist()) == ([1, 0, 2], [1, 0, 2, 0, 1])


def test_a_text_is_the_same_whatever_object_holds_it_and_wherever_it_is_missing() -> None:
    """Two objects of one text, as two chunks of a file leave them, and two that stand for nothing."""
    texts = np.array(["113 kN", "x", " kN".replace(" ", "113 "), float("nan"), None, "x"] * 3, object)
    assert texts[0] is not texts[2]
    rows = np.array([2, 0, 1, 5, 3])
    codes, different = _texts_numbered(texts, rows)
    assert codes.tolist() == [0, 0, 1, 1, 2]
    assert different.tolist()[:2] == ["113 kN", "x"]
    assert _repeated(pd.DataFrame({"a": texts}), rows)["a"].different == ["113 kN", "x", ""]
    assert _repeated(pd.DataFrame({"a": texts, "b": np.arange(18).astype(str)}), rows) == {}
