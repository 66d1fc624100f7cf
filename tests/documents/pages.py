"""What a reader finds in our documents: the words of a PDF page by page, and the parts of an HTML page."""

import subprocess
from html.parser import HTMLParser
from pathlib import Path

from programs import needed


def words_of_pdf(pdf: bytes, folder: Path) -> list[str]:
    """The text of each page, by poppler, with every run of white space as one blank."""
    program, file = needed("pdftotext", "poppler-utils"), folder / "read.pdf"
    file.write_bytes(pdf)
    done = subprocess.run([program, "-layout", file, "-"], capture_output=True, check=True, timeout=60)
    return [" ".join(page.split()) for page in done.stdout.decode().split("\f")[:-1]]


APART = frozenset(
    {
        "p",
        "div",
        "h1",
        "h2",
        "h3",
        "dt",
        "dd",
        "dl",
        "li",
        "ul",
        "td",
        "th",
        "tr",
        "table",
        "caption",
        "section",
        "summary",
        "footer",
    }
)


class Page(HTMLParser):
    """A page as a browser's reader takes it: elements with attributes, and the words outside style and head."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.elements: list[tuple[str, dict[str, str | None]]] = []
        self.pieces: list[str] = []
        self.inside: list[str] = []
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs)))
        self.part(tag)
        if tag not in ("meta", "img", "mspace", "input"):
            self.inside.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        assert self.inside.pop() == tag, f"{tag} closes something else"
        self.part(tag)

    def part(self, tag: str) -> None:
        """Elements that stand apart on the page are parted by a blank."""
        if tag in APART:
            self.pieces.append(" ")

    def handle_data(self, data: str) -> None:
        if not {"style", "title", "script"} & set(self.inside):
            self.pieces.append(data)

    @property
    def words(self) -> str:
        """All that can be read, with every run of white space as one blank."""
        return " ".join("".join(self.pieces).split())

    def all(self, tag: str) -> list[dict[str, str | None]]:
        """The attributes of every element of this kind."""
        return [attributes for found, attributes in self.elements if found == tag]
