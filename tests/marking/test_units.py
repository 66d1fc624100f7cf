"""Rung 4: the number is right and the unit is not: missing, foreign, a power of ten off, a conversion gone wrong."""

import math
from decimal import Decimal

import pytest

import witnessmark as wm
from bank_fixture import BANK
from marking.students import CALCULATED, drawn, marked, quantities, right, rounded, typed
from searching import every
from witnessmark.marking.kinds.quantity import UNITS_THAT_NEED_NO_WORD
from witnessmark.marking.outcome import Verdict
from witnessmark.maths.compiled import compiled
from witnessmark.maths.quantities import from_si, unit
from witnessmark.questions.model.kinds import names_of
from witnessmark.questions.model.parts import QuantityPart
from witnessmark.questions.model.question import Question
from witnessmark.questions.sheet.variant import Variant
from witnessmark.questions.working.working import ALL_CONSTANTS

HOLE = BANK["drain-hole"].variant(tau="300 MPa", d="20 mm", t="6 mm", punch="oil-hardened tool steel")  # 113.1 kN
ORDER = tuple(Verdict)


def entry_without_unit(question: Question, part: str, si: float) -> str:
    return typed(question, part, si, 5).split(" ")[0]


def test_a_missing_unit_costs_half_a_mark_and_is_asked_for() -> None:
    out = wm.mark(HOLE, {"a": "113.1"})["a"]
    assert (out.verdict, out.marks) == ("unit", Decimal("2.5"))
    assert out.because == "The number is right; write its unit, kN, beside it."


def test_a_unit_of_another_dimension_costs_one_mark_and_is_named() -> None:
    out = wm.mark(HOLE, {"a": "113.1 kg"})["a"]
    assert (out.verdict, out.marks) == ("unit", Decimal(2))
    assert out.because == "The number is right, but kg cannot be the unit here; it is kN."


@pytest.mark.parametrize("key", every(CALCULATED, 6))
def test_a_number_without_its_unit_is_right_where_none_is_needed_and_a_fault_of_the_unit_elsewhere(key: str) -> None:
    question, variants = BANK[key], drawn(key, ("heron",))
    bare = {p.key: entry_without_unit(question, p.key, variants[0].expected_si[p.key]) for p in quantities(question)}
    found = marked(variants, [bare])
    for part in quantities(question):
        verdict, marks = ORDER[found.verdicts(part.key)[0]], found.marks(part.key)[0]
        if part.unit in UNITS_THAT_NEED_NO_WORD:
            assert (verdict, marks) == ("right", part.marks * 100), bare
        else:
            assert (verdict, marks) == ("unit", part.marks * 100 - 50), bare


@pytest.mark.parametrize("key", every(CALCULATED, 6))
def test_a_right_number_in_a_foreign_unit_is_a_fault_of_the_unit_in_every_question(key: str) -> None:
    question, variants = BANK[key], drawn(key, ("heron",))
    e = variants[0].expected_si
    foreign = "kg" if all(p.unit not in ("kg", "g") for p in quantities(question)) else "V"
    answers = {p.key: f"{entry_without_unit(question, p.key, e[p.key])} {foreign}" for p in quantities(question)}
    found = marked(variants, [answers])
    for part in quantities(question):
        verdict, marks = ORDER[found.verdicts(part.key)[0]], found.marks(part.key)[0]
        assert (verdict, marks) == ("unit", max(part.marks * 100 - 100, 0)), (answers, found.outcome(part.key, 0))


def test_the_sentence_for_a_pure_number_with_a_unit_says_that_it_has_none() -> None:
    question = BANK["clevis-pin"]
    part = next(p for p in quantities(question) if p.unit == "")
    variant = question.draw("heron")
    out = wm.mark(variant, {part.key: f"{entry_without_unit(question, part.key, variant.expected_si[part.key])} kg"})
    assert out[part.key].because == "The number is right, but kg cannot be the unit here; it is a pure number."


# How many of the unit that is asked one of another scale is: NIST SP 811 (2008), Appendix B.8; 180/pi degrees a radian.
OTHER_SCALES = {
    "MPa": (("ksi", 6.894757), ("psi", 0.006894757)),
    "deg": (("rad", 180 / math.pi),),
    "mm": (("in", 25.4), ("ft", 304.8)),
    "s": (("min", 60), ("h", 3600)),
    "kN": (("lbf", 0.0044482216),),
    "h": (("min", 1 / 60),),
}


def in_another_unit(si: float, asked: str, unit: str, worth: float, figures: int) -> str:
    """An SI value as it is written in another unit, rounded there."""
    return f"{rounded(from_si(si, asked) / worth, figures):.{figures}g} {unit}"


@pytest.mark.parametrize("key", every(CALCULATED, 6))
def test_the_figures_asked_hold_in_the_unit_that_was_written(key: str) -> None:
    variants = drawn(key, ("heron", "gannet", "petrel"))
    for part in quantities(BANK[key]):
        figures = part.figures or 3
        for other, worth in OTHER_SCALES.get(part.unit, ()):
            values = [v.expected_si[part.key] for v in variants]
            answers = [{part.key: in_another_unit(si, part.unit, other, worth, figures)} for si in values]
            assert min(marked(variants, answers).marks(part.key)) == part.marks * 100, answers


@pytest.mark.parametrize("key", every(CALCULATED, 6))
def test_a_slip_in_another_unit_is_no_right_answer(key: str) -> None:
    variants = drawn(key, ("heron", "gannet", "petrel"))
    for part in quantities(BANK[key]):
        for other, worth in OTHER_SCALES.get(part.unit, ()):
            for slip in (s for s in part.slips if not s.line):
                values = [float(compiled(slip.answer)(names_of_variant(v))) for v in variants]
                answers = [{part.key: in_another_unit(si, part.unit, other, worth, 4)} for si in values]
                assert max(marked(variants, answers).marks(part.key)) < part.marks * 100, (slip, answers)


def names_of_variant(variant: Variant) -> dict[str, float]:
    """Every given, constant and result of a variant, in full."""
    results = {n: variant.expected_si[p.key] for p in variant.question.quantities for n in names_of(p)}
    lines = {k.partition(".")[2]: si for k, si in variant.expected_si.items() if "." in k}
    return {**{k: float(v) for k, v in ALL_CONSTANTS.items()}, **variant.values, **results, **lines}


def test_a_line_needs_no_unit_but_not_another_ones() -> None:
    assert wm.mark(HOLE, {"a.A_s": "377"})["a.A_s"].verdict == "right"
    out = wm.mark(HOLE, {"a.A_s": "377 kg"})["a.A_s"]
    assert (out.verdict, out.marks) == ("unit", Decimal(0))
    assert out.because == "The number is right, but kg cannot be the unit here; it is mm²."


@pytest.mark.parametrize(
    ("entry", "says"),
    [
        ("113.1 MN", "a thousand times too large"),
        ("113.1 N", "a thousand times too small"),
        ("1.131 MN", "ten times too large"),
        ("11.31 kN", "ten times too small"),
        ("1.131 kN", "a hundred times too small"),
        ("113.1 GN", "a million times too large"),
        ("113 100 kN", "a thousand times too large"),
    ],
)
def test_a_power_of_ten_costs_one_mark_and_says_which_way(entry: str, says: str) -> None:
    out = wm.mark(HOLE, {"a": entry})["a"]
    assert (out.verdict, out.marks) == ("power of ten", Decimal(2))
    assert says in out.because


def shifted(si: float, part: QuantityPart, power: int) -> float:
    """The value (SI) whose number in the unit asked is a power of ten off."""
    zero = unit(part.unit).offset
    return (si - zero) * 10.0**power + zero


@pytest.mark.parametrize("key", CALCULATED[::4])
def test_a_power_of_ten_never_earns_all_marks_and_has_its_name_or_goes_to_the_teacher(key: str) -> None:
    question, (variant,) = BANK[key], drawn(key, ("heron",))
    cases = [(part, power) for part in quantities(question) for power in (-6, -3, -2, -1, 1, 2, 3, 6)]
    answers = [
        right(variant) | {part.key: typed(question, part.key, shifted(variant.expected_si[part.key], part, power))}
        for part, power in cases
    ]
    found = marked([variant] * len(cases), answers)
    outcomes = [found.outcome(part.key, row) for row, (part, _) in enumerate(cases)]
    assert all(out.marks < out.out_of for out in outcomes)
    unnamed = [out for out in outcomes if out.verdict != "power of ten"]
    assert all(out.in_tray or out.verdict == "slip" for out in unnamed), unnamed
    assert len(unnamed) <= len(outcomes) / 4


# NIST SP 811 (2008), Appendix B.8: 1 kgf is 9.80665 N, 1 psi 6.894757 kPa, 1 inch 25.4 mm.
@pytest.mark.parametrize(
    ("entry", "between"),
    [
        ("11.53 kN", "kilogram-force and newton"),  # 113.1/9.81
        ("11.533 kN", "kilogram-force and newton"),  # 113.097/9.80665
        ("1109.5 kN", "kilogram-force and newton"),  # 113.097 · 9.81
    ],
)
def test_a_conversion_gone_wrong_costs_one_mark_and_is_named(entry: str, between: str) -> None:
    out = wm.mark(HOLE, {"a": entry})["a"]
    assert (out.verdict, out.marks) == ("unit", Decimal(2))
    assert f"a conversion between {between} went wrong" in out.because


def test_degrees_for_radians_are_a_fault_of_the_unit() -> None:
    variant = BANK["shaft-twist"].draw("heron")
    radians, degrees = (variant.expected["a"].to(u).magnitude for u in ("radian", "degree"))
    out = wm.mark(variant, {"a": f"{radians:.5g} deg"})["a"]
    assert (out.verdict, out.marks) == ("unit", out.out_of - 1)
    assert "radian and degree" in out.because
    assert wm.mark(variant, {"a": f"{radians:.5g} rad"})["a"].verdict == "right"
    assert wm.mark(variant, {"a": f"{degrees:.5g} deg"})["a"].verdict == "right"


def test_the_rules_of_a_task_say_what_units_and_powers_cost() -> None:
    free = wm.Rules(unit_missing=Decimal(0), wrong_unit=Decimal("0.5"), power_of_ten=Decimal("1.5"))
    marks = [wm.mark(HOLE, {"a": entry}, free)["a"].marks for entry in ("113.1", "113.1 kg", "113.1 MN", "11.53 kN")]
    assert marks == [Decimal(3), Decimal("2.5"), Decimal("1.5"), Decimal("2.5")]
    strict = wm.Rules(unit_missing=Decimal(9), wrong_unit=Decimal(9), power_of_ten=Decimal(9))
    assert [wm.mark(HOLE, {"a": e}, strict)["a"].marks for e in ("113.1", "113.1 kg", "113.1 MN")] == [0, 0, 0]


def test_a_unit_that_follows_from_the_slip_costs_nothing_more_and_is_told() -> None:
    # 190 kg on 6 parts at 76 %: 190/(6 · 0.76) = 41.67, a mass for a force; without the losses 1863.9 N/6 = 310.65 N.
    tackle = BANK["tackle"].variant(m="190 kg", n=6, eta="76 %", h="0.9 m")
    entries = ("41.67 N", "41.67 kg", "310.7 N", "310.7 kg")
    outs = [wm.mark(tackle, {"a": entry})["a"] for entry in entries]
    assert [out.verdict for out in outs] == ["slip"] * 4
    assert [out.marks for out in outs] == [2, 2, 2, 1]
    assert "The unit is off as well: kg cannot be the unit here; it is N." in outs[1].because
    assert "unit" not in outs[2].because


def test_a_slip_without_its_unit_says_both() -> None:
    tackle = BANK["tackle"].variant(m="190 kg", n=6, eta="76 %", h="0.9 m")
    out = wm.mark(tackle, {"a": "310.7"})["a"]
    assert (out.verdict, out.marks) == ("slip", Decimal("1.5"))
    assert out.because.endswith("Its unit, N, is missing as well.")
