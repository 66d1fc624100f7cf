"""A question set as a fault to find: one wrong line of a working in the student's numbers, made of its own slips."""

from pathlib import Path

import pandas as pd
import pytest

import witnessmark as wm
from bank_fixture import BANK
from jobs.small_class import LATER, NOW, hand_in, sheets_of, small_class, write_task
from searching import every
from witnessmark.documents.kinds.dispatch import right_text
from witnessmark.files.bank.fault_text import as_fault, key_of_fault, question_set
from witnessmark.files.bank.question_text import question_from_bundle
from witnessmark.files.class_folder.task_text import task_from_text
from witnessmark.jobs.issuing import issue
from witnessmark.jobs.marking import mark
from witnessmark.jobs.opened import open_class
from witnessmark.questions.model.parts import QuantityPart
from witnessmark.words.errors import ProblemsFound

FACE, RADIUS = "face-area-for-sheared-edge", "radius-for-diameter"
HOLE = as_fault(BANK["drain-hole"], FACE)
GIVEN = {"tau": "300 MPa", "d": "20 mm", "t": "6 mm"}
VARIANT = HOLE.variant(**GIVEN)
LINE_1, LINE_2, NONE = "line 1, sheared area", "line 2, punching force", "none of them, all lines are right"
NONE_SERVES = ("battery-energy", "cool-box", "pump-fuse")  # their slips give numbers of another kind
READ = {key for key, question in BANK.items() if any(given.in_figure for given in question.givens)}
SLIPS = {key for key, q in BANK.items() if any(isinstance(p, QuantityPart) and p.slips for p in q.parts)}
MADE_OF = sorted(SLIPS - READ - set(NONE_SERVES))


def test_the_story_tells_the_wrong_working_in_the_students_numbers() -> None:
    """Worked by hand: pi*20*6 = 376.99 mm²; 300*pi*20²/4 N = 94.248 kN."""
    assert str(VARIANT.given["told_1"].magnitude) == "376.99"
    assert str(VARIANT.given["told_2"].magnitude) == "94.248"
    assert "line 2, punching force: F = τ × π × d² / 4 = {told_2}" in HOLE.setting


CASES = [
    ("a", LINE_2, 1, "right", ""), ("a", LINE_1, 0, "wrong", ""), ("a", NONE, 0, "slip", FACE),
    ("b", "113 kN", 3, "right", ""), ("b", "94.2 kN", 1, "slip", FACE), ("b", "56.5 kN", 2, "slip", RADIUS),
    ("b", "113", "2.5", "unit", ""),
]  # fmt: skip


@pytest.mark.parametrize(("key", "entry", "marks", "verdict", "who"), CASES)
def test_the_wrong_line_and_the_right_value_are_marked(
    key: str, entry: str, marks: float, verdict: str, who: str
) -> None:
    out = wm.mark(VARIANT, {key: entry})[key]
    assert (str(out.marks), str(out.verdict), "+".join(out.misconceptions)) == (str(marks), verdict, who)


def test_a_table_is_marked_as_each_row_is_alone() -> None:
    given = {"tau": 300.0, "d": 20.0, "t": 6.0}
    table = wm.mark_table(HOLE, pd.DataFrame([{**given, "a": "", "b": "", key: entry} for key, entry, *_ in CASES]))
    for row, (key, entry, *_) in zip(table.to_dict("records"), CASES, strict=True):
        out = wm.mark(VARIANT, {key: entry})[key]
        alone = (float(out.marks), str(out.verdict), "+".join(out.misconceptions))
        assert (row[f"{key}.marks"], row[f"{key}.verdict"], row[f"{key}.misconceptions"]) == alone


def test_the_slip_that_is_told_can_be_chosen() -> None:
    chosen = as_fault(BANK["drain-hole"], RADIUS)
    assert chosen.key == "find-the-fault-drain-hole-by-radius-for-diameter"
    assert float(chosen.variant(**GIVEN).given["told_2"].magnitude) == 56.549  # 300*pi*10*6 N, by hand
    assert question_set(BANK, chosen.key) == chosen


def test_a_slip_that_the_question_lacks_is_told_with_those_that_it_has() -> None:
    with pytest.raises(
        ProblemsFound, match=r"expected a slip of drain-hole .* found 'radius-for-diametre'; did you mean"
    ):
        as_fault(BANK["drain-hole"], "radius-for-diametre")


@pytest.mark.parametrize("key", every(MADE_OF, 6))
def test_any_calculated_question_has_one_wrong_line_and_can_be_read_back_for_years(key: str) -> None:
    made = as_fault(BANK[key])
    assert question_from_bundle(made.source) == made
    variant = made.draw("heron")
    told = right_text(variant, made.part("a"), None)
    assert "line" in told
    assert wm.mark(variant, {"a": told.partition(", ")[2]})["a"].verdict == "right"


@pytest.mark.parametrize(("text", "key"), [
    ("drain-hole as fault", "find-the-fault-drain-hole"), ("drain-hole", "drain-hole"),
    ("drain-hole as fault by face-area-for-sheared-edge", "find-the-fault-drain-hole-by-face-area-for-sheared-edge"),
])  # fmt: skip
def test_a_task_file_says_which_question_is_set_as_a_fault(text: str, key: str) -> None:
    task, problems = task_from_text(f"task: t\ntitle: T\nquestions: [{text}]\n", "t.yaml", ["drain-hole"])
    assert problems == ()
    assert task is not None
    assert task.questions == (key,) == (key_of_fault(text),)


@pytest.mark.parametrize(("text", "told"), [
    ("drain-hols as fault", "did you mean drain-hole?"), ("drain-hole as faulty", "type drain-hole as fault"),
])  # fmt: skip
def test_a_question_that_cannot_be_set_as_a_fault_is_told_at_its_place(text: str, told: str) -> None:
    _, problems = task_from_text(f"task: t\ntitle: T\nquestions: [{text}]\n", "t.yaml", ["drain-hole"])
    assert [str(p) for p in problems] == [
        f"t.yaml:3:13: [unknown-question] expected a question of the bank, found '{text}'; {told}"
    ]


def test_a_class_is_set_a_fault_and_marked(tmp_path: Path) -> None:
    folder = small_class(tmp_path / "class")
    write_task(folder, "[drain-hole as fault, clevis-pin]", "fault-1")
    issue(folder, "fault-1", NOW)
    sheet = sheets_of(folder, "fault-1")["HB01"]
    assert sheet.variants[0].question.title == "Find the fault: Punching a drain hole"
    force = sheet.variants[0].expected["b"]
    hand_in(folder, sheet, {"1.a": LINE_2, "1.b": f"{force:.4g~P}"}, task="fault-1")
    mark(folder, "fault-1", LATER)
    with open_class(folder).record() as record:
        found = record.outcomes("fault-1")[sheet.code]
    assert [(str(found[k].marks), str(found[k].verdict)) for k in ("1.a", "1.b")] == [("1", "right"), ("3", "right")]


@pytest.mark.parametrize("key", NONE_SERVES)
def test_a_question_of_whose_slips_none_serves_says_so_and_what_to_set(key: str) -> None:
    with pytest.raises(ProblemsFound) as found:
        as_fault(BANK[key])
    (problem,) = found.value.problems
    assert (problem.code, problem.found, problem.remedy) == ("no-fault", "none", "set the question itself")


@pytest.mark.parametrize("text", ["pin-by-micrometer as fault", "blank-under-pressure as fault"])
def test_a_reading_is_not_set_as_a_fault_since_the_working_would_tell_it(text: str) -> None:
    with pytest.raises(ProblemsFound) as found:
        question_set(BANK, key_of_fault(text))
    (problem,) = found.value.problems
    assert problem.code == "no-fault"
    assert "a part that needs nothing read from the figure (a working would tell it)" in problem.expected
