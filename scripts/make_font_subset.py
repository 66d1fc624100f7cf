"""Make the small maths font of the HTML pages from Latin Modern Math (Debian package fonts-lmodern).

Run once, by hand, when the list of signs changes; the result is committed with its licence note:
`python scripts/make_font_subset.py [latinmodern-math.otf]`
"""

import sys
from pathlib import Path

from fontTools import subset
from fontTools.ttLib import TTFont

SOURCE = Path("/usr/share/texmf/fonts/opentype/public/lm-math/latinmodern-math.otf")
TARGET = Path(__file__).parents[1] / "src/witnessmark/documents/assets/fonts/witnessmark-maths.woff2"
FAMILY = "Witness Mark Maths"  # the GUST Font License asks that a changed font has another name
RANGES = (
    (0x20, 0x7E),  # Latin, digits, brackets
    (0xA0, 0xFF),  # Latin-1: °, ±, ·, ×, accented letters
    (0x391, 0x3A9),
    (0x3B1, 0x3D6),  # Greek
    (0x1D434, 0x1D467),  # Latin, sloping
    (0x1D6E2, 0x1D71B),  # Greek, sloping
)
SIGNS = "ℎ−≈≤≥√′″Ωµ∆…–—\u2009\u202f\u2061\u2062"


def characters() -> set[int]:
    """Every character that the printed formulae may need."""
    return {code for first, last in RANGES for code in range(first, last + 1)} | {ord(sign) for sign in SIGNS}


def make(source: Path, target: Path) -> int:
    """Write the subset; returns its size in bytes."""
    options = subset.Options()
    options.flavor = "woff2"
    options.layout_features = ["kern", "mark", "mkmk"]
    options.drop_tables += ["FFTM"]
    options.desubroutinize = True
    font = TTFont(source, recalcTimestamp=False)
    subsetter = subset.Subsetter(options)
    subsetter.populate(unicodes=characters())
    subsetter.subset(font)
    for record in font["name"].names:
        if record.nameID in (1, 3, 4, 6, 16):
            record.string = FAMILY.replace(" ", "") if record.nameID == 6 else FAMILY
    outlines = font["CFF "].cff
    outlines.fontNames[0] = FAMILY.replace(" ", "")
    outlines.topDictIndex[0].FullName = outlines.topDictIndex[0].FamilyName = FAMILY
    font.flavor = "woff2"
    target.parent.mkdir(parents=True, exist_ok=True)
    font.save(target)
    return target.stat().st_size


if __name__ == "__main__":
    chosen = Path(sys.argv[1]) if len(sys.argv) > 1 else SOURCE
    print(f"{TARGET}: {make(chosen, TARGET)} bytes")
