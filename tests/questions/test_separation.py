"""Which variants can be told apart: each judged by its own numbers, whatever else is looked at with it."""

import numpy as np
import pytest

from bank_cases import SMALL_BANK
from bank_fixture import BANK
from witnessmark.files.bank.folder import load_bank
from witnessmark.files.bank.question_text import question_from_text
from witnessmark.questions.drawing.draw import allowed
from witnessmark.questions.drawing.likeness import likeness
from witnessmark.questions.drawing.separation import (
    apart_on_the_sheet,
    clashes,
    keeps,
    meets_but_for_tens,
    names_of_sample,
    same_numbers,
)
from witnessmark.questions.drawing.space import choices, columns_of, nth_pick, space, variant_at
from witnessmark.questions.model.question import Question
from witnessmark.questions.working.methods import dimensions, methods_at, places

TEXT = (SMALL_BANK / "shear" / "drain-hole.yaml").read_text(encoding="utf-8")
BEFORE = "(d/2)*t, keeps: 2}\n"


def with_slip(answer: str) -> Question:
    """The example with one more slip in part a."""
    more = f"      - {{misconception: sheared-edge-for-face-area, answer: {answer}, keeps: 1}}\n"
    question, problems = question_from_text(
        TEXT.replace(BEFORE, BEFORE + more, 1), "q.yaml", load_bank(SMALL_BANK).tables
    )
    assert problems == ()
    assert question is not None
    return question


def test_a_variant_in_which_two_slips_are_one_number_is_not_issued_though_it_is_looked_at_alone() -> None:
    """tau*pi*d*t/2 = tau*pi*d^2/20 where d = 10 t, and nowhere else."""
    question = with_slip("tau*pi*d**2/20")
    counts = [c.count for c in choices(question)]
    picks = [nth_pick(counts, n) for n in range(space(question))]
    together = allowed(question, picks)
    alone = np.array([allowed(question, [pick])[0] for pick in picks])
    assert (together == alone).all()
    shown = [variant_at(question, pick).shown for pick in picks]
    assert not any(together[n] for n, s in enumerate(shown) if s["d"].number == 10 * s["t"].number)


def test_two_slips_that_are_one_number_in_every_variant_stop_none() -> None:
    question, plain = with_slip("tau*A_s/2"), with_slip("tau*pi*d*t/2")
    counts = [c.count for c in choices(question)]
    picks = [nth_pick(counts, n) for n in range(space(question))]
    assert allowed(question, picks).sum() == allowed(plain, picks).sum() == 234


@pytest.mark.parametrize(("key", "place"), [("davit", "b"), ("davit", "c"), ("mast-track", "a")])
def test_methods_are_compared_where_the_question_keeps_what_it_asks(key: str, place: str) -> None:
    """Elsewhere a tube may have no wall, and no number would come out of any method."""
    question = BANK[key]
    alike, known = likeness(question), dimensions(question)
    (at,) = (p for p in places(question, 3) if p.key == place)
    assert all(alike.of(method) is not None for method in methods_at(at, known))


def test_the_sample_that_methods_are_compared_on_keeps_what_the_question_asks() -> None:
    for question in BANK.values():
        names = names_of_sample(question)
        size = max(np.size(v) for v in names.values())
        assert keeps(question, {k: np.broadcast_to(v, size) for k, v in names.items()}, size).all(), question.key


def test_columns_are_the_same_numbers_where_both_have_none_in_the_same_rows() -> None:
    nan, whole = np.array([1.0, np.nan]), np.array([1.0, 2.0])
    assert same_numbers(nan, nan.copy())
    assert not same_numbers(nan, whole)
    assert not same_numbers(nan[1:], nan[1:])


def test_a_meeting_is_told_with_both_methods_where_and_whether_it_is_always() -> None:
    """tau*pi*d*t/2 = tau*pi*d^2/20 where d = 10 t; tau*A_s/2 is tau*pi*d*t/2 everywhere."""
    radius, further = "radius-for-diameter", "sheared-edge-for-face-area"
    for answer, always in (("tau*pi*d**2/20", False), ("tau*A_s/2", True)):
        question = with_slip(answer)
        counts = [c.count for c in choices(question)]
        picks = [nth_pick(counts, n) for n in range(space(question))]
        found = clashes(question, columns_of(question, picks), len(picks), 3)
        (both,) = (c for c in found if c.key == "a" and {c.first, c.second} == {radius, further})
        assert (both.first, both.second, both.always) == (radius, further, always)
        shown = [variant_at(question, pick).shown for pick in picks]
        tenfold = [s["d"].number == 10 * s["t"].number for s in shown]
        assert all(both.rows[tenfold])
        assert both.rows.all() == always
        assert any(c.first == "right" and not c.always for c in found)


def test_a_number_meets_a_span_in_any_decade_but_on_its_own_side_of_nothing() -> None:
    spans = [(np.array([94.1]), np.array([94.3])), (np.array([-0.52]), np.array([-0.5]))]
    met = {n: bool(meets_but_for_tens(np.array([n]), spans)[0]) for n in (
        94.2, 9.42, 0.00942, 942_000.0, 94.1, 94.3, -51.0, -0.52, -5.0, 95.0, 94.4, 94.0, 188.4, 51.0, -94.2, -53.0, 0.0
    )}  # fmt: skip
    assert [n for n, does in met.items() if does] == [94.2, 9.42, 0.00942, 942_000.0, 94.1, 94.3, -51.0, -0.52, -5.0]


def test_values_that_are_offered_stay_apart_whichever_two_of_them_come_near() -> None:
    """By hand, r the ratio of the diameters: 4/pi, 1/pi, 4/(pi r^2) and 1 are offered; the third meets the first at 1,
    the second at 2 and the last at the root of 4/pi."""
    ratios = np.array([1.5, 2.0, 1.01, (4 / np.pi) ** 0.5, 3.0, 0.5])
    givens = {"F": np.ones(6), "h": np.ones(6), "d_1": np.ones(6), "d_2": ratios}
    found = apart_on_the_sheet(BANK["two-pistons"], givens, 6)
    assert found.tolist() == [True, False, False, False, True, True]


def test_two_numbers_of_which_one_is_missing_are_not_the_same() -> None:
    one, gap = np.array([1.0, 2.0, 3.0]), np.array([1.0, np.nan, 3.0])
    assert not same_numbers(one, gap)
    assert not same_numbers(gap, one)
    assert same_numbers(one * 1e12, one * 1e12 * (1 + 0.5e-9))
    assert same_numbers(one * 1e-12, one * 1e-12)
    assert not same_numbers(one * 1e-12, one * 1e-12 * (1 + 2e-9))
    assert not same_numbers(one * 1e12, one * 1e12 * (1 + 2e-9))


def test_what_a_question_keeps_is_asked_of_every_row() -> None:
    """The hole has to be wider than the plate is thick."""
    hole = load_bank(SMALL_BANK).questions["drain-hole"]
    rows = {"tau": np.full(3, 300e6), "d": np.array([0.020, 0.006, 0.004]), "t": np.full(3, 0.006)}
    assert keeps(hole, rows, 3).tolist() == [True, False, False]
