"""A workbook before it is written: what is alike in the books of a class apart from the words that differ."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Look:
    """How a cell looks. Colours are RRGGBB. `is_open` cells take typing, as text that no program turns into a date."""

    size: float = 11
    bold: bool = False
    italic: bool = False
    colour: str = "1A1A1A"
    fill: str = ""
    border: str = ""
    centred: bool = False
    top: bool = False
    indent: int = 0
    is_open: bool = False


@dataclass(frozen=True, slots=True)
class Offer:
    """Choices that some cells offer; title and advice are shown where something else was typed."""

    cells: tuple[str, ...]
    choices: tuple[str, ...]
    title: str
    advice: str


@dataclass(frozen=True, slots=True)
class Printing:
    """How a page is printed on A4: the rows (`5:5`) that stand on every page, and whether it lies on its side."""

    repeated_rows: str
    landscape: bool


@dataclass(frozen=True, slots=True)
class PageLayout:
    """One page without its words: its cells with their looks, which of them have text, which rows have a height of
    their own, and all that is the same whatever the words are."""

    name: str
    looks: tuple[tuple[str, Look], ...]
    with_text: tuple[str, ...]
    rows: tuple[int, ...]
    joined: tuple[str, ...]
    widths: tuple[tuple[str, float], ...]
    offers: tuple[Offer, ...]
    kept_as_text: tuple[str, ...]
    frozen_at: str
    is_locked: bool
    is_hidden: bool
    printing: Printing | None


@dataclass(frozen=True, slots=True)
class BookLayout:
    """A book without its words; `names` are names of cells with page and cell, `told` are properties of the file."""

    pages: tuple[PageLayout, ...]
    names: tuple[tuple[str, str, str], ...]
    told: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PageWords:
    """What a page's layout leaves open: a text for each cell `with_text`, points for each of `rows`, its footer."""

    texts: tuple[str, ...]
    heights: tuple[float, ...]
    footer: str


@dataclass(frozen=True, slots=True)
class BookWords:
    """What a book's layout leaves open, page by page, with its title, its subject and a value for each of `told`."""

    pages: tuple[PageWords, ...]
    title: str
    subject: str
    told: tuple[str, ...]
