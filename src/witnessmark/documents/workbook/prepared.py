"""A workbook of a layout is made once, with marks where words go; each book of that layout is those marks filled in.

What stands in a filled book is what openpyxl would have written (tests/workbooks/test_prepared.py).
"""

import io
import re
import zipfile
from dataclasses import dataclass
from functools import lru_cache
from itertools import chain, count, islice
from xml.sax.saxutils import escape

from witnessmark.documents.workbook.archive import Members, members_of
from witnessmark.documents.workbook.layout import BookLayout, BookWords, PageWords

STAMP = (1980, 1, 1, 0, 0, 0)  # the earliest that a zip file can tell
MARK = "open-place-{}-of-words"
HIGHEST = 1_000_000
"""Points of no row: a height above them is the mark of an open one."""
PAGES = "xl/worksheets/"
"""What openpyxl writes in ASCII, with the numbers of other signs; all else it writes in UTF-8."""
OPEN = re.compile(rb'(>)?open-place-(\d+)-of-words|ht="1(\d{6})"')


@dataclass(frozen=True, slots=True)
class Place:
    """An open place of a member: which of a book's words or heights goes there, and whether it is all that an element
    holds."""

    number: int
    is_height: bool = False
    is_whole: bool = False


@dataclass(frozen=True, slots=True)
class Member:
    """One member of a prepared archive: the content between its open places, and the places."""

    name: str
    between: tuple[bytes, ...]
    places: tuple[Place, ...]


@dataclass(frozen=True, slots=True)
class Prepared:
    """The books of a layout: an archive of the members that are alike in all of them, and those with open places."""

    archive: bytes
    open_members: tuple[Member, ...]


def book_bytes(layout: BookLayout, words: BookWords) -> bytes:
    """The workbook as xlsx."""
    texts, heights = _in_order(words)
    prepared = _prepared(layout)
    return packed({member.name: _filled(member, texts, heights) for member in prepared.open_members}, prepared.archive)


def packed(members: Members, archive: bytes = b"") -> bytes:
    """The archive of these members, without times, behind those of an `archive` that is there."""
    out = io.BytesIO(archive)
    with zipfile.ZipFile(out, "a", zipfile.ZIP_DEFLATED) as target:
        for name, content in members.items():
            entry = zipfile.ZipInfo(name, STAMP)
            entry.compress_type = zipfile.ZIP_DEFLATED
            target.writestr(entry, content)
    return out.getvalue()


@lru_cache(maxsize=32)
def _prepared(layout: BookLayout) -> Prepared:
    members = [_member(name, content) for name, content in members_of(layout, _marks(layout)).items()]
    alike = {member.name: member.between[0] for member in members if not member.places}
    return Prepared(packed(alike), tuple(member for member in members if member.places))


def _marks(layout: BookLayout) -> BookWords:
    """Words of a layout that are marks, numbered as `_in_order` numbers words."""
    texts, heights = (MARK.format(n) for n in count()), (float(HIGHEST + n) for n in count())
    pages = tuple(
        PageWords(tuple(islice(texts, len(p.with_text))), tuple(islice(heights, len(p.rows))), next(texts))
        for p in layout.pages
    )
    return BookWords(pages, next(texts), next(texts), tuple(islice(texts, len(layout.told))))


def _in_order(words: BookWords) -> tuple[list[str], list[float]]:
    """All words and all heights of a book, in the order of their marks."""
    of_pages = chain.from_iterable((*page.texts, page.footer) for page in words.pages)
    heights = chain.from_iterable(page.heights for page in words.pages)
    return [*of_pages, words.title, words.subject, *words.told], list(heights)


def _member(name: str, content: bytes) -> Member:
    between, places, end = [], [], 0
    for found in OPEN.finditer(content):
        between.append(content[end : found.start()])
        is_height = found[3] is not None
        places.append(Place(int(found[3] if is_height else found[2]), is_height, bool(found[1])))
        end = found.end()
    return Member(name, (*between, content[end:]), tuple(places))


def _filled(member: Member, texts: list[str], heights: list[float]) -> bytes:
    encoding = "ascii" if member.name.startswith(PAGES) else "utf-8"
    pieces = [member.between[0]]
    for place, after in zip(member.places, member.between[1:], strict=True):
        written = _height(heights[place.number]) if place.is_height else _text(texts[place.number], place.is_whole)
        pieces += (written.encode(encoding, "xmlcharrefreplace"), after)
    return b"".join(pieces)


def _height(points: float) -> str:
    return f'ht="{points:.16g}"'


def _text(text: str, is_whole: bool) -> str:
    """Text as XML; the whole text of an element behind the end of its tag, which says where blanks are to be kept."""
    written = escape(text, {"\r": "&#13;"})
    if not is_whole:
        return written
    return (' xml:space="preserve">' if text != text.strip() else ">") + written
