"""Which option of a choice a student named: by its letter, its number, its words, or words near them."""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from witnessmark.reading.result import Certainty
from witnessmark.reading.text.match_wording import Match, match
from witnessmark.reading.text.plain_words import is_blank, plain, squeezed, too_long

LONGEST_CHOICE = 500
LEAD = re.compile(
    r"^=?\s*(?:(?:(?:my|the)\s+)?(?:option|answer|choice|letter|ans|number|no\.|i (?:choose|chose|pick|think)|it is)\b"
    r"[\s:=.-]*)?"
)
ALONE = re.compile(r"[\s(\[{\"'*]*([a-z]|\d{1,2})[\s)\]}\"'*.:,;!]*")
WITH_SIGN = re.compile(r"[\s(\[{]*([a-z]|\d{1,2})\s*(?:[)\]}:.,=]|\s[-–—]\s)+\s*(\S.*)", re.DOTALL)
WITH_SPACE = re.compile(r"\s*([b-hj-z])\s+(\S.*)", re.DOTALL)
BEHIND = re.compile(r"(.*\S)\s*[(\[]\s*([a-z]|\d{1,2})\s*[)\]]\s*", re.DOTALL)
SEVERAL = re.compile(r"[\s(]*([a-z])[\s)]*(?:,|/|\+|&|\bor\b|\band\b)[\s(]*([a-z])[\s)]*")
ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth")


@dataclass(frozen=True, slots=True)
class ChoiceReading:
    """What was understood of a choice: `index` of the option (from 0), None when it is not clear which.

    `candidates` holds the options that are possible when it is ambiguous; `repairs` are sentences.
    """

    certainty: Certainty
    index: int | None = None
    candidates: tuple[int, ...] = ()
    repairs: tuple[str, ...] = ()
    reason: str = ""


def read_choice(text: str, options: Sequence[str]) -> ChoiceReading:
    """The option that a text names; options are lettered a, b, c in their order. Never raises an error."""
    if reason := too_long(text, LONGEST_CHOICE):
        return ChoiceReading(Certainty.UNREADABLE, reason=reason)
    lowered = LEAD.sub("", plain(text).strip())
    worded = [i for i, option in enumerate(options) if squeezed(option) == squeezed(text)]
    if is_blank(text) and not worded:
        return ChoiceReading(Certainty.BLANK)
    if not re.search(r"\w", lowered):
        return _unread("no option is named")
    labelled, rest = _label(lowered, options)
    if labelled is None:
        return _from_words(match(lowered, options))
    if not rest:
        return _label_alone(lowered, labelled, options)
    return _label_and_words(labelled, rest, options)


def _label(text: str, options: Sequence[str]) -> tuple[Match | None, str]:
    """What the letter or number says and the words beside it; None when there is no letter or number."""
    if alone := ALONE.fullmatch(text):
        return _indexed(alone[1], options), ""
    if several := SEVERAL.fullmatch(text):
        both = [ord(letter) - ord("a") for letter in several.groups()]
        return Match(tuple(b for b in both if b < len(options)), reason="two options are named"), ""
    if squeezed(text) in [squeezed(option) for option in options]:
        return None, text
    for shape in (WITH_SIGN, WITH_SPACE):
        if found := shape.fullmatch(text):
            return _indexed(found[1], options), found[2]
    if found := BEHIND.fullmatch(text):
        return _indexed(found[2], options), found[1]
    words = text.removeprefix("the ").split()
    if words[0] in ORDINALS and len(words) <= 2:
        index = ORDINALS.index(words[0])
        return Match((index,) if index < len(options) else (), (f"“{text}” was read as option {_letter(index)}",)), ""
    return None, text


def _indexed(label: str, options: Sequence[str]) -> Match | None:
    """The option of a letter or number; None when there is no such option, or options are numbers themselves."""
    if label.isdigit():
        if any(re.fullmatch(r"[\d.,/]+", option.strip()) for option in options) or not 1 <= int(label) <= len(options):
            return None
        index = int(label) - 1
        return Match((index,), (f"“{label}” was read as option {_letter(index)}",))
    index = ord(label) - ord("a")
    return Match((index,)) if index < len(options) else None


def _letter(index: int) -> str:
    return chr(ord("a") + index)


def _from_words(found: Match) -> ChoiceReading:
    if found.index is not None:
        certainty = Certainty.REPAIRED if found.repairs else Certainty.CERTAIN
        return ChoiceReading(certainty, found.index, (found.index,), found.repairs)
    if found.candidates:
        return ChoiceReading(Certainty.AMBIGUOUS, None, found.candidates, reason=found.reason)
    return _unread(found.reason)


def _label_alone(text: str, labelled: Match, options: Sequence[str]) -> ChoiceReading:
    """A letter alone, unless it is at the same time the words of another option."""
    worded = [i for i, option in enumerate(options) if squeezed(option) == squeezed(text)]
    if worded and (worded[0],) != labelled.candidates:
        both, reason = (
            tuple(sorted({*labelled.candidates, *worded})),
            "it is the letter of one option and the words of another",
        )
        return ChoiceReading(Certainty.AMBIGUOUS, None, both, reason=reason)
    return _from_words(labelled)


def _label_and_words(labelled: Match, rest: str, options: Sequence[str]) -> ChoiceReading:
    worded = match(rest, options)
    if worded.index is None:
        if worded.candidates and not set(labelled.candidates) & set(worded.candidates):
            return _unread("its letter names one option and its words another")
        said = f"“{squeezed(rest)}” beside the letter was not needed"
        return _from_words(Match(labelled.candidates, (*labelled.repairs, said), labelled.reason))
    if labelled.candidates != worded.candidates:
        return _unread("its letter names one option and its words another")
    return _from_words(Match(worded.candidates, worded.repairs))


def _unread(reason: str) -> ChoiceReading:
    return ChoiceReading(Certainty.UNREADABLE, reason=reason)
