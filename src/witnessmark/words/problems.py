"""Problems: what a person wrote that cannot be used, as data, so that all of them can be shown at once."""

import re
import unicodedata
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from witnessmark.words.checks import expect, expect_text

LONGEST_PIECE = 1_000  # characters of a place, or of what was expected or found
MOST_OF_A_KIND = 20  # problems of one code in one file that are told one by one
CUT = "…"
LINE = re.compile(r"line (?P<line>\d+)(?:, cell (?P<cell>\w+))?")
HIDDEN = ("Cc", "Cf", "Cs", "Co", "Zl", "Zp")  # Unicode's categories of what moves, ends or turns a line of text


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """Where a problem is: a file, and a line and column (counted from 1), a cell of a workbook, or both in a table of
    text."""

    file: str
    line: int = 0
    column: int = 0
    cell: str = ""

    def __post_init__(self) -> None:
        at = self.line, self.column
        expect(min(at) >= 0, "place", "line and column from 1 (0: none)", at)

    def __str__(self) -> str:
        if self.cell and self.line:
            return f"{self.file}, {self.inside}"
        if self.cell:
            return f"{self.file}!{self.cell}"
        if self.line:
            return f"{self.file}:{self.line}:{self.column}"
        return self.file

    @property
    def inside(self) -> str:
        """The place inside its file, as people say it."""
        told = [f"line {self.line}" if self.line else "", f"cell {self.cell}" if self.line and self.cell else self.cell]
        return ", ".join(part for part in told if part)


def place_in(file: str, inside: str) -> Place:
    """The place in a file that was told as its `inside`."""
    line = LINE.fullmatch(inside)
    return Place(file, int(line["line"]), 0, line["cell"] or "") if line else Place(file, cell=inside)


@dataclass(frozen=True, slots=True)
class Problem:
    """One problem: a stable code, the place, what was expected, what was found, what to type instead."""

    code: str
    place: Place
    expected: str
    found: str
    remedy: str = ""

    def __post_init__(self) -> None:
        expect_text("code", self.code)
        expect_text("expected", self.expected)

    def __str__(self) -> str:
        place, expected, found, remedy = map(on_one_line, (str(self.place), self.expected, self.found, self.remedy))
        told = f"; {remedy}" if remedy else ""
        return f"{place}: [{self.code}] expected {expected}, found {found}{told}"


def on_one_line(text: str) -> str:
    """The text as it can stand in a line: signs that would end or turn it by their number, cut where it is long."""
    shown = text if len(text) <= LONGEST_PIECE else f"{text[: LONGEST_PIECE - len(CUT)]}{CUT}"
    if shown.isprintable():
        return shown
    return "".join(f"[U+{ord(c):04X}]" if unicodedata.category(c) in HIDDEN else c for c in shown)


def capped(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """The problems in reading order; where one code comes too often in one file, the rest of it as one with a count."""
    ordered = in_reading_order(problems)
    seen: Counter[tuple[str, str]] = Counter()
    kept: list[Problem] = []
    last: dict[tuple[str, str], Problem] = {}
    for problem in ordered:
        kind = problem.place.file, problem.code
        seen[kind] += 1
        if seen[kind] <= MOST_OF_A_KIND:
            kept.append(problem)
        last[kind] = problem
    for kind, count in seen.items():
        if count > MOST_OF_A_KIND:
            file, code = kind
            found = f"{count - MOST_OF_A_KIND} more of this kind, {count} in all"
            kept.append(Problem(code, Place(file), last[kind].expected, found, "mend those above, then look again"))
    return in_reading_order(kept)


def in_reading_order(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """The problems by file, line and column; those without a place first."""
    return tuple(sorted(problems, key=lambda p: (p.place, p.code, p.found)))
