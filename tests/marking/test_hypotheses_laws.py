"""Hypotheses against the laws of chance and of marks: a kind's share is shared out, factors go both ways round."""

import math
from collections import Counter
from dataclasses import replace
from decimal import Decimal

import numpy as np
import pytest
from scipy import constants

import witnessmark as wm
from bank_cases import SMALL_BANK
from witnessmark.files.bank.folder import load_bank
from witnessmark.marking.hypotheses.conversions import factors_for
from witnessmark.marking.hypotheses.hypotheses import Factor, Hypothesis, hypotheses, with_round_g
from witnessmark.marking.hypotheses.plan import MOST_DOUBLE_EDITS, Plan
from witnessmark.marking.hypotheses.wording import (
    because,
    factor_text,
    plain_marks,
    unit_as_well_sentence,
    unit_sentence,
    value_text,
)
from witnessmark.marking.weights import POWERS, PRIOR_OF_KIND, SLIP_POWERS
from witnessmark.maths.printing.plain import plain
from witnessmark.maths.syntax import parse
from witnessmark.questions.sheet.task import Rules
from witnessmark.questions.working.methods import Method, methods_at, places
from witnessmark.questions.working.pairs import pairs_at
from witnessmark.questions.working.unconverted import MULTIPLES

HOLE = load_bank(SMALL_BANK).questions["drain-hole"]
NAMES = frozenset({"tau", "d", "t", "pi", "g", "A_s", "F", "sigma_a", "A_p"})
PLACES = ["a.A_s", "a", "b.A_p", "b"]


def at(key: str, own_count: int = 0, rules: Rules | None = None) -> tuple[Hypothesis, ...]:
    """The hypotheses of rungs 2 to 6 at a place of the drain hole."""
    plan = Plan(HOLE, rules or Rules(), NAMES)
    (place,) = (p for p in plan.places if p.key == key)
    return tuple(plan.candidates(place, own_count))


def edits_at(key: str, own_count: int, rules: Rules | None = None) -> tuple[Hypothesis, ...]:
    """Those of rung 7."""
    plan = Plan(HOLE, rules or Rules(), NAMES)
    (place,) = (p for p in plan.places if p.key == key)
    return tuple(plan.further(place, own_count)())


# Chance: the methods of a kind share what the kind is worth, and whoever carries own results weighs no less or more.


@pytest.mark.parametrize("own_count", [0, 1, 3])
@pytest.mark.parametrize("key", PLACES)
def test_the_methods_of_a_kind_share_its_chance_by_how_often_they_are_met(key: str, own_count: int) -> None:
    plain = [h for h in at(key, own_count) if not h.carried]
    for kind in {h.kind for h in plain}:
        alike = [h for h in plain if h.kind == kind]
        share = MULTIPLES if kind == "not converted" else 1  # a hole in millimetres and megapascals
        assert sum(h.prior for h in alike) == pytest.approx(PRIOR_OF_KIND[kind] * share)
        by_weight = [h.prior / h.weight for h in alike]
        assert max(by_weight) == pytest.approx(min(by_weight))
        assert max(by_weight) > 0


def test_a_prefix_is_forgotten_more_often_than_a_power_that_none_makes() -> None:
    prior = {h.factor.power: h.prior for h in at("a") if h.kind == "power of ten"}
    assert prior[3] == prior[-6] > prior[1] > prior[5] > prior[-7]


@pytest.mark.parametrize("key", PLACES)
def test_a_method_is_as_likely_from_own_results_as_from_the_right_ones(key: str) -> None:
    """How seldom anyone passes over an own result is weighed later, for all methods alike."""
    found = at(key, 2)
    alone = {(h.kind, h.factor): h.prior for h in found if not h.carried}
    for h in found:
        if h.carried:
            beside = {"carried": "right", "carried early": "rounded early", "slip carried": "slip"}.get(h.kind, h.kind)
            assert h.prior == pytest.approx(alone[beside, h.factor])


@pytest.mark.parametrize("own_count", [0, 1, 2])
@pytest.mark.parametrize("key", ["a", "b"])
def test_edits_share_their_chance_by_how_plausible_they_are(key: str, own_count: int) -> None:
    found = edits_at(key, own_count)
    for kind in ("edit", "rarer edit", "two edits"):
        for start in {h.carried for h in found}:
            shares = [h.prior for h in found if (h.kind, h.carried) == (kind, start)]
            if start:  # an edit of a line for which an own result stands is no edit
                assert sum(shares) <= PRIOR_OF_KIND[kind] * (1 + 1e-9)
            else:
                assert sum(shares) == pytest.approx(PRIOR_OF_KIND[kind])
    assert len([h for h in found if h.kind == "two edits" and not h.carried]) <= MOST_DOUBLE_EDITS == 150


# Which own results are carried.


@pytest.mark.parametrize(("own_count", "sets"), [(0, 0), (1, 1), (2, 3), (3, 7)])
def test_any_one_two_or_three_own_results_are_carried_at_once(own_count: int, sets: int) -> None:
    """Binomials: of three, 3 + 3 + 1."""
    carried = [h.carried for h in at("b", own_count) if h.kind == "carried"]
    assert len(carried) == len(set(carried)) == sets == sum(math.comb(own_count, n) for n in (1, 2, 3))
    assert all(h.carried == () or len(set(h.carried)) == len(h.carried) for h in at("b", own_count))


@pytest.mark.parametrize("own_count", [4, 5])
def test_of_many_own_results_as_in_a_table_all_are_carried_together(own_count: int) -> None:
    assert {h.carried for h in at("b", own_count) if h.kind == "carried"} == {tuple(range(own_count))}


def test_edits_start_from_right_results_or_all_own_ones_or_those_of_earlier_parts() -> None:
    """Own results of part b: its own line first, then what parts before it gave."""
    assert {h.carried for h in edits_at("b", 3)} == {(), (0, 1, 2), (1, 2)}
    assert {h.carried for h in edits_at("b", 1)} == {(), (0,)}
    assert {h.carried for h in edits_at("b", 0)} == {()}


# Marks.


def marks_by_kind(key: str, rules: Rules | None = None) -> dict[str, set[Decimal]]:
    """Which marks the hypotheses of each kind earn."""
    found: dict[str, set[Decimal]] = {}
    for h in at(key, 1, rules):
        found.setdefault(h.kind, set()).add(h.marks)
    return found


def test_the_marks_of_each_kind_by_hand() -> None:
    """Part a has 3 marks, slips keep 1 and 2; the rules take off a half, or 1 for a power of ten or a unit."""
    whole = {kind: {Decimal(m) for m in marks.split()} for kind, marks in {
        "right": "3", "carried": "3", "cut off": "3", "rounded early": "2.5", "power of ten": "2",
            "each rounded": "3", "carried early": "2.5", "coarse constant": "2.5", "conversion": "2",
            "slip": "1 2", "slip carried": "1 2", "slip and power of ten": "0 1", "two slips": "0",
    }.items()}  # fmt: skip
    assert marks_by_kind("a") == whole


def test_no_rule_takes_off_more_than_there_is() -> None:
    nine = Decimal(9)
    hard = Rules(carried_forward=False, rounded_early=nine, power_of_ten=nine, wrong_unit=nine)
    found = marks_by_kind("a", hard)
    assert found["right"] == {Decimal(3)}
    for kind in ("carried", "rounded early", "power of ten", "conversion", "slip and power of ten"):
        assert found[kind] == {Decimal(0)}, kind


def test_a_slip_keeps_nothing_in_a_line_and_an_edit_what_the_task_gives_unknown_methods() -> None:
    assert marks_by_kind("a.A_s")["slip"] == {Decimal(0)}
    assert marks_by_kind("a.A_s")["right"] == {Decimal(1)}
    unnamed = [h for h in edits_at("a", 1, Rules(unknown_method=Decimal("0.5"))) if h.rung == 7]
    assert {h.marks for h in unnamed} == {Decimal("0.5")}
    assert {h.kind for h in unnamed} == {"edit", "rarer edit", "two edits", "digits"}


def test_two_slips_keep_the_smaller_of_what_both_keep_less_one_mark() -> None:
    """The design, section 5."""
    (place,) = (p for p in places(HOLE, 3) if p.key == "a")
    plan = Plan(HOLE, Rules(), NAMES)
    right, *slips = methods_at(place, plan.dimensions)
    for smaller, earned in ((Decimal("2.5"), Decimal("1.5")), (Decimal(2), Decimal(1)), (Decimal("0.5"), Decimal(0))):
        kept = [replace(slips[0], keeps=Decimal("2.5")), replace(slips[1], keeps=smaller)]
        methods = (right, *kept)
        pairs = pairs_at(methods, plan.dimensions)
        found = [h for h in hypotheses(place, methods, pairs, 0, Rules()) if h.kind == "two slips"]
        assert found
        assert {h.marks for h in found} == {earned}


def test_each_rule_costs_its_own_fault_alone() -> None:
    """Part a has 3 marks, its slips keep 1 and 2."""
    costs = Rules(rounded_early=Decimal(1), wrong_unit=Decimal("1.5"), power_of_ten=Decimal("0.5"))
    found = marks_by_kind("a", costs)
    assert found["rounded early"] == {Decimal(2)}
    assert found["conversion"] == {Decimal("1.5")}
    assert found["power of ten"] == {Decimal("2.5")}
    assert found["slip and power of ten"] == {Decimal("0.5"), Decimal("1.5")}


def test_every_kind_stands_on_its_rung_of_the_ladder() -> None:
    """The numbers of the design, section 5; early rounding and g as ten are tried after rung 3, before rung 4."""
    rungs = {h.kind: h.rung for h in (*at("a", 1), *edits_at("a", 1))}
    assert rungs == {
        "right": 2, "carried": 3, "cut off": 3, "rounded early": 3, "power of ten": 4, "conversion": 4, "slip": 5,
        "slip carried": 5, "slip and power of ten": 5, "two slips": 6, "edit": 7, "two edits": 7, "each rounded": 3,
        "carried early": 3, "coarse constant": 3, "sign": 4, "slip and sign": 5, "rarer edit": 7, "digits": 7,
    }  # fmt: skip


# Factors.


def test_every_power_of_ten_has_its_own_factor_and_no_conversion() -> None:
    powers = {h.factor.power: h.factor for h in at("a") if h.kind == "power of ten"}
    assert sorted(powers) == sorted(POWERS)
    assert all(f.value == pytest.approx(float(f"1e{n}")) and not f.conversion for n, f in powers.items())
    with_slip = [h.factor for h in at("a") if h.kind == "slip and power of ten"]
    assert all(f.value == pytest.approx(float(f"1e{f.power}")) and not f.conversion for f in with_slip)
    by_slip = Counter(h.factor.power for h in at("a") if h.kind == "slip and power of ten")
    assert by_slip == dict.fromkeys(SLIP_POWERS, 2)  # both slips
    assert {4, 5, 9} <= set(SLIP_POWERS) < set(POWERS)


def test_a_factor_acts_on_the_number_in_the_unit_asked() -> None:
    """Ten times 20 °C is 200 °C, 473.15 K; ten times 20 kN is 200 kN."""
    assert Factor(10.0, 1).on(np.array([293.15]), "degC").tolist() == pytest.approx([473.15])
    assert Factor(10.0, 1).on(np.array([20_000.0]), "kN").tolist() == [200_000.0]


# By the constants of SciPy (CODATA and the yard and pound of 1959), beside NIST SP 811 which the source names;
# 9.81: common practice, no source.
KNOWN = [
    ("N", constants.g), ("N", 9.81), ("N", constants.lbf), ("kN", constants.g / 1_000), ("kPa", constants.psi / 1_000),
    ("MPa", constants.psi / 1_000_000), ("mm", constants.inch / constants.milli), ("m", constants.foot),
    ("deg", 1 / constants.degree), ("rad", constants.degree), ("s", constants.minute), ("h", constants.hour),
    ("day", 24), ("m/s", constants.knot), ("m/s", 1 / constants.kmh), ("mm/s", 60 / 1_000), ("1/min", constants.minute),
    ("rad/s", 2 * math.pi / constants.minute), ("W", 550 * constants.foot * constants.lbf), ("kg", constants.lb),
    ("kW", 0.55 * constants.foot * constants.lbf),
    ("kJ", 3_600),
]  # fmt: skip


@pytest.mark.parametrize(("of", "factor"), KNOWN)
def test_a_known_factor_may_be_forgotten_or_used_upside_down(of: str, factor: float) -> None:
    values = [value for _, value, _ in factors_for(of)]
    for wanted in (factor, 1 / factor):
        assert any(math.isclose(value, wanted, rel_tol=3e-6) for value in values), wanted


# How often beside the others: common practice, no source. Sizes as above, and SI Brochure 9th ed. (2019), table 8; the
# tons-force weigh 2000 and 2240 lb.
FORGOTTEN = [
    ("rad", 180 / math.pi, 1.0), ("rad", 200 / math.pi, 0.5), ("gon", math.pi / 200, 1.0),
    ("Pa", 1 / constants.psi, 1.0), ("Pa", 1 / (1_000 * constants.psi), 0.5), ("m", 1 / constants.inch, 1.0),
    ("m", 1 / constants.foot, 0.7), ("kg", 1 / constants.lb, 1.0), ("N", 1 / constants.lbf, 0.7),
    ("kN", constants.g, 1.0), ("kN", 1 / 9.81, 1.0), ("kN", 1_000 / constants.g, 1.0),
    ("s", 1 / constants.minute, 1.0), ("s", 1 / constants.hour, 1.0),
    ("s", 1 / constants.day, 0.5), ("m/s", 60.0, 1.0), ("m/s", 3.6, 1.0),
    ("m/s", 1 / constants.knot, 0.5), ("L/min", 1 / 60, 1.0), ("L/min", 0.06, 0.5), ("m^3/h", 1 / 3.6, 1.0),
    ("m^3/h", 1_000 / 60, 1.0), ("1/s", 60.0, 1.0), ("1/min", 1 / 60, 1.0), ("1/s", 60 / (2 * math.pi), 1.0),
    ("W", 1 / (550 * constants.foot * constants.lbf), 1.0), ("J", 1 / 3.6e6, 1.0), ("kN", 2 * constants.lbf, 0.2),
    ("kN", 2.24 * constants.lbf, 0.2), ("m/min", 1 / 60, 1.0),
]  # fmt: skip
EITHER_WAY = {constants.g, 1 / 9.81, 2 * constants.lbf, 2.24 * constants.lbf}


@pytest.mark.parametrize(("of", "factor", "weight"), FORGOTTEN)
def test_a_conversion_is_forgotten_as_often_as_its_unit_is_met_and_seldomer_used_upside_down(
    of: str, factor: float, weight: float
) -> None:
    upside_down = weight if factor in EITHER_WAY else weight * 0.3
    for wanted, share in ((factor, weight), (1 / factor, upside_down)):
        found = [w for _, value, w in factors_for(of) if math.isclose(value, wanted, rel_tol=3e-6)]
        assert found == [pytest.approx(share)], wanted


def test_of_two_units_with_one_factor_the_likelier_is_told() -> None:
    """Hours that are written as minutes are forgotten; seconds would have to be used upside down."""
    named = {f"{value:.4g}": (name, weight) for name, value, weight in factors_for("min")}
    assert named["60"] == ("second and minute", 1.0)
    assert named["0.01667"] == ("hour and minute", 1.0)


@pytest.mark.parametrize("of", ["Pa", "bar", "kN", "tonne", "mm", "h", "", "percent", "L/min", "W", "m^3/s"])
def test_no_factor_is_nearly_one_or_a_power_of_ten(of: str) -> None:
    """Such a factor would explain any number near the right one, or is a power of ten already."""
    tens = [math.log10(value) for _, value, _ in factors_for(of)]
    assert all(abs(ten) > 0.08 and abs(ten - round(ten)) > 1e-6 for ten in tens)


def test_a_pure_number_or_a_percentage_is_no_angle() -> None:
    assert factors_for("") == factors_for("percent") == ()
    assert {name for name, _, _ in factors_for("deg")} == {"radian and degree"}


def weighed(right: Method) -> Method:
    """A working with g in its line and in its result."""
    (line,) = right.steps
    lifted = replace(line, asked=replace(line.asked, tree=parse("m*g")))
    return replace(right, steps=(lifted,), final=replace(right.final, tree=parse("A_s/g")))


def trees_of(method: Method) -> tuple[str, str]:
    """Its line and its result as they are written."""
    return plain(method.steps[0].asked.tree), plain(method.final.tree)


def test_g_is_taken_as_ten_in_every_line_of_a_working() -> None:
    right = at("a")[0].method
    assert with_round_g(right) == right  # no g in a punched hole
    assert trees_of(with_round_g(weighed(right))) == ("m*10", "A_s/10")


def test_where_a_task_takes_another_g_the_usual_ones_are_right_too_and_ten_is_no_coarse_one() -> None:
    """9.81 and 9.8 m/s^2, as courses have it (common practice, no source); right is what follows with either."""
    (place,) = (p for p in places(HOLE, 3) if p.key == "a")
    right = weighed(at("a")[0].method)
    usual, other = (
        [h for h in hypotheses(place, [right], [], 0, Rules(g=Decimal(g))) if h.kind in ("other g", "coarse constant")]
        for g in ("9.81", "10")
    )
    assert [(h.kind, trees_of(h.method)) for h in usual] == [("coarse constant", ("m*10", "A_s/10"))]
    assert [(h.rung, h.verdict, h.marks, trees_of(h.method)) for h in other] == [
        (3, "right", Decimal(3), (f"m*{g}", f"A_s/{g}")) for g in ("9.81", "9.8")
    ]


def test_pi_taken_as_three_is_the_right_method_rounded_too_early() -> None:
    """A hole of 20 mm in a plate of 6 mm: 3 times 20 times 6 is 360 mm^2, by hand."""
    shear = Decimal(260)
    variant = HOLE.variant(tau=f"{shear} MPa", d="20 mm", t="6 mm")
    out = wm.mark(variant, {"a": f"{shear * 360 / 1000} kN"})["a"]
    assert (out.verdict, out.misconceptions) == ("rounded early", ())
    assert out.sure > 0.9


# Words.


def test_a_power_of_ten_is_said_in_words_and_which_way() -> None:
    assert [factor_text(n) for n in (1, -2, 3, 6, 9)] == [
        "ten times too large", "a hundred times too small", "a thousand times too large", "a million times too large",
        "a thousand million times too large",
    ]  # fmt: skip
    assert factor_text(-4) == "10^4 times too small"
    assert value_text(94_248.0, "kN") == "94.25\xa0kN"


@pytest.mark.parametrize(("hundredths", "text"), [(250, "2.5"), (300, "3"), (1000, "10"), (0, "0"), (25, "0.25")])
def test_marks_are_written_without_zeros_that_say_nothing(hundredths: int, text: str) -> None:
    assert str(plain_marks(hundredths)) == text


def test_a_slip_is_told_with_how_its_misconception_shows_and_one_that_has_none_with_what_was_asked() -> None:
    (place,) = (p for p in places(HOLE, 3) if p.key == "a")
    slip = next(h for h in at("a") if h.kind == "slip")
    (name,) = slip.method.misconceptions
    told = because(place, slip, HOLE, "94.2 kN", "113 kN")
    assert told.endswith(HOLE.misconceptions[name].shows)
    unknown = replace(slip, method=replace(slip.method, misconceptions=("of-another-bank",)))
    assert because(place, unknown, HOLE, "94.2 kN", "113 kN").endswith("that is not the punching force.")


def test_what_is_said_of_a_unit_names_the_unit_that_is_asked_and_a_pure_number_where_none_is() -> None:
    assert unit_sentence("kN", "") == "The number is right; write its unit, kN, beside it."
    assert unit_sentence("kN", "MPa") == "The number is right, but MPa cannot be the unit here; it is kN."
    assert unit_as_well_sentence("kN", "") == "Its unit, kN, is missing as well."
    assert unit_as_well_sentence("kN", "MPa") == "The unit is off as well: MPa cannot be the unit here; it is kN."
    assert (
        unit_as_well_sentence("", "MPa") == "The unit is off as well: MPa cannot be the unit here; it is a pure number."
    )
    assert unit_sentence("", "MPa") == "The number is right, but MPa cannot be the unit here; it is a pure number."
