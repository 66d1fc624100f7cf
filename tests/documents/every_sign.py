"""The signs of Unicode, and the documents of a task in which each of them stands as name, title, answer and reason."""

import sys
import unicodedata
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from decimal import Decimal

from documents.drain_hole import sheet
from witnessmark.documents.feedback.feedback import feedback_document
from witnessmark.documents.gradebook import gradebook
from witnessmark.documents.gradebook.data import gradebook_data
from witnessmark.documents.note.writer import docx_of
from witnessmark.documents.page.blocks import Caution, Document, Heading, Paragraph, Typed, words
from witnessmark.documents.page.html import html_of
from witnessmark.documents.page.pdf import pdf_of
from witnessmark.documents.review.page import review_document
from witnessmark.documents.sheet.answer_book import answer_book
from witnessmark.documents.sheet.class_table import class_table
from witnessmark.documents.sheet.sheet import sheet_document
from witnessmark.marking.outcome import ClassOutcomes, Outcome, Verdict
from witnessmark.questions.sheet.sheet_codes import sheet_code
from witnessmark.questions.sheet.task import Sheet, Student
from witnessmark.review.class_review import class_review
from workbooks.class_outcomes import MADE

UNASSIGNED = "Cn"


def signs() -> Iterator[str]:
    """Every code point but those that Unicode has given to nobody; the halves of pairs and the noncharacters too."""
    for code in range(sys.maxunicode + 1):
        if unicodedata.category(chr(code)) != UNASSIGNED or code & 0xFFFE == 0xFFFE:
            yield chr(code)


def documents(texts: Sequence[str]) -> dict[str, Callable[[], object]]:
    """What makes each document of a class in which every text is a student's name, group, answer and reason; the first
    of them is the title of the task and of the class too."""
    title = texts[0]
    sheets = [_sheet(n, text, title) for n, text in enumerate(texts)]
    outcomes: ClassOutcomes = {
        s.code: {ask.key: _outcome(t) for ask in s.asks} for s, t in zip(sheets, texts, strict=True)
    }
    pages: dict[str, Callable[[], Document]] = {
        "sheet": lambda: _joined([sheet_document(s, {}, with_name=True) for s in sheets]),
        "feedback": lambda: _joined([feedback_document(s, outcomes[s.code], with_name=True) for s in sheets]),
        "review": lambda: review_document(class_review(title, sheets, outcomes, {})),
    }
    made: dict[str, Callable[[], object]] = {
        "answer book": lambda: [answer_book(s, _typed(s)) for s in sheets],
        "class table": lambda: class_table(sheets),
        "gradebook": lambda: gradebook(gradebook_data(title, sheets, outcomes), MADE),
        "note": lambda: [docx_of(_note(text)) for text in texts],
    }
    for name, page in pages.items():
        made[f"{name} as PDF"] = lambda page=page: pdf_of(page())  # type: ignore[misc]
        made[f"{name} as HTML"] = lambda page=page: html_of(page()).encode()  # type: ignore[misc]
    return made


def made(name: str, texts: Sequence[str]) -> None:
    """Makes one of these documents, in whatever process this is; nothing of it goes back."""
    documents(texts)[name]()


def _note(text: str) -> Document:
    return Document(text, (Heading(text, 1), Paragraph(words(text)), Paragraph((Typed(text),)), Caution(text)), "", "")


def _typed(one: Sheet) -> dict[str, tuple[str, str]]:
    return {ask.key: (one.student.name, one.student.name) for ask in one.asks}


def _joined(pages: Sequence[Document]) -> Document:
    return replace(pages[0], blocks=tuple(block for page in pages for block in page.blocks))


def _sheet(number: int, text: str, title: str) -> Sheet:
    code = f"S{number:05}"
    plain = sheet()
    return replace(
        plain,
        code=sheet_code("shear-1", code, 1),
        student=Student(code, text, text),
        task=replace(plain.task, title=title),
    )


def _outcome(text: str) -> Outcome:
    return Outcome(
        Decimal(0), Decimal(1), Verdict.UNREADABLE, f"This was not read ({text}).", raw=text, read_as=text,
        repairs=(text,), notes=(f"moderated: {text}",), in_tray=(f"could not be read: {text}",),
    )  # fmt: skip


def failing(texts: Sequence[str], make: Callable[[Sequence[str]], object]) -> list[tuple[str, str]]:
    """The texts for which a document cannot be made, each with the error, found by halving."""
    try:
        make(texts)
    except Exception as error:  # noqa: BLE001 - whatever it is, it is told
        if len(texts) == 1:
            return [(texts[0], f"{type(error).__name__}: {error}"[:200])]
        middle = len(texts) // 2
        return failing(texts[:middle], make) + failing(texts[middle:], make)
    return []
