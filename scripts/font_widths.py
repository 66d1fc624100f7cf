"""Measure the advance widths of the figures' font with typst, and write the table that the figures are lettered by.

Run by hand when typst's embedded font changes: `python scripts/font_widths.py`
"""

import json
from pathlib import Path

import typst

TARGET = Path(__file__).parents[1] / "src/witnessmark/documents/figures/widths.json"
FONT = "Libertinus Serif"
SIGNS = "°µ·×±²³⁴⁻⌀ΩαβγδεζηθλμνπρσςτφψωΔΣΦ−–—’‘“”…≤≥≈→√½¼¾⁄€£\u00a0\u202f\u2009éèüöäåæøñç∅Øø₀₁₂₃₄ₐₚₛ"
SOURCE = """
#set page(width: auto, height: auto)
#set text(font: "Libertinus Serif", size: 1000pt, kerning: false, ligatures: false)
#let signs = json(bytes(sys.inputs.signs))
#context [#metadata(signs.map(s => (s, measure(text(s)).width.pt()))) <widths>]
"""


def measured() -> dict[str, int]:
    """Advance width by character, in thousandths of the font size."""
    signs = [chr(code) for code in range(0x20, 0x7F)] + list(dict.fromkeys(SIGNS))
    compiler = typst.Compiler(SOURCE.encode(), ignore_system_fonts=True, sys_inputs={"signs": json.dumps(signs)})
    pairs = json.loads(compiler.query("<widths>", field="value", one=True))
    return {sign: round(width) for sign, width in pairs}


if __name__ == "__main__":
    table = {"font": f"{FONT}, as embedded in typst", "unit": "thousandths of the font size", "widths": measured()}
    TARGET.write_text(json.dumps(table, ensure_ascii=False, separators=(",", ":")) + "\n", encoding="utf-8")
    print(f"{TARGET}: {len(table['widths'])} characters")
