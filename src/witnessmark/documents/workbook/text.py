"""Text as a workbook can hold it."""

import re
from math import ceil

from witnessmark.documents.page.signs import visible_name

UNWRITABLE = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")  # XML 1.0, production 2
LONGEST_IN_CELL = 32_767  # characters of a cell
CUT = "…"
LINE_HEIGHT = 15.0  # points of a line of 11-point text


def writable(text: str) -> str:
    """The text with the names of signs that XML cannot hold (`[U+0007]`), cut where a cell is full."""
    clean = UNWRITABLE.sub(lambda found: visible_name(found[0]), text)
    return clean if len(clean) <= LONGEST_IN_CELL else clean[: LONGEST_IN_CELL - len(CUT)] + CUT


def lines_in(text: str, width: float) -> int:
    """How many lines a text takes in a column of `width` characters, rather one too many than one too few."""
    return sum(max(1, ceil(len(piece) / max(1.0, width - 1))) for piece in text.split("\n"))
