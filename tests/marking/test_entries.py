"""Rung 1 in marking: blank, unreadable, repaired and ambiguous entries, and what of them the teacher is told."""

from decimal import Decimal

import pytest

import witnessmark as wm
from bank_fixture import BANK

HOLE = BANK["drain-hole"].variant(tau="300 MPa", d="20 mm", t="6 mm", punch="oil-hardened tool steel")  # 113.097 kN


@pytest.mark.parametrize("entry", ["", " ", "\t", "\n", "\u00a0", "-", "–"])
def test_a_blank_entry_is_blank_earns_nothing_and_does_not_wait(entry: str) -> None:
    out = wm.mark(HOLE, {"a": entry})["a"]
    assert (out.verdict, out.marks, out.in_tray, out.raw) == ("blank", Decimal(0), (), entry)
    assert out.because == "No answer was entered here."


@pytest.mark.parametrize("entry", ["see the back", "113 bananas", "113 kN or 114 kN", "#REF!", "12 kN, 3", "1/0 kN"])
def test_an_unreadable_entry_is_never_silently_nought_it_waits_with_its_reason(entry: str) -> None:
    out = wm.mark(HOLE, {"a": entry})["a"]
    assert (out.verdict, out.marks, out.raw, out.read_as) == ("unreadable", Decimal(0), entry, "")
    (reason,) = out.in_tray
    assert reason.startswith("could not be read: ")
    assert out.because.startswith("This entry could not be read")


@pytest.mark.parametrize(
    "entry", ["F1 = 94.2 kN, F2 = 113.1 kN", "F1=113.1 kN, F2=94.2 kN", "F1 = 94.2; F2 = 113.1", "F=113.1 kN t=6 mm"]
)
def test_two_labelled_values_are_two_answers_and_wait(entry: str) -> None:
    out = wm.mark(HOLE, {"a": entry})["a"]
    assert (out.verdict, out.marks) == ("unreadable", Decimal(0))
    assert "more than one number" in out.in_tray[0]


def test_of_an_ambiguous_entry_the_kinder_reading_wins_and_the_teacher_is_told() -> None:
    # 69,995 N is 69 995 N or 69.995 N; the second is right for no hole, the first for 300 MPa, pi 20 3.713 mm.
    hole = BANK["drain-hole"].variant(tau="300 MPa", d="20 mm", t="3.7134 mm", punch="oil-hardened tool steel")
    out = wm.mark(hole, {"a": "69,995 N"})["a"]
    assert (out.verdict, out.marks, out.raw) == ("right", Decimal(3), "69,995 N")
    assert out.in_tray == ("the entry can be read in two ways; the kinder one was taken",)
    assert wm.mark(hole, {"a": "69.995 kN"})["a"].in_tray == ()


def test_both_readings_of_an_ambiguous_entry_are_tried_against_slips_too() -> None:
    out = wm.mark(HOLE, {"a": "56,549 N"})["a"]
    assert (out.verdict, out.misconceptions) == ("slip", ("radius-for-diameter",))
    assert out.read_as == "56\u202f549\xa0N"


def test_an_ambiguous_entry_that_is_wrong_either_way_is_unexplained_and_waits() -> None:
    out = wm.mark(HOLE, {"a": "87,654 N"})["a"]
    assert (out.verdict, out.marks) == ("unexplained", Decimal(0))
    assert out.in_tray


@pytest.mark.parametrize("entry", ["113.1 kn", "113,1 kN", "113.1 KN", "F = 113.1 kN", "113.1 kilonewton"])
def test_a_repaired_entry_that_is_right_does_not_wait(entry: str) -> None:
    out = wm.mark(HOLE, {"a": entry})["a"]
    assert (out.verdict, out.marks, out.in_tray) == ("right", Decimal(3), ())


@pytest.mark.parametrize(
    ("entry", "verdict"), [("113.1 Mn", "power of ten"), ("1.131 kn", "power of ten"), ("11.53 KN", "unit")]
)
def test_a_repaired_entry_waits_where_the_repair_could_have_changed_the_mark(entry: str, verdict: str) -> None:
    out = wm.mark(HOLE, {"a": entry})["a"]
    assert out.verdict == verdict
    assert "the entry had to be repaired before it could be read" in out.in_tray
    assert out.repairs


def test_a_repaired_slip_is_named_and_says_how_it_was_read() -> None:
    out = wm.mark(HOLE, {"a": "56,5 kn"})["a"]
    assert (out.verdict, out.misconceptions) == ("slip", ("radius-for-diameter",))
    assert "the entry had to be repaired before it could be read" not in out.in_tray
    assert any("comma" in repair for repair in out.repairs)


def test_what_was_typed_is_kept_letter_by_letter() -> None:
    for entry in (" 113.1  kN ", "=113.1", "<b>113.1</b>", "113.1\u00a0kN", "\ud800", "x" * 5000):
        assert wm.mark(HOLE, {"a": entry})["a"].raw == entry


def test_a_tie_takes_the_better_mark_and_is_told() -> None:
    # At d = 4 t the face of the punch and the sheared edge are the same area: no draw allows it, a stated variant does.
    tied = BANK["drain-hole"].variant(tau="300 MPa", d="20 mm", t="5 mm", punch="oil-hardened tool steel")
    assert wm.mark(tied, {"a": "94.25 kN"})["a"].marks == 3  # right in its envelope
    out = wm.mark(tied, {"a": "100 kN", "b": "318.3 MPa"})["b"]  # carried forward, or the slip carried
    assert (out.verdict, out.marks) == ("carried forward", Decimal(2))
    assert out.in_tray


def test_a_name_that_is_less_sure_than_the_task_wants_waits() -> None:
    trusting, wary = wm.Rules(ask_below=0.0), wm.Rules(ask_below=1.0)
    assert not wm.mark(HOLE, {"a": "56.55 kN"}, trusting)["a"].in_tray
    out = wm.mark(HOLE, {"a": "56.55 kN"}, wary)["a"]
    assert any("sure" in reason for reason in out.in_tray)
    assert out.marks == 2


@pytest.mark.parametrize(("entry", "verdict", "marks"), [("", "blank", 0), ("377 mm2", "right", 1)])
def test_a_line_is_marked_by_itself_where_its_result_could_not_be_worked(entry: str, verdict: str, marks: int) -> None:
    """Without a shear strength there is no force, and the sheared area is pi 20 6 = 377 mm2 none the less."""
    out = wm.mark(BANK["drain-hole"].variant(d="20 mm", t="6 mm"), {"a.A_s": entry})
    assert "a" not in out
    assert (out["a.A_s"].verdict, out["a.A_s"].marks) == (verdict, Decimal(marks))
