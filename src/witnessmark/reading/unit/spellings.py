"""How people write units: the whitelist. What is neither here nor a product of what is here is not a unit.

Signs after the SI Brochure, 9th ed. (2019), tables 4, 5, 7 and 8; the rest is how trades write them (common practice,
no source). `signs` are read letter for letter, and in other capitals as a repair; `words` in any case; `loose` ones as
a repair.
"""

from dataclasses import dataclass

PREFIX_WORDS = {
    "pico": "p", "nano": "n", "micro": "µ", "milli": "m", "centi": "c", "deci": "d", "deca": "da", "hecto": "h",
    "kilo": "k", "mega": "M", "giga": "G",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Spelled:
    """One unit of maths/units.txt (`unit`) and all the ways to write it; `prefixes` may stand before it."""

    unit: str
    signs: tuple[str, ...] = ()
    words: tuple[str, ...] = ()
    loose: tuple[str, ...] = ()
    prefixes: tuple[str, ...] = ()


def _row(unit: str, signs: str, words: str = "", loose: str = "", prefixes: str = "") -> Spelled:
    return Spelled(unit, *(tuple(column.split()) for column in (signs, words, loose, prefixes)))


SPELLED = (
    # length
    _row("m", "m", "metre metres meter meters", "mtr mtrs mts metr metrs", "n µ m c d k"),
    _row("in", "in", "inch inches", "ins inchs inche \" '' ″"),
    _row("ft", "ft", "foot feet", "fts ' ′"),
    _row("yd", "yd", "yard yards", "yds"),
    _row("thou", "thou", "", "thous mil mils"),
    _row("mm", "", "", "mil mils"),
    _row("mile", "mi", "mile miles"),
    _row("nautical_mile", "nmi", "nauticalmile nauticalmiles seamile seamiles", "NM nm"),
    _row("fathom", "ftm", "fathom fathoms"),
    _row("µm", "", "micron microns"),
    # area and volume
    _row("ha", "ha", "hectare hectares"),
    _row("acre", "", "acre acres"),
    _row("L", "L l", "litre litres liter liters", "ltr ltrs lit lits", "µ m c d k"),
    _row("gallon_uk", "", "gallon gallons gal gals ukgallon ukgallons"),
    _row("gallon_us", "", "gallon gallons gal gals usgallon usgallons"),
    # mass
    _row("g", "g", "gram grams gramme grammes", "gm gms grm grms gr", "µ m k M"),
    _row("kg", "", "kilo kilos", "kgs kgm"),
    _row("t", "t", "tonne tonnes", "te MT mt mton mtons"),
    _row("ton_uk", "", "longton longtons"),
    _row("ton_us", "", "shortton shorttons"),
    _row("lb", "lb", "pound pounds", "lbs"),
    _row("oz", "oz", "ounce ounces", "ozs"),
    # time
    _row("s", "s", "second seconds sec secs", "", "n µ m"),
    _row("min", "min", "minute minutes mins", "mn"),
    _row("h", "h hr", "hour hours hrs"),
    _row("day", "d", "day days"),
    _row("week", "", "week weeks"),
    _row("year", "yr", "year years yrs"),
    # force
    _row("N", "N", "newton newtons", "Nt", "µ m c da k M G"),
    _row("kgf", "kgf kp", "kilopond kiloponds kgforce", "kgsf kgfs kg"),
    _row("tf", "tf", "tonneforce tonnesforce tonforce tonsforce tonf"),
    _row("lbf", "lbf", "poundforce poundsforce", "lbsf lbfs lb lbs pound pounds"),
    _row("kip", "kip", "kips"),
    # pressure and stress; "gauge" in what teachers call bar g is left out, and said
    _row("Pa", "Pa", "pascal pascals", "Pas pas paschal paschals", "m h k M G"),
    _row("bar", "bar", "bars", "barg bara", "m k"),
    _row("atm", "atm", "atmosphere atmospheres", "atms"),
    _row("psi", "psi", "", "psig psia"),
    _row("ksi", "ksi"),
    _row("mmHg", "mmHg", "torr torrs"),
    _row("inHg", "inHg"),
    _row("mmH2O", "mmWC mmWG"),
    _row("mH2O", "mWC mWG"),
    _row("ftH2O", "ftWC"),
    # energy and power
    _row("J", "J", "joule joules", "", "m k M G"),
    _row("cal", "cal", "calorie calories", "cals Cal", "k"),
    _row("kcal", "", "", "Cal"),
    _row("btu", "Btu BTU", "btu btus"),
    _row("W", "W", "watt watts", "wat wats", "µ m k M G"),
    _row("hp", "hp bhp", "horsepower horsepowers", "hps"),
    _row("PS", "PS cv", "metrichorsepower"),
    # angle and turning
    _row("rad", "rad", "radian radians", "rads", "µ m"),
    _row("deg", "° deg", "degree degrees degs", "o"),
    _row("arcminute", "′ ' arcmin", "arcminute arcminutes arcmins"),
    _row("arcsecond", "″ \" '' arcsec", "arcsecond arcseconds arcsecs"),
    _row("gon", "gon grad", "gons grads gradian gradians"),
    _row("rev", "rev", "revolution revolutions revs turn turns"),
    _row("rpm", "rpm"),
    _row("Hz", "Hz", "hertz cps", "htz", "m k M G"),
    # temperature
    _row("K", "K", "kelvin kelvins", "°K", "m k"),
    _row("degC", "degC °C", "celsius centigrade", "C oC degcelsius"),
    _row("degF", "degF °F", "fahrenheit", "F oF"),
    # electricity
    _row("A", "A", "ampere amperes amp amps", "", "n µ m k"),
    _row("V", "V", "volt volts", "VDC VAC Vdc Vac", "µ m k M"),
    _row("Ω", "Ω ohm", "ohm ohms", "R", "µ m k M G"),
    _row("kΩ", "", "", "k K"),
    _row("MΩ", "", "", "M Meg"),
    _row("C", "C", "coulomb coulombs", "", "p n µ m k"),
    _row("F", "F", "farad farads", "", "p n µ m"),
    _row("µF", "", "", "mfd MFD"),
    _row("dB", "dB", "decibel decibels"),
    _row("H", "H", "henry henrys henries", "", "n µ m"),
    _row("S", "S", "siemens", "", "µ m"),
    # speed
    _row("kt", "kn kt", "knot knots kts", "kns"),
    _row("mph", "mph"),
    # viscosity
    _row("P", "P", "poise poises", "", "m c"),
    _row("St", "St", "stokes stoke", "", "m c"),
    # pure numbers
    _row("percent", "%", "percent percentage", "pct"),
    _row("ppm", "ppm"),
    _row("strain", "strain", "strain", "ε"),
    _row("µε", "µε µstrain", "microstrain microstrains", "ue ustrain uε µe"),
    _row("mol", "mol", "mole moles", "", "m k"),
)  # fmt: skip

# Short names of products and quotients: how they are written, their parts, and whether they are read without a remark.
SHORT = (
    ("cc ccm", (("cm", 3),), True),
    ("cumec cumecs", (("m", 3), ("s", -1)), True),
    ("kph kmph kmh kmhr", (("km", 1), ("h", -1)), True),
    ("mps", (("m", 1), ("s", -1)), True),
    ("fps", (("ft", 1), ("s", -1)), True),
    ("fpm", (("ft", 1), ("min", -1)), True),
    ("lpm", (("L", 1), ("min", -1)), True),
    ("lps", (("L", 1), ("s", -1)), True),
    ("lph", (("L", 1), ("h", -1)), True),
    ("cfm", (("ft", 3), ("min", -1)), True),
    ("cfs", (("ft", 3), ("s", -1)), True),
    ("rps", (("rev", 1), ("s", -1)), True),
    ("ksc", (("kgf", 1), ("cm", -2)), False),
    ("gpm", (("gallon_uk", 1), ("min", -1)), False),
    ("gpm", (("gallon_us", 1), ("min", -1)), False),
    ("ftlb ftlbs lbft lbsft", (("ft", 1), ("lbf", 1)), False),
    ("inlb inlbs lbin lbsin", (("in", 1), ("lbf", 1)), False),
    ("kWhrs", (("kW", 1), ("h", 1)), False),
    ("Whrs", (("W", 1), ("h", 1)), False),
    ("Ahrs", (("A", 1), ("h", 1)), False),
    ("mAhrs", (("mA", 1), ("h", 1)), False),
    ("Pas", (("Pa", 1), ("s", 1)), True),
    ("mPas", (("mPa", 1), ("s", 1)), True),
)

# One spelling, several units: a ton, a gallon, the calorie of food. A reading keeps them all.
TONS = ("ton", "tons")
TON_UNITS = ("t", "ton_uk", "ton_us")
SEVERAL = ("ton_uk", "gallon_uk", "kcal")

# Signs that are written together without a gap (`kNm`, `kWh`, `kgm`); no others, so that `mph` or `lm` is no product.
_GLUED = (
    "m mm cm km N kN MN mN µN daN g kg s ms h K degC W kW MW mW V kV mV A mA kA J kJ MJ Pa kPa MPa mPa"
    " lbf kgf tf kip ft in rad Ω mol"
)
GLUED = frozenset(_GLUED.split())
# Runs of letters that look like one sign and are a product all the same where they stand below a slash or have a power
# below nought: `W/mK`, `ms-1`.
CUT_ALL_THE_SAME = frozenset({("m", "K"), ("m", "s")})
# Right signs that are typed for another one in small letters: knots or kilonewtons, nanometres or newton metres.
CASUAL = frozenset({"kn", "nm"})
# Marks of feet, inches, minutes and seconds stand alone; beside other signs they are stray quotation marks.
MARKS = frozenset({"'", '"', "''", "′", "″"})
# Right signs that are seldom meant: mega is typed as milli.
MILLI_FOR_MEGA = frozenset({"mPa", "mN", "mW"})

NO_UNIT_WORDS = frozenset(
    {"-", "no unit", "no units", "unitless", "dimensionless", "none", "nil", "ratio", "number", "pure number"}
)
