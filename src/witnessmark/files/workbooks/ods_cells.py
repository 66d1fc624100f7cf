"""The cells of an OpenDocument workbook, from its content.xml: other readers lose its percentages and logical values.

Elements and attributes: OpenDocument 1.3, part 3, sections 9 (tables) and 19.385 (value types).
"""

import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from witnessmark.files.workbooks.cell_texts import (
    EMPTY,
    SHOWN_DECIMALS,
    Cell,
    cell_of,
    error_cell,
    formula_cell,
    percentage_cell,
)
from witnessmark.files.workbooks.pages import MOST_CELLS, Room, TooMuch

OFFICE = "{urn:oasis:names:tc:opendocument:xmlns:office:1.0}"
TABLE = "{urn:oasis:names:tc:opendocument:xmlns:table:1.0}"
TEXT = "{urn:oasis:names:tc:opendocument:xmlns:text:1.0}"
META = "{urn:oasis:names:tc:opendocument:xmlns:meta:1.0}"
DC = "{http://purl.org/dc/elements/1.1/}"
CALCEXT = "{urn:org:documentfoundation:names:experimental:calc:xmlns:calcext:1.0}"
CELLS = (f"{TABLE}table-cell", f"{TABLE}covered-table-cell")
NAMED_CELL = re.compile(r"\$?(?:'((?:[^']|'')*)'|([^.'$]+))\.\$?([A-Z]{1,3})\$?(\d{1,7})")
NAMESPACE = re.compile(r"^[A-Za-z]\w*:")  # of a formula: `of:=70/2`
REFERENCE = re.compile(
    r"\[([^\[\]]*)\]"
)  # in a formula: `[.D8:.E8]`; no bracket within, or many would be gone through again and again
PERIOD = re.compile(r"(-?)PT(?:(\d+)H)?(?:(\d+)M)?(?:(\d+)(?:[.,]\d+)?S)?")
MOST_DIGITS = 9  # of how often something is repeated: more than any page holds
Rows = tuple[tuple[Cell, ...], ...]


@dataclass(frozen=True, slots=True)
class OdsPage:
    """One table of the workbook."""

    name: str
    rows: Rows


def ods_pages(content: ET.Element, room: Room) -> Iterator[OdsPage]:
    """Every table; raises TooMuch when they span more cells than there is room for."""
    for table in content.iter(f"{TABLE}table"):
        rows = _rows(table, room.left)
        room.take(len(rows), max((len(row) for row in rows), default=0))
        yield OdsPage(table.get(f"{TABLE}name", ""), rows)


def ods_names(content: ET.Element) -> dict[str, tuple[str, str]]:
    """Page and cell by defined name, for names of a single cell."""
    found = {}
    for named in content.iter(f"{TABLE}named-range"):
        match = NAMED_CELL.fullmatch(named.get(f"{TABLE}cell-range-address", ""))
        if match:
            page = match[1].replace("''", "'") if match[1] is not None else match[2]
            found[named.get(f"{TABLE}name", "")] = (page, match[3] + match[4])
    return found


def ods_properties(meta: ET.Element | None) -> dict[str, str]:
    """The properties that somebody added to the file, by name."""
    if meta is None:
        return {}
    return {e.get(f"{META}name", ""): "".join(e.itertext()) for e in meta.iter(f"{META}user-defined")}


def ods_saved(meta: ET.Element | None) -> str:
    """When the file was last saved, as it says itself (ISO 8601); empty when it does not say."""
    return "" if meta is None else (meta.findtext(f".//{DC}date") or "")


def _rows(table: ET.Element, most: int) -> Rows:
    rows: list[tuple[Cell, ...]] = []
    waiting = 0  # empty rows that count only when something follows
    widest = 0
    for element in table.iter(f"{TABLE}table-row"):
        times = _times(element, "number-rows-repeated")
        cells = _cells(element, most)
        if not cells:
            waiting += times
            continue
        widest = max(widest, len(cells))
        if (len(rows) + waiting + times) * widest > most:
            raise _too_many(f"{len(rows) + waiting + times} rows by {widest} columns")
        rows += [()] * waiting + [cells] * times
        waiting = 0
    return tuple(rows)


def _cells(row: ET.Element, most: int) -> tuple[Cell, ...]:
    cells: list[Cell] = []
    waiting = 0
    for element in row:
        if element.tag in CELLS:
            times = _times(element, "number-columns-repeated")
            cell = _cell(element)
            if cell == EMPTY:
                waiting += times
                continue
            if len(cells) + waiting + times > most:
                raise _too_many(f"1 row by {len(cells) + waiting + times} columns")
            cells += [EMPTY] * waiting + [cell] * times
            waiting = 0
    return tuple(cells)


def _too_many(found: str) -> TooMuch:
    return TooMuch(f"at most {MOST_CELLS} cells in a book", f"a page of {found}")


def _times(element: ET.Element, attribute: str) -> int:
    text = element.get(TABLE + attribute, "1")
    return max(1, int(text[:MOST_DIGITS])) if text.isascii() and text.isdigit() else 1


def _cell(element: ET.Element) -> Cell:
    formula = element.get(f"{TABLE}formula", "")
    shown = "\n".join(_text(p) for p in element.findall(f"{TEXT}p"))
    if not formula:
        return error_cell(shown) if _is_error(element) else _typed(element, shown)
    formula = REFERENCE.sub(_plain_reference, NAMESPACE.sub("", formula))
    if _is_error(element):
        return error_cell(shown or "an error", formula)
    has_result = f"{OFFICE}value-type" in element.attrib or element.find(f"{TEXT}p") is not None
    return formula_cell(formula, _typed(element, shown) if has_result else None)


def _plain_reference(match: re.Match[str]) -> str:
    """`[.D8:.E8]` as people write it: `D8:E8`."""
    return ":".join(end.removeprefix(".") for end in match[1].split(":"))


def _is_error(element: ET.Element) -> bool:
    return element.get(f"{CALCEXT}value-type") == "error"


def _typed(element: ET.Element, shown: str) -> Cell:
    kind = element.get(f"{OFFICE}value-type", "")
    value = element.get(f"{OFFICE}value", "")
    try:
        match kind:
            case "float":
                return cell_of(float(value))
            case "currency":
                return cell_of(float(value), element.get(f"{OFFICE}currency") or "money")
            case "percentage":
                return percentage_cell(float(value), SHOWN_DECIMALS.match(shown))
            case "boolean":
                return cell_of(element.get(f"{OFFICE}boolean-value") == "true")
            case "date":
                return cell_of(_date(element.get(f"{OFFICE}date-value", "")))
            case "time":
                return cell_of(_period(element.get(f"{OFFICE}time-value", "")))
    except (ValueError, OverflowError):  # OverflowError: more hours than there can be
        return Cell(shown, f"the spreadsheet stored this entry as {kind}, and its value cannot be read", spoiled=True)
    return cell_of(element.get(f"{OFFICE}string-value") or shown)


def _date(text: str) -> date:
    return date.fromisoformat(text) if "T" not in text else datetime.fromisoformat(text)


def _period(text: str) -> timedelta:
    match = PERIOD.fullmatch(text)
    if not match:
        raise ValueError(text)
    hours, minutes, seconds = (int(piece or 0) for piece in match.groups()[1:])
    span = timedelta(hours=hours, minutes=minutes, seconds=seconds)
    return -span if match[1] else span


def _text(element: ET.Element) -> str:
    """The text of a paragraph, with the blanks, tabs and line ends that OpenDocument writes as elements."""
    pieces = [element.text or ""]
    for child in element:
        match child.tag.removeprefix(TEXT):
            case "s":
                pieces.append(" " * min(int(child.get(f"{TEXT}c", "1")), 1000))
            case "tab":
                pieces.append("\t")
            case "line-break":
                pieces.append("\n")
            case _:
                pieces.append(_text(child))
        pieces.append(child.tail or "")
    return "".join(pieces)
