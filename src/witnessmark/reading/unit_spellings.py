"""How people write units: the whitelist. What is not here, and is not a product of what is here, is not a unit.

Signs after the SI Brochure, 9th ed. (2019), tables 4, 5, 7 and 8; the rest is how trades write them (common practice, no
source). `signs` are read letter for letter; `words` in any case; `loose` are read too, and the reading says so.
"""

from dataclasses import dataclass

PREFIX_WORDS = {
    "pico": "p", "nano": "n", "micro": "µ", "milli": "m", "centi": "c", "deci": "d", "hecto": "h", "kilo": "k", "mega": "M", "giga": "G",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Spelled:
    """One unit of maths/units.txt (`unit`) and all the ways to write it; `prefixes` go before signs, words and unit."""

    unit: str
    signs: tuple[str, ...] = ()
    words: tuple[str, ...] = ()
    loose: tuple[str, ...] = ()
    prefixes: str = ""


def _split(text: str) -> tuple[str, ...]:
    return tuple(part.strip() for part in text.split(",") if part.strip())


def _row(unit: str, signs: str, words: str = "", loose: str = "", prefixes: str = "") -> Spelled:
    return Spelled(unit, _split(signs), _split(words), _split(loose), prefixes)


SPELLED = (
    # length
    _row("m", "m", "metre, metres, meter, meters", "mtr, mtrs, mts, metr, metrs", "pnµmcdk"),
    _row("in", "in", "inch, inches", "ins, inchs, inche, \", '', ″"),
    _row("ft", "ft", "foot, feet", "fts, ', ′"),
    _row("yd", "yd", "yard, yards", "yds"),
    _row("thou", "thou", "", "thous, mil, mils"),
    _row("mm", "", "", "mil, mils"),
    _row("mile", "mi", "mile, miles"),
    _row("nautical_mile", "nmi", "", "M, NM, nm"),
    _row("fathom", "ftm", "fathom, fathoms"),
    _row("µm", "", "micron, microns", "mic"),
    # area and volume
    _row("ha", "ha", "hectare, hectares"),
    _row("acre", "", "acre, acres"),
    _row("L", "L, l", "litre, litres, liter, liters", "ltr, ltrs, lit, lits", "µmcdk"),
    _row("gallon_uk", "", "gallon, gallons, gal, gals"),
    _row("gallon_us", "", "gallon, gallons, gal, gals"),
    # mass
    _row("g", "g", "gram, grams, gramme, grammes", "gm, gms, grm, grms, gr", "µmkM"),
    _row("kg", "", "kilo, kilos, kilogramm", "kgs, kgm, kilogrms"),
    _row("t", "t", "tonne, tonnes", "te, MT, mt, mton, mtons", "kM"),
    _row("ton_uk", "", "longton, longtons"),
    _row("ton_us", "", "shortton, shorttons"),
    _row("lb", "lb", "pound, pounds", "lbs"),
    _row("oz", "oz", "ounce, ounces", "ozs"),
    # time
    _row("s", "s", "second, seconds, sec, secs", "", "nµm"),
    _row("min", "min", "minute, minutes, mins", "mn"),
    _row("h", "h, hr", "hour, hours, hrs"),
    _row("day", "d", "day, days"),
    _row("week", "", "week, weeks"),
    # force
    _row("N", "N", "newton, newtons", "Nt, newtn, newon", "nµmckMG"),
    _row("kgf", "kgf, kp", "kilopond, kiloponds, kgforce", "kgsf, kgfs, kg"),
    _row("tf", "tf", "tonneforce, tonnesforce, tonforce, tonsforce, tonf"),
    _row("lbf", "lbf", "poundforce, poundsforce", "lbsf, lbfs, lb, lbs, pound, pounds"),
    _row("kip", "kip", "kips"),
    # pressure and stress
    _row("Pa", "Pa", "pascal, pascals", "Pas, pascel, pascels, paschal, paschals", "mhkMG"),
    _row("bar", "bar", "bars", "", "mk"),
    _row("atm", "atm", "atmosphere, atmospheres", "atms"),
    _row("psi", "psi"),
    _row("ksi", "ksi"),
    _row("mmHg", "mmHg", "torr, torrs"),
    _row("inHg", "inHg"),
    _row("mmH2O", "mmWC, mmWG", "", "mmwater"),
    _row("mH2O", "mWC, mWG", "", "mwater"),
    _row("ftH2O", "ftWC", "", "ftwater"),
    # energy and power
    _row("J", "J", "joule, joules", "", "mkMG"),
    _row("cal", "cal", "calorie, calories", "cals", "k"),
    _row("btu", "Btu, BTU", "btu, btus"),
    _row("W", "W", "watt, watts", "wat, wats", "µmkMG"),
    _row("hp", "hp, bhp", "horsepower, horsepowers", "hps"),
    _row("PS", "PS, cv", "metrichorsepower, metrichp"),
    # angle and turning
    _row("rad", "rad", "radian, radians", "rads", "µm"),
    _row("deg", "°, deg", "degree, degrees, degs"),
    _row("arcminute", "′, ', arcmin", "arcminute, arcminutes, minuteofarc, minutesofarc", "arcmins"),
    _row("arcsecond", "″, \", '', arcsec", "arcsecond, arcseconds, secondofarc, secondsofarc", "arcsecs"),
    _row("rev", "rev, r", "revolution, revolutions, revs, turn, turns"),
    _row("rpm", "rpm"),
    _row("Hz", "Hz", "hertz, cps", "htz", "mkMG"),
    # temperature
    _row("K", "K", "kelvin, kelvins", "°K", "mk"),
    _row("degC", "°C, degC", "celsius, centigrade", "C, celcius, celsuis, degcelcius"),
    _row("degF", "°F, degF", "fahrenheit, farenheit", "F, fahrenhiet, farenhiet"),
    # electricity
    _row("A", "A", "ampere, amperes, amp, amps", "", "nµmk"),
    _row("V", "V", "volt, volts", "vlt, vlts", "µmkM"),
    _row("Ω", "Ω, ohm", "ohm, ohms", "R", "µmkMG"),
    _row("C", "C", "coulomb, coulombs", "", "pnµmk"),
    _row("F", "F", "farad, farads", "", "pnµm"),
    _row("H", "H", "henry, henrys, henries", "", "nµm"),
    _row("S", "S", "siemens", "", "µm"),
    # speed
    _row("kt", "kn, kt", "knot, knots, kts", "kns"),
    _row("mph", "mph"),
    # viscosity
    _row("P", "P", "poise, poises", "", "mc"),
    _row("St", "St", "stokes, stoke", "", "mc"),
    # pure numbers
    _row("percent", "%", "percent, percentage", "pct"),
    _row("ppm", "ppm"),
    _row("strain", "strain", "strain", "ε"),
    _row("µε", "µε, µstrain", "microstrain, microstrains", "ue, ustrain, uε, µe"),
    _row("mol", "mol", "mole, moles", "", "mk"),
)  # fmt: skip

# Short names of products and quotients: (how it is written, its parts, whether it is read without a remark).
SHORT = (
    (("cc", "ccm"), (("cm", 3),), True),
    (("cumec", "cumecs"), (("m", 3), ("s", -1)), True),
    (("kph", "kmph", "kmh", "kmhr"), (("km", 1), ("h", -1)), True),
    (("mps",), (("m", 1), ("s", -1)), True),
    (("fps",), (("ft", 1), ("s", -1)), True),
    (("fpm",), (("ft", 1), ("min", -1)), True),
    (("lpm",), (("L", 1), ("min", -1)), True),
    (("lps",), (("L", 1), ("s", -1)), True),
    (("lph",), (("L", 1), ("h", -1)), True),
    (("cfm",), (("ft", 3), ("min", -1)), True),
    (("cfs",), (("ft", 3), ("s", -1)), True),
    (("rps",), (("rev", 1), ("s", -1)), True),
    (("ksc",), (("kgf", 1), ("cm", -2)), False),
    (("gpm",), (("gallon_uk", 1), ("min", -1)), False),
    (("gpm",), (("gallon_us", 1), ("min", -1)), False),
    (("Pas",), (("Pa", 1), ("s", 1)), True),
    (("mPas",), (("mPa", 1), ("s", 1)), True),
    (("sqm",), (("m", 2),), True),
    (("sqft",), (("ft", 2),), True),
    (("sqin",), (("in", 2),), True),
)

# "ton" alone is three different units; a reading keeps them all.
TONS = ("ton", "tons")
TON_UNITS = ("t", "ton_uk", "ton_us")

NO_UNIT_WORDS = frozenset({"-", "no unit", "no units", "unitless", "dimensionless", "none", "nil", "n/a", "ratio"})

# Cyrillic signs that people type on a keyboard of their own (GOST 8.417; from memory, checked by eye only).
CYRILLIC = {
    "мм": "mm", "см": "cm", "дм": "dm", "м": "m", "км": "km", "мкм": "µm", "г": "g", "кг": "kg", "мг": "mg", "т": "t",
    "с": "s", "сек": "s", "мс": "ms", "мин": "min", "ч": "h", "час": "h", "Н": "N", "кН": "kN", "МН": "MN", "мН": "mN",
    "кгс": "kgf", "тс": "tf", "Па": "Pa", "кПа": "kPa", "МПа": "MPa", "ГПа": "GPa", "бар": "bar", "атм": "atm",
    "Дж": "J", "кДж": "kJ", "МДж": "MJ", "Вт": "W", "кВт": "kW", "МВт": "MW", "л": "L", "мл": "mL", "об": "rev",
    "град": "deg", "рад": "rad", "Гц": "Hz", "кГц": "kHz", "В": "V", "кВ": "kV", "мВ": "mV", "А": "A", "мА": "mA",
    "Ом": "Ω", "кОм": "kΩ", "МОм": "MΩ", "К": "K", "°С": "degC", "лс": "PS",
}  # fmt: skip

# Letters of other scripts that look like Latin ones, by eye.
LOOK_ALIKES = str.maketrans(
    "АВЕКМНОРСТХаеорсухкмнтѕіјΑΒΕΖΗΙΚΜΝΟΡΤΥΧοκνρτ",
    "ABEKMHOPCTXaeopcyxkmntsijABEZHIKMNOPTYXokvpt",
)

# Phrases of more than one word, tried in this order on the text of a unit before it is cut into words:
# (regular expression, what stands for it, whether it is read without a remark).
PHRASES = (
    (r"\bper\s?cent(?:age)?\b", "%", True),
    (r"(?:°|\bdeg(?:ree)?s?\.?) ?(?:C|celsius|centigrade)\b", "degC", True),
    (r"(?:°|\bdeg(?:ree)?s?\.?) ?(?:F|fahrenheit|farenheit)\b", "degF", True),
    (r"(?:°|\bdeg(?:ree)?s?\.?) ?(?:K|kelvins?)\b", "K", False),
    (r"\bmm ?(?:of )?(?:Hg|mercury)\b", "mmHg", True),
    (r"\b(?:in|inch|inches) ?(?:of )?(?:Hg|mercury)\b", "inHg", True),
    (r"\bmm ?(?:of )?(?:H_?2O|water|WC|WG|w\.?c\.?|w\.?g\.?)(?!\w)", "mmWC", True),
    (r"\b(?:m|metres?|meters?) ?(?:of )?(?:H_?2O|water|WC|WG|w\.?c\.?|w\.?g\.?)(?!\w)", "mWC", True),
    (r"\b(?:ft|foot|feet) ?(?:of )?(?:H_?2O|water)(?!\w)", "ftWC", True),
    (r"\br\.p\.m\.?", "rpm", True),
    (r"\bp\.s\.i\.?", "psi", True),
    (r"\bm\.p\.h\.?", "mph", True),
    (r"\bh\.p\.?(?!\w)", "hp", True),
    (r"\bc\.c\.?(?!\w)", "cc", True),
    (r"\bhorse power\b", "hp", True),
    (r"\bmetric (?:horsepower|hp)\b", "PS", True),
    (r"\b(?:nautical|naut\.?|sea) miles?\b", "nmi", True),
    (r"\bkilograms?[ -](?:force|f)\b", "kgf", True),
    (r"\bkgs?[ .-](?:force|f|wt)\b", "kgf", True),
    (r"\b(?:metric )?ton(?:ne)?s?[ .-](?:force|f)\b", "tf", True),
    (r"\b(?:pounds?|lbs?)[ .-](?:force|f)\b", "lbf", True),
    (r"\bmetric tons?\b", "t", True),
    (r"\blong tons?\b", "longton", True),
    (r"\bshort tons?\b", "shortton", True),
    (r"\bmicro ?strains?\b", "µε", True),
    (r"\b(?:minutes?|mins?) of arc\b", "arcmin", True),
    (r"\b(?:seconds?|secs?) of arc\b", "arcsec", True),
    (r"\barc[ -](?:minutes?|mins?)\b", "arcmin", True),
    (r"\barc[ -](?:seconds?|secs?)\b", "arcsec", True),
    (r"\bmu[ -]?m\b", "µm", False),
)
