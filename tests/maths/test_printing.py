"""Formulae as they are printed: nothing reordered, brackets where the meaning needs them, words that say the same."""

import json
import math
import re
from collections.abc import Mapping
from decimal import Decimal
from pathlib import Path
from xml.etree import ElementTree as ET

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from maths.read_pieces import hair_of, value_of_pieces
from searching import examples
from witnessmark.maths.compiled import compiled
from witnessmark.maths.printing.mathml import mathml
from witnessmark.maths.printing.numbers import quantity_text, shown_number
from witnessmark.maths.printing.pieces import (
    EQUALS,
    Amount,
    Fenced,
    Power,
    amount,
    formula,
    letter,
    row,
    substituted_formula,
)
from witnessmark.maths.printing.plain import plain
from witnessmark.maths.printing.sentence import in_sentence
from witnessmark.maths.printing.spoken import spoken
from witnessmark.maths.printing.symbols import Symbol, symbol_of
from witnessmark.maths.printing.typst import typst_equation
from witnessmark.maths.printing.unit_names import LONG_NAMES
from witnessmark.maths.printing.units import unit_signs, unit_text, unit_words
from witnessmark.maths.quantities import UNITS_FILE, registry
from witnessmark.maths.syntax import FUNCTIONS, STEPS, Binary, Call, Comparison, Minus, Name, Number, Tree, parse, walk

CASES = Path(__file__).parents[1] / "cases"
VALUES = {"a": 1.3, "b": 2.7, "tau": 0.6, "A_s": 3.1, "plate.t": 4.7}


def table(name: str) -> list[list[str]]:
    """Rows of a case file: cells parted by ` | `, comments and empty lines left out."""
    lines = (CASES / name).read_text(encoding="utf-8").splitlines()
    return [[cell.strip() for cell in line.split(" | ")] for line in lines if line.strip() and line[0] != "#"]


def spaced(text: str) -> str:
    """Text with every kind of space as a plain one, as the case files have it."""
    return text.replace("\u202f", " ").replace("\u00a0", " ")


def trees() -> st.SearchStrategy[Tree]:
    """Any expression that an author can write, without comparison."""
    numbers = st.sampled_from(["2", "3", "0.5", "1e-05", "12500"]).map(Number)
    names = st.sampled_from(sorted(VALUES)).map(Name)
    return st.recursive(st.one_of(numbers, names), _larger, max_leaves=12)


def _larger(inner: st.SearchStrategy[Tree]) -> st.SearchStrategy[Tree]:
    operators = st.sampled_from(["+", "-", "*", "/", "**"])
    one = st.sampled_from([f for f, count in FUNCTIONS.items() if count == 1])
    two = st.sampled_from([f for f, count in FUNCTIONS.items() if count == 2])
    return st.one_of(
        st.builds(Minus, inner),
        st.builds(Binary, operators, inner, inner),
        st.builds(Call, one, st.tuples(inner)),
        st.builds(Call, two, st.tuples(inner, inner)),
    )


def comparisons() -> st.SearchStrategy[Tree]:
    """A comparison of two expressions."""
    return st.builds(Comparison, st.sampled_from(["<", "<=", ">", ">="]), trees(), trees())


@given(st.one_of(trees(), comparisons()))
def test_the_plain_text_of_a_formula_reads_back_to_the_same_tree(tree: Tree) -> None:
    assert parse(plain(tree)) == tree


@given(st.one_of(trees(), comparisons()))
def test_mathml_is_well_formed_xml_without_named_entities(tree: Tree) -> None:
    text = mathml(formula(tree), block=True)
    root = ET.fromstring(text)
    assert root.tag == "{http://www.w3.org/1998/Math/MathML}math"
    assert root.get("alttext")
    assert set(re.findall(r"&(\w+);", text)) <= {"lt", "gt", "amp", "quot"}


@given(st.one_of(trees(), comparisons()))
def test_what_goes_to_typst_is_json_with_words_for_it(tree: Tree) -> None:
    equation = typst_equation(formula(tree))
    assert json.loads(json.dumps(equation)) == equation
    assert equation["alt"]


def test_a_power_of_a_power_of_a_sine_keeps_both() -> None:
    once, twice = formula(parse("sin(2)**2")), formula(parse("(sin(2)**2)**3"))
    assert twice == Power(Fenced(once), formula(parse("3")))
    assert value_of_pieces(twice, {}) == pytest.approx(math.sin(2) ** 6)


@examples(400)
@given(trees())
def test_the_brackets_that_are_printed_keep_the_value(tree: Tree) -> None:
    """A second reader works out the printed pieces as a person would: by the sign of each and the brackets alone."""
    assert value_of_pieces(formula(tree), VALUES) == pytest.approx(settled_value(tree, VALUES), rel=1e-6)


@examples(400)
@given(trees())
def test_numbers_put_for_names_keep_the_value(tree: Tree) -> None:
    amounts = {name: amount(value) for name, value in VALUES.items()}
    found = value_of_pieces(substituted_formula(tree, amounts), {})
    assert found == pytest.approx(settled_value(tree, VALUES), rel=1e-6)


@examples(400)
@given(trees())
def test_negative_numbers_put_for_names_keep_the_value(tree: Tree) -> None:
    negative = {name: -value for name, value in VALUES.items()}
    amounts = {name: amount(value) for name, value in negative.items()}
    found = value_of_pieces(substituted_formula(tree, amounts), {})
    assert found == pytest.approx(settled_value(tree, negative), rel=1e-6)


def settled_value(tree: Tree, values: Mapping[str, float]) -> float:
    """The value of the tree itself, by numpy, which knows nothing of printing.

    Examples are passed over where a step has no value, or where a hair's change of the numbers changes the result much:
    there two orders of the same sum differ by rounding. So they are where what is rounded up or down is about as far
    from a whole number as what counts for whole.
    """
    known, moved = values_of(values), values_of({name: v * (1 + SHAKE) for name, v in values.items()})
    for step in walk(tree):
        assume(1e-100 < abs(float(compiled(step)(known))) < 1e100)
        if isinstance(step, Call) and step.function in STEPS:
            argument = float(compiled(step.arguments[0])(known))
            assume(not 0.1 < abs(argument - round(argument)) / hair_of(argument) < 10)
    value, shaken = float(compiled(tree)(known)), float(compiled(_shaken(tree))(moved))
    assume(abs(shaken - value) < 1e-3 * abs(value))
    return value


SHAKE = 1e-9


def values_of(values: Mapping[str, float]) -> dict[str, np.float64]:
    """The values as numpy takes them, so that a division by nought is not an exception."""
    return {name: np.float64(value) for name, value in values.items()}


def _shaken(tree: Tree) -> Tree:
    match tree:
        case Number(text=text):
            return Binary("*", tree, Number(str(1 + SHAKE * (1 + len(text)))))
        case Minus(of=of):
            return Minus(_shaken(of))
        case Binary(op=op, left=left, right=right):
            return Binary(op, _shaken(left), _shaken(right))
        case Call(function=function, arguments=arguments):
            return Call(function, tuple(_shaken(a) for a in arguments))
    return tree


@pytest.mark.parametrize(("text", "words"), table("spoken_formulae.txt"))
def test_a_formula_is_read_aloud_in_the_order_in_which_it_was_written(text: str, words: str) -> None:
    assert spoken(formula(parse(text))) == words


@pytest.mark.parametrize(("value", "figures", "printed"), table("printed_numbers.txt"))
def test_a_number_is_printed_with_its_figures_and_no_others(value: str, figures: str, printed: str) -> None:
    count = int(figures) if figures != "-" else None
    assert spaced(shown_number(Decimal(value), count)) == printed
    if "E" not in value:
        assert spaced(shown_number(float(value), count)) == printed


def test_a_number_that_is_not_finite_is_not_printed() -> None:
    with pytest.raises(ValueError, match="nan"):
        shown_number(math.nan)


@given(st.decimals(allow_nan=False, allow_infinity=False, min_value=-(10**12), max_value=10**12))
def test_a_number_printed_in_full_reads_back_to_itself(value: Decimal) -> None:
    digits, _, power = spaced(shown_number(value)).replace("−", "-").replace(" ", "").partition("×10")
    exponent = power.translate(str.maketrans("⁻⁰¹²³⁴⁵⁶⁷⁸⁹", "-0123456789"))
    assert Decimal(f"{digits}e{exponent or 0}") == value


@pytest.mark.parametrize(("unit", "printed", "words"), table("printed_units.txt"))
def test_a_unit_is_printed_upright_with_raised_powers_and_spoken_in_full(unit: str, printed: str, words: str) -> None:
    assert (unit_text(unit), unit_words(unit)) == (printed, words)


@pytest.mark.parametrize("unit", ["N/mm^2", "kN*m", "W/m^2", "kg/m^3", "mm^4", "J/K", "m/s^2", "MPa", "kJ", "rad/s"])
def test_printed_units_are_those_of_pint(unit: str) -> None:
    """Reference: pint's pretty format; its sign for a product is a dot operator from 0.26, a middle dot before."""
    assert unit_text(unit) == f"{registry().Unit(unit):~P}".replace("\u22c5", "\u00b7")


def test_every_unit_of_the_unit_file_has_a_sign_and_a_spoken_name() -> None:
    lines = UNITS_FILE.read_text(encoding="utf-8").splitlines()
    names = {line.split("=")[0].strip() for line in lines if "=" in line and not line.startswith("#")}
    differences = {f"delta_{name}" for name in names}  # of a unit with an offset, which pint makes by itself
    assert {name for name in names if not name.endswith("-")} == LONG_NAMES.keys() - differences


def test_a_text_that_is_no_unit_is_refused() -> None:
    with pytest.raises(ValueError, match="is not a unit text"):
        unit_signs("N;mm")


def test_a_value_and_its_unit_stay_together_on_one_line() -> None:
    assert quantity_text(Decimal("0.5"), "mm") == "0.5\u00a0mm"
    assert quantity_text(30, "deg") == "30°"
    assert quantity_text(20, "degC") == "20\u00a0°C"
    assert quantity_text(3, "") == "3"


@pytest.mark.parametrize(
    ("text", "symbol"),
    [
        ("tau", Symbol("τ")),
        ("σ", Symbol("σ")),
        ("A_s", Symbol("A", "s")),
        ("t_min", Symbol("t", "min")),
        ("d1", Symbol("d", "1")),
        ("sigma_1", Symbol("σ", "1")),
        ("σ₁", Symbol("σ", "1")),
        ("Delta_T", Symbol("T", change=True)),
        ("ΔT", Symbol("T", change=True)),
        ("Delta_T_max", Symbol("T", "max", change=True)),
        ("EI", Symbol("EI")),
        ("plate.shear_strength", Symbol("shear strength", "plate", is_cell=True)),
    ],
)
def test_a_name_becomes_its_symbol(text: str, symbol: Symbol) -> None:
    assert symbol_of(text) == symbol


def test_a_single_letter_slopes_and_several_stand_upright() -> None:
    slopes = {name: symbol_of(name).slopes for name in ("d", "tau", "EI", "pi")}
    assert slopes == {"d": True, "tau": True, "EI": False, "pi": False}


def test_a_stated_symbol_wins_over_the_name() -> None:
    assert spoken(formula(parse("strength*A_s"), {"strength": "τ"})) == "tau times A sub s"


def test_a_cell_of_a_drawn_row_is_told_in_words_in_a_sentence_and_when_spoken() -> None:
    tree = parse("bar.yield_strength/sigma")
    assert in_sentence(tree) == "yield strength of the bar / σ"
    assert spoken(formula(tree)).startswith("yield strength of the bar")


def test_numbers_stand_in_the_places_of_their_names() -> None:
    amounts = {"tau": amount(300, "MPa"), "d": amount(20, "mm"), "t": amount(5, "mm")}
    numbers = substituted_formula(parse("tau*pi*d*t"), amounts)
    assert spoken(row(letter("F"), EQUALS, numbers)) == (
        "F equals 300 megapascals times pi times 20 millimetres times 5 millimetres"
    )


def test_a_hostile_symbol_stays_text_in_mathml() -> None:
    text = mathml(formula(parse("a"), {"a": '<script>"&'}))
    assert "<script" not in text
    assert ET.fromstring(text).findtext(".//{*}mi") == '<script>"&'


def test_a_power_of_ten_is_set_as_a_power() -> None:
    text = mathml(Amount(amount(1.2e-5).digits, "1/K"))
    root = ET.fromstring(text)
    assert [e.text for e in root.iter() if e.tag.endswith("}mn")] == ["1.2", "10", "−5", "−1"]
