"""Wordings that stand word for word in a text, as one sign each that nobody can type."""

import re
from collections.abc import Mapping

from witnessmark.reading.text.plain_words import WORD, plain

FIRST_SIGN = 0xE000
"""The first of the signs for private use, which `plain` leaves in no text."""
LABEL = re.compile(r"[a-z]|\d{1,2}")


def sign_of(index: int) -> str:
    """The sign of this number, from 0."""
    return chr(FIRST_SIGN + index)


def with_signs(text: str, wordings: Mapping[str, str]) -> str:
    """The plain text with its sign for each wording that is named word for word, the longest first."""
    for wording in sorted(wordings, key=lambda each: -len(each)):
        words = WORD.findall(plain(wording))
        if words and not LABEL.fullmatch(" ".join(words)):
            named = r"[^\w,;\n]+".join(map(re.escape, words))
            text = re.sub(rf"(?<!\w){named}(?!\w)", wordings[wording], text)
    return text
