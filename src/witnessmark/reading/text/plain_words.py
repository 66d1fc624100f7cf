"""Typed sentences as plain words: lower case, short forms spelled out, clauses parted."""

import re
import unicodedata
from functools import lru_cache

LONGEST_PLAIN = 4_000
BLANKS = frozenset({
    "", "-", "--", "---", ".", "..", "...", "_", "__", "___", "n/a", "na", "n.a", "none", "blank", "empty",
    "no answer", "not answered", "not attempted", "left blank", "/", "#", "*",
})  # fmt: skip
APOSTROPHES = str.maketrans("’‘´`ʼ′", "''''''")
SHORT_FORMS = (
    (r"\bwo?n'?t\b", "will not"),
    (r"\bcan'?t\b|\bcannot\b", "can not"),
    (r"\b(does|do|did|is|are|was|were|would|could|should|has|have|must|need)n'?t\b", r"\1 not"),
    (r"\bain'?t\b", "is not"),
    (r"\b(it|that|this|he|she|what|there)'s\b", r"\1 is"),
    (r"\b(it|that|this|they|you|we|i)'ll\b", r"\1 will"),
    (r"\b(it|they|we|i)'d\b", r"\1 would"),
    (r"\bi'm\b", "i am"),
    (r"'s\b", ""),
)  # fmt: skip
CLAUSE = re.compile(
    r"[.,;:!\n\r()\[\]|]+|\s[-–—]+\s|\b(?:but|so|because|therefore|hence|although|though|while|whereas)\b"
)
WORD = re.compile(r"[^\W_]+(?:'[^\W_]+)?|[<>=]+")
INVISIBLE = {"Cf", "Co", "Cn", "Cs"}
WORDS_OF_CHOICE = {"x", "none", "nil"}  # a mark or an option here, where beside a number they say that there is none


def is_blank(text: str) -> bool:
    """True when there is nothing in an entry, or a usual sign for that: a dash, n/a, not answered."""
    seen = plain(text).strip()
    return not seen.strip("-–—_.") or seen.strip("()[] .") in BLANKS - WORDS_OF_CHOICE


def plain(text: str) -> str:
    """The text in lower case with short forms spelled out; marks of punctuation stay, invisible ones go."""
    seen = "".join(c for c in text[:LONGEST_PLAIN] if unicodedata.category(c) not in INVISIBLE)
    lowered = unicodedata.normalize("NFKC", seen).casefold().translate(APOSTROPHES)
    for form, full in SHORT_FORMS:
        lowered = re.sub(form, full, lowered)
    return lowered


def clauses(text: str) -> list[list[str]]:
    """The words of a plain text, clause by clause; clauses without words are dropped."""
    return [words for piece in CLAUSE.split(text) if (words := WORD.findall(piece))]


@lru_cache(maxsize=1 << 14)
def squeezed(text: str) -> str:
    """The words of a text with single spaces between them, for comparing wordings."""
    return " ".join(WORD.findall(plain(text)))


def too_long(text: str, most: int) -> str:
    """Why a text of more than so many characters is not read; empty for any other."""
    return f"an answer of at most {most} characters was expected" if len(text) > most else ""
