"""Any number of right options: marks by right ones less wrong ones, what people type, singly and by columns."""

from dataclasses import replace
from decimal import Decimal
from itertools import combinations

import pandas as pd
import pytest

import witnessmark as wm
from bank_fixture import BANK
from witnessmark.marking.kinds.dispatch import wrong_answers
from witnessmark.marking.kinds.several import mark_several
from witnessmark.questions.model.options import Option
from witnessmark.questions.model.parts import SeveralPart
from witnessmark.questions.model.slips import SetSlip
from witnessmark.questions.sheet.listing import letter_of, listed_options
from witnessmark.questions.sheet.task import Rules

D = Decimal
WIRE = BANK["soft-and-hard-wire"]
GIVEN = {"d": 2.5, "L": 2.0, "F": 100.0, "E": 117.0}
VARIANT = WIRE.variant(d="2.5 mm", L="2 m", F="100 N", E="117 GPa")
PART = WIRE.part("b")
HARD, YIELD, BREAKS, MODULUS, EXTENDS, PULLED = (option.text for option in getattr(PART, "options", ()))
ONE_WRONG = SeveralPart(
    "a", "Which?", D(2), (Option("oak", True), Option("ash", True), Option("teak", True), Option("lead")),
    (SetSlip("lead-is-wood", ("oak", "lead")),),
)  # fmt: skip


def typed(*texts: str, joint: str = ", ") -> str:
    """The letters of these options on the sheet of this variant."""
    assert isinstance(PART, SeveralPart)
    listed = [option.text for option in listed_options(VARIANT, PART)]
    return joint.join(sorted(letter_of(listed.index(text)) for text in texts))


CASES = [
    ((HARD, YIELD, BREAKS), 3, "right", ""),
    ((HARD, YIELD), 2, "wrong", ""),
    ((BREAKS,), 1, "wrong", ""),
    ((HARD,), 1, "slip", "cold-work-is-skin-deep"),
    ((HARD, YIELD, BREAKS, MODULUS), 2, "slip", "strength-for-stiffness"),
    ((HARD, YIELD, BREAKS, EXTENDS), 2, "slip", "hard-stretches-more"),
    ((HARD, MODULUS), 0, "slip", "strength-for-stiffness"),
    ((MODULUS, EXTENDS, PULLED), 0, "slip", "strength-for-stiffness+hard-stretches-more+strong-is-tough"),
    ((HARD, YIELD, BREAKS, MODULUS, EXTENDS, PULLED), 0, "slip",
     "strength-for-stiffness+hard-stretches-more+strong-is-tough"),
]  # fmt: skip
IDS = [f"{len(texts)} chosen, {marks} marks, {who}" for texts, marks, _, who in CASES]


@pytest.mark.parametrize(("texts", "marks", "verdict", "who"), CASES, ids=IDS)
@pytest.mark.parametrize("joint", [", ", " and ", "", " "])
def test_a_set_earns_its_right_options_less_its_wrong_ones(
    texts: tuple[str, ...], marks: int, verdict: str, who: str, joint: str
) -> None:
    out = wm.mark(VARIANT, {"b": typed(*texts, joint=joint)})["b"]
    named = tuple(sorted(who.split("+"))) if who else ()
    assert (out.marks, out.verdict, tuple(sorted(out.misconceptions))) == (D(marks), verdict, named)


@pytest.mark.parametrize("texts", [case[0] for case in CASES], ids=IDS)
def test_words_earn_what_letters_earn(texts: tuple[str, ...]) -> None:
    by_words = wm.mark(VARIANT, {"b": "\n".join(texts)})["b"]
    by_letters = wm.mark(VARIANT, {"b": typed(*texts)})["b"]
    assert replace(by_words, raw="") == replace(by_letters, raw="")


def test_a_table_is_marked_as_each_row_is_alone() -> None:
    entries = [typed(*texts) for texts, *_ in CASES] + ["", "none of them", "all", "a or b", "q", typed(HARD, YIELD)]
    frame = pd.DataFrame([{**GIVEN, "b": entry} for entry in entries])
    table = wm.mark_table(WIRE, frame)
    for row, entry in zip(table.to_dict("records"), entries, strict=True):
        out = wm.mark(VARIANT, {"b": entry})["b"]
        alone = (float(out.marks), str(out.verdict), "+".join(out.misconceptions), out.sure)
        assert (row["b.marks"], row["b.verdict"], row["b.misconceptions"], row["b.sure"]) == alone, entry


def test_in_a_table_without_all_that_is_drawn_letters_wait_and_words_are_read() -> None:
    frame = pd.DataFrame({"F": [100.0] * 3, "b": ["A, B, C", f"{HARD}, {YIELD}, {BREAKS}", "all of them"]})
    assert wm.mark_table(WIRE, frame)["b.verdict"].tolist() == ["unreadable", "right", "slip"]


@pytest.mark.parametrize("count", range(5))
def test_every_set_of_four_earns_by_the_stated_rule_and_all_of_them_nothing(count: int) -> None:
    for chosen in combinations(ONE_WRONG.options, count):
        right, wrong = sum(o.right for o in chosen), sum(not o.right for o in chosen)
        share = max(D(0), D(2) * (right - 3 * wrong) / 3)  # the one wrong option weighs as much as the three right ones
        out = mark_several(ONE_WRONG, "; ".join(o.text for o in chosen) or "none", None, Rules())
        assert out.marks == share - share % D("0.5"), [o.text for o in chosen]
        assert (out.verdict == "right") is (out.marks == 2)


def test_marks_are_whole_where_the_task_gives_whole_ones() -> None:
    assert mark_several(ONE_WRONG, "oak, ash", None, Rules()).marks == D(1)
    assert mark_several(replace(ONE_WRONG, marks=D("1.5")), "oak", None, Rules(half_marks=False)).marks == D(0)


def test_a_set_that_a_slip_describes_has_its_name_and_no_other() -> None:
    assert mark_several(ONE_WRONG, "oak, lead", None, Rules()).misconceptions == ("lead-is-wood",)
    assert mark_several(ONE_WRONG, "ash, lead", None, Rules()).misconceptions == ()


def test_what_is_wrong_and_what_is_missing_is_said() -> None:
    said = mark_several(ONE_WRONG, "oak and lead", None, Rules()).because
    assert said == "“lead” does not belong here; “ash” and “teak” are missing."
    said = mark_several(ONE_WRONG, "everything", None, Rules()).because
    assert said == "You chose all of them, which says nothing; right are “oak”, “ash” and “teak”."
    assert mark_several(ONE_WRONG, "oak, ash, teak", None, Rules()).because == "Right: these and no others."


def test_what_can_be_read_in_two_ways_has_the_kinder_marks_and_is_looked_at() -> None:
    listed = listed_options(VARIANT, ONE_WRONG)
    lead = next(i for i, option in enumerate(listed) if option.text == "lead")
    first, last = (0, 2) if lead != 1 else (1, 3)
    out = mark_several(ONE_WRONG, f"{letter_of(first)}-{letter_of(last)}", VARIANT, Rules())
    ways = [
        mark_several(ONE_WRONG, ", ".join(map(letter_of, way)), VARIANT, Rules()).marks
        for way in ((first, last), range(first, last + 1))
    ]
    assert out.marks == max(ways)
    assert bool(out.in_tray) is (ways[0] != ways[1])


@pytest.mark.parametrize("entry", ["a or b", "I do not know", "Z", "A, X", "not A"])
def test_what_names_no_set_waits_for_the_teacher(entry: str) -> None:
    out = wm.mark(VARIANT, {"b": entry})["b"]
    assert (out.verdict, out.marks, bool(out.in_tray), out.raw) == ("unreadable", D(0), True, entry)


def test_every_modelled_wrong_set_is_named_when_it_is_typed() -> None:
    found = list(wrong_answers(VARIANT, PART, Rules()))
    assert {who for whose, _ in found for who in whose} == {
        "strength-for-stiffness", "hard-stretches-more", "strong-is-tough", "cold-work-is-skin-deep",
    }  # fmt: skip
    for who, text in found:
        out = wm.mark(VARIANT, {"b": text})["b"]
        assert (out.misconceptions, out.marks < PART.marks) == (who, True)


def test_the_extension_of_a_copper_wire_is_that_of_the_law() -> None:
    """100*2/(pi/4*2.5e-3^2*117e9) m = 0.348 mm: Hooke's law, worked by hand."""
    assert wm.mark(VARIANT, {"a": "0.348 mm"})["a"].verdict == "right"
