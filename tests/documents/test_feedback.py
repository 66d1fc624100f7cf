"""Feedback and worked solutions: the student's own numbers, what to look at again, nothing that is the teacher's."""

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from documents.drain_hole import DRAIN_HOLE, FACE, drain_hole, rigging, sheet
from documents.pages import Page
from witnessmark.documents.feedback.feedback import feedback_document, total_of_outcomes
from witnessmark.documents.feedback.verdict_words import RIGHT_SO_FAR
from witnessmark.documents.kinds.dispatch import solution_blocks
from witnessmark.documents.kinds.working import CONVERSIONS
from witnessmark.documents.page.blocks import Document, Formula, Maths, Paragraph, Result, Tone, inside
from witnessmark.documents.page.html import html_of
from witnessmark.documents.page.pdf import pdf_of
from witnessmark.marking.hypotheses.wording import WILL_LOOK
from witnessmark.marking.outcome import Explanation, Outcome, Teacher, Verdict
from witnessmark.maths.printing.spoken import spoken
from witnessmark.maths.quantities import to_si
from witnessmark.maths.syntax import parse
from witnessmark.questions.model.parts import ChoicePart, Line, Part, QuantityPart
from witnessmark.questions.model.question import Given, Question
from witnessmark.questions.sheet.listing import letter_of, listed_options
from witnessmark.questions.sheet.variant import Shown, Variant

D = Decimal
SECRET = "for the teacher alone"


def outcome(verdict: Verdict, marks: str, out_of: str, because: str = "Because.", **more: Any) -> Outcome:
    """An outcome full of things that no student may see."""
    hidden = Explanation(Verdict.OTHER_SHEET, (), D(0), SECRET, SECRET, 0.7)
    made = Outcome(D(marks), D(out_of), verdict, because, notes=(SECRET,), evidence=(hidden,), sure=0.4321)
    return replace(made, **more)


def feedback(**outcomes: Outcome) -> Document:
    """Feedback on outcomes by key: `_1_a` for `1.a`."""
    return feedback_document(sheet(), {key[1:].replace("_", "."): o for key, o in outcomes.items()})


def read(document: Document) -> str:
    return Page(html_of(document)).words


def spoken_formulae(variant: Variant, part: str) -> list[str]:
    """Every formula of the worked solution of a part, read aloud."""
    blocks = solution_blocks(variant, variant.question.part(part), variant.expected_si)
    return [spoken(b.piece) for b in blocks if isinstance(b, Formula)]


def one_part(part: Part, **shown: Shown) -> Variant:
    """A variant of a question with this one part."""
    givens = tuple(Given(name, name, s.unit) for name, s in shown.items())
    return Variant(Question("q", "Q", "t", 1, "Setting.", givens, (), (), (part,)), shown, {})


def test_a_published_punch_force_comes_out_of_the_working() -> None:
    """Pytel and Singer, Strength of Materials, 4th ed., problem 115: 549.8 kN (seen in a secondary source)."""
    variant = one_part(
        QuantityPart("a", "Find F.", D(3), "force", "F", "kN", answer=parse("tau*A"), figures=4,
             lines=(Line("A", "sheared area", "mm^2", parse("pi*d*t"), D(1)),)),
        tau=Shown(D(350), "MPa"), d=Shown(D(20), "mm"), t=Shown(D(25), "mm"),
    )  # fmt: skip
    assert spoken_formulae(variant, "a") == [
        "A equals pi times d times t",
        "A equals pi times 20 millimetres times 25 millimetres equals 1570.8 square millimetres",
        "F equals tau times A",
        "F equals 350 megapascals times 1570.8 square millimetres equals 549.8 kilonewtons",
    ]


def test_an_earlier_result_goes_on_with_more_figures_than_it_was_asked_for() -> None:
    assert spoken_formulae(drain_hole(), "b")[-1] == (
        "sigma equals 94.248 kilonewtons over 314.16 square millimetres equals 300 megapascals"
    )


@pytest.mark.parametrize("text", CONVERSIONS.values())
def test_the_conversions_that_are_told_are_true(text: str) -> None:
    left, right = (side.replace("²", "^2").split("\u00a0") for side in text.split(" = "))
    assert to_si(float(left[0]), left[1]) == pytest.approx(to_si(float(right[0]), right[1]), rel=1e-12)


@pytest.mark.parametrize(("thickness", "says"), [("5", "Yes."), ("40", "No.")])
def test_a_judgement_is_worked_with_the_students_numbers(thickness: str, says: str) -> None:
    """4 t tau / d is the punch stress: 300 MPa at 5 mm, 2400 MPa at 40 mm, against 1800 MPa."""
    variant = drain_hole("20", thickness)
    formula, asked = solution_blocks(variant, DRAIN_HOLE.part("c"), variant.expected_si)
    assert isinstance(formula, Formula)
    assert isinstance(asked, Paragraph)
    numbers = next(spoken(run.piece) for run in asked.runs if isinstance(run, Maths))
    assert numbers == f"{300 * int(thickness) // 5} megapascals is less than 1800 megapascals"
    assert getattr(asked.runs[-1], "text", "") == says


def test_every_kind_of_part_has_a_working_or_a_right_answer() -> None:
    variant = rigging()
    words = {
        part.key: read(Document("s", solution_blocks(variant, part, variant.expected_si)))
        for part in variant.question.parts
    }
    choice = variant.question.part("b")
    assert isinstance(choice, ChoicePart)
    right = next(i for i, o in enumerate(listed_options(variant, choice)) if o.right)
    assert words["b"] == f"{letter_of(right)} larger"
    assert words["c"].startswith("C Look over the sling and its label D Take up the slack A Lift a hand's")
    assert "the brake holds" in words["d"]
    assert "Angle shown and named (1 mark)" in words["f"]
    assert set(words) == set("abcdef")


def test_a_missing_right_value_is_an_error_and_not_a_blank() -> None:
    with pytest.raises(KeyError):
        solution_blocks(drain_hole(), DRAIN_HOLE.part("a"), {})


def test_each_part_tells_entry_reading_marks_reason_and_what_to_look_at() -> None:
    slip = outcome(Verdict.SLIP, "1", "3", "94.2 kN is the face.", misconceptions=(FACE.key,), raw="94,2 kn",
                   read_as="94.2 kN", repairs=("the comma is a decimal sign",))  # fmt: skip
    words = read(feedback(_1_a=slip))
    for piece in ("94,2 kn", "read as 94.2 kN", "1 of 3", "94.2 kN is the face.", FACE.say, "look again",
                  "the comma is a decimal sign."):  # fmt: skip
        assert piece in words
    assert words.count("Find the force needed to punch the hole.") == 1


def test_nothing_of_the_teachers_is_in_the_feedback() -> None:
    marked = {
        f"_1_{key}": outcome(v, "1", "2", in_tray=(SECRET,)) for key, v in zip("abc", list(Verdict), strict=False)
    }
    html = html_of(feedback(**marked))
    assert SECRET not in html
    assert "0.43" not in html


def test_the_answer_of_another_sheet_reads_like_any_value_that_nobody_can_explain() -> None:
    known = {"raw": "12 kN", "read_as": "12 kN", "in_tray": ("see sheet K2",)}
    other = outcome(Verdict.OTHER_SHEET, "0", "3", "12 kN is right for sheet K2.", **known)
    plain = outcome(Verdict.UNEXPLAINED, "0", "3", UNEXPLAINED, **known)
    assert html_of(feedback(_1_a=other)) == html_of(feedback(_1_a=plain))


UNEXPLAINED = "This is not the right value, and no known method gives it; your teacher will look at your working."


def test_the_summary_names_what_is_right_and_what_to_look_at_first() -> None:
    words = read(feedback(_1_a=outcome(Verdict.SLIP, "1", "3", misconceptions=(FACE.key,)),
        _1_b=outcome(Verdict.CARRIED_FORWARD, "2", "2"),
        _1_c=outcome(Verdict.RIGHT, "1", "1"),
        _2_a=outcome(Verdict.UNIT, "1.5", "2"),
        _2_b=outcome(Verdict.BLANK, "0", "1"),
        _2_d=outcome(Verdict.UNREADABLE, "0", "2", in_tray=("?",)),
    ))  # fmt: skip
    assert f"1b and 1c are right. Look first at 1a. {FACE.say} Nothing was entered for 2b;" in words
    assert "Marks 5½ of 11" in words
    assert "Still with your teacher 2d, 2 marks" in words


def test_a_sheet_that_is_all_right_is_told_so() -> None:
    assert "Everything is right." in read(feedback(_1_a=outcome(Verdict.RIGHT, "3", "3")))


def test_a_part_that_the_teacher_has_marked_is_no_longer_open() -> None:
    open_, done = (outcome(Verdict.UNEXPLAINED, "2", "3", in_tray=tray) for tray in (("look",), ()))
    results = [r for d in (feedback(_2_f=o) for o in (open_, done)) for r in of_results(d)]
    assert [(r.tone, r.marks, r.verdict) for r in results] == [
        (Tone.OPEN, "open", "with your teacher"), (Tone.PART, "2 of 3", "marked by your teacher"),
    ]  # fmt: skip
    assert ["Your teacher has looked at this" in read(feedback(_2_f=o)) for o in (open_, done)] == [False, True]


def test_an_edit_that_the_teacher_has_marked_says_what_happened_and_no_more() -> None:
    because = f"118 kN is what comes out as if pi were left out; {WILL_LOOK}."
    edits = [outcome(Verdict.EDIT, "1", "3", because, in_tray=tray) for tray in (("a method",), ())]
    assert [WILL_LOOK in read(feedback(_1_a=o)) for o in edits] == [True, False]
    assert "as if pi were left out." in read(feedback(_1_a=edits[1]))


def of_results(document: Document) -> list[Result]:
    return [b for block in document.blocks for b in inside(block) if isinstance(b, Result)]


def test_a_step_is_shown_only_where_something_was_entered() -> None:
    right = outcome(Verdict.RIGHT, "3", "3")
    blank, wrong = outcome(Verdict.BLANK, "0", "1"), outcome(Verdict.SLIP, "0", "1", "The face.", raw="314 mm2")
    documents = [feedback_document(sheet(), {"1.a": right, "1.a.A_s": step}) for step in (blank, wrong)]
    assert [len(of_results(d)) for d in documents] == [1, 2]
    assert "The face." in read(documents[1])


def test_marks_of_lines_are_not_counted_twice() -> None:
    marked = {"1.a": outcome(Verdict.RIGHT, "3", "3"), "1.a.A_s": outcome(Verdict.RIGHT, "1", "1")}
    assert total_of_outcomes(sheet(), marked) == (D(3), D(3))


def test_feedback_is_an_accessible_pdf_whatever_the_verdicts() -> None:
    asks = [a for a in sheet().asks if a.line is None]
    marked = {a.key: outcome(v, "1", "2", raw="x") for a, v in zip(asks, [*Verdict][4:], strict=False)}
    assert pdf_of(feedback_document(sheet(), marked)).startswith(b"%PDF-")


def test_an_answer_that_is_right_needs_no_more_words_than_its_row() -> None:
    right = outcome(Verdict.RIGHT, "3", "3", "Right: in full.", raw="94.2 kN", read_as="94.2 kN")
    assert "Right: in full." not in read(feedback(_1_a=right))


CUT = [
    (Verdict.RIGHT, "Right: 94.2 kN is the punching force."),
    (Verdict.CARRIED_FORWARD, "Your working here is right: it follows from your own earlier result."),
    (Verdict.ROUNDED_EARLY, "Your method is right, but 94 kN was rounded too early."),
    (Verdict.UNIT, "The number is right; write its unit beside it."),
    (Verdict.POWER_OF_TEN, "Your method is right, but 94 N is a thousand times too small."),
]


@pytest.mark.parametrize(("verdict", "because"), CUT)
def test_nothing_says_right_beside_a_mark_that_a_teacher_cut(verdict: Verdict, because: str) -> None:
    machine = outcome(verdict, "3" if verdict in RIGHT_SO_FAR else "2.5", "3", because, raw="94 kN")
    cut = replace(machine, marks=D(1), teacher=Teacher("The sketch shows another plane.", machine.marks))
    told = read(feedback(_1_a=cut))
    told = told[: told.index("How it works")]
    assert "right" not in told.casefold()
    assert "marked by your teacher" in told
    assert "Your teacher writes The sketch shows another plane." in told
    assert "right" in read(feedback(_1_a=machine)).casefold()


def test_a_mark_cut_for_its_figures_says_that_and_not_right() -> None:
    figures = outcome(
        Verdict.RIGHT, "2.5", "3", "Right: 94.25 kN is F. Write it to 3 significant figures.", raw="94.25"
    )
    told = read(feedback(_1_a=figures))
    told = told[: told.index("How it works")]
    assert "right" not in told.casefold()
    assert "look at the figures" in told
    assert "Write it to 3 significant figures." in told


def test_what_a_teacher_gave_all_marks_for_is_not_to_be_looked_at_again() -> None:
    slip = outcome(Verdict.SLIP, "1", "3", "The face was taken.", misconceptions=(FACE.key,), raw="94 kN")
    given = replace(slip, marks=D(3), teacher=Teacher("", D(1)))
    told = read(feedback(_1_a=given))
    assert "The face was taken." in read(feedback(_1_a=slip))
    assert "Look at this again" in read(feedback(_1_a=slip))
    assert "The face was taken." not in told
    assert "Look at this again" not in told
    assert "Your teacher writes" not in told


def test_a_remark_and_a_way_of_reading_are_told_once_on_a_sheet() -> None:
    comma: dict[str, Any] = {
        "raw": "94,2 kN",
        "read_as": "94.2 kN",
        "repairs": ("The comma was read as a decimal point.",),
    }
    words = read(feedback(_1_a=outcome(Verdict.SLIP, "1", "3", **comma), _1_b=outcome(Verdict.SLIP, "1", "2", **comma)))
    assert words.count("The comma was read as a decimal point.") == 1
    assert words.count("Only the result is rounded") == 1
    assert words.count("1\u00a0MPa = 1\u00a0N/mm²".replace("\u00a0", " ")) == 1


@pytest.mark.parametrize(
    ("typed", "read_as", "told"),
    [("352 mm2", "352 mm²", False), ("352mm^2", "352 mm²", False), ("4,36", "4.36", True), ("2 kn", "2 kN", True)],
)
def test_a_reading_is_shown_only_where_it_is_more_than_another_way_of_writing(
    typed: str, read_as: str, told: bool
) -> None:
    words = read(feedback(_1_a=outcome(Verdict.RIGHT, "3", "3", raw=typed, read_as=read_as)))
    assert (f"read as {read_as}" in words) is told
