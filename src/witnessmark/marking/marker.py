"""Marking one question for many students: the ladder for numbers, then judgements and choices, then whole parts.

`mark_question` takes columns (one row a student) and gives a `QuestionMarked`; `outcome(key, row)` words one result.
The single `mark` is the same with one row.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

import numpy as np
import numpy.typing as npt

from witnessmark.marking.answers import Answer, answer_texts, keys_of
from witnessmark.marking.hypotheses.hypotheses import Hypothesis
from witnessmark.marking.hypotheses.wording import (
    because,
    converted_sentence,
    empty_sentence,
    figures_sentence,
    plain_marks,
    unit_sentence,
    value_text,
)
from witnessmark.marking.kinds.dispatch import Variants, mark_words
from witnessmark.marking.kinds.quantity import Bench, PlaceMarked, bench, mark_numbers
from witnessmark.marking.outcome import Explanation, Outcome, Verdict
from witnessmark.marking.weighing.class_priors import ClassPriors
from witnessmark.marking.weighing.ladder import hundredths, wrong_lines_used
from witnessmark.maths.printing.numbers import as_written, shown_number
from witnessmark.maths.printing.plain import plain
from witnessmark.maths.printing.units import space_before, unit_text
from witnessmark.questions.model.question import Kind, Part, Question
from witnessmark.questions.sheet.task import Rules
from witnessmark.questions.sheet.variant import Variant
from witnessmark.questions.working.working import Columns
from witnessmark.reading.quantity.entries import Candidate, Reading
from witnessmark.reading.result import Certainty

MOST_EVIDENCE = 8
LONGEST_DIGITS = 12
MOST_FIGURES_SHOWN = 6
BLAMED_ON_READING = (Verdict.POWER_OF_TEN, Verdict.UNIT, Verdict.EDIT)
"""Verdicts that a wrong repair of the entry could have caused."""
Hundredths = npt.NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class QuestionMarked:
    """One question marked for n students: numbers by place, other parts as outcomes, whole-part marks in hundredths."""

    bench: Bench
    numbers: dict[str, PlaceMarked]
    words: dict[str, tuple[Outcome, ...]]
    entries: dict[str, Sequence[str]]
    part_marks: dict[str, Hundredths]

    @property
    def keys(self) -> tuple[str, ...]:
        """Every key that was marked, lines included, in working order."""
        return (*self.numbers, *self.words)

    def marks(self, key: str) -> Hundredths:
        """Hundredths earned at a place; those of the whole part for a part.

        All those of a line that was not entered, where the result shows that it was right.
        """
        if key in self.part_marks:
            return self.part_marks[key]
        place = self.numbers[key]
        return np.where(self.implied(key), hundredths(self.out_of(key)), place.marks)

    def implied(self, key: str) -> npt.NDArray[np.bool_]:
        """True where a line was not entered, or not readably, and the result of its part earned all marks."""
        place = self.numbers[key]
        part, empty = place.place.part, place.reading.is_blank | place.reading.is_unreadable
        if place.place.line is None or part.key not in self.part_marks:
            return np.zeros_like(empty)
        return np.asarray(empty & (self.part_marks[part.key] == hundredths(part.marks)))

    def out_of(self, key: str) -> Decimal:
        """Marks available at a place."""
        place = self.numbers[key].place
        return place.line.marks if place.line else place.part.marks

    def sure(self, key: str) -> npt.NDArray[np.float64]:
        """The posterior of the named method at a place."""
        place = self.numbers[key]
        stacked = np.stack([c.sure for c in place.climbed], 1)
        return np.take_along_axis(stacked, place.candidate[:, None], 1)[:, 0]

    def verdicts(self, key: str) -> npt.NDArray[np.intp]:
        """The verdict at a place, as indices into `tuple(Verdict)`."""
        place = self.numbers[key]
        order = {v: i for i, v in enumerate(Verdict)}
        of_hypothesis = np.array([order[h.verdict] for h in place.candidates] + [order[Verdict.UNEXPLAINED]], np.intp)
        found = of_hypothesis[place.named]
        found = np.where((place.named == 0) & place.unit_fault, order[Verdict.UNIT], found)
        found = np.where(place.reading.is_blank, order[Verdict.BLANK], found)
        return np.where(place.reading.is_unreadable, order[Verdict.UNREADABLE], found)

    def misconceptions(self, key: str) -> npt.NDArray[np.object_]:
        """The misconceptions named at a place, joined by `+`."""
        place = self.numbers[key]
        joined = ["+".join(h.method.names) for h in place.candidates] + [""]
        return np.array(joined, dtype=object)[place.named]

    def outcome(self, key: str, row: int) -> Outcome:
        """The outcome of one student at one place, with its sentence and evidence."""
        if key in self.words:
            return self.words[key][row]
        return _worded(self, self.numbers[key], row)

    def outcomes(self, row: int) -> dict[str, Outcome]:
        """Every outcome of one student, in the order of the sheet."""
        return {key: self.outcome(key, row) for key in keys_of(self.bench.question) if key in self.keys}


def mark(variant: Variant, answers: Mapping[str, Answer], rules: Rules | None = None) -> dict[str, Outcome]:
    """The outcomes of one student's answers, by key (`a`, or `a.A_s` for a line that was entered or could be).

    An answer is the text as it was typed; a number counts as typed without a unit, True and False as yes and no, None
    as blank. UnknownName (a KeyError) for a key that is no part or line, TypeError for what is no answer.
    """
    columns = {key: [text] for key, text in answer_texts(variant.question, answers).items()}
    return mark_question(variant.question, variant.columns, columns, 1, rules or Rules(), [variant]).outcomes(0)


def mark_question(
    question: Question, givens: Columns, entries: Mapping[str, Sequence[str]], size: int, rules: Rules,
    variants: Variants | None = None, priors: ClassPriors | None = None,
) -> QuestionMarked:  # fmt: skip
    """One question marked for `size` students: `givens` SI arrays of shape (size,), `entries` texts by key.

    `variants` tell the letters of choices, which each student's sheet has in an order of its own; `priors` what the
    class was seen to do.
    """
    b = bench(question, givens, rules, size, priors)
    numbers = mark_numbers(b, entries)
    words: dict[str, tuple[Outcome, ...]] = {}
    for part in question.parts:
        if part.kind is not Kind.QUANTITY:
            outcomes = mark_words(b, part, entries.get(part.key) or [""] * size, numbers, variants or [None] * size)
            words |= {part.key: outcomes} if outcomes else {}
    part_marks = {p.key: _part_marks(p, numbers) for p in question.parts if p.key in numbers}
    return QuestionMarked(b, numbers, words, dict(entries), part_marks)


def _part_marks(part: Part, numbers: Mapping[str, PlaceMarked]) -> Hundredths:
    """Hundredths of a part: those of its result, or those of its lines where they earn more.

    A result that follows from the student's own wrong line has lost that line's marks already, so what the line itself
    earned (say, rounded early) comes on top.
    """
    result = numbers[part.key]
    lines = {line.name: numbers[f"{part.key}.{line.name}"].marks for line in part.lines}
    total = np.maximum(result.marks, sum(lines.values(), np.zeros_like(result.marks)))
    for line in result.own_lines:
        if line is not None:
            starts = np.array([line in wrong_lines_used(h, result.own_lines) for h in result.candidates] + [False])
            total = np.maximum(total, result.marks + np.where(starts[result.named], lines[line.name], 0))
    return np.minimum(total, int(part.marks * 100))


def _worded(marked: QuestionMarked, place: PlaceMarked, row: int) -> Outcome:
    out_of = place.place.line.marks if place.place.line else place.place.part.marks
    marks = plain_marks(int(marked.marks(place.place.key)[row]))
    reading = place.reading.reading(row)
    texts = marked.entries.get(place.place.key)
    raw = texts[row] if texts else ""
    if reading.certainty in (Certainty.BLANK, Certainty.UNREADABLE):
        return _empty(marked, place, row, reading, raw, marks, out_of)
    return _read(marked, place, row, reading, raw, marks, out_of)


def _empty(
    marked: QuestionMarked, place: PlaceMarked, row: int, reading: Reading, raw: str, marks: Decimal, out_of: Decimal
) -> Outcome:
    blank = reading.certainty is Certainty.BLANK
    verdict = Verdict.BLANK if blank else Verdict.UNREADABLE
    sentence = empty_sentence(verdict, reading.reason)
    if blank and marked.implied(place.place.key)[row]:
        sentence = "Not entered; your result shows that it was right."
    tray = () if blank else (f"could not be read: {reading.reason}",)
    return Outcome(marks, out_of, verdict, sentence, raw=raw, repairs=reading.repairs, in_tray=tray)


def _read(
    marked: QuestionMarked, place: PlaceMarked, row: int, reading: Reading, raw: str, marks: Decimal, out_of: Decimal
) -> Outcome:
    question, b = marked.bench.question, marked.bench
    j = int(place.candidate[row])
    climbed, candidate = place.climbed[j], reading.readings[j]
    read_as = _read_as(candidate)
    evidence = _evidence(marked, place, row, read_as)
    right_text = value_text(float(b.worked[place.place.key][row]), place.place.asked.unit)
    named = int(place.named[row])
    repairs = tuple(dict.fromkeys(str(r) for r in (*reading.repairs, *candidate.repairs)))
    if named < 0:
        sentence = empty_sentence(Verdict.UNEXPLAINED, "")
        tray: tuple[str, ...] = ("no known method gives this number",)
        return Outcome(
            marks, out_of, Verdict.UNEXPLAINED, sentence, (), float(climbed.sure[row]), evidence, raw, read_as,
            repairs, in_tray=tray,
        )  # fmt: skip
    h = place.candidates[named]
    verdict, sentence = h.verdict, because(place.place, h, question, read_as, right_text)
    if verdict is Verdict.RIGHT and place.unit_fault[row]:
        verdict = Verdict.UNIT
        sentence = unit_sentence(place.place.asked.unit, "" if candidate.unit_missing else candidate.unit)
    if h.kind == "conversion" and not candidate.dimension_fits:
        sentence = converted_sentence(read_as, h.factor.conversion, place.place.asked.unit)
    if place.other_figures[row]:
        sentence = f"{sentence} {figures_sentence(b.rules.figures)}"
    tray = _tray(marked, place, row, reading, float(climbed.sure[row]), verdict)
    if verdict is Verdict.EDIT:
        tray = (*tray, "a method that the bank does not know")
    return Outcome(
        marks, out_of, verdict, sentence, h.method.names, float(climbed.sure[row]), evidence, raw, read_as,
        repairs, in_tray=tray,
    )  # fmt: skip


def _read_as(candidate: Candidate) -> str:
    unit_sign = unit_text(candidate.unit) if candidate.unit else ""
    digits = str(candidate.digits)
    long = "E" in digits or len(digits) > LONGEST_DIGITS
    figures = min(candidate.figures, MOST_FIGURES_SHOWN)
    digits = shown_number(candidate.digits, figures) if long else as_written(candidate.digits)
    return f"{digits}{space_before(candidate.unit) if unit_sign else ''}{unit_sign}"


def _tray(
    marked: QuestionMarked, place: PlaceMarked, row: int, reading: Reading, sure: float, verdict: Verdict
) -> tuple[str, ...]:
    found: list[str] = []
    j = int(place.candidate[row])
    if place.climbed[j].tied[row]:
        found.append("two explanations fit about as well; the kinder one was taken")
    elif sure < marked.bench.rules.ask_below:
        found.append(f"the name of the method is only {sure:.0%} sure")
    others = {int(c.named[row]) for c in place.climbed if np.isfinite(c.sure[row])}
    if reading.certainty is Certainty.AMBIGUOUS and len(others) > 1:
        found.append("the entry can be read in two ways; the kinder one was taken")
    if reading.certainty is Certainty.REPAIRED and verdict in BLAMED_ON_READING:
        found.append("the entry had to be repaired before it could be read")
    return tuple(found)


def _evidence(marked: QuestionMarked, place: PlaceMarked, row: int, read_as: str) -> tuple[Explanation, ...]:
    """Every explanation of the entry that fits, likeliest first."""
    fits = place.climbed[int(place.candidate[row])].fits
    mine = np.flatnonzero(fits.row == row)
    order = mine[np.argsort(-fits.posterior[mine], kind="stable")][:MOST_EVIDENCE]
    return tuple(
        _explanation(marked, place, place.candidates[int(fits.hypothesis[i])], row, float(fits.posterior[i]), read_as)
        for i in order
    )  # fmt: skip


def _explanation(
    marked: QuestionMarked, place: PlaceMarked, h: Hypothesis, row: int, sure: float, read_as: str
) -> Explanation:
    right_text = value_text(float(marked.bench.worked[place.place.key][row]), place.place.asked.unit)
    sentence = because(place.place, h, marked.bench.question, read_as, right_text)
    return Explanation(h.verdict, h.method.names, h.marks, sentence, plain(h.method.formula), sure)
