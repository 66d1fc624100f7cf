"""What a student might type: numbers nearly right, units of any kind, and anything at all."""

from collections.abc import Mapping
from decimal import Decimal

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


# Factors to SI after the SI Brochure (9th ed., 2019), table 7 and table 8: prefixes, litre, bar, minute, degree.
SPELLED: Mapping[str, Mapping[str, float]] = {
    "kN": {"kN": 1e3, "N": 1.0, "MN": 1e6, "kilonewtons": 1e3, "newton": 1.0},
    "N": {"N": 1.0, "kN": 1e3, "newtons": 1.0},
    "MPa": {"MPa": 1e6, "N/mm²": 1e6, "N/mm^2": 1e6, "N/mm2": 1e6, "GPa": 1e9, "kPa": 1e3, "Pa": 1.0, "bar": 1e5},
    "bar": {"bar": 1e5, "MPa": 1e6, "kPa": 1e3, "N/mm²": 1e6},
    "kPa": {"kPa": 1e3, "Pa": 1.0, "kN/m²": 1e3},
    "mm": {"mm": 1e-3, "m": 1.0, "cm": 1e-2, "millimetres": 1e-3},
    "mm^2": {"mm²": 1e-6, "mm^2": 1e-6, "mm2": 1e-6, "cm²": 1e-4, "m²": 1.0, "sq mm": 1e-6},
    "N*m": {"N m": 1.0, "Nm": 1.0, "N·m": 1.0, "kNm": 1e3, "N mm": 1e-3},
    "W": {"W": 1.0, "kW": 1e3, "watts": 1.0},
    "A": {"A": 1.0, "mA": 1e-3, "amps": 1.0},
    "kg": {"kg": 1.0, "g": 1e-3, "t": 1e3},
    "deg": {"°": 0.017453292519943295, "deg": 0.017453292519943295, "rad": 1.0, "degrees": 0.017453292519943295},
    "percent": {"%": 0.01, "per cent": 0.01},
    "": {"": 1.0},
}


def spelled(number: float, form: str) -> str:
    """A number of five figures in one of the forms that people type."""
    plain = f"{Decimal(f'{number:.4e}'):f}"
    mantissa, exponent = f"{number:.4e}".split("e")
    match form:
        case "comma" if len(plain.partition(".")[2]) != 3:
            return plain.replace(".", ",")
        case "E":
            return f"{mantissa}E{int(exponent):+d}"
        case "times":
            return f"{mantissa} x 10^{int(exponent)}"
        case "dot":
            return f"{mantissa}·10^{int(exponent)}"
    return plain
