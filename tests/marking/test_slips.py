"""Rungs 5 and 6: every wrong method that the bank models is named, keeps what it keeps, and never earns all marks."""

import math
from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

import witnessmark as wm
from bank_cases import SMALL_BANK
from bank_fixture import BANK
from marking.students import CALCULATED, HABITS, Habit, drawn, marked, quantities, right, typed, worked
from searching import every
from witnessmark.files.bank.folder import load_bank
from witnessmark.files.bank.question_text import question_from_text
from witnessmark.maths.quantities import to_si
from witnessmark.questions.model.kinds import carried_by, names_of
from witnessmark.questions.model.parts import Slip
from witnessmark.questions.working.evaluation import value_of
from witnessmark.questions.working.methods import Method, NumberPlace, dimensions, methods_at, places
from witnessmark.questions.working.pairs import pairs_at
from witnessmark.questions.working.working import ALL_CONSTANTS

HOLE = BANK["drain-hole"].variant(tau="300 MPa", d="20 mm", t="6 mm", punch="oil-hardened tool steel")
SLIPPING = [key for key in CALCULATED if any(p.slips for p in quantities(BANK[key]))]
SOME_HABITS = [*HABITS[:: len(HABITS) // 5], Habit(written=8)]


def by_calculator(slip: Slip, habit: Habit) -> Habit:
    """The habit; a calculator that is set to the wrong angle takes pi as it is, whatever its owner writes for it."""
    return replace(habit, pi=math.pi) if slip.misconception == "calculator-in-radians" else habit


@pytest.mark.parametrize("key", every(SLIPPING, 6))
def test_every_modelled_slip_is_named_and_keeps_what_it_keeps_by_every_habit(key: str) -> None:
    (variant,) = drawn(key, ("heron",))
    cases = [(part, slip, by_calculator(slip, habit)) for part in quantities(BANK[key]) for slip in part.slips
             for habit in SOME_HABITS]  # fmt: skip
    answers = [worked(variant, habit, shows_lines=False, slips={part.key: slip}) for part, slip, habit in cases]
    found = marked([variant] * len(cases), answers)
    for row, (part, slip, habit) in enumerate(cases):
        out, told = found.outcome(part.key, row), f"{slip.misconception}, {habit}: {answers[row][part.key]}"
        assert out.marks < part.marks, told
        if not out.in_tray:
            assert (out.verdict, slip.misconception in out.misconceptions) == ("slip", True), (told, out)
            keeps = {s.keeps for s in part.slips if s.misconception in out.misconceptions}
            assert out.marks in keeps, (told, out)


@pytest.mark.parametrize("key", every([key for key in SLIPPING if any(map(carried_by, BANK[key].parts))], 6))
def test_what_follows_from_a_slip_is_carried_forward(key: str) -> None:
    (variant,) = drawn(key, ("heron",))
    cases = [(part, slip) for part in quantities(BANK[key]) for slip in part.slips]
    answers = [worked(variant, Habit(written=5), False, {part.key: slip}) for part, slip in cases]
    found = marked([variant] * len(cases), answers)
    for row, (slipped, slip) in enumerate(cases):
        for part in quantities(BANK[key]):
            out, told = found.outcome(part.key, row), f"after {slip.misconception} in {slipped.key}: {answers[row]}"
            if part.key != slipped.key:
                assert (out.marks, out.verdict in ("right", "carried forward")) == (part.marks, True), (told, out)


def test_the_two_slips_of_the_drain_hole_by_hand() -> None:
    # 300 MPa on pi 20²/4 = 314.16 mm² is 94.25 kN; on pi 10 6 = 188.50 mm² it is 56.55 kN.
    face, radius = (wm.mark(HOLE, {"a": entry})["a"] for entry in ("94.25 kN", "56.55 kN"))
    assert (face.verdict, face.misconceptions, face.marks) == ("slip", ("face-area-for-sheared-edge",), Decimal(1))
    assert (radius.verdict, radius.misconceptions, radius.marks) == ("slip", ("radius-for-diameter",), Decimal(2))
    assert face.because == (
        "94.25\xa0kN is what τ × π × d² / 4 gives with your numbers. "
        + BANK.misconceptions["face-area-for-sheared-edge"].shows
    )
    assert min(face.sure, radius.sure) > 0.9


def test_a_slip_in_a_line_is_named_there_and_carried_from_there() -> None:
    out = wm.mark(HOLE, {"a.A_s": "314 mm²", "a": "94.2 kN"})
    assert out["a.A_s"].misconceptions == ("face-area-for-sheared-edge",)
    assert out["a.A_s"].marks == 0
    assert out["a"].marks == 2  # all but the line's, since the rest follows


@pytest.mark.parametrize("shown", ["188 mm²", "500 mm²", "3.14 mm²"])
def test_showing_a_wrong_line_that_a_slip_passes_by_costs_nothing(shown: str) -> None:
    with_line, without = (wm.mark(HOLE, a)["a"] for a in ({"a.A_s": shown, "a": "94.2 kN"}, {"a": "94.2 kN"}))
    assert with_line.marks >= without.marks == 1


@pytest.mark.parametrize(
    "key", every([key for key in SLIPPING if any(s.line for p in quantities(BANK[key]) for s in p.slips)], 6)
)
def test_who_shows_the_line_of_a_slip_has_what_the_slip_keeps_or_what_the_line_leaves(key: str) -> None:
    (variant,) = drawn(key, ("heron",))
    cases = [(part, slip) for part in quantities(BANK[key]) for slip in part.slips if slip.line]
    answers = [worked(variant, Habit(written=4), True, {part.key: slip}) for part, slip in cases]
    found = marked([variant] * len(cases), answers)
    for row, (part, slip) in enumerate(cases):
        out, told = found.outcome(part.key, row), f"{slip.misconception}: {answers[row]}"
        line = next(n for n in part.lines if n.name == slip.line)
        assert min(slip.keeps, part.marks - line.marks) <= out.marks <= max(slip.keeps, part.marks - line.marks), told
        assert found.outcome(f"{part.key}.{slip.line}", row).marks < max(line.marks, Decimal("0.5")), told


def test_a_slip_with_a_power_of_ten_keeps_one_mark_less_and_says_both() -> None:
    out = wm.mark(HOLE, {"a": "56.55 MN"})["a"]
    assert (out.verdict, out.misconceptions, out.marks) == ("slip", ("radius-for-diameter",), Decimal(1))
    assert out.because.endswith("The power of ten is off as well.")
    face = wm.mark(HOLE, {"a": "94.25 N"})["a"]
    assert (face.misconceptions, face.marks) == (("face-area-for-sheared-edge",), Decimal(0))


def test_a_slip_without_its_unit_loses_half_a_mark_more() -> None:
    assert wm.mark(HOLE, {"a": "56.55"})["a"].marks == Decimal("1.5")
    assert wm.mark(HOLE, {"a": "56.55 kg"})["a"].marks == Decimal(1)


def test_a_slip_made_with_an_own_wrong_result_is_named() -> None:
    # 100 kN over pi 20 6 = 376.99 mm², where the face area belongs.
    out = wm.mark(HOLE, {"a": "100 kN", "b": "265.3 MPa"})["b"]
    assert (out.verdict, out.misconceptions, out.marks) == ("slip", ("sheared-edge-for-face-area",), Decimal(1))


def test_two_slips_together_keep_the_smaller_less_one() -> None:
    # Both factors of the drain hole's slips at once: 94.25 · 56.55 / 113.10 = 47.12 kN.
    out = wm.mark(HOLE, {"a": "47.12 kN"})["a"]
    assert out.verdict == "two slips"
    assert set(out.misconceptions) == {"face-area-for-sheared-edge", "radius-for-diameter"}
    assert out.marks == 0  # 1 less 1


def test_two_slips_in_a_line_and_in_the_last_step_are_both_named() -> None:
    slips = {s.misconception: s for s in BANK["guillotine"].quantity("a").slips}
    in_line, last = slips["single-shear-as-double"], slips["tensile-for-shear-strength"]
    assert (in_line.line, last.line) == ("A_s", "")
    variant = BANK["guillotine"].draw("heron")
    values = variant.slips["a"]
    both = values[in_line.misconception] * values[last.misconception] / variant.expected["a"]
    out = wm.mark(variant, {"a": typed(variant.question, "a", float(both.to("newton").magnitude), 5)})["a"]
    assert (out.verdict, set(out.misconceptions)) == ("two slips", {in_line.misconception, last.misconception})
    assert out.marks == max(min(in_line.keeps, last.keeps) - 1, Decimal(0))


def pairs_of(key: str) -> list[tuple[NumberPlace, Method]]:
    """Every two slips that go together at a result of a question."""
    known = dimensions(BANK[key])
    results = [place for place in places(BANK[key], 3) if place.line is None]
    return [(place, pair) for place in results for pair in pairs_at(methods_at(place, known), known)]


@pytest.mark.parametrize("key", [key for key in CALCULATED[::2] if pairs_of(key)])
def test_every_pair_of_slips_is_named_or_goes_to_the_teacher_and_is_never_full_marks(key: str) -> None:
    (variant,) = drawn(key, ("heron",))
    names: dict[str, Any] = {**ALL_CONSTANTS, **variant.values}
    for part in quantities(BANK[key]):
        names.update(dict.fromkeys(names_of(part), variant.expected_si[part.key]))
    cases = [(place, pair, float(value_of(pair, names, {}))) for place, pair in pairs_of(key)]
    answers = [right(variant) | {place.key: typed(BANK[key], place.key, si, 5)} for place, _, si in cases]
    found = marked([variant] * len(cases), answers)
    for row, (place, pair, si) in enumerate(cases):
        out, told = found.outcome(place.key, row), f"{pair.misconceptions}: {answers[row][place.key]}"
        low, high = (to_si(float(end.magnitude), place.asked.unit) for end in variant.accepts[place.key])
        if low <= si <= high:
            continue  # the two cancel, and nobody can tell
        assert out.marks < out.out_of, (told, out)
        if out.verdict == "two slips":
            kept = [s.keeps for s in place.part.slips if s.misconception in out.misconceptions]
            assert out.marks == max(min(kept) - 1, Decimal(0)), (told, out)
        named = any(set(pair.misconceptions) <= {*e.misconceptions, *out.misconceptions} for e in out.evidence)
        assert named or out.in_tray or out.verdict == "slip", (told, out)


def test_slips_that_are_one_number_in_every_variant_share_the_name_and_keep_what_the_kinder_keeps() -> None:
    text = (SMALL_BANK / "shear" / "drain-hole.yaml").read_text(encoding="utf-8")
    slip = "      - {misconception: radius-for-diameter,        answer: tau*pi*(d/2)*t, keeps: 2}\n"
    assert slip in text
    halved = "      - {misconception: sheared-edge-for-face-area, answer: tau*A_s/2, keeps: 2.5}\n"
    tables = load_bank(SMALL_BANK).tables
    question, problems = question_from_text(text.replace(slip, slip + halved), "q.yaml", tables)
    assert question is not None, problems
    variant = question.variant(tau="300 MPa", d="20 mm", t="6 mm", punch__compressive_strength="1800 MPa")
    out = wm.mark(variant, {"a": "56.55 kN"})["a"]
    assert set(out.misconceptions) == {"radius-for-diameter", "sheared-edge-for-face-area"}
    assert (out.verdict, out.marks) == ("slip", Decimal("2.5"))
