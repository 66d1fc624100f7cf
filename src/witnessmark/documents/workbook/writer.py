"""A workbook while its pages are written: locked text and open cells, as bytes that are the same at every run."""

from collections.abc import Iterable, Mapping

from witnessmark.documents.workbook.archive import column_letter
from witnessmark.documents.workbook.layout import (
    BookLayout,
    BookWords,
    Look,
    Offer,
    PageLayout,
    PageWords,
    Printing,
)
from witnessmark.documents.workbook.prepared import book_bytes
from witnessmark.documents.workbook.text import writable

__all__ = ["Book", "Look", "Page", "column_letter"]


class Page:
    """One page of a book while it is written."""

    def __init__(self, name: str, is_hidden: bool = False) -> None:
        self._name, self._is_hidden, self._is_locked = name, is_hidden, False
        self._looks: dict[str, Look] = {}
        self._texts: dict[str, str] = {}
        self._heights: dict[int, float] = {}
        self._widths: dict[str, float] = {}
        self._joined: list[str] = []
        self._offers: list[Offer] = []
        self._kept_as_text: list[str] = []
        self._frozen_at, self._footer = "", ""
        self._printing: Printing | None = None

    def write(self, cell: str, text: str, look: Look) -> None:
        """Write text (or nothing) into a cell such as `B2`; signs that a workbook cannot hold stand by name."""
        self._looks[cell] = look
        if text:
            self._texts[cell] = writable(text)

    def write_row(self, row: int, cells: Mapping[str, tuple[str, Look]]) -> None:
        """Write several cells of one row, by column letter."""
        for column, (text, look) in cells.items():
            self.write(f"{column}{row}", text, look)

    def join(self, first: str, last: str) -> None:
        """Make one cell of the cells from first to last, which hold nothing but what the first one holds."""
        self._joined.append(f"{first}:{last}")

    def widths(self, by_column: Mapping[str, float]) -> None:
        """Column widths in characters."""
        self._widths |= by_column

    def height(self, row: int, points: float) -> None:
        """The height of a row."""
        self._heights[row] = points

    def offer(self, cells: Iterable[str], choices: tuple[str, ...], title: str, advice: str) -> None:
        """Offer choices in a list. Anything else can be typed too: a warning is given, and may be passed over."""
        self._offers.append(Offer(tuple(cells), choices, title, advice))

    def keep_as_text(self, first: str, last: str) -> None:
        """Let no program mark numbers in these cells as an error because they are text."""
        self._kept_as_text.append(f"{first}:{last}")

    def freeze(self, cell: str) -> None:
        """Keep what is above and left of this cell in view."""
        self._frozen_at = cell

    def lock(self) -> None:
        """Protect what is not open, without a password; columns and rows may still be made wider."""
        self._is_locked = True

    def print_on_a4(self, repeated_rows: str, footer: str, landscape: bool = False) -> None:
        """One page wide, with these rows (`5:5`) on every page and the footer left of the page number."""
        self._printing = Printing(repeated_rows, landscape)
        self._footer = " ".join(writable(footer).splitlines()).replace("\t", " ").replace("&", "&&")

    def layout(self) -> PageLayout:
        """The page without its words."""
        return PageLayout(
            self._name, tuple(self._looks.items()), tuple(self._texts), tuple(self._heights), tuple(self._joined),
            tuple(self._widths.items()), tuple(self._offers), tuple(self._kept_as_text), self._frozen_at,
            self._is_locked, self._is_hidden, self._printing,
        )  # fmt: skip

    def words(self) -> PageWords:
        """The words of the page, with the heights of its rows, which follow from them."""
        return PageWords(tuple(self._texts.values()), tuple(self._heights.values()), self._footer)


class Book:
    """A workbook while it is written."""

    def __init__(self, title: str, subject: str) -> None:
        self._title, self._subject = writable(title), writable(subject)
        self._pages: list[Page] = []
        self._names: dict[str, tuple[str, str]] = {}
        self._told: dict[str, str] = {}

    def page(self, name: str) -> Page:
        """A new page."""
        return self._added(Page(name))

    def hidden_page(self, name: str, rows: Iterable[tuple[str, str]]) -> None:
        """A locked page that people do not see, with two columns of text."""
        page = self._added(Page(name, is_hidden=True))
        for n, (left, right) in enumerate(rows, 1):
            page.write_row(n, {"A": (left, Look()), "B": (right, Look())})
        page.lock()

    def name(self, name: str, page: str, cell: str) -> None:
        """Give a cell a name by which it is found when rows moved."""
        self._names[name] = page, cell

    def tell(self, name: str, value: str) -> None:
        """Set a property of the file."""
        self._told[name] = writable(value)

    def layout(self) -> BookLayout:
        """The book without its words."""
        names = tuple((name, page, cell) for name, (page, cell) in self._names.items())
        return BookLayout(tuple(page.layout() for page in self._pages), names, tuple(self._told))

    def words(self) -> BookWords:
        """The words of the book."""
        pages = tuple(page.words() for page in self._pages)
        return BookWords(pages, self._title, self._subject, tuple(self._told.values()))

    def data(self) -> bytes:
        """The workbook as xlsx."""
        return book_bytes(self.layout(), self.words())

    def _added(self, page: Page) -> Page:
        self._pages.append(page)
        return page
