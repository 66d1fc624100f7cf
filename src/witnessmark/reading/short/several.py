"""Which of several options a student named: letters in any dress, numbers, words, all but one, a yes or no at each."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product

from witnessmark.reading.result import Certainty
from witnessmark.reading.short.choices import LEAD, ORDINALS
from witnessmark.reading.text.match_wording import match
from witnessmark.reading.text.plain_words import is_blank, plain, too_long
from witnessmark.reading.text.signs_for_words import FIRST_SIGN, LABEL, sign_of, with_signs

Chosen = frozenset[int]
LONGEST_SEVERAL = 500
TOKENS = f"{sign_of(0)}-{sign_of(25)}"
"""Options that are named by their words are read as one sign each."""
LEAD_OF_SEVERAL = re.compile(
    r"^=?\s*(?:(?:(?:my|the)\s+)?(?:options|answers|choices|letters|numbers|both|only|just|these|it is|they are)\b"
    r"(?:\s+are\b)?[\s:=.-]*)?"
)
EVERY = (
    r"(?:all|everything|every one|each)(?: (?:\d+|two|three|four|five|six))?(?: of)?"
    r"(?: (?:them|these|those|the above|the options|options))?"
)
ALL = re.compile(EVERY)
ALL_BUT = re.compile(rf"{EVERY} (?:but(?: not)?|except(?: for)?|bar|apart from|without|not)\b(.*)", re.DOTALL)
NONE = re.compile(r"(?:none|nothing|not any|neither)(?: of (?:them|these|those|the above|the options))?")
OPEN = re.compile(r"\b(?:or|either|maybe|perhaps)\b|\?")
BETWEEN = re.compile(r"[,;\n\r/+&|]+|\b(?:and|plus|also|as well as|then|but)\b")
RANGE = re.compile(r"([a-z])\s*(to|through|thru|till|until|-|–|—)\s*([a-z])")
JUDGED = re.compile(
    rf"([a-z{TOKENS}])\s*[:=)\].-]*\s*(yes|no|not|y|n|true|false|right|wrong|correct|incorrect|✓|✔|✗|✘)"
)
TICKS = frozenset(["yes", "y", "true", "right", "correct", "✓", "✔"])
DENIED = re.compile(r"(?:but\s+)?(?:not|no|never|without)\b\s*(.*)", re.DOTALL)
LABELLED = re.compile(r"[(\[]?([a-z]|\d{1,2})\s*[)\].:,=–—-]+\s*(\S.*)", re.DOTALL)
OTHER_WORDS = "a letter names one option and the words beside it another"
WORDED = re.compile(rf"(?:(?:an?|the)\s+)?(?:([a-z]|\d{{1,2}})\s*[)\].:,=–—-]*\s*)?([{TOKENS}])\s*[)\].:]*")
WORDED_LABELLED = re.compile(rf"([{TOKENS}])\s*[(\[]\s*([a-z]|\d{{1,2}})\s*[)\]]")
NEEDLESS = frozenset(
    ["is", "are", "right", "correct", "true", "too", "both", "only", "just", "the", "option", "options", "answer",
     "answers", "letter", "letters", "number", "numbers"]
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class SeveralReading:
    """What was understood of several options: `sets` of indices (from 0), more than one where it can be read in two
    ways, and none where it cannot be read; `repairs` are sentences."""

    certainty: Certainty
    sets: tuple[Chosen, ...] = ()
    repairs: tuple[str, ...] = ()
    reason: str = ""


@dataclass(frozen=True, slots=True)
class _Piece:
    """One piece of an entry: the sets of options that it can mean, whether it rules them out, what was repaired."""

    sets: tuple[Chosen, ...] = ()
    denies: bool = False
    repairs: tuple[str, ...] = ()
    reason: str = ""


def read_several(text: str, options: Sequence[str]) -> SeveralReading:
    """The options that a text names; options are lettered a, b, c in their order. Never raises an error."""
    if reason := too_long(text, LONGEST_SEVERAL):
        return _unread(reason)
    if is_blank(text):
        return SeveralReading(Certainty.BLANK)
    seen = with_signs(plain(text).strip(), {option: sign_of(i) for i, option in enumerate(options)})
    lowered = LEAD_OF_SEVERAL.sub("", LEAD.sub("", seen).strip()).strip(" .:!")
    everything = frozenset(range(len(options)))
    if ALL.fullmatch(lowered):
        return SeveralReading(Certainty.CERTAIN, (everything,))
    if NONE.fullmatch(lowered):
        return SeveralReading(Certainty.CERTAIN, (frozenset(),))
    if OPEN.search(lowered):
        return _unread("it leaves open which are chosen")
    if but := ALL_BUT.fullmatch(lowered):
        left = _listed(but[1], options)
        return SeveralReading(left.certainty, tuple(everything - s for s in left.sets), left.repairs, left.reason)
    return _listed(lowered, options)


def _listed(text: str, options: Sequence[str]) -> SeveralReading:
    """What a list says, piece by piece."""
    pieces = [_piece(p.strip(), options) for p in BETWEEN.split(text) if re.search(rf"[\w{TOKENS}]", p)]
    if not pieces:
        return _unread("no option is named")
    if unclear := next((p for p in pieces if not p.sets), None):
        return _unread(unclear.reason)
    sets = [_together(each, pieces, len(options)) for each in product(*(p.sets for p in pieces))]
    known = tuple(dict.fromkeys(s for s in sets if s is not None))
    if not known:
        return _unread("it does not say which options are chosen")
    repairs = tuple(dict.fromkeys(r for p in pieces for r in p.repairs))
    if len(known) > 1:
        return SeveralReading(Certainty.AMBIGUOUS, known, repairs, "it can be read in two ways")
    return SeveralReading(Certainty.REPAIRED if repairs else Certainty.CERTAIN, known, repairs)


def _together(each: Sequence[Chosen], pieces: Sequence[_Piece], count: int) -> Chosen | None:
    """What is chosen in all; None where an option is both chosen and ruled out, or only some are ruled out."""
    chosen, denied = (
        frozenset[int]().union(*(s for s, p in zip(each, pieces, strict=True) if p.denies is denies))
        for denies in (False, True)
    )
    return None if chosen & denied or (not chosen and len(denied) < count) else chosen


def _piece(text: str, options: Sequence[str]) -> _Piece:
    if judged := JUDGED.fullmatch(text):
        return _Piece(_one(judged[1], options), judged[2] not in TICKS, reason=_no_option(judged[1]))
    if denied := DENIED.fullmatch(text):
        of = _piece(denied[1], options)
        return _Piece(of.sets, not of.denies, of.repairs, of.reason)
    if between := RANGE.fullmatch(text):
        return _range(between[1], between[2], between[3], options)
    if worded := WORDED.fullmatch(text) or WORDED_LABELLED.fullmatch(text):
        return _worded([part for part in worded.groups() if part], options)
    words = [w for w in re.findall(rf"[^\W_]+|[{TOKENS}]", text) if w not in NEEDLESS]
    labels = [_label(word, options) for word in words]
    if words and all(labels):
        return _joined([label for label in labels if label is not None])
    if len(words) > 1 and all(_one(word, options) for word in words):
        return _Piece((frozenset[int]().union(*(_one(word, options)[0] for word in words)),))
    return _from_words(text, words, options)


def _one(named: str, options: Sequence[str]) -> tuple[Chosen, ...]:
    """The option of one letter, number or token; nothing where there is none."""
    if named.isdigit():
        index = int(named) - 1
    else:
        index = ord(named) - (FIRST_SIGN if ord(named) >= FIRST_SIGN else ord("a")) if len(named) == 1 else -1
    return (frozenset([index]),) if 0 <= index < len(options) else ()


def _no_option(sign: str) -> str:
    return f"there is no option “{sign.upper()}”"


def _label(word: str, options: Sequence[str]) -> _Piece | None:
    """What letters or a number alone say: one option, or a run of letters (`acd`)."""
    if any(re.fullmatch(r"[\d.,/]+", option.strip()) for option in options) and word.isdigit():
        return None
    if LABEL.fullmatch(word) and (one := _one(word, options)):
        index = next(iter(one[0]))
        return _Piece(one, repairs=(f"“{word}” was read as option {_letter(index)}",) if word.isdigit() else ())
    if len(word) > 1 and (word.isdigit() or word.isascii()) and word.isalnum() and len(set(word)) == len(word):
        found = [_one(sign, options) for sign in word]
        if all(found):
            together = frozenset[int]().union(*(one[0] for one in found))
            said = f"“{word}” was read as {', '.join(map(_letter, sorted(together)))}"
            return _Piece((together,), repairs=(said,) if word.isdigit() else ())
    return None


def _letter(index: int) -> str:
    return chr(ord("a") + index)


def _joined(labels: Sequence[_Piece]) -> _Piece:
    together = frozenset[int]().union(*(label.sets[0] for label in labels))
    return _Piece((together,), repairs=tuple(r for label in labels for r in label.repairs))


def _range(first: str, sign: str, last: str, options: Sequence[str]) -> _Piece:
    """`a to c`; with a hyphen it may as well be a and c."""
    ends = [ord(letter) - ord("a") for letter in (first, last)]
    if ends[0] >= ends[1] or ends[1] >= len(options):
        both = _one(first, options), _one(last, options)
        return _Piece((both[0][0] | both[1][0],)) if all(both) else _Piece(reason=_no_option(max(first, last)))
    through, apart = frozenset(range(ends[0], ends[1] + 1)), frozenset(ends)
    return _Piece((through,) if sign.isalpha() else tuple(dict.fromkeys((apart, through))))


def _worded(signs: Sequence[str], options: Sequence[str]) -> _Piece:
    """An option by its words, or by a letter and words that must agree."""
    found = {one for sign in signs for one in _one(sign, options)}
    if len(found) == 1:
        return _Piece(tuple(found))
    return _Piece(reason=OTHER_WORDS)


def _from_words(text: str, words: Sequence[str], options: Sequence[str]) -> _Piece:
    """One option by its place in the list or by words near its own, with its letter before them or without."""
    if len(words) == 1 and LABEL.fullmatch(words[0]):
        return _Piece(reason=_no_option(words[0]))
    if len(words) == 1 and words[0] in ORDINALS:
        place = ORDINALS.index(words[0])
        said = f"“{words[0]}” was read as option {_letter(place)}"
        return (
            _Piece((frozenset([place]),), repairs=(said,)) if place < len(options) else _Piece(reason="no such place")
        )
    labelled = LABELLED.fullmatch(text)
    found = match(labelled[2] if labelled else text, options)
    if found.index is None:
        return _Piece(reason=found.reason)
    if labelled and _one(labelled[1], options) != (frozenset([found.index]),):
        return _Piece(reason=OTHER_WORDS)
    return _Piece((frozenset([found.index]),), repairs=found.repairs)


def _unread(reason: str) -> SeveralReading:
    return SeveralReading(Certainty.UNREADABLE, reason=reason)
