"""The files of a class that tell of one student: what may be deleted, and what only a person can clear.

A file is judged by what stands in it. Its name alone decides only where the program itself wrote it under that name; so
a book of LW03 that was saved as SC04.xlsx is LW03's, and one of SC04 is found under any name.
"""

import re
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from pathlib import Path

from witnessmark.files.safe.contents import texts_in

WRITTEN = ("sheets", "pages", "books")
TO_PRINT = "to-print"
"""The folder, in that of an issued task, of files that hold the sheets of several students."""
TO_PRINT_ALL = "all"
NOT_SEARCHED = ("class.yaml", "students.csv", "README.txt", ".removing.json", ".in-use")
NOTES = "notes"
OF_THE_YEAR = ("year.html", "year.pdf", "year-codes.html", "year-codes.pdf")
MARK_BOOKS = ("mark-book.xlsx", "mark-book.csv", "mark-book-oneroster.zip")
VISITS = "visits"
LONGEST_NAME = 60  # characters of the name of a file to print
SHORTEST_NAME = 5
"""A name of fewer letters would be found in many files by accident."""
PRINTED = "may hold the student's sheet; print it anew with witnessmark print, or delete it"


@dataclass(frozen=True, slots=True)
class Sought:
    """Whose traces: the student's code and name, the codes of the student's sheets, those of all others, and the groups
    that the student was in, as names of files."""

    code: str
    name: str
    sheets: frozenset[str]
    others: frozenset[str]
    groups: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Traces:
    """Files to delete, those of them that are documents of the whole class, to be written anew without the student, and
    what to look at by hand, as sentences with the path first."""

    files: tuple[Path, ...]
    anew: tuple[Path, ...]
    by_hand: tuple[str, ...]


def traces_of(folder: Path, sought: Sought, is_untouched: Collection[Path]) -> Traces:
    """Every trace in a class folder, below what is hidden too. `is_untouched` are the class tables into which nobody
    has typed: they may go, as they can be written anew. Nothing is deleted here."""
    judged = {path: _judged(folder, path, sought, is_untouched) for path in _files(folder)}
    files = tuple(path for path, verdict in judged.items() if verdict in (DELETE, ANEW))
    anew = tuple(path for path, verdict in judged.items() if verdict == ANEW)
    by_hand = (f"{path}: {verdict}" for path, verdict in judged.items() if verdict not in ("", DELETE, ANEW))
    return Traces(files, anew, tuple(by_hand))


DELETE, ANEW = "delete", "write anew"


def _files(folder: Path) -> Iterator[Path]:
    for path in sorted(folder.rglob("*")):
        inside = path.relative_to(folder).parts
        own = inside[0] in ("copies", "tasks") or inside[0].startswith("record.db") or path.name in NOT_SEARCHED
        if not own and path.is_file() and not path.is_symlink():
            yield path


def _judged(folder: Path, path: Path, sought: Sought, is_untouched: Collection[Path]) -> str:
    """`delete`, `write anew`, what to look at by hand, or nothing."""
    inside = path.relative_to(folder).parts
    if _is_to_print(inside):
        return _printed(path, sought)
    found = texts_in(path, {*sought.sheets, *sought.others, _long(sought.name)})
    named = _is_named(path, sought)
    if found is None:
        return "could not be looked through; see whether it is the student's" if named else ""
    if _whole_class(inside) or path in is_untouched:
        return ANEW
    if _is_plan(inside):
        return ANEW if _plan_names(path, sought) else ""
    return _by_content(inside, sought, found, named)


def _by_content(inside: tuple[str, ...], sought: Sought, found: frozenset[str], named: bool) -> str:
    """The same of a file of which nobody knows what it is; `found` are the texts that stand in it."""
    mine, others = found & sought.sheets, found & sought.others
    if not others and (mine or (named and _is_written(inside))):
        return DELETE
    if mine:
        return "holds the student's lines beside those of others; delete them there"
    if named and others:
        return f"has the student's code as its name, but holds {', '.join(sorted(others)[:3])}; it was left"
    if named:
        return "has the student's code as its name; see whose it is"
    return "holds the student's name" if sought.name in found else ""


def _is_named(path: Path, sought: Sought) -> bool:
    """True of the names that the program gives to a student's files: of a further attempt, beside one typed into."""
    whose = re.sub(r" \(\d+\)$", "", path.stem)
    return whose == sought.code or whose.startswith(f"{sought.code}.attempt-")


def _is_to_print(inside: tuple[str, ...]) -> bool:
    return len(inside) == 4 and inside[0] == "issued" and inside[2] == TO_PRINT


def _printed(path: Path, sought: Sought) -> str:
    """What becomes of a file with sheets to print; its name tells whose they are, since a PDF cannot be searched."""
    name = path.stem
    if name == TO_PRINT_ALL or name.casefold() in sought.groups:
        return ANEW
    if re.search(rf"(?<![\w]){re.escape(sought.code)}(?![\w])", name):
        return DELETE
    return PRINTED if len(name) == LONGEST_NAME else ""


def _long(name: str) -> str:
    return name if len(name) >= SHORTEST_NAME else ""


def _whole_class(inside: tuple[str, ...]) -> bool:
    """What the program writes about a whole class, and writes anew when it is asked."""
    name = inside[-1]
    gradebook = name.startswith("gradebook-") and name.endswith(".xlsx")
    review = name.startswith("review-") and name.endswith((".html", ".json"))
    return len(inside) == 1 and (gradebook or review or name in (*OF_THE_YEAR, *MARK_BOOKS))


def _is_plan(inside: tuple[str, ...]) -> bool:
    return len(inside) == 2 and inside[0] == VISITS and inside[1].endswith((".html", ".pdf"))


def _plan_names(path: Path, sought: Sought) -> bool:
    """Whether a plan of visits tells of the student, by its page, since the words of a PDF cannot be searched."""
    page = path.with_suffix(".html")
    return not page.is_file() or bool(texts_in(page, {_long(sought.name), sought.code}))


def _is_written(inside: tuple[str, ...]) -> bool:
    """True of a place where the program writes one file for each student, under the student's code."""
    issued = len(inside) == 4 and inside[0] == "issued" and inside[2] in WRITTEN
    note = len(inside) in (2, 3) and inside[0] == NOTES
    return issued or note or (len(inside) == 3 and inside[0] in ("feedback", VISITS))
