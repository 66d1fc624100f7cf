"""Books filled in from a prepared archive have the bytes that openpyxl would have written, member by member."""

import io
import zipfile

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bank_fixture import BANK
from searching import every, examples
from witnessmark.documents.sheet.answer_book import answer_book
from witnessmark.documents.workbook.archive import members_of
from witnessmark.documents.workbook.prepared import packed
from witnessmark.documents.workbook.writer import Book, Look
from witnessmark.jobs.previewing import drawn
from witnessmark.questions.sheet.task import Sheet, Student, Task


def by_openpyxl_alone(book: Book) -> bytes:
    """The book as openpyxl writes it, without any preparation."""
    return packed(members_of(book.layout(), book.words()))


def in_the_order_of(filled: bytes, book: bytes) -> bytes:
    """A book with its members in the order of a filled one: those that are alike in all books of a layout first."""
    with zipfile.ZipFile(io.BytesIO(filled)) as order, zipfile.ZipFile(io.BytesIO(book)) as archive:
        assert sorted(order.namelist()) == sorted(archive.namelist())
        return packed({name: archive.read(name) for name in order.namelist()})


@pytest.mark.parametrize("key", every(sorted(BANK.keys()), 8))
def test_a_filled_answer_book_is_what_openpyxl_writes(key: str, monkeypatch: pytest.MonkeyPatch) -> None:
    task = Task("t", "Shear & punching, τ ≤ 90", (key,))
    student = Student("HB01", "Idris Vael", "Heron Boats")
    sheets = [Sheet(f"K7Q4-{n}", task, student, (variant,), n) for n, variant in enumerate(drawn(BANK[key], 2), 1)]
    typed = {ask.key: ("94.2 <kN> ", "kN") for ask in sheets[0].asks}
    filled = [answer_book(sheet, typed) for sheet in sheets]
    monkeypatch.setattr(Book, "data", by_openpyxl_alone)
    assert filled == [in_the_order_of(f, answer_book(s, typed)) for f, s in zip(filled, sheets, strict=True)]


def book_of(title: str, text: str, height: float) -> Book:
    """A small book with every place for words."""
    book = Book(title, text)
    page = book.page("Answers")
    page.write_row(1, {"A": (title, Look()), "B": (text, Look(is_open=True)), "C": (text, Look(bold=True))})
    page.height(1, height)
    page.lock()
    page.keep_as_text("B1", "C1")
    page.print_on_a4("1:1", text)
    book.hidden_page("told", (("code", text),))
    book.tell("sheet code", text)
    return book


# Blanks alone are kept in a property of the file, where openpyxl loses them: so no text here is of blanks alone.
words = st.text(st.characters(exclude_categories=["Cs"]), max_size=12).map("x{}".format)


@examples(30)
@given(words, words, st.floats(1, 400))
def test_any_words_are_filled_in_as_openpyxl_writes_them(title: str, text: str, height: float) -> None:
    book = book_of(title, text, height)
    assert book.data() == in_the_order_of(book.data(), by_openpyxl_alone(book))


def test_words_that_look_like_an_open_place_stay_words() -> None:
    data = book_of("open-place-1-of-words", "open-place-0-of-words", 20).data()
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        page = archive.read("xl/worksheets/sheet1.xml").decode()
    assert ">open-place-1-of-words<" in page
    assert page.count("<t>open-place-0-of-words<") == 2
