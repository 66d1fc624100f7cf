"""One look over the XML inside a workbook before a reader builds it: how much there is, how deep and how wide.

Readers fill whole rectangles and follow every step inwards, so a few bytes can ask for a whole machine.
"""

import re
from dataclasses import dataclass, field
from xml.parsers import expat

from witnessmark.files.workbooks.pages import MOST_PAGES, Room, TooMuch, column_number

MOST_ELEMENTS = 1_000_000
DEEPEST = 100
ADDRESS = re.compile(r"([A-Z]{1,3})([0-9]{1,7})")
PAGE_ELEMENTS = {"workbook": "sheet", "document-content": "table"}  # by the first element of a member
WORKSHEET, ROW, CELL = "worksheet", "row", "c"


class Foreign(Exception):
    """Raised at a document type: spreadsheet programs write none, and with it come entities."""


class Damaged(Exception):
    """Raised where a member is not XML, or names a cell that cannot be; the text says what was found."""


@dataclass(slots=True)
class Look:
    """What was seen of one workbook so far."""

    elements: int = 0
    pages: int = 0
    room: Room = field(default_factory=Room)

    def at(self, content: bytes) -> None:
        """Look over one more member; raises TooMuch, Foreign or Damaged."""
        member = _Member(self)
        parser = expat.ParserCreate()
        parser.buffer_text = True
        parser.StartElementHandler, parser.EndElementHandler = member.start, member.end
        parser.StartDoctypeDeclHandler = _refuse
        try:
            parser.Parse(content, True)
        except (expat.ExpatError, LookupError, ValueError) as error:  # LookupError: an encoding that nobody knows
            raise Damaged from error
        self.room.take(member.last_row, member.last_column)


def _refuse(*_declared: object) -> None:
    raise Foreign


class _Member:
    """Walks over one member; rows and cells without an address stand behind the one before them (ECMA-376, 18.3.1)."""

    def __init__(self, look: Look) -> None:
        self.look = look
        self.depth = self.row = self.column = self.last_row = self.last_column = 0
        self.root = ""
        self.page_element: str | None = None

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        look, name = self.look, tag.rpartition(":")[2] if ":" in tag else tag
        self.depth += 1
        look.elements += 1
        if self.depth == 1:
            self.root, self.page_element = name, PAGE_ELEMENTS.get(name)
        if self.depth > DEEPEST:
            raise TooMuch(f"at most {DEEPEST} steps inwards", "more")
        if look.elements > MOST_ELEMENTS:
            raise TooMuch(f"at most {MOST_ELEMENTS} elements inside", "more")
        if name == self.page_element:
            look.pages += 1
            if look.pages > MOST_PAGES:
                raise TooMuch(f"at most {MOST_PAGES} pages", "more")
        if self.root == WORKSHEET:
            self._place(name, attributes.get("r", ""))

    def end(self, _tag: str) -> None:
        self.depth -= 1

    def _place(self, name: str, address: str) -> None:
        if name == ROW:
            self.row = int(address) if address.isascii() and address.isdigit() and len(address) < 9 else self.row + 1
            self.column = 0
        elif name == CELL:
            self._cell(address)
        elif name in ("v", "is", "f"):
            self.last_row, self.last_column = max(self.last_row, self.row), max(self.last_column, self.column)

    def _cell(self, address: str) -> None:
        match = ADDRESS.fullmatch(address)
        if address and not match:
            raise Damaged(f"the cell address {address[:20]}")
        if match:
            self.row, self.column = int(match[2]), column_number(match[1])
        else:
            self.column += 1
