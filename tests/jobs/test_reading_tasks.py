"""A class is set readings: the printed sheet, the answer book and the class table tell none of them; all are marked."""

import re
from pathlib import Path
from zipfile import ZipFile

import pytest

from documents.pages import words_of_pdf
from jobs.small_class import LATER, NOW, hand_in, sheets_of, small_class, write_task
from witnessmark.jobs.issuing import issue
from witnessmark.jobs.marking import mark
from witnessmark.jobs.opened import open_class
from witnessmark.questions.sheet.task import Sheet

KEYS = ("bore-by-vernier", "pin-by-micrometer")
TASK = "readings"


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = small_class(tmp_path_factory.mktemp("readings") / "class")
    write_task(made, f"[{', '.join(KEYS)}]", TASK)
    issue(made, TASK, NOW)
    return made


@pytest.fixture(scope="module")
def sheet(folder: Path) -> Sheet:
    return sheets_of(folder, TASK)["HB01"]


def readings(sheet: Sheet) -> set[str]:
    """What is to be read, as it might be printed."""
    values = [float(v.expected["a"].to("mm").magnitude) for v in sheet.variants]
    values += [float(v.expected["b"].to("mm").magnitude) for v in sheet.variants]
    return {f"{value:.2f}" for value in values} | {f"{value:g}" for value in values}


def words_in_books(folder: Path) -> str:
    """Every text and number of the workbooks that are handed out."""
    found = []
    for book in folder.rglob("*.xlsx"):
        with ZipFile(book) as parts:
            found += [re.sub(r"<[^>]+>", " ", parts.read(name).decode()) for name in parts.namelist() if "xml" in name]
    return " ".join(found)


def test_no_sheet_answer_book_or_class_table_tells_a_reading(folder: Path, sheet: Sheet, tmp_path: Path) -> None:
    pdfs = [path for path in folder.rglob("*.pdf") if sheet.student.code in path.name or sheet.code in path.name]
    assert pdfs
    books = words_in_books(folder)
    printed = " ".join(words_of_pdf(pdfs[0].read_bytes(), tmp_path))
    assert "A pin in the micrometer" in printed
    settings = " ".join(v.question.setting for v in sheet.variants)
    named = {given.is_ for v in sheet.variants for given in v.question.givens if given.in_figure}
    hidden = {words for words in named if words not in settings}
    assert len(hidden) > 2
    for text in (printed, books):
        assert {value for value in readings(sheet) if re.search(rf"(?<![\d.]){re.escape(value)}(?!\d)", text)} == set()
        assert {words for words in hidden if words in text} == set()


def test_right_readings_are_marked_right_and_a_wrong_sign_is_named(folder: Path, sheet: Sheet) -> None:
    bore, pin = sheet.variants
    wrong = float((pin.given["z"] * 2 + pin.expected["b"]).to("mm").magnitude)
    typed = {"1.a": f"{bore.expected['a']:.4g~P}", "1.b": f"{bore.expected['b']:.4g~P}",
             "2.a": f"{pin.expected['a']:.4g~P}", "2.b": f"{wrong:.2f} mm"}  # fmt: skip
    hand_in(folder, sheet, typed, task=TASK)
    mark(folder, TASK, LATER)
    with open_class(folder).record() as record:
        found = record.outcomes(TASK)[sheet.code]
    assert [str(found[key].verdict) for key in typed] == ["right", "right", "right", "slip"]
    assert found["2.b"].misconceptions == ("zero-error-with-the-wrong-sign",)
