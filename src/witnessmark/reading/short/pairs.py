"""Which option a student gave to each numbered thing: `1c 2a 3d`, `1-C, 2-A`, letters alone in order, or words."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from witnessmark.reading.result import Certainty
from witnessmark.reading.text.match_wording import match
from witnessmark.reading.text.plain_words import is_blank, plain, squeezed, too_long
from witnessmark.reading.text.signs_for_words import FIRST_SIGN, sign_of, with_signs

Given = tuple[int | None, ...]
LONGEST_PAIRS = 2_000
FIRST_THING = 100
"""Options have the signs from 0, things those from here."""
OPTIONS, THINGS = f"{sign_of(0)}-{sign_of(25)}", f"{sign_of(FIRST_THING)}-{sign_of(FIRST_THING + 25)}"
LEAD = re.compile(r"^=?\s*(?:(?:(?:my|the)\s+)?(?:answers?|pairs?|letters|order)\b(?:\s+(?:is|are)\b)?[\s:=.-]*)?")
ARTICLE = re.compile(rf"\b(?:an?|the)\s+(?=[{OPTIONS}{THINGS}])")
RUN_TOGETHER = re.compile(r"(?<=\d)(?=[^\W\d_])|(?<=[^\W\d_])(?=\d)")
ORDINAL = re.compile(r"(\d{1,2})(?:st|nd|rd|th)\b")
OPEN = re.compile(r"\b(?:or|either|maybe|perhaps)\b")
EVERY = re.compile(r"(?:all|every one|each)(?:\s+(?:of them|are|is))*[\s:=]+([a-z])")
PIECES = re.compile(rf"[{OPTIONS}]|[{THINGS}]|\d+|[^\W\d_{OPTIONS}{THINGS}]+(?:'[a-z]+)?")
BREAK = re.compile(r"[,;\n:=]")
DOUBT = re.compile(r"(?<=[a-z])\?+")
NEEDLESS = frozenset(
    ["and", "with", "goes", "go", "to", "is", "are", "belongs", "belong", "fits", "matches", "match", "pair", "pairs",
     "number", "no", "letter", "answer", "option", "then", "the", "an"]
)  # fmt: skip
NOTHING = re.compile(r"\b(?:blank|none|nothing|nil)\b")
LEFT_OPEN = re.compile(r"[\n;?_:=).–—-]")
GAP = re.compile(r"[\s.–—_?-]*")
BETWEEN_ITEMS = (",", ";", "\n", "\t", "/", "|", " ")


@dataclass(frozen=True, slots=True)
class PairsReading:
    """What was understood of pairs: for each thing as listed the index of its option (from 0), None where none is given
    to it; no `options` at all where the entry could not be read. `repairs` are sentences."""

    certainty: Certainty
    options: Given | None = None
    repairs: tuple[str, ...] = ()
    reason: str = ""


@dataclass(frozen=True, slots=True)
class _Piece:
    """A number or thing (`is_key`), or a letter or option, by its index; and the signs that stand before it."""

    is_key: bool
    index: int
    before: str = ""


@dataclass(frozen=True, slots=True)
class _Token:
    """A number, a letter, a sign for words, or words that are still to be known (`is_word`)."""

    text: str
    before: str
    is_word: bool


class _Unclear(ValueError):
    """Why pairs could not be read."""


def read_pairs(text: str, things: Sequence[str], options: Sequence[str]) -> PairsReading:
    """The pairs in a text; things are numbered 1, 2, 3 and options lettered a, b, c as listed. Never raises an error.

    A thing with no words of its own (``) is known by its number alone.
    """
    if reason := too_long(text, LONGEST_PAIRS):
        return PairsReading(Certainty.UNREADABLE, reason=reason)
    if is_blank(text):
        return PairsReading(Certainty.BLANK)
    wordings = {option: sign_of(i) for i, option in enumerate(options)}
    wordings |= {thing: sign_of(FIRST_THING + i) for i, thing in enumerate(things) if thing}
    seen = ORDINAL.sub(r"\1", LEAD.sub("", with_signs(plain(text).strip(), wordings)))
    seen = ARTICLE.sub("", with_signs(RUN_TOGETHER.sub(" ", seen), wordings))
    repairs = ["“?” was left out"] if DOUBT.search(seen) else []
    seen = NOTHING.sub("_", DOUBT.sub("", seen))
    try:
        found = _read(seen, things, options, repairs)
    except _Unclear as unclear:
        return PairsReading(Certainty.UNREADABLE, reason=str(unclear))
    certainty = Certainty.REPAIRED if repairs else Certainty.CERTAIN
    return PairsReading(certainty, found, tuple(dict.fromkeys(repairs)))


def _read(seen: str, things: Sequence[str], options: Sequence[str], repairs: list[str]) -> Given:
    if OPEN.search(seen):
        raise _Unclear("it leaves open which letter is meant")
    if every := EVERY.fullmatch(seen.strip(" .!")):
        return (_option(every[1], options),) * len(things)
    pieces = _joined(list(_pieces(seen, things, options, repairs)))
    if all(piece.is_key for piece in pieces):
        raise _Unclear("no letter is named")
    if any(piece.is_key for piece in pieces):
        return _by_numbers(pieces, len(things))
    return _in_order(seen, pieces, things, options)


def _pieces(seen: str, things: Sequence[str], options: Sequence[str], repairs: list[str]) -> Iterator[_Piece]:
    """The numbers, letters and wordings of a text in its order."""
    for token in _tokens(seen, options):
        if token.is_word:
            yield _by_words(token, things, options, repairs)
        elif len(token.text) > 1 and token.text.isalpha():
            yield from (_Piece(False, _option(letter, options), token.before) for letter in token.text)
        else:
            yield _piece(token, things, options)


def _tokens(seen: str, options: Sequence[str]) -> list[_Token]:
    """What a text is made of, needless words left out; words that are none of its wordings are taken together."""
    has_number = bool(re.search(rf"[\d{THINGS}]", seen))
    found: list[_Token] = []
    last = 0
    for piece in PIECES.finditer(seen):
        if piece[0] in NEEDLESS:
            continue
        before, is_word = seen[last : piece.start()], _is_word(piece[0], options, has_number)
        if is_word and found and found[-1].is_word and not BREAK.search(before):
            found[-1] = replace(found[-1], text=f"{found[-1].text}{before}{piece[0]}")
        else:
            found.append(_Token(piece[0], before, is_word))
        last = piece.end()
    return found


def _is_word(text: str, options: Sequence[str], has_number: bool) -> bool:
    """True of a word that is no run of letters in the order of the things (`cad`)."""
    letters = {chr(ord("a") + i) for i in range(len(options))}
    is_run = not has_number and set(text) <= letters
    return len(text) > 1 and text[0].isalpha() and not is_run


def _by_words(token: _Token, things: Sequence[str], options: Sequence[str], repairs: list[str]) -> _Piece:
    """What words near the wording of an option or a thing mean."""
    known = [*options, *(thing for thing in things if thing)]
    found = match(token.text, known)
    if found.index is None:
        raise _Unclear(f"“{squeezed(token.text)}” is not clearly one of the options")
    repairs += found.repairs
    if found.index < len(options):
        return _Piece(False, found.index, token.before)
    return _Piece(True, things.index(known[found.index]), token.before)


def _piece(token: _Token, things: Sequence[str], options: Sequence[str]) -> _Piece:
    """What a number, a letter or a sign for words means."""
    if token.text.isdigit():
        number = int(token.text) if len(token.text) < 3 else 0
        if not 1 <= number <= len(things):
            raise _Unclear(f"the numbers are 1 to {len(things)}")
        return _Piece(True, number - 1, token.before)
    index = ord(token.text) - FIRST_SIGN
    if index >= FIRST_THING:
        return _Piece(True, index - FIRST_THING, token.before)
    return _Piece(False, index if index >= 0 else _option(token.text, options), token.before)


def _option(letter: str, options: Sequence[str]) -> int:
    index = ord(letter) - ord("a")
    if not 0 <= index < len(options):
        raise _Unclear(f"there is no option “{letter.upper()}”")
    return index


def _joined(pieces: Sequence[_Piece]) -> list[_Piece]:
    """The pieces, where a number and the words of its thing, or a letter and those of its option, are one."""
    found: list[_Piece] = []
    for piece in pieces:
        same = found and (found[-1].is_key, found[-1].index) == (piece.is_key, piece.index)
        if not same or re.search(r"[,;\n]", piece.before):
            found.append(piece)
    return found


def _by_numbers(pieces: Sequence[_Piece], count: int) -> Given:
    """Each number with the letter that follows it, or that stands before it where the entry begins with a letter."""
    if not pieces[0].is_key:
        ordered = [p.is_key for p in pieces] == [False, True] * (len(pieces) // 2)
        if not ordered:
            raise _Unclear("it does not say which letter goes with which number")
        pieces = [p for pair in zip(pieces[1::2], pieces[::2], strict=True) for p in pair]
    else:
        _check_open(pieces)
    given: dict[int, int] = {}
    for key, value in zip(pieces, [*pieces[1:], _Piece(True, 0)], strict=True):
        is_pair = key.is_key and not value.is_key
        if is_pair and given.setdefault(key.index, value.index) != value.index:
            raise _Unclear(f"number {key.index + 1} has two letters")
    return tuple(given.get(index) for index in range(count))


def _check_open(pieces: Sequence[_Piece]) -> None:
    """Raises where two letters stand at one number, or two numbers before one letter without a sign that says that the
    first of them stays open."""
    for key, value in pairwise(pieces):
        if not key.is_key and not value.is_key:
            raise _Unclear("two letters stand at one number")
        if key.is_key and value.is_key and not LEFT_OPEN.search(value.before):
            raise _Unclear("it does not say which letter goes with which number")


def _in_order(seen: str, pieces: Sequence[_Piece], things: Sequence[str], options: Sequence[str]) -> Given:
    """Letters alone, one for each thing in the order of the numbers; a dash or nothing for a thing left open."""
    if len(pieces) == len(things):
        return tuple(piece.index for piece in pieces)
    for between in BETWEEN_ITEMS:
        items = seen.strip(" .").split(between)
        if len(items) == len(things) and any(GAP.fullmatch(item) for item in items):
            return tuple(None if GAP.fullmatch(item) else _lone(item, things, options) for item in items)
    raise _Unclear(f"{len(pieces)} {'letter' if len(pieces) == 1 else 'letters'} for {len(things)} numbers")


def _lone(item: str, things: Sequence[str], options: Sequence[str]) -> int:
    found = list(_pieces(item, things, options, []))
    if len(found) != 1 or found[0].is_key:
        raise _Unclear("it does not say which letter goes with which number")
    return found[0].index
