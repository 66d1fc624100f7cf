"""Signs that no font has, and signs that nobody can see: each stands by its name, and no document falls over one."""

import importlib.metadata
import json
from pathlib import Path

import pytest
import typst
from hypothesis import given
from hypothesis import strategies as st

from documents.every_sign import documents, failing, signs
from documents.pages import Page, words_of_pdf
from font_coverage import coverage, in_fonts
from searching import examples
from witnessmark.documents.page.blocks import Document, Figure, Paragraph, Typed, Words, words
from witnessmark.documents.page.html import html_of
from witnessmark.documents.page.pdf import compiled, pdf_of, ready
from witnessmark.documents.page.signs import COVERAGE, PRINTABLE, is_unseen, on_paper, on_screen, plainest

TABLE = json.loads(COVERAGE.read_text(encoding="utf-8"))
IN_FONTS = {chr(code) for ranges in TABLE["fonts"].values() for a, b in ranges for code in range(a, b + 1)}
SAMPLE = 9973
"""Of the signs that stand by name, every so many goes through every document; test_deep_signs.py takes them all."""
PER_TEXT = 40
UNASSIGNED = "\u0378\u0530\uffef\U0001fffd\U000e0fff"


def both(*texts: str) -> Document:
    """A document with each text in both faces that text stands in."""
    return Document("Signs", tuple(Paragraph((Words(text), Typed(text))) for text in texts))


@pytest.mark.parametrize(
    ("typed", "shown"),
    [
        ("👍 12 kN", "[thumbs up sign] 12 kN"), ("％", "[fullwidth percent sign]"), ("１", "[fullwidth digit one]"),
        ("\x07", "[U+0007]"), ("\ufeff5", "[zero width no-break space]5"), ("中", "[U+4E2D]"), ("\ud800", "[U+D800]"),
        ("1\u202e2", "1[right-to-left override]2"), ("\ue000", "[U+E000]"), ("5\r\n6\r7", "5\n6\n7"),
        ("㎡", "[square m squared]"),
        ("94,2 µm ≈ ½ ✓ café", "94,2 µm ≈ ½ ✓ café"), ("cafe\u0301", "cafe\u0301"), ("✓\ufe0f", "✓\ufe0f"),
    ],
)  # fmt: skip
def test_what_no_font_has_and_what_nobody_sees_stands_on_paper_by_name(typed: str, shown: str) -> None:
    assert on_paper(typed) == shown


def test_a_browser_finds_fonts_itself_and_only_what_nobody_sees_is_named() -> None:
    assert on_screen("👍 中 １ ㎡ é ½\n") == "👍 中 １ ㎡ é ½\n"
    assert on_screen("\x00\x1b[2J\u202e\ud800\uffff\ufeff") == (
        "[U+0000][U+001B][2J[right-to-left override][U+D800][U+FFFF][zero width no-break space]"
    )


def test_names_are_printed_in_a_pdf_and_in_a_page(tmp_path: Path) -> None:
    (page,) = words_of_pdf(pdf_of(both("👍", "\x07")), tmp_path)
    assert page.startswith("[thumbs up sign][thumbs up sign] [U+0007][U+0007]")
    assert not any(map(is_unseen, on_screen("".join(signs()))))
    assert "👍" in Page(html_of(both("👍"))).words
    assert "[U+0007]" in Page(html_of(both("\x07"))).words


def test_signs_that_are_not_looked_at_are_shown_by_every_font_and_name_nothing() -> None:
    seen = PRINTABLE.decode("ascii")
    assert set(seen) <= IN_FONTS
    assert not any(map(is_unseen, seen))
    assert on_paper(seen) == on_screen(seen) == seen


def test_every_sign_that_stands_for_itself_is_in_a_font_that_typst_prints() -> None:
    """One compile of all of them, in both faces; typst refuses the document when it has no shape for one."""
    assert len(IN_FONTS) > 7_000
    assert compiled(ready([both(" ".join(sorted(IN_FONTS)))])).startswith(b"%PDF")


def test_every_code_point_becomes_signs_that_are_in_a_font() -> None:
    on = {sign: on_paper(sign) for sign in (*signs(), *UNASSIGNED)}
    invisible = {sign for sign, shown in on.items() if sign == shown} - IN_FONTS - {"\t", "\n"}
    assert invisible == set("\u00ad\u200c\u200d\u200e\u200f\u2060\u2061\u2062\u2063\u2064\ufe0e\ufe0f")
    assert set("".join(on.values())) <= IN_FONTS | invisible | {"\t", "\n"}


def test_the_table_of_fonts_is_true_of_this_typst() -> None:
    if importlib.metadata.version("typst") != TABLE["typst"]:
        pytest.skip("another typst than the one that was measured; python scripts/font_coverage.py")
    assert coverage(in_fonts(), TABLE["refused"]) == TABLE["fonts"]


@examples(20)
@given(st.lists(st.text(st.sampled_from(sorted(IN_FONTS)) | st.characters(), max_size=12), min_size=1, max_size=40))
def test_signs_in_any_company_never_stop_a_document(texts: list[str]) -> None:
    assert pdf_of(both(*texts)).startswith(b"%PDF")


def test_a_document_that_is_refused_is_printed_from_plainer_text() -> None:
    """Marks of one font on a letter of another have no shape together, however the letter came before the mark."""
    split = Document("Signs", (Paragraph((Words("\u0510"), Words("\u0484"))),))
    with pytest.raises(typst.TypstError, match="could not be displayed"):
        compiled(ready([split]))
    assert pdf_of(split).startswith(b"%PDF")
    assert plainest("é μ ☇ 中\u0301") == "é μ [lightning] [U+4E2D][combining acute accent]"


def test_signs_in_figures_and_their_words_stop_nothing() -> None:
    svg = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="90pt" height="20pt" viewBox="0 0 90 20">'
        '<text y="9" font-family="Libertinus Serif">%s</text></svg>'
    )
    figures = tuple(Figure(svg % sign, f"A {sign}.") for sign in "👍％中\x07\ufeff\ufffeà")
    assert pdf_of(Document("\x07👍", figures, "\x0b", "中")).startswith(b"%PDF")
    assert "[U+0007]" in Page(html_of(Document("\x07", (Paragraph(words("\x07")),), "\x07", "\x07"))).words


@pytest.mark.parametrize("name", documents(["a"]))
def test_no_sign_stops_a_document_in_which_it_is_name_title_answer_and_reason(name: str) -> None:
    """Controls, of which the title is made, some that fonts have, some that stand by name; halved where it fails."""
    named = [sign for sign in signs() if sign not in IN_FONTS]
    some = [*named[:40], *sorted(IN_FONTS)[::53], *named[40::SAMPLE]]
    texts = ["".join(some[n : n + PER_TEXT]) for n in range(0, len(some), PER_TEXT)]
    assert failing(texts, lambda batch: documents(batch)[name]()) == []
