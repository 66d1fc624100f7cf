"""Strangers' own arithmetic: expressions and units by hand, and every right result against the bank's own working."""

import math

import pytest

from bank_fixture import BANK
from witnessmark.jobs.trying import paper
from witnessmark.strangers.arithmetic import both_sides_alike, names_in, read, text_of, with_names, work
from witnessmark.strangers.scales import from_base, scale, to_base
from witnessmark.strangers.working import base_names, result, right_way, rounded
from witnessmark.trial.judging import as_printed


@pytest.mark.parametrize(
    ("text", "value"),
    [("2 + 3*4", 14), ("2*(d/2)**2", 8), ("-d**2/4", -4), ("sqrt(d)*atan2(1, 1)", math.pi / 2), ("max(d, 7)", 7)],
)
def test_an_expression_is_worked_as_written(text: str, value: float) -> None:
    assert work(read(text), {"d": 4}) == pytest.approx(value)


@pytest.mark.parametrize("text", ["1/(d - 4)", "sqrt(-d)", "missing*2", "asin(d)"])
def test_what_has_no_number_is_none(text: str) -> None:
    assert math.isnan(work(read(text), {"d": 4}))


def test_other_expressions_can_stand_in_the_place_of_names() -> None:
    tree = with_names(read("F/(n*A)"), {"A": read("pi*d**2/4"), "F": read("m.w")})
    assert text_of(tree) == "m.w / (n * (pi * d ** 2 / 4))"
    assert names_in(tree) == {"m.w", "n", "pi", "d"}


def test_two_expressions_are_alike_where_they_are_one_function_but_for_a_power_of_ten() -> None:
    assert both_sides_alike(read("F/(a*b)"), read("100*F/b/a"))
    assert not both_sides_alike(read("F/(a*b)"), read("F/(a + b)"))


# NIST SP 811 (2008), Appendix B.8; SI Brochure 9th ed. (2019) for the minute, the hour and the degree
@pytest.mark.parametrize(
    ("unit", "size"),
    [
        ("psi", 6894.757), ("kgf", 9.80665), ("inch", 0.0254), ("hp", 745.6999), ("ft", 0.3048), ("lbf", 4.448222),
        ("deg", 0.01745329), ("h", 3600), ("L/min", 1e-3 / 60), ("N/mm^2", 1e6), ("J/(kg*K)", 1), ("µm/(m*K)", 1e-6),
        ("ohm*mm^2/m", 1e-6), ("cm^4", 1e-8), ("1/min", 1 / 60), ("A*h", 3600),
    ],
)  # fmt: skip
def test_a_unit_has_its_published_size(unit: str, size: float) -> None:
    assert scale(unit).size == pytest.approx(size, rel=1e-6)


def test_a_temperature_has_its_zero() -> None:
    assert (to_base(20, "degC"), from_base(293.15, "degC")) == pytest.approx((293.15, 20))


def test_in_millimetres_stress_and_force_are_counted_in_megapascals_and_newtons() -> None:
    assert (scale("MPa").in_millimetres, scale("N").in_millimetres, scale("m").in_millimetres) == pytest.approx(
        (1, 1, 1000)
    )


@pytest.mark.parametrize(
    ("number", "figures", "cut", "kept"),
    [
        (2.345, 3, False, 2.35),
        (2.345, 3, True, 2.34),
        (0.0996, 2, False, 0.10),
        (12345, 2, False, 12000),
        (7, 0, True, 7),
    ],
)
def test_people_round_halves_up_or_cut_digits_off(number: float, figures: int, *, cut: bool, kept: float) -> None:
    assert rounded(number, figures, cut=cut) == pytest.approx(kept, rel=1e-12)


@pytest.mark.parametrize("key", list(BANK))
def test_strangers_get_the_right_results_of_every_question_by_their_own_arithmetic(key: str) -> None:
    variant = BANK[key].draw("strangers")
    names = base_names(as_printed(variant))
    for asked in paper(BANK[key]).asked:
        names[asked.name] = result(asked, right_way(asked), names)
        assert names[asked.name] == pytest.approx(variant.expected_si[asked.key], rel=1e-9), asked.key
