"""Rung 3: worked rightly from the student's own earlier results, any subset of them."""

import itertools
from collections.abc import Mapping
from decimal import Decimal

import pytest

import witnessmark as wm
from bank_fixture import BANK
from marking.students import Answers, marked, quantities, typed
from witnessmark.maths.compiled import compiled
from witnessmark.questions.model.kinds import names_of
from witnessmark.questions.sheet.variant import Variant
from witnessmark.questions.working.working import ALL_CONSTANTS

HOLE = BANK["drain-hole"].variant(tau="300 MPa", d="20 mm", t="6 mm", punch="oil-hardened tool steel")
WRONG_BY = (1.37, 1.83, 0.61, 1.29)
"""Factors that no method of these questions gives, one for each place, so that they do not cancel one another."""
CHAINS = {
    "bottle-jack": ("a", "b.A_1", "b", "c.A_2"),
    "punch-work": ("a.A_s", "a", "b.s", "b"),
    "held-pipe": ("a.strain", "a", "b.A"),
    "drain-hole": ("a.A_s", "a", "b.A_p"),
}


def answered(variant: Variant, wrong: Mapping[str, float]) -> Answers:
    """Every line and result, each worked from the student's own; those at `wrong` off by their factors."""
    names = {**{k: float(v) for k, v in ALL_CONSTANTS.items()}, **variant.values}
    answers: Answers = {}
    for part in variant.question.quantities:
        own = dict(names)
        for line in part.lines:
            key = f"{part.key}.{line.name}"
            own[line.name] = float(compiled(line.value)(own)) * wrong.get(key, 1)
            answers[key] = typed(variant.question, key, own[line.name], 5)
        result = float(compiled(part.answer)(own)) * wrong.get(part.key, 1)
        answers[part.key] = typed(variant.question, part.key, result, 5)
        names.update(dict.fromkeys(names_of(part), result))
    return answers


@pytest.mark.parametrize("key", CHAINS)
def test_after_any_subset_of_wrong_results_proper_working_loses_nothing_but_its_own_wrong_lines(key: str) -> None:
    variant, places = BANK[key].draw("carried"), dict(zip(CHAINS[key], WRONG_BY, strict=False))
    subsets = [set(some) for n in range(len(places) + 1) for some in itertools.combinations(places, n)]
    answers = [answered(variant, {k: places[k] for k in wrong}) for wrong in subsets]
    found = marked([variant] * len(subsets), answers)
    for row, wrong in enumerate(subsets):
        for part in quantities(BANK[key]):
            out, told = found.outcome(part.key, row), f"wrong {sorted(wrong)}, {part.key}: {answers[row]}"
            lost = sum((n.marks for n in part.lines if f"{part.key}.{n.name}" in wrong), Decimal(0))
            if part.key in wrong:
                assert out.verdict not in ("right", "carried forward"), told
                assert out.marks <= part.marks - 1, told
            else:
                assert (out.marks, out.verdict in ("right", "carried forward")) == (part.marks - lost, True), told


def test_a_result_that_follows_from_an_own_wrong_one_has_all_its_marks_and_says_so() -> None:
    out = wm.mark(HOLE, {"a": "100 kN", "b": "318 MPa"})["b"]  # 100 kN / 314.16 mm²
    assert (out.verdict, out.marks) == ("carried forward", Decimal(2))
    assert out.because == "Your working here is right: 318\xa0MPa follows from your own earlier result."


def test_the_right_result_after_a_wrong_one_is_right() -> None:
    out = wm.mark(HOLE, {"a": "100 kN", "b": "360 MPa"})["b"]
    assert (out.verdict, out.marks) == ("right", Decimal(2))


def test_a_result_that_follows_from_neither_is_not_carried() -> None:
    out = wm.mark(HOLE, {"a": "100 kN", "b": "411 MPa"})["b"]
    assert (out.verdict, out.marks) == ("unexplained", Decimal(0))


@pytest.mark.parametrize(
    ("answers", "why"),
    [
        ({"a": "47.1 MN", "b": "150 GPa"}, "a slip with a power of ten"),
        ({"a": "100", "b": "318 MPa"}, "a wrong number without its unit"),
        ({"a": "100,5 kN", "b": "320 MPa"}, "a decimal comma"),
        ({"a": "1.0e2 kN", "b": "318 MPa"}, "as a power of ten"),
    ],
)
def test_what_is_carried_is_the_number_as_it_was_read(answers: Mapping[str, str], why: str) -> None:
    assert wm.mark(HOLE, answers)["b"].verdict == "carried forward", why


def test_own_results_are_carried_with_the_room_of_their_last_figure() -> None:
    for b in ("318 MPa", "318.3 MPa", "319 MPa", "317 MPa"):  # 100 kN may stand for 99.5 to 100.5 kN
        assert wm.mark(HOLE, {"a": "100 kN", "b": b})["b"].verdict == "carried forward", b
    assert wm.mark(HOLE, {"a": "100.0 kN", "b": "335 MPa"})["b"].verdict != "carried forward"
    early = wm.mark(HOLE, {"a": "100.0 kN", "b": "325 MPa"})["b"]  # 100 / 308: within what two figures on the way give
    assert early.marks < early.out_of
    assert early.in_tray


def test_where_the_task_says_so_nothing_is_carried_forward() -> None:
    out = wm.mark(HOLE, {"a": "100 kN", "b": "318 MPa"}, wm.Rules(carried_forward=False))["b"]
    assert out.marks == 0
    assert wm.mark(HOLE, {"a": "113 kN", "b": "360 MPa"}, wm.Rules(carried_forward=False))["b"].marks == 2


def test_blank_and_unreadable_results_carry_nothing_so_the_next_part_is_worked_from_the_right_one() -> None:
    for a in ("", "see the back"):
        out = wm.mark(HOLE, {"a": a, "b": "360 MPa"})["b"]
        assert (out.verdict, out.marks) == ("right", Decimal(2))


def test_a_line_rounded_too_early_loses_its_half_mark_once() -> None:
    out = wm.mark(HOLE, {"a.A_s": "380 mm²", "a": "114 kN"})
    assert (out["a.A_s"].verdict, out["a.A_s"].marks) == ("rounded early", Decimal("0.5"))
    assert (out["a"].verdict, out["a"].marks) == ("carried forward", Decimal("2.5"))


def test_a_judgement_agrees_with_the_students_own_number() -> None:
    cases = {
        ("113 kN", "360 MPa", "yes"): ("right", 1),
        ("113 kN", "360 MPa", "no"): ("wrong", 0),
        ("1000 kN", "3180 MPa", "no"): ("carried forward", 1),  # above the 1800 MPa of no such steel
        ("1000 kN", "3180 MPa", "yes"): ("wrong", 0),
        ("", "", "yes"): ("right", 1),
    }
    for (a, b, c), (verdict, marks) in cases.items():
        out = wm.mark(HOLE, {"a": a, "b": b, "c": c})["c"]
        assert (out.verdict, out.marks) == (verdict, Decimal(marks)), (a, b, c)
        if c and (a, b, c) != ("", "", "yes"):
            assert "own number" in out.because
