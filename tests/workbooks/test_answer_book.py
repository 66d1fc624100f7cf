"""Answer books: a place for every answer and nothing else to change, looked at with another library than wrote them."""

import io
import re
import zipfile
from dataclasses import replace
from decimal import Decimal
from typing import Any

import openpyxl
import pytest

from documents.drain_hole import drain_hole
from witnessmark.documents.sheet.answer_book import HOW_TO, answer_book
from witnessmark.questions.model.parts import HandPart
from witnessmark.questions.sheet.answer_places import answer_cells, answer_places
from witnessmark.questions.sheet.task import Sheet, Student
from workbooks.books import ANSWERS, BY_CODE, FIRST, member


@pytest.fixture(scope="module")
def data() -> bytes:
    return answer_book(FIRST)


@pytest.fixture(scope="module")
def book(data: bytes) -> Any:
    return openpyxl.load_workbook(io.BytesIO(data))


def test_every_ask_has_its_label_in_its_row(book: Any) -> None:
    labels = [book["Answers"][f"A{place.row}"].value for place in answer_places(FIRST)]
    assert labels == ["1a A_s", "1a", "1b A_p", "1b", "1c", "2a", "2b", "2c", "2d", "2e", "2f"]


def test_addresses_are_fixed() -> None:
    assert answer_cells(FIRST) == {
        "1.a.A_s": ("C7", "D7"), "1.a": ("C8", "D8"), "1.b.A_p": ("C9", "D9"), "1.b": ("C10", "D10"),
        "1.c": ("C11", ""), "2.a": ("C13", "D13"), "2.b": ("C14", ""), "2.c": ("C15", ""),
        "2.d": ("C16", ""), "2.e": ("C17", ""), "2.f": ("C18", ""),
    }  # fmt: skip


def test_only_the_places_for_answers_are_open(book: Any) -> None:
    page = book["Answers"]
    assert page.protection.sheet
    assert not page.protection.password
    answers = {cell for pair in answer_cells(FIRST).values() for cell in pair if cell}
    answers |= {"C20"}  # the note
    open_cells = {c.coordinate for row in page for c in row if not c.protection.locked}
    joined = {"D11", "D14", "D15", "D16", "D17", "D18", "D20", "E20"}  # second halves of joined cells
    assert open_cells - joined == answers
    assert joined - {"D20"} <= {str(area).split(":")[1] for area in page.merged_cells.ranges}


def test_every_open_cell_is_text_so_that_no_program_takes_a_date_for_it(book: Any) -> None:
    answers = [cell for pair in answer_cells(FIRST).values() for cell in pair if cell]
    assert {book["Answers"][cell].number_format for cell in answers} == {"@"}


def test_the_sheet_code_stands_in_three_places(book: Any) -> None:
    assert book["Answers"]["B2"].value == FIRST.code
    assert book["Answers"]["B2"].protection.locked
    assert book["witness mark"]["B1"].value == FIRST.code
    assert book["witness mark"].sheet_state == "veryHidden"
    assert {p.name: p.value for p in book.custom_doc_props.props} == {"sheet code": FIRST.code}


def test_names_lead_to_the_cells(book: Any) -> None:
    targets = {name: named.attr_text for name, named in book.defined_names.items()}
    assert targets["answer_2"] == "'Answers'!$C$8"
    assert targets["answer_2_unit"] == "'Answers'!$D$8"
    assert targets["note_to_teacher"] == "'Answers'!$C$20"
    assert len(targets) == 1 + sum(bool(cell) for pair in answer_cells(FIRST).values() for cell in pair)


def test_the_students_name_does_not_travel(data: bytes) -> None:
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        for name in archive.namelist():
            assert b"Maren" not in archive.read(name)
            assert b"Tolk" not in archive.read(name)
    assert "S01" in member(data, "xl/worksheets/sheet1.xml")


def test_yes_and_no_and_letters_are_offered_and_only_warned_about(book: Any) -> None:
    rules = {rule.formula1: rule for rule in book["Answers"].data_validations.dataValidation}
    assert {f: str(rule.sqref) for f, rule in rules.items()} == {'"yes,no"': "C11", '"A,B,C"': "C14"}
    assert {rule.errorStyle for rule in rules.values()} == {"warning"}
    assert all(rule.allow_blank for rule in rules.values())


def test_lines_are_said_to_be_optional(book: Any) -> None:
    page = book["Answers"]
    hints = {place.ask.label: page[f"E{place.row}"].value for place in answer_places(FIRST)}
    assert hints["1a A_s"] == "in mm², may stay empty"
    assert hints["1a"] == "a number in kN"
    assert {hints[label] for label in ("1c", "2b")} == {"yes or no", "one letter of A, B and C"}


def test_what_is_asked_is_in_the_students_numbers_with_lettered_options(book: Any) -> None:
    page = book["Answers"]
    assert page["B11"].value == "Will a punch of compressive strength 1800\u00a0MPa survive? (1 mark)"
    options = dict(line.split("  ") for line in page["B14"].value.split("\n")[1:])
    assert list(options) == ["A", "B", "C"]
    assert set(options.values()) == {"smaller", "the same", "larger"}
    assert page["B15"].value.split("\n")[1:] == [
        "A  Lift a hand's breadth and wait", "B  Lift to height", "C  Look over the sling and its label",
        "D  Take up the slack",
    ]  # fmt: skip


def test_the_instructions_are_two_sentences(book: Any) -> None:
    assert book["Answers"]["A4"].value == HOW_TO
    assert len(re.findall(r"[.!?](?:\s|$)", HOW_TO)) == 2


def test_it_prints_on_one_page_of_a4_in_width(book: Any) -> None:
    page = book["Answers"]
    assert page.page_setup.paperSize == 9
    assert (page.page_setup.fitToWidth, page.page_setup.fitToHeight) == (1, 0)
    assert page.sheet_properties.pageSetUpPr.fitToPage
    assert page.print_title_rows == "$5:$5"
    assert page.freeze_panes == "A6"


def test_the_same_sheet_gives_the_same_bytes_and_another_other_ones(data: bytes) -> None:
    assert answer_book(FIRST) == data
    assert len({answer_book(sheet) for sheet in BY_CODE.values()}) == len(BY_CODE)


def test_no_time_is_written_into_it(data: bytes) -> None:
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        assert {info.date_time for info in archive.infolist()} == {(1980, 1, 1, 0, 0, 0)}
    assert not re.search(r"20\d\d-\d\d-\d\dT", member(data, "docProps/core.xml"))


def test_there_is_no_macro_and_no_formula_in_it(data: bytes) -> None:
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        assert not [name for name in archive.namelist() if "vba" in name.lower()]
        assert not [name for name in archive.namelist() if b"<f>" in archive.read(name)]


def test_text_that_looks_like_a_formula_is_written_as_text() -> None:
    variant = drain_hole()
    part = HandPart("c", "=1+1 is what?", Decimal(1), (("it is sketched", Decimal(1)),))
    question = replace(variant.question, title="=cmd|' /C calc'!A0", parts=(part,))
    task, variants = replace(FIRST.task, questions=("drain-hole",)), (replace(variant, question=question),)
    made = replace(FIRST, task=task, variants=variants, student=Student("=S01", "x"))
    page = openpyxl.load_workbook(io.BytesIO(answer_book(made, {"1.c": ("=2+2", "")})))["Answers"]
    assert page["B7"].value.startswith("=1+1")
    assert {cell.data_type for row in page for cell in row if cell.value} == {"s"}


@pytest.mark.parametrize("text", ["\x00\x07", "\ud800", "\ufffe", "x" * 40_000])
def test_any_text_at_all_can_be_written(text: str) -> None:
    page = openpyxl.load_workbook(io.BytesIO(answer_book(FIRST, {"1.a": (text, "")})))["Answers"]
    shown = page["C8"].value
    assert len(shown) == 32_767 if len(text) > 32_767 else shown.count("[U+") == len(text)


def test_typed_answers_are_filled_in_for_the_demo() -> None:
    page = openpyxl.load_workbook(io.BytesIO(answer_book(FIRST, ANSWERS)))["Answers"]
    assert (page["C8"].value, page["D8"].value) == ("94,2", "kN")


def test_a_sheet_of_one_question_has_one_title() -> None:
    one: Sheet = replace(FIRST, task=replace(FIRST.task, questions=("drain-hole",)), variants=FIRST.variants[:1])
    page = openpyxl.load_workbook(io.BytesIO(answer_book(one)))["Answers"]
    assert page["A6"].value == "1  Punching a drain hole"
    assert page.max_row == 13
    assert [page[cell].value for cell in ("A12", "A13", "C13")] == [None, "Note", None]
