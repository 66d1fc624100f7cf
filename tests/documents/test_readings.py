"""The table of a question as it is printed and filled in: once, ruled, with every reading and a place for each cell."""

import io
import re
from decimal import Decimal
from pathlib import Path

import openpyxl
import pytest

from bank_fixture import BANK
from documents.pages import words_of_pdf
from witnessmark.documents.feedback.feedback import feedback_document
from witnessmark.documents.kinds.dispatch import solution_blocks
from witnessmark.documents.page.blocks import Ask, Document, Formula, Note, Readings, Typed, Words, inside
from witnessmark.documents.page.pdf import pdf_of
from witnessmark.documents.sheet.answer_book import answer_book
from witnessmark.documents.sheet.class_table import class_table
from witnessmark.documents.sheet.offline import offline_page
from witnessmark.documents.sheet.sheet import given_rows, sheet_document
from witnessmark.marking.outcome import Outcome, Verdict
from witnessmark.questions.drawing.draw import draw
from witnessmark.questions.sheet.task import Layout, Sheet, Student, Task

CELLS = tuple(f"a{row}" for row in range(1, 6))


def sheet_of(*keys: str, layout: Layout = Layout.ROOMY) -> Sheet:
    variants = tuple(draw(BANK[key], f"printed|{key}") for key in keys)
    return Sheet("XC5V-8688", Task("t", "Readings", keys, layout=layout), Student("A01", ""), variants)


@pytest.fixture(scope="module")
def sheet() -> Sheet:
    """A sheet with a table of cells and one of data alone."""
    return sheet_of("pull-on-a-rod", "hardness-of-a-plate")


def tables_of(document: Document) -> list[Readings]:
    return [one for block in document.blocks for one in inside(block) if isinstance(one, Readings)]


@pytest.mark.parametrize("layout", list(Layout), ids=str)
def test_every_question_has_its_table_once_with_all_readings_as_they_were_read(layout: Layout) -> None:
    made = sheet_of("pull-on-a-rod", "heating-mat", layout=layout)
    rod, mat = tables_of(sheet_document(made, {}))
    assert [len(table.rows) for table in (rod, mat)] == [5, 4]
    for number, row in enumerate(mat.rows, 1):
        shown = [str(made.variants[1].shown[f"{column}_{number}"].number) for column in "UI"]
        assert [cell.runs for cell in row[:3]] == [(Words(text),) for text in (str(number), *shown)]
        assert [cell.key for cell in row] == ["", "", "", f"a{number}"]


def test_a_column_is_asked_once_and_its_readings_stand_in_the_table_alone(sheet: Sheet) -> None:
    asks = [one for b in sheet_document(sheet, {}).blocks for one in inside(b) if isinstance(one, Ask)]
    assert [(ask.letter, ask.marks) for ask in asks[:3]] == [
        ("a", "½ mark a row, 2½ marks"), ("b", "2 marks"), ("c", "1 mark")
    ]  # fmt: skip
    assert [row.is_ for row in given_rows(sheet.variants[0])] == [
        "diameter of the rod", "distance of the clips", "step of the force"
    ]  # fmt: skip


def test_the_printed_page_has_every_reading_in_its_row(sheet: Sheet, tmp_path: Path) -> None:
    words = " ".join(words_of_pdf(pdf_of(sheet_document(sheet, {})), tmp_path))
    shown = sheet.variants[0].shown
    rows = [f"{n} {shown[f'F_{n}'].number} {shown[f'x_{n}'].number}" for n in range(1, 6)]
    assert all(row in words for row in rows), words


def test_feedback_repeats_the_table_with_what_was_entered_in_its_cells(sheet: Sheet) -> None:
    rod = sheet.variants[0]
    given = {"1.a1": "0.123", "1.a2": "", "1.b": "200 GPa"}
    outcomes = {
        ask.key: Outcome(Decimal(0), Decimal(1), Verdict.UNEXPLAINED, "Because.", raw=given.get(ask.key, ""))
        for ask in sheet.asks if ask.line is None
    }  # fmt: skip
    document = feedback_document(sheet, outcomes)
    back, plate = tables_of(document)
    readings = [[cell.runs for cell in row[1:3]] for row in back.rows]
    assert readings == [
        [(Words(f"{rod.shown[f'{column}_{n}'].number}"),) for column in "Fx"] for n in range(1, 6)
    ]  # fmt: skip
    assert [row[3].runs for row in back.rows] == [(Typed("0.123"),), *[(Typed("–"),)] * 4]
    assert not [cell.key for table in (back, plate) for row in table.rows for cell in row if cell.key]
    assert pdf_of(document).startswith(b"%PDF")


def test_the_page_that_can_be_filled_in_has_one_field_for_each_cell_without_a_field_for_its_unit(sheet: Sheet) -> None:
    page = offline_page(sheet_document(sheet, {}), sheet)
    fields = re.findall(r'<input class="place"[^>]*data-key="([\w.]+)"', page)
    assert fields == [*(f"1.{key}" for key in CELLS), "1.b", "1.c", "2.a", "2.b", "2.c"]
    assert re.findall(r'data-unit="([\w.]+)"', page) == ["1.b", "1.c"]
    assert [ask.key for ask in sheet.asks] == fields


def test_the_answer_book_and_the_class_table_have_a_place_for_each_cell(sheet: Sheet) -> None:
    answers = openpyxl.load_workbook(io.BytesIO(answer_book(sheet)))["Answers"]
    labels = [cell.value for cell in answers["A"]]
    assert [f"1{key}" for key in CELLS] == [label for label in labels if label and str(label).startswith("1a")]
    heads = [cell.value for cell in openpyxl.load_workbook(io.BytesIO(class_table([sheet]))).worksheets[0][1]]
    assert heads[4:-1] == [*(f"1{key}" for key in CELLS), "1b", "1c", "2a", "2b", "2c"]


def test_the_working_of_a_slope_and_a_spread_tells_their_sums(sheet: Sheet) -> None:
    rod, plate = sheet.variants
    for variant, key, sum_of in ((rod, "b", "the products add up to"), (plate, "b", "the squares add up to")):
        blocks = solution_blocks(variant, variant.question.part(key), variant.expected_si)
        notes = " ".join(run.text for b in blocks if isinstance(b, Note) for run in b.runs if isinstance(run, Words))
        assert sum_of in notes
        assert len([b for b in blocks if isinstance(b, Formula)]) == 2
