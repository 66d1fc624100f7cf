"""Laws of the reader that hold for everything that can be typed."""

import math
import time
from decimal import Decimal

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from reading.reading_cases import ALL, CASES
from searching import examples
from witnessmark.maths.quantities import from_si, unit
from witnessmark.reading.quantity.entries import read_quantity
from witnessmark.reading.unit.asked_unit import asked_unit, is_angle
from witnessmark.reading.unit.spellings import CASUAL, SPELLED, Spelled

FIFTY_MILLISECONDS = 0.050
HOSTILE = (CASES / "hostile_entries.txt").read_text(encoding="utf-8").splitlines()
ASKED = sorted({c.asked for c in ALL})
# Asked units over which all the dimensions of the whitelist are spread.
KINDS = (
    "m", "mm^2", "m^3", "kg", "s", "N", "Pa", "J", "W", "deg", "rpm", "Hz", "degC", "A", "V", "Ω", "C", "F", "H", "S",
    "m/s", "Pa*s", "m^2/s", "percent", "", "mol", "kN/m", "kg/m^3", "1/K", "W/(m*K)", "N*m*s", "m*K",
)  # fmt: skip


def right_signs(row: Spelled) -> list[tuple[str, str]]:
    """Every right sign of a row with its unit's name."""
    return [(prefix + sign, prefix + row.unit) for prefix in ("", *row.prefixes) for sign in row.signs]


SIGNS = [pair for row in SPELLED for pair in right_signs(row)]


def kind(name: str) -> tuple[object, int]:
    asked = asked_unit(name)
    return asked.dimension, asked.angle


OF_ONE_KIND = [
    (sign, name, asked)
    for sign, name in SIGNS
    for asked in sorted({n for _, n in SIGNS})
    if kind(name) == kind(asked) and not (sign == "nm" and unit(asked).scale >= 100)  # there, a nautical mile
]


@pytest.mark.parametrize(("sign", "name"), SIGNS, ids=[s for s, _ in SIGNS])
def test_a_right_sign_is_certain_and_of_the_scale_of_the_unit_list(sign: str, name: str) -> None:
    reading = read_quantity(f"2.5 {sign}", name)
    assert reading.certainty == "certain"
    (candidate,) = reading.readings
    assert candidate.si == pytest.approx(2.5 * unit(name).scale + unit(name).offset, rel=1e-13)


@pytest.mark.parametrize(("sign", "name"), SIGNS, ids=[s for s, _ in SIGNS])
def test_a_right_sign_of_one_dimension_is_never_repaired_into_another(sign: str, name: str) -> None:
    loose = {text for row in SPELLED for text in row.loose}
    if sign in CASUAL | loose | {"°", "deg"} or (len(sign) == 1 and sign.isupper()):
        return  # people use these for something else: kn, nm, C, F, S, H, lb, and 43° for a temperature
    for asked in KINDS:
        for candidate in read_quantity(f"2.5 {sign}", asked).readings:
            if candidate.dimension_fits and not {"rev", "rpm", "Hz"} & {name, *candidate.unit.split("/")}:
                assert unit(candidate.unit).dimension == unit(name).dimension, (asked, candidate)


@given(st.sampled_from(SIGNS), st.data())
@examples(300)
def test_other_capitals_never_change_the_dimension(pair: tuple[str, str], data: st.DataObject) -> None:
    sign, name = pair
    capitals = data.draw(st.lists(st.booleans(), min_size=len(sign), max_size=len(sign)))
    typed = "".join(c.upper() if up else c.lower() for c, up in zip(sign, capitals, strict=True))
    assume(len(typed) == len(sign))
    for asked in (name, data.draw(st.sampled_from(KINDS))):
        for candidate in read_quantity(f"2.5 {typed}", asked).readings:
            if candidate.dimension_fits:
                assert unit(candidate.unit).dimension == unit(asked).dimension


@given(st.sampled_from(OF_ONE_KIND), st.decimals(-10_000, 10_000, places=3))
@examples(400)
def test_a_value_is_the_same_in_any_unit_of_its_dimension(pair: tuple[str, str, str], number: Decimal) -> None:
    sign, name, asked_name = pair
    readings = read_quantity(f"{number} {sign}", asked_name).readings
    expected = float(number) * unit(name).scale + unit(name).offset
    fitting = [c.si for c in readings if c.dimension_fits]
    assert any(si == pytest.approx(expected, rel=1e-12, abs=1e-30) for si in fitting)


@given(
    st.floats(allow_nan=False, allow_infinity=False, min_value=-1e200, max_value=1e200), st.sampled_from(["", "e", "g"])
)
def test_a_printed_float_is_read_back_exactly(x: float, form: str) -> None:
    assume(x == 0 or abs(x) > 1e-200)
    text = f"{x:.17{form}}" if form else repr(x)
    (candidate,) = read_quantity(f"{text} kN", "kN").readings
    assert candidate.digits == Decimal(text)
    assert float(candidate.digits) == x


@given(st.decimals(-(10**9), 10**9, places=2), st.sampled_from([" ", "\u00a0", "\u202f", "\u2009", "'", ","]))
def test_a_grouped_number_is_read_back_exactly(x: Decimal, mark: str) -> None:
    text = f"{x:,.2f}".replace(",", mark)
    (candidate,) = read_quantity(f"{text} N", "kN").readings
    assert candidate.digits == x


@given(st.integers(-(10**12), 10**12))
def test_a_whole_number_grouped_by_commas_keeps_its_value_among_the_readings(x: int) -> None:
    readings = read_quantity(f"{x:,} N", "kN").readings
    assert readings[0].digits == x
    assert len(readings) == 1 or abs(x) < 10**6


@given(
    st.decimals(1, 9, places=3),
    st.integers(-12, 12),
    st.sampled_from(["×10^{}", " x 10^{}", "*10**{}", "e{}", "·10^({})"]),
)
def test_powers_of_ten_by_hand_are_read_back_exactly(x: Decimal, power: int, form: str) -> None:
    (candidate,) = read_quantity(f"{x}{form.format(power)} N", "N").readings
    assert candidate.digits == x.scaleb(power)


def assert_sound(text: str, asked: str) -> None:
    """Never raises, never slow, never a value that is not finite; what is read agrees with itself."""
    started = time.process_time()
    reading = read_quantity(text, asked)
    took = time.process_time() - started
    if took > FIFTY_MILLISECONDS:  # garbage may have been collected in between
        started = time.process_time()
        read_quantity(text + " ", asked)
        took = time.process_time() - started
    assert took <= FIFTY_MILLISECONDS
    for c in reading.readings:
        assert math.isfinite(c.si)
        assert math.isfinite(float(c.digits))
        assert 1 <= c.least_figures <= c.figures <= c.most_figures
        assert c.si == float(c.digits) * c.scale + c.offset
        assert from_si(c.si, c.read_in) == pytest.approx(float(c.digits), rel=1e-9, abs=1e-9)
        assert not c.dimension_fits or unit(c.read_in).dimension == unit(asked).dimension
    assert (reading.certainty in {"blank", "unreadable"}) == (not reading.readings)
    assert (reading.certainty == "unreadable") == bool(reading.reason)


@given(st.text(), st.sampled_from(ASKED))
@examples(300)
def test_any_text_is_read_soundly(text: str, asked: str) -> None:
    assert_sound(text, asked)


SIGNS_OF_QUANTITIES = "0123456789.,'- +eExX×·*/^²³⁴⁻µΩ°kNmMPaJWhsgKlLtrdC()[]=~≈:½π_#\u0667\u041e\u041a\u00a0"


@given(st.text(SIGNS_OF_QUANTITIES), st.sampled_from(ASKED))
@examples(600)
def test_any_text_of_the_signs_of_quantities_is_read_soundly(text: str, asked: str) -> None:
    assert_sound(text, asked)


ENTRIES = st.sampled_from([c.entry for c in ALL])


@given(ENTRIES, ENTRIES, st.integers(0, 12), st.integers(0, 12), st.sampled_from(ASKED))
@examples(300)
def test_pieces_of_known_entries_put_together_are_read_soundly(a: str, b: str, i: int, j: int, asked: str) -> None:
    assert_sound(a[:i] + b[j:], asked)


LONG = [
    pattern * (10_000 // len(pattern))
    for pattern in (
        "1", "9", "1,", "1 ", "1.000,", "a", "kN ", "1 kN or ", "(", "((1)", "=1", "10^", "1e", "-", "1/", "°", "m N ",
        "π", "O", "l0", "½", "²", "٧", "mmN", "per ", "sq ", "x10^4 ", "\u200b", "\ud800", " ", "\n", "F = ", "approx ",
        "1'", "1\"",
    )
]  # fmt: skip


@pytest.mark.parametrize("text", LONG, ids=lambda x: ascii(x[:12]))
def test_ten_thousand_characters_take_less_than_fifty_milliseconds(text: str) -> None:
    for asked in ("kN", "deg", "W/(m*K)"):
        assert_sound(text, asked)


@pytest.mark.parametrize("text", HOSTILE)
def test_the_hostile_corpus_is_read_soundly(text: str) -> None:
    for asked in ("kN", "mm^2", "deg", ""):
        assert_sound(text, asked)


@pytest.mark.parametrize("text", ["lambda: 70", "0o106 kN", "' OR '1'='1", "70!", "F' = 70"])
def test_harmless_text_around_a_number_is_read_soundly(text: str) -> None:
    assert_sound(text, "kN")


@pytest.mark.parametrize("text", HOSTILE)
def test_nothing_of_the_hostile_corpus_becomes_a_certain_answer(text: str) -> None:
    assert read_quantity(text, "kN").certainty in {"blank", "unreadable"}


def test_angles_are_told_from_numbers() -> None:
    assert [is_angle(name) for name in ("rad", "mrad", "rpm", "mm", "percent")] == [True, True, True, False, False]
