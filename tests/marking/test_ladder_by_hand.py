"""The ladder where it is told how likely each explanation is: whom it names, whom it asks all edits about, what an own
wrong line costs, and what becomes of every explanation."""

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from types import SimpleNamespace
from typing import Any, cast

import numpy as np
import pytest

from marking.test_weighing_laws import SLIPS, numbers, right_at, sure_of_right
from witnessmark.marking.hypotheses.hypotheses import Hypothesis
from witnessmark.marking.outcome import Verdict
from witnessmark.marking.weighing import ladder
from witnessmark.marking.weighing.ladder import Climbed, Rung, climb, marks_of, wrong_lines_used
from witnessmark.marking.weighing.setting import Setting
from witnessmark.marking.weighing.weighing import Fits, Weights
from witnessmark.marking.weights import MOST_SURE, MOST_SURE_OF_EDIT
from witnessmark.maths.syntax import parse
from witnessmark.questions.model.parts import Line
from witnessmark.questions.sheet.task import Rules

Told = Sequence[Sequence[tuple[int, float]]]
"""Of each entry its explanations: which candidate, and how likely; the rest is none of these."""


def candidate(which: int, marks: str, kind: str = "slip", verdict: Verdict = Verdict.SLIP) -> Hypothesis:
    return Hypothesis(kind, 5, verdict, SLIPS[which], marks=Decimal(marks))


TWO = (candidate(0, "1"), candidate(1, "2"))
EDIT = Hypothesis("edit", 7, Verdict.EDIT, right_at("a"), marks=Decimal("0.5"))


def fits(told: Told) -> Fits:
    """The explanations as the ladder is given them."""
    every = [(row, which, likely) for row, some in enumerate(told) for which, likely in some]
    row, which, likely = (np.array(column) for column in zip(*every, strict=True)) if every else (np.empty(0),) * 3
    none = np.array([1 - sum(likely for _, likely in some) for some in told])
    return Fits(row.astype(np.intp), which.astype(np.intp), likely.astype(np.float64), none)


class Weighed:
    """Stands for the weighing: tells the first time these explanations, and the second time others of some entries."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch, weights: Sequence[Sequence[float]], *told: Told) -> None:
        self.asked, self._told = 0, list(told)
        row = [n for n, some in enumerate(weights) for _ in some]
        every = Weights(np.array(row, np.intp), np.zeros(len(row), np.intp), np.array([w for s in weights for w in s]))
        monkeypatch.setattr(ladder, "weights_of", lambda *_: every)
        monkeypatch.setattr(ladder, "fits_of", lambda *_: fits(self._told.pop(0)))

    def further(self) -> Sequence[Hypothesis]:
        """Every edit, when it is asked for."""
        self.asked += 1
        return (EDIT,)

    def climbed(self, entries: int, candidates: Sequence[Hypothesis] = TWO, rules: Rules | None = None) -> Climbed:
        """The ladder at so many entries that are not right."""
        far = np.ones(entries)
        rung = Rung(candidates, self.further, far, (far, far), (), rules or Rules())
        known: Any = SimpleNamespace(only=lambda *_: known)
        return climb(numbers([94.2] * entries, 3), cast("Setting", known), rung)


# Who is named.


def test_each_entry_has_the_kindest_of_what_is_nearly_as_likely_for_it(monkeypatch: pytest.MonkeyPatch) -> None:
    told = [[(0, 0.6), (1, 0.35)], [], [(0, 0.7), (1, 0.2)], [(1, 0.5), (0, 0.45)], [(0, 0.48), (1, 0.48)]]
    found = Weighed(monkeypatch, [[1.0]] * 5, told, [[]]).climbed(5, rules=Rules(ask_below=0.0))
    assert found.named.tolist() == [1, -1, 0, 1, 1]
    assert found.marks.tolist() == [200, 0, 100, 200, 200]
    assert found.tied.tolist() == [True, False, False, True, True]
    assert found.sure.tolist() == pytest.approx(
        [0.35 * MOST_SURE, 1.0, 0.7 * MOST_SURE, 0.5 * MOST_SURE, 0.48 * MOST_SURE]
    )
    assert found.fits.row.tolist() == [0, 0, 2, 2, 3, 3, 4, 4]


def test_what_is_just_as_likely_as_none_of_these_is_not_named(monkeypatch: pytest.MonkeyPatch) -> None:
    found = Weighed(monkeypatch, [[1.0]], [[(0, 0.5)]], [[(0, 0.5)]]).climbed(1)
    assert (found.named.tolist(), found.marks.tolist(), found.sure.tolist()) == ([-1], [0], [0.5])


def test_explanations_of_one_name_are_no_tie_whatever_is_named_beside(monkeypatch: pytest.MonkeyPatch) -> None:
    names = [replace(SLIPS[0], misconceptions=(name,)) for name in ("first", "second", "third")]
    candidates = [Hypothesis("slip", 5, Verdict.SLIP, m, marks=Decimal(1)) for m in (*names, names[2])]
    told = [[(0, 0.9)], [(1, 0.9)], [(2, 0.5), (3, 0.4)], [(1, 0.5), (2, 0.4)]]
    found = Weighed(monkeypatch, [[1.0]] * 4, told).climbed(4, candidates, Rules(ask_below=0.0))
    assert found.tied.tolist() == [False, False, False, True]
    assert found.sure.tolist() == pytest.approx([share * MOST_SURE for share in (0.9, 0.9, 0.9, 0.5)])


def test_the_right_working_is_as_sure_as_all_ways_of_rounding_it_and_an_edit_as_sure_as_itself(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Rounded early or cut off it is the right working; another edit is told in other words."""
    method = right_at("a")
    early = Hypothesis("rounded early", 3, Verdict.ROUNDED_EARLY, method, marks=Decimal(2))
    cut = Hypothesis("cut off", 3, Verdict.RIGHT, method, marks=Decimal(2))
    other = replace(EDIT, method=replace(method, final=replace(method.final, tree=parse("tau*t"))))
    told = [[(0, 0.5), (1, 0.3)], [(2, 0.5), (3, 0.3)], [(2, 0.5), (4, 0.3)], [(0, 0.5), (5, 0.3)]]
    candidates = [early, cut, EDIT, other, replace(EDIT, rung=8), candidate(0, "1")]
    found = Weighed(monkeypatch, [[1.0]] * 4, told).climbed(4, candidates, Rules(ask_below=0.0))
    assert found.sure.tolist() == pytest.approx([
        0.8 * MOST_SURE, 0.5 * MOST_SURE_OF_EDIT, 0.8 * MOST_SURE_OF_EDIT, 0.5 * MOST_SURE,
    ])  # fmt: skip


def test_where_all_is_right_no_explanation_is_told() -> None:
    right, ends = cast("Any", SimpleNamespace(marks=Decimal(3))), (np.full(2, 94.0), np.full(2, 94.5))
    rung = Rung((right,), lambda: (), np.full(2, 94.2), ends, (), Rules())
    found = climb(numbers([94.2, 94.3], 3), cast("Setting", None), rung)
    assert (found.named.tolist(), found.marks.tolist()) == ([0, 0], [300, 300])
    assert (found.fits.row.size, found.fits.hypothesis.size, found.fits.posterior.size) == (0, 0, 0)
    assert found.fits.none.tolist() == [0.0, 0.0]


def test_what_no_name_may_have_is_left_to_none_of_these(monkeypatch: pytest.MonkeyPatch) -> None:
    """No name is surer than 0.999, none of an edit than 0.994 (measured; see the marker's weights)."""
    found = Weighed(monkeypatch, [[1.0]], [[(0, 0.5)]], [[(0, 0.25), (2, 0.75)]]).climbed(1)
    assert (MOST_SURE, MOST_SURE_OF_EDIT) == (0.999, 0.994)
    assert found.named.tolist() == [2]
    assert found.sure.tolist() == pytest.approx([0.75 * 0.994])
    assert found.fits.posterior.tolist() == pytest.approx([0.25 * 0.999, 0.75 * 0.994])
    assert found.fits.none.tolist() == pytest.approx([1 - 0.25 * 0.999 - 0.75 * 0.994])


# Whom all edits are asked about.


@pytest.mark.parametrize(("told", "weights", "asked"), [
    ([(0, 0.95)], [0.5], 0),
    ([(0, 0.6)], [0.5], 1),  # named, and in doubt
    ([(0, 0.05)], [0.5], 1),  # surely none of these
    ([(0, 0.95)], [0.9e-4], 1),  # far fetched: below one in ten thousand, which is our own choice
    ([(0, 0.95)], [1.1e-4], 0),
    ([(0, 0.95)], [1.1e-4, 0.1e-4], 0),
    ([(0, 0.95)], [0.1e-4, 1.1e-4], 0),
    ([(1, 0.95)], [0.5], 1),  # a unit left as it is
])  # fmt: skip
def test_edits_are_asked_for_where_there_is_doubt_or_nothing_but_what_is_far_fetched_or_a_unit_left_as_it_is(
    monkeypatch: pytest.MonkeyPatch, told: list[tuple[int, float]], weights: list[float], asked: int
) -> None:
    candidates = (candidate(0, "1"), candidate(1, "1", "not converted"))
    weighed = Weighed(monkeypatch, [weights], [told], [told])
    weighed.climbed(1, candidates, Rules(ask_below=0.8))
    assert weighed.asked == asked


def test_what_was_in_doubt_is_weighed_anew_and_the_rest_stays_as_it_was(monkeypatch: pytest.MonkeyPatch) -> None:
    first = [[(0, 0.95)], [(1, 0.6), (0, 0.2)], [(0, 0.96)]]
    found = Weighed(monkeypatch, [[0.5]] * 3, first, [[(2, 0.9), (1, 0.05)]]).climbed(3, rules=Rules(ask_below=0.8))
    assert found.named.tolist() == [0, 2, 0]
    assert found.marks.tolist() == [100, 50, 100]
    told = sorted(zip(found.fits.row.tolist(), found.fits.hypothesis.tolist(), strict=True))
    assert told == [(0, 0), (1, 1), (1, 2), (2, 0)]
    assert found.fits.none.tolist() == pytest.approx([
        1 - 0.95 * MOST_SURE, 1 - 0.9 * MOST_SURE_OF_EDIT - 0.05 * MOST_SURE, 1 - 0.96 * MOST_SURE,
    ])  # fmt: skip
    assert found.candidates == (*TWO, EDIT)


def test_of_what_was_climbed_some_rows_are_told_as_often_as_they_are_named(monkeypatch: pytest.MonkeyPatch) -> None:
    told = [[(0, 0.9)], [(1, 0.9)], [(0, 0.6), (1, 0.35)]]
    every = Weighed(monkeypatch, [[0.5]] * 3, told).climbed(3, rules=Rules(ask_below=0.0))
    some = every.only(np.array([2, 1, 2]))
    assert (some.named.tolist(), some.marks.tolist(), some.tied.tolist()) == ([1, 1, 1], [200] * 3, [True, False, True])
    assert some.sure.tolist() == every.sure[[2, 1, 2]].tolist()
    assert sorted(some.fits.row.tolist()) == [0, 0, 1, 2, 2]
    assert some.fits.none.tolist() == every.fits.none[[2, 1, 2]].tolist()
    assert some.candidates is every.candidates


# What is right, and what a wrong line costs.


def test_a_tail_of_more_than_seven_figures_says_no_more_of_what_is_right() -> None:
    """Seven is our own choice: as many as a calculator shows."""
    sure = {figures: sure_of_right(94.2, figures, 94.15, 94.25) for figures in (6, 7, 8, 12)}
    assert sure[6] != sure[7]
    assert sure[7] == sure[8] == sure[12]


AREA, FORCE, EDGE = (Line(name, "a line", unit, parse("d"), Decimal(marks)) for name, unit, marks in (
    ("A_s", "mm^2", "1"), ("F_s", "kN", "0.5"), ("s", "mm", "2.5")))  # fmt: skip


def test_an_own_wrong_line_costs_its_marks_where_the_working_passes_it() -> None:
    """F = tau A_s passes the area, and neither of the others; nothing costs more than there is."""
    lines = (AREA, None, FORCE, EDGE)
    h = [
        Hypothesis("carried", 3, Verdict.CARRIED_FORWARD, right_at("a"), c, marks=Decimal(3))
        for c in ((0,), (0, 1, 2), (1, 2), ())
    ]
    assert [wrong_lines_used(one, lines) for one in h] == [(AREA,), (AREA,), (), ()]
    assert [marks_of(one, lines) for one in h] == [200, 200, 300, 300]
    poor = Hypothesis("carried", 3, Verdict.CARRIED_FORWARD, right_at("a"), (0,), marks=Decimal("0.5"))
    assert marks_of(poor, lines) == 0
