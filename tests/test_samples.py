"""The samples in `exports`: each is listed, small, whole, and of an invented class."""

import json
import re
import subprocess
import zipfile
from pathlib import Path

import pytest
from python_calamine import CalamineWorkbook

from documents.pages import Page, words_of_pdf

EXPORTS = Path(__file__).parents[1] / "exports"
LISTED = re.findall(r"\]\((sample-[\w.-]+)\)", (EXPORTS / "README.md").read_text(encoding="utf-8"))
LARGEST = 150_000
CODE = re.compile(r"[0-9A-Z]{4}-[0-9A-Z]{4}")


def test_what_is_committed_is_what_is_listed() -> None:
    done = subprocess.run(
        ["git", "ls-files", "--", "."], cwd=EXPORTS, capture_output=True, text=True, check=False, timeout=60
    )
    if done.returncode:
        pytest.skip("not a working copy of git")
    assert sorted(done.stdout.split()) == sorted(["COMMANDS.md", "README.md", *LISTED])


@pytest.mark.parametrize("name", LISTED)
def test_a_sample_is_small_and_tells_nothing_of_the_machine_that_made_it(name: str) -> None:
    file = EXPORTS / name
    assert 1_000 < file.stat().st_size <= LARGEST
    parts = [file.read_bytes()]
    if zipfile.is_zipfile(file):
        with zipfile.ZipFile(file) as archive:
            parts = [archive.read(member) for member in archive.namelist()]
    for part in parts:
        assert not re.search(rb"/(?:work|home|Users|tmp)/\w", part), f"a path of the machine stands in {name}"


def test_the_pdf_samples_are_of_the_same_sheet_as_the_answer_book(tmp_path: Path) -> None:
    codes = set()
    for name in ("sample-sheet.pdf", "sample-feedback.pdf"):
        pages = words_of_pdf((EXPORTS / name).read_bytes(), tmp_path)
        found = [CODE.search(page) for page in pages]
        assert all(found)
        codes |= {code[0] for code in found if code}
    rows = CalamineWorkbook.from_path(EXPORTS / "sample-answer-book.xlsx").get_sheet_by_index(0).to_python()
    codes |= {match[0] for row in rows for cell in row if (match := CODE.fullmatch(str(cell)))}
    assert len(codes) == 1


def test_the_gradebook_sample_and_the_review_sample_count_the_same_students() -> None:
    book = CalamineWorkbook.from_path(EXPORTS / "sample-gradebook.xlsx")
    texts = [str(cell) for row in book.get_sheet_by_index(0).to_python() for cell in row]
    review = json.loads((EXPORTS / "sample-review.json").read_text(encoding="utf-8"))
    assert texts.count("not returned") == len(review["outstanding"]) == review["issued"] - review["returned"]
    words = Page((EXPORTS / "sample-review.html").read_text(encoding="utf-8")).words
    assert f"Returned {review['returned']} of {review['issued']}" in words
    assert all(item["sheet_code"] in words for item in review["in_tray"])


@pytest.mark.parametrize("name", [name for name in LISTED if name.endswith(".png")])
def test_a_picture_is_a_whole_png_file(name: str) -> None:
    """PNG (Third Edition), W3C 2025: the signature of 8 bytes, and the chunk that ends the file."""
    data = (EXPORTS / name).read_bytes()
    assert data.startswith(b"\x89PNG\r\n\x1a\n")
    assert data.endswith(b"\x00\x00\x00\x00IEND\xaeB\x60\x82")
