"""A folder of returned answer books, read into returns; whatever is wrong with one never stops the others."""

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from witnessmark.files.workbooks.answer_book import (
    CodeSeen,
    codes_seen,
    entry_of,
    find_answers,
    find_note,
    front_page,
    task_said,
    typed_between,
    typed_outside,
)  # fmt: skip
from witnessmark.files.workbooks.answer_texts import ENDING, read_text_file
from witnessmark.files.workbooks.found_files import LIBRE_LOCK, files_below
from witnessmark.files.workbooks.other_files import unsupported
from witnessmark.files.workbooks.pages import WorkbookCells
from witnessmark.files.workbooks.reader import read_workbook, workbook_from
from witnessmark.files.workbooks.zipped import members_of
from witnessmark.questions.sheet.answer_places import CODE_CELL
from witnessmark.questions.sheet.class_table_columns import PAGE as CLASS_TABLE
from witnessmark.questions.sheet.sheet_codes import codes_in
from witnessmark.questions.sheet.task import NOTE, Return, Sheet
from witnessmark.words.problems import Place, Problem, capped

READ = (".xlsx", ".ods")
ARCHIVE = ".zip"
OFFICE_LOCK = "~$"
LONGEST_SHOWN = 60
Told = Callable[[int, int], None]
"""Told after each file how many were read, and how many there are."""


def nobody(done: int, total: int) -> None:
    """Nobody watches."""


@dataclass(frozen=True, slots=True)
class ReturnsRead:
    """What came back: returns by file name, those of one sheet from the oldest to the newest, and every problem.

    `contents` holds, by `Return.file`, the bytes of files that do not lie in a folder by themselves (of an archive);
    `is_table` is true of a class table.
    """

    returns: tuple[Return, ...]
    problems: tuple[Problem, ...]
    contents: Mapping[str, bytes] = field(default_factory=dict)
    is_table: bool = False


@dataclass(frozen=True, slots=True)
class _Taken:
    """A return, with what tells the newest of several: when the file says that it was saved, and its path."""

    handed_in: Return
    saved: str

    @property
    def age(self) -> tuple[str, str]:
        return self.saved.rstrip("Z")[:19], self.handed_in.file


def read_returns(folder: Path, sheets: Mapping[str, Sheet], told: Told = nobody) -> ReturnsRead:
    """Every answer book in a folder and the folders inside it, with `sheets` by sheet code.

    Books may be renamed, saved by another program, or have rows moved. All copies of a sheet are kept; the one that
    says it was saved last (by file name where none says) stands last.
    """
    files, unseen = files_below(folder)
    read = read_book_files(files, folder, sheets, told)
    problems = [*unseen, *read.problems]
    if not files and not unseen:
        remedy = "put the returned files there"
        problems.append(Problem("no-books", Place(str(folder)), "answer books (.xlsx or .ods)", "none", remedy))
    return ReturnsRead(read.returns, capped(problems), read.contents)


def read_book_files(
    files: Sequence[Path], folder: Path, sheets: Mapping[str, Sheet], told: Told = nobody
) -> ReturnsRead:
    """The same of these files, which lie in the folder; of an archive (.zip) every file inside is taken as one."""
    taken: list[_Taken] = []
    problems: list[Problem] = []
    contents: dict[str, bytes] = {}
    for n, path in enumerate(files, 1):
        if path.suffix.lower() == ARCHIVE:
            members, unread = members_of(path)
            problems += unread
            for inside, content in members:
                found = _taken_in(inside, sheets, problems, content)
                contents |= {one.handed_in.file: content for one in found}
                taken += found
        else:
            taken += _taken_in(path, sheets, problems)
        told(n, len(files))
    problems += _twice(taken, sheets, folder)
    taken.sort(key=lambda t: (t.handed_in.sheet_code, *t.age))
    return ReturnsRead(tuple(t.handed_in for t in taken), capped(problems), contents)


def _taken_in(
    path: Path, sheets: Mapping[str, Sheet], problems: list[Problem], content: bytes | None = None
) -> list[_Taken]:
    before = len(problems)
    text = read_text_file(path, sheets, problems, content) if path.suffix.lower() == ENDING else None
    if text is not None or len(problems) > before:
        return [_Taken(text, "")] if text else []
    problem = _unfit(path, sheets)
    if problem:
        problems.append(problem)
        return []
    book, unreadable = read_workbook(path) if content is None else workbook_from(content, str(path))
    problems += unreadable
    return _read_book(book, path, sheets, problems) if book else []


def _unfit(path: Path, sheets: Mapping[str, Sheet]) -> Problem | None:
    name = path.name
    if name.startswith((OFFICE_LOCK, LIBRE_LOCK)):
        book = name.removeprefix(OFFICE_LOCK).removeprefix(LIBRE_LOCK).removesuffix("#")
        remedy = "save and close it there, then take the folder in once more"
        found = f"'{book}' is open in a program"
        return Problem("still-open", Place(str(path)), "answer books that are closed", found, remedy)
    if path.suffix.lower() not in READ:
        return unsupported(path, sheets)
    return None


def _read_book(book: WorkbookCells, path: Path, sheets: Mapping[str, Sheet], problems: list[Problem]) -> list[_Taken]:
    sheet = _sheet_of(book, path, sheets, problems)
    if sheet is None:
        return []
    found, lost = find_answers(book, sheet)
    file = str(path)
    for place in lost:
        expected = f"the answer to {place.ask.label} (row {place.row})"
        found_text = "neither its label nor its name in the book"
        remedy = f"look for it in the book, and type {place.ask.label} into the first cell of its row"
        problems.append(Problem("answer-not-found", Place(file, cell=place.answer), expected, found_text, remedy))
    expected, remedy = "answers in their own cells", "look whether it belongs to an answer"
    note = find_note(book, sheet, found.values())
    known = (*found.values(), note) if note else tuple(found.values())
    for where, text in (*typed_between(book, known, lost), *typed_outside(book, known)):
        problems.append(Problem("text-outside", Place(file, cell=where), expected, f"'{short(text)}'", remedy))
    entries = [(key, entry_of(answer)) for key, answer in found.items()]
    if note and (written := entry_of(note)).is_filled:
        entries.append((NOTE, written))
    return [_Taken(Return(sheet.code, file, tuple(entries)), book.saved)]


def _sheet_of(book: WorkbookCells, path: Path, sheets: Mapping[str, Sheet], problems: list[Problem]) -> Sheet | None:
    """The sheet that a book answers; None with a problem when that is not certain."""
    seen = codes_seen(book)
    named = codes_in(path.stem)
    codes = tuple(dict.fromkeys(s.code for s in seen if s.code))
    if len(codes) > 1:
        decided = [code for code in codes if code in named]
        if len(decided) != 1:
            problems.append(_codes_disagree(seen, path))
            return None
        codes = tuple(decided)
    code = codes[0] if codes else next(iter(named), None) if len(named) == 1 else None
    if code is None:
        problems.append(_no_code(book, seen, path))
        return None
    if code not in sheets:
        problems.append(_not_ours(code, book, path, sheets))
        return None
    _check_name(sheets[code], named, path, sheets, problems)
    return sheets[code]


def _codes_disagree(seen: Sequence[CodeSeen], path: Path) -> Problem:
    found = " and ".join(f"{s.text} in {s.where}" for s in seen)
    remedy = "ask whose it is, then put the right sheet code into the name of the file"
    return Problem("codes-disagree", Place(str(path)), "the same sheet code in every place", found, remedy)


def _no_code(book: WorkbookCells, seen: Sequence[CodeSeen], path: Path) -> Problem:
    front = front_page(book)
    cell = f"{front.name}!{CODE_CELL}" if front else CODE_CELL
    if book.page(CLASS_TABLE):
        remedy = "take it in by its own name, and move it elsewhere"
        return Problem("class-table", Place(str(path)), "an answer book", "the class table", remedy)
    if seen:
        found = " and ".join(f"'{short(s.text)}' in {s.where}" for s in seen)
        remedy = "put the sheet code from the printed sheet into the name of the file"
        return Problem("wrong-sheet-code", Place(str(path), cell=cell), "a sheet code such as 7KR4-MXPT", found, remedy)
    remedy = "put the sheet code into the name of the file; if it is another file, move it elsewhere"
    return Problem("no-sheet-code", Place(str(path), cell=cell), "an answer book with a sheet code", "none", remedy)


def _not_ours(code: str, book: WorkbookCells, path: Path, sheets: Mapping[str, Sheet]) -> Problem:
    task, ours = task_said(book), {sheet.task.key for sheet in sheets.values()}
    if task and task not in ours:
        expected = f"an answer book of {' or '.join(sorted(ours)) or 'this task'}"
        remedy = f"take it in with the task {task}"
        return Problem("other-task", Place(str(path)), expected, f"one of {task} ({code})", remedy)
    remedy = "look at the code on the printed sheet; it may belong to another class"
    return Problem("unknown-sheet", Place(str(path)), "the code of a sheet that was issued", code, remedy)


def _check_name(
    sheet: Sheet, named: Sequence[str], path: Path, sheets: Mapping[str, Sheet], problems: list[Problem]
) -> None:
    """A problem when the file's name is that of another student's sheet; the book is taken in by the code inside."""
    students = {s.student.code.casefold(): s.student.code for s in sheets.values()}
    whole = path.stem.casefold()
    words = [whole, *re.split(r"[^0-9a-z]+", whole)]
    others = {students[word] for word in words if word in students} | {
        sheets[code].student.code for code in named if code in sheets
    }
    if others and sheet.student.code not in others:
        found = f"the name of {' and '.join(sorted(others))}"
        expected = f"a file named for {sheet.student.code}, whose sheet {sheet.code} is inside"
        remedy = f"taken in for {sheet.student.code}; ask whether the sheets were swapped"
        problems.append(Problem("name-of-another", Place(str(path)), expected, found, remedy))


def _twice(taken: Sequence[_Taken], sheets: Mapping[str, Sheet], folder: Path) -> Iterator[Problem]:
    by_sheet: dict[str, list[_Taken]] = {}
    for one in taken:
        by_sheet.setdefault(one.handed_in.sheet_code, []).append(one)
    for code, several in by_sheet.items():
        *older, newest = sorted(several, key=lambda t: t.age)
        name = Path(newest.handed_in.file).relative_to(folder).as_posix()
        for one in older:
            expected = f"one answer book of sheet {code} ({sheets[code].student.code})"
            same = _answers(one.handed_in) == _answers(newest.handed_in)
            found = f"another with {'the same' if same else 'other'} answers, {name}"
            shown = "witnessmark returns shows them side by side"
            remedy = f"both are kept, nothing is replaced where they differ: {shown}"
            yield Problem("returned-twice", Place(one.handed_in.file), expected, found, remedy)


def _answers(handed_in: Return) -> list[tuple[str, str]]:
    return [(key, entry.raw) for key, entry in handed_in.answers]


def short(text: str) -> str:
    """The text on one line, cut where it is long."""
    one_line = " ".join(text.split())
    return one_line if len(one_line) <= LONGEST_SHOWN else f"{one_line[:LONGEST_SHOWN]}…"
