"""What a printed document is made of, whatever it becomes: frozen blocks that the PDF and the HTML page both render."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from typing import get_args

from witnessmark.maths.printing.pieces import Piece


class Tone(StrEnum):
    """How a marked part stands; told by words and a sign, never by colour alone."""

    RIGHT = "right"
    PART = "part"
    AGAIN = "again"
    OPEN = "open"


@dataclass(frozen=True, slots=True)
class Words:
    """Running text."""

    text: str
    strong: bool = False
    quiet: bool = False


@dataclass(frozen=True, slots=True)
class Typed:
    """Text exactly as a student typed it, in a fixed-width face."""

    text: str


@dataclass(frozen=True, slots=True)
class Maths:
    """A formula inside running text; one that is `tall` has its fractions in full size, as in a cell of its own."""

    piece: Piece
    tall: bool = False


@dataclass(frozen=True, slots=True)
class Link:
    """Running text that leads to the heading of this `anchor` in the same document."""

    text: str
    anchor: str


Run = Words | Typed | Maths | Link
Runs = tuple[Run, ...]


@dataclass(frozen=True, slots=True)
class TitleBlock:
    """The ruled block at the head of page one: what it is, its title, a code in large type, fields beside it."""

    kind: str
    title: str
    code: str
    fields: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading of level 1 to 3; `number` goes into a ring before it, `aside` to the right margin; `anchor` is the name
    by which links find it, once in a document."""

    text: str
    level: int = 2
    number: str = ""
    aside: str = ""
    anchor: str = ""


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Running text; `under` sets it in, below the letter of a part."""

    runs: Runs
    under: bool = False


@dataclass(frozen=True, slots=True)
class GivenRow:
    """One given: its symbol (None when it has none), what it is, its value."""

    symbol: Piece | None
    is_: str
    value: Run


@dataclass(frozen=True, slots=True)
class GivenTable:
    """The givens of a question."""

    rows: tuple[GivenRow, ...]


@dataclass(frozen=True, slots=True)
class Formula:
    """A formula on a line of its own, with a word before it if any.

    One that is `beside` stands to the right of the formula before it where there is room for both.
    """

    piece: Piece
    lead: str = ""
    beside: bool = False


@dataclass(frozen=True, slots=True)
class Figure:
    """A drawing and the sentence for those who cannot see it; `width` in points (0: as the SVG says)."""

    svg: str
    alt: str
    width: float = 0.0


@dataclass(frozen=True, slots=True)
class Beside:
    """Blocks with a figure to their right (below them where the page is narrow), at most so many hundredths wide."""

    blocks: tuple["Block", ...]
    figure: Figure
    at_most: int = 48


@dataclass(frozen=True, slots=True)
class Ask:
    """One thing that is asked: its letter, the text, the marks it can earn."""

    letter: str
    runs: Runs
    marks: str = ""


@dataclass(frozen=True, slots=True)
class Options:
    """Lettered options, steps or criteria."""

    items: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Fill:
    """How a place to write is filled in on a screen: the key and the label of its answer, the manner (`number`, `text`,
    `words`, `pick`) and what can be picked."""

    key: str
    label: str
    manner: str
    offers: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class AnswerBox:
    """A place to write: what stands before it, the printed unit in it, a hint behind it.

    A line of the working (`is_line`) is lighter; `lines` is its height in lines of handwriting; `choices` are words to
    tick instead of writing. On a page that can be filled in, `fill` says how.
    """

    before: Runs
    unit: str = ""
    hint: str = ""
    is_line: bool = False
    lines: int = 1
    choices: tuple[str, ...] = ()
    fill: Fill | None = None


@dataclass(frozen=True, slots=True)
class Caution:
    """A warning about real work."""

    text: str


@dataclass(frozen=True, slots=True)
class Note:
    """A remark in smaller type; `under` as with a paragraph."""

    runs: Runs
    under: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """A table with a header row: columns in `right` are set flush right, column `wide` takes what room is left, and
    what stands in the columns `whole` is not broken into lines."""

    header: tuple[str, ...]
    rows: tuple[tuple[Runs, ...], ...]
    right: frozenset[int] = frozenset()
    caption: str = ""
    wide: int | None = None
    whole: frozenset[int] = frozenset()


@dataclass(frozen=True, slots=True)
class Cell:
    """A cell of a table of readings: what is printed in it, or a place to write for the part `key` (`a3`). On a page
    that can be filled in, `fill` says how."""

    runs: Runs = ()
    key: str = ""
    fill: Fill | None = None


@dataclass(frozen=True, slots=True)
class Readings:
    """A table of measured data, ruled on all sides, with a numbered row for each reading."""

    caption: str
    header: tuple[Runs, ...]
    rows: tuple[tuple[Cell, ...], ...]


@dataclass(frozen=True, slots=True)
class Result:
    """How one part was marked: the entry as typed and as read, the marks, the verdict in a word or two."""

    tone: Tone
    verdict: str
    marks: str
    typed: str
    read_as: str = ""
    what: Runs = (Words("Your answer"),)


@dataclass(frozen=True, slots=True)
class Inset:
    """Blocks set apart by a rule at their left, under a small title."""

    title: str
    blocks: tuple["Block", ...]


@dataclass(frozen=True, slots=True)
class Folded:
    """Blocks behind a line that opens them; on paper they stand below it."""

    line: str
    blocks: tuple["Block", ...]


@dataclass(frozen=True, slots=True)
class Keep:
    """Blocks that stay on one page; `if_fits`: only where one page can hold them."""

    blocks: tuple["Block", ...]
    if_fits: bool = False


@dataclass(frozen=True, slots=True)
class SideBySide:
    """Places to write, two in a row where the page is wide enough."""

    blocks: tuple[AnswerBox, ...]


@dataclass(frozen=True, slots=True)
class PageBreak:
    """What follows starts a new page."""


Block = (
    TitleBlock | Heading | Paragraph | GivenTable | Formula | Figure | Beside | Ask | Options | AnswerBox | Caution
    | Note | Table | Readings | Result | Inset | Folded | Keep | SideBySide | PageBreak
)  # fmt: skip
BLOCK_KINDS: frozenset[type] = frozenset(get_args(Block))
NAMED_KINDS: frozenset[type] = frozenset((*BLOCK_KINDS, *get_args(Run)))
"""What templates tell apart by the name of its type."""
PLAIN_KINDS: frozenset[type] = frozenset((bool, int, float, type(None)))
"""What a template takes as it is."""
REPEATED_KINDS: frozenset[type] = frozenset((Heading, Ask, Options, AnswerBox, Caution, Note))
"""Blocks that most sheets of a class have alike: what is made of one is kept for the next."""
MOST_REPEATED = 4096


@dataclass(frozen=True, slots=True)
class Document:
    """A document: its title, its blocks, the code and the words at the foot of every page, its language, and whether it
    begins on a fresh sheet of paper where several are printed on both sides."""

    title: str
    blocks: tuple[Block, ...]
    code: str = ""
    foot: str = ""
    language: str = "en"
    fresh_paper: bool = False


def words(text: str) -> Runs:
    """Plain running text."""
    return (Words(text),)


def inside(block: Block) -> Iterator[Block]:
    """The block and every block within it, in reading order."""
    yield block
    match block:
        case Beside(blocks=blocks, figure=figure):
            for inner in (*blocks, figure):
                yield from inside(inner)
        case Inset(blocks=blocks) | Folded(blocks=blocks) | Keep(blocks=blocks) | SideBySide(blocks=blocks):
            for inner in blocks:
                yield from inside(inner)


def figures_of(document: Document) -> tuple[Figure, ...]:
    """Every figure of the document, in order."""
    return tuple(b for block in document.blocks for b in inside(block) if isinstance(b, Figure))
