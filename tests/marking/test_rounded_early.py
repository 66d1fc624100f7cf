"""Outside the envelope of the figures asked and inside that for two figures: rounded early, half a mark."""

from decimal import Decimal

import pytest

import witnessmark as wm
from bank_fixture import BANK
from marking.students import HABITS, Habit, drawn, marked, worked

HOLE = BANK["drain-hole"].variant(tau="300 MPa", d="20 mm", t="6 mm", punch="oil-hardened tool steel")  # 113.097 kN
TIED = "two explanations fit about as well; the kinder one was taken"


@pytest.mark.parametrize(
    ("entry", "how"),
    [
        ("114 kN", "the line to two figures: 380 mm²"),
        ("110 kN", "the result to two figures"),
        ("0.11 MN", "the result to two figures, in another unit"),
        ("114.0 kN", "the line to two figures, written to four"),
    ],
)
def test_two_figures_on_the_way_or_at_the_end_cost_half_a_mark(entry: str, how: str) -> None:
    out = wm.mark(HOLE, {"a": entry})["a"]
    assert (out.verdict, out.marks) == ("rounded early", Decimal("2.5")), how
    assert "rounded too early; in full it is 113.1\xa0kN" in out.because


def test_one_figure_is_no_rounding_that_is_known() -> None:
    assert wm.mark(HOLE, {"a": "100 kN"})["a"].verdict == "unexplained"


def test_what_the_task_asks_decides_what_is_early() -> None:
    assert wm.mark(HOLE, {"a": "110 kN"}, wm.Rules(figures=2))["a"].verdict == "right"
    assert wm.mark(HOLE, {"a": "114 kN"}, wm.Rules(rounded_early=Decimal("1.5")))["a"].marks == Decimal("1.5")


def test_two_figures_are_no_early_rounding_where_the_question_itself_asks_four() -> None:
    """A pontoon of 5000 kg, 6 m by 2.4 m, in water of 1000 kg/m^3: 347.2 mm, by hand."""
    pontoon = BANK["river-to-sea"].variant(l="6 m", w="2.4 m", m="5000 kg", rho_1="1000 kg/m^3", rho_2="1025 kg/m^3")
    full, early = (wm.mark(pontoon, {"a.largest": entry})["a.largest"] for entry in ("347.2 mm", "350 mm"))
    assert (full.verdict, early.verdict, early.marks) == ("right", "unexplained", Decimal(0))


@pytest.mark.parametrize("key", ["drain-hole", "clevis-pin", "bottle-jack", "tube-strut", "shaft-twist", "water-tank"])
def test_who_works_in_two_figures_is_right_or_rounded_early_or_goes_to_the_teacher(key: str) -> None:
    variants = drawn(key, ("heron", "teal", "wren"))
    habits = [Habit(h.pi, h.g, 2, 2) for h in HABITS[::12]]
    rows = [(v, h) for v in variants for h in habits]
    found = marked([v for v, _ in rows], [worked(v, h, shows_lines=False) for v, h in rows])
    first = next(iter(found.part_marks))
    outcomes = [found.outcome(first, row) for row in range(len(rows))]
    assert all(out.verdict in ("right", "rounded early") or out.in_tray for out in outcomes), outcomes
    assert any(out.verdict == "rounded early" or TIED in out.in_tray for out in outcomes)
    for out in outcomes:
        if out.verdict == "rounded early":
            assert out.marks == out.out_of - Decimal("0.5")


def test_g_taken_as_ten_is_rounded_early_and_not_a_slip() -> None:
    variant = BANK["viewing-port"].draw("heron")
    with_ten = variant.expected_si["a"] / 9.81 * 10
    out = wm.mark(variant, {"a": f"{with_ten:.5g} Pa"})["a"]
    assert (out.verdict, out.misconceptions) == ("rounded early", ())
