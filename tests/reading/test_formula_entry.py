"""Formulas as students type them: a table of entries with what each must be read as, and why."""

import csv
from pathlib import Path

import pytest

from witnessmark.maths.formulas import Same, equal
from witnessmark.maths.printing.plain import plain
from witnessmark.maths.syntax import parse
from witnessmark.reading.formula.entry import read_formula
from witnessmark.reading.result import Certainty

CASES = Path(__file__).parents[1] / "cases" / "typed_formulas.csv"
LETTERS: dict[str, dict[str, str | tuple[str, ...]]] = {
    "shear": {"tau": ("τ", "shear strength"), "d": "d", "t": "t"},
    "many": {
        "tau": "τ", "d": "d", "t": "t", "D": "D", "F": "F", "sigma": "σ", "rho": "ρ", "v": "v", "r": "r", "m": "m",
        "g": "g", "h": "h", "theta": "θ", "A_s": "A_s", "L": "L", "E": "E", "p": "p", "material.shear_strength": "S",
    },
}  # fmt: skip
ASKED = {"shear": "F", "many": "Q"}


def rows() -> list[dict[str, str]]:
    with CASES.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.mark.parametrize("row", rows(), ids=lambda r: f"{r['entry']} ({r['reason']})")
def test_an_entry_is_read_as_the_table_says(row: dict[str, str]) -> None:
    reading = read_formula(row["entry"], LETTERS[row["letters"]], ASKED[row["letters"]])
    assert reading.certainty == row["certainty"], reading
    expected = [parse(text) for text in row["readings"].split(" | ") if text]
    assert len(reading.trees) == len(expected), [plain(t) for t in reading.trees]
    for tree, wanted in zip(reading.trees, expected, strict=True):
        assert equal(tree, wanted).same is Same.YES, plain(tree)


@pytest.mark.parametrize("row", rows(), ids=lambda r: r["entry"])
def test_every_reading_says_what_it_has_to(row: dict[str, str]) -> None:
    reading = read_formula(row["entry"], LETTERS[row["letters"]], ASKED[row["letters"]])
    assert bool(reading.stopped_at) == (reading.certainty is Certainty.UNREADABLE)
    assert bool(reading.reason) == (reading.certainty in (Certainty.UNREADABLE, Certainty.AMBIGUOUS))
    assert bool(reading.repairs) or reading.certainty is not Certainty.REPAIRED
    assert (reading.tree is None) == (reading.certainty in (Certainty.UNREADABLE, Certainty.BLANK))


def test_the_table_is_large_enough() -> None:
    assert len(rows()) >= 150


@pytest.mark.parametrize(
    ("entry", "place", "reason"),
    [
        ("π·d·q", 5, "“q” is not a letter of this question (τ, d, t, π)"),
        ("d²·q", 4, "“q” is not a letter of this question (τ, d, t, π)"),
        ("F = d t F", 9, "“F” is what is asked for; write it with the other letters"),
        ("d t)", 4, "this closing bracket has no opening one"),
        ("d+", 3, "the formula breaks off here"),
        ("d % t", 3, "“%” has no meaning in a formula"),
        ("d*/t", 3, "“/” was not expected here"),
        ("d^99", 3, "a power of at most 30 was expected"),
        ("τ = F", 1, ""),
        ("d t = t d", 6, "an equation stands here; write only what the result is equal to"),
        ("F = ", 5, "a formula was expected"),
        ("d*1e999", 3, "a number of ordinary size was expected"),
        ("2 3", 3, "a sign was expected before “3”"),
    ],
)
def test_where_reading_stopped_is_told_by_place_and_reason(entry: str, place: int, reason: str) -> None:
    reading = read_formula(entry, LETTERS["shear"], "F")
    if reason:
        assert (reading.stopped_at, reading.reason) == (place, reason)
    else:
        assert reading.tree == parse("tau")  # "τ = F" says that F is τ


@pytest.mark.parametrize(
    ("entry", "sentences"),
    [
        ("D t", ("“D” was read as d",)),
        ("0,5 d", ("“0,5” was read as 0.5",)),
        ("(d t", ("a bracket was open and was closed at the end",)),
        ("d.t", ("“.” was read as a sign of multiplication",)),
        ("Force = d t", ("“Force” was taken as your name for the result",)),
        ("F = d t = 94.2 kN", ("“94.2 kN” was left out, “d t” was read",)),
    ],
)
def test_a_repair_is_told_in_a_sentence(entry: str, sentences: tuple[str, ...]) -> None:
    assert read_formula(entry, LETTERS["shear"], "F").repairs == sentences


@pytest.mark.parametrize("text", ["3.14", "3.142", "3.14159", "22/7"])
def test_a_number_taken_as_pi_is_noted_and_no_repair(text: str) -> None:
    reading = read_formula(f"{text} d", LETTERS["shear"])
    assert (reading.notes, reading.repairs) == ((f"{text} was taken as π",), ())


def test_without_the_letter_asked_for_a_single_foreign_letter_names_the_result() -> None:
    reading = read_formula("F = d t", {"d": "d", "t": "t"})
    assert reading.tree == parse("d*t")
    assert reading.repairs == ("“F” was taken as your name for the result",)


def test_the_letter_asked_for_is_not_taken_for_a_small_letter_of_the_question() -> None:
    assert read_formula("F d", {"f": "f", "d": "d"}, "F").certainty is Certainty.UNREADABLE
    assert read_formula("F d", {"f": "f", "d": "d"}, "R").tree == parse("f*d")


def test_a_name_is_a_spelling_of_its_own() -> None:
    assert read_formula("2 width", {"width": "b"}).tree == parse("2*width")
    assert read_formula("2 b", {"width": "b"}).tree == parse("2*width")


@pytest.mark.parametrize(
    "spelling", ["shear strength", "shear_strength", "material.shear_strength", "Material shear strength"]
)
def test_a_cell_of_a_table_is_written_by_its_words(spelling: str) -> None:
    reading = read_formula(f"d * {spelling}", {"material.shear_strength": "", "d": "d"})
    assert reading.tree == parse("d*material.shear_strength")


def test_a_spelling_that_two_names_share_belongs_to_neither() -> None:
    cells = {"one.density": "", "two.density": ""}
    assert read_formula("density", cells).certainty is Certainty.UNREADABLE
    assert read_formula("one density / two density", cells).tree == parse("one.density/two.density")


@pytest.mark.parametrize("spelling", ["π", "pi", "PI", "3.14"])
def test_pi_may_stand_among_the_letters_of_the_question(spelling: str) -> None:
    assert read_formula(f"{spelling} d", {"pi": "", "d": "d"}).tree == parse("pi*d")


def test_a_case_that_fits_two_letters_is_not_guessed_at() -> None:
    assert read_formula("Ab", {"one": "ab", "other": "AB"}).certainty is Certainty.UNREADABLE


def test_letters_that_run_together_in_two_ways_keep_both_readings() -> None:
    reading = read_formula("abc", {"a": "a", "bc": "bc", "ab": "ab", "c": "c"})
    assert {plain(t) for t in reading.trees} == {"a*bc", "ab*c"}


def test_a_word_of_the_question_is_taken_before_its_letters() -> None:
    assert read_formula("pi", {"p": "p", "i": "i"}).tree == parse("pi")
    assert read_formula("dt", {"d": "d", "t": "t", "dt": "dt"}).tree == parse("dt")


def test_an_x_is_a_letter_where_the_question_has_one() -> None:
    assert read_formula("2 x", {"x": "x"}).tree == parse("2*x")


@pytest.mark.parametrize("spelling", ["ΔT", "DeltaT", "Delta_T", "Δ_T", "∆T"])
def test_a_change_is_written_in_many_ways(spelling: str) -> None:
    assert read_formula(f"2{spelling}", {"dT": ("ΔT", "Delta_T")}).tree == parse("2*dT")


@pytest.mark.parametrize("spelling", ["sigma_1", "σ_1", "σ1", "σ₁", "sigma1", "SIGMA_1"])
def test_an_index_is_written_in_many_ways(spelling: str) -> None:
    assert read_formula(f"2 {spelling}", {"sigma_1": "σ_1"}).tree == parse("2*sigma_1")


@pytest.mark.parametrize("text", ["√d2 t/2t", "√d2/1,000t^1/2 log t/2d"])  # 12 readings; more habits than are tried
def test_too_many_readings_at_once_are_not_guessed_at(text: str) -> None:
    reading = read_formula(text, {"d": "d", "t": "t"})
    assert reading.certainty is Certainty.UNREADABLE
    assert "too many ways" in reading.reason
