"""Rungs 5 and 6: every wrong method that the bank models is named, keeps what it keeps, and never earns all marks."""

from decimal import Decimal

import pytest

import witnessmark as wm
from bank_fixture import BANK
from marking.students import CALCULATED, HABITS, Habit, drawn, marked, quantities, right, typed, worked
from witnessmark.marking.outcome import Verdict

HOLE = BANK["drain-hole"].variant(tau="300 MPa", d="20 mm", t="6 mm", punch="oil-hardened tool steel")
ORDER = tuple(Verdict)
SLIP = ORDER.index(Verdict.SLIP)
SOME_HABITS = HABITS[:: len(HABITS) // 6]


@pytest.mark.parametrize("key", CALCULATED)
def test_every_modelled_slip_is_named_and_keeps_what_it_keeps_by_every_habit(key: str) -> None:
    (variant,) = drawn(key, ("heron",))
    cases = [(part, slip, habit) for part in quantities(BANK[key]) for slip in part.slips if slip.answer is not None
             for habit in SOME_HABITS]  # fmt: skip
    if not cases:
        pytest.skip("no slip is modelled here")
    answers = [worked(variant, habit, shows_lines=False, slips={part.key: slip}) for part, slip, habit in cases]
    found = marked([variant] * len(cases), answers)
    for row, (part, slip, habit) in enumerate(cases):
        out, told = found.outcome(part.key, row), f"{slip.misconception}, {habit}: {answers[row][part.key]}"
        assert out.marks < part.marks, told
        if not out.in_tray:
            assert (out.verdict, slip.misconception in out.misconceptions) == ("slip", True), (told, out)
            keeps = {s.keeps for s in part.slips if s.misconception in out.misconceptions}
            assert out.marks in keeps, (told, out)


@pytest.mark.parametrize("key", CALCULATED)
def test_what_follows_from_a_slip_is_carried_forward(key: str) -> None:
    (variant,) = drawn(key, ("heron",))
    cases = [(part, slip) for part in quantities(BANK[key]) for slip in part.slips if slip.answer is not None]
    if not any(part.carries for part in quantities(BANK[key])):
        pytest.skip("nothing is carried here")
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


@pytest.mark.parametrize("key", [k for k in CALCULATED if any(p.lines for p in quantities(BANK[k]))])
def test_who_shows_the_line_of_a_slip_has_what_the_slip_keeps_or_what_the_line_leaves(key: str) -> None:
    (variant,) = drawn(key, ("heron",))
    cases = [(part, slip) for part in quantities(BANK[key]) for slip in part.slips if slip.answer and slip.line]
    if not cases:
        pytest.skip("no slip sits in a line here")
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
    variant = BANK["clevis-pin"].draw("heron")
    slips = {s.misconception: s for s in BANK["clevis-pin"].part("a").slips}
    in_line = next(s for s in slips.values() if s.line and "diameter" in s.misconception)
    last = next(s for s in slips.values() if not s.line)
    values = variant.slips["a"]
    product = values[in_line.misconception] * values[last.misconception] / variant.expected["a"]
    out = wm.mark(variant, {"a": typed(variant.question, "a", float(product.to("newton").magnitude), 5)})["a"]
    assert (out.verdict, set(out.misconceptions)) == ("two slips", {in_line.misconception, last.misconception})
    assert out.marks == max(min(in_line.keeps, last.keeps) - 1, Decimal(0))


def test_slips_that_are_one_number_in_every_variant_share_the_name() -> None:
    shared = []
    for key in CALCULATED:
        (variant,) = drawn(key, ("heron",))
        for part in quantities(BANK[key]):
            slips = {k: v for k, v in variant.slips.get(part.key, {}).items() if not isinstance(v, float)}
            for one in slips:
                twins = {o for o, v in slips.items() if abs(float((v / slips[one]).to("").magnitude) - 1) < 1e-12}
                if len(twins) > 1 and not any({key, *twins} == s for s in shared):
                    shared.append({key, *twins})
                    si = float(slips[one].to(variant.expected[part.key].units).magnitude)
                    out = wm.mark(variant, {part.key: f"{si:.5g} {part.unit}"})[part.key]
                    assert twins <= set(out.misconceptions), (key, part.key, twins, out)


@pytest.mark.parametrize("figures", [3, 4, 5, 8])
def test_a_value_that_a_slip_gives_is_never_full_marks_however_many_figures_are_written(figures: int) -> None:
    for key in CALCULATED[1::4]:
        (variant,) = drawn(key, ("teal",))
        for part in quantities(BANK[key]):
            for who, value in variant.slips.get(part.key, {}).items():
                number = value if isinstance(value, float) else float(value.to_base_units().magnitude)
                entry = typed(BANK[key], part.key, number, figures)
                found = marked([variant], [right(variant) | {part.key: entry}])
                assert found.marks(part.key)[0] < part.marks * 100, (key, part.key, who, entry)
