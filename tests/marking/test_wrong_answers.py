"""The wrong answers that a question models, as a student would type them: all of them, each told for what it is."""

import re

import pytest

from bank_fixture import BANK
from witnessmark.files.bank.question_text import question_from_text
from witnessmark.marking.examples import Example, examples
from witnessmark.marking.kinds.dispatch import wrong_answers
from witnessmark.questions.model.parts import (
    ChoicePart,
    ExpressionPart,
    HandPart,
    JudgePart,
    OrderPart,
    PointsPart,
    QuantityPart,
    SeveralPart,
)
from witnessmark.questions.sheet.listing import letter_of, listed_options
from witnessmark.questions.sheet.task import Rules

HOLE = BANK["drain-hole"].variant(tau="300 MPa", d="20 mm", t="6 mm", punch="oil-hardened tool steel")
KEYS = ("drain-hole", "copper-rivets", "two-resistors", "keel-bolt", "o-ring")


def typed_by(key: str, part: str) -> dict[str, tuple[str, ...]]:
    """What is typed wrongly in a part of a question, and the misconceptions of each."""
    variant = HOLE if key == "drain-hole" else BANK[key].draw("heron")
    return {
        text.replace("\N{NO-BREAK SPACE}", " "): who
        for who, text in wrong_answers(variant, variant.question.part(part), Rules())
    }


def test_wrong_numbers_are_those_of_the_slips_in_the_students_own_numbers() -> None:
    """By hand: 300 MPa times the face area pi/4 (20 mm)^2 = 94.2 kN where pi 20 mm 6 mm 300 MPa = 113 kN is right."""
    found = typed_by("drain-hole", "a")
    part = HOLE.question.part("a")
    assert isinstance(part, QuantityPart)
    assert "94.2 kN" in found
    assert "113 kN" not in found
    assert {who for several in found.values() for who in several} >= {slip.misconception for slip in part.slips}


def test_the_wrong_judgement_is_the_one_that_the_right_numbers_do_not_bear_out() -> None:
    """By hand: 113 kN on pi/4 (20 mm)^2 is 360 MPa, and oil-hardened tool steel bears more (the question's table)."""
    (found,) = typed_by("drain-hole", "c")
    assert found == "no"


@pytest.mark.parametrize("key", KEYS)
def test_every_modelled_wrong_answer_is_told_with_its_misconception_and_never_earns_all_marks(key: str) -> None:
    variant = BANK[key].draw("heron")
    found = examples(variant, Rules())
    assert found
    for example in found:
        assert example.outcome.marks < example.outcome.out_of
        assert set(example.misconceptions) <= set(example.outcome.misconceptions)


def of_kind(key: str, kind: type) -> list[Example]:
    """Examples of the parts of a kind."""
    return [e for e in examples(BANK[key].draw("heron"), Rules()) if isinstance(e.part, kind)]


@pytest.mark.parametrize(("key", "kind", "form"), [
    ("drain-hole", QuantityPart, r"[\d.]+\s\S+"), ("drain-hole", JudgePart, "yes|no"), ("o-ring", ChoicePart, "[A-Z]"),
    ("two-resistors", ExpressionPart, r"[\w()+*/^ -]+"), ("copper-rivets", OrderPart, "[A-Z](, [A-Z])+"),
])  # fmt: skip
def test_each_kind_is_typed_in_its_own_form(key: str, kind: type, form: str) -> None:
    found = of_kind(key, kind)
    assert found
    assert all(re.fullmatch(form, example.typed) for example in found), [e.typed for e in found]


def test_every_wrong_option_and_every_wrong_order_is_there_once() -> None:
    letters = [e.typed for e in of_kind("o-ring", ChoicePart)]
    (chosen,) = (p for p in BANK["o-ring"].parts if isinstance(p, ChoicePart))
    assert len(set(letters)) == len(letters) == sum(not option.right for option in chosen.options)
    (order,) = (p for p in BANK["copper-rivets"].parts if isinstance(p, OrderPart))
    orders = of_kind("copper-rivets", OrderPart)
    assert [e.misconceptions for e in orders] == [(slip.misconception,) for slip in order.slips]


@pytest.mark.parametrize("kind", [PointsPart, HandPart])
def test_what_is_told_in_words_or_marked_by_hand_models_no_wrong_answer(kind: type) -> None:
    (part, *_) = (p for p in BANK["copper-rivets"].parts if isinstance(p, kind))
    assert list(wrong_answers(BANK["copper-rivets"].draw("heron"), part, Rules())) == []


@pytest.mark.parametrize(("key", "part"), [("punch-work", "c"), ("two-resistors", "b"), ("shaft-gap", "a")])
def test_a_number_that_two_ways_of_one_misconception_give_is_typed_once(key: str, part: str) -> None:
    variant = BANK[key].draw("heron")
    found = list(wrong_answers(variant, variant.question.part(part), Rules()))
    assert len(set(found)) == len(found)


def test_a_wrong_option_has_its_misconception_or_none() -> None:
    for key in ("o-ring", "rod-shroud"):
        variant = BANK[key].draw("heron")
        for part in (p for p in variant.question.parts if isinstance(p, ChoicePart)):
            wrong = sorted((o.misconception,) if o.misconception else () for o in part.options if not o.right)
            assert sorted(who for who, _ in wrong_answers(variant, part, Rules())) == wrong


def test_wrong_pairs_are_those_of_both_slips_or_of_one_beside_the_right_limit() -> None:
    """By hand: 25 mm with 0 and +21 µm (H7) is 25.021 and 25.000 mm; all to the five figures that the question asks."""
    bush = BANK["shaft-in-bush"]
    of_bush = {"ES": "21 µm", "EI": "0 µm", "es": "-7 µm", "ei": "-20 µm"}
    variant = bush.variant(D="25 mm", s="10 µm", **of_bush)
    found = {
        typed.replace("\N{NO-BREAK SPACE}", " "): who for who, typed in wrong_answers(variant, bush.part("a"), Rules())
    }
    assert found == {
        "25.000 mm and 24.979 mm": ("tolerance-on-the-wrong-side",),
        "25.021 mm and 24.979 mm": ("tolerance-to-both-sides",),
        "25.011 mm and 24.990 mm": ("tolerance-shared-to-both-sides",),
        "25.210 mm and 25.000 mm": ("micrometres-as-hundredths",),
    }  # fmt: skip


def test_wrong_pairs_of_which_one_value_is_no_number_are_not_typed() -> None:
    """Where the lengths are equal, the first slip divides by nothing; the second gives 9 and 1 times 3 m, by hand."""
    found, problems = question_from_text(of_a_deck("edges", EDGES), "edges.yaml", {})
    assert problems == ()
    assert found is not None
    variant = found.variant(a="3 m", b="3 m")
    typed = [text.replace("\N{NO-BREAK SPACE}", " ") for _, text in wrong_answers(variant, found.part("x"), Rules())]
    assert typed == ["27.0 m and 3.00 m"]


def test_wrong_sets_are_those_of_the_slips_and_the_right_one_with_each_wrong_option() -> None:
    part = BANK["soft-and-hard-wire"].part("b")
    assert isinstance(part, SeveralPart)
    variant = BANK["soft-and-hard-wire"].draw("heron")
    letters = {o.text: letter_of(place) for place, o in enumerate(listed_options(variant, part))}
    hard, stays, breaks, *wrong = (letters[option.text] for option in part.options)
    by_hand = {"cold-work-is-skin-deep": [hard]}
    for who, letter in zip(("strength-for-stiffness", "hard-stretches-more", "strong-is-tough"), wrong, strict=True):
        by_hand[who] = sorted([hard, stays, breaks, letter])
    found = dict(wrong_answers(variant, part, Rules()))
    assert found == {(who,): ", ".join(chosen) for who, chosen in by_hand.items()}


def test_a_slip_that_gives_no_number_hides_no_other() -> None:
    """Where the lengths are equal, the first slip divides by nothing."""
    found, problems = question_from_text(of_a_deck("decks", DECKS), "decks.yaml", {})
    assert problems == ()
    assert found is not None
    variant = found.variant(a="3 m", b="3 m")
    assert [typed for _, typed in wrong_answers(variant, found.part("x"), Rules())] == ["36.0\N{NO-BREAK SPACE}m²"]


def of_a_deck(key: str, find: str) -> str:
    """The file of a question on a deck of two lengths, which may be equal."""
    return f"question: {key}\ntitle: Decks\ntopic: lengths\n{TOLD}{find}"


TOLD = """
level: 1
setting: A deck of {a} by {b}.
given:
  a: {is: length, unit: m, one of: [3, 4]}
  b: {is: width, unit: m, one of: [3, 5]}
find:
"""
DECKS = """
  x:
    ask: Find the area.
    is: area
    symbol: A
    unit: m^2
    answer: a*b
    marks: 1
    slips:
      - {misconception: divided-by-nothing, answer: a**2*b/(a - b), keeps: 0}
      - {misconception: square-of-the-sum, answer: (a + b)**2, keeps: 0}
"""


EDGES = """
  x:
    ask: Find the longest and the shortest rope.
    limits:
      largest: {is: longest rope, symbol: l_max, answer: 2*a + b}
      smallest: {is: shortest rope, symbol: l_min, answer: a/2}
    unit: m
    marks: 2
    slips:
      - {misconception: divided-by-nothing, largest: a*b/(a - b), smallest: a/3, keeps: 0}
      - {misconception: several-times-over, largest: 9*a, smallest: a, keeps: 0}
"""
