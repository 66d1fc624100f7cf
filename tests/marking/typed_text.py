"""What a student might type: numbers nearly right, units of any kind, and anything at all."""

from hypothesis import strategies as st

NUMBERS = st.one_of(
    st.floats(allow_nan=False).map(lambda x: f"{x:.4g}"),
    st.integers(-999_999, 999_999).map(lambda n: f"{n:,}"),
    st.sampled_from(["", "0", "1,234", "12 345.6", "7.0 x 10^4", "½", "1/3", "٣٫٥", "1e999", "-0", "113,1"]),
)
UNITS = ("kN", "N", "kn", "MPa", "mm^2", "mm²", "kg", "%", "°", "N/mm2", "furlongs", "=1+1", "µm", "KN/m", "h", "")
FORMULAS = (
    "=1+1", "=HYPERLINK(\"http://x\",\"y\")", "+cmd|' /C calc'!A0", "-2+3", "@SUM(1)", "=cmd|'/c calc'!A1",
    "<script>alert(1)</script>", "<img src=x onerror=alert(1)>", "{{7*7}}", "${7*7}", "#set text(red)", "$x^2$",
    "__import__('os').system('x')", "'; DROP TABLE outcomes; --", "\t=1+1", "\r\n=1+1", "\x00", "\u202e113", "]]>",
    "&lt;b&gt;", "javascript:alert(1)", "\\input{x}", "`x`", "{#each}", "=1+1;2", "[link](javascript:x)",
)  # fmt: skip


def anything_typed(unit: str) -> st.SearchStrategy[str]:
    """A number with some unit, a formula or script, or any text."""
    number = st.tuples(NUMBERS, st.sampled_from(["", " "]), st.sampled_from([unit, *UNITS])).map("".join)
    return st.one_of(number, st.sampled_from(FORMULAS), st.text(max_size=40))
