"""Documents as PDF and as HTML: the same words in both, nothing evaluated, nothing fetched, all with its words."""

import re
from base64 import b64decode
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont

from documents.drain_hole import FIGURE
from documents.every_block import every_block, kinds_there_are, kinds_used
from documents.pages import Page, words_of_pdf
from programs import pictures, screenshot
from witnessmark.documents.page.blocks import Document, Figure, Formula, Maths, Paragraph, figures_of, words
from witnessmark.documents.page.html import MATHS_FONT, html_of
from witnessmark.documents.page.pdf import joined_pdf, pdf_of, pdf_to_come, pdfs_of
from witnessmark.maths.printing.pieces import formula
from witnessmark.maths.printing.symbols import GREEK
from witnessmark.maths.syntax import parse

# Each is code or markup to somebody: typst, HTML, jinja2, SVG, a spreadsheet.
HOSTILE = '#read("/etc/hostname") <script>alert(1)</script> {{ 7*7 }} $x$ [*a*] "\\ &amp; =1+1 //'


def test_the_sample_document_has_every_kind_of_block() -> None:
    assert kinds_used() == kinds_there_are()


def test_every_block_passes_the_check_of_pdf_ua(tmp_path: Path) -> None:
    """typst checks PDF/UA-1 (ISO 14289-1) while compiling, and raises when anything lacks its words."""
    pdf = pdf_of(every_block())
    assert pdf.startswith(b"%PDF-")
    assert b"pdfuaid" in pdf


def test_the_same_document_gives_the_same_bytes() -> None:
    assert pdf_of(every_block()) == pdf_of(every_block()) == pdf_to_come(every_block())()
    assert html_of(every_block()) == html_of(every_block())


def test_one_pdf_each_is_the_same_as_one_after_the_other() -> None:
    documents = [every_block("first"), every_block("second")]
    assert list(pdfs_of(documents)) == [pdf_of(d) for d in documents]


def test_pages_are_counted_again_for_each_document_of_a_joined_pdf(tmp_path: Path) -> None:
    pages = words_of_pdf(joined_pdf([every_block("first"), every_block("second")]), tmp_path)
    counted = [re.search(r"page (\d) of (\d)", page) for page in pages]
    assert [(m[1], m[2]) for m in counted if m] == [("1", "2"), ("2", "2")] * 2


def test_code_and_foot_stand_on_every_page(tmp_path: Path) -> None:
    pages = words_of_pdf(pdf_of(every_block()), tmp_path)
    assert len(pages) == 2
    assert all("K7Q4-M2P" in page and "Foot plain" in page for page in pages)


def test_text_of_people_is_printed_and_never_run(tmp_path: Path) -> None:
    printed = " ".join(words_of_pdf(pdf_of(every_block(HOSTILE)), tmp_path))
    for piece in ('#read("/etc/hostname")', "<script>alert(1)</script>", "{{ 7*7 }}", "$x$", "[*a*]", "=1+1"):
        assert piece in printed
    page = Page(html_of(every_block(HOSTILE)))
    assert HOSTILE in page.words
    assert page.all("script") == []


def test_the_page_asks_nothing_of_anybody() -> None:
    page = Page(html_of(every_block()))
    addresses = [v for _, attributes in page.elements for k, v in attributes.items() if k in ("src", "href", "srcset")]
    assert addresses
    assert all(address and address.startswith(("data:", "#")) for address in addresses)
    style = re.search(r"<style>(.*?)</style>", html_of(every_block()), re.DOTALL)
    assert style
    assert set(re.findall(r"url\((\w+):", style[1])) == {"data"}
    policy = [m["content"] for m in page.all("meta") if m.get("http-equiv") == "Content-Security-Policy"]
    assert policy
    assert policy[0]
    assert policy[0].startswith("default-src 'none'")


def test_a_link_leads_to_a_heading_of_the_same_document() -> None:
    page = Page(html_of(every_block()))
    assert {a["href"] for a in page.all("a")} == {"#first-heading"}
    assert [d["id"] for d in page.all("div") if "id" in d] == ["first-heading"]
    assert pdf_of(every_block()).count(b"/Subtype/Link") == 1, "one link on paper"


def test_the_page_says_its_language_and_what_its_drawings_and_formulae_are() -> None:
    page = Page(html_of(every_block()))
    assert page.all("html")[0]["lang"] == "en"
    assert [i["alt"] for i in page.all("img")] == [f.alt for f in figures_of(every_block())] == [FIGURE.alt] * 2
    assert len(page.all("math")) == 5
    assert all(m["alttext"] for m in page.all("math"))
    assert len(page.all("h1")) == 1


def test_a_drawing_travels_in_the_page_as_it_is() -> None:
    image = Page(html_of(every_block())).all("img")[0]["src"]
    assert image
    assert b64decode(image.partition(",")[2]).decode() == FIGURE.svg


def test_pdf_and_page_say_the_same_words(tmp_path: Path) -> None:
    document = Document("Same", (Paragraph(words("A galley floor plate, 5 mm thick.")), Paragraph(words("Two."))))
    assert "A galley floor plate, 5 mm thick. Two." in words_of_pdf(pdf_of(document), tmp_path)[0]
    assert "A galley floor plate, 5 mm thick." in Page(html_of(document)).words


def test_a_formula_stands_beside_the_one_before_it_only_where_both_have_room(tmp_path: Path) -> None:
    """Fractions side by side are read numerators first."""
    short, long = formula(parse("F/A")), formula(parse(" + ".join(["sigma"] * 40)))
    for second, together in ((short, True), (long, False)):
        pdf = pdf_of(Document("Two", (Formula(short), Formula(second, beside=True))))
        read = words_of_pdf(pdf, tmp_path)[0]
        assert read.startswith("F F A A" if together else "F A σ"), read


def test_fractions_have_their_full_size_on_a_line_of_their_own_and_where_they_are_to_be_tall() -> None:
    half = formula(parse("a / b"))
    blocks = (Formula(half), Paragraph((Maths(half),)), Paragraph((Maths(half, tall=True),)))
    shown = [(m.get("display"), m.get("displaystyle")) for m in Page(html_of(Document("Halves", blocks))).all("math")]
    assert shown == [("block", None), (None, None), (None, "true")]  # W3C, MathML Core: display and displaystyle


def test_a_figure_without_words_is_refused() -> None:
    with pytest.raises(Exception, match="alt text"):
        pdf_of(Document("Silent", (Figure(FIGURE.svg, ""),)))


def test_the_maths_font_has_every_sign_and_the_table_that_roots_need() -> None:
    font = TTFont(MATHS_FONT)
    assert "MATH" in font
    sloping = {chr(0x1D434 + i) for i in range(52) if i != 33} | {"ℎ"}  # the place of italic h is U+210E
    signs = set("0123456789+−×=<≤>≥≈()|/%°·√,.") | set(GREEK.values()) | sloping
    assert {sign for sign in signs if ord(sign) not in font.getBestCmap()} == set()
    names = {record.toUnicode() for record in font["name"].names if record.nameID in (1, 4)}
    assert names == {"Witness Mark Maths"}


def test_root_signs_are_drawn_in_the_browser(chromium: Path, tmp_path: Path) -> None:
    """Without a font that has a MATH table a browser leaves root signs out: then both pictures would be the same."""
    pictures_made = []
    for name, text in (("root", "sqrt(sigma)"), ("bare", "sigma")):
        page = tmp_path / f"{name}.html"
        page.write_text(html_of(Document("Root", (Formula(formula(parse(text))),))), encoding="utf-8")
        pictures_made.append(screenshot(chromium, page.as_uri(), tmp_path / f"{name}.png", (300, 200)).read_bytes())
    assert pictures_made[0] != pictures_made[1]


def test_every_page_of_the_pdf_can_be_drawn(pdftoppm: Path, tmp_path: Path) -> None:
    (tmp_path / "all.pdf").write_bytes(pdf_of(every_block()))
    assert len(pictures(pdftoppm, tmp_path / "all.pdf", tmp_path)) == 2
