"""What the strip of a class shows of excuses and further attempts, and what each verdict gave."""

from dataclasses import replace
from datetime import UTC, datetime
from decimal import Decimal

from review.year_class import FACE, Planted, students, year
from witnessmark.documents.page.html import html_of
from witnessmark.documents.year.page import year_document
from witnessmark.marking.outcome import Outcome, Verdict
from witnessmark.questions.sheet.arranged import Arranged, Arrangement, Arranging
from witnessmark.questions.sheet.task import Ask
from witnessmark.review.year.chances import chances_of
from witnessmark.review.year.history import Year
from witnessmark.review.year.recurrence import recurrences_of
from witnessmark.review.year.rungs import rungs_of
from witnessmark.review.year.strip import Came, strip_of
from witnessmark.review.year.year_review import year_review

WHO = students(4)
AT = datetime(2027, 1, 4, tzinfo=UTC)


def excused(student: str, value: str) -> Arrangement:
    """An excuse from the first task."""
    return Arrangement(Arranging.EXCUSED, "task-1", student, value, "K. Lund", "ill", AT)


def one_year() -> Year:
    """S00 shows a slip and does it again with all right; S01 is exempt, S02 absent, S03 has not come back."""
    made = year(WHO, Planted({FACE: lambda s, _: s == "S00"}, frozenset({("S02", 0), ("S03", 0)})))
    first, *others = made.tasks
    sheet = replace(first.sheets[0], code="again", attempt=2)
    right = {
        Ask(1, part).key: Outcome(part.marks, part.marks, Verdict.RIGHT, "", raw="1 kN")
        for part in sheet.variants[0].question.parts
    }
    again = replace(first, sheets=(*first.sheets, sheet), outcomes={**first.outcomes, "again": right})
    return replace(
        made, tasks=(again, *others), arranged=Arranged((excused("S01", "exempt"), excused("S02", "absent")))
    )


def test_excuses_and_further_attempts_stand_in_the_strip() -> None:
    cells = {row.student.code: row.tasks[0] for row in strip_of(one_year())}
    assert {code: {cell.came for cell in mine} for code, mine in cells.items()} == {
        "S00": {Came.MARKED}, "S01": {Came.EXCUSED}, "S02": {Came.EXCUSED}, "S03": {Came.NOT_BACK},
    }  # fmt: skip
    assert cells["S00"][0].share == 0.0
    assert {cell.share_again for cell in cells["S00"]} == {1.0}
    assert [cells[code][0].said for code in ("S01", "S02", "S03")] == ["exempt", "absent", ""]


def test_who_was_absent_and_handed_in_after_all_has_marks_in_the_strip() -> None:
    made = one_year()
    here = replace(made, arranged=Arranged((excused("S00", "absent"),)))
    assert {cell.came for cell in strip_of(here)[0].tasks[0]} == {Came.MARKED}


def test_the_page_says_in_words_what_the_strip_draws() -> None:
    made = one_year()
    review = year_review(made, {}, recurrences_of(chances_of(made), {}, ()))
    page = html_of(year_document(review))
    for told in ("A slanted line: absent or exempt.", "A thick bar stands at what a further attempt earned.",
                 ">exempt", ">absent", ", again\u00a0"):  # fmt: skip
        assert told in page, told
    plain = year(WHO, Planted({}))
    told = html_of(year_document(year_review(plain, {}, recurrences_of(chances_of(plain), {}, ()))))
    assert "slanted" not in told
    assert "thick bar" not in told


def test_what_the_rungs_gave_adds_up_to_what_the_results_earned() -> None:
    task = one_year().tasks[0]
    rungs = rungs_of(task)
    assert [(r.verdict, r.answers) for r in rungs] == [(Verdict.RIGHT, 3 + 2 + 3), (Verdict.SLIP, 1)]
    marks = [o.marks for by_ask in task.outcomes.values() for o in by_ask.values()]
    assert sum((r.marks for r in rungs), Decimal(0)) == sum(marks, Decimal(0))
