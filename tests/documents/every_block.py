"""A document that uses every block and run once, for tests of the renderers."""

from typing import get_args

from documents.drain_hole import FIGURE
from witnessmark.documents.page.blocks import (
    AnswerBox,
    Ask,
    Beside,
    Block,
    Caution,
    Cell,
    Document,
    Folded,
    Formula,
    GivenRow,
    GivenTable,
    Heading,
    Inset,
    Keep,
    Link,
    Maths,
    Note,
    Options,
    PageBreak,
    Paragraph,
    Readings,
    Result,
    Run,
    SideBySide,
    Table,
    TitleBlock,
    Tone,
    Typed,
    Words,
    inside,
    words,
)
from witnessmark.maths.printing.pieces import formula, letter
from witnessmark.maths.syntax import parse

STRESS = formula(parse("sqrt(sigma**2 + 3*tau**2)/(2*A_s)"))
RUNS: tuple[Run, ...] = (Words("Strong", strong=True), Words(" quiet", quiet=True), Typed(" 94,2 kn "), Maths(STRESS))


def every_block(text: str = "plain") -> Document:
    """The document; `text` stands wherever a person's words can stand."""
    blocks: tuple[Block, ...] = (
        TitleBlock(f"Kind {text}", f"Title {text}", "K7Q4-M2P", (("For", text), ("Due", "5 March 2027"))),
        Heading(f"Heading {text}", 2, "1", text, "first-heading"),
        Paragraph((*RUNS, Words(text), Typed(text))),
        Paragraph((Words("See "), Link(text, "first-heading"))),
        Beside((GivenTable((GivenRow(letter("tau"), text, Words(text)), GivenRow(None, text, Words("3")))),), FIGURE),
        FIGURE,
        Formula(STRESS, text),
        Formula(STRESS, beside=True),
        Ask("a", words(text), "3 marks"),
        Options((("A", text), ("B", "other"))),
        AnswerBox((Maths(letter("F")), Words(" =")), "kN", text),
        AnswerBox(words(text), "mm²", text, is_line=True),
        AnswerBox(words(text), choices=(text, "no")),
        AnswerBox((), lines=4),
        SideBySide((AnswerBox(words(text), "kN", text), AnswerBox(words(text), "mm²", text, is_line=True))),
        Keep((Paragraph(words(text)),), if_fits=True),
        Caution(text),
        Note(words(text), under=True),
        PageBreak(),
        Table((text, "Marks"), ((words(text), words("3")),), frozenset({1}), text, wide=0, whole=frozenset({1})),
        Readings(
            text,
            (words("row"), words(text)),
            (
                (Cell(words("1")), Cell(words(text))),
                (Cell(words("2")), Cell(key="a1")),
            ),
        ),
        *(Result(tone, text, "1 of 3", text, text, words(text)) for tone in Tone),
        Folded(text, (Note(words(text)),)),
        Keep((Inset(text, (Paragraph(words(text), under=True), Heading(text, 3))),)),
    )
    return Document(f"Document {text}", blocks, "K7Q4-M2P", f"Foot {text}")


def kinds_used() -> set[str]:
    """The names of the kinds of block in it."""
    return {type(b).__name__ for block in every_block().blocks for b in inside(block)}


def kinds_there_are() -> set[str]:
    """The names of all kinds of block."""
    return {kind.__name__ for kind in get_args(Block)}
