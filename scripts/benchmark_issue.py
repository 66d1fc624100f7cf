"""What `issue` costs above what no program can leave out: typst on ready text, and the packing of ready books.

Run with `python scripts/benchmark_issue.py [STUDENTS]` when nothing else runs: a class of six questions (1,000 students
by default; fewer say the same of each sheet, but share out the loading of the bank among fewer). The floor is measured
in the same run, on one core. Of three runs that take turns the least counts. Prints seconds of the clock, ratios, and
how many times as fast two processes are.
"""

import io
import sys
import tempfile
import time
import zipfile
from collections.abc import Callable, Sequence
from pathlib import Path

from benchmark_class import NOW, prepared
from witnessmark.documents.page.pdf import compiled, ready
from witnessmark.documents.sheet.answer_book import answer_book
from witnessmark.documents.sheet.sheet import sheet_document
from witnessmark.documents.workbook.prepared import packed
from witnessmark.files.bank.folder import load_bank
from witnessmark.jobs.crew import Crew, every_core, one_hand
from witnessmark.jobs.figures import figures_of
from witnessmark.jobs.issuing import issue
from witnessmark.jobs.opened import open_class
from witnessmark.questions.sheet.task import Sheet

BANK = Path(__file__).parents[1] / "bank"
RUNS = 3
SAMPLE = 100
"""Sheets that the floor is measured on, and scaled from where there are more."""
LIMIT = 1.3
LEAST_GAIN = 1.8


def seconds(act: Callable[[], object]) -> float:
    """Seconds of the clock that something takes."""
    start = time.perf_counter()
    act()
    return time.perf_counter() - start


def issued(folder: Path, students: int, crew: Crew) -> float:
    """Seconds in which a fresh class is issued its task."""
    prepared(folder, students)
    return seconds(lambda: issue(folder, "big", NOW, crew=crew))


def floor_of(sheets: Sequence[Sheet]) -> float:
    """Seconds a sheet of typst on ready text and of packing ready books."""
    figures = load_bank(BANK).figures_path
    texts = [ready([sheet_document(sheet, figures_of(sheet, figures))]) for sheet in sheets]
    books = [members(answer_book(sheet)) for sheet in sheets]
    compiled(texts[0])
    typst = seconds(lambda: [compiled(text) for text in texts])
    packing = seconds(lambda: [packed(book) for book in books])
    print(f"floor on one core: typst {typst / len(sheets):.4f} s a sheet, packing {packing / len(sheets):.4f} s")
    return (typst + packing) / len(sheets)


def members(book: bytes) -> dict[str, bytes]:
    """The content of a ready book."""
    with zipfile.ZipFile(io.BytesIO(book)) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def main() -> int:
    """The whole run; 1 where a limit is missed."""
    students = int(sys.argv[1]) if len(sys.argv) > 1 else 1_000
    ones, twos, floors = [], [], []
    for _run in range(RUNS):
        with tempfile.TemporaryDirectory() as temporary:
            ones.append(issued(Path(temporary) / "one", students, one_hand))
            twos.append(issued(Path(temporary) / "two", students, lambda count: every_core(count, cores=2)))
            with open_class(Path(temporary) / "one").record() as record:
                sheets = record.sheets("big")[:SAMPLE]
        floors.append(floor_of(sheets) * students)
    one, two, floor = min(ones), min(twos), min(floors)
    if students > SAMPLE:
        print(f"the floor is scaled from {SAMPLE} sheets to {students}")
    print(f"one core {one:.1f} s, floor {floor:.1f} s; ratio {one / floor:.2f} (limit {LIMIT:g})")
    print(f"two cores {two:.1f} s, half the floor {floor / 2:.1f} s; ratio {two / floor * 2:.2f} (limit {LIMIT:g})")
    print(f"two cores against one: {one / two:.2f} times as fast (at least {LEAST_GAIN:g})")
    return int(one / floor > LIMIT or one / two < LEAST_GAIN)


if __name__ == "__main__":
    raise SystemExit(main())
