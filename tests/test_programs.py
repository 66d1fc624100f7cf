"""The programs that the tests look with do look, and their absence is not passed over."""

import struct
from pathlib import Path

import openpyxl
import pytest
import xlsxwriter

from programs import convert, needed, pictures, screenshot, worked_out


def size_of(picture: Path) -> tuple[int, int]:
    """Width and height of a PNG file (its first chunk, IHDR)."""
    width, height = struct.unpack(">II", picture.read_bytes()[16:24])
    return width, height


@pytest.fixture
def workbook(tmp_path: Path) -> Path:
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet["A1"], sheet["A2"], sheet["A3"] = 70.5, 3, "=A1*A2"
    book.save(tmp_path / "book.xlsx")
    return tmp_path / "book.xlsx"


def test_libreoffice_opens_a_workbook_and_saves_it_again(workbook: Path, soffice: Path, tmp_path: Path) -> None:
    table = convert(soffice, workbook, "csv", tmp_path / "again")
    assert table.read_text(encoding="utf-8").split() == ["70.5", "3", "211.5"]


def test_libreoffice_works_a_formula_out_itself_only_where_it_is_told_to(soffice: Path, tmp_path: Path) -> None:
    book = xlsxwriter.Workbook(tmp_path / "stored.xlsx")
    book.add_worksheet().write_formula("A1", "=2+2", value=5)
    book.close()
    table = worked_out(soffice, tmp_path / "stored.xlsx", "csv", tmp_path / "worked")
    assert table.read_text(encoding="utf-8").split() == ["4"]


def test_a_workbook_can_be_looked_at_as_a_picture(
    workbook: Path, soffice: Path, pdftoppm: Path, tmp_path: Path
) -> None:
    pdf = convert(soffice, workbook, "pdf", tmp_path / "again")
    pages = pictures(pdftoppm, pdf, tmp_path, dots_per_inch=72)
    assert len(pages) == 1
    assert min(size_of(pages[0])) > 590  # A4 and letter paper are 595 and 612 points wide


def test_chromium_makes_a_picture_of_a_page(chromium: Path, tmp_path: Path) -> None:
    page = tmp_path / "page.html"
    page.write_text("<!doctype html><title>Bench</title><p>Keel bolt</p>", encoding="utf-8")
    assert size_of(screenshot(chromium, page.as_uri(), tmp_path / "page.png", (640, 480))) == (640, 480)


def test_a_missing_program_skips_a_test_with_the_reason(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("CI", raising=False)
    with pytest.raises(pytest.skip.Exception, match=r"lofting-table is missing \(Debian: apt-get install loft\)"):
        needed("lofting-table", "loft")


def test_a_missing_program_fails_a_test_in_ci(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("CI", "true")
    with pytest.raises(pytest.fail.Exception, match="under CI=true nothing is skipped"):
        needed("lofting-table", "loft")
