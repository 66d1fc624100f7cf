"""The letters of options: the sheet, the answer book, the worked solution and the marker of one student agree."""

import io
import re
from collections import Counter

import openpyxl
import pandas as pd
import pytest

import witnessmark as wm
from bank_fixture import BANK
from witnessmark.documents.kinds.dispatch import lettered, letters_of, solution_blocks
from witnessmark.documents.page.blocks import Options
from witnessmark.documents.sheet.answer_book import answer_book, what_is_asked
from witnessmark.documents.sheet.asking import ask_blocks
from witnessmark.marking.class_marking import mark_returns
from witnessmark.questions.drawing.draw import draw_all
from witnessmark.questions.model.parts import ChoicePart, Kind, Part, ValueChoicePart
from witnessmark.questions.model.question import Question
from witnessmark.questions.sheet.listing import letter_of, listed_options
from witnessmark.questions.sheet.task import Ask, Entry, Return, Rules, Sheet, Student, Task
from witnessmark.questions.sheet.variant import Variant

CHOICES = [(q.key, p.key) for q in BANK.values() for p in q.parts if p.kind is Kind.CHOICE]
EVER = ["titanium alloy", "aluminium alloy", "naval brass", "galvanised steel"]
SEEDS = {f"W{n:02}": f"letters|{n}" for n in range(1, 13)}


def drawn(question: Question) -> list[Variant]:
    return list(draw_all(question, SEEDS, frozenset()).values())


def printed(variant: Variant, part: Part) -> dict[str, str]:
    """The options by letter as they stand on the sheet."""
    found = [block for block in ask_blocks(variant, part, 3) if isinstance(block, Options)]
    return dict(found[0].items)


def right_letter(variant: Variant, part: Part) -> str:
    assert isinstance(part, ChoicePart | ValueChoicePart)
    return next(letter_of(i) for i, option in enumerate(listed_options(variant, part)) if option.right)


@pytest.mark.parametrize("key", sorted(BANK.keys()))
def test_a_part_has_as_many_letters_as_its_list_on_the_sheet(key: str) -> None:
    variant = drawn(BANK[key])[0]
    for part in BANK[key].parts:
        assert letters_of(variant, part) == tuple(letter_of(n) for n in range(len(lettered(variant, part))))


@pytest.mark.parametrize(("key", "letter"), CHOICES)
def test_the_letter_on_a_students_own_sheet_is_what_is_marked(key: str, letter: str) -> None:
    question = BANK[key]
    part = question.part(letter)
    for variant in drawn(question):
        right = right_letter(variant, part)
        for shown in printed(variant, part):
            out = wm.mark(variant, {letter: shown})[letter]
            assert (out.marks == part.marks) is (shown == right)
            assert out.read_as == printed(variant, part)[shown]


@pytest.mark.parametrize(("key", "letter"), CHOICES)
def test_the_answer_book_and_the_solution_have_the_letters_of_the_sheet(key: str, letter: str) -> None:
    question = BANK[key]
    part = question.part(letter)
    for variant in drawn(question):
        sheet = printed(variant, part)
        book = re.findall(r"(?m)^([A-Z])  (.+)$", what_is_asked(Ask(1, part), variant))
        assert dict(book) == sheet
        blocks = solution_blocks(variant, part, variant.expected_si)
        right = [item for block in blocks if isinstance(block, Options) for item in block.items]
        assert right == [(right_letter(variant, part), sheet[right_letter(variant, part)])]


@pytest.mark.parametrize(("key", "letter"), CHOICES)
def test_students_have_different_orders_and_the_right_option_stands_anywhere(key: str, letter: str) -> None:
    question = BANK[key]
    part = question.part(letter)
    seeds = {f"{n}": f"spread|{n}" for n in range(60)}
    variants = list(draw_all(question, seeds, frozenset()).values())
    assert isinstance(part, ChoicePart | ValueChoicePart)
    places = Counter(right_letter(v, part) for v in variants)
    assert len(places) == len(listed_options(variants[0], part))
    assert max(places.values()) < 0.6 * len(variants)  # by chance 15 of 60; 36 would be six standard deviations off


def test_the_order_of_options_is_this_one_for_ever() -> None:
    """Worked once by this program: sheets in drawers must keep their letters, so a change here is a broken promise."""
    question = BANK["limb-strap"]
    variant = question.variant(w="10 mm", t="3.2 mm", F="500 N", E="110 GPa")
    part = question.part("a")
    assert isinstance(part, ChoicePart)
    assert [o.text for o in listed_options(variant, part)] == EVER


def sheet_of(*variants: Variant, code: str = "AAAA-AAA") -> Sheet:
    task = Task("t", "T", tuple(v.question.key for v in variants))
    return Sheet(code, task, Student("W01", "Ada Example"), variants)


def test_a_class_with_a_letter_each_is_marked_by_each_students_own_sheet() -> None:
    question = BANK["limb-strap"]
    part = question.part("a")
    sheets = {f"S{i}": sheet_of(v, code=f"S{i}") for i, v in enumerate(drawn(question))}
    letters = {code: right_letter(sheet.variants[0], part) for code, sheet in sheets.items()}
    assert len(set(letters.values())) > 1
    returns = [Return(code, "f.xlsx", (("1.a", Entry(letter)),)) for code, letter in letters.items()]
    out = mark_returns(sheets, returns, Rules())
    assert {found["1.a"].verdict for found in out.values()} == {wm.Verdict.RIGHT}


def test_the_letters_offered_in_the_book_are_as_many_as_the_options_printed() -> None:
    variant = BANK["o-ring"].draw("offered")
    book = openpyxl.load_workbook(io.BytesIO(answer_book(sheet_of(variant))))
    offered = [str(v.formula1) for v in book["Answers"].data_validations.dataValidation]
    assert offered == ['"A,B,C,D"']


def test_a_table_of_answers_is_marked_by_the_letters_of_each_row() -> None:
    question = BANK["two-pistons"]
    part = question.part("d")
    variants = drawn(question)
    names = [given.name for given in question.givens if given.value is None]
    frame = pd.DataFrame({name: [float(v.shown[name].number) for v in variants] for name in names})
    letters = frame.assign(d=[right_letter(v, part) for v in variants])
    assert len(set(letters["d"])) > 1
    assert set(wm.mark_table(question, letters)["d.verdict"]) == {"right"}
    words = frame.assign(d=[printed(v, part)[right_letter(v, part)] for v in variants])
    assert set(wm.mark_table(question, words)["d.verdict"]) == {"right"}


def test_in_a_table_without_all_that_is_drawn_letters_wait_and_words_are_read() -> None:
    question = BANK["limb-strap"]
    frame = pd.DataFrame({"F": [500.0, 500.0, 500.0], "a": ["A", "titanium alloy", "naval brass"]})
    out = wm.mark_table(question, frame)
    assert out["a.verdict"].tolist() == ["unreadable", "right", "slip"]
