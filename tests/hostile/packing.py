"""Hostile workbooks from raw XML: archives around a page, a content, or anything else."""

import zipfile
from collections.abc import Mapping
from pathlib import Path

MAIN = 'xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"'
REL = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
RELS = "http://schemas.openxmlformats.org/package/2006/relationships"
TYPES = "http://schemas.openxmlformats.org/package/2006/content-types"
KIND = "application/vnd.openxmlformats-officedocument.spreadsheetml"
ODS = (
    'xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" '
    'xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" '
    'xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0"'
)


def zipped(path: Path, members: Mapping[str, str | bytes], method: int = zipfile.ZIP_DEFLATED) -> Path:
    """An archive of these members."""
    with zipfile.ZipFile(path, "w", method) as archive:
        for name, content in members.items():
            archive.writestr(name, content)
    return path


def sheet_xml(rows: str, more: str = "") -> str:
    """A worksheet around rows."""
    return f"<worksheet {MAIN}><sheetData>{rows}</sheetData>{more}</worksheet>"


def xlsx(path: Path, rows: str, pages: int = 1, more: Mapping[str, str | bytes] | None = None) -> Path:
    """A workbook of so many pages that all show the same rows."""
    sheets = "".join(f'<sheet name="p{n}" sheetId="{n}" r:id="r{n}"/>' for n in range(1, pages + 1))
    rels = "".join(
        f'<Relationship Id="r{n}" Type="{REL}/worksheet" Target="worksheets/sheet1.xml"/>' for n in range(1, pages + 1)
    )
    rels += f'<Relationship Id="s" Type="{REL}/sharedStrings" Target="sharedStrings.xml"/>'
    members: dict[str, str | bytes] = {
        "[Content_Types].xml": f'<Types xmlns="{TYPES}"><Default Extension="rels" ContentType="application/xml"/>'
        f'<Override PartName="/xl/workbook.xml" ContentType="{KIND}.sheet.main+xml"/>'
        f'<Override PartName="/xl/worksheets/sheet1.xml" ContentType="{KIND}.worksheet+xml"/></Types>',
        "_rels/.rels": f'<Relationships xmlns="{RELS}"><Relationship Id="w" Type="{REL}/officeDocument" '
        'Target="xl/workbook.xml"/></Relationships>',
        "xl/workbook.xml": f'<workbook {MAIN} xmlns:r="{REL}"><sheets>{sheets}</sheets></workbook>',
        "xl/_rels/workbook.xml.rels": f'<Relationships xmlns="{RELS}">{rels}</Relationships>',
        "xl/sharedStrings.xml": f"<sst {MAIN}/>",
        "xl/worksheets/sheet1.xml": sheet_xml(rows),
    }
    return zipped(path, members | dict(more or {}))


def ods(path: Path, tables: str) -> Path:
    """An OpenDocument workbook around tables."""
    content = f"<office:document-content {ODS}><office:body><office:spreadsheet>{tables}</office:spreadsheet>"
    content += "</office:body></office:document-content>"
    return zipped(path, {"content.xml": content, "mimetype": "application/vnd.oasis.opendocument.spreadsheet"})


def table(rows: str, name: str = "a") -> str:
    """A table of an OpenDocument workbook."""
    return f'<table:table table:name="{name}">{rows}</table:table>'


def row(cells: str, times: int = 1) -> str:
    """A row that is repeated."""
    return f'<table:table-row table:number-rows-repeated="{times}">{cells}</table:table-row>'


def cell(inside: str = "<text:p>x</text:p>", attributes: str = "") -> str:
    """A cell with its attributes."""
    return f"<table:table-cell {attributes}>{inside}</table:table-cell>"
