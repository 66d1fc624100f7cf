"""A compact sheet: at least a third fewer pages, no question parted, each place for an answer beside what it is for."""

import re
from dataclasses import replace
from pathlib import Path

import pytest

from documents.pages import words_of_pdf
from witnessmark.documents.page.pdf import pdf_of
from witnessmark.documents.sheet.sheet import sheet_document
from witnessmark.files.bank.folder import load_bank
from witnessmark.jobs.figures import figures_of
from witnessmark.questions.drawing.draw import draw_class
from witnessmark.questions.sheet.task import Layout, Sheet, Student, Task

BANK = load_bank(Path(__file__).parents[2] / "bank")
DEMO = ("drain-hole", "clevis-pin", "bottle-jack")  # the demo's task
EIGHT = (*DEMO, "keel-bolt", "plank-sag", "cable-drop", "tube-strut", "shaft-twist")


def sheet_of(keys: tuple[str, ...], layout: Layout, working: int = 0) -> Sheet:
    """A sheet of these questions."""
    task = Task("t", "Winter sheet", keys, layout=layout, working=working)
    variants = tuple(draw_class(BANK[key], task, ["A01"], frozenset())["A01"] for key in keys)
    return Sheet("XC5V-8688", task, Student("A01", ""), variants)


def pages_of(sheet: Sheet, folder: Path) -> list[str]:
    """The words of each page."""
    return words_of_pdf(pdf_of(sheet_document(sheet, figures_of(sheet, BANK.figures_path))), folder)


@pytest.mark.parametrize("keys", [DEMO, EIGHT], ids=["demo", "eight questions"])
def test_a_compact_sheet_takes_a_third_fewer_pages_and_parts_no_question(keys: tuple[str, ...], tmp_path: Path) -> None:
    roomy = pages_of(sheet_of(keys, Layout.ROOMY), tmp_path)
    compact = pages_of(sheet_of(keys, Layout.COMPACT), tmp_path)
    assert len(compact) * 3 <= len(roomy) * 2, f"{len(compact)} pages against {len(roomy)}"
    for key in keys:
        question = BANK[key]
        asks = [" ".join(part.ask.split("{")[0].split()[:3]) for part in question.parts]
        (page,) = [page for page in compact if re.search(rf"\d {re.escape(question.title)}", page)]
        assert all(ask in page for ask in asks), f"{key}: a part on another page than its question"


def test_both_layouts_have_the_same_places_to_write(tmp_path: Path) -> None:
    def letters(layout: Layout) -> int:
        return " ".join(pages_of(sheet_of(DEMO, layout), tmp_path)).count("=")

    assert letters(Layout.ROOMY) == letters(Layout.COMPACT) == 14


def test_room_for_working_stands_at_every_part_where_the_task_wants_it(tmp_path: Path) -> None:
    parts = sum(len(BANK[key].parts) for key in DEMO)
    for layout in Layout:
        with_room = pages_of(sheet_of(DEMO, layout, working=3), tmp_path)
        assert " ".join(with_room).count("Working") == parts
        assert "Working" not in " ".join(pages_of(sheet_of(DEMO, layout), tmp_path))


def test_a_question_longer_than_a_page_goes_on_with_its_next_part(tmp_path: Path) -> None:
    long = replace(sheet_of(("drain-hole",), Layout.COMPACT).task, working=20)
    sheet = replace(sheet_of(("drain-hole",), Layout.COMPACT), task=long)
    pages = pages_of(sheet, tmp_path)
    assert len(pages) == 4
    assert all("of 4" in page for page in pages)
