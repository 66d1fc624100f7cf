"""Cells of a table: each is marked by itself, a wrong one is carried on, singly and by columns alike."""

import numpy as np
import pandas as pd
import pytest

import witnessmark as wm
from bank_fixture import BANK
from witnessmark.marking.hypotheses.hypotheses import MANY, carried_together
from witnessmark.questions.drawing.draw import draw
from witnessmark.questions.sheet.variant import Variant

ROD = BANK["pull-on-a-rod"]
CELLS = tuple(f"a{row}" for row in range(1, 6))
QUARTER = 1 / 4  # what the diameter for the radius makes of a stress here: too small


@pytest.fixture(scope="module")
def rod() -> Variant:
    """One student's rod."""
    return draw(ROD, "cells|A01|1")


def column(variant: Variant, name: str) -> list[float]:
    """The readings of a column in their unit."""
    return [float(variant.shown[f"{name}_{row}"].number) for row in range(1, 6)]


def worked(variant: Variant, wrong: tuple[int, ...]) -> dict[str, str]:
    """What somebody types who takes the diameter for the radius in these rows, and goes on from their own stresses by
    numpy's least squares."""
    right = [variant.expected[key].magnitude for key in CELLS]
    own = [float(f"{stress * (QUARTER if n in wrong else 1):.4g}") for n, stress in enumerate(right, 1)]
    slope = float(np.polyfit(own, column(variant, "x"), 1)[0])
    length = float(variant.shown["L"].number)
    typed = {key: f"{stress:g} MPa" for key, stress in zip(CELLS, own, strict=True)}
    return {**typed, "b": f"{slope:.4g} µm/MPa", "c": f"{length / slope:.4g} GPa"}


@pytest.mark.parametrize("wrong", [(3,), (1, 2), (2, 3, 5), (1, 2, 3, 4), (1, 2, 3, 4, 5)], ids=str)
def test_wrong_cells_cost_their_own_marks_and_nothing_that_follows(rod: Variant, wrong: tuple[int, ...]) -> None:
    marked = wm.mark(rod, worked(rod, wrong))
    for row, key in enumerate(CELLS, 1):
        assert (marked[key].marks == marked[key].out_of) == (row not in wrong)
        assert marked[key].misconceptions == (("diameter-for-radius-in-area",) if row in wrong else ())
    for key in ("b", "c"):
        assert marked[key].verdict is wm.Verdict.CARRIED_FORWARD
        assert marked[key].marks == marked[key].out_of


def test_a_right_slope_earns_its_marks_with_the_cells_left_empty(rod: Variant) -> None:
    typed = {key: text for key, text in worked(rod, ()).items() if key not in CELLS}
    marked = wm.mark(rod, {**dict.fromkeys(CELLS, ""), **typed})
    assert [marked[key].marks for key in CELLS] == [0] * 5
    assert [marked[key].verdict for key in ("b", "c")] == [wm.Verdict.RIGHT] * 2


def test_the_right_slope_beside_wrong_cells_is_right(rod: Variant) -> None:
    marked = wm.mark(rod, {**worked(rod, (2, 4)), "b": worked(rod, ())["b"]})
    assert marked["b"].marks == marked["b"].out_of


def test_a_cell_needs_no_unit_since_its_heading_tells_it_and_may_have_another(rod: Variant) -> None:
    stress = rod.expected["a2"].magnitude
    for text in (f"{stress:.4g}", f"{stress:.4g} MPa", f"{stress:.4g} N/mm²", f"{stress * 1000:.4g} kPa"):
        assert wm.mark(rod, {"a2": text})["a2"].marks == ROD.part("a2").marks, text
    assert wm.mark(rod, {"c": f"{rod.expected['c'].magnitude:.4g}"})["c"].marks < ROD.part("c").marks


@pytest.mark.parametrize("key", ["hardness-of-a-plate", "pull-on-a-rod", "heating-mat"])
def test_every_slip_is_named_where_it_is_typed_singly_and_by_columns(key: str) -> None:
    variant = draw(BANK[key], "slips|A01|1")
    typed = [
        (place, name, f"{value:.5g}" if isinstance(value, float) else f"{value:.5g~}")
        for place, slips in variant.slips.items()
        for name, value in slips.items()
        if not isinstance(value, float)
    ]
    assert len(typed) >= 6
    rows = [{name: float(s.number) for name, s in variant.shown.items() if name in BANK[key].stated} for _ in typed]
    table = pd.DataFrame(rows)
    for place in dict.fromkeys(place for place, _, _ in typed):
        table[place] = [text if where == place else "" for where, _, text in typed]
    marked = wm.mark_table(BANK[key], table)
    for n, (place, name, text) in enumerate(typed):
        alone = wm.mark(variant, {place: text})[place]
        assert alone.misconceptions == (name,), (place, text)
        assert alone.marks < alone.out_of
        assert (marked[f"{place}.misconceptions"][n], marked[f"{place}.marks"][n]) == (name, float(alone.marks))
        assert marked[f"{place}.verdict"][n] == alone.verdict


def test_columns_and_single_answers_agree_on_cells_that_went_wrong_and_what_follows(rod: Variant) -> None:
    papers = [worked(rod, wrong) for wrong in ((), (2,), (1, 2, 3, 4), (1, 2, 3, 4, 5))]
    givens = {name: float(s.number) for name, s in rod.shown.items() if name in ROD.stated}
    marked = wm.mark_table(ROD, pd.DataFrame([{**givens, **paper} for paper in papers]))
    for n, paper in enumerate(papers):
        for key, alone in wm.mark(rod, paper).items():
            there = (marked[f"{key}.verdict"][n], marked[f"{key}.marks"][n], marked[f"{key}.sure"][n])
            assert there == (alone.verdict, float(alone.marks), pytest.approx(alone.sure, abs=1e-9)), (n, key)


def test_up_to_three_results_are_carried_in_every_choice_and_more_all_together() -> None:
    assert carried_together(3) == [(0,), (1,), (2,), (0, 1), (0, 2), (1, 2), (0, 1, 2)]
    assert carried_together(MANY) == [(0, 1, 2, 3)]
    assert carried_together(0) == []
