"""Issue, mark and return a task of 6 questions for many students; prints seconds, rates, peak memory and a ratio.

Run with `python scripts/benchmark_class.py [STUDENTS]` (1,000 by default) when nothing else runs. The floor of the
ratio is typst compiling the same sheets from data that is ready, in the same run.
"""

import csv
import resource
import sys
import tempfile
import time
from datetime import UTC, datetime
from pathlib import Path

import openpyxl

from witnessmark.documents.page.pdf import compiled, pdfs_of, ready
from witnessmark.documents.sheet.sheet import sheet_document
from witnessmark.files.bank.folder import load_bank
from witnessmark.files.class_folder.folder import start_class
from witnessmark.jobs.figures import figures_of
from witnessmark.jobs.issuing import issue
from witnessmark.jobs.marking import mark
from witnessmark.jobs.opened import open_class
from witnessmark.jobs.returning import return_feedback
from witnessmark.questions.model.kinds import unit_asked
from witnessmark.questions.sheet.answer_places import answer_cells

NOW = datetime(2027, 1, 4, tzinfo=UTC)
BANK = Path(__file__).parents[1] / "bank"
QUESTIONS = ("rod-shroud", "bottle-jack", "glued-lap", "punch-work", "tube-strut", "press-limit")


def prepared(folder: Path, students: int) -> None:
    """A class with many students and one task."""
    start_class(folder, "Benchmark", BANK, NOW)
    with (folder / "students.csv").open("w", newline="", encoding="utf-8") as file:
        rows = [["code", "name", "group"], *([f"B{n:04}", f"Apprentice {n}", f"Yard {n % 5}"] for n in range(students))]
        csv.writer(file).writerows(rows)
    text = f"task: big\ntitle: Big task\nquestions: [{', '.join(QUESTIONS)}]\ndue: 2027-02-01\n"
    (folder / "tasks" / "big.yaml").write_text(text, encoding="utf-8")


def handed_in(folder: Path) -> None:
    """Every answer book filled in, four results in five right, one in five a third too large."""
    with open_class(folder).record() as record:
        sheets = record.sheets("big")
    for sheet in sheets:
        book = openpyxl.load_workbook(folder / "issued" / "big" / "books" / f"{sheet.student.code}.xlsx")
        page = book.worksheets[0]
        expected = [v.expected for v in sheet.variants]
        for n, (ask, cells) in enumerate(zip(sheet.asks, answer_cells(sheet).values(), strict=True)):
            if ask.line is None and ask.within in expected[ask.number - 1]:
                value = expected[ask.number - 1][ask.within]
                page[cells[0]] = f"{float(value.magnitude) * (1.3 if n % 5 == 0 else 1.0):.4g}"
                page[cells[1]] = unit_asked(ask.part).replace("*", "")
        book.save(folder / "returned" / "big" / f"{sheet.student.code}.xlsx")


def timed(what: str, act: object, count: int) -> float:
    """Run, print seconds and rate, return seconds."""
    start = time.perf_counter()
    act()  # type: ignore[operator]
    seconds = time.perf_counter() - start
    print(f"{what:34} {seconds:8.1f} s  {count / seconds:8.1f} sheets/s")
    return seconds


def main() -> None:
    """The whole run."""
    students = int(sys.argv[1]) if len(sys.argv) > 1 else 1_000
    with tempfile.TemporaryDirectory() as temporary:
        folder = Path(temporary) / "class"
        prepared(folder, students)
        timed("issue (PDF, HTML, books, table)", lambda: issue(folder, "big", NOW), students)
        handed_in(folder)
        timed("mark", lambda: mark(folder, "big", NOW), students)
        timed("return (feedback PDF, gradebook)", lambda: return_feedback(folder, "big", NOW), students)
        pdf_ratio(folder)
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"peak memory {peak:.0f} MiB")


def pdf_ratio(folder: Path) -> None:
    """Time of sheets to PDF, from stored variants, over typst's time on the same sheets' ready data."""
    with open_class(folder).record() as record:
        sheets = record.sheets("big")
    figures = load_bank(BANK).figures_path
    whole = timed("sheets to PDF", lambda: list(
        pdfs_of(sheet_document(s, figures_of(s, figures)) for s in sheets)), len(sheets))  # fmt: skip
    texts = [ready([sheet_document(s, figures_of(s, figures))]) for s in sheets]
    floor = timed("floor: typst from ready text", lambda: [compiled(text) for text in texts], len(sheets))
    print(f"ratio {whole / floor:.2f}")


if __name__ == "__main__":
    main()
