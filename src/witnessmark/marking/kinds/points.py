"""Marking short text: so many of the accepted points, each the same share of the marks.

What is near an accepted wording but not it, and what may deny what it names, is shown to the teacher.
"""

from collections.abc import Sequence

from witnessmark.marking.kinds.without_numbers import blank, unreadable
from witnessmark.marking.outcome import Outcome, Verdict
from witnessmark.questions.model.mark_steps import rounded_down
from witnessmark.questions.model.parts import PointsPart
from witnessmark.questions.sheet.task import Rules
from witnessmark.reading.result import Certainty
from witnessmark.reading.short.points import PointsReading, read_points
from witnessmark.reading.short.points_words import EMPTY_WORDS
from witnessmark.reading.text.plain_words import squeezed

NOT_KNOWN = "What is wanted was not clearly found in this; your teacher will read it."
COUNTED = ("none", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


def mark_points(part: PointsPart, text: str, rules: Rules) -> Outcome:
    """The outcome of one short text."""
    refused = {point.name: point.refused for point in part.points}
    reading = read_points(text, {point.name: point.wordings for point in part.points}, refused)
    if reading.certainty is Certainty.BLANK:
        return blank(part, text)
    if reading.certainty is Certainty.UNREADABLE and not _waits(reading):
        return unreadable(part, text, reading.reason)
    count = min(len(reading.found), part.needed)
    marks = part.marks if count == part.needed else rounded_down(part.marks * count / part.needed, rules.half_marks)
    known = count or (reading.refused and not _waits(reading))
    verdict = Verdict.RIGHT if count == part.needed else Verdict.WRONG if known else Verdict.UNEXPLAINED
    tray = tuple(_for_the_teacher(part, reading, text))
    return Outcome(
        marks, part.marks, verdict, _sentence(part, reading), raw=text,
        sure=1.0 if known else 0.0, read_as=_listed([p.wording for p in reading.found]),
        repairs=tuple(map(str, reading.repairs)), in_tray=tray,
    )  # fmt: skip


def _waits(reading: PointsReading) -> bool:
    """True where a text says something that only a teacher can judge."""
    return bool(reading.doubtful or reading.partly or reading.unmatched)


def _for_the_teacher(part: PointsPart, reading: PointsReading, text: str) -> list[str]:
    """Why a teacher should look, as far as a mark hangs on it."""
    plain = sum(not point.misspelt for point in reading.found)
    if plain >= part.needed:
        return []
    found = [f"“{words}” may deny what it names" for words in reading.doubtful]
    found += [f"“{p.typed}” was taken for “{p.wording}”" for p in reading.found if p.misspelt]
    if len(reading.found) < part.needed:
        found += [f"“{words}” is none of the accepted wordings" for words in reading.unmatched]
        rest = " ".join(reading.partly) or ("" if reading.refused else _left_over(reading, text))
        found += [f"only part of it was recognised; “{rest}” was not"] if rest and not found else []
    return found


def _left_over(reading: PointsReading, text: str) -> str:
    """The words of a text that belong to no point found and mean something."""
    used = {word for point in reading.found for word in point.typed.split()} | EMPTY_WORDS
    return " ".join(word for word in squeezed(text).split() if word not in used)


def _sentence(part: PointsPart, reading: PointsReading) -> str:
    count = len(reading.found)
    if count == 0 and reading.refused and not _waits(reading):
        return f"{_listed([f'“{words}”' for words in reading.refused])} is the contrary of what is wanted."
    if count == 0:
        return NOT_KNOWN
    named = _listed([f"“{point.wording}”" for point in reading.found])
    if count >= part.needed:
        return f"Right: {named}."
    return f"{_counted(count).capitalize()} of the {_counted(part.needed)} wanted: {named}."


def _counted(number: int) -> str:
    return COUNTED[number] if number < len(COUNTED) else str(number)


def _listed(items: Sequence[str]) -> str:
    return " and ".join([", ".join(items[:-1]), items[-1]] if len(items) > 1 else items)
