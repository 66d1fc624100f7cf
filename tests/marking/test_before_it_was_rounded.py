"""Results go on as they stood on the calculator, not only as they were typed. Every number is worked by hand beside its
test."""

import pytest

import witnessmark as wm
from bank_fixture import BANK
from marking.students import marked

BOOM = BANK["boom-lift"].variant(L="1.6 m", theta="28 deg", m="70 kg")
WINDLASS = BANK["windlass-motor"].variant(F="1550 N", v="14 m/min", eta="35 percent", U="23 V")
TANK = BANK["water-tank"].variant(l="1.6 m", w="0.65 m", h="0.35 m", rho="1000 kg/m^3")
QUENCH = BANK["quench-water"].variant(
    m_1="1 kg", T_1="80 degC", c_1="380 J/(kg*K)", m_2="1 kg", T_2="20 degC", c_2="4180 J/(kg*K)"
)


def test_a_right_result_of_which_only_the_line_before_was_rounded_goes_on_unrounded() -> None:
    # The arm 1.6 m cos 28 deg = 1.4127 m is kept as 1.41 m: 70 kg x 9.81 x 1.41 m = 968.25 N m, typed 968; over the
    # slant of 1.6 m it is 605.2 N, typed 10^9 times too small.
    out = wm.mark(BOOM, {"a": "968 N*m", "b": "6.052*10^-7 N"})["b"]
    assert (out.verdict, out.misconceptions) == ("slip", ("slant-for-arm",))
    assert "The power of ten is off as well" in out.because


def test_a_right_result_worked_from_one_that_was_typed_goes_on_unrounded() -> None:
    # 1550 N x 14 m/min = 361.67 W, typed and gone on with as 362 W; over 0.35 it is 1034.29 W, typed 1030 W; 23 V over
    # that is 0.0222376, typed 10^5 times too small.
    out = wm.mark(WINDLASS, {"a": "362 W", "b": "1030 W", "c": "2.22376e-7 A"})["c"]
    assert (out.verdict, out.misconceptions) == ("slip", ("current-upside-down",))
    assert out.sure > 0.7


def test_a_wrong_result_goes_on_as_the_method_gives_it_that_was_named_for_it() -> None:
    # With g = 9.8 m/s^2 half the pressure is 1715 Pa, typed 1.72 kPa; on 1.6 m x 0.65 m it is 1.7836 kN. Half of the
    # right pressure would give the same force: but half of it stands there already.
    out = wm.mark(TANK, {"a": "1.72 kPa", "b": "1.78360 kN"})
    assert (out["a"].verdict, out["a"].misconceptions) == ("slip", ("mean-pressure-on-the-bottom",))
    assert (out["b"].verdict, out["b"].marks) == ("carried forward", out["b"].out_of)


def test_half_the_pressure_where_the_right_one_stands_before_it_is_still_a_slip() -> None:
    # 1000 kg/m^3 x 9.81 m/s^2 x 0.35 m = 3.4335 kPa; half of it on 1.04 m^2 is 1.78542 kN.
    out = wm.mark(TANK, {"a": "3.43 kPa", "b": "1.78542 kN"})["b"]
    assert (out.verdict, out.misconceptions) == ("slip", ("mean-pressure-on-the-bottom",))


def test_two_slips_each_of_another_dimension_that_together_have_the_right_one_are_named() -> None:
    # k dT t for k A dT / t: 0.03 W/(m K) x 25 K x 0.04 m = 0.0300 W.
    box = BANK["cool-box"].variant(k="0.03 W/(m*K)", A="1.2 m^2", dT="25 K", t="40 mm")
    out = wm.mark(box, {"a": "0.0300 W"})["a"]
    assert (out.verdict, set(out.misconceptions)) == ("two slips", {"thicker-lets-more-in", "area-left-out-of-heat"})


@pytest.mark.parametrize("entry", ["2.50 °C", "250 °C", "0.250 °C"])
def test_a_power_of_ten_of_a_temperature_is_one_of_the_number_on_its_scale(entry: str) -> None:
    # (380 x 80 + 4180 x 20) / (380 + 4180) = 25.0 °C.
    out = wm.mark(QUENCH, {"a": entry})["a"]
    assert (out.verdict, out.misconceptions) == ("power of ten", ())


def test_a_sign_lost_from_a_temperature_is_one_of_the_number_on_its_scale() -> None:
    assert wm.mark(QUENCH, {"a": "-25.0 °C"})["a"].verdict == "sign"


def test_a_slip_with_a_power_of_ten_of_a_temperature_is_named() -> None:
    # (4180 x 80 + 380 x 20) / (380 + 4180) = 75.0 °C, each mass with the specific heat of the other.
    out = wm.mark(QUENCH, {"a": "7.50 °C"})["a"]
    assert (out.verdict, out.misconceptions) == ("slip", ("heats-swapped",))
    assert "The power of ten is off as well" in out.because


@pytest.mark.parametrize("entry", ["25.0 °C", "250 °C", "2.50 °C", "298.15 K"])
def test_a_temperature_without_its_power_of_ten_is_what_later_parts_go_on_with(entry: str) -> None:
    # 25.0 °C is 298.15 K, whatever power of ten the number on the scale was typed with.
    (mended,) = marked([QUENCH], [{"a": entry}]).numbers["a"].mended
    assert mended == pytest.approx(298.15)
