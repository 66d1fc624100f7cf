"""Options on one sheet, worked by hand: one of them or several, by letters, numbers and words, with its sizes."""

import hashlib
from dataclasses import replace
from decimal import Decimal
from itertools import combinations

import pytest

import witnessmark as wm
from bank_cases import SMALL_BANK
from witnessmark.marking.kinds.choice import NO_LETTERS, mark_choice
from witnessmark.marking.kinds.several import mark_several
from witnessmark.marking.kinds.wrong_answers import wrong_letters, wrong_sets
from witnessmark.marking.outcome import Outcome, Verdict
from witnessmark.questions.model.options import Option
from witnessmark.questions.model.parts import ChoicePart, SeveralPart
from witnessmark.questions.model.slips import SetSlip
from witnessmark.questions.sheet.listing import letter_of, listed_options
from witnessmark.questions.sheet.task import Rules
from witnessmark.questions.sheet.variant import Shown, Variant

D = Decimal
SHEET = wm.load_bank(SMALL_BANK)["drain-hole"].variant(
    tau="300 MPa", d="20 mm", t="6 mm", material="mild steel", punch="high-speed steel"
)
HOLLOW = wm.load_bank(SMALL_BANK)["drain-hole"].variant(d="20 mm")
WOODS = SeveralPart(
    "a", "Which?", D(3), (Option("oak", True), Option("ash", True), Option("teak", True), Option("lead"),
                          Option("cork", misconception="light-is-wood")),
    (SetSlip("only-oak-is-wood", ("oak",)), SetSlip("heavy-is-wood", ("oak", "lead"))),
)  # fmt: skip
HOLES = SeveralPart(
    "a", "Which?", D(2), (Option("a hole of {d}", True), Option("a slot of {t}", True), Option("a saw cut")),
    (SetSlip("cuts-are-holes", ("a hole of {d}", "a saw cut")),),
)  # fmt: skip
ONE = ChoicePart(
    "a", "Which?", D(2), (Option("a hole of {d}", True), Option("a slot of {t}", misconception="slots-are-holes",
                          keeps=D("0.5")), Option("a saw cut")),
)  # fmt: skip
REPAIRED = "the entry had to be repaired before it could be read"
TWO_WAYS = "the entry can be read in two ways; the kinder one was taken"


def letters(*texts: str, part: SeveralPart | ChoicePart = WOODS) -> list[str]:
    """The letters of the options that begin so."""
    listed = [option.text for option in listed_options(SHEET, part)]
    return [letter_of(next(i for i, text in enumerate(listed) if text.startswith(begins))) for begins in texts]


def chosen(*texts: str, part: SeveralPart = WOODS) -> Outcome:
    return mark_several(part, ", ".join(letters(*texts, part=part)), SHEET, Rules())


@pytest.mark.parametrize(("texts", "marks", "verdict", "who"), [
    (("oak", "ash", "teak"), "3", Verdict.RIGHT, ()), (("oak", "ash"), "2", Verdict.WRONG, ()),
    (("oak",), "1", Verdict.SLIP, ("only-oak-is-wood",)), (("oak", "lead"), "0", Verdict.SLIP, ("heavy-is-wood",)),
    (("oak", "ash", "teak", "lead"), "1.5", Verdict.WRONG, ()),
    (("oak", "ash", "teak", "cork"), "1.5", Verdict.SLIP, ("light-is-wood",)),
    (("oak", "ash", "teak", "lead", "cork"), "0", Verdict.SLIP, ("light-is-wood",)),
    (("lead", "cork"), "0", Verdict.SLIP, ("light-is-wood",)),
])  # fmt: skip
def test_a_set_earns_a_third_for_each_right_option_less_a_half_for_each_wrong_one(
    texts: tuple[str, ...], marks: str, verdict: Verdict, who: tuple[str, ...]
) -> None:
    out = chosen(*texts)
    assert (out.marks, out.verdict, out.misconceptions, out.in_tray) == (D(marks), verdict, who, ())
    assert out.read_as == ", ".join(sorted(letters(*texts)))
    words = mark_several(WOODS, ", ".join(texts), None, Rules())
    assert (words.marks, words.verdict, words.misconceptions) == (out.marks, verdict, who)
    assert set(words.read_as.split(", ")) == set(texts)


def test_the_order_of_options_is_that_of_the_hashes_of_a_text_in_ascii_for_ever() -> None:
    """The numbers of the sheet, the part and the option's place; what is no ASCII stands in it as JSON escapes it."""
    sheet = replace(SHEET, shown={"d": Shown(D(20000), "µm")}, row_names={"material": "mild steel"})
    seeds = [
        f'["order of options 1", [["d", "20000 \\u00b5m"], ["material", "mild steel"]], "a", {n}]' for n in range(5)
    ]
    order = sorted(range(5), key=lambda n: hashlib.sha256(seeds[n].encode()).hexdigest())
    assert [option.text for option in listed_options(sheet, WOODS)] == [WOODS.options[n].text for n in order]


def test_none_is_an_answer_and_told_as_that() -> None:
    for sheet in (SHEET, None):
        out = mark_several(WOODS, "none of them", sheet, Rules())
        assert (out.marks, out.verdict, out.read_as) == (D(0), Verdict.WRONG, "none of them")


def test_one_wrong_option_is_told_by_itself_and_all_of_them_say_nothing() -> None:
    assert chosen("oak", "ash", "teak", "lead").because == "“lead” does not belong here."
    both = chosen("lead", "cork").because
    assert "do not belong here" in both
    assert "are missing" in both
    assert chosen("oak", "ash").because == "“teak” is missing."
    assert chosen("oak", "ash", "teak", "lead", "cork").because.startswith("You chose all of them, which says nothing")
    assert chosen("oak", "ash", "teak").because == "Right: these and no others."


def test_a_hyphen_may_be_a_range_or_both_ends_and_the_kinder_counts() -> None:
    seen = set()
    for first, last in combinations(range(len(WOODS.options)), 2):
        if last - first > 1:
            apart, through = (
                mark_several(WOODS, ", ".join(map(letter_of, ways)), SHEET, Rules()).marks
                for ways in ((first, last), range(first, last + 1))
            )
            out = mark_several(WOODS, f"{letter_of(first)}-{letter_of(last)}", SHEET, Rules())
            assert out.marks == max(apart, through)
            assert out.in_tray == ((TWO_WAYS,) if apart != through else ())
            seen.add((apart > through) - (apart < through))
    assert len(seen) > 1, "no pair tells the two apart"


def test_numbers_for_letters_are_a_repair_that_waits_where_the_set_is_not_right() -> None:
    listed = [option.text for option in listed_options(SHEET, WOODS)]
    for texts, tray in ((("oak", "ash", "teak"), ()), (("oak", "ash"), (REPAIRED,))):
        out = mark_several(WOODS, ", ".join(str(listed.index(text) + 1) for text in texts), SHEET, Rules())
        assert (bool(out.repairs), out.in_tray) == (True, tray)


@pytest.mark.parametrize("text", ["A, B, C", "1 2", "A-C", "abc"])
def test_letters_and_numbers_of_several_wait_where_the_sheet_is_not_known(text: str) -> None:
    for sheet in (None, HOLLOW):
        out = mark_several(WOODS, text, sheet, Rules())
        assert (out.verdict, out.in_tray) == (Verdict.UNREADABLE, (f"could not be read: {NO_LETTERS}",))
    assert mark_several(WOODS, " ", None, Rules()).verdict is Verdict.BLANK


def test_a_set_that_a_slip_describes_is_named_with_the_sizes_of_the_sheet() -> None:
    assert chosen("a hole", "a saw", part=HOLES).misconceptions == ("cuts-are-holes",)
    assert chosen("a hole", part=HOLES).misconceptions == ()
    out = mark_several(HOLES, "a hole of 20 mm and a saw cut", SHEET, Rules())
    assert out.misconceptions == ("cuts-are-holes",)


def test_wrong_sets_are_the_slips_and_what_is_right_with_each_option_that_shows_something() -> None:
    assert [(who, text.split(", ")) for who, text in wrong_sets(SHEET, WOODS)] == [
        (("only-oak-is-wood",), letters("oak")), (("heavy-is-wood",), sorted(letters("oak", "lead"))),
        (("light-is-wood",), sorted(letters("oak", "ash", "teak", "cork"))),
    ]  # fmt: skip
    assert [who for who, _ in wrong_sets(SHEET, HOLES)] == [("cuts-are-holes",)]


# One of them.


@pytest.mark.parametrize(("begins", "marks", "verdict", "who"), [
    ("a hole", "2", Verdict.RIGHT, ()), ("a slot", "0.5", Verdict.SLIP, ("slots-are-holes",)),
    ("a saw", "0", Verdict.WRONG, ()),
])  # fmt: skip
def test_one_option_counts_by_its_letter_and_by_its_words(
    begins: str, marks: str, verdict: Verdict, who: tuple[str, ...]
) -> None:
    (letter,) = letters(begins, part=ONE)
    shown = next(o.text for o in listed_options(SHEET, ONE) if o.text.startswith(begins))
    for text in (letter, shown):
        out = mark_choice(ONE, text, SHEET)
        assert (out.marks, out.verdict, out.misconceptions, out.read_as) == (D(marks), verdict, who, shown)
        assert out.in_tray == ()
    if verdict is not Verdict.RIGHT:
        assert "; the right choice is “a hole of 20" in out.because


def test_words_that_had_to_be_repaired_wait_where_they_are_not_right() -> None:
    plain = replace(ONE, options=(Option("natural rubber", True), Option("cork"), Option("leather", keeps=D(1))))
    for text, tray in (("natral rubber", ()), ("lether", (REPAIRED,)), ("cork", ())):
        assert mark_choice(plain, text, SHEET).in_tray == tray


@pytest.mark.parametrize("sheet", [None, HOLLOW])
def test_one_letter_waits_where_the_sheet_is_not_known_and_words_are_read(sheet: Variant | None) -> None:
    plain = replace(ONE, options=(Option("rubber", True), Option("cork"), Option("leather", misconception="hides")))
    for text in ("A", "b", "2", "option c", "?"):
        assert mark_choice(plain, text, sheet).in_tray == (f"could not be read: {NO_LETTERS}",), text
    found = [mark_choice(plain, text, sheet) for text in ("rubber", "cork", "leather", " ")]
    assert [(str(out.verdict), out.read_as) for out in found] == [
        ("right", "rubber"), ("wrong", "cork"), ("slip", "leather"), ("blank", ""),
    ]  # fmt: skip


def test_every_wrong_option_is_typed_by_its_letter_with_what_it_shows_or_nothing() -> None:
    listed = listed_options(SHEET, ONE)
    by_letter = {letter_of(i): o.misconception for i, o in enumerate(listed) if not o.right}
    assert {text: who for who, text in wrong_letters(listed)} == {
        letter: (name,) if name else () for letter, name in by_letter.items()
    }
