"""students.csv: what spreadsheets save is read, and every problem has its line and column."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.files.class_folder.students_csv import looks_like, read_students
from witnessmark.files.tables.csv_cells import rows_of
from witnessmark.questions.sheet.task import Student

CASES = Path(__file__).parents[1] / "cases" / "students_csv_problems.txt"
KIM, ASA = Student("A1", "Kim Dekker", "Westhaven"), Student("A2", "Åsa Öberg", "Norrvik")
PLAIN = "code,name,group\nA1,Kim Dekker,Westhaven\nA2,Åsa Öberg,Norrvik\n"


def cases() -> list[tuple[str, str, list[str]]]:
    """Title, text and the whole lines of its problems, from the case file."""
    found = []
    for block in CASES.read_text(encoding="utf-8").split("\n=== ")[1:]:
        title, rest = block.split("\n", 1)
        text, lines = rest.split("\n--- problems\n")
        found.append((title, text.replace("␉", "\t"), lines.strip().split("\n")))
    return found


@pytest.mark.parametrize(("title", "text", "expected"), cases(), ids=[c[0] for c in cases()])
def test_every_problem_is_told_at_its_place(title: str, text: str, expected: list[str]) -> None:
    _, problems = read_students(text.encode(), "students.csv")
    assert [str(p) for p in problems] == expected


SAVED = {
    "as it is": PLAIN.encode(),
    "with a byte-order mark": PLAIN.encode("utf-8-sig"),
    "with semicolons": PLAIN.replace(",", ";").encode(),
    "with tabs": PLAIN.replace(",", "\t").encode(),
    "with tabs in UTF-16": PLAIN.replace(",", "\t").encode("utf-16"),
    "with the line ends of Windows": PLAIN.replace("\n", "\r\n").encode(),
    "with the line ends of old Macs": PLAIN.replace("\n", "\r").encode(),
    "without a last line end": PLAIN.strip().encode(),
    "with quotes": b'"code","name","group"\n"A1","Kim Dekker","Westhaven"\n"A2","\xc3\x85sa \xc3\x96berg","Norrvik"',
    "with blanks and blank lines": PLAIN.replace(",", " , ").replace("\n", " \n\n ,,\n").encode(),
    "with empty columns at the end": PLAIN.replace("\n", ",,\n").encode(),
    "with headings in capitals": PLAIN.replace("code,name,group", "Code, NAME ,Group").encode(),
    "with comments": ("# our class\n" + PLAIN + "# the end").encode(),
    "in another order": "group,code,name\nWesthaven,A1,Kim Dekker\nNorrvik,A2,Åsa Öberg".encode(),
}


@pytest.mark.parametrize("data", SAVED.values(), ids=SAVED.keys())
def test_a_list_is_read_however_it_was_saved(data: bytes) -> None:
    assert read_students(data, "students.csv") == ((KIM, ASA), ())


def test_names_and_groups_may_be_left_out() -> None:
    assert read_students(b"code\nA1\nA2", "s") == ((Student("A1", ""), Student("A2", "")), ())
    assert read_students(b"code,name,group\nA1,,\nA2", "s") == ((Student("A1", ""), Student("A2", "")), ())


def test_further_columns_are_kept_in_order() -> None:
    students, problems = read_students(b'Phone,code,name,Year\n1,A1,Kim,"two, or\nthree"\n,A2,Lou', "s")
    assert problems == ()
    assert students == (
        Student("A1", "Kim", "", (("Phone", "1"), ("Year", "two, or three"))),
        Student("A2", "Lou", "", (("Phone", ""), ("Year", ""))),
    )


def test_a_quote_inside_quotes_is_written_twice() -> None:
    students, problems = read_students(b'code,name\nA1,"Kim ""Skipper"" Dekker"', "s")
    assert (students[0].name, problems) == ('Kim "Skipper" Dekker', ())


def test_text_of_an_older_encoding_is_told_at_its_place() -> None:
    _, problems = read_students("code,name\nA1,Kim\nA2,Åsa".encode("cp1252"), "students.csv")
    assert str(problems[0]) == (
        "students.csv:3:4: [not-utf-8] expected text in UTF-8, found the byte C5;"
        " save it again as UTF-8 (CSV UTF-8 in a spreadsheet)"
    )


def test_a_file_that_is_too_large_is_told() -> None:
    _, problems = read_students(b"x" * 5_000_001, "students.csv")
    assert [str(p) for p in problems] == [
        "students.csv: [file-too-large] expected at most 5000000 bytes, found 5000001; split the file"
    ]


@pytest.mark.parametrize(
    ("one", "other"), [("A1", "a1"), ("A10", "A1O"), ("A1", "AI"), ("A1", "Al"), ("A-1", "A1"), ("A_1", "A-1")]
)
def test_codes_that_are_taken_for_each_other_look_alike(one: str, other: str) -> None:
    assert looks_like(one) == looks_like(other)


@pytest.mark.parametrize(("one", "other"), [("A1", "A2"), ("A1", "B1"), ("A1", "A11"), ("A5", "AS"), ("8", "B")])
def test_other_codes_do_not(one: str, other: str) -> None:
    assert looks_like(one) != looks_like(other)


CELL = st.text(st.characters(codec="utf-8", exclude_categories=["C", "Z"]), max_size=8)


@given(st.lists(st.lists(CELL, min_size=2, max_size=4), min_size=1, max_size=5), st.sampled_from(",;\t"))
def test_what_is_written_in_quotes_is_read_back_with_its_place(rows: list[list[str]], separator: str) -> None:
    # Written by the rules of RFC 4180, section 2: quotes round the cell, quotes inside doubled.
    quoted = [[f'"{cell.replace(chr(34), chr(34) * 2)}"' for cell in row] for row in rows]
    text = "\n".join(separator.join(row) for row in quoted)
    read, problems = rows_of(text, "s")
    with_text = [(n, row) for n, row in enumerate(rows) if any(row)]
    assert problems == ()
    assert [[cell.text for cell in row] for row in read] == [row for _, row in with_text]
    lines = text.split("\n")
    for (n, _), cells in zip(with_text, read, strict=True):
        assert {cell.line for cell in cells} == {n + 1}
        assert all(lines[cell.line - 1][cell.column - 1] == '"' for cell in cells)


@given(st.binary(max_size=200))
def test_any_bytes_are_read_without_failing(data: bytes) -> None:
    students, problems = read_students(data, "s")
    assert isinstance(students, tuple)
    assert all(p.place.file == "s" for p in problems)


@given(st.text(max_size=200))
def test_any_text_is_read_and_no_code_is_lost_silently(text: str) -> None:
    data = f"code,name\n{text}".encode("utf-8", "surrogatepass")
    students, problems = read_students(data, "s")
    assert len({looks_like(s.code) for s in students}) == len(students)
    assert students or problems or not rows_of(text, "s")[0]
