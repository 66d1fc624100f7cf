"""Folders of returned files with everything that can be wrong; each function fills one."""

import zipfile
from pathlib import Path
from typing import Any

import openpyxl

from witnessmark.documents.sheet.answer_book import answer_book
from witnessmark.documents.sheet.class_table import class_table
from witnessmark.files.workbooks import archive as workbook_archive
from witnessmark.questions.sheet.sheet_codes import sheet_code
from workbooks.books import ANSWERS, FIRST, SECOND, SHEETS, THIRD, changed, opened, with_member, write_book

ELSEWHERE = sheet_code("winter-9", "S01", 1)
NAMES = (
    'xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" '
    'xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" '
    'xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0"'
)


def empty(folder: Path) -> None:
    folder.mkdir(exist_ok=True)


def still_open(folder: Path) -> None:
    write_book(folder / "S01.xlsx")
    (folder / "~$S01.xlsx").write_bytes(b"x")


def open_in_libreoffice(folder: Path) -> None:
    write_book(folder / "S01.xlsx")
    (folder / ".~lock.S01.xlsx#").write_bytes(b"x")


def a_photograph(folder: Path) -> None:
    (folder / "IMG_1.jpg").write_bytes(b"\xff\xd8")


def no_type(folder: Path) -> None:
    (folder / "S01").write_bytes(b"")


def nothing_in_it(folder: Path) -> None:
    (folder / "S01.xlsx").write_bytes(b"")


def a_page_called_xlsx(folder: Path) -> None:
    (folder / "S01.xlsx").write_text("<html></html>")


def a_document_called_xlsx(folder: Path) -> None:
    with zipfile.ZipFile(folder / "S01.xlsx", "w") as archive:
        archive.writestr("word/document.xml", "<w/>")


def cut_short(folder: Path) -> None:
    path = write_book(folder / "S01.xlsx")
    path.write_bytes(path.read_bytes()[:3000])


def a_page_that_is_not_xml(folder: Path) -> None:
    with_member(folder / "S01.xlsx", "xl/workbook.xml", b"<workbook")


def an_impossible_address(folder: Path) -> None:
    page = b'<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData><row><c r="1A" '
    with_member(
        folder / "S01.xlsx", "xl/worksheets/sheet1.xml", page + b't="n"><v>1</v></c></row></sheetData></worksheet>'
    )


def with_a_password(folder: Path) -> None:
    container = workbook_archive.OLD_CONTAINER + bytes(600) + workbook_archive.ENCRYPTED
    (folder / "S01.xlsx").write_bytes(container)


def an_ods_with_a_password(folder: Path) -> None:
    with zipfile.ZipFile(folder / "S01.ods", "w") as archive:
        archive.writestr("content.xml", b"\x01\x02")
        archive.writestr("META-INF/manifest.xml", b"<m:encryption-data/>")


def an_older_format(folder: Path) -> None:
    (folder / "S01.xlsx").write_bytes(workbook_archive.OLD_CONTAINER + bytes(600))


def a_bomb_of_entities(folder: Path) -> None:
    bomb = b'<!DOCTYPE x [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;">]><sst>&b;</sst>'
    with_member(folder / "S01.xlsx", "xl/sharedStrings.xml", bomb)


def a_bomb_of_noughts(folder: Path) -> None:
    with_member(folder / "S01.xlsx", "xl/media/image1.png", bytes(workbook_archive.LARGEST_UNPACKED))


def a_cell_at_the_end_of_the_world(folder: Path) -> None:
    changed(folder / "S01.xlsx", {"XFD1048576": "x"})


def an_ods_that_repeats_a_cell(folder: Path) -> None:
    cell = '<table:table-cell table:number-columns-repeated="16384"><text:p>x</text:p></table:table-cell>'
    row = f'<table:table-row table:number-rows-repeated="1048576">{cell}</table:table-row>'
    table = f'<table:table table:name="a">{row}</table:table>'
    content = f"<office:document-content {NAMES}>{table}</office:document-content>"
    with zipfile.ZipFile(folder / "S01.ods", "w") as archive:
        archive.writestr("content.xml", content)


def too_many_members(folder: Path) -> None:
    with zipfile.ZipFile(folder / "S01.xlsx", "w") as archive:
        for n in range(workbook_archive.MOST_MEMBERS + 1):
            archive.writestr(str(n), "")


def a_huge_file(folder: Path) -> None:
    with (folder / "S01.xlsx").open("wb") as file:
        file.truncate(workbook_archive.LARGEST_FILE + 1)


def another_workbook(folder: Path) -> None:
    book = openpyxl.Workbook()
    book.worksheets[0]["A1"] = "shopping"
    book.save(folder / "S01.xlsx")


def the_class_table(folder: Path) -> None:
    (folder / "class-table.xlsx").write_bytes(class_table(SHEETS))


def a_code_with_a_wrong_character(folder: Path) -> None:
    book = opened()
    del book["witness mark"]
    del book.custom_doc_props["sheet code"]
    book["Answers"]["B2"] = "NYWH-DH74"
    book.save(folder / "S01.xlsx")


def another_class(folder: Path) -> None:
    changed(folder / "a.xlsx", {"B2": ELSEWHERE, "witness mark!B1": ELSEWHERE})
    _property(folder / "a.xlsx", ELSEWHERE)


def another_task(folder: Path) -> None:
    changed(folder / "a.xlsx", {"B2": ELSEWHERE, "witness mark!B1": ELSEWHERE, "witness mark!B2": "winter-9"})
    _property(folder / "a.xlsx", ELSEWHERE)


def _property(path: Path, code: str) -> None:
    book: Any = openpyxl.load_workbook(path)
    book.custom_doc_props["sheet code"].value = code
    book.save(path)


def another_sheets_code_pasted_over(folder: Path) -> None:
    changed(folder / "S01.xlsx", {"B2": SECOND.code})


def named_for_another_student(folder: Path) -> None:
    write_book(folder / "S02 answers.xlsx")


def named_by_another_sheets_code(folder: Path) -> None:
    write_book(folder / f"{SECOND.code}.xlsx")


def a_row_deleted(folder: Path) -> None:
    book = opened()
    book["Answers"]["A8"] = None
    del book.defined_names["answer_2"]
    book.save(folder / "S01.xlsx")


def notes_beside_the_answers(folder: Path) -> None:
    book = opened()
    book["Answers"]["G8"], book["Answers"]["A40"] = "see over", "x" * 100
    book.create_sheet("Working")["B2"] = "F = 3"
    book.save(folder / "S01.xlsx")


def the_same_twice(folder: Path) -> None:
    write_book(folder / "S01 (1).xlsx")
    write_book(folder / "S01.xlsx")


def two_different(folder: Path) -> None:
    for name, force in (("a.xlsx", "1"), ("b/c.xlsx", "2")):
        write_book(folder / name, FIRST, ANSWERS | {"1.a": (force, "kN")})


def folders_without_end(folder: Path) -> None:
    (folder / "/".join("d" * 22)).mkdir(parents=True)


def a_scan_named_for_a_student(folder: Path) -> None:
    (folder / "S02 sheet.pdf").write_bytes(b"%PDF")


def a_table_among_the_books(folder: Path) -> None:
    (folder / "paper.csv").write_text("student,1a")


def another_archive(folder: Path) -> None:
    (folder / "books.rar").write_bytes(b"Rar!")


def an_older_workbook(folder: Path) -> None:
    (folder / "S01.xls").write_bytes(workbook_archive.OLD_CONTAINER)


def _archive(folder: Path, **members: bytes) -> None:
    with zipfile.ZipFile(folder / "all.zip", "w") as archive:
        archive.writestr("north/.DS_Store", b"x")
        for name, content in members.items():
            archive.writestr(f"{name}", content)


def an_archive_of_books(folder: Path) -> None:
    books = {f"north/{owner.student.code}.xlsx": answer_book(owner, ANSWERS) for owner in (FIRST, THIRD)}
    _archive(folder, **books)


def an_archive_with_a_picture(folder: Path) -> None:
    _archive(folder, **{"IMG_1.jpg": b"x", "../../S01.xlsx": answer_book(FIRST, ANSWERS)})


def a_broken_archive(folder: Path) -> None:
    (folder / "all.zip").write_bytes(b"PK")


def a_row_put_in_by_hand(folder: Path) -> None:
    book = opened()
    page = book["Answers"]
    page.insert_rows(8)
    page["B8"], page["C8"] = "my second try", "95 kN"
    book.save(folder / "S01.xlsx")
