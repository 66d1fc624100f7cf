"""Every question of the bank in print: three variants each, sheet and working, with all that its slips would earn."""

from pathlib import Path

import pytest

from bank_fixture import BANK
from documents.pages import words_of_pdf
from witnessmark.documents.figures.render import FigureArt, figure_svg
from witnessmark.documents.page.pdf import joined_pdf
from witnessmark.documents.preview import Shown, preview_document
from witnessmark.files.bank.folder import FIGURE_ENDING
from witnessmark.jobs.previewing import drawn
from witnessmark.marking.examples import examples
from witnessmark.maths.syntax import Tree, names_in
from witnessmark.questions.model.kinds import right_trees, slips_of
from witnessmark.questions.model.parts import Part, Slip
from witnessmark.questions.model.question import Question
from witnessmark.questions.sheet.task import Rules
from witnessmark.questions.sheet.variant import Variant

RULES = Rules()
KEPT_AS_ISSUED = {"clevis-pin"}  # its numbers are those of the demo's returns, and a new given would change them


def figure_of(variant: Variant) -> FigureArt | None:
    name = variant.question.figure
    template = Path(BANK.figures_path) / f"{name}{FIGURE_ENDING}"
    return figure_svg(template.read_text(encoding="utf-8"), variant) if name else None


def shown(question: Question) -> list[Shown]:
    return [Shown(variant, figure_of(variant), examples(variant, RULES)) for variant in drawn(question)]


@pytest.mark.deep
@pytest.mark.parametrize("topic", BANK.topics())
def test_every_question_is_printed_with_three_variants(topic: str, tmp_path: Path) -> None:
    questions = BANK.of_topic(topic)
    pages = {question.key: shown(question) for question in questions}
    assert {len(variants) for variants in pages.values()} == {3}
    documents = [preview_document(q, pages[q.key], (), (), RULES.figures) for q in questions]
    printed = " ".join(words_of_pdf(joined_pdf(documents), tmp_path))
    for question in questions:
        assert printed.count(f"{question.key}: a preview") >= 3  # at the foot of three pages at least
        assert question.title.split()[-1] in printed
    assert "{" not in printed


@pytest.mark.parametrize("key", [key for key in BANK if key not in KEPT_AS_ISSUED])
def test_a_wrong_method_is_worked_from_nothing_that_the_sheet_does_not_show(key: str) -> None:
    question = BANK[key]
    shown = {name for part in question.parts for tree in rightly(part) for name in names_in(tree)}
    for part in question.parts:
        for slip in (s for s in slips_of(part) if isinstance(s, Slip)):
            cells = {name for name in names_in(slip.answer) if "." in name}
            assert cells <= shown, f"{part.key}: {slip.misconception}"


def rightly(part: Part) -> list[Tree]:
    """What the sheet's table of givens follows: the right working of a part."""
    return list(right_trees(part))
