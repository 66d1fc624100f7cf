"""What a class's own counts do to names in doubt, by hand and by law: and what they may never do."""

import random
from collections.abc import Sequence
from decimal import Decimal

import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

import witnessmark as wm
from bank_fixture import BANK
from marking.students import written
from witnessmark.marking.class_marking import mark_returns
from witnessmark.marking.hypotheses.hypotheses import Hypothesis
from witnessmark.marking.hypotheses.plan import plan_of
from witnessmark.marking.outcome import Outcome, Verdict
from witnessmark.marking.weighing.class_priors import (
    WRONG_KINDS,
    WRONG_PRIOR,
    ClassPriors,
    Counts,
    class_priors,
    identity,
    priors_in,
    sharpened,
)
from witnessmark.marking.weights import PRIOR_OF_KIND, SLIP_POWERS
from witnessmark.maths.compiled import compiled
from witnessmark.maths.printing.plain import plain
from witnessmark.maths.syntax import parse
from witnessmark.questions.sheet.task import Entry, Return, Rules, Sheet, Student, Task
from witnessmark.questions.sheet.variant import Variant
from witnessmark.questions.working.working import ALL_CONSTANTS

HOLE = BANK["drain-hole"]
TASK = Task("winter-1", "Winter sheet 1", ("drain-hole",))
RADIUS, FACE = "radius-for-diameter", "face-area-for-sheared-edge"
PLACE = plan_of(HOLE, Rules(), frozenset({"tau", "d", "t", "pi", "g", "F", "a"})).places[1]
KNOWN = plan_of(HOLE, Rules(), frozenset({"tau", "d", "t", "pi", "g", "F", "a"})).candidates(PLACE, 1)
LATER = plan_of(HOLE, Rules(), frozenset({"tau", "d", "t", "pi", "g", "F", "a"})).further(PLACE, 1)
Numbers = tuple[float, float, float]
Answer = tuple[Numbers, str]
SIZES = [(d, t) for d in (10, 12, 16, 20, 25) for t in (3.5, 4.5, 5.5, 6.5, 7.5)]

# Entries that leave room for doubt, by few figures or by numbers that are never issued. 120 MPa, 25 mm, 8 mm: both
# slips give 29.45 kN. 320 MPa, 16 mm, 6 mm: 35 kN is near nothing known. 300 MPa, 12 mm, 6 mm: either slip gives
# 33.93 kN, for the diameter is twice the thickness. 250 MPa, 16 mm, 4 mm: the face area gives the right 50.27 kN.
IN_DOUBT = ((120.0, 25.0, 8.0), "3e1 kN")
BOTH_SLIPS = "tau*pi*d**2/8"
UNNAMED = ((320.0, 16.0, 6.0), "35 kN")
EITHER = ((300.0, 12.0, 6.0), "33.9 kN")
EARLY = ((250.0, 16.0, 4.0), "50 kN")


def variant(tau: float, d: float, t: float) -> Variant:
    found: Variant = HOLE.variant(tau=f"{tau:g} MPa", d=f"{d:g} mm", t=f"{t:g} mm")
    return found


def by_formula(v: Variant, text: str, figures: int = 4) -> str:
    """What a student writes who works by a formula."""
    value = compiled(parse(text))({**ALL_CONSTANTS, **v.values})
    return written(float(value), "kN", figures)


def a_class(*answers: Answer) -> tuple[dict[str, Sheet], list[Return]]:
    """Sheets with these numbers, and returns with these answers to part a."""
    sheets, returns = {}, []
    for n, (numbers, text) in enumerate(answers):
        code = f"S{n:02}"
        sheets[code] = Sheet(code, TASK, Student(code, code), (variant(*numbers),))
        returns.append(Return(code, f"{code}.xlsx", (("1.a", Entry(text, "C8")),)))
    return sheets, returns


def who_do(formula: str, count: int, tau: float = 280) -> list[Answer]:
    """So many students, each with their own numbers, who work by a formula."""
    numbers = [(tau, d, t) for d, t in SIZES[:count]]
    return [(n, by_formula(variant(*n), formula)) for n in numbers]


def outcome_in(case: Answer, others: list[Answer]) -> Outcome:
    """The outcome of one answer in a class with these others."""
    sheets, returns = a_class(case, *others)
    return mark_returns(sheets, returns, Rules())["S00"]["1.a"]


def alone(case: Answer) -> Outcome:
    return wm.mark(variant(*case[0]), {"a": case[1]})["a"]


def of_kind(kind: str, name: str = "") -> Hypothesis:
    return next(h for h in KNOWN if h.kind == kind and (not name or h.method.misconceptions == (name,)))


def test_the_classmates_of_these_tests_are_named_surely_and_right() -> None:
    for formula, verdict in ((BOTH_SLIPS, Verdict.TWO_SLIPS), ("tau*pi*(d/2)*t", Verdict.SLIP)):
        for answer in who_do(formula, 8):
            assert (alone(answer).verdict, alone(answer).sure > 0.9) == (verdict, True), answer


def test_a_name_in_doubt_is_surer_where_others_of_the_class_did_the_same() -> None:
    before, after = alone(IN_DOUBT), outcome_in(IN_DOUBT, who_do(BOTH_SLIPS, 6))
    assert before.misconceptions == after.misconceptions == (FACE, RADIUS)
    assert before.sure < 0.9 < after.sure
    assert before.in_tray
    assert after.in_tray == ()
    assert after.marks == before.marks
    assert after.notes == ()


def test_a_name_in_doubt_is_less_sure_where_others_did_something_else() -> None:
    assert outcome_in(IN_DOUBT, who_do("tau*pi*(d/2)*t", 6)).sure < alone(IN_DOUBT).sure


def test_a_tie_is_parted_by_what_others_did_unless_that_takes_marks() -> None:
    before = alone(EITHER)
    assert before.sure == pytest.approx(0.5, abs=0.01)
    assert "two explanations fit" in before.in_tray[0]
    kinder = outcome_in(EITHER, who_do("tau*pi*(d/2)*t", 8))
    assert (kinder.misconceptions, kinder.marks) == ((RADIUS,), Decimal(2))
    assert kinder.sure > 0.7
    assert "two explanations fit" not in kinder.in_tray[0]
    assert outcome_in(EITHER, who_do("tau*pi*d**2/4", 8)) == before  # the face area keeps less


def test_an_answer_that_no_method_explained_is_named_where_others_worked_so_and_the_teacher_is_told() -> None:
    before = alone(UNNAMED)
    assert before.verdict is Verdict.UNEXPLAINED
    formula = before.evidence[0].formula
    after = outcome_in(UNNAMED, who_do(formula, 6))
    assert (after.verdict, after.marks) == (Verdict.EDIT, before.marks)
    assert after.evidence[0].formula == formula
    assert "named by what others of the class did; alone it would be unexplained" in after.notes


def test_what_is_nearly_right_stays_so_whatever_the_class_did() -> None:
    before, after = alone(EARLY), outcome_in(EARLY, who_do("tau*pi*d**2/4", 12))
    assert before.verdict is Verdict.ROUNDED_EARLY
    assert after == before


def test_two_others_are_no_class_yet() -> None:
    assert outcome_in(IN_DOUBT, who_do(BOTH_SLIPS, 2)) == alone(IN_DOUBT)
    assert outcome_in(IN_DOUBT, who_do(BOTH_SLIPS, 3)).sure > alone(IN_DOUBT).sure


def test_right_answers_of_others_say_nothing_about_wrong_methods() -> None:
    assert outcome_in(IN_DOUBT, who_do("tau*pi*d*t", 8)) == alone(IN_DOUBT)


def test_no_answer_is_evidence_for_its_own_name() -> None:
    same = who_do(BOTH_SLIPS, 8)
    sheets, returns = a_class(*same)
    marked = mark_returns(sheets, returns, Rules())
    for code, answer in zip(sheets, same, strict=True):
        assert marked[code]["1.a"] == alone(answer)


def test_factors_are_those_of_the_mean_of_a_dirichlet_distribution_by_hand() -> None:
    radius, face = of_kind("slip", RADIUS), of_kind("slip", FACE)
    assert priors_in(KNOWN, [identity(radius)]) == {identity(radius): pytest.approx(0.09)}  # type: ignore[list-item]
    named = {found: n for h, n in ((radius, 6), (face, 2)) if (found := identity(h)) is not None}
    priors = class_priors({"a": Counts(named, dict.fromkeys(named, 0.09))})
    # 20 of strength, 8 counted, so (20 + 6·448/90)/28, (20 + 2·448/90)/28, and 20/28 for all others
    assert pytest.approx(0.448) == WRONG_PRIOR
    assert priors.factor("a", radius) == pytest.approx((20 + 6 * 448 / 90) / 28)
    assert priors.factor("a", face) == pytest.approx((20 + 2 * 448 / 90) / 28)
    assert priors.factor("a", of_kind("power of ten")) == pytest.approx(20 / 28)
    assert priors.factor("b", radius) == 1.0


@pytest.mark.parametrize("kind", ["right", "carried", "rounded early"])
def test_what_the_ladder_decides_keeps_its_prior(kind: str) -> None:
    h = of_kind(kind)
    assert identity(h) is None
    assert ClassPriors({}, {"a": 0.1}).factor("a", h) == 1.0


def test_a_slip_is_the_same_to_the_class_from_whatever_own_results_it_starts() -> None:
    assert identity(of_kind("slip", RADIUS)) == identity(of_kind("slip carried", RADIUS))
    ways = {identity(h) for h in KNOWN if h.kind == "slip and power of ten" and h.method.misconceptions == (RADIUS,)}
    assert len(ways) == len(SLIP_POWERS) == 14  # each power of ten is its own


def test_the_class_knows_a_slip_by_its_name_and_a_method_without_one_by_its_formula() -> None:
    assert identity(of_kind("slip", RADIUS)) == ("slip", (RADIUS,), "0")
    edits = [h for h in LATER() if h.kind in {"edit", "rarer edit", "two edits"} and not h.carried]
    formulas = [plain(h.method.formula) for h in edits]
    assert [method[1][0] for h in edits if (method := identity(h))] == formulas
    assert len({identity(h) for h in edits}) == len(edits) > 50


def test_factors_can_be_had_for_some_places_alone() -> None:
    method = ("slip", (RADIUS,), "0")
    both = ClassPriors({("a", method): 2.0, ("b", method): 3.0}, {"a": 0.5, "b": 0.25})
    assert both.only({"b"}) == ClassPriors({("b", method): 3.0}, {"b": 0.25})


@given(counts=st.lists(st.integers(0, 40), min_size=3, max_size=3))
def test_belief_moves_between_wrong_methods_and_their_sum_stays(counts: list[int]) -> None:
    wrong = {found: h for h in KNOWN if (found := identity(h)) is not None and not h.carried}
    chosen = list(wrong)[:3]
    assumed = priors_in(KNOWN, wrong)
    later = sum(PRIOR_OF_KIND[kind] for kind in WRONG_KINDS - {h.kind for h in KNOWN})
    whole = sum(assumed.values()) + later
    assert whole == pytest.approx(WRONG_PRIOR)
    priors = class_priors({"a": Counts(dict(zip(chosen, counts, strict=True)), {m: assumed[m] for m in chosen})})
    if not priors:
        assert sum(counts) < 3
        return
    after = sum(assumed[m] * priors.factor("a", wrong[m]) for m in wrong)
    after += later * priors.others["a"]
    assert after == pytest.approx(WRONG_PRIOR)


def test_without_counts_the_hypotheses_are_the_very_same() -> None:
    assert sharpened(KNOWN, "a", None) is KNOWN
    assert sharpened(KNOWN, "a", class_priors({})) is KNOWN
    assert sharpened(KNOWN, "b", ClassPriors({}, {"a": 0.5})) is KNOWN
    changed = sharpened(KNOWN, "a", ClassPriors({}, {"a": 0.5}))
    assert [h.prior for h in changed] == [h.prior * (0.5 if identity(h) else 1) for h in KNOWN]


FORMULAS = ("tau*pi*d*t", "tau*pi*(d/2)*t", "tau*pi*d**2/4", "tau*pi*d*t*1000", "tau*d*t", "tau*pi*d", "2*tau*pi*d*t")
LADDER = {Verdict.RIGHT, Verdict.CARRIED_FORWARD, Verdict.ROUNDED_EARLY, Verdict.BLANK, Verdict.UNREADABLE}


def some_class(chance: random.Random) -> list[Answer]:
    """A dozen students, half of whom work by one formula, with numbers of their own and some digits."""
    common = chance.choice(FORMULAS)
    answers: list[Answer] = []
    for n in range(12):
        numbers = (chance.choice((300.0, 250.0, 280.0)), *chance.choice(SIZES))
        formula = common if n % 2 else chance.choice(FORMULAS)
        answers.append((numbers, by_formula(variant(*numbers), formula, chance.randint(1, 4))))
    return answers


@pytest.mark.parametrize("seed", range(8))
def test_the_class_decides_not_who_is_right_takes_no_marks_and_its_order_has_no_say(seed: int) -> None:
    answers = some_class(random.Random(seed))
    sheets, returns = a_class(*answers)
    marked = mark_returns(sheets, returns, Rules())
    assert mark_returns(sheets, random.Random(seed).sample(returns, len(returns)), Rules()) == marked
    for code, answer in zip(sheets, answers, strict=True):
        before, after = alone(answer), marked[code]["1.a"]
        if after.verdict is not Verdict.OTHER_SHEET:
            assert after.marks >= before.marks, answer
            assert (before.verdict in LADDER) == (after.verdict in LADDER), answer
            if before.verdict in LADDER or (before.verdict is not Verdict.UNEXPLAINED and before.sure >= 0.9):
                assert after == before, answer


def table(answers: Sequence[Answer]) -> pd.DataFrame:
    return pd.DataFrame([{"tau": n[0], "d": n[1], "t": n[2], "a": text} for n, text in answers])


def test_a_table_is_a_class_only_where_that_is_asked() -> None:
    frame = table([IN_DOUBT, EARLY, *who_do(BOTH_SLIPS, 6)])
    plain, together = wm.mark_table(HOLE, frame), wm.mark_table(HOLE, frame, as_class=True)
    assert list(together.columns) == list(plain.columns)
    assert list(together.dtypes) == list(plain.dtypes)
    assert plain["a.sure"][0] == pytest.approx(alone(IN_DOUBT).sure)
    assert together["a.sure"][0] == pytest.approx(outcome_in(IN_DOUBT, who_do(BOTH_SLIPS, 6)).sure)
    pd.testing.assert_frame_equal(together.iloc[1:], plain.iloc[1:])


def test_rows_of_a_table_that_are_the_same_are_as_many_students() -> None:
    (one,) = who_do(BOTH_SLIPS, 1)
    frame = table([one, IN_DOUBT, one, one, one, IN_DOUBT])
    together = wm.mark_table(HOLE, frame, as_class=True)
    distinct = wm.mark_table(HOLE, table([*who_do(BOTH_SLIPS, 4), IN_DOUBT]), as_class=True)
    assert together["a.sure"][1] == together["a.sure"][5] == pytest.approx(distinct["a.sure"][4])
    assert list(together["a"]) == list(frame["a"])


def test_the_order_of_rows_has_no_say_and_an_empty_table_is_marked() -> None:
    frame = table([IN_DOUBT, UNNAMED, *who_do(BOTH_SLIPS, 5), *who_do("tau*pi*d**2/4", 3)])
    turned = wm.mark_table(HOLE, frame.iloc[::-1], as_class=True)
    pd.testing.assert_frame_equal(turned.iloc[::-1], wm.mark_table(HOLE, frame, as_class=True))
    assert len(wm.mark_table(HOLE, frame.iloc[:0], as_class=True)) == 0
