"""Marking a choice: one of the options as this student's sheet letters them."""

from collections.abc import Sequence

from witnessmark.marking.kinds.without_numbers import REPAIRED, blank, unreadable
from witnessmark.marking.outcome import Outcome, Verdict
from witnessmark.questions.model.options import Option
from witnessmark.questions.model.parts import ChoicePart, Find, ValueChoicePart
from witnessmark.questions.sheet.listing import listed_options, with_letters
from witnessmark.questions.sheet.variant import Variant
from witnessmark.reading.result import Certainty
from witnessmark.reading.short.choices import ChoiceReading, read_choice
from witnessmark.reading.short.value_choices import read_value_choice

NO_LETTERS = "what its letter stands for follows from the rows and numbers of the sheet, which are not all known here"


def mark_choice(part: ChoicePart | ValueChoicePart, text: str, variant: Variant | None) -> Outcome:
    """The outcome of one choice. Without all of its numbers the letters are not known, but words are read."""
    variant = with_letters(variant)
    if variant is None:
        return _without_letters(part, text, part.options if isinstance(part, ChoicePart) else ())
    options = listed_options(variant, part)
    shown = [option.text for option in options]
    reading = (
        read_value_choice(text, shown, part.unit) if isinstance(part, ValueChoicePart) else read_choice(text, shown)
    )
    return _chosen(part, text, reading, options)


def _without_letters(part: Find, text: str, options: Sequence[Option]) -> Outcome:
    """An option that is named the same in any order of the options was named by its words."""
    turned = (*options[1:], *options[:1])
    one, other = (read_choice(text, [option.text for option in order]) for order in (options, turned))
    if one.certainty is Certainty.BLANK:
        return blank(part, text)
    if one.index is None or other.index is None or options[one.index] != turned[other.index]:
        return unreadable(part, text, NO_LETTERS)
    return _chosen(part, text, one, options)


def _chosen(part: Find, text: str, reading: ChoiceReading, options: Sequence[Option]) -> Outcome:
    if reading.certainty is Certainty.BLANK:
        return blank(part, text)
    if reading.index is None:
        return unreadable(part, text, reading.reason)
    option, repairs = options[reading.index], tuple(map(str, reading.repairs))
    if option.right:
        return Outcome(part.marks, part.marks, Verdict.RIGHT, "Right.", raw=text, read_as=option.text, repairs=repairs)
    right = next(o.text for o in options if o.right)
    verdict = Verdict.SLIP if option.misconception else Verdict.WRONG
    who = (option.misconception,) if option.misconception else ()
    tray = (REPAIRED,) if reading.certainty is Certainty.REPAIRED else ()
    sentence = f"You chose “{option.text}”; the right choice is “{right}”."
    return Outcome(option.keeps, part.marks, verdict, sentence, who, raw=text, read_as=option.text, repairs=repairs,
                   in_tray=tray)  # fmt: skip
