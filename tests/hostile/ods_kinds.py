"""OpenDocument workbooks that want more than an answer book may: each function writes one file into a folder."""

from pathlib import Path

from hostile.packing import ODS, cell, ods, row, table, zipped

REPEATED = 'table:number-columns-repeated="{}"'


def _one(folder: Path, tables: str) -> None:
    ods(folder / "x.ods", tables)


def two_hundred_tables_of_two_million_rows(folder: Path) -> None:
    _one(folder, table(row(cell(), 2_000_000)) * 200)


def ninety_tables_that_nearly_fill_a_book(folder: Path) -> None:
    _one(folder, table(row(cell(), 499_999)) * 90)


def a_repeated_cell_in_a_repeated_row(folder: Path) -> None:
    _one(folder, table(row(cell(attributes=REPEATED.format(16_384)), 1_048_576)))


def repeated_more_often_than_numbers_go(folder: Path) -> None:
    _one(folder, table(row(cell(attributes=REPEATED.format("9" * 5000)), 1)))


def rows_repeated_more_often_than_numbers_go(folder: Path) -> None:
    _one(folder, table(f'<table:table-row table:number-rows-repeated="{"9" * 5000}">{cell()}</table:table-row>'))


def repeated_less_than_never(folder: Path) -> None:
    _one(folder, table(row(cell(attributes=REPEATED.format("-5")), -7)))


def two_thousand_nested_spans(folder: Path) -> None:
    spans = "<text:span>" * 2000 + "x" + "</text:span>" * 2000
    _one(folder, table(row(cell(f"<text:p>{spans}</text:p>"))))


def nested_tables(folder: Path) -> None:
    inside = ""
    for _ in range(500):
        inside = table(row(cell(inside)))
    _one(folder, inside)


def nested_tables_within_the_limit(folder: Path) -> None:
    inside = cell() * 2000
    for _ in range(28):
        inside = cell(table(row(inside)))
    _one(folder, table(row(inside)))


def a_time_of_thirty_nines(folder: Path) -> None:
    value = f'office:value-type="time" office:time-value="PT{"9" * 30}H"'
    _one(folder, table(row(cell(attributes=value))))


def a_time_of_five_thousand_nines(folder: Path) -> None:
    value = f'office:value-type="time" office:time-value="PT{"9" * 5000}M"'
    _one(folder, table(row(cell(attributes=value))))


def dates_that_no_calendar_has(folder: Path) -> None:
    days = ("9999-99-99", "-0001-01-01", "99999999999-01-01", "2027-02-30T99:99", "")
    cells = "".join(cell(attributes=f'office:value-type="date" office:date-value="{day}"') for day in days)
    _one(folder, table(row(cells)))


def numbers_that_are_none(folder: Path) -> None:
    values = ("1e999", "nan", "-inf", "1" * 5000, "0x10", "", "１２")
    kinds = ("float", "percentage", "currency")
    cells = "".join(cell(attributes=f'office:value-type="{k}" office:value="{v}"') for k in kinds for v in values)
    _one(folder, table(row(cells)))


def blanks_without_end(folder: Path) -> None:
    blanks = '<text:s text:c="999999999"/>' * 20_000
    _one(folder, table(row(cell(f"<text:p>{blanks}</text:p>"))))


def a_count_of_blanks_that_is_none(folder: Path) -> None:
    _one(folder, table(row(cell('<text:p><text:s text:c="many"/></text:p>'))))


def a_cell_of_thirty_megabytes(folder: Path) -> None:
    _one(folder, table(row(cell(f"<text:p>{'x' * 30_000_000}</text:p>"))))


def a_book_of_ninety_nine_megabytes(folder: Path) -> None:
    _one(folder, table(row(cell(f"<text:p>{'x' * 900}</text:p>")) * 99_000))


def a_long_text_in_many_cells(folder: Path) -> None:
    _one(folder, table(row(cell(f"<text:p>{'x' * 32_000}</text:p>", REPEATED.format(200)), 800)))


def a_formula_of_a_million_characters(folder: Path) -> None:
    _one(folder, table(row(cell(attributes=f'table:formula="of:={"1+" * 500_000}1"'))))


def references_without_end(folder: Path) -> None:
    _one(folder, table(row(cell(attributes=f'table:formula="of:={"[" * 200_000}"'))))


def paragraphs_without_end(folder: Path) -> None:
    _one(folder, table(row(cell("<text:p>x</text:p>" * 900_000))))


def empty_rows_without_end(folder: Path) -> None:
    _one(folder, table(row("", 1_000_000_000) * 1000 + row(cell())))


def a_thousand_tables(folder: Path) -> None:
    _one(folder, table(row(cell())) * 1000)


def names_without_end(folder: Path) -> None:
    names = "".join(
        f'<table:named-range table:name="n{n}" table:cell-range-address="$a.$A${n}"/>' for n in range(200_000)
    )
    _one(folder, table(row(cell())) + f"<table:named-expressions>{names}</table:named-expressions>")


def entities(folder: Path) -> None:
    bomb = '<!DOCTYPE x [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;">]>'
    zipped(folder / "x.ods", {"content.xml": f"{bomb}<office:document-content {ODS}>&b;</office:document-content>"})


def content_that_is_not_xml(folder: Path) -> None:
    zipped(folder / "x.ods", {"content.xml": b"\x00\x01\x02<"})


def content_without_anything(folder: Path) -> None:
    zipped(folder / "x.ods", {"content.xml": b""})


def settings_that_are_not_xml(folder: Path) -> None:
    content = f"<office:document-content {ODS}>{table(row(cell()))}</office:document-content>"
    zipped(folder / "x.ods", {"content.xml": content, "meta.xml": b"<", "settings.xml": "<a>" * 100_000})


def a_script(folder: Path) -> None:
    script = f"<office:document-content {ODS}><office:scripts><office:script>Shell(1)</office:script></office:scripts>"
    zipped(folder / "x.ods", {"content.xml": script + "</office:document-content>", "Basic/a.xml": "<x>Shell</x>"})
