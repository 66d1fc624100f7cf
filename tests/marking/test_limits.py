"""Two limits in one entry: either order, carried forward, slips that both values show; singly and by columns."""

from dataclasses import replace
from decimal import Decimal
from itertools import product

import pandas as pd
import pytest

import witnessmark as wm
from bank_fixture import BANK
from witnessmark.marking.kinds.dispatch import wrong_answers
from witnessmark.marking.kinds.limits import joined
from witnessmark.marking.outcome import Explanation, Outcome, Verdict
from witnessmark.questions.drawing.draw import draw_all
from witnessmark.questions.model.kinds import limits_in
from witnessmark.questions.sheet.task import Rules
from witnessmark.questions.sheet.variant import Variant

D = Decimal
BUSH = BANK["shaft-in-bush"]
G6 = {"ES": "21 µm", "EI": "0 µm", "es": "-7 µm", "ei": "-20 µm"}
"""25 H7/g6 (ISO 286-2, from memory): bush 25.021 and 25.000, shaft 24.993 and 24.980 mm, clearance 41 and 7 µm."""
VARIANT = BUSH.variant(D="25 mm", s="10 µm", **G6)
WIDE = BUSH.variant(fit="H7/f7 over 30 to 50", D="35 mm", s="22 µm")
"""35 H7/f7: bush 35.025 and 35.000, shaft 34.975 and 34.950 mm, clearance 75 and 25 µm."""


def test_a_published_fit_has_its_limits_and_clearances() -> None:
    found = {key: round(float(value.magnitude), 6) for key, value in VARIANT.expected.items()}
    assert found == {
        "a.largest": 25.021, "a.smallest": 25.0, "b.largest": 24.993, "b.smallest": 24.98, "c.largest": 41.0,
        "c.smallest": 7.0,
    }  # fmt: skip


RIGHT = {
    "a": ["25.021 and 25.000 mm", "25.000 - 25.021 mm", "25 mm, 25.021 mm", "25,000 / 25,021 mm", "25 +0.021/0 mm",
          "max 25.021 mm, min 25 mm", "min 25.000 max 25.021 mm", "D_max = 2.5021 cm; D_min = 2.5000 cm"],
    "b": ["24.993 and 24.980 mm", "24.98 to 24.993 mm", "25 -0.007/-0.020 mm", "24993 and 24980 µm"],
    "c": ["41 and 7 µm", "7 to 41 µm", "0.041 mm and 0.007 mm", "41 µm / 0.007 mm", "between 7 and 41 µm"],
}  # fmt: skip


@pytest.mark.parametrize(("key", "entry"), [(key, entry) for key, entries in RIGHT.items() for entry in entries])
def test_both_right_values_earn_all_marks_in_either_order(key: str, entry: str) -> None:
    out = wm.mark(VARIANT, {key: entry})[key]
    assert (out.verdict, out.marks, out.in_tray, out.raw) == ("right", D(2), (), entry)


DOUBT = "the name of the method is only 50 % sure"
WRONG = [
    ("a", "25 and 24.979 mm", "0.5", "slip", "tolerance-on-the-wrong-side"),
    ("a", "24.979 and 25.000 mm", "0.5", "slip", "tolerance-on-the-wrong-side"),
    ("a", "25.021 and 24.979 mm", "1", "slip", "tolerance-to-both-sides"),
    ("a", "25.0105 and 24.9895 mm", "0.5", "slip", "tolerance-shared-to-both-sides"),
    ("a", "25.21 and 25 mm", "1", "slip", "micrometres-as-hundredths"),
    ("b", "25.007 and 25.020 mm", "0.5", "slip", "tolerance-on-the-wrong-side"),
    ("b", "25.000 and 24.987 mm", "0.5", "slip", "shaft-from-the-drawn-size"),
    ("c", "28 and 20 µm", "0.5", "slip", "like-limit-with-like"),
    ("c", "20.5 and 3.5 µm", "0.5", "slip", "clearance-halved-round-the-shaft"),
    ("a", "25.021 mm", "1", "wrong", ""),
    ("a", "25.000 mm", "1", "wrong", ""),
    ("a", "25.021 and 25", "1.5", "unit", ""),
    ("c", "41 and 9 µm", "1", "unexplained", ""),
    ("a", "2.5021 and 2.5000 mm", "1", "power of ten", ""),
    ("a", "", "0", "blank", ""),
    ("a", "see over", "0", "unreadable", ""),
    ("a", "25.021, 25.010 and 25.000 mm", "0", "unreadable", ""),
    ("a", "25.021 or 25.000 mm", "0", "unreadable", ""),
]


@pytest.mark.parametrize(("key", "entry", "marks", "verdict", "who"), WRONG)
def test_a_wrong_pair_keeps_what_its_values_earn(key: str, entry: str, marks: str, verdict: str, who: str) -> None:
    out = wm.mark(VARIANT, {key: entry})[key]
    assert (str(out.marks), str(out.verdict), "+".join(out.misconceptions)) == (marks, verdict, who), out.because
    assert bool(out.in_tray) is (verdict in ("unexplained", "unreadable"))


@pytest.mark.parametrize("entry", ["41 and -7 µm", "-7 µm"])
def test_a_value_with_its_sign_turned_is_told_as_that(entry: str) -> None:
    out = wm.mark(VARIANT, {"c": entry})["c"]
    assert out.verdict == "sign"
    assert "its sign is not" in out.because


def test_one_value_alone_is_marked_where_the_other_limit_cannot_be_worked() -> None:
    shown = {"D": 25.0, "ES": 21.0, "es": -7.0, "ei": -20.0}
    table = wm.mark_table(BUSH, pd.DataFrame([{**shown, "a": "25.021 mm", "b": "24.993 and 24.980 mm"}]))
    assert table["b.verdict"].tolist() == ["right"]


def test_commas_in_both_values_of_a_limit_that_cannot_be_worked_are_no_fault() -> None:
    shown = {"D": 25.0, "EI": 0.0, "es": -7.0, "ei": -20.0}
    table = wm.mark_table(BUSH, pd.DataFrame([{**shown, "a": "25,021 and 25,000 mm", "b": "24.993 and 24.980 mm"}]))
    assert table["b.verdict"].tolist() == ["right"]


NO_UPPER = BUSH.variant(D="25 mm", s="10 µm", **{**G6, "ES": "0 µm", "EI": "-21 µm"})
"""Bores of 25.000 and 24.979 mm."""


@pytest.mark.parametrize(("variant", "key", "entry", "told"), [
    (VARIANT, "c", "80,000 and 7,000 µm", False), (VARIANT, "c", "90,000 and 7,000 µm", True),
    (NO_UPPER, "a", "49,990 and 24,979 mm", False), (NO_UPPER, "a", "50,000 and 24,979 mm", True),
])  # fmt: skip
def test_commas_in_both_values_are_decimal_ones_without_a_word_where_the_larger_is_below_twice_the_right_one(
    variant: Variant, key: str, entry: str, told: bool
) -> None:
    """The largest clearance is 41 µm, the largest bore 25 mm."""
    out = wm.mark(variant, {key: entry})[key]
    assert out.repairs == (("The comma was read as a decimal point.",) if told else ())


(CLEARANCE,) = (part for part in limits_in(BUSH.parts) if part.key == "c")
ALIKE, HALVED = "like-limit-with-like", "clearance-halved-round-the-shaft"


def by_slips(*shares: tuple[str, float], tray: tuple[str, ...] = ()) -> Outcome:
    """One value as these slips explain it."""
    told = tuple(Explanation(Verdict.SLIP, (who,), D(0), "so it arises", sure=sure) for who, sure in shares)
    who, sure = shares[0]
    return Outcome(D(0), D(2), Verdict.SLIP, "so it arises", (who,), sure, told, "28 µm", "28 µm", in_tray=tray)


def test_two_names_that_explain_both_values_are_as_sure_as_the_surer_of_them_at_each() -> None:
    """0.6 · 0.5 and 0.5 · 0.6 are alike: at either value one of the two stands with 0.6, so 1 - 0.4 · 0.4."""
    sides = by_slips((ALIKE, 0.6), (HALVED, 0.5)), by_slips((HALVED, 0.6), (ALIKE, 0.5))
    out = joined(CLEARANCE, "28 and 20 µm", sides, Rules())
    assert set(out.misconceptions) == {ALIKE, HALVED}
    assert out.sure == pytest.approx(0.84)


@pytest.mark.parametrize(
    ("ask_below", "left"), [(0.75, ("the unit is missing",)), (0.76, (DOUBT, "the unit is missing"))]
)
def test_a_doubt_about_a_name_is_gone_where_both_values_make_it_as_sure_as_is_asked(
    ask_below: float, left: tuple[str, ...]
) -> None:
    side = by_slips((ALIKE, 0.5), tray=(DOUBT, "the unit is missing"))
    out = joined(CLEARANCE, "28 and 20 µm", (side, side), Rules(ask_below=ask_below))
    assert (out.sure, out.in_tray) == (0.75, left)


def test_no_name_is_more_than_sure_where_the_shares_of_its_explanations_add_up_to_more() -> None:
    """Each share is rounded for itself."""
    sides = by_slips((ALIKE, 0.75), (ALIKE, 0.375)), by_slips((ALIKE, 0.5))
    assert joined(CLEARANCE, "28 and 20 µm", sides, Rules()).sure == 1.0


@pytest.mark.parametrize(("other", "named"), [(0.5, {ALIKE}), (0.51, {ALIKE, HALVED})])
def test_a_name_that_explains_both_values_half_as_likely_as_another_is_not_told(other: float, named: set[str]) -> None:
    side, flat = by_slips((ALIKE, 1.0), (HALVED, other)), by_slips((ALIKE, 0.5), (HALVED, 0.5))
    assert set(joined(CLEARANCE, "28 and 20 µm", (side, flat), Rules()).misconceptions) == named


@pytest.mark.parametrize(("share", "named"), [(0.04, (HALVED, ALIKE)), (0.06, (ALIKE,))])
def test_a_name_that_hardly_explains_both_values_gives_way_to_those_of_each(
    share: float, named: tuple[str, ...]
) -> None:
    """One in a hundred is the least: 0.25 · 0.04 is just that, 0.25 · 0.06 a little more."""
    sides = by_slips((HALVED, 0.5), (ALIKE, 0.25)), by_slips((ALIKE, share))
    assert joined(CLEARANCE, "28 and 20 µm", sides, Rules()).misconceptions == named


def test_where_one_value_is_no_slip_the_pair_is_as_sure_as_its_less_sure_value() -> None:
    tenfold = replace(by_slips((ALIKE, 0.7)), verdict=Verdict.POWER_OF_TEN, misconceptions=(), evidence=())
    assert joined(CLEARANCE, "28 and 200 µm", (by_slips((ALIKE, 0.9)), tenfold), Rules()).sure == 0.7


def test_a_name_of_both_values_is_as_sure_as_it_explains_each_whatever_either_would_be_called_alone() -> None:
    """Like limit with like explains the first with 0.9 and the second with 0.4, which alone is likelier halved."""
    sides = by_slips((ALIKE, 0.9), (HALVED, 0.05)), by_slips((HALVED, 0.6), (ALIKE, 0.4))
    out = joined(CLEARANCE, "28 and 20 µm", sides, Rules())
    assert out.misconceptions == (ALIKE,)
    assert out.sure == pytest.approx(1 - 0.1 * 0.6)


def test_two_values_of_one_verdict_without_a_name_would_both_have_to_bear_it_by_chance() -> None:
    """1 - 0.1 · 0.2; of two verdicts the less sure one counts, and where a value is not sure at all so does it."""
    first, second = (replace(by_slips((ALIKE, sure)), verdict=Verdict.RIGHT, evidence=()) for sure in (0.9, 0.8))
    rounded, unsure = replace(second, verdict=Verdict.ROUNDED_EARLY), replace(second, sure=0.0)
    found = [joined(CLEARANCE, "41 and 7 µm", (first, side), Rules()).sure for side in (second, rounded, unsure)]
    assert found == pytest.approx([0.98, 0.8, 0.0])


def test_of_each_value_that_is_told_which_gives_it_by_the_name_of_both() -> None:
    first = replace(by_slips((ALIKE, 0.9)), because="the first by the name.")
    told = [Explanation(Verdict.SLIP, (who,), D(0), f"the second by {who}.", sure=0.4) for who in (HALVED, ALIKE)]
    second = replace(by_slips((HALVED, 0.4)), because=told[0].sentence, evidence=tuple(told))
    out = joined(CLEARANCE, "28 and 20 µm", (first, second), Rules())
    assert out.because == f"the first by the name. the second by {ALIKE}."


def test_the_eight_likeliest_explanations_of_both_values_are_told_each_once() -> None:
    def side(*shares: float) -> Outcome:
        told = tuple(Explanation(Verdict.SLIP, (ALIKE,), D(0), f"so {share}", sure=share) for share in shares)
        return replace(by_slips((ALIKE, 0.9)), evidence=told)

    sides = side(0.01, 0.03, 0.05, 0.07, 0.09), side(0.02, 0.03, 0.04, 0.06, 0.08)
    found = [one.sure for one in joined(CLEARANCE, "28 and 20 µm", sides, Rules()).evidence]
    assert found == [0.09, 0.08, 0.07, 0.06, 0.05, 0.04, 0.03, 0.02]


def test_one_value_without_a_name_is_taken_for_the_largest_and_nothing_goes_on_from_it() -> None:
    """9 µm as the smallest clearance would not be enough."""
    for answer in ("yes", "no"):
        alone, with_one = (wm.mark(WIDE, {**c, "d": answer})["d"] for c in ({"c": ""}, {"c": "9 µm"}))
        assert (with_one.verdict, with_one.marks) == (alone.verdict, alone.marks)


def test_one_value_that_fits_both_limits_alike_counts_as_the_largest() -> None:
    """Halved, the largest clearance is 20.5 µm; like limit with like, the smallest is 20 µm; either keeps half a mark.
    A bush without a tolerance is 25 mm at both limits."""
    assert wm.mark(VARIANT, {"c": "20 µm"})["c"].misconceptions == ("clearance-halved-round-the-shaft",)
    exact = BUSH.variant(D="25 mm", s="10 µm", **{**G6, "ES": "0 µm"})
    assert "is the largest bore" in wm.mark(exact, {"a": "25 mm"})["a"].because


def test_one_value_that_has_a_name_as_the_smallest_alone_counts_as_that_where_neither_earns_anything() -> None:
    """Half of 7 µm, with the power of ten off as well, earns nothing."""
    out = wm.mark(VARIANT, {"c": "3500 µm"})["c"]
    assert (out.marks, out.misconceptions) == (D(0), ("clearance-halved-round-the-shaft",))
    assert "(D_min − d_max) / 2" in out.because


def test_a_missing_unit_is_taken_off_once_for_both_values() -> None:
    rules = Rules(unit_missing=D("1"))
    assert wm.mark(VARIANT, {"a": "25.021 and 25"}, rules)["a"].marks == D(1)
    assert wm.mark(VARIANT, {"c": "41000 and 7000 µm"})["c"].marks == D(1)


def test_own_limits_are_carried_into_the_clearance() -> None:
    """A bush of 35.155 and 35.130 mm on a shaft of 34.975 and 34.950 mm: 205 and 155 µm, worked by hand."""
    own = {"a": "35.155 and 35.130 mm", "b": "34.975 and 34.950 mm"}
    out = wm.mark(WIDE, {**own, "c": "205 and 155 µm", "d": "yes"})
    assert (out["c"].verdict, out["c"].marks) == ("carried forward", D(2))
    out = wm.mark(WIDE, {**own, "c": "75 and 25 µm"})
    assert (out["c"].verdict, out["c"].marks) == ("right", D(2))


def test_a_clearance_of_nought_that_follows_from_own_limits_is_carried_forward() -> None:
    out = wm.mark(WIDE, {"b": "35.000 and 34.950 mm", "c": "75 and 0 µm"})["c"]
    assert (out.verdict, out.marks) == ("carried forward", D(2))
    assert wm.mark(WIDE, {"c": "75 and 0 µm"})["c"].verdict == "unexplained"
    assert wm.mark(WIDE, {"b": "34.995 and 34.950 mm", "c": "75 and 0 µm"})["c"].verdict == "unexplained"  # 5 µm


def test_a_slip_on_own_limits_is_named() -> None:
    """Like limit with like on a bush of 35.060 and 35.020 mm: 85 and 70 µm, worked by hand."""
    out = wm.mark(WIDE, {"a": "35.060 and 35.020 mm", "b": "34.975 and 34.950 mm", "c": "85 and 70 µm"})["c"]
    assert (out.verdict, out.misconceptions, out.marks) == ("slip", ("like-limit-with-like",), D("0.5"))


def test_a_judgement_goes_by_the_students_own_smaller_clearance() -> None:
    assert wm.mark(WIDE, {"c": "75 and 18 µm", "d": "no"})["d"].verdict == "carried forward"
    assert wm.mark(WIDE, {"c": "75 and 25 µm", "d": "yes"})["d"].verdict == "right"
    assert wm.mark(WIDE, {"c": "75 and 25 µm", "d": "no"})["d"].misconceptions == ("largest-clearance-is-enough",)


def test_a_table_is_marked_as_each_row_is_alone() -> None:
    entries = [(key, entry) for key in RIGHT for entry in RIGHT[key]] + [(key, entry) for key, entry, *_ in WRONG]
    entries += [("c", entry) for entry in ("205 and 155 µm", "75", "0 and 50 µm", "-3 and 40 µm", "1 2 3")]
    given = {"D": 25.0, "s": 10.0, "ES": 21.0, "EI": 0.0, "es": -7.0, "ei": -20.0}
    frame = pd.DataFrame([{**given, "a": "", "b": "", "c": "", key: entry} for key, entry in entries])
    table = wm.mark_table(BUSH, frame)
    for row, (key, entry) in zip(table.to_dict("records"), entries, strict=True):
        out = wm.mark(VARIANT, {key: entry})[key]
        alone = (float(out.marks), str(out.verdict), "+".join(out.misconceptions))
        assert (row[f"{key}.marks"], row[f"{key}.verdict"], row[f"{key}.misconceptions"]) == alone, entry
        assert row[f"{key}.sure"] == pytest.approx(out.sure, abs=1e-12)


@pytest.fixture(scope="module")
def drawn() -> list[Variant]:
    return list(draw_all(BUSH, {str(n): f"limits|{n}" for n in range(6)}, frozenset()).values())


def test_every_modelled_wrong_pair_of_every_sheet_is_named(drawn: list[Variant]) -> None:
    for variant, part in product(drawn, limits_in(BUSH.parts)):
        for who, text in wrong_answers(variant, part, Rules()):
            out = wm.mark(variant, {part.key: text})[part.key]
            assert (out.verdict, set(who) <= set(out.misconceptions)) == ("slip", True), (text, out)
            assert out.marks < part.marks


def test_no_slip_is_ever_given_full_marks_and_right_pairs_are(drawn: list[Variant]) -> None:
    for variant, part in product(drawn, limits_in(BUSH.parts)):
        one, other = (f"{variant.expected[side.key]:~P}" for side in part.sides)
        for entry in (f"{one} and {other}", f"{other}; {one}"):
            assert wm.mark(variant, {part.key: entry})[part.key].marks == part.marks, entry


@pytest.mark.parametrize("half_marks", [True, False])
def test_marks_come_in_the_steps_of_the_task(half_marks: bool) -> None:
    for key, entry, *_ in WRONG:
        marks = wm.mark(VARIANT, {key: entry}, Rules(half_marks=half_marks))[key].marks
        assert marks % (D("0.5") if half_marks else D(1)) == 0


def test_what_is_said_of_both_values_in_the_same_words_stands_once() -> None:
    said = wm.mark(VARIANT, {"a": "25.021 and 25"})["a"].because
    assert said == "The number is right; write its unit, mm, beside it."
    said = wm.mark(VARIANT, {"c": "41 µm"})["c"].because
    assert said.endswith("Two values are asked, and one stands here.")
