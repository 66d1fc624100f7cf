"""Sheet codes such as `7KR4-MXPT`: short enough to type, with a check character that catches a slip of the pen.

Eight characters of an alphabet of 23, a prime: digits and consonants of which no two look alike, and no vowels, so that
no code is a word. Weighted by place, they sum to a multiple of 23; with a prime and weights that all differ, one wrong
character always shows, and so do any two characters that changed places.
"""

import hashlib
import json
import re
import unicodedata

ALPHABET = "23456789CDFHJKMNPRTVWXY"
LENGTH = 8
GROUP = 4
LOOK_ALIKES = {"B": "8", "G": "6", "S": "5", "Z": "2", "O": "D", "Q": "D", "0": "D", "U": "V"}
WEIGHTS = tuple(range(LENGTH, 0, -1))
PARTED = re.compile(r"[\s\-\u2010-\u2015\u2212_.]+")
IN_TEXT = re.compile(rf"(?<![0-9A-Z])(?=([0-9A-Z]{{{GROUP}}}[ \-_]?[0-9A-Z]{{{GROUP}}})(?![0-9A-Z]))")


def sheet_code(task_key: str, student_code: str, attempt: int) -> str:
    """The code of a student's sheet: the same for the same three, on every machine and for years.

    One of 3.4 thousand million: two sheets out of 24 share a code once in 12 million tasks, two out of 5,000 once in
    270. Whoever issues many looks for that.
    """
    told = json.dumps(["witnessmark sheet 1", task_key, student_code, attempt], ensure_ascii=True)
    number = int.from_bytes(hashlib.sha256(told.encode()).digest())
    values = []
    for _ in range(LENGTH - 1):
        number, value = divmod(number, len(ALPHABET))
        values.append(value)
    values.append(-_weighted(values) % len(ALPHABET))
    return _grouped("".join(ALPHABET[v] for v in values))


def is_sheet_code(text: str) -> bool:
    """True of a code in the very form in which it is printed."""
    return repaired_code(text) == text


def repaired_code(text: str) -> str | None:
    """The code that a person meant: small letters, blanks and hyphens anywhere, wide characters and look-alikes
    (B for 8, O for D) are put right; None when the check character says that this is no code."""
    bare = PARTED.sub("", unicodedata.normalize("NFKC", text)).upper()
    bare = "".join(LOOK_ALIKES.get(c, c) for c in bare)
    if len(bare) != LENGTH or not set(bare) <= set(ALPHABET):
        return None
    values = [ALPHABET.index(c) for c in bare]
    return None if _weighted(values) % len(ALPHABET) else _grouped(bare)


def codes_in(text: str) -> tuple[str, ...]:
    """The codes that stand in a longer text, such as the name of a file, each once."""
    plain = unicodedata.normalize("NFKC", text).upper()
    found = (repaired_code(match[1]) for match in IN_TEXT.finditer(plain))
    return tuple(dict.fromkeys(code for code in found if code))


def _weighted(values: list[int]) -> int:
    return sum(weight * value for weight, value in zip(WEIGHTS, values, strict=False))


def _grouped(bare: str) -> str:
    return f"{bare[:GROUP]}-{bare[GROUP:]}"
