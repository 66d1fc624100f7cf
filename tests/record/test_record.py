"""What goes into the record comes out the same, and nothing else changes."""

import math
from dataclasses import replace
from decimal import Decimal

import pytest

from record.examples import LATER, NOW, STUDENTS, handed_in, outcome, question, sheets, slip, task, variant
from witnessmark.marking.outcome import Verdict
from witnessmark.questions.sheet.task import Rules, Sheet
from witnessmark.questions.sheet.variant import Variant
from witnessmark.record import sheets as stored
from witnessmark.record.record import Record
from witnessmark.record.rows import Event
from witnessmark.words.errors import ProblemsFound


def test_sheets_come_back_as_they_were_issued(issued: Record) -> None:
    assert issued.sheets("shear-1") == sheets()
    assert issued.sheet("shear-1-A2-1") == sheets()[1]


def test_shown_numbers_keep_their_zeros(issued: Record) -> None:
    assert str(issued.sheets("shear-1")[0].variants[0].shown["d"].number) == "20.0"


def test_a_task_that_was_not_issued_has_no_sheets(issued: Record) -> None:
    assert issued.sheets("shear-2") == ()
    assert issued.sheet("nothing") is None


def test_questions_of_one_text_are_made_once(issued: Record) -> None:
    first, second, _ = issued.sheets("shear-1")
    assert first.variants[0].question is second.variants[0].question


def test_issuing_the_same_sheets_again_changes_nothing(issued: Record) -> None:
    before = issued.journal()
    assert issued.add_sheets(sheets(), LATER) == 0
    assert issued.journal() == before


def test_an_issued_sheet_keeps_its_contents(issued: Record) -> None:
    first = sheets()[0]
    other = replace(first, variants=(variant(question(), 7), first.variants[1]))
    with pytest.raises(ProblemsFound) as caught:
        issued.add_sheets([other], LATER)
    assert str(caught.value) == (
        "shear-1-A1-1: [issued-otherwise] expected a sheet of A1 for shear-1 (attempt 1) with its first contents,"
        " found other contents; issue a further attempt; what was issued stays as it is"
    )
    assert issued.sheets("shear-1") == sheets()


def test_a_student_has_one_sheet_for_each_attempt(issued: Record) -> None:
    with pytest.raises(ProblemsFound):
        issued.add_sheets([replace(sheets()[0], code="another-code")], LATER)
    assert issued.add_sheets(sheets(attempt=2), LATER) == 3


def test_two_sheets_of_one_student_and_attempt_are_not_issued_together(issued: Record) -> None:
    again = sheets(attempt=2)
    with pytest.raises(ProblemsFound):
        issued.add_sheets([*again, replace(again[0], code="another-code")], LATER)
    assert issued.sheets("shear-1") == sheets()


def test_variants_that_were_read_are_kept_up_to_so_many(issued: Record, monkeypatch: pytest.MonkeyPatch) -> None:
    """Six variants: three are kept, these go, and three more are kept."""
    kept: dict[tuple[int, str, str], Variant] = {}
    monkeypatch.setattr(stored, "_VARIANTS", kept)
    monkeypatch.setattr(stored, "MOST_VARIANTS", 3)
    assert issued.sheets("shear-1") == sheets()
    assert len(kept) == 3
    assert issued.sheets("shear-1") == sheets()


def test_expected_results_are_worked_out_at_issue(issued: Record) -> None:
    # 300 N/mm2 times pi x 20 mm x 5 mm, worked by hand: area 314.159265 mm2, force 94.247780 kN
    expected = issued.expected("shear-1")["shear-1-A1-1"]
    assert math.isclose(expected["1.a.A_s"], 314.159265e-6, rel_tol=1e-8)
    assert math.isclose(expected["2.a"], 94_247.780, rel_tol=1e-8)


def test_expected_results_agree_with_each_sheet_worked_alone(issued: Record) -> None:
    for sheet in issued.sheets("shear-1"):
        alone = {f"{n}.{key}": x for n, v in enumerate(sheet.variants, 1) for key, x in v.expected_si.items()}
        assert issued.expected("shear-1")[sheet.code] == alone


def test_a_task_keeps_its_rules_exactly(record: Record) -> None:
    rules = Rules(figures=4, wrong_unit=Decimal("1.50"), ask_below=0.1 + 0.2, half_marks=False)
    record.add_task(task(rules=rules), NOW)
    assert record.add_sheets(sheets(task(rules=rules))[:1], NOW) == 1
    assert record.sheets("shear-1")[0].task == task(rules=rules)
    assert record.tasks() == ("shear-1",)


def test_a_changed_title_is_stored_with_a_journal_row_and_the_same_task_without(issued: Record) -> None:
    other = replace(task(), title="Shear, punching and rivets")
    issued.add_task(task(), LATER)
    issued.add_task(other, LATER)
    issued.add_task(other, LATER)
    assert [(row.event, row.why) for row in issued.journal("shear-1") if row.event is Event.TASK] == [
        (Event.TASK, "set"),
        (Event.TASK, "changed"),
    ]
    assert issued.sheets("shear-1")[0].task == other


def test_an_issued_task_keeps_its_rules_until_they_are_changed_on_purpose(issued: Record) -> None:
    before = issued.journal()
    issued.add_task(task(rules=Rules(figures=2)), LATER)
    assert issued.sheets("shear-1")[0].task.rules == Rules()
    assert issued.journal() == before
    issued.change_rules(task(rules=Rules(figures=2)), "R. Vos", "two figures were agreed", LATER)
    assert issued.sheets("shear-1")[0].task.rules.figures == 2
    assert [(row.who, row.why) for row in issued.journal()[len(before) :]] == [("R. Vos", "two figures were agreed")]


def test_an_issued_task_keeps_its_questions(issued: Record) -> None:
    with pytest.raises(ProblemsFound) as caught:
        issued.add_task(replace(task(), questions=("rivet",)), LATER)
    assert str(caught.value) == (
        "shear-1: [task-changed] expected the questions that were issued: drain-hole, rivet, found rivet;"
        " set other questions as a task of another name"
    )


def test_returns_come_back_as_they_were_received(issued: Record) -> None:
    given = [handed_in(sheet, x1_b="yes", x9_z="an ask that the sheet has not") for sheet in sheets()]
    assert issued.add_returns(given, NOW) == 3
    assert issued.returns("shear-1") == tuple(given)


def test_the_same_return_again_changes_nothing_wherever_its_file_lies(issued: Record) -> None:
    first = handed_in(sheets()[0], file="/one/place/A1.xlsx")
    issued.add_returns([first], NOW, {first.file: "ab" * 32})
    before = issued.journal()
    moved = replace(first, file=r"D:\another place\A1.xlsx")
    assert issued.add_returns([moved, first], LATER, {moved.file: "ab" * 32, first.file: "ab" * 32}) == 0
    assert issued.journal() == before


def test_a_second_return_is_kept_and_what_it_says_otherwise_replaces_nothing(issued: Record) -> None:
    sheet = sheets()[0]
    first, second = handed_in(sheet, "23.6 kN"), handed_in(sheet, "94.2 kN", "A1 again.xlsx")
    issued.add_returns([first], NOW)
    issued.add_returns([first, second], LATER)
    issued.add_returns([second, first], LATER)
    assert issued.returns("shear-1") == (first,)
    stored = issued.all_returns("shear-1", sheet.code)
    assert [(r.handed_in, r.received, r.counts) for r in stored] == [(first, NOW, ("1.a",)), (second, LATER, ())]


def test_a_second_return_adds_the_answers_that_the_first_left_open(issued: Record) -> None:
    sheet = sheets()[0]
    first, second = handed_in(sheet, "94.2 kN", x1_b=""), handed_in(sheet, " ", "on paper.csv", x1_b="yes")
    issued.add_returns([first], NOW)
    taken = issued.take_in([second], LATER, {})
    assert (taken.new, taken.added) == (1, ((sheet.code, "1.b"),))
    (standing,) = issued.returns("shear-1")
    assert {key: entry.raw for key, entry in standing.entries} == {"1.a": "94.2 kN", "1.b": "yes"}
    assert standing.file == "A1.xlsx, on paper.csv"
    assert issued.differences("shear-1") == ()


def test_a_file_is_kept_once_as_it_was_received(issued: Record) -> None:
    kept = issued.keep_file(b"a book" * 1_000)
    assert issued.keep_file(b"a book" * 1_000) == kept
    assert issued.kept_file(kept) == b"a book" * 1_000
    assert issued.kept_file("ab" * 32) is None


def test_of_two_returns_at_once_the_fuller_is_proposed_in_any_order(issued: Record) -> None:
    one, two = sheets()[:2]
    a, b = handed_in(one, "1 kN", "b.xlsx", x1_b="yes"), handed_in(one, "2 kN", "a.xlsx")
    c, d = handed_in(two, "1 kN", "b.xlsx", x1_b="yes"), handed_in(two, "2 kN", "a.xlsx")
    issued.add_returns([a, b, d, c], NOW)
    assert issued.returns("shear-1") == (a, c)
    assert [(d.sheet, d.ask, d.other.entry.raw) for d in issued.differences("shear-1")] == [
        (one.code, "1.a", "2 kN"), (two.code, "1.a", "2 kN"),
    ]  # fmt: skip


def test_a_return_of_an_unknown_sheet_stops_the_batch_before_anything_is_stored(issued: Record) -> None:
    good = handed_in(sheets()[0])
    with pytest.raises(ProblemsFound) as caught:
        issued.add_returns([good, replace(good, sheet_code="X", file="stray.xlsx")], NOW)
    assert str(caught.value) == (
        "stray.xlsx: [unknown-sheet] expected the code of a sheet that was issued, found 'X';"
        " look at the sheet code in the file; it may belong to another class"
    )
    assert issued.returns("shear-1") == ()


def test_outcomes_come_back_as_they_were_set(issued: Record) -> None:
    marked = {s.code: {"1.a": slip(), "1.b": outcome("0.5", Verdict.UNIT, notes=("a", "b"))} for s in sheets()}
    issued.set_outcomes("shear-1", marked, NOW, "marked")
    assert issued.outcomes("shear-1") == marked == issued.proposals("shear-1")


def test_marking_the_same_again_changes_nothing(issued: Record) -> None:
    marked = {s.code: {"1.a": slip("1.50"), "1.b": outcome()} for s in sheets()}
    issued.set_outcomes("shear-1", marked, NOW, "marked")
    before = issued.journal()
    assert issued.set_outcomes("shear-1", marked, LATER, "marked again") == ()
    assert issued.journal() == before


def test_words_may_change_without_a_journal_row_but_marks_and_verdicts_not(issued: Record) -> None:
    code = sheets()[0].code
    issued.set_outcomes("shear-1", {code: {"1.a": slip()}}, NOW, "marked")
    issued.set_outcomes("shear-1", {code: {"1.a": replace(slip(), because="In other words.")}}, LATER, "reworded")
    issued.set_outcomes("shear-1", {code: {"1.a": outcome()}}, LATER, "a wording was accepted")
    rows = issued.journal(sheet_code=code, ask_key="1.a")
    assert [(r.before, r.after, r.why, r.detail) for r in rows] == [
        (None, Decimal(1), "marked", "slip"),
        (Decimal(1), Decimal(3), "a wording was accepted", "slip, now right"),
    ]


def test_changes_are_shown_before_they_are_made(issued: Record) -> None:
    code = sheets()[0].code
    issued.set_outcomes("shear-1", {code: {"1.a": slip(), "1.b": outcome("0")}}, NOW, "marked")
    (first, second) = issued.changes("shear-1", {code: {"1.a": outcome()}})
    assert (first.ask, first.before, first.after, first.changes_the_mark) == ("1.a", slip(), outcome(), True)
    assert (second.ask, second.before, second.after) == ("1.b", outcome("0"), None)
    assert issued.outcomes("shear-1")[code]["1.a"] == slip()


def test_an_outcome_that_is_no_longer_there_leaves_a_row(issued: Record) -> None:
    code = sheets()[0].code
    issued.set_outcomes("shear-1", {code: {"1.a": slip()}}, NOW, "marked")
    issued.set_outcomes("shear-1", {code: {}}, LATER, "the return was empty")
    last = issued.journal(sheet_code=code)[-1]
    assert (last.before, last.after, last.why) == (Decimal(1), None, "the return was empty")


@pytest.mark.parametrize("marks", ["-0.5", "3.5", "NaN", "Infinity"])
def test_impossible_marks_are_refused(issued: Record, marks: str) -> None:
    with pytest.raises(ValueError, match="marks"):
        issued.set_outcomes("shear-1", {sheets()[0].code: {"1.a": outcome(marks)}}, NOW, "marked")
    assert issued.outcomes("shear-1") == {}


def test_outcomes_of_another_tasks_sheet_are_refused(issued: Record) -> None:
    with pytest.raises(KeyError, match="no sheets of shear-1: other"):
        issued.set_outcomes("shear-1", {"other": {}}, NOW, "marked")


def test_times_need_a_zone_and_marks_a_reason(issued: Record) -> None:
    marked = {sheets()[0].code: {"1.a": outcome()}}
    with pytest.raises(ValueError, match="time zone"):
        issued.set_outcomes("shear-1", marked, NOW.replace(tzinfo=None), "marked")
    with pytest.raises(ValueError, match="for a reason"):
        issued.set_outcomes("shear-1", marked, NOW, " ")
    assert issued.outcomes("shear-1") == {}


def test_a_question_without_its_text_cannot_be_issued(record: Record) -> None:
    bare = variant(replace(question(), source=""))
    with pytest.raises(ValueError, match="source text"):
        record.add_sheets([Sheet("X", replace(task(), questions=("drain-hole",)), STUDENTS[0], (bare,))], NOW)
    assert record.tasks() == ()


def test_changes_together_are_all_made_or_none(record: Record) -> None:
    def interrupted() -> None:
        with record.together():
            record.add_task(task(), NOW)
            record.add_sheets(sheets(), NOW)
            raise RuntimeError("in between")

    with pytest.raises(RuntimeError, match="in between"):
        interrupted()
    assert record.tasks() == ()
    assert record.journal() == ()


def test_a_closed_record_says_so(issued: Record) -> None:
    issued.__exit__(None, None, None)
    with pytest.raises(RuntimeError, match="with block"):
        issued.tasks()
