"""Two limits, several options, pairs and sizes of a table through a class: answer book, class table, page, marks and
feedback agree."""

import io
import re
from base64 import b64decode
from pathlib import Path

import openpyxl
import pytest

from jobs.small_class import LATER, NOW, STUDENTS, hand_in, sheets_of, write_students, write_task
from witnessmark.cli.teaching_lines import followed_up_lines
from witnessmark.documents.sheet.offline import offline_page
from witnessmark.documents.sheet.sheet import sheet_document
from witnessmark.files.class_folder.folder import start_class
from witnessmark.jobs.explaining import explain
from witnessmark.jobs.following_up import follow_up
from witnessmark.jobs.issuing import issue
from witnessmark.jobs.marking import mark
from witnessmark.jobs.opened import open_class
from witnessmark.jobs.returning import return_feedback
from witnessmark.jobs.reviewing import review
from witnessmark.marking.outcome import Outcome
from witnessmark.questions.model.kinds import balloons_in, standards_in
from witnessmark.questions.sheet.listing import letter_of, lettered_options, listed_options, numbered_things
from witnessmark.questions.sheet.task import Sheet

BANK = Path(__file__).parents[2] / "bank"
TASK = "fits-1"
WORDS = ("its hardness", "the load that breaks it", "the stress at which it stays stretched")
WRONG = "its modulus of elasticity"
KEYS = ("1.a", "1.b", "1.c", "2.b", "3.a", "4.b", "4.c")


def letters(sheet: Sheet, *texts: str) -> str:
    part = sheet.variants[1].question.part("b")
    listed = [option.text for option in listed_options(sheet.variants[1], part)]  # type: ignore[arg-type]
    return ", ".join(sorted(letter_of(listed.index(text)) for text in texts))


def numbered(sheet: Sheet, swapped: bool = False) -> str:
    """The numbers of this student's figure with their letters; with a pair that the first slip has instead."""
    (part,) = balloons_in(sheet.variants[2].question.parts)
    given = dict(part.pairs) | ({part.slips[0].thing: part.slips[0].option} if swapped else {})
    things, options = numbered_things(part, sheet.variants[2]), lettered_options(part, sheet.variants[2])
    return ", ".join(f"{n}{letter_of(options.index(given[thing]))}" for n, thing in enumerate(things, 1))


def pair(sheet: Sheet, key: str) -> str:
    expected = sheet.variants[0].expected
    return f"{expected[f'{key}.smallest']:.6g~P} and {expected[f'{key}.largest']:.6g~P}"


def rope(sheet: Sheet, factor: float) -> dict[str, str]:
    """A breaking force, and the rope that the table has for that."""
    part = standards_in(sheet.variants[3].question.parts)[0]
    force = factor * float(sheet.variants[3].expected["b"].to("kN").magnitude)
    return {"4.b": f"{force:.4g} kN", "4.c": next(size.name for size in part.sizes if float(size.value) >= force)}


def typed(sheet: Sheet, number: int) -> dict[str, str]:
    """The first has all of it right, the second one wrong option and half the force, the third one value of two and a
    rope that is not sold, the last nothing."""
    right = {"1.a": pair(sheet, "a"), "1.b": pair(sheet, "b"), "1.c": pair(sheet, "c")}
    return (
        {**right, "2.b": letters(sheet, *WORDS), "3.a": numbered(sheet), **rope(sheet, 1)},
        {**right, "2.b": letters(sheet, *WORDS, WRONG), "3.a": numbered(sheet, swapped=True), **rope(sheet, 0.5)},
        {
            "1.a": pair(sheet, "a").partition(" and ")[0],
            "2.b": letters(sheet, WORDS[0]),
            "3.a": numbered(sheet)[:2],
            "4.c": "6.3 mm",
        },
        {},
    )[number]


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("kinds") / "class"
    start_class(path, "First years", BANK, NOW)
    write_students(path, STUDENTS)
    write_task(path, "[shaft-in-bush, soft-and-hard-wire, circuit-signs, hoist-rope]", TASK)
    issue(path, TASK, NOW)
    for number, sheet in enumerate(sheets_of(path, TASK).values()):
        hand_in(path, sheet, typed(sheet, number), task=TASK)
    mark(path, TASK, LATER)
    return path


def outcomes(folder: Path) -> list[dict[str, Outcome]]:
    with open_class(folder).record() as record:
        found = record.outcomes(TASK)
    return [dict(found[sheet.code]) for sheet in sheets_of(folder, TASK).values()]


def test_answer_books_of_a_class_are_marked(folder: Path) -> None:
    told = [{key: (str(o.marks), str(o.verdict)) for key, o in mine.items() if o.raw} for mine in outcomes(folder)]
    right = {"1.a": ("2", "right"), "1.b": ("2", "right"), "1.c": ("2", "right")}
    assert told == [
        {**right, "2.b": ("3", "right"), "3.a": ("2.5", "right"), "4.b": ("1", "right"), "4.c": ("1", "right")},
        {
            **right, "2.b": ("2", "slip"), "3.a": ("2", "slip"), "4.b": ("0", "edit"),
            "4.c": ("1", "carried forward"),
        },
        {"1.a": ("1", "wrong"), "2.b": ("1", "slip"), "3.a": ("0.5", "wrong"), "4.c": ("0", "slip")}, {},
    ]  # fmt: skip


def test_every_answer_has_one_place_in_the_book_and_one_column_in_the_table(folder: Path) -> None:
    table = openpyxl.load_workbook(folder / "issued" / TASK / "class-table.xlsx").worksheets[0]
    heads, hints = ([str(cell.value) for cell in table[row]] for row in (1, 2))
    asked = dict(zip(heads, hints, strict=True))
    assert {label: asked[label] for label in ("1a", "1c", "2b", "3a", "4c")} == {
        "1a": "mm", "1c": "µm", "2b": "letters", "3a": "numbers with letters", "4c": "a size listed",
    }  # fmt: skip
    book = openpyxl.load_workbook(io.BytesIO((folder / "issued" / TASK / "books" / "HB01.xlsx").read_bytes()))
    labels = [str(row[0].value) for row in book["Answers"].iter_rows() if row[0].value]
    assert [label for label in labels if label.startswith(("1", "2", "3")) and len(label) == 2] == [
        "1a", "1b", "1c", "1d", "2a", "2b", "3a", "3b", "3c",
    ]  # fmt: skip


def test_a_size_can_be_picked_in_the_book_and_on_the_page_and_stands_in_a_table_on_the_sheet(folder: Path) -> None:
    book = openpyxl.load_workbook(io.BytesIO((folder / "issued" / TASK / "books" / "HB01.xlsx").read_bytes()))
    offered = [rule.formula1 for rule in book["Answers"].data_validations.dataValidation]
    assert any("6 mm,7 mm,8 mm" in str(one) for one in offered)
    sheet = sheets_of(folder, TASK)["HB01"]
    page = offline_page(sheet_document(sheet, {}), sheet)
    assert page.count('type="radio" name="4.c"') == len(standards_in(sheet.variants[3].question.parts)[0].sizes)
    assert "breaking force in kN" in page


def test_a_class_table_earns_what_the_books_earned(folder: Path, tmp_path: Path) -> None:
    lines = ["student,1a,1b,1c,2b,3a,4b,4c"]
    for number, (code, sheet) in enumerate(sheets_of(folder, TASK).items()):
        told = typed(sheet, number)
        lines.append(",".join([code, *(f'"{told.get(key, "")}"' for key in KEYS)]))
    before = [{key: o.marks for key, o in mine.items()} for mine in outcomes(folder)]
    (tmp_path / "typed.csv").write_text("\n".join(lines) + "\n", encoding="utf-8")
    mark(folder, TASK, LATER, tmp_path / "typed.csv")
    assert [{key: o.marks for key, o in mine.items()} for mine in outcomes(folder)] == before


def test_the_page_to_fill_in_has_one_field_for_the_pairs_and_tells_no_name_of_a_balloon(folder: Path) -> None:
    page = (folder / "issued" / TASK / "pages" / "HB01.html").read_text(encoding="utf-8")
    assert len(re.findall(r'data-key="3\.a"', page)) == 1
    assert "five numbered balloons" in page
    drawn = [b64decode(code).decode() for code in re.findall(r'src="data:image/svg\+xml;base64,([^"]+)"', page)]
    (circuit,) = [svg for svg in drawn if "five numbered balloons" in svg]
    assert not re.search("pump|relief|check|filter|throttle", circuit)


def test_what_a_pair_rests_on_is_explained(folder: Path) -> None:
    sheet = list(sheets_of(folder, TASK).values())[1]
    told = explain(folder, sheet.code, "3a")
    assert re.sub(r" \([^)]*\)", "", told.asked.right) == numbered(sheet)
    assert "(pump)" in told.asked.right
    assert told.outcome is not None
    assert told.outcome.misconceptions == ("triangle-points-where-oil-comes-from",)
    assert "goes with “pump”, not with “hydraulic motor”" in told.outcome.because


def test_feedback_and_review_are_written_of_them(folder: Path) -> None:
    done = return_feedback(folder, TASK, LATER)
    assert done.faults == ()
    assert sorted(path.name for path in (folder / "feedback" / TASK).iterdir()) == [f"{s[0]}.pdf" for s in STUDENTS]
    review(folder, TASK)
    page = (folder / f"review-{TASK}.html").read_text(encoding="utf-8")
    assert "The triangle in the ring shows from which side the oil comes." in page
    assert "A stronger metal stretches less" in page or "strength-for-stiffness" in page
    assert "Any number is a size" in page or "any-size-can-be-had" in page or "What comes out of the sum" in page


def test_what_only_pairs_and_options_show_is_said_where_no_sheet_can_follow_it_up(folder: Path) -> None:
    student = list(sheets_of(folder, TASK))[1]
    said = followed_up_lines(follow_up(folder, TASK, LATER))
    assert said[0].startswith("No sheet was written: no calculated question of the bank shows")
    assert f"  left out for {student}: triangle-points-where-oil-comes-from" in said


def test_an_answer_by_a_table_is_explained(folder: Path) -> None:
    sheet = list(sheets_of(folder, TASK).values())[1]
    done = explain(folder, sheet.code, "4c")
    assert done.asked.right.endswith("mm")
    assert done.earlier[0][0] == "4b"
    assert done.outcome is not None
    assert "the smallest size listed that is at least your" in done.outcome.because
