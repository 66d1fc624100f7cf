"""The only door to python-docx: a document of headings and text as a .docx file that is edited before it is sent."""

import io
import zipfile
from datetime import UTC, datetime

import docx
from docx.document import Document as Word
from docx.shared import Cm, Pt
from docx.text.paragraph import Paragraph as WordParagraph

from witnessmark.documents.page.blocks import Block, Caution, Document, Heading, Maths, Paragraph, Run, Typed, Words
from witnessmark.documents.page.signs import on_screen

STEADY = datetime(2000, 1, 1, tzinfo=UTC)
FACE, TYPED = "Georgia", "Courier New"
LONGEST_TITLE = 255  # python-docx takes no longer property


def docx_of(document: Document) -> bytes:
    """The document as .docx, the same bytes at every run; ValueError for a block that has no place in a letter."""
    word = docx.Document()
    _look(word, document)
    for block in document.blocks:
        _add(word, block)
    made = io.BytesIO()
    word.save(made)
    return _steady(made.getvalue())


def _look(word: Word, document: Document) -> None:
    style = word.styles["Normal"]
    style.font.name, style.font.size = FACE, Pt(11)
    for section in word.sections:
        section.page_width, section.page_height = Cm(21), Cm(29.7)
        section.left_margin = section.right_margin = Cm(2.5)
    for level in (1, 2):
        heading = word.styles[f"Heading {level}"]
        heading.font.name, heading.font.bold, heading.font.color.rgb = FACE, level > 1, None
    about = word.core_properties
    about.title, about.author, about.comments = on_screen(document.title)[:LONGEST_TITLE], "", ""
    about.created = about.modified = STEADY
    about.language = document.language


def _add(word: Word, block: Block) -> None:
    match block:
        case Heading(text=text, level=level):
            word.add_heading(on_screen(text), level)
        case Paragraph(runs=runs):
            _runs(word.add_paragraph(), runs)
        case Caution(text=text):
            _runs(word.add_paragraph(), (Words("Caution. ", strong=True), Words(text)))
        case _:
            raise ValueError(f"a letter has no place for {type(block).__name__}")


def _runs(paragraph: WordParagraph, runs: tuple[Run, ...]) -> None:
    for run in runs:
        if isinstance(run, Maths):
            raise ValueError("a letter has no place for a formula")
        added = paragraph.add_run(on_screen(run.text))
        if isinstance(run, Typed):
            added.font.name = TYPED
        elif isinstance(run, Words):
            added.bold = run.strong


def _steady(data: bytes) -> bytes:
    """The same archive with one date for every member."""
    made = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as new:
        for name in old.namelist():
            new.writestr(zipfile.ZipInfo(name, STEADY.timetuple()[:6]), old.read(name), zipfile.ZIP_DEFLATED)
    return made.getvalue()
