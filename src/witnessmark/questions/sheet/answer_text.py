"""The answers of a sheet as a few lines of text: what a page saves, and what fits into a message.

    witness mark answers 7KR4-MXPT
    1.a = 12.3 kN
    check H4KD7P

The check characters stand for the sheet and every entry, so that a line that was lost or changed on the way shows.
Blanks, line ends put in by a mail program and the signs of a quotation may change; they are nobody's answer.
"""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from witnessmark.questions.sheet.sheet_codes import ALPHABET, codes_in

FIRST = "witness mark answers"
CHECK = "check"
NEW_LINE = "\u00b6"
"""Stands for a line end in an entry of several lines."""
LENGTH = 6
LINE = re.compile(r"(\d+\.[^\W\d_]\w*(?:\.\w+)?|note) = ?(.*)", re.DOTALL)
QUOTED = re.compile(r"^[>\s]+")
FNV_START, FNV_PRIME, BITS_32 = 0x811C9DC5, 0x01000193, 0xFFFFFFFF
"""FNV-1a of 32 bits (G. Fowler, L. C. Noll, K.-P. Vo); the two constants from memory."""


@dataclass(frozen=True, slots=True)
class AnswerText:
    """What stands in such a text: the code of the sheet (empty where none can be read), the entries by ask key, and
    whether the check characters say that it is whole."""

    code: str
    entries: tuple[tuple[str, str], ...]
    is_whole: bool


def answer_text(code: str, entries: Iterable[tuple[str, str]]) -> str:
    """The text of what was entered; what is empty stays out."""
    lines = [(key, on_one_line(text)) for key, text in entries if text.strip()]
    told = "".join(f"{key} = {text}\n" for key, text in lines)
    return f"{FIRST} {code}\n{told}{CHECK} {check_characters(code, lines)}\n"


def read_answer_text(text: str) -> AnswerText | None:
    """The first of such texts in a longer one; None where there is none."""
    lines = [QUOTED.sub("", line).strip() for line in text.replace("\ufeff", "").splitlines()]
    starts = [n for n, line in enumerate(lines) if line.casefold().startswith(FIRST)]
    if not starts:
        return None
    code = next(iter(codes_in(lines[starts[0]][len(FIRST) :])), "")
    entries, check = _entries(lines[starts[0] + 1 :])
    whole = bool(code) and check == check_characters(code, entries)
    return AnswerText(code, tuple((key, _several_lines(entry)) for key, entry in entries), whole)


def check_characters(code: str, entries: Iterable[tuple[str, str]]) -> str:
    """Six characters of the alphabet of sheet codes, from the code and every entry on one line."""
    told = "".join([f"{code}\n", *(f"{key}={text}\n" for key, text in entries)])
    value, found = fnv(told.encode()), ""
    for _ in range(LENGTH):
        value, rest = divmod(value, len(ALPHABET))
        found += ALPHABET[rest]
    return found


def fnv(data: bytes) -> int:
    """A number of 32 bits that changes with every byte."""
    value = FNV_START
    for byte in data:
        value = (value ^ byte) * FNV_PRIME & BITS_32
    return value


def on_one_line(text: str) -> str:
    """An entry with one blank for several, and a sign for each line end."""
    lines = (" ".join(line.split()) for line in text.splitlines())
    return f" {NEW_LINE} ".join(line for line in lines if line)


def _entries(lines: list[str]) -> tuple[list[tuple[str, str]], str]:
    """The entries, each with what a mail program put on a line of its own, and the check characters."""
    entries: list[tuple[str, str]] = []
    for line in lines:
        word, _, rest = line.partition(" ")
        if word.casefold() == CHECK and re.fullmatch(r"\w{6}", rest.strip()):
            return entries, rest.strip().upper()
        if met := LINE.fullmatch(line):
            entries.append((met[1], " ".join(met[2].split())))
        elif line and entries:
            key, before = entries[-1]
            entries[-1] = key, " ".join([*before.split(), *line.split()])
    return entries, ""


def _several_lines(entry: str) -> str:
    return "\n".join(_lines(entry))


def _lines(entry: str) -> Iterator[str]:
    return (line.strip() for line in entry.split(NEW_LINE))
