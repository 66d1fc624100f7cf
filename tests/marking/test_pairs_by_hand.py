"""Pairs on one sheet, worked by hand: shares, letters given twice, slips that change places, sizes in their words."""

from dataclasses import replace
from decimal import Decimal

import pytest

import witnessmark as wm
from bank_cases import SMALL_BANK
from witnessmark.marking.kinds.match import mark_match, marks_of, slips_shown, wrong_pairs
from witnessmark.marking.outcome import Outcome, Verdict
from witnessmark.questions.model.parts import MatchPart
from witnessmark.questions.model.slips import PairSlip
from witnessmark.questions.sheet.listing import letter_of, lettered_options, numbered_things
from witnessmark.questions.sheet.task import Rules

D = Decimal
SHEET = wm.load_bank(SMALL_BANK)["drain-hole"].variant(
    tau="300 MPa", d="20 mm", t="6 mm", material="mild steel", punch="high-speed steel"
)
WOODS = MatchPart(
    "a", "Which?", D(3), (("oar", "ash"), ("keel", "lead"), ("plank", "larch")), ("cork",),
    (PairSlip("lead-is-wood", "plank", "lead"), PairSlip("cork-is-light", "oar", "cork")),
)  # fmt: skip
RIGHT = dict(WOODS.pairs)
HOLES = MatchPart("a", "Which?", D(2), (("a hole of {d}", "drill"), ("a slot of {t}", "mill of {t}")), ("file",))
REPAIRED = "the entry had to be repaired before it could be read"


def typed(given: dict[str, str], part: MatchPart = WOODS) -> str:
    """The numbers and letters of these pairs on the sheet."""
    things, options = numbered_things(part, SHEET), lettered_options(part, SHEET)
    return ", ".join(f"{things.index(t) + 1}{letter_of(options.index(o))}" for t, o in sorted(given.items()))


def paired(given: dict[str, str], part: MatchPart = WOODS) -> Outcome:
    return mark_match(part, typed(given, part), SHEET, Rules())


@pytest.mark.parametrize(("given", "marks", "verdict", "who"), [
    (RIGHT, 3, Verdict.RIGHT, ()), (RIGHT | {"plank": "cork"}, 2, Verdict.WRONG, ()),
    (RIGHT | {"plank": "lead", "keel": "larch"}, 1, Verdict.SLIP, ("lead-is-wood",)),
    (RIGHT | {"plank": "lead"}, 1, Verdict.SLIP, ("lead-is-wood",)),
    (RIGHT | {"oar": "cork"}, 2, Verdict.SLIP, ("cork-is-light",)), ({"keel": "lead"}, 1, Verdict.WRONG, ()),
    ({"plank": "lead"}, 0, Verdict.SLIP, ("lead-is-wood",)), ({"plank": "lead", "oar": "lead"}, 0, Verdict.WRONG, ()),
    ({"plank": "lead", "oar": "cork"}, 0, Verdict.SLIP, ("lead-is-wood", "cork-is-light")),
])  # fmt: skip
def test_each_right_pair_earns_a_third_and_a_letter_that_stands_twice_earns_nothing(
    given: dict[str, str], marks: int, verdict: Verdict, who: tuple[str, ...]
) -> None:
    out = paired(given)
    assert (out.marks, out.verdict, out.misconceptions, out.in_tray) == (D(marks), verdict, who, ())
    assert marks_of(WOODS, given, Rules()) == marks
    words = mark_match(WOODS, "; ".join(f"{thing}: {option}" for thing, option in given.items()), None, Rules())
    assert (words.marks, words.verdict, words.misconceptions) == (out.marks, verdict, who)


def test_two_letters_alike_say_nothing_and_one_alone_says_what_it_says() -> None:
    assert slips_shown(WOODS, {"plank": "lead", "keel": "lead"}) == ()
    assert slips_shown(WOODS, {"plank": "lead"}) == ("lead-is-wood",)
    assert paired({"plank": "lead", "keel": "lead"}).because == (
        "You gave every number the same letter, which says nothing."
    )


def test_what_was_read_is_told_in_numbers_and_letters_and_without_a_sheet_in_words() -> None:
    two = {"keel": "lead", "oar": "ash"}
    assert set(paired(two).read_as.split(", ")) == set(typed(two).split(", "))
    assert mark_match(WOODS, "keel: lead; oar: ash", None, Rules()).read_as.split("; ") == ["oar: ash", "keel: lead"]


def test_numbers_name_what_is_wrong_and_words_where_no_sheet_is_known() -> None:
    number = numbered_things(WOODS, SHEET).index("plank") + 1
    assert paired(RIGHT | {"plank": "cork"}).because == f"Not right: {number} goes with “larch”, not with “cork”."
    out = mark_match(WOODS, "oar: ash; keel: lead; plank: cork", None, Rules())
    assert out.because == "Not right: “plank” goes with “larch”, not with “cork”."
    out = mark_match(WOODS, "keel: lead; plank: lead", None, Rules())
    assert out.because == "You gave every number the same letter, which says nothing."


def test_what_had_to_be_repaired_waits_where_it_is_not_right() -> None:
    texts = "oar: ash; keel: lead; plank: larh", "oar: larh; keel: lead"
    right, wrong = (mark_match(WOODS, text, None, Rules()) for text in texts)
    assert (right.verdict, right.in_tray, bool(right.repairs)) == (Verdict.RIGHT, (), True)
    assert (wrong.verdict, wrong.in_tray, bool(wrong.repairs)) == (Verdict.WRONG, (REPAIRED,), True)


@pytest.mark.parametrize("text", ["1a 2b 3c", "abc", "2: lead", "all b", "?"])
def test_without_a_sheet_numbers_and_letters_wait(text: str) -> None:
    out = mark_match(WOODS, text, None, Rules())
    assert (out.verdict, out.marks, bool(out.in_tray)) == (Verdict.UNREADABLE, D(0), True)
    assert mark_match(WOODS, " ", None, Rules()).verdict is Verdict.BLANK


def test_sizes_stand_in_the_words_of_a_pair_as_the_sheet_has_them() -> None:
    out = mark_match(HOLES, "a hole of 20 mm: drill; a slot of 6 mm: mill of 6 mm", SHEET, Rules())
    assert (out.verdict, out.marks) == (Verdict.RIGHT, D(2))
    out = mark_match(HOLES, "a hole of 20 mm: file; a slot of 6 mm: drill", SHEET, Rules())
    assert "“mill of 6\N{NO-BREAK SPACE}mm”, not with “drill”" in out.because
    assert mark_match(HOLES, "a hole of {d}: drill; a slot of {t}: file", None, Rules()).marks == D(1)


def test_a_balloon_of_a_figure_is_named_by_its_number_alone() -> None:
    balloons = replace(WOODS, in_figure=True)
    assert mark_match(balloons, "keel: lead", SHEET, Rules()).verdict is Verdict.UNREADABLE
    assert mark_match(balloons, typed({"keel": "lead"}, balloons), SHEET, Rules()).marks == D(1)


def test_a_modelled_wrong_pair_changes_places_with_whose_option_it_takes() -> None:
    swapped = RIGHT | {"plank": "lead", "keel": "larch"}
    found = [(who, set(text.split(", "))) for who, text in wrong_pairs(SHEET, WOODS)]
    assert found == [
        (("lead-is-wood",), set(typed(swapped).split(", "))),
        (("cork-is-light",), set(typed(RIGHT | {"oar": "cork"}).split(", "))),
    ]


def test_two_slips_that_are_one_change_of_places_are_typed_once_and_both_named() -> None:
    both = replace(WOODS, slips=(WOODS.slips[0], PairSlip("larch-sinks", "keel", "larch")))
    assert [who for who, _ in wrong_pairs(SHEET, both)] == [("lead-is-wood", "larch-sinks")]
