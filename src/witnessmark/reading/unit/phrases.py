"""Units of more than one word, of other scripts, and products that are quantities of their own."""

import re

# Phrases, tried in this order on the text of a unit before it is cut into words: (regular expression, what stands for
# it, whether it is read without a remark). Common practice, no source.
_PHRASES = (
    (r"\bper\s?cent(?:age)?\b", "%", True),
    (r"(?:°|\bdeg(?:ree)?s?\.?) ?(?:C|celsius|centigrade)\b", "degC", True),
    (r"(?:°|\bdeg(?:ree)?s?\.?) ?(?:F|fahrenheit)\b", "degF", True),
    (r"(?:°|\bdeg(?:ree)?s?\.?) ?(?:K|kelvins?)\b", "K", False),
    (r"\bmm ?(?:of )?(?:Hg|mercury)\b", "mmHg", True),
    (r"\b(?:in|inch|inches) ?(?:of )?(?:Hg|mercury)\b", "inHg", True),
    (r"\bmm ?(?:of )?(?:H_?2O|water|WC|WG|w\.c\.?|w\.g\.?)(?!\w)", "mmWC", True),
    (r"\b(?:m|metres?|meters?) ?(?:of )?(?:H_?2O|water|WC|WG|w\.c\.?|w\.g\.?)(?!\w)", "mWC", True),
    (r"\b(?:ft|foot|feet) ?(?:of )?(?:H_?2O|water)(?!\w)", "ftWC", True),
    (r"\br\.p\.m\.?", "rpm", True),
    (r"\br ?/ ?min\b", "rpm", True),
    (r"\br ?/ ?s(?:ec)?\b", "rps", True),
    (r"\bp\.s\.i\.?", "psi", True),
    (r"\bm\.p\.h\.?", "mph", True),
    (r"\bh\.p\.?(?!\w)", "hp", True),
    (r"\bc\.c\.?(?!\w)", "cc", True),
    (r"\b(bar|psi) ?\(?[ga]\)?$", r"\1", False),
    (r"\bhorse power\b", "hp", True),
    (r"\bmetric (?:horsepower|hp)\b|\b(?:horsepower|hp) \(?metric\)?", "PS", True),
    (r"\b(?:imp(?:erial)?|uk|british)\.? gal(?:lon)?s?\b|\bgal(?:lon)?s? \(?(?:imp(?:erial)?|uk)\)?", "ukgallon", True),
    (r"\b(?:us|american)\.? gal(?:lon)?s?\b|\bgal(?:lon)?s? \(?us\)?", "usgallon", True),
    (r"\b(?:nautical|naut\.?|sea) miles?\b", "nmi", True),
    (r"\bkilograms?[ -](?:force|f)\b", "kgf", True),
    (r"\bkgs?[ .-](?:force|f|wt)\b", "kgf", True),
    (r"\b(?:metric )?ton(?:ne)?s?[ .-](?:force|f)\b", "tf", True),
    (r"\b(?:pounds?|lbs?)[ .-](?:force|f)\b", "lbf", True),
    (r"\bmetric tons?\b", "t", True),
    (r"\blong tons?\b", "longton", True),
    (r"\bshort tons?\b", "shortton", True),
    (r"\bmicro[ -]strains?\b", "µε", True),
    (r"\b(?:minutes?|mins?) of arc\b", "arcmin", True),
    (r"\b(?:seconds?|secs?) of arc\b", "arcsec", True),
    (r"\barc[ -](?:minutes?|mins?)\b", "arcmin", True),
    (r"\barc[ -](?:seconds?|secs?)\b", "arcsec", True),
    (r"\bmu[ -]m\b", "µm", False),
    (r"(?<=\w) [xX] (?=\w)", "×", False),
)
PHRASES = tuple((re.compile(form, re.IGNORECASE), stands, plain) for form, stands, plain in _PHRASES)
# A phrase has a space, a dot, a degree sign, or one of these in it: most units have none.
MAY_HOLD_PHRASE = re.compile(r"[ .°-]|percent|per|deg|hg|h2o|wc|wg|barg|bara|psi|r/", re.IGNORECASE)

SQUARE_BEFORE = re.compile(r"\b(?:square|sq)\b\.? ?([^\W\d_]+)", re.IGNORECASE)
SQUARE_AFTER = re.compile(r"\b([^\W\d_]+)( squared\b| sq\b\.?| square$)", re.IGNORECASE)
CUBE_BEFORE = re.compile(r"\b(?:cubic|cub|cu)\b\.? ?([^\W\d_]+)", re.IGNORECASE)
CUBE_AFTER = re.compile(r"\b([^\W\d_]+)( cubed\b| cube$)", re.IGNORECASE)

# Products that are a quantity of their own (a moment, an impulse, a charge), so that `kN m` is not two units.
CUSTOMARY = (
    "N*m", "N*s", "Pa*s", "kg*m^2", "N*m^2", "A*h", "kg*m", "kg*m/s", "V*A", "m*K", "N*m/s", "W*s/m^2", "m^2*K/W",
)  # fmt: skip

# Signs of a Cyrillic keyboard (GOST 8.417; from memory).
CYRILLIC = {
    "мм": "mm", "см": "cm", "дм": "dm", "м": "m", "км": "km", "мкм": "µm", "г": "g", "кг": "kg", "мг": "mg", "т": "t",
    "с": "s", "сек": "s", "мс": "ms", "мин": "min", "ч": "h", "час": "h", "Н": "N", "кН": "kN", "МН": "MN", "мН": "mN",
    "кгс": "kgf", "тс": "tf", "Па": "Pa", "кПа": "kPa", "МПа": "MPa", "ГПа": "GPa", "бар": "bar", "атм": "atm",
    "Дж": "J", "кДж": "kJ", "МДж": "MJ", "Вт": "W", "кВт": "kW", "МВт": "MW", "л": "L", "мл": "mL", "об": "rev",
    "град": "deg", "рад": "rad", "Гц": "Hz", "кГц": "kHz", "В": "V", "кВ": "kV", "мВ": "mV", "А": "A", "мА": "mA",
    "Ом": "Ω", "кОм": "kΩ", "МОм": "MΩ", "К": "K", "лс": "PS",
}  # fmt: skip

# Letters of other scripts that look like Latin ones.
LOOK_ALIKES = str.maketrans(
    "АВЕКМНОРСТХаеорсухкмнтѕіјΑΒΕΖΗΙΚΜΝΟΡΤΥΧοκνρτ",
    "ABEKMHOPCTXaeopcyxkmntsijABEZHIKMNOPTYXokvpt",
)
