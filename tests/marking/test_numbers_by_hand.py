"""The numbers of one made-up question by hand: units and their cost, temperatures, figures, noughts, readings."""

from decimal import Decimal

import numpy as np
import pytest

import witnessmark as wm
from bank_cases import SMALL_BANK
from witnessmark.files.bank.question_text import question_from_text
from witnessmark.marking.kinds.quantity import PlaceMarked, bench, mark_numbers
from witnessmark.marking.outcome import Outcome
from witnessmark.questions.drawable import DrawableQuestion
from witnessmark.questions.sheet.task import Rules

D = Decimal
HOIST = """question: hoist
title: Hoist
topic: lifting
level: 1
setting: A keel of {m} hangs at {T}, pushed by {p} and {q}, {x} by {y}, over {v} of water.
given:
  m: {is: mass, unit: kg, one of: [12, 200]}
  T: {is: temperature, unit: degC, one of: [20, 30]}
  p: {is: push, unit: kN, one of: [2, 113]}
  q: {is: pull, unit: kN, one of: [1, 2]}
  x: {is: length, unit: mm, one of: [1200, 1300]}
  y: {is: width, unit: mm, one of: [1100, 1000]}
  v: {is: volume, unit: L, one of: [20, 30]}
find:
  a:
    ask: Find the weight.
    is: weight
    symbol: W
    unit: N
    answer: m*g
    marks: 3
    slips: [{misconception: mass-for-weight, answer: m, keeps: 2}]
  b: {ask: Find the temperature., is: temperature, symbol: T_1, unit: degC, answer: 1*T, marks: 3}
  c: {ask: Find both., is: push, symbol: P, unit: kN, answer: p + q, marks: 3}
  d: {ask: Find both well., is: push, symbol: Q, unit: kN, answer: p + q, figures: 4, marks: 3}
  e: {ask: Find the length., is: length, symbol: L, unit: m, answer: 1*x, marks: 2}
  f: {ask: Find the width., is: width, symbol: B, unit: m, answer: 1*y, marks: 2}
  h: {ask: Find the difference., is: difference, symbol: D_1, unit: m, answer: L - B, carries: [e, f], marks: 2}
  i: {ask: Find the area., is: area, symbol: S, unit: m^2, answer: L*B, carries: [e, f], marks: 2}
  j: {ask: Find the share., is: share, symbol: r, unit: "", answer: p/q, marks: 2}
  k: {ask: Find the volume., is: volume, symbol: V, unit: L, answer: 1*v, tolerance: 20 %, marks: 2}
"""
DRAIN_HOLE = wm.load_bank(SMALL_BANK)["drain-hole"]
HOLE = DRAIN_HOLE.variant(tau="300 MPa", d="20 mm", t="6 mm")


def hoist() -> DrawableQuestion:
    found, problems = question_from_text(HOIST, "hoist.yaml", {})
    assert problems == ()
    assert found is not None
    return found


QUESTION = hoist()
USUAL = {"m": "12 kg", "T": "40 degC", "p": "112 kN", "q": "1.9 kN", "x": "1200 mm", "y": "1100 mm", "v": "20 L"}
"""117.7 N, 40 °C, 113.9 kN, 1.2 m, 1.1 m, 0.1 m, 1.32 m², 58.9."""


def out(key: str, entry: str, rules: Rules | None = None, **given: str) -> Outcome:
    return wm.mark(QUESTION.variant(**USUAL | given), {key: entry}, rules)[key]


def told(found: Outcome) -> tuple[str, str]:
    return str(found.marks), str(found.verdict)


@pytest.mark.parametrize(("entry", "marks", "verdict"), [
    ("118 N", "3", "right"), ("118", "2.5", "unit"), ("118 kg", "2", "unit"), ("12 N", "2", "slip"),
    ("12 kg", "2", "slip"), ("12 m", "1", "slip"), ("12", "1.5", "slip"),
])  # fmt: skip
def test_a_slip_in_the_unit_of_what_it_works_out_has_paid_for_that_unit(entry: str, marks: str, verdict: str) -> None:
    """The mass for the weight, in kg."""
    assert told(out("a", entry)) == (marks, verdict)


@pytest.mark.parametrize(("key", "entry", "marks", "verdict"), [
    ("b", "40 °C", "3", "right"), ("b", "313.15 K", "3", "right"), ("b", "313 K", "3", "right"),
    ("b", "104 °F", "3", "right"), ("b", "40", "2.5", "unit"), ("b", "40 kg", "2", "unit"),
    ("b", "400 °C", "2", "power of ten"), ("b", "312 K", "0", "unexplained"), ("b", "41 °C", "0", "unexplained"),
    ("j", "58.9", "2", "right"), ("j", "0.589", "1", "power of ten"), ("j", "58.9 kN", "1", "unit"),
])  # fmt: skip
def test_temperatures_count_from_their_own_nought_and_pure_numbers_need_no_unit(
    key: str, entry: str, marks: str, verdict: str
) -> None:
    """313 K is 39.85 °C, which is right in the figures of the unit that was written."""
    assert told(out(key, entry)) == (marks, verdict)


@pytest.mark.parametrize(("p", "entry", "is_right"), [
    ("983", "986 kN", True), ("983", "101 tf", True), ("983", "986000 N", True), ("983", "0.986 MN", True),
    ("982.5", "100 tf", True), ("982.5", "1.00e2 tf", True), ("982.5", "981 kN", False), ("983", "990 kN", False),
    ("983", "102 tf", False), ("982.5", "99.0 tf", False),
])  # fmt: skip
def test_right_is_what_rounds_to_the_figures_asked_in_the_unit_that_was_written(
    p: str, entry: str, is_right: bool
) -> None:
    """986 kN are 100.54 tf and 985.5 kN 100.49 tf, so 101 and 100 tf to three figures: 990.5 and 980.7 kN."""
    found = out("c", entry, p=f"{p} kN", q="3 kN")
    assert (found.marks == 3) is is_right


def test_fewer_figures_than_asked_are_too_few_in_any_unit() -> None:
    """113.9 kN are 11.61 tf: 12 tf is rounded early, and where four figures are asked nothing right."""
    assert told(out("c", "12 tf")) == ("2.5", "rounded early")
    assert told(out("c", "11.6 tf")) == ("3", "right")
    assert told(out("d", "11.61 tf")) == ("3", "right")
    assert told(out("d", "11.6 tf")) == ("0", "unexplained")


def test_where_a_question_asks_four_figures_two_are_no_rounding_of_its_values() -> None:
    """Its values may differ in the last figures: 110 kN is no 113.9 kN then."""
    assert told(out("c", "110 kN")) == ("2.5", "rounded early")
    assert out("d", "110 kN").verdict != "rounded early"


FIGURES = Rules(figures_mark=D("0.5"))


@pytest.mark.parametrize(("key", "entry", "marks"), [
    ("c", "114 kN", "3"), ("c", "113.9 kN", "2.5"), ("c", "113.90 kN", "2.5"), ("c", "114000 N", "3"),
    ("c", "113 kN", "2.5"), ("d", "113.9 kN", "3"), ("d", "113.90 kN", "2.5"), ("d", "113900 N", "3"),
    ("c", "110 kN", "2.5"), ("a", "12.00 N", "2"), ("c", "", "0"), ("c", "11.6 tf", "3"),
])  # fmt: skip
def test_a_right_result_in_other_figures_than_asked_costs_what_the_task_says(key: str, entry: str, marks: str) -> None:
    """113 kN is 113.9 kN cut off; noughts that end a whole number may count or not; a slip has other costs."""
    assert out(key, entry, FIGURES).marks == D(marks)
    whole = QUESTION.variant(**USUAL | {"p": "198 kN", "q": "2 kN"})
    assert wm.mark(whole, {"c": "200 kN"}, FIGURES)["c"].marks == D(3)


def test_figures_of_a_line_cost_nothing() -> None:
    found = wm.mark(HOLE, {"a.A_s": "376.991 mm²", "a": "113 kN"}, FIGURES)
    assert (found["a.A_s"].marks, found["a"].marks) == (D(1), D(3))


def test_a_line_needs_no_unit() -> None:
    found = wm.mark(HOLE, {"a.A_s": "377"})["a.A_s"]
    assert told(found) == ("1", "right")


@pytest.mark.parametrize(("entry", "most", "marks"), [
    ("113.1", "1", "2"), ("113.1", "0.5", "2.5"), ("113.1", "2", "2"), ("113.1 MPa", "1", "2"),
    ("113.1 MPa", "2", "1.5"), ("113097", "1", "2"), ("113097", "2", "1.5"), ("113097 MPa", "3", "1"),
    ("113", "0", "2.5"),
])  # fmt: skip
def test_what_several_deductions_take_together_is_bounded_and_one_alone_takes_what_it_says(
    entry: str, most: str, marks: str
) -> None:
    """Half a mark for the unit that is missing, one for a foreign one, one for a power of ten, half for figures."""
    rules = Rules(figures_mark=D("0.5"), most_taken_off=D(most))
    assert wm.mark(HOLE, {"a": entry}, rules)["a"].marks == D(marks)


GAP = [
    (("5 m", "5 m"), "h", "0 m", "carried forward"),
    (("1 m", "1 m"), "h", "0 m", "carried forward"),
    (("0 m", "0 m"), "h", "0 m", "unexplained"),
    (("5 m", "5 m"), "h", "0.3 m", "unexplained"),
    (("5.000005 m", "5 m"), "h", "0 m", "unexplained"),
    (("", ""), "h", "0 m", "unexplained"),
    (("0 m", "5 m"), "i", "0 m^2", "unexplained"),
    (("5 m", "5 m"), "i", "0 m^2", "unexplained"),
    (("5 m", "5 m"), "i", "25 m^2", "carried forward"),
    (("5 m", "4 m"), "h", "1 m", "carried forward"),
]


@pytest.mark.parametrize(("own", "key", "entry", "verdict"), GAP)
def test_a_nought_follows_from_own_results_that_are_none_and_give_it(
    own: tuple[str, str], key: str, entry: str, verdict: str
) -> None:
    found = wm.mark(QUESTION.variant(**USUAL), {**dict(zip("ef", own, strict=True)), key: entry})[key]
    assert str(found.verdict) == verdict
    assert found.marks == (2 if verdict == "carried forward" else 0)
    assert 0 <= found.sure <= 1


def columns(**entries: list[str]) -> dict[str, PlaceMarked]:
    """The numbers of students who were all told the same."""
    size = len(next(iter(entries.values())))
    givens = {name: np.repeat(value, size) for name, value in QUESTION.variant(**USUAL).columns.items()}
    return mark_numbers(bench(QUESTION, givens, Rules(), size), entries)


def test_noughts_are_told_apart_in_one_column() -> None:
    rows = [row for row in GAP if row[1] == "h"]
    marked = columns(e=[own[0] for own, *_ in rows], f=[own[1] for own, *_ in rows], h=[row[2] for row in rows])["h"]
    assert marked.marks.tolist() == [200 if verdict == "carried forward" else 0 for *_, verdict in rows]


def test_a_value_is_mended_of_its_power_of_ten_or_conversion_and_of_nothing_else() -> None:
    """40 °C is 313.15 K, and 400 °C ten times as far from 0 °C; 113.9 kN are 11 615 kgf."""
    warm = columns(b=["40 °C", "400 °C", "55 °C", "", "40"])["b"].mended
    assert warm.tolist() == pytest.approx([313.15, 313.15, 328.15, float("nan"), 313.15], nan_ok=True)
    push = columns(c=["113.9 kN", "113.9 MN", "11615 kg", "50 kN", "?"])["c"].mended
    assert push[:4].tolist() == pytest.approx([113_900, 113_900, 113_900, 50_000], rel=1e-3)
    assert np.isnan(push[4])


def test_a_unit_is_at_fault_that_is_missing_where_one_is_needed_or_of_another_dimension() -> None:
    found = columns(c=["114 kN", "114", "114 kg", "114 MPa", ""], j=["58.9", "58.9 kN", "58.9 %", "", "7"])
    assert found["c"].unit_fault.tolist()[:4] == [False, True, True, True]
    assert found["j"].unit_fault.tolist()[:3] == [False, True, False]


def holes(*entries: str) -> PlaceMarked:
    givens = {name: np.repeat(value, len(entries)) for name, value in HOLE.columns.items()}
    return mark_numbers(bench(DRAIN_HOLE, givens, Rules(), len(entries)), {"a": list(entries)})["a"]


def test_of_two_readings_the_kinder_counts_and_of_equals_the_surer_whatever_stands_beside() -> None:
    """The edge takes 113 097 N; twice that is an edit, and in thousands of kN nothing known."""
    found = holes("113,097 kN", "113,097 N", "226,195 kN", "226 kN", "94.2 kN", "")
    assert found.marks.tolist() == [300, 300, 0, 0, 100, 0]
    assert found.values[:5].tolist() == pytest.approx([113_097, 113_097, 226_195, 226_000, 94_200])
    kinds = [found.candidates[n].kind if n >= 0 else "" for n in found.named.tolist()]
    assert kinds[:4] == ["right", "right", "edit", "edit"]
    assert (kinds[4].partition(" ")[0], kinds[5]) == ("slip", "")


def test_two_readings_wait_where_they_are_of_two_methods_and_not_where_both_are_right() -> None:
    """A gallon is 4.546 L in the old country and 3.785 L in the new: 4.8 of them are 21.8 or 18.2 L, within a fifth of
    20 L; 5.3 of them are 24.1 or 20.1 L."""
    two_ways = "the entry can be read in two ways; the kinder one was taken"
    found = [out("k", entry) for entry in ("4.8 gal", "5.3 gal")]
    assert [(str(one.verdict), one.in_tray) for one in found] == [("right", ()), ("right", (two_ways,))]


def test_of_an_edit_that_is_not_told_the_unit_is_not_told_either() -> None:
    """Half of the pull added is 113 kN; what only the teacher is told says nothing of units to the student."""
    found = out("d", "113")
    assert (str(found.verdict), found.because) == (
        "edit", "This is not the right value; your teacher will look at your working.",
    )  # fmt: skip


def test_a_comma_that_would_be_right_the_other_way_in_one_of_two_gallons_is_told() -> None:
    """Beside a decimal point it parts thousands; 5.300 gallons are 20.1 L by one of them."""
    found = wm.mark(QUESTION.variant(**USUAL), {"k": "5,300 gal", "c": "113.9 kN"})["k"]
    assert "its comma was read as in other answers; read the other way it would be right" in found.in_tray


def test_results_are_carried_on_through_lines_and_parts() -> None:
    """94.2 kN on 314.16 mm² is 300 MPa; a line of 188 mm² makes 56.4 kN."""
    found = wm.mark(HOLE, {"a.A_s": "188 mm²", "a": "56.4 kN", "b.A_p": "150 mm²", "b": "376 MPa"})
    assert [(key, str(o.verdict)) for key, o in found.items() if key in "ab"] == [
        ("a", "carried forward"), ("b", "carried forward"),
    ]  # fmt: skip
    assert str(wm.mark(HOLE, {"a": "94.2 kN", "b": "300 MPa"})["b"].verdict) == "carried forward"
    assert str(wm.mark(HOLE, {"b": "300 MPa"})["b"].verdict) != "carried forward"
