"""Which of several printed values a student named: by its letter, by the value itself in any unit, or by both."""

import math
import re
from collections.abc import Sequence

from witnessmark.maths.quantities import from_si
from witnessmark.reading.quantity.entries import read_quantity
from witnessmark.reading.result import Certainty
from witnessmark.reading.short.choices import ChoiceReading, read_choice

CLOSE = 0.006  # as a share: half a unit of the last of three figures, and a little; options stand further apart
LABEL = re.compile(r"(?is)\s*[(\[]?(?:option|answer|letter)?\s*([a-z])\s*(?:[)\]}:.,=]|[-–—]|\s)+\s*(?=[-−+.\d])")
FIGURE = re.compile(r"\d")


def read_value_choice(text: str, options: Sequence[str], unit: str) -> ChoiceReading:
    """The option that a text names; `options` are values as printed (`94.2 kN`), `unit` their unit. Never raises."""
    label = LABEL.match(text)
    if label is None:
        return _by_value(text, options, unit) if FIGURE.search(text) else _by_letter(text, options)
    named, value = _by_letter(label[1], options), _by_value(text[label.end() :], options, unit)
    if named.index is None or named.index == value.index:
        return value
    return ChoiceReading(Certainty.UNREADABLE, reason="its letter names one option and its value another, or none")


def _by_letter(text: str, options: Sequence[str]) -> ChoiceReading:
    """The reading of a letter; the options have no words that could be meant."""
    return read_choice(text, [f"\N{BLACK SQUARE}{i}" for i in range(len(options))])


def _by_value(text: str, options: Sequence[str], unit: str) -> ChoiceReading:
    """The reading of a value: the one option that every way to read it comes close to."""
    reading = read_quantity(text, unit)
    if not reading.readings:
        return ChoiceReading(reading.certainty, reason=reading.reason)
    printed = [from_si(read_quantity(option, unit).readings[0].si, unit) for option in options]
    typed = [from_si(c.si, unit) for c in reading.readings]  # in kelvin 0.5 °C and 1 °C would be one value
    meant = {i for t in typed for i, value in enumerate(printed) if math.isclose(t, value, rel_tol=CLOSE)}
    if len(meant) != 1:
        reason = "the value is near more than one of those listed" if meant else "the value is none of those listed"
        return ChoiceReading(Certainty.UNREADABLE, None, tuple(sorted(meant)), reason=reason)
    certainty = Certainty.REPAIRED if reading.certainty is Certainty.REPAIRED else Certainty.CERTAIN
    index = meant.pop()
    return ChoiceReading(certainty, index, (index,), tuple(map(str, reading.repairs)))
