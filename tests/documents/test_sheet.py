"""A student's sheet: their numbers in the text, what they need to know, where they write, and nothing of others."""

from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from typing import TypeVar

import pytest

from bank_fixture import BANK
from documents.drain_hole import DRAIN_HOLE, FIGURE, drain_hole, rigging, sheet
from documents.pages import Page, words_of_pdf
from witnessmark.documents.page.blocks import AnswerBox, Ask, Beside, Document, Figure, Options, inside
from witnessmark.documents.page.html import html_of
from witnessmark.documents.page.pdf import pdf_of
from witnessmark.documents.page.wordings import date_text, filled, marks_text, marks_words, symbols_of
from witnessmark.documents.sheet.sheet import given_rows, sheet_document
from witnessmark.maths.printing.spoken import spoken
from witnessmark.maths.printing.symbols import symbol_for, symbol_of
from witnessmark.questions.model import kinds
from witnessmark.questions.model.parts import OrderPart
from witnessmark.questions.sheet.listing import listed_steps
from witnessmark.questions.sheet.variant import taking_g

B = TypeVar("B")


def of_kind(document: Document, kind: type[B]) -> list[B]:
    """Every block of one kind, in order."""
    return [b for block in document.blocks for b in inside(block) if isinstance(b, kind)]


def read(document: Document) -> str:
    """The words of the page, all spaces plain."""
    return Page(html_of(document)).words


def test_the_setting_holds_the_students_own_numbers() -> None:
    words = read(sheet_document(sheet(drain_hole("16", "2.5")), {}))
    assert "A galley floor plate, 2.5 mm thick, is mild steel. A round drain hole 16 mm in diameter is punched" in words
    assert "{" not in words


def test_a_placeholder_of_nothing_is_an_error() -> None:
    with pytest.raises(KeyError, match="thickness"):
        filled("It is {thickness} thick.", drain_hole())
    with pytest.raises(KeyError):
        filled("It is {material.colour}.", drain_hole())


def test_a_cell_of_text_can_stand_in_the_setting() -> None:
    metals = DRAIN_HOLE.tables["sheet-metals"]
    rows = {"mild steel": {**metals.rows["mild steel"], "grade": "S275"}}
    question = replace(DRAIN_HOLE, tables={**DRAIN_HOLE.tables, "sheet-metals": replace(metals, rows=rows)})
    assert filled("Grade {material.grade}.", replace(drain_hole(), question=question)) == "Grade S275."


@pytest.mark.parametrize("key", list(BANK), ids=str)
def test_a_given_a_line_and_a_result_never_look_alike(key: str) -> None:
    """A part `d` that has a symbol of its own leaves the letter d to the given of that name."""
    question = BANK[key]
    symbols = symbols_of(question)
    givens = [str(symbol_for(g.name, symbols)) for g in question.givens if g.is_]
    assert givens == [str(symbol_of(g.symbol or g.name)) for g in question.givens if g.is_]
    results = [str(symbol_of(letter)) for part in question.parts if (letter := kinds.symbol_of(part))]
    for part in question.parts:
        seen = [*givens, *results, *(str(symbol_for(line.name, symbols)) for line in kinds.lines_of(part))]
        assert len(set(seen)) == len(seen), seen


def test_every_value_that_the_work_needs_is_in_the_table_of_givens() -> None:
    rows = [
        (spoken(r.symbol) if r.symbol else "", r.is_, getattr(r.value, "text", "")) for r in given_rows(drain_hole())
    ]
    assert rows == [
        ("tau", "shear strength", "300\u00a0MPa"),
        ("d", "hole diameter", "20\u00a0mm"),
        ("t", "plate thickness", "5\u00a0mm"),
        ("", "compressive strength of O1", "1800\u00a0MPa"),
    ]


def test_a_named_constant_is_told_with_its_value() -> None:
    told = [(r.is_, getattr(r.value, "text", "")) for r in given_rows(rigging())]
    assert told[-1] == ("acceleration of free fall", "9.81\u00a0m/s²")
    by_ten = [(r.is_, getattr(r.value, "text", "")) for r in given_rows(taking_g(rigging(), Decimal(10)))]
    assert by_ten == [*told[:-1], ("acceleration of free fall", "10\u00a0m/s²")]


def test_the_sheet_code_is_large_on_page_one_and_at_the_foot_of_every_page(tmp_path: Path) -> None:
    pages = words_of_pdf(pdf_of(sheet_document(sheet(), {1: FIGURE})), tmp_path)
    assert len(pages) > 1
    assert pages[0].count("K7Q4-M2P") == 2
    assert all(page.count("K7Q4-M2P") == 1 for page in pages[1:])
    assert [f"page {n} of {len(pages)}" in page for n, page in enumerate(pages, 1)] == [True] * len(pages)


def test_a_name_stands_on_the_sheet_only_when_it_is_asked_for() -> None:
    coded, named = (html_of(sheet_document(sheet(), {}, with_name=wanted)) for wanted in (False, True))
    assert "S07" in coded
    assert "Ada" not in coded
    assert "S07, Ada Example" in named


def test_every_ask_has_a_place_to_write_with_its_unit() -> None:
    boxes = of_kind(sheet_document(sheet(), {}), AnswerBox)
    assert len(boxes) == len(sheet().asks)
    assert [b.unit for b in boxes if b.unit] == ["mm²", "kN", "mm²", "MPa", "kN"]
    assert [b.hint for b in boxes if b.is_line] == [
        "sheared area (optional, 1 mark)", "face area of the punch (optional, 1 mark)",
    ]  # fmt: skip
    assert [b.choices for b in boxes if b.choices] == [("yes", "no")]


def test_options_are_lettered_and_nothing_tells_which_is_right() -> None:
    options = of_kind(sheet_document(sheet(rigging()), {}), Options)
    assert [letter for letter, _ in options[0].items] == ["A", "B", "C"]
    assert {text for _, text in options[0].items} == {"smaller", "the same", "larger"}


def test_steps_are_listed_as_they_are_marked_and_never_in_their_right_order() -> None:
    order = rigging().question.part("c")
    assert isinstance(order, OrderPart)
    listed = of_kind(sheet_document(sheet(rigging()), {}), Options)[1].items
    assert tuple(text for _, text in listed) == listed_steps(order, rigging())
    already = OrderPart("a", "", Decimal(1), ("Clean", "Drill", "Fit"))
    assert listed_steps(already, None) == ("Fit", "Drill", "Clean")


def test_marks_are_told_for_each_part_and_in_all() -> None:
    document = sheet_document(sheet(), {})
    marks = [a.marks for a in of_kind(document, Ask)]
    assert marks[:3] == ["3 marks", "2 marks", "1 mark"]
    assert "Marks 16½" in read(document)


def test_cautions_stand_with_their_question_and_at_the_end() -> None:
    words = read(sheet_document(sheet(drain_hole()), {}))
    assert words.index("A press closes with more force") < words.index("Find the force needed")
    assert "Do not size a press, a jack, a vessel or a lifting point from them" in words


def test_a_narrow_figure_stands_beside_the_text_and_a_wide_one_below() -> None:
    narrow = sheet_document(sheet(drain_hole()), {1: FIGURE})
    wide = sheet_document(sheet(drain_hole()), {1: replace(FIGURE, width=300.0)})
    assert (len(of_kind(narrow, Beside)), len(of_kind(wide, Beside))) == (1, 0)
    assert [f.alt for f in of_kind(wide, Figure)] == [FIGURE.alt]


def test_expected_results_are_not_on_the_sheet() -> None:
    words = read(sheet_document(sheet(), {1: FIGURE}))
    assert "94.2" not in words
    assert "314" not in words


@pytest.mark.parametrize(
    ("marks", "text", "words"),
    [("3", "3", "3 marks"), ("1", "1", "1 mark"), ("0.5", "½", "½ mark"), ("2.50", "2½", "2½ marks"),
     ("0", "0", "0 marks"), ("10", "10", "10 marks"), ("0.25", "0.25", "0.25 mark")],
)  # fmt: skip
def test_marks_are_written_as_people_write_them(marks: str, text: str, words: str) -> None:
    assert (marks_text(Decimal(marks)), marks_words(Decimal(marks))) == (text, words)


def test_a_date_names_its_month_in_any_locale() -> None:
    due = sheet().task.due
    assert due
    assert date_text(due) == "5 March 2027"
