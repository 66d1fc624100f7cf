"""The forms that a number can have at the beginning of an entry, as regular expressions without nested repetition.

The characters are plain (`characters.py`): digits 0 to 9, one kind of minus, raised digits as `^4`.
"""

import re

PER = r"1 ?/ ?[^\W\d_]"  # the one belongs to a unit: 1/min
SIGN = r"(?P<sign>[-+]?) ?"
MANTISSA = (
    # groups by spaces or apostrophes; by commas in twos (Indian); by commas; by points with a decimal comma; by points
    r"(?:(?P<grouped>\d{1,3}(?:(?P<mark>[ '])\d{3})(?:(?P=mark)\d{3})*)(?P<gdec>[.,]\d+)?(?!\d|[.,']\d)"
    rf"(?! (?!{PER})\d)"
    r"|(?P<lakhs>\d{1,2}(?:,\d\d)+,\d{3}(?:\.\d+)?)(?!\d|[.,]\d)"
    r"|(?P<commas>\d{1,3}(?:,\d{3})+)(?P<cdec>\.\d+)?(?!\d|[.,]\d)"
    r"|(?P<points>\d{1,3}(?:\.\d{3})+),(?P<pdec>\d+)(?!\d|[.,]\d)"
    r"|(?P<manypoints>\d{1,3}(?:\.\d{3}){2,})(?!\d|[.,]\d)"
    # one number, perhaps with groups of three after the point, or a space beside the point
    r"|(?P<plain>\d+[.,]\d{3}(?: \d{3})+(?: \d{1,2}(?! ?/|\d|[.,]\d))?|\d+[.,]\d{3} \d{1,2}(?![\d/]|[.,]\d)"
    r"|\d+,\d+|\d+\.\d+|\d+(?P<gap> )\.\d+|\d+\.(?!\d)|\d+|[.,]\d+)(?!\d|[.,]\d|_\d))"
)
WHOLE = r"[-+]? ?\d{1,4}(?!\d|[.,]\d)"
TIMES = r"(?: ?[x×X*·] ?)"
POWER = (
    rf"(?:[eE](?P<e>[-+]?\d{{1,4}})(?!\d|[.,]\d)| ?[eE] ?(?P<spaced>{WHOLE})"
    rf"|{TIMES}10 ?(?:\^|\*\*) ?[({{]? ?(?P<p>[-+]? ?\d{{1,4}})(?: ?[)}}])?(?!\d|[.,]\d)"
    rf"| 10 ?(?:\^|\*\*) ?[({{]? ?(?P<bare>[-+]? ?\d{{1,4}})(?: ?[)}}])?(?!\d|[.,]\d)"
    rf"|{TIMES}10(?P<lost> ?[-+] ?\d{{1,2}}| \d{{1,2}})(?!\d|[.,/]\d)|{TIMES}10(?P<glued>[1-9]\d?)(?!\d|[.,/]\d)"
    rf"| ?(?:EE|ee|exp|EXP|Exp) ?(?P<keys>{WHOLE}))?"
)
NUMBER = re.compile(SIGN + MANTISSA + POWER)
TEN_ALONE = re.compile(SIGN + r"10 ?(?:\^|\*\*) ?[({]? ?(?P<p>[-+]? ?\d{1,4})(?: ?[)}])?(?!\d|[.,]\d)")
FRACTION = re.compile(
    SIGN + r"(?:(?P<whole>\d{1,4})(?P<gap> and | - |[ -]))?(?P<top>\d{1,4}) ?/ ?(?P<bottom>\d{1,4})(?!\d|[.,/]\d| ?/)"
)
PI = re.compile(
    SIGN + r"(?P<factor>\d{1,9}(?:\.\d{1,9})?)? ?[*·×x]? ?(?:π|[pP][iI](?![^\W\d_]))"
    r"(?: ?/ ?(?P<over>\d{1,4}))?(?!\d|[.,^*]\d)"
)
THOUSANDS = re.compile(r" ?(hundred|thousand|lakh|million|crore|billion)s?\b", re.IGNORECASE)
WORTH = {"hundred": 2, "thousand": 3, "lakh": 5, "million": 6, "crore": 7, "billion": 9}

# A run of digits in which letters stand for digits, and the letters.
MIXED = re.compile(r"(?<![^\W_])(?<![eE^][-+])(?<!\^)(?=[OolI|.,]*\d)[\dOolI|]+(?:[.,][\dOolI|]+)?(?![^\W\d_])")
LETTER_DIGITS = str.maketrans("OolI|", "00111")
