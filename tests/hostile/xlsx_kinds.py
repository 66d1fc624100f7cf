"""Workbooks (.xlsx) that want more than an answer book may: each function writes one file into a folder."""

import io
import struct
import zipfile
from pathlib import Path

import openpyxl
import pytest

from hostile.packing import MAIN, sheet_xml, xlsx, zipped
from witnessmark.documents.sheet.answer_book import answer_book
from workbooks.books import ANSWERS, FIRST, with_member

PAGE = "xl/worksheets/sheet1.xml"


def _book() -> bytes:
    return answer_book(FIRST, ANSWERS)


def _one(folder: Path, rows: str) -> None:
    xlsx(folder / "x.xlsx", rows)


def an_attribute_that_hides_an_address(folder: Path) -> None:
    _one(folder, '<row><c x=">" r="XFD1048576"><v>1</v></c><c r="A1"><v>1</v></c></row>')


def a_hyphen_in_a_prefix(folder: Path) -> None:
    page = sheet_xml(
        '<row><c r="A1"><v>1</v></c></row><row><a-b:c xmlns:a-b="urn:x" r="XFD1048576"><v>1</v></a-b:c></row>'
    )
    xlsx(folder / "x.xlsx", "", more={PAGE: page})


def a_prefixed_page_at_the_end_of_the_world(folder: Path) -> None:
    page = f"<s-x:worksheet {MAIN.replace('xmlns', 'xmlns:s-x')}><s-x:sheetData><s-x:row>"
    page += '<s-x:c r="XFD1048576"><s-x:v>1</s-x:v></s-x:c></s-x:row></s-x:sheetData></s-x:worksheet>'
    xlsx(folder / "x.xlsx", "", more={PAGE: page})


def three_million_cells_without_addresses(folder: Path) -> None:
    _one(folder, ("<row>" + "<c><v>1</v></c>" * 3000 + "</row>") * 1000)


def a_thousand_pages(folder: Path) -> None:
    xlsx(folder / "x.xlsx", "<row>" + "<c><v>1</v></c>" * 2000 + "</row>", pages=1000)


def a_hundred_pages_of_one_big_one(folder: Path) -> None:
    xlsx(folder / "x.xlsx", ("<row>" + "<c><v>1</v></c>" * 500 + "</row>") * 100, pages=100)


def two_corners(folder: Path) -> None:
    _one(folder, '<row><c r="A1"><v>1</v></c></row><row r="1048576"><c r="XFD1048576"><v>1</v></c></row>')


def a_row_number_of_thirty_digits(folder: Path) -> None:
    _one(folder, f'<row r="{"9" * 30}"><c><v>1</v></c></row>')


def a_column_without_end(folder: Path) -> None:
    _one(folder, f'<row><c r="{"Z" * 30}1"><v>1</v></c></row>')


def a_cell_of_forty_megabytes(folder: Path) -> None:
    _one(folder, f'<row><c r="A1" t="inlineStr"><is><t>{"x" * 41_000_000}</t></is></c></row>')


def a_cell_of_a_million_characters(folder: Path) -> None:
    _one(folder, f'<row><c r="A1" t="inlineStr"><is><t>{"x" * 1_000_000}</t></is></c></row>')


def a_shared_text_used_without_end(folder: Path) -> None:
    shared = f"<sst {MAIN}><si><t>{'x' * 30_000}</t></si></sst>"
    rows = ("<row>" + '<c t="s"><v>0</v></c>' * 200 + "</row>") * 800
    xlsx(folder / "x.xlsx", rows, more={"xl/sharedStrings.xml": shared})


def steps_inwards_without_end(folder: Path) -> None:
    _one(folder, "<x>" * 200_000 + "</x>" * 200_000)


def steps_inwards_in_the_properties(folder: Path) -> None:
    with_member(folder / "x.xlsx", "docProps/custom.xml", b"<x>" * 100_000 + b"</x>" * 100_000)


def attributes_without_end(folder: Path) -> None:
    _one(folder, "<row " + " ".join(f'a{n}="1"' for n in range(100_000)) + "/>")


def a_formula_of_a_million_characters(folder: Path) -> None:
    _one(folder, f'<row><c r="A1"><f>{"1+" * 500_000}1</f></c></row>')


def a_shared_formula_that_is_its_own(folder: Path) -> None:
    _one(folder, '<row><c r="A1"><f t="shared" ref="A1:XFD1048576" si="0">A1</f><v>1</v></c></row>')


def an_array_formula_over_everything(folder: Path) -> None:
    _one(folder, '<row><c r="A1"><f t="array" ref="A1:XFD1048576">1</f><v>1</v></c></row>')


def a_merged_area_of_everything(folder: Path) -> None:
    merged = '<mergeCells count="1"><mergeCell ref="A1:XFD1048576"/></mergeCells>'
    xlsx(folder / "x.xlsx", "", more={PAGE: sheet_xml('<row><c r="A1"><v>1</v></c></row>', merged)})


def a_size_that_lies(folder: Path) -> None:
    page = sheet_xml('<row><c r="A1"><v>1</v></c></row>').replace(
        "<sheetData>", '<dimension ref="A1:XFD1048576"/><sheetData>'
    )
    xlsx(folder / "x.xlsx", "", more={PAGE: page})


def numbers_that_are_none(folder: Path) -> None:
    cells = "".join(f"<c><v>{text}</v></c>" for text in ("1e999", "-1e999", "nan", "1" * 5000, "0x10", "", "--1"))
    _one(folder, f"<row>{cells}</row>")


def shared_texts_that_are_not_there(folder: Path) -> None:
    _one(folder, '<row><c r="A1" t="s"><v>99999999999</v></c><c t="s"><v>-1</v></c></row>')


def styles_that_are_not_there(folder: Path) -> None:
    _one(folder, '<row><c r="A1" s="4294967295"><v>1</v></c></row>')


def dates_before_time(folder: Path) -> None:
    _one(folder, '<row><c t="d"><v>-99999-13-45T99:99:99</v></c><c t="d"><v>1e308</v></c></row>')


def entities(folder: Path) -> None:
    bomb = "".join(f'<!ENTITY e{n} "{f"&e{n - 1};" * 10}">' for n in range(1, 10))
    page = f'<!DOCTYPE x [<!ENTITY e0 "ha">{bomb}]>' + sheet_xml("<row><c><v>&e9;</v></c></row>")
    xlsx(folder / "x.xlsx", "", more={PAGE: page})


def an_entity_from_a_file(folder: Path) -> None:
    page = '<!DOCTYPE x [<!ENTITY e SYSTEM "file:///etc/passwd">]>' + sheet_xml("<row><c><v>&e;</v></c></row>")
    xlsx(folder / "x.xlsx", "", more={PAGE: page})


def an_entity_from_the_network(folder: Path) -> None:
    page = '<!DOCTYPE x SYSTEM "http://127.0.0.1:9/x.dtd">' + sheet_xml("")
    xlsx(folder / "x.xlsx", "", more={PAGE: page})


def a_document_type_in_utf_16(folder: Path) -> None:
    page = '<?xml version="1.0" encoding="UTF-16"?><!DOCTYPE x [<!ENTITY e "x">]>' + sheet_xml("")
    xlsx(folder / "x.xlsx", "", more={PAGE: page.encode("utf-16")})


def an_encoding_that_nobody_knows(folder: Path) -> None:
    xlsx(folder / "x.xlsx", "", more={PAGE: '<?xml version="1.0" encoding="none-such"?>' + sheet_xml("")})


def a_page_in_utf_7(folder: Path) -> None:
    xlsx(folder / "x.xlsx", "", more={PAGE: b'<?xml version="1.0" encoding="utf-7"?>+ADw-worksheet/+AD4-'})


def a_page_of_noughts(folder: Path) -> None:
    xlsx(folder / "x.xlsx", "", more={PAGE: bytes(1000)})


def two_members_of_one_name(folder: Path) -> None:
    xlsx(folder / "x.xlsx", '<row><c r="A1"><v>1</v></c></row>')
    with zipfile.ZipFile(folder / "x.xlsx", "a") as archive, pytest.warns(UserWarning, match="Duplicate"):
        archive.writestr(PAGE, sheet_xml('<row><c r="XFD1048576"><v>1</v></c></row>'))


def a_page_that_leads_outside(folder: Path) -> None:
    rels = '<Relationship Id="r1" Type="x/worksheet" Target="../../../../etc/passwd"/>'
    named = {"xl/_rels/workbook.xml.rels": f"<Relationships>{rels}</Relationships>"}
    xlsx(folder / "x.xlsx", "", more=named)


def members_that_lead_outside(folder: Path) -> None:
    zipped(
        folder / "x.xlsx", {"../../outside.xml": "<x/>", "/abs.xml": "<x/>", "xl/workbook.xml": f"<workbook {MAIN}/>"}
    )


def a_bomb_in_a_picture(folder: Path) -> None:
    with_member(folder / "x.xlsx", "xl/media/image1.png", bytes(61_000_000))


def a_page_that_is_packed_as_a_picture(folder: Path) -> None:
    rows = "<row>" + "<c><v>1</v></c>" * 700_000 + "</row>"
    rels = '<Relationship Id="r1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" '
    named = {
        "xl/_rels/workbook.xml.rels": f'<Relationships>{rels}Target="media/a.png"/></Relationships>',
        "xl/media/a.png": sheet_xml(rows),
    }
    xlsx(folder / "x.xlsx", "", more=named)


def forty_megabytes_of_blanks(folder: Path) -> None:
    _one(folder, " " * 45_000_000)


def comments_without_end(folder: Path) -> None:
    _one(folder, "<!-- x -->" * 2_000_000)


def a_size_in_the_archive_that_lies(folder: Path) -> None:
    data = bytearray(_book())
    at = data.rindex(b"PK\x01\x02")
    data[at + 24 : at + 28] = struct.pack("<I", 4_000_000_000)
    (folder / "x.xlsx").write_bytes(data)


def an_archive_in_an_archive_in_itself(folder: Path) -> None:
    inner = io.BytesIO(_book())
    for _ in range(50):
        outer = io.BytesIO()
        with zipfile.ZipFile(outer, "w") as archive:
            archive.writestr("xl/workbook.xml", "<workbook/>")
            archive.writestr("xl/embeddings/a.xlsx", inner.getvalue())
        inner = outer
    (folder / "x.xlsx").write_bytes(inner.getvalue())


def names_of_members_that_are_none(folder: Path) -> None:
    members: dict[str, str | bytes] = {f"{'n' * 60_000}{n}.xml": "<x/>" for n in range(20)}
    zipped(folder / "x.xlsx", members | {"xl/workbook.xml": f"<workbook {MAIN}/>", "a\x01b.xml": "<x/>"})


def a_book_without_pages(folder: Path) -> None:
    xlsx(folder / "x.xlsx", "", more={"xl/workbook.xml": f"<workbook {MAIN}><sheets/></workbook>"})


def a_workbook_that_is_a_list(folder: Path) -> None:
    xlsx(folder / "x.xlsx", "", more={"xl/workbook.xml": "<a/>", "xl/_rels/workbook.xml.rels": "<b/>"})


def defined_names_without_end(folder: Path) -> None:
    names = "".join(f'<definedName name="n{n}">p1!$A${n}</definedName>' for n in range(1, 200_000))
    sheets = '<sheets><sheet name="p1" sheetId="1"/></sheets>'
    book = f"<workbook {MAIN}>{sheets}<definedNames>{names}</definedNames></workbook>"
    xlsx(folder / "x.xlsx", "", more={"xl/workbook.xml": book})


def properties_without_end(folder: Path) -> None:
    some = "".join(f'<property name="p{n}"><v>x</v></property>' for n in range(200_000)).encode()
    kind = b'xmlns="http://schemas.openxmlformats.org/officeDocument/2006/custom-properties"'
    with_member(folder / "x.xlsx", "docProps/custom.xml", b"<Properties " + kind + b">" + some + b"</Properties>")


def number_formats_without_end(folder: Path) -> None:
    formats = "".join(f'<numFmt numFmtId="{n}" formatCode="{"0" * 200}"/>' for n in range(164, 60_000))
    styles = f'<styleSheet {MAIN}><numFmts count="1">{formats}</numFmts></styleSheet>'
    xlsx(folder / "x.xlsx", '<row><c r="A1"><v>1</v></c></row>', more={"xl/styles.xml": styles})


def a_macro(folder: Path) -> None:
    with_member(folder / "x.xlsx", "xl/vbaProject.bin", b"\xd0\xcf\x11\xe0" + b"Shell" * 1000)


def a_link_to_elsewhere(folder: Path) -> None:
    book = openpyxl.load_workbook(io.BytesIO(_book()))
    book["Answers"]["C8"] = '=HYPERLINK("http://127.0.0.1:9/","x")'
    book["Answers"]["C9"] = "=cmd|' /C calc'!A0"
    book["Answers"]["C11"] = '=WEBSERVICE("http://127.0.0.1:9/")'
    book.save(folder / "x.xlsx")


def answers_of_thirty_thousand_characters(folder: Path) -> None:
    book = openpyxl.load_workbook(io.BytesIO(_book()))
    for n, text in enumerate(("9" * 30_000, "((((" * 7000, "1e" * 15_000, "kN*" * 10_000, "-" * 30_000), 7):
        book["Answers"][f"C{n}"] = text
    book.save(folder / "x.xlsx")


def ten_thousand_notes(folder: Path) -> None:
    book = openpyxl.load_workbook(io.BytesIO(_book()))
    for n in range(40, 10_040):
        book["Answers"][f"H{n}"] = "see over"
    book.save(folder / "x.xlsx")


def cut_in_the_middle(folder: Path) -> None:
    data = _book()
    (folder / "x.xlsx").write_bytes(data[: len(data) // 2])


def noise(folder: Path) -> None:
    (folder / "x.xlsx").write_bytes(b"PK\x03\x04" + bytes(n * 7919 % 256 for n in range(100_000)))


def a_list_that_points_into_itself(folder: Path) -> None:
    data = bytearray(_book())
    at = data.rindex(b"PK\x05\x06")
    data[at + 16 : at + 20] = struct.pack("<I", 0)
    (folder / "x.xlsx").write_bytes(data)
