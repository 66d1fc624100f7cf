"""What authors of other subjects want to say: each said, asked and marked through the public door, or refused."""

import math
from pathlib import Path

import numpy as np
import pytest

import witnessmark as wm
from bank_cases import problems_of
from witnessmark.documents.kinds.dispatch import manner_of
from witnessmark.questions.drawable import DrawableQuestion
from witnessmark.questions.drawing.separation import clear_counts

MISCONCEPTIONS = "".join(
    f"{key}: {{believes: B, shows: S, say: Look.}}\n" for key in ("not-whole", "too-few", "natural")
)
ROLLS = (
    "W: {is: length, unit: m, from: 5, to: 30, step: 0.5}",
    "w: {is: width, unit: m, from: 0.5, to: 1.4, step: 0.05}",
)
LENGTHS = (
    "p: {is: one, unit: mm, from: 10.05, to: 20.95, step: 0.05}",
    "q: {is: other, unit: mm, from: 1, to: 30, step: 0.5}",
)
COUNT = """\
  a:
    {ask: How many, is: rolls, symbol: n, unit: number, answer: round_up(W/w), marks: 2, slips: [
    {misconception: not-whole, answer: W/w, keeps: 1}, {misconception: too-few, answer: round_down(W/w), keeps: 1}]}
  b: {ask: What is left, is: rest, unit: m, answer: n*w - W, carries: [a], marks: 1}
"""


def written(folder: Path, given: tuple[str, ...], find: str) -> Path:
    """A bank of one question."""
    (folder / "t").mkdir()
    (folder / "misconceptions.yaml").write_text(MISCONCEPTIONS)
    told = "\n".join(f"  {line}" for line in given)
    text = f"question: q\ntitle: T\ntopic: t\nlevel: 1\nsetting: S\ngiven:\n{told}\nfind:\n{find}\n"
    (folder / "t" / "q.yaml").write_text(text, encoding="utf-8")
    return folder


def question(folder: Path, given: tuple[str, ...], find: str) -> DrawableQuestion:
    """The same, loaded."""
    return wm.load_bank(written(folder, given, find))["q"]


def test_a_count_is_right_as_a_whole_number_and_the_forgotten_rounding_is_named(tmp_path: Path) -> None:
    asked = question(tmp_path, ROLLS, COUNT)
    for seed in ("A01", "A02", "A03"):
        variant = asked.draw(seed)
        exact = variant.values["W"] / variant.values["w"]
        count = math.ceil(round(exact, 6))
        told = {
            text: wm.mark(variant, {"a": text})["a"]
            for text in (str(count), f"{exact:.4g}", str(count - 1), str(count + 1))
        }
        right, exact_told, less, more = told.values()
        assert right.verdict is wm.Verdict.RIGHT, told
        assert right.marks == 2, told
        assert exact_told.marks == less.marks == 1, told
        assert exact_told.misconceptions == ("not-whole",), told
        assert less.misconceptions == ("too-few",), told
        assert more.marks == 0, told


def test_a_count_beyond_the_figures_asked_is_right_to_the_last_one(tmp_path: Path) -> None:
    given = ("W: {is: length, unit: m, from: 1200.3, to: 1890.3, step: 1}", "w: {is: width, unit: m, one of: [0.97]}")
    find = "  a: {ask: How many, is: pieces, unit: number, answer: round_up(W/w), marks: 1}"
    asked = question(tmp_path, given, find)
    variant = asked.draw("A01")
    count = round(float(variant.expected_si["a"]))
    assert count > 1000
    assert wm.mark(variant, {"a": str(count)})["a"].verdict is wm.Verdict.RIGHT
    assert wm.mark(variant, {"a": str(count + 2)})["a"].verdict is not wm.Verdict.RIGHT


def test_a_count_of_whole_steps_is_not_one_more_by_binary_arithmetic(tmp_path: Path) -> None:
    """6/0.1 is 60.00000000000001 in doubles, and 60 pieces."""
    asked = question(tmp_path, ROLLS, "  a: {ask: How many, is: rolls, unit: number, answer: round_up(W/w), marks: 1}")
    assert asked.variant(W="6 m", w="0.1 m").expected_si["a"] == 60
    assert asked.variant(W="6.01 m", w="0.1 m").expected_si["a"] == 61


def test_a_wrong_count_is_carried_forward(tmp_path: Path) -> None:
    variant = question(tmp_path, ROLLS, COUNT).variant(W="21.5 m", w="0.95 m")
    outcomes = wm.mark(variant, {"a": "24", "b": "1.3 m"})
    assert outcomes["b"].verdict is wm.Verdict.CARRIED_FORWARD
    assert outcomes["b"].marks == 1


def test_a_count_is_asked_as_a_whole_number(tmp_path: Path) -> None:
    asked = question(tmp_path, ROLLS, COUNT)
    assert manner_of(asked.parts[0]).also.strip() == "Give a whole number."


@pytest.mark.parametrize(("off", "right"), [(0.19, True), (-0.19, True), (0.21, False), (-0.22, False)])
def test_a_tolerance_may_be_an_amount_in_any_unit_of_the_kind(tmp_path: Path, off: float, right: bool) -> None:
    find = "  a: {ask: How long, is: sum, unit: mm, answer: p + q, tolerance: 0.02 cm, figures: 4, marks: 1}"
    variant = question(tmp_path, LENGTHS, find).variant(p="11.65 mm", q="1.5 mm")
    outcome = wm.mark(variant, {"a": f"{13.15 + off:.2f} mm"})["a"]
    assert (outcome.verdict is wm.Verdict.RIGHT) == right


@pytest.mark.parametrize("tolerance", ["0.2 kN", "0 mm", "-1 mm", "a mm", "120 %"])
def test_a_tolerance_that_is_neither_share_nor_such_an_amount_is_a_problem(tmp_path: Path, tolerance: str) -> None:
    find = f"  a: {{ask: How long, is: sum, unit: mm, answer: p + q, tolerance: {tolerance}, marks: 1}}"
    (said,) = problems_of(written(tmp_path, LENGTHS, find))
    assert "[tolerance]" in said
    assert "type it like 1 %, or like 0.5 mm" in said


def test_a_level_in_decibels_is_ten_times_the_logarithm_to_ten(tmp_path: Path) -> None:
    """3 dB is a ratio of 1.995, 20 dB one of 100 (ISO 80000-3:2006, annex C, from memory)."""
    given = ("P: {is: power, unit: W, from: 100, to: 300, step: 5}", "Q: {is: least, unit: W, from: 1, to: 9, step: 1}")
    slip = "slips: [{misconception: natural, answer: 10*log(P/Q)}]"
    find = f"  a: {{ask: The level, is: level, unit: dB, answer: 10*log10(P/Q), marks: 1, {slip}}}"
    variant = question(tmp_path, given, find).variant(P="200 W", Q="2 W")
    assert variant.expected_si["a"] == pytest.approx(20)
    assert wm.mark(variant, {"a": "20.0 dB"})["a"].verdict is wm.Verdict.RIGHT
    assert wm.mark(variant, {"a": "46.1 dB"})["a"].misconceptions == ("natural",)


@pytest.mark.parametrize("typed", ["690 years", "690 yrs", "690 Years", "690 yr", "251850 days"])
def test_years_read_in_the_ways_they_are_written(typed: str) -> None:
    """A year of 365 days: NIST SP 811 (2008), B.8."""
    (read,) = wm.read_quantity(typed, "year").readings
    assert read.si == pytest.approx(690 * 365 * 86400)


@pytest.mark.parametrize(("q", "yes"), [(12, True), (8, False), (25, False)])
def test_both_of_two_comparisons_are_said_with_the_smaller_ratio(tmp_path: Path, q: float, yes: bool) -> None:
    find = "  a: {ask: Between, judge: 'min(q/p, 2*p/q) >= 1', marks: 1}"
    variant = question(tmp_path, LENGTHS, find).variant(p="11 mm", q=f"{q} mm")
    assert (wm.mark(variant, {"a": "yes"})["a"].verdict is wm.Verdict.RIGHT) == yes


def test_the_largest_of_several_is_said_at_once(tmp_path: Path) -> None:
    find = "  a: {ask: Range, is: range, unit: mm, answer: 'max(p, q, 2*q) - min(p, q, 2*q)', marks: 1}"
    variant = question(tmp_path, LENGTHS, find).variant(p="11 mm", q="8 mm")
    assert variant.expected_si["a"] == pytest.approx(0.008)


@pytest.mark.parametrize(
    ("answer", "says"),
    [
        ("p + q if p < q else q", "max(a, b) or min(a, b)"), ("p if p else q", "put the values into a table"),
        ("ceil(p/q)", "type round_up(...)"), ("floor(p/q)", "type round_down(...)"), ("round(p)", "to figures"),
        ("ln(p/q)", "log10(...)"), ("lg(p/q)", "type log10(...)"),
        ("average(p, q)", "type mean(...)"), ("p + 1j*q", "size and its angle"),
        ("[p, q]", "a find each|a find of its own"),
        ("p ^ 2 / q", "write powers with **"),
    ],
)  # fmt: skip
def test_what_a_formula_cannot_say_is_refused_with_what_to_type(tmp_path: Path, answer: str, says: str) -> None:
    find = f"  a: {{ask: A, is: length, unit: mm, answer: {answer if answer[0] == '[' else repr(answer)}, marks: 1}}"
    said = " ".join(problems_of(written(tmp_path, LENGTHS, find)))
    assert any(each in said for each in says.split("|")), said


@pytest.mark.parametrize("judge", ["p < q and q < 2*p", "p < q or q < 2*p", "p < q < 2*p"])
def test_a_judgement_of_two_comparisons_is_refused_with_what_says_it(tmp_path: Path, judge: str) -> None:
    said = " ".join(problems_of(written(tmp_path, LENGTHS, f"  a: {{ask: A, judge: {judge}, marks: 1}}")))
    assert "both hold where min(a/b, c/d) >= 1" in said


def test_an_equality_is_refused_with_its_reason(tmp_path: Path) -> None:
    said = " ".join(problems_of(written(tmp_path, LENGTHS, "  a: {ask: A, judge: p == q, marks: 1}")))
    assert "measured numbers are never quite equal" in said


def test_a_greek_name_is_refused_with_its_spelling(tmp_path: Path) -> None:
    given = ("σ: {is: one, unit: mm, from: 10, to: 20, step: 1}", *LENGTHS)
    said = " ".join(problems_of(written(tmp_path, given, "  a: {ask: A, is: B, unit: mm, answer: p + q, marks: 1}")))
    assert "type sigma; it is printed as σ" in said


@pytest.mark.parametrize(("key", "says"), [("decimals: 2", "tolerance: 0.01 mm"), ("also: p", "with limits")])
def test_a_key_that_authors_look_for_is_answered_with_what_says_it_here(tmp_path: Path, key: str, says: str) -> None:
    find = f"  a: {{ask: A, is: B, unit: mm, answer: p + q, {key}, marks: 1}}"
    assert says in " ".join(problems_of(written(tmp_path, LENGTHS, find)))


@pytest.mark.parametrize("unit", ["€", "EUR", "Euro/h", "$", "USD"])
def test_a_currency_is_refused_at_its_place_with_what_to_type(tmp_path: Path, unit: str) -> None:
    find = f"  a: {{ask: The price, is: price, unit: '{unit}', answer: p/q, marks: 1}}"
    (said,) = problems_of(written(tmp_path, LENGTHS, find))
    assert "[unknown-unit]" in said
    assert "no currency is a unit: type number, and name the currency in ask and in is" in said


@pytest.mark.parametrize("typed", ["1593.71 €", "€ 1593.71", "1593.71 EUR", "$1593.71"])
def test_an_amount_of_money_waits_for_the_teacher_and_the_bare_number_is_right(tmp_path: Path, typed: str) -> None:
    given = ("h: {is: hours, from: 21, to: 60, step: 1}", "r: {is: euros an hour, from: 20.07, to: 40.07, step: 0.1}")
    find = "  a: {ask: What does it cost in euros, is: price in euros, unit: number, answer: h*r, figures: 6, marks: 1}"
    variant = question(tmp_path, given, find).variant(h="53", r="30.07")
    assert wm.mark(variant, {"a": typed})["a"].is_waiting
    assert wm.mark(variant, {"a": "1593.71"})["a"].verdict is wm.Verdict.RIGHT


def test_a_count_is_asked_only_where_no_rounding_on_the_way_leads_to_another(tmp_path: Path) -> None:
    """The area with pi as 3.14, 3.1416 or 22/7, in full or to three figures: always as many boards."""
    given = ("D: {is: diameter, unit: mm, from: 300, to: 900, step: 1}",)
    find = """\
  a:
    {ask: How many, is: boards, unit: number, answer: round_up(A/s), marks: 1,
    lines: {A: {is: area, unit: mm^2, value: pi*D**2/4}}}
"""
    asked = question(tmp_path, (*given, "s: {is: area of a board, unit: mm^2, from: 6000, to: 9000, step: 50}"), find)

    def counts(diameter: float, board: float) -> set[int]:
        areas = [pi * diameter**2 / 4 for pi in (3.14, math.pi, 22 / 7)]
        return {math.ceil(a / board) for area in areas for a in (area, float(f"{area:.2e}"))}

    drawn = [asked.draw(f"boards {n}").values for n in range(12)]
    assert [v for v in drawn if len(counts(v["D"] * 1_000, v["s"] * 1e6)) != 1] == []
    assert len(counts(800, 6_050)) > 1
    assert len(counts(800, 6_000)) == len(counts(400, 6_050)) == 1
    columns = {"D": np.array([0.8, 0.8, 0.4]), "s": np.array([6_050e-6, 6_000e-6, 6_050e-6])}
    assert clear_counts(asked, columns, 3, 3).tolist() == [False, True, True]
