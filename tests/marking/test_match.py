"""Pairs of things and options: marks by pair and none for one letter everywhere, singly and by columns."""

from dataclasses import replace
from decimal import Decimal

import pandas as pd
import pytest

import witnessmark as wm
from bank_fixture import BANK
from witnessmark.documents.kinds.dispatch import right_text
from witnessmark.marking.kinds.dispatch import wrong_answers
from witnessmark.marking.kinds.match import mark_match, slips_shown
from witnessmark.questions.model.parts import MatchPart
from witnessmark.questions.model.slips import PairSlip
from witnessmark.questions.sheet.listing import letter_of, lettered_options, numbered_things
from witnessmark.questions.sheet.task import Rules

D = Decimal
PAD = BANK["tapped-pad"]
VARIANT = PAD.draw("avocet")
PART = next(part for part in PAD.parts if isinstance(part, MatchPart))
INSIDE, ON_ROD, EXACT, SUNK = PART.things
TAP, DIE, REAMER, COUNTERBORE, COUNTERSINK, DRILL = PART.options
RIGHT = dict(PART.pairs)
JIGS = MatchPart(
    "a", "Which?", D(3), (("oar", "ash"), ("keel", "lead"), ("plank", "larch")), ("cork",),
    (PairSlip("lead-is-wood", "plank", "lead"),),
)  # fmt: skip
CASES = [
    (RIGHT, 2, "right", ""),
    ({INSIDE: TAP, ON_ROD: DIE, EXACT: REAMER}, "1.5", "wrong", ""),
    ({EXACT: REAMER}, "0.5", "wrong", ""),
    (RIGHT | {INSIDE: DIE, ON_ROD: TAP}, 1, "slip", "tap-and-die-swapped"),
    (RIGHT | {EXACT: DRILL}, "1.5", "slip", "drilled-is-exact"),
    (RIGHT | {EXACT: DRILL, SUNK: COUNTERSINK}, 1, "slip", "cone-for-every-head+drilled-is-exact"),
    (RIGHT | {INSIDE: DIE}, 1, "slip", "tap-and-die-swapped"),  # a letter that is given twice says nothing of either
    (RIGHT | {SUNK: TAP}, 1, "wrong", ""),
    (dict.fromkeys(RIGHT, TAP), 0, "wrong", ""),
    (dict.fromkeys(RIGHT, COUNTERSINK), 0, "wrong", ""),
    ({INSIDE: COUNTERBORE, ON_ROD: REAMER, EXACT: TAP, SUNK: DRILL}, 0, "wrong", ""),
]
IDS = [f"{len(given)} pairs, {marks} marks, {who or verdict}" for given, marks, verdict, who in CASES]
every_case = pytest.mark.parametrize(("given", "marks", "verdict", "who"), CASES, ids=IDS)


def typed(given: dict[str, str], inside: str = "", between: str = ", ") -> str:
    """The numbers and letters of these pairs on the sheet of this variant."""
    things, options = numbered_things(PART, VARIANT), lettered_options(PART, VARIANT)
    pairs = sorted((things.index(thing) + 1, letter_of(options.index(option))) for thing, option in given.items())
    return between.join(f"{number}{inside}{letter}" for number, letter in pairs)


@every_case
@pytest.mark.parametrize(("inside", "between"), [("", ", "), ("-", " "), (": ", "\n")])
def test_pairs_earn_a_share_each_and_wrong_ones_are_named(
    given: dict[str, str], marks: str, verdict: str, who: str, inside: str, between: str
) -> None:
    out = wm.mark(VARIANT, {"a": typed(given, inside, between)})["a"]
    named = tuple(sorted(who.split("+"))) if who else ()
    assert (out.marks, out.verdict, tuple(sorted(out.misconceptions))) == (D(marks), verdict, named)


@every_case
def test_words_earn_what_numbers_and_letters_earn(given: dict[str, str], marks: str, verdict: str, who: str) -> None:
    by_words = wm.mark(VARIANT, {"a": "\n".join(f"{thing}: {option}" for thing, option in given.items())})["a"]
    assert replace(by_words, raw="") == replace(wm.mark(VARIANT, {"a": typed(given)})["a"], raw="")


@pytest.mark.parametrize("option", PART.options)
def test_one_letter_at_every_number_earns_nothing_and_names_nothing(option: str) -> None:
    out = wm.mark(VARIANT, {"a": f"all {letter_of(lettered_options(PART, VARIANT).index(option))}"})["a"]
    assert (out.marks, out.misconceptions, out.verdict) == (D(0), (), "wrong")


def test_letters_in_the_order_of_the_numbers_earn_what_pairs_earn() -> None:
    letters = [pair[-1] for pair in typed(RIGHT).split(", ")]
    for text in ("".join(letters), " ".join(letters).lower(), ", ".join(letters)):
        assert wm.mark(VARIANT, {"a": text})["a"].verdict == "right", text


def test_a_table_is_marked_as_each_row_is_alone() -> None:
    entries = [typed(given) for given, *_ in CASES] + ["", "all a", "1a or 2b", "q", "1z", typed({SUNK: DRILL})]
    numbers = {"L": float(VARIANT.shown["L"].number)}
    frame = pd.DataFrame([{"thread": VARIANT.row_names["thread"], **numbers, "a": entry} for entry in entries])
    table = wm.mark_table(PAD, frame)
    for row, entry in zip(table.to_dict("records"), entries, strict=True):
        out = wm.mark(VARIANT, {"a": entry})["a"]
        alone = (float(out.marks), str(out.verdict), "+".join(out.misconceptions), out.sure)
        assert (row["a.marks"], row["a.verdict"], row["a.misconceptions"], row["a.sure"]) == alone, entry


def test_in_a_table_without_all_that_is_drawn_letters_wait_and_words_are_read() -> None:
    words = "; ".join(f"{thing}: {option}" for thing, option in RIGHT.items())
    frame = pd.DataFrame({"L": [20.0] * 3, "a": [typed(RIGHT), words, f"1: {TAP}"]})
    assert wm.mark_table(PAD, frame)["a.verdict"].tolist() == ["unreadable", "right", "unreadable"]


def test_marks_are_whole_where_the_task_gives_whole_ones() -> None:
    two = wm.mark(VARIANT, {"a": typed({INSIDE: TAP, ON_ROD: DIE, EXACT: REAMER})}, Rules(half_marks=False))["a"]
    assert two.marks == D(1)
    assert mark_match(replace(JIGS, marks=D(2)), "oar: ash", None, Rules()).marks == D("0.5")


def test_what_is_wrong_given_twice_and_left_open_is_said() -> None:
    said = mark_match(JIGS, "oar: ash; plank: lead", None, Rules()).because
    assert said == "Not right: “plank” goes with “larch”, not with “lead”. Left open: “keel”."
    said = mark_match(JIGS, "oar: ash; keel: lead; plank: lead", None, Rules()).because
    assert said == (
        "Not right: “plank” goes with “larch”, not with “lead”. Given twice, where it fits one number at most: “lead”."
    )
    said = mark_match(JIGS, "oar: cork; keel: cork; plank: cork", None, Rules()).because
    assert said == "You gave every number the same letter, which says nothing."
    assert mark_match(JIGS, "oar: ash; keel: lead; plank: larch", None, Rules()).because == "Right: every pair."


@pytest.mark.parametrize("entry", ["1a or 1b", "I do not know", "1Z", "9A", "A", "1"])
def test_what_pairs_nothing_waits_for_the_teacher(entry: str) -> None:
    out = wm.mark(VARIANT, {"a": entry})["a"]
    assert (out.verdict, out.marks, bool(out.in_tray), out.raw) == ("unreadable", D(0), True, entry)


def test_every_modelled_wrong_pair_is_named_when_it_is_typed() -> None:
    found = list(wrong_answers(VARIANT, PART, Rules()))
    assert {who for whose, _ in found for who in whose} == {slip.misconception for slip in PART.slips}
    for who, text in found:
        out = wm.mark(VARIANT, {"a": text})["a"]
        assert (out.misconceptions, out.marks < PART.marks) == (who, True)


def test_the_right_pairs_as_they_are_printed_are_right_on_every_sheet() -> None:
    for question in BANK.values():
        for part in question.parts:
            if isinstance(part, MatchPart):
                for seed in ("teal", "gannet", "knot"):
                    variant = question.draw(seed)
                    out = wm.mark(variant, {part.key: right_text(variant, part, None)})[part.key]
                    assert (out.verdict, out.marks) == ("right", part.marks), question.key


def test_things_and_options_stand_in_an_order_of_each_students_own() -> None:
    variants = [PAD.draw(f"student {n}") for n in range(24)]
    assert len({numbered_things(PART, variant) for variant in variants}) > 9
    assert len({lettered_options(PART, variant) for variant in variants}) > 9
    right = {right_text(variant, PART, None) for variant in variants}
    assert len(right) > 9, "the same pairs would be right on too many sheets"
    assert all(sorted(lettered_options(PART, variant)) == sorted(PART.options) for variant in variants)


def test_a_wrong_pair_is_named_beside_others_that_are_left_open() -> None:
    assert slips_shown(JIGS, {"plank": "lead"}) == ("lead-is-wood",)
    assert slips_shown(JIGS, {"plank": "lead", "keel": "lead", "oar": "lead"}) == ()
