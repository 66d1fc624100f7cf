"""The preview of a question: sheet, working, and every wrong answer with what the student would be told."""

import pytest

from bank_fixture import BANK
from documents.pages import Page
from searching import every
from witnessmark.documents.page.blocks import Table, inside
from witnessmark.documents.page.html import html_of
from witnessmark.documents.page.pdf import pdf_of
from witnessmark.documents.preview import Shown, preview_document
from witnessmark.marking.examples import Example, examples
from witnessmark.questions.model.parts import Kind
from witnessmark.questions.sheet.task import Rules
from witnessmark.questions.sheet.variant import Variant

RULES = Rules()
HOLE = BANK["drain-hole"].variant(material="mild steel", d="20 mm", t="5 mm", punch="high-speed steel")


def page_of(variant: Variant, *remarks: str) -> str:
    shown = [Shown(variant, None, examples(variant, RULES))]
    return Page(html_of(preview_document(variant.question, shown, (("Steps", "2"),), remarks, 3))).words


def by_misconception(found: tuple[Example, ...]) -> dict[tuple[str, str], Example]:
    return {(e.part.key, "+".join(e.misconceptions)): e for e in found}


def test_each_slip_is_worked_with_the_numbers_of_the_variant() -> None:
    """By hand: tau pi d^2/4 = 300 314.159 N = 94.2 kN (equal to the right one here), tau pi (d/2) t = 47.1 kN."""
    typed = {key: e.typed for key, e in by_misconception(examples(HOLE, RULES)).items()}
    assert typed["a", "radius-for-diameter"] == "47.1\u00a0kN"
    assert typed["b", "sheared-edge-for-face-area"] == "300\u00a0MPa"  # F/(pi d t) = tau
    assert typed["c", ""] == "no"  # 300 MPa of strain on a steel of some 2000 MPa: it survives


def test_a_slip_with_the_wrong_dimension_is_typed_as_people_work_it_in_metres_and_in_millimetres() -> None:
    variant = BANK["pump-fuse"].variant(P="54 W", U="12 V")
    typed = [e.typed for e in examples(variant, RULES) if e.misconceptions == ("power-for-current",)]
    assert typed == ["54.0\u00a0A", "54\u202f000\u00a0A"]


@pytest.mark.parametrize("key", every(list(BANK), 4), ids=str)
def test_every_wrong_answer_of_the_bank_is_named_when_it_is_typed(key: str) -> None:
    found = examples(BANK[key].draw("preview"), RULES)
    for example in found:
        out = example.outcome
        assert out.marks < out.out_of, example
        if example.misconceptions:
            assert set(example.misconceptions) <= set(out.misconceptions), example


@pytest.mark.parametrize("key", ["drain-hole", "two-pistons", "hardening-a-chisel", "limb-strap"])
def test_every_kind_of_wrong_answer_has_a_row_with_its_marks(key: str) -> None:
    variant = BANK[key].draw("preview")
    found = examples(variant, RULES)
    document = preview_document(BANK[key], [Shown(variant, None, found)], (), (), 3)
    tables = [b for block in document.blocks for b in inside(block) if isinstance(b, Table)]
    assert len(tables[-1].rows) == len(found)
    kinds = {part.kind for part in BANK[key].parts if part.kind not in (Kind.POINTS, Kind.HAND)}
    assert {example.part.kind for example in found} == kinds


def test_the_page_tells_what_the_student_would_be_told() -> None:
    words = page_of(HOLE, "drain-hole: [level] expected one")
    assert "47.1 kN is what" in words
    assert "Check which one the formula wants before any number goes in." in words
    assert "2 of 3" in words
    assert "drain-hole: [level] expected one" in words
    assert "Steps" in words


def test_a_question_that_knows_no_wrong_answer_says_so() -> None:
    document = preview_document(BANK["drain-hole"], [Shown(HOLE, None, ())], (), (), 3)
    assert "No wrong method is modelled here." in Page(html_of(document)).words


def test_a_preview_becomes_a_pdf_of_the_accessible_kind() -> None:
    document = preview_document(BANK["drain-hole"], [Shown(HOLE, None, examples(HOLE, RULES))], (), (), 3)
    assert pdf_of(document).startswith(b"%PDF")
