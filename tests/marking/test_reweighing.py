"""The second pass over a class, on markings made up by hand: who is counted, who is weighed again, and what then holds.

Every place knows a slip, the same slip carried on, another slip and the right method, in this order.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from types import SimpleNamespace
from typing import Any, cast

import numpy as np
import pytest

import witnessmark as wm
from bank_cases import SMALL_BANK
from witnessmark.marking.hypotheses.hypotheses import Hypothesis
from witnessmark.marking.hypotheses.plan import plan_of
from witnessmark.marking.marker import QuestionMarked
from witnessmark.marking.reweighing import Reweighed, Rows, reweighed
from witnessmark.marking.weighing.class_priors import ClassPriors, identity
from witnessmark.questions.sheet.task import Rules

HOLE = wm.load_bank(SMALL_BANK)["drain-hole"]
PLAN = plan_of(HOLE, Rules(), frozenset({"tau", "d", "t", "pi", "g", "F", "a"}))
RADIUS, FACE = "radius-for-diameter", "face-area-for-sheared-edge"


def known(kind: str, *names: str) -> Hypothesis:
    return next(
        h for h in PLAN.candidates(PLAN.places[1], 1) if h.kind == kind and names in ((), h.method.misconceptions)
    )


CANDIDATES = known("slip", RADIUS), known("slip carried", RADIUS), known("slip", FACE), known("right")
SLIP, CARRIED, OTHER, RIGHT, NONE = 0, 1, 2, 3, -1
SURE, DOUBT = 0.95, 0.5


@dataclass
class Entry:
    """One answer as it was marked: the method named, how sure, and what else is looked at."""

    named: int = SLIP
    sure: float = SURE
    tied: bool = False
    blank: bool = False
    unreadable: bool = False
    value: float = 1.0
    marks: int = 100
    verdict: int = 0


@dataclass
class Marked:
    """A question marked, as far as it is looked at. A second reading, never the one taken, is tied where the first is
    not."""

    places: Mapping[str, Sequence[Entry]]
    numbers: dict[str, Any] = field(init=False)

    def __post_init__(self) -> None:
        self.bench = SimpleNamespace(size=len(next(iter(self.places.values()))))
        self.numbers = {key: self._place(entries) for key, entries in self.places.items()}

    @staticmethod
    def _place(entries: Sequence[Entry]) -> SimpleNamespace:
        tied = np.array([entry.tied for entry in entries])
        return SimpleNamespace(
            candidates=CANDIDATES, named=np.array([entry.named for entry in entries]),
            candidate=np.zeros(len(entries), np.intp), values=np.array([entry.value for entry in entries]),
            climbed=(SimpleNamespace(tied=tied), SimpleNamespace(tied=~tied)),
            reading=SimpleNamespace(
                is_blank=np.array([entry.blank for entry in entries]),
                is_unreadable=np.array([entry.unreadable for entry in entries]),
            ),
        )  # fmt: skip

    def sure(self, key: str) -> Any:
        return np.array([entry.sure for entry in self.places[key]])

    def marks(self, key: str) -> Any:
        return np.array([entry.marks for entry in self.places[key]])

    def verdicts(self, key: str) -> Any:
        return np.array([entry.verdict for entry in self.places[key]])


Asked = list[tuple[list[int], ClassPriors]]


def second_pass(
    places: Mapping[str, Sequence[Entry]], second: Mapping[str, Sequence[Entry]] | None = None, students: Any = None
) -> tuple[Reweighed, Asked]:
    """Both passes, and which rows were marked again by which priors; the same again where no `second` is told."""
    asked: Asked = []

    def again(rows: Rows, priors: ClassPriors) -> QuestionMarked:
        asked.append((rows.tolist(), priors))
        told = second or {key: [entries[row] for row in rows] for key, entries in places.items()}
        return cast("QuestionMarked", Marked(told))

    return reweighed(cast("QuestionMarked", Marked(places)), again, students), asked


def rows_again(*entries: Entry, students: Any = None) -> list[int]:
    """Which answers of one place are weighed again."""
    return [row for rows, _ in second_pass({"a": entries}, students=students)[1] for row in rows]


THREE = Entry(), Entry(), Entry()
UNSURE = Entry(sure=DOUBT)


def test_an_answer_in_doubt_is_weighed_again_by_what_three_others_surely_did() -> None:
    _, ((rows, priors),) = second_pass({"a": [UNSURE, *THREE]})
    assert rows == [0]
    assert priors.factor("a", CANDIDATES[SLIP]) > 1 > priors.factor("a", CANDIDATES[OTHER])
    assert rows_again(UNSURE, Entry(), Entry()) == []
    assert rows_again(UNSURE, *THREE, Entry()) == [0]


def test_a_slip_counts_from_whatever_own_result_it_starts() -> None:
    assert identity(CANDIDATES[SLIP]) == identity(CANDIDATES[CARRIED])
    assert rows_again(UNSURE, Entry(), Entry(), Entry(named=CARRIED)) == [0]
    assert rows_again(UNSURE, Entry(), Entry(named=CARRIED)) == []


def test_a_row_counts_as_often_as_students_did_what_it_tells() -> None:
    assert rows_again(UNSURE, Entry(), students=np.array([5, 3])) == [0]
    assert rows_again(UNSURE, Entry(), students=np.array([5, 2])) == []


@pytest.mark.parametrize(("entry", "again"), [
    (Entry(sure=0.9), False), (Entry(sure=0.899), True), (Entry(tied=True), True), (Entry(named=NONE), True),
    (Entry(named=NONE, sure=DOUBT), True), (Entry(named=RIGHT), False), (Entry(named=RIGHT, sure=DOUBT), False),
    (Entry(named=NONE, blank=True, sure=DOUBT), False), (Entry(named=NONE, unreadable=True, sure=DOUBT), False),
])  # fmt: skip
def test_weighed_again_is_what_was_read_and_weighed_and_is_not_surely_and_alone_named(
    entry: Entry, again: bool
) -> None:
    assert rows_again(entry, *THREE) == ([0] if again else [])


@pytest.mark.parametrize("entry", [
    Entry(sure=0.899), Entry(tied=True), Entry(named=RIGHT), Entry(named=NONE), Entry(blank=True),
    Entry(unreadable=True),
])  # fmt: skip
def test_counted_is_only_what_is_surely_and_alone_named(entry: Entry) -> None:
    assert rows_again(UNSURE, Entry(), Entry(), entry) == []


def test_each_answer_is_weighed_by_the_places_at_which_it_is_in_doubt() -> None:
    at_a, at_b = [UNSURE, UNSURE, Entry(), *THREE], [Entry(), UNSURE, UNSURE, *THREE]
    _, asked = second_pass({"a": at_a, "b": at_b, "c": [Entry(named=RIGHT)] * 6})
    assert {tuple(rows): set(priors.others) for rows, priors in asked} == {(0,): {"a"}, (1,): {"a", "b"}, (2,): {"b"}}


def test_without_a_doubt_nobody_is_weighed_again() -> None:
    found, asked = second_pass({"a": [*THREE, Entry(named=RIGHT)]})
    assert (asked, found.again) == ([], ())
    assert [(marked is found.first, row) for marked, row in found.each()] == [(True, row) for row in range(4)]


NAN = float("nan")


@pytest.mark.parametrize(("before", "after", "holds"), [
    (UNSURE, Entry(sure=SURE), True), (UNSURE, Entry(named=OTHER, verdict=3), True),
    (UNSURE, Entry(marks=200), True), (UNSURE, Entry(marks=99), False), (UNSURE, Entry(named=RIGHT), False),
    (UNSURE, Entry(value=1.5), False), (UNSURE, Entry(value=NAN), False),
    (Entry(sure=DOUBT, value=NAN), Entry(), False),
    (Entry(sure=DOUBT, value=NAN), Entry(value=NAN), True), (Entry(named=NONE), Entry(), True),
])  # fmt: skip
def test_a_second_outcome_holds_that_leaves_alone_what_is_right_and_was_read_and_takes_no_marks(
    before: Entry, after: Entry, holds: bool
) -> None:
    found, _ = second_pass({"a": [*THREE, before]}, {"a": [after]})
    assert [again.rows.tolist() for again in found.again] == ([[3]] if holds else [])
    marked, row = found.each()[3]
    assert (marked is found.first, row) == ((False, 0) if holds else (True, 3))


@pytest.mark.parametrize(("before", "after", "holds"), [
    (Entry(named=RIGHT, verdict=1), Entry(named=RIGHT, verdict=1), True),
    (Entry(named=RIGHT, verdict=1), Entry(named=RIGHT, verdict=2), False),
    (Entry(named=RIGHT, verdict=1), Entry(named=SLIP, verdict=1), False),
    (Entry(verdict=1), Entry(verdict=2), True), (Entry(marks=100), Entry(marks=50), False),
    (Entry(named=NONE, blank=True, value=NAN), Entry(named=NONE, blank=True, value=NAN), True),
])  # fmt: skip
def test_it_holds_only_where_every_other_place_of_the_answer_is_left_alone_too(
    before: Entry, after: Entry, holds: bool
) -> None:
    first = {"a": [UNSURE, *THREE], "b": [before, Entry(), Entry(), Entry()]}
    found, _ = second_pass(first, {"a": [Entry()], "b": [after]})
    assert bool(found.again) is holds


def test_of_several_weighed_again_those_hold_that_may_each_at_its_own_row() -> None:
    found, _ = second_pass({"a": [UNSURE, *THREE, UNSURE, UNSURE]}, {"a": [Entry(), Entry(marks=0), Entry(marks=300)]})
    (again,) = found.again
    assert (again.rows.tolist(), again.at.tolist()) == ([0, 5], [0, 2])
    assert [(marked is again.marked, row) for marked, row in found.each()] == [
        (True, 0), (False, 1), (False, 2), (False, 3), (False, 4), (True, 2),
    ]  # fmt: skip
