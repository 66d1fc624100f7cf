"""The job `preview`: one question with three variants, worked, with its slips as they would be marked."""

from dataclasses import dataclass
from pathlib import Path

from witnessmark.documents.page.blocks import Document
from witnessmark.documents.page.html import html_of
from witnessmark.documents.page.pdf import pdf_of
from witnessmark.documents.preview import Shown, preview_document
from witnessmark.files.bank.folder import load_bank, load_question_file, question_file_of
from witnessmark.files.safe.atomic import write_file
from witnessmark.jobs.checking import QuestionReport, report_on
from witnessmark.jobs.figures import figure_of
from witnessmark.marking.examples import examples
from witnessmark.questions.bank import Bank
from witnessmark.questions.drawing.draw import draw_all
from witnessmark.questions.model.question import Question
from witnessmark.questions.sheet.task import Rules
from witnessmark.questions.sheet.variant import Variant
from witnessmark.words.errors import NoVariant, ProblemsFound
from witnessmark.words.problems import Place, Problem

VARIANTS = 3
OUT = Path("exports")


@dataclass(frozen=True, slots=True)
class Previewed:
    """The page that was written, how many variants it shows, and the report on the question."""

    file: Path
    variants: int
    report: QuestionReport


def preview(source: Path, key: str = "", as_pdf: bool = False, out: Path | None = None) -> Previewed:
    """Write the preview of a question file, or of the question `key` of a bank; raises ProblemsFound or NoVariant."""
    file = source if source.is_file() else question_file_of(source, key)
    bank = load_question_file(file) if file else load_bank(source)  # one question is read far sooner than all
    question = _chosen(bank, source, key)
    report = report_on(question, bank, file)
    document, variants = preview_of(question, bank, report)
    page = out or OUT / f"preview-{question.key}.{'pdf' if as_pdf else 'html'}"
    write_file(page, pdf_of(document) if as_pdf else html_of(document).encode())
    return Previewed(page, variants, report)


def preview_of(question: Question, bank: Bank, report: QuestionReport) -> tuple[Document, int]:
    """The preview of a question of a bank, and how many variants it shows; raises ProblemsFound or NoVariant."""
    rules = Rules()
    variants = drawn(question)
    shown = [Shown(v, figure_of(v, bank.figures_path), examples(v, rules)) for v in variants]
    remarks = [str(remark) for remark in report.remarks]
    return preview_document(question, shown, _facts(report), remarks, rules.figures), len(variants)


def drawn(question: Question, count: int = VARIANTS) -> list[Variant]:
    """So many variants, or as many as there are; NoVariant where there is none."""
    for number in range(count, 1, -1):
        try:
            return list(draw_all(question, {str(n): f"preview|{n}" for n in range(number)}, frozenset()).values())
        except NoVariant:
            continue
    return list(draw_all(question, {"0": "preview|0"}, frozenset()).values())


def _chosen(bank: Bank, source: Path, key: str) -> Question:
    if not key and len(bank) == 1:
        return next(iter(bank.values()))
    if key in bank:
        return bank[key]
    expected = "the key of a question behind the bank" if not key else "a question of the bank"
    raise ProblemsFound(
        [Problem("no-question", Place(str(source)), expected, key or "none", f"one of {', '.join(bank)}")]
    )


def _facts(report: QuestionReport) -> tuple[tuple[str, str], ...]:
    facts = [("Steps", str(report.steps)), ("Variants to issue", f"{report.issuable} of {report.variants}")]
    facts += [(f"{key} judged yes", f"{share:.0%}") for key, share in report.judged]
    return tuple(facts)
