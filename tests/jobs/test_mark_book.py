"""The mark book of a year: what counts, formulas, the plain table, OneRoster files, and the whole history replayed."""

import csv
import io
import shutil
import zipfile
from collections.abc import Mapping, Sequence
from datetime import date
from decimal import Decimal
from pathlib import Path

import openpyxl
import pytest

from jobs.replayed import replay
from jobs.year_class import END, YARDS, moderated_in_spreadsheets, year_class
from programs import worked_out
from witnessmark.documents.gradebook.mark_book_csv import plain
from witnessmark.documents.gradebook.mark_book_data import MarkBookData
from witnessmark.documents.gradebook.one_roster import one_roster
from witnessmark.jobs.keeping_mark_book import keep_mark_book, mark_book_data
from witnessmark.jobs.opened import open_class
from witnessmark.jobs.printing import Wanted, print_sheets
from witnessmark.jobs.returning import return_feedback
from witnessmark.marking.standing import State

PUBLISHED = Path(__file__).parents[1] / "cases" / "one_roster_1_2.csv"
Cells = Mapping[str, Sequence[Sequence[object]]]


@pytest.fixture(scope="module")
def year(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Seven students, three tasks; with its mark book."""
    folder = year_class(tmp_path_factory.mktemp("year") / "class", 7, 3)
    keep_mark_book(folder, END, packed=True)
    return folder


def data_of(folder: Path) -> MarkBookData:
    """The mark book as values."""
    opened = open_class(folder)
    with opened.record() as record:
        return mark_book_data(opened, record, END)


def cells(path: Path) -> Cells:
    """Every value that a workbook holds, by page."""
    book = openpyxl.load_workbook(path, data_only=True)
    return {page.title: [[cell.value for cell in row] for row in page.iter_rows()] for page in book}


def test_every_state_of_a_year_is_told_and_counts_as_it_should(year: Path) -> None:
    data = data_of(year)
    states = {one.student.code: [s.state for s in one.standings] for one in data.students}
    assert states == {
        "S01": [State.LATE, State.IN_TIME, State.IN_TIME], "S02": [State.EXTENDED, State.IN_TIME, State.IN_TIME],
        "S03": [State.ABSENT, State.IN_TIME, State.IN_TIME], "S04": [State.EXEMPT, State.IN_TIME, State.IN_TIME],
        "S05": [State.LATE, State.IN_TIME, State.IN_TIME], "S06": [State.LATE, State.IN_TIME, State.IN_TIME],
        "S07": [State.MISSING, State.LEFT, State.LEFT],
    }  # fmt: skip
    means = {one.student.code: data.mean(one) for one in data.students}
    assert means["S07"] == 0
    assert means["S03"] == means["S04"] == 1
    late = next(one for one in data.students if one.student.code == "S05")
    assert data.students[4].student.group == YARDS[0]
    first = late.standings[0].attempts[0]
    weights = [of_year.task.weight for of_year in data.tasks]
    assert (weights, first.days_late, first.off) == ([Decimal(2), Decimal(1), Decimal(1)], 8, Decimal(1))
    # task 1 weighs 2: two weeks begun at a tenth each are a fifth of 6 marks, 1.2, rounded down to halves: 5 of 6
    assert means["S05"] == (2 * Decimal(5) / 6 + 1 + 1) / 4


def test_the_stored_value_of_every_formula_is_what_libreoffice_works_out(
    year: Path, soffice: Path, tmp_path: Path
) -> None:
    stored = cells(year / "mark-book.xlsx")
    worked = cells(worked_out(soffice, year / "mark-book.xlsx", "xlsx", tmp_path))
    assert stored.keys() == worked.keys() == {"Mark book", "Marks", "Attempts"}
    for page, rows in stored.items():
        for mine, theirs in zip(rows, worked[page], strict=True):
            for one, other in zip(mine, theirs, strict=True):
                if isinstance(one, float) and isinstance(other, int | float):
                    assert one == pytest.approx(other, rel=1e-12), page
                else:
                    assert (one or None) == (other or None), page


def test_the_plain_table_has_the_same_marks(year: Path) -> None:
    lines = list(csv.DictReader(io.StringIO((year / "mark-book.csv").read_text(encoding="utf-8"))))
    data = data_of(year)
    rows = {line["student"]: line for line in lines}
    for one in data.students:
        row = rows[one.student.code]
        for n, of_year in enumerate(data.tasks):
            marks = one.standings[n].marks
            assert row[f"{of_year.task.key} marks"] == ("" if marks is None else f"{marks:.6g}")
        mean = data.mean(one)
        assert row["weighted mean"] == ("" if mean is None else f"{mean:.4f}")
    assert plain("=1+1") == "'=1+1"
    assert plain("O'Neil") == "O'Neil"


def one_roster_tables(packed: bytes) -> dict[str, list[dict[str, str]]]:
    """The rows of each file of the zip, with the headings in order."""
    with zipfile.ZipFile(io.BytesIO(packed)) as files:
        texts = {name: files.read(name).decode("utf-8") for name in files.namelist()}
    return {name: list(csv.DictReader(io.StringIO(text, newline=""))) for name, text in texts.items()}


def published() -> dict[str, list[dict[str, str]]]:
    """The tables of the specification: for each file its columns in order, with need, format and permitted values."""
    found: dict[str, list[dict[str, str]]] = {}
    with PUBLISHED.open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(line for line in file if not line.startswith("#")):
            found.setdefault(row["file"], []).append(row)
    return found


def test_one_roster_files_are_field_by_field_what_the_specification_publishes(year: Path) -> None:
    tables = one_roster_tables((year / "mark-book-oneroster.zip").read_bytes())
    manifest = {row["propertyName"]: row["value"] for row in tables.pop("manifest.csv")}
    files = {name.removesuffix(".csv") for name in tables}
    assert (manifest["manifest.version"], manifest["oneroster.version"]) == ("1.0", "1.2")
    assert {name for name, value in manifest.items() if value == "bulk"} == {f"file.{name}" for name in files}
    for name, rows in tables.items():
        fields = published()[name.removesuffix(".csv")]
        assert rows, f"{name}: files without data rows are not permitted"
        assert list(rows[0]) == [field["column"] for field in fields], name
        for row in rows:
            for field in fields:
                _check(name, field, row[field["column"]])


def _check(name: str, field: Mapping[str, str], value: str) -> None:
    where = f"{name} {field['column']}: {value!r}"
    if field["required"] == "delta":
        assert value == "", f"{where}: must be empty in bulk mode"
        return
    assert value or field["required"] == "no", f"{where}: required"
    if not value:
        return
    if field["permitted"]:
        assert value in field["permitted"].split("|"), where
    if field["format"] in ("GUID", "GUID Reference"):
        assert len(value) < 256, where
        assert all(c.isascii() and (c.isalnum() or c in ".-_/@") for c in value), where
    if field["format"] == "Date":
        assert date.fromisoformat(value).isoformat() == value, where
    if field["format"] == "Float":
        assert float(value) >= 0, where
    if field["format"] == "Year":
        assert 1900 < int(value) < 3000, where


def test_every_object_that_a_one_roster_file_names_is_defined(year: Path) -> None:
    tables = one_roster_tables((year / "mark-book-oneroster.zip").read_bytes())
    kinds = {
        "classSourcedId": "classes", "courseSourcedId": "courses", "schoolSourcedId": "orgs", "orgSourcedId": "orgs",
        "primaryOrgSourcedId": "orgs", "userSourcedId": "users", "studentSourcedId": "users",
        "lineItemSourcedId": "lineItems", "categorySourcedId": "categories", "termSourcedIds": "academicSessions",
        "academicSessionSourcedId": "academicSessions", "schoolYearSourcedId": "academicSessions",
    }  # fmt: skip
    ids = {name: {row.get("sourcedId", "") for row in rows} for name, rows in tables.items()}
    for name, rows in tables.items():
        if name != "manifest.csv":
            assert len(ids[name]) == len(rows), f"{name}: an identifier twice"
        for row in rows:
            for column, of in kinds.items():
                if row.get(column):
                    assert row[column] in ids[f"{of}.csv"], f"{name} {column}"


def test_one_roster_results_tell_late_missing_exempt_and_open(year: Path) -> None:
    tables = one_roster_tables((year / "mark-book-oneroster.zip").read_bytes())
    told = {
        tuple(row["sourcedId"].split(".")[2:]): (row["scoreStatus"], row["score"], row["late"])
        for row in tables["results.csv"]
    }
    assert told["task-1", "S03"] == ("not submitted", "", "false")
    assert told["task-1", "S04"] == ("exempt", "", "false")
    assert told["task-1", "S05"] == ("fully graded", "5.0", "true")
    assert told["task-1", "S07"] == ("not submitted", "0.0", "true")
    assert ("task-2", "S07") not in told
    with pytest.raises(ValueError, match="no rows"):
        one_roster(MarkBookData("x", date(2027, 1, 1), date(2027, 1, 1), (), ()))


def test_the_history_replayed_into_a_new_record_gives_the_same_books_cell_for_cell(year: Path, tmp_path: Path) -> None:
    _replays(year, tmp_path)


def _replays(folder: Path, tmp_path: Path) -> None:
    other = tmp_path / "other"
    shutil.copytree(folder, other, ignore=shutil.ignore_patterns("record.db*", "copies", "issued", "*.xlsx", ".in-use"))
    with open_class(folder).record() as old:
        assert old.verify() == ()
        replay(old, other / "record.db")
        tasks = old.tasks()
    with open_class(other).record() as new:
        assert new.verify() == ()
        assert new.tasks() == tasks
    keep_mark_book(other, END)
    assert cells(other / "mark-book.xlsx") == cells(folder / "mark-book.xlsx")
    for task in tasks:
        assert cells(return_feedback(other, task, END).gradebook) == cells(return_feedback(folder, task, END).gradebook)


@pytest.mark.deep
def test_thirty_students_and_eight_tasks_live_through_a_year(tmp_path: Path, soffice: Path) -> None:
    folder = year_class(tmp_path / "class", 30, 8)
    for moderated in moderated_in_spreadsheets(folder, soffice, tmp_path / "by-hand"):
        assert not moderated.problems
        assert [(one.student, one.after) for one in moderated.changes] == [("S05", Decimal("1.5")), ("S06", Decimal(2))]
    to_print = print_sheets(folder, "task-8", Wanted(), both_sides=True)
    assert len(to_print.sheets) == 29, "all but the one who left"
    keep_mark_book(folder, END, packed=True)
    data = data_of(folder)
    assert (len(data.students), len(data.tasks)) == (30, 8)
    assert {one.student.group for one in data.students} == set(YARDS)
    test_the_stored_value_of_every_formula_is_what_libreoffice_works_out(folder, soffice, tmp_path)
    test_one_roster_files_are_field_by_field_what_the_specification_publishes(folder)
    _replays(folder, tmp_path)
