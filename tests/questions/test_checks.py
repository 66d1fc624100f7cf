"""Remarks on a question: each is provoked by a change of an example, and compared by the whole line."""

from pathlib import Path

import pytest

from bank_cases import SMALL_BANK
from witnessmark.files.bank.folder import load_bank
from witnessmark.files.bank.question_text import question_from_text
from witnessmark.maths.syntax import parse
from witnessmark.questions.checking.remarks import formulas_of, remarks_on, spans_of
from witnessmark.questions.model.question import Question

TEXT = (SMALL_BANK / "shear" / "drain-hole.yaml").read_text(encoding="utf-8")
TABLES = load_bank(SMALL_BANK).tables


def _changed(*changes: tuple[str, str]) -> Question:
    text = TEXT
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    question, problems = question_from_text(text, "q.yaml", TABLES)
    assert problems == ()
    assert question is not None
    return question


def _said(*changes: tuple[str, str]) -> list[str]:
    return [str(remark) for remark in remarks_on(_changed(*changes))]


def _line(code: str, expected: str, found: str, remedy: str = "") -> str:
    return f"drain-hole: [{code}] expected {expected}, found {found}" + (f"; {remedy}" if remedy else "")


def test_the_example_of_the_design_gives_no_remark() -> None:
    assert _said() == []


def test_a_level_that_is_not_the_number_of_steps_is_told() -> None:
    found, remedy = "level: 1, where 2 steps lead to the answer", "areas and other lengths at work count no step"
    assert _said(("level: 2", "level: 1")) == [_line("level", "level: 2", found, remedy)]


def test_a_condition_that_never_holds_is_told() -> None:
    found, remedy = "t > d, which never holds", "change the keep or the values"
    line = _line("keep-never", "a keep that some drawn values satisfy", found, remedy)
    assert _said(("- t < d", "- t > d")) == [line]


def test_a_condition_that_may_hold_is_not_told() -> None:
    assert _said(("- t < d", "- 2*t < d"), ("to: 8", "to: 9")) == []


@pytest.mark.parametrize(
    ("judge", "found"),
    [("sigma < 1000*punch.compressive_strength", "yes"), ("sigma > 1000*punch.compressive_strength", "no")],
)
def test_a_judgement_that_falls_one_way_is_told(judge: str, found: str) -> None:
    expected = "a judgement in part c that falls both ways"
    line = _line("judged-one-way", expected, f"always {found}", "widen the values")
    assert _said(("sigma < punch.compressive_strength", judge)) == [line]


def test_a_given_and_a_row_that_nothing_uses_are_told() -> None:
    more = "  punch: {row of: tool-steels}\n  w: {is: width, unit: mm, one of: [100]}\n  spare: {row of: tool-steels}\n"
    expected = "a given that some part, slip or text uses"
    assert _said(("  punch: {row of: tool-steels}\n", more)) == [
        _line("unused-given", expected, "w, which none uses", "delete it"),
        _line("unused-given", expected, "spare, which none uses", "delete it"),
    ]


def test_a_given_that_only_a_slip_or_a_text_uses_is_there_to_distract() -> None:
    more = "  punch: {row of: tool-steels}\n  w: {is: width, unit: mm, one of: [100]}\n"
    given = ("  punch: {row of: tool-steels}\n", more)
    assert _said(given, ("tau*pi*(d/2)*t", "tau*w*t")) == []
    assert _said(given, ("in one stroke", "{w} from the end")) == []


def test_a_line_that_nothing_uses_is_told() -> None:
    found = "A_s, which neither it nor a later line uses"
    line = _line("unused-line", "a line that the answer of part a uses", found)
    assert _said(("answer: tau*A_s\n", "answer: tau*pi*d*t\n")) == [line]


def test_a_part_without_slips_is_told() -> None:
    slip = "    slips:\n      - {misconception: sheared-edge-for-face-area, answer: F/(pi*d*t), keeps: 1}\n"
    remedy = "add the wrong methods that students use"
    assert _said((slip, "")) == [_line("no-slips", "at least one slip in part b", "none", remedy)]


def test_a_press_without_a_caution_is_told() -> None:
    caution = TEXT[TEXT.index("caution:") : TEXT.index("find:")]
    expected = "a line of caution where pressure, presses, lifting or cutting come in"
    assert _said((caution, "")) == [_line("no-caution", expected, "'Punching' and no caution", "add caution:")]


def test_every_result_is_written_out_in_givens() -> None:
    formulas = formulas_of(_changed())
    assert formulas["sigma"] == parse("tau*(pi*d*t)/(pi*d**2/4)")
    assert formulas["A_p"] == parse("pi*d**2/4")


def test_givens_and_cells_have_the_spans_that_they_are_drawn_with() -> None:
    spans = spans_of(_changed())
    assert spans["d"] == (pytest.approx(0.010), pytest.approx(0.025))
    assert spans["t"] == (pytest.approx(0.001), pytest.approx(0.008))
    assert spans["tau"] == (pytest.approx(150e6), pytest.approx(300e6))
    assert spans["punch.compressive_strength"] == (pytest.approx(1150e6), pytest.approx(1800e6))


def test_no_condition_of_the_shipped_bank_is_beyond_its_values() -> None:
    for question in load_bank(Path(__file__).parents[2] / "bank").values():
        assert [remark for remark in remarks_on(question) if remark.code == "keep-never"] == []
