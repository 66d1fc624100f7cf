"""Every question of the bank in print: three variants each, sheet and working, with all that its slips would earn."""

from pathlib import Path

import pytest

from bank_fixture import BANK
from documents.pages import words_of_pdf
from witnessmark.documents.figures.render import FigureArt, figure_svg
from witnessmark.documents.pdf import joined_pdf
from witnessmark.documents.preview import Shown, preview_document
from witnessmark.files.bank_folder import FIGURE_ENDING
from witnessmark.jobs.previewing import drawn
from witnessmark.marking.examples import examples
from witnessmark.questions.question import Question
from witnessmark.questions.task import Rules
from witnessmark.questions.variant import Variant

RULES = Rules()


def figure_of(variant: Variant) -> FigureArt | None:
    name = variant.question.figure
    template = Path(BANK.figures_path) / f"{name}{FIGURE_ENDING}"
    return figure_svg(template.read_text(encoding="utf-8"), variant) if name else None


def shown(question: Question) -> list[Shown]:
    return [Shown(variant, figure_of(variant), examples(variant, RULES)) for variant in drawn(question)]


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
