"""What a student is told of each kind of explanation, word for word, at the drain hole of the small bank."""

from dataclasses import replace
from typing import Any

import pytest

from bank_cases import SMALL_BANK
from witnessmark.files.bank.folder import load_bank
from witnessmark.marking.hypotheses.hypotheses import Factor, Hypothesis
from witnessmark.marking.hypotheses.wording import (
    WILL_LOOK,
    asked_text,
    because,
    converted_sentence,
    empty_sentence,
    factor_text,
    figures_sentence,
    note_of_edit,
    symbols_of,
    value_text,
)
from witnessmark.marking.outcome import Verdict
from witnessmark.questions.working.methods import dimensions, methods_at, places

HOLE = load_bank(SMALL_BANK).questions["drain-hole"]
PLACES = {place.key: place for place in places(HOLE, 3)}
RIGHT, *SLIPS = methods_at(PLACES["a"], dimensions(HOLE))


def told(kind: str, place: str = "a", slip: int | None = None, **more: Any) -> str:
    """What is said of 94.2 kN where 113 kN is right."""
    method = RIGHT if slip is None else SLIPS[slip]
    return because(PLACES[place], Hypothesis(kind, 7, Verdict.EDIT, method, **more), HOLE, "94.2 kN", "113 kN")


IN_FULL = "but 94.2 kN was rounded too early; in full it is 113 kN."
SAID = {
    "right": "Right: 94.2 kN is the punching force with your numbers.",
    "carried": "Your working here is right: 94.2 kN follows from your own earlier result.",
    "carried early": "Your working here is right, from your own earlier result, but 94.2 kN was rounded too early.",
    "each rounded": "Right: 94.2 kN is the punching force with your numbers, every step rounded on the way.",
    "other g": "Right: 94.2 kN is the punching force with g as it is usually taken, not as this task takes it.",
    "rounded early": f"Your method is right, {IN_FULL}",
    "coarse constant": f"Your method is right, {IN_FULL}",
    "sign": "The size of 94.2 kN is right, but its sign is not: look at what was taken from what.",
}


@pytest.mark.parametrize("kind", SAID)
def test_each_way_of_working_rightly_is_told_so_in_the_students_own_numbers(kind: str) -> None:
    assert told(kind) == SAID[kind]


def test_what_begins_the_right_number_or_follows_from_an_own_one_was_cut_off() -> None:
    end = "cut off where it should be rounded to the nearest digit."
    assert told("cut off") == f"Your method is right; 94.2 kN is the beginning of 113 kN, {end}"
    own = f"Your method is right; 94.2 kN follows from your own earlier result, {end}"
    assert told("cut off", carried=(0,)) == own


def test_a_slip_of_the_fingers_is_told_beside_what_was_meant() -> None:
    end = f"with a slip of the fingers: two digits may have changed places, or one was typed twice; {WILL_LOOK}."
    assert told("digits") == f"94.2 kN may be 113 kN {end}"
    assert told("digits", carried=(0,)) == f"94.2 kN may be what follows from your own earlier result, {end}"


def test_a_power_of_ten_and_a_conversion_are_told_with_their_size_and_their_units() -> None:
    looks = "look at the units and prefixes."
    thousand = told("power of ten", factor=Factor(1000.0, 3))
    assert thousand == f"Your method is right, but 94.2 kN is a thousand times too large: {looks}"
    hundredth = told("power of ten", factor=Factor(0.01, -2))
    assert hundredth == f"Your method is right, but 94.2 kN is a hundred times too small: {looks}"
    between = told("conversion", factor=Factor(9.81, 0, "kilogram-force and newton"))
    went = "a conversion between kilogram-force and newton went wrong on the way to 94.2 kN."
    assert between == f"Your method is right, but {went}"
    assert [factor_text(n) for n in (1, -3, 7)] == [
        "ten times too large", "a thousand times too small", "10^7 times too large",
    ]  # fmt: skip


def test_what_was_done_is_told_with_its_formulas_in_symbols() -> None:
    done = ("{tau*d} stood in the place of {2*t}", "pi were left out")
    said = "τ × d stood in the place of 2 × t and pi were left out"
    assert told("edit", done=done) == f"94.2 kN is what comes out if {said}; {WILL_LOOK}."
    assert told("rarer edit", done=done[1:]) == f"94.2 kN is what comes out if pi were left out; {WILL_LOOK}."
    assert told("not converted", done=done) == f"Your method is right, but {said} on the way to 94.2 kN."


def test_an_edit_that_is_no_one_mistake_is_told_to_the_teacher_alone() -> None:
    for kind in ("edit", "two edits"):
        assert told(kind, done=("pi were left out",), told=False) == f"This is not the right value; {WILL_LOOK}."
    edit = Hypothesis("two edits", 7, Verdict.EDIT, SLIPS[0], done=("d were used twice", "{t} were left out"))
    note = note_of_edit(edit, HOLE, "94.2 kN")
    assert note.startswith("94.2 kN is what τ × ")
    assert note.endswith("gives with this student's numbers: d were used twice and t were left out")


def test_a_slip_is_told_by_its_formula_how_it_shows_and_what_else_is_off() -> None:
    (name,) = SLIPS[0].misconceptions
    said = f"94.2 kN is what τ × π × d² / 4 gives with your numbers. {HOLE.misconceptions[name].shows}"
    assert told("slip", slip=0) == told("slip carried", slip=0) == told("two slips", slip=0) == said
    assert told("slip and power of ten", slip=0) == f"{said} The power of ten is off as well."
    assert told("slip and sign", slip=0) == f"{said} The sign is turned as well."
    assert told("slip").endswith("gives with your numbers; that is not the punching force.")


def test_a_place_is_called_by_what_its_line_or_its_part_is() -> None:
    assert [asked_text(PLACES[key]) for key in ("a.A_s", "a", "b")] == [
        "the sheared area", "the punching force", "the punch stress",
    ]  # fmt: skip
    nameless = replace(PLACES["a"], part=replace(PLACES["a"].part, is_=""))
    assert asked_text(nameless) == "the answer"


def test_symbols_are_those_of_givens_and_of_lines_that_have_one() -> None:
    part = PLACES["a"].part
    with_symbol = replace(part, lines=tuple(replace(line, symbol="A_S") for line in part.lines))
    question = replace(HOLE, parts=(with_symbol, *HOLE.parts[1:]))
    assert symbols_of(question) == {"tau": "τ", "A_s": "A_S"}


def test_a_value_is_told_to_four_figures() -> None:
    assert value_text(94_247.8, "kN") == "94.25\xa0kN"
    assert value_text(94_247.8, "kN", 2) == "94\xa0kN"


def test_what_is_blank_unreadable_or_unknown_is_told_as_that() -> None:
    assert empty_sentence(Verdict.BLANK, "") == "No answer was entered here."
    known = "This entry could not be read (two numbers); your teacher will look at it."
    assert empty_sentence(Verdict.UNREADABLE, "two numbers") == known
    assert empty_sentence(Verdict.UNREADABLE, "") == "This entry could not be read; your teacher will look at it."
    assert empty_sentence(Verdict.EDIT, "") == f"This is not the right value; {WILL_LOOK}."
    none = f"This is not the right value, and no known method gives it; {WILL_LOOK}."
    assert empty_sentence(Verdict.UNEXPLAINED, "") == none


def test_a_conversion_that_leads_to_the_right_value_names_the_unit_that_is_wanted() -> None:
    said = (
        "9600 kg leads to the right value by the factor between kilogram-force and newton; the answer is wanted in kN."
    )
    assert converted_sentence("9600 kg", "kilogram-force and newton", "kN") == said
    assert figures_sentence(3) == "Write it to 3 significant figures."
