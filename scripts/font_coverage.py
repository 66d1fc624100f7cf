"""Write down which characters each font inside typst has, for `documents/page/signs.py`.

Run by hand when typst is renewed: `python scripts/font_coverage.py` (a minute). The fonts are read out of typst's own
library file, and what typst refuses to print all the same is left out; tests/documents/test_signs.py compares.
"""

import importlib.metadata
import io
import json
import struct
import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from pathlib import Path

import typst
from fontTools.ttLib import TTFont

from witnessmark.documents.page.blocks import Block, Document, Paragraph, Typed, Words
from witnessmark.documents.page.pdf import compiled, ready

TARGET = Path(__file__).parents[1] / "src/witnessmark/documents/assets/fonts/coverage.json"
KINDS_OF_FONT = (b"OTTO", b"\x00\x01\x00\x00")  # OpenType 1.9, table directory: outlines of CFF, of TrueType
MOST_TABLES = 64
MOST_BYTES = 30_000_000
BATCH = 250


def fonts_in_typst() -> Iterator[TTFont]:
    """Every font that typst's library file holds."""
    for library in sorted(Path(typst.__file__).parent.glob("*.so")) + sorted(Path(typst.__file__).parent.glob("*.pyd")):
        data = library.read_bytes()
        for kind in KINDS_OF_FONT:
            at = data.find(kind)
            while at >= 0:
                if _is_font(data, at):
                    yield TTFont(io.BytesIO(data[at : at + MOST_BYTES]))
                at = data.find(kind, at + 1)


def _is_font(data: bytes, at: int) -> bool:
    """True where a table directory with a character map stands."""
    (count,) = struct.unpack_from(">H", data, at + 4)
    if not 5 <= count <= MOST_TABLES:
        return False
    tags = [data[at + 12 + 16 * n : at + 16 + 16 * n] for n in range(count)]
    return b"cmap" in tags and all(tag.isascii() and len(tag) == 4 for tag in tags)


def in_fonts() -> dict[str, set[int]]:
    """The characters that each font has a shape for, by the font's full name."""
    found: dict[str, set[int]] = {}
    for font in fonts_in_typst():
        shapes: dict[int, str] = font.getBestCmap()
        has = {code for code, shape in shapes.items() if shape != ".notdef"}
        found.setdefault(str(font["name"].getDebugName(4)), set()).update(has)
    return found


def printed(signs: Sequence[str]) -> bool:
    """True when typst prints all of these, each on a line of its own, in every face that text stands in."""
    lines: list[Block] = [Paragraph((Words(s), Words(s, strong=True), Typed(s))) for s in signs]
    try:
        compiled(ready([Document("Signs", tuple(lines))], str))
    except typst.TypstError:
        return False
    return True


def refused(signs: Sequence[str]) -> list[str]:
    """Those that typst does not print."""
    if printed(signs):
        return []
    middle = len(signs) // 2
    return list(signs) if len(signs) == 1 else refused(signs[:middle]) + refused(signs[middle:])


def coverage(fonts: dict[str, set[int]], without: Iterable[str] = ()) -> dict[str, list[list[int]]]:
    """The characters of each font as ranges, without some, and without what has no shape to see."""
    hidden = {ord(sign) for sign in without}
    return {name: ranges({c for c in codes - hidden if is_seen(chr(c))}) for name, codes in sorted(fonts.items())}


def is_seen(sign: str) -> bool:
    """True of a character that stands for itself: no control, no half pair, nothing for private use."""
    return unicodedata.category(sign)[0] != "C"


def ranges(codes: set[int]) -> list[list[int]]:
    """Numbers as pairs of first and last."""
    ordered = sorted(codes)
    starts = [0, *(n for n, (a, b) in enumerate(pairwise(ordered), 1) if b != a + 1), len(ordered)]
    return [[ordered[a], ordered[b - 1]] for a, b in pairwise(starts)]


if __name__ == "__main__":
    fonts = in_fonts()
    signs = sorted({chr(code) for codes in fonts.values() for code in codes if is_seen(chr(code))})
    batches = [signs[n : n + BATCH] for n in range(0, len(signs), BATCH)]
    left_out = [sign for batch in batches for sign in refused(batch)]
    table = {"typst": importlib.metadata.version("typst"), "refused": left_out, "fonts": coverage(fonts, left_out)}
    TARGET.write_text(json.dumps(table, separators=(",", ":")) + "\n", encoding="utf-8")
    print(f"{TARGET}: {TARGET.stat().st_size} bytes, {len(signs)} signs in {len(fonts)} fonts, refused: {left_out}")
