"""How a class prints its sheets, as class.yaml says: on one side of the paper, or on both."""

import re

from witnessmark.files.shapes.placed import Placed, shown

PRINT = "print"
ONE, BOTH = "one side", "both sides"
LINE = re.compile(rf"^{PRINT}[ \t]*:.*$", re.MULTILINE)


def prints_both_sides(placed: Placed) -> bool:
    """True where a class prints on both sides; what cannot be read is a problem of `placed`."""
    value = placed.text.data.get(PRINT, ONE)
    if value not in (ONE, BOTH):
        placed.add("wrong-value", (PRINT,), f"{ONE} or {BOTH}", shown(value))
    return bool(value == BOTH)


def with_sides(text: str, both_sides: bool) -> str:
    """The text of class.yaml with this said in it, in the place of what it said before."""
    line = f"{PRINT}: {BOTH if both_sides else ONE}"
    if LINE.search(text):
        return LINE.sub(line, text, count=1)
    return f"{text}{'' if text.endswith(chr(10)) or not text else chr(10)}{line}\n"
