"""Answers as a few lines of text: what comes back from a message is what was typed, or it is said that it is not."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from searching import examples
from witnessmark.questions.sheet.answer_text import answer_text, fnv, read_answer_text
from witnessmark.questions.sheet.sheet_codes import sheet_code

CODE = sheet_code("shear-1", "LW01", 1)
ENTRIES = (
    ("1.a.A_s", "251 mm^2"),
    ("1.a", "12,5 kN"),
    ("1.c", "yes"),
    ("2.d", "burr\nblunt punch"),
    ("note", "= late"),
)
WORDS = st.text(st.characters(codec="utf-8", exclude_categories=["Cs", "Cc"], exclude_characters="\u00b6\ufeff"))


def test_what_is_read_is_what_was_written() -> None:
    read = read_answer_text(answer_text(CODE, ENTRIES))
    assert read is not None
    assert (read.code, read.entries, read.is_whole) == (CODE, ENTRIES, True)


@given(typed=WORDS)
@examples(100)
def test_every_entry_on_one_line_comes_back_but_for_its_blanks(typed: str) -> None:
    read = read_answer_text(answer_text(CODE, [("1.a", typed), ("1.b", "2 MPa")]))
    assert read is not None
    assert read.is_whole
    wanted = "\n".join(" ".join(line.split()) for line in typed.splitlines() if line.strip())
    assert dict(read.entries).get("1.a", "") == wanted


def test_a_message_around_it_a_quotation_and_a_broken_line_change_nothing() -> None:
    lines = answer_text(CODE, ENTRIES).splitlines()
    cut = [lines[0], "1.a.A_s = 251", "mm^2", *lines[2:]]
    message = "Hello,\n\n" + "".join(f"> {line}  \n" for line in cut) + "\nBest wishes\n1.a = 99 kN\n"
    read = read_answer_text(message)
    assert read is not None
    assert (read.entries, read.is_whole) == (ENTRIES, True)


@pytest.mark.parametrize(("before", "after"), [
    ("12,5 kN", "12,6 kN"), ("1.c = yes\n", ""), ("1.a = ", "1.b = "), ("yes", "yes 1.d = no"),
    (f"{CODE}", sheet_code("shear-1", "LW02", 1)), ("check ", "checked "),
])  # fmt: skip
def test_what_was_changed_on_the_way_shows(before: str, after: str) -> None:
    text = answer_text(CODE, ENTRIES)
    assert before in text
    read = read_answer_text(text.replace(before, after))
    assert read is not None
    assert not read.is_whole


@pytest.mark.parametrize("text", ["", "1.a = 12 kN", "our sheet is lost"])
def test_another_text_is_none(text: str) -> None:
    assert read_answer_text(text) is None


def test_the_check_is_worked_as_published() -> None:
    """FNV-1a, 32 bits: the values of its authors' list of test strings, from memory."""
    assert (fnv(b""), fnv(b"a"), fnv(b"foobar")) == (0x811C9DC5, 0xE40C292C, 0xBF9CF968)
