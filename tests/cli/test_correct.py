"""A question that turned out wrong is corrected after marking: shown first, one step, taken back; marks as shown."""

import csv
import json
import shutil
from datetime import timedelta
from decimal import Decimal
from itertools import count
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from click.testing import CliRunner, Result
from hypothesis import given
from hypothesis import strategies as st

from jobs.copied import copied
from jobs.shared_class import DID_SO, SQUARE, shared_class
from jobs.small_class import LATER, TASK, record_lines, sheets_of
from searching import examples
from witnessmark.cli.main import main
from witnessmark.documents.feedback.feedback import feedback_document
from witnessmark.documents.gradebook.data import gradebook_data
from witnessmark.documents.page.html import html_of
from witnessmark.documents.review.page import review_page
from witnessmark.jobs.correcting import Wanted, correct
from witnessmark.jobs.decision import Decision
from witnessmark.jobs.marking import mark
from witnessmark.jobs.opened import open_class
from witnessmark.jobs.returning import return_feedback
from witnessmark.jobs.undoing import undo
from witnessmark.marking.outcome import Verdict
from witnessmark.questions.checking.corrections import Changes
from witnessmark.review.class_review import class_review

pytestmark = pytest.mark.usefixtures("a_second_apart")

DECIDED = ("--who", "K. Lund", "--why", "the question was wrong")


@pytest.fixture(scope="module")
def marked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Eight apprentices, four of whom went round a square; not to be changed."""
    return copied(shared_class, tmp_path_factory.mktemp("correct") / "class")


@pytest.fixture
def folder(marked: Path, tmp_path: Path) -> Path:
    """That class, to be changed."""
    shutil.copytree(marked, tmp_path / "class")
    return tmp_path / "class"


def run(*arguments: str | Path) -> Result:
    """One command."""
    return CliRunner().invoke(main, [str(a) for a in arguments])


def totals(folder: Path) -> dict[str, Decimal]:
    """The total of each student, by code; a part's marks hold those of its lines."""
    with open_class(folder).record() as record:
        outcomes = record.outcomes(TASK)
    codes = {sheet.code: student for student, sheet in sheets_of(folder).items()}
    return {
        codes[code]: sum((o.marks for key, o in by_ask.items() if key.count(".") == 1), Decimal(0))
        for code, by_ask in outcomes.items()
    }


def test_a_right_answer_that_was_wrong_is_shown_with_names_and_both_marks_before_it_is_written(folder: Path) -> None:
    before = (folder / "record.db").read_bytes()
    done = run("correct", folder, TASK, "1a", "--answer", SQUARE)
    assert done.exit_code == 0, done.output
    assert "nothing is written without --apply" in done.output
    for code in DID_SO:
        assert f"Name of {code}, 1a: 0 of 3 (" in done.output
    assert "Name of HB01, 1a: 3 of 3 (right) -> " in done.output
    assert (folder / "record.db").read_bytes() == before


def test_a_correction_is_one_step_told_in_the_history_and_taken_back(folder: Path) -> None:
    return_feedback(folder, TASK, LATER)
    old = totals(folder)
    done = run("correct", folder, TASK, "1a", "--also", SQUARE, "--apply", *DECIDED)
    assert done.exit_code == 0, done.output
    assert "CLASS/gradebook-shear-1.xlsx" in done.output.replace(str(folder), "CLASS")
    new = totals(folder)
    assert {code for code in new if new[code] != old[code]} == set(DID_SO)
    assert all(new[code] >= old[code] for code in new)
    assert "the task was corrected: 1a: also right 4*tau*d*t" in run("history", folder, "HB02").output
    mark(folder, TASK, LATER + timedelta(days=3))
    assert totals(folder) == new
    assert run("check", folder).exit_code == 0
    assert "Taken back: correct" in run("undo", folder, "--who", "K. Lund", "--why", "it was right").output
    assert totals(folder) == old
    assert any('"kind":"journal"' in line and "uncorrected" in line for line in record_lines(folder))


def test_a_part_is_set_aside_for_all_with_full_marks_or_out_of_the_total(folder: Path) -> None:
    code = sheets_of(folder)["HB01"].code
    run("moderate", folder, code, "1a", "--marks", "1", "--why", "seen", "--who", "K. Lund")
    full = run("correct", folder, TASK, "1a", "--full", "--apply", *DECIDED)
    assert "Name of HB01, 1a: 1 of 3 (right) -> 3 of 3 (set aside)" in full.output
    with open_class(folder).record() as record:
        assert {by_ask["1.a"].marks for by_ask in record.outcomes(TASK).values()} == {Decimal(3)}
        assert record.moderations(TASK) == {}
    run("undo", folder, "--who", "K. Lund", "--why", "not for all")
    with open_class(folder).record() as record:
        assert record.moderations(TASK)[code]["1.a"].marks == 1
    out = run("correct", folder, TASK, "1a", "--out", "--apply", *DECIDED)
    assert out.exit_code == 0, out.output
    with open_class(folder).record() as record:
        assert {(by["1.a"].marks, by["1.a"].out_of) for by in record.outcomes(TASK).values()} == {
            (Decimal(0), Decimal(0))
        }
    assert run("return", folder, TASK).exit_code == 0
    again = run("correct", folder, TASK, "1a", "--full", "--apply", *DECIDED)
    assert "0 of 0 (set aside) -> 3 of 3 (set aside)" in again.output, "the later of two stands"


def test_a_part_that_is_set_aside_says_so_to_the_student_and_counts_into_no_chart(folder: Path) -> None:
    run("correct", folder, TASK, "1a", "--out", "--apply", *DECIDED)
    with open_class(folder).record() as record:
        sheets, outcomes = record.sheets(TASK), record.outcomes(TASK)
    worked = {1: sheets[0].variants[0].expected_si}
    feedback = html_of(feedback_document(sheets[0], outcomes[sheets[0].code], worked, {}))
    assert "not counted" in feedback
    assert "0 of 0" not in feedback
    assert "This part was set aside: it does not count." in feedback
    review = class_review("The yard", sheets, outcomes, {})
    found = {f.label: (f.facility, dict(f.verdicts)) for f in review.facilities}
    assert found["1a"] == (None, {Verdict.SET_ASIDE: len(sheets)})
    assert found["1b"][0] is not None
    assert "8 set aside" in review_page(review)
    data = gradebook_data("The yard", sheets, outcomes)
    assert "1a" not in {part.label for part in data.facilities}
    parts = sheets[0].variants[0].question.parts
    assert data.out_of == sum(part.marks for part in parts if part.key != "a")


def test_a_paper_of_which_nothing_counts_says_so_and_stays_out_of_the_mark_book(folder: Path) -> None:
    def mark_book() -> dict[str, list[str]]:
        assert run("mark-book", folder).exit_code == 0
        rows = list(csv.reader((folder / "mark-book.csv").read_text(encoding="utf-8").splitlines()))
        return {row[0]: row[3:] for row in rows}

    assert mark_book()["out of"][0] == "6"
    run("correct", folder, TASK, "1a", "--out", "--apply", *DECIDED)
    told = mark_book()
    assert told["out of"][0] == "3"
    assert told["HB01"][0] == "3"
    assert told["HB01"][-1] == "1.0000", "who has all that counts has the whole share"
    for label in ("1b", "1c"):
        run("correct", folder, TASK, label, "--out", "--apply", *DECIDED)
    told = mark_book()
    assert (told["out of"][0], told["HB01"][0], told["HB01"][-1]) == ("0", "", "")
    with open_class(folder).record() as record:
        sheets, outcomes = record.sheets(TASK), record.outcomes(TASK)
    feedback = html_of(feedback_document(sheets[0], outcomes[sheets[0].code]))
    assert "none to earn: it was set aside for everybody" in feedback
    assert "0 of 0" not in feedback
    assert run("return", folder, TASK).exit_code == 0


def test_what_cannot_be_a_correction_is_told(folder: Path) -> None:
    for words, what in {
        ("1a", "--answer", "tau*d"): "[wrong-dimension]",
        ("1a", "--answer", "x + 1"): "[unknown-name]",
        ("1a", "--tolerance", "2"): "[tolerance]",
        ("1a", "--slip", "nothing", "--formula", "tau*d*t"): "[no-slip]",
        ("9z", "--full"): "[no-answer]",
        ("1c", "--also", "tau"): "[not-a-quantity]",
        ("1a", "--full", "--apply"): "[no-reason]",
        ("--rules",): "[same-rules]",
    }.items():
        done = run("correct", folder, TASK, *words)
        assert (done.exit_code, what in done.output) == (1, True), f"{words}: {done.output}"
    assert run("correct", folder, TASK, "1a", "--full", "--out").exit_code == 2
    assert run("correct", folder, TASK, "--full").exit_code == 2


def test_rules_that_change_in_the_task_file_mark_nothing_again_in_silence(folder: Path) -> None:
    file = folder / "tasks" / f"{TASK}.yaml"
    file.write_text(file.read_text(encoding="utf-8") + "rules: {figures: 3, figures mark: 0.5}\n", encoding="utf-8")
    old = totals(folder)
    assert run("issue", folder, TASK).exit_code == 0
    assert run("mark", folder, TASK).exit_code == 0
    assert totals(folder) == old
    shown = run("correct", folder, TASK, "--rules", "--json")
    told = {row["student"]: Decimal(row["after"]) for row in json.loads(shown.output)["totals"]}
    assert told
    assert totals(folder) == old
    assert run("correct", folder, TASK, "--rules", "--apply", *DECIDED).exit_code == 0
    assert totals(folder) == old | told
    run("undo", folder, "--who", "K. Lund", "--why", "as before")
    assert totals(folder) == old


WANTED = st.one_of(
    st.sampled_from([SQUARE, "pi*tau*d*t", "2*pi*tau*d*t", "tau*d**2", "pi*tau*t**2"]).flatmap(
        lambda text: st.sampled_from([
            Wanted("1a", Changes.ANSWER, text), Wanted("1a", Changes.ALSO, text),
            Wanted("1a", Changes.SLIP, text, "face-area-for-sheared-edge"),
        ])
    ),
    st.sampled_from(["0.01", "0.3", "0"]).map(lambda share: Wanted("1a", Changes.TOLERANCE, share)),
    st.tuples(st.sampled_from(["1a", "1b", "1c"]), st.sampled_from([Changes.FULL, Changes.OUT])).map(
        lambda pair: Wanted(*pair)
    ),
    st.just(Wanted("1b", Changes.WORDING, "Find the stress in the punch.")),
)  # fmt: skip


@given(st.lists(st.tuples(WANTED, st.booleans()), min_size=1, max_size=3))
@examples(3)
def test_total_marks_change_exactly_as_shown(marked: Path, deeds: list[tuple[Wanted, bool]]) -> None:
    with TemporaryDirectory(dir=marked.parent.parent) as place:
        folder = Path(place) / "class"
        shutil.copytree(marked, folder)
        at = (LATER + timedelta(days=1, minutes=n) for n in count())
        for wanted, taken_back in deeds:
            before = totals(folder)
            shown = correct(folder, TASK, wanted, Decision("", "", next(at), apply=False))
            assert totals(folder) == before
            done = correct(folder, TASK, wanted, Decision("K. Lund", "it was wrong", next(at)))
            assert done.totals == shown.totals
            assert totals(folder) == before | {student: after for student, _, _, after in shown.totals}
            assert all(before[student] == first for student, _, first, _ in shown.totals)
            if taken_back:
                undo(folder, "K. Lund", "it was right", next(at))
                assert totals(folder) == before
