"""Parts that are not numbers: a judgement, a choice, what the teacher marks by hand; nothing typed is lost."""

from decimal import Decimal

import pytest

import witnessmark as wm
from bank_fixture import BANK
from marking.students import right
from witnessmark.questions.model.parts import ChoicePart, Kind

HOLE = BANK["drain-hole"].variant(tau="300 MPa", d="20 mm", t="6 mm", punch="oil-hardened tool steel")
ANODE = BANK["anode"].draw("heron")
JUDGED = [(key, part.key) for key, q in BANK.items() for part in q.parts if part.kind is Kind.JUDGE]
CHOSEN = [(key, part.key) for key, q in BANK.items() for part in q.parts if isinstance(part, ChoicePart)]


@pytest.mark.parametrize(("key", "part"), JUDGED)
def test_a_judgement_in_any_question_is_right_one_way_and_wrong_the_other(key: str, part: str) -> None:
    variant = BANK[key].draw("heron")
    both = [wm.mark(variant, right(variant) | {part: said})[part] for said in ("yes", "no")]
    assert sorted(out.marks for out in both) == [0, BANK[key].part(part).marks]
    assert {"right"} < {str(out.verdict) for out in both} <= {"right", "wrong", "slip"}


@pytest.mark.parametrize("said", ["Yes", "y", "yes it will", "YES!", "it survives", "ja"][:4])
def test_people_say_yes_in_many_ways(said: str) -> None:
    out = wm.mark(HOLE, {"a": "113 kN", "b": "360 MPa", "c": said})["c"]
    assert (out.verdict, out.marks, out.raw) == ("right", Decimal(1), said)


@pytest.mark.parametrize("said", ["perhaps", "yes and no", "42", "see over"])
def test_a_judgement_that_is_neither_waits_for_the_teacher(said: str) -> None:
    out = wm.mark(HOLE, {"c": said})["c"]
    assert (out.verdict, out.marks, out.raw) == ("unreadable", Decimal(0), said)
    assert (bool(out.in_tray), out.sure) == (True, 0)


def test_a_judgement_left_blank_is_blank() -> None:
    out = wm.mark(HOLE, {"a": "113 kN", "b": "360 MPa"})["c"]
    assert (out.verdict, out.marks, out.in_tray) == ("blank", Decimal(0), ())


@pytest.mark.parametrize(("key", "part"), CHOSEN)
def test_of_a_choice_the_right_option_has_all_marks_and_a_wrong_one_its_misconception(key: str, part: str) -> None:
    variant, asked = BANK[key].draw("heron"), BANK[key].part(part)
    assert isinstance(asked, ChoicePart)
    for option in asked.options:
        out = wm.mark(variant, {part: option.text})[part]
        if option.right:
            assert (out.verdict, out.marks) == ("right", asked.marks)
        else:
            assert (out.marks, out.marks < asked.marks) == (option.keeps, True)
            assert option.misconception in ("", *out.misconceptions)
            assert out.verdict in ("slip", "wrong")


@pytest.mark.parametrize(("said", "marks", "waits"), [
    ("natural rubber", 0, False), ("natral rubber", 0, True), ("nitrile rubber", 1, False), ("nitile rubber", 1, False),
])  # fmt: skip
def test_a_misspelt_option_waits_where_it_costs_marks(said: str, marks: int, waits: bool) -> None:
    out = wm.mark(BANK["o-ring"].draw("heron"), {"a": said})["a"]
    assert (out.marks > 0, bool(out.in_tray)) == (bool(marks), waits)


def test_a_choice_that_is_none_of_the_options_waits_and_a_blank_one_does_not() -> None:
    waiting, blank = (wm.mark(ANODE, {"a": entry})["a"] for entry in ("the third one from the left, maybe", ""))
    assert (waiting.verdict, waiting.marks, bool(waiting.in_tray)) == ("unreadable", Decimal(0), True)
    assert (blank.verdict, blank.marks, bool(blank.in_tray)) == ("blank", Decimal(0), False)


def test_what_is_marked_by_hand_waits_for_the_teacher_even_where_the_cell_is_blank() -> None:
    assert ANODE.question.part("d").kind is Kind.HAND
    done, blank = (wm.mark(ANODE, {"d": entry})["d"] for entry in ("see my sketch", ""))
    assert (done.marks, done.out_of, bool(done.in_tray), done.raw) == (Decimal(0), Decimal(2), True, "see my sketch")
    assert (blank.marks, bool(blank.in_tray)) == (Decimal(0), True)  # the sketch is on paper
    assert done.sure == blank.sure == 0


@pytest.mark.parametrize("kind", [Kind.ORDER, Kind.POINTS, Kind.EXPRESSION, Kind.HAND])
def test_of_every_other_kind_an_entry_that_nobody_can_read_waits_with_what_was_typed(kind: Kind) -> None:
    key, part = next((k, p.key) for k, q in BANK.items() for p in q.parts if p.kind is kind)
    typed = "qwxz ?? 17 <i>"
    out = wm.mark(BANK[key].draw("heron"), {part: typed})[part]
    assert (out.raw, out.marks) == (typed, Decimal(0))
    assert out.in_tray


@pytest.mark.parametrize(("said", "verdict"), [
    ("it closes", "right"), ("the faces touch", "right"), ("stays open", "wrong"), ("will not close", "wrong"),
])  # fmt: skip
def test_a_question_brings_its_own_words_for_yes_and_no(said: str, verdict: str) -> None:
    gap = BANK["shaft-gap"].variant(alpha="12 µm/(m*K)", L="2 m", s="0.6 mm", r="50 K")  # closes at 0.6/0.024 = 25 K
    out = wm.mark(gap, {"a": "25 K", "b": said})["b"]
    assert out.verdict == verdict


OFFERED = [(key, part.key) for key, q in BANK.items() for part in q.parts if part.kind in (Kind.CHOICE, Kind.SEVERAL)]


@pytest.mark.parametrize(("key", "part"), OFFERED)
def test_where_a_given_is_missing_a_letter_waits_for_the_teacher_and_nothing_fails(key: str, part: str) -> None:
    """Which option a letter stands for follows from all the numbers of the sheet."""
    out = wm.mark(BANK[key].variant(), {part: "A"})[part]
    assert (out.raw, out.verdict, bool(out.in_tray)) == ("A", "unreadable", True)


def test_a_choice_between_values_without_its_numbers_says_what_is_missing() -> None:
    out = wm.mark(BANK["two-pistons"].variant(), {"d": "B"})["d"]
    assert (out.verdict, out.marks, bool(out.in_tray)) == ("unreadable", Decimal(0), True)
    assert "follows from the rows and numbers of the sheet" in out.because
    assert wm.mark(BANK["two-pistons"].variant(), {"d": " "})["d"].verdict == "blank"
