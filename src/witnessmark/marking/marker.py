"""Marking one question for many students: the ladder for numbers, then judgements and choices, then whole parts.

`mark_question` takes columns (one row a student) and gives a `QuestionMarked`; `outcome(key, row)` words one result.
The single `mark` is the same with one row.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal
from functools import cached_property

import numpy as np
import numpy.typing as npt

from witnessmark.marking.answered import Answered
from witnessmark.marking.answers import Answer, answer_texts, keys_of, sides_of
from witnessmark.marking.hypotheses.hypotheses import Hypothesis
from witnessmark.marking.hypotheses.wording import (
    because,
    converted_sentence,
    empty_sentence,
    figures_sentence,
    note_of_edit,
    plain_marks,
    unit_as_well_sentence,
    unit_sentence,
    value_text,
)
from witnessmark.marking.kinds.commas import Commas
from witnessmark.marking.kinds.dispatch import mark_words
from witnessmark.marking.kinds.limits import joined, mark_either_way
from witnessmark.marking.kinds.quantity import Bench, PlaceMarked, bench
from witnessmark.marking.outcome import Explanation, Outcome, Verdict
from witnessmark.marking.weighing.class_priors import ClassPriors
from witnessmark.marking.weighing.ladder import Climbed, hundredths, wrong_lines_used
from witnessmark.maths.printing.numbers import as_written, shown_number
from witnessmark.maths.printing.plain import plain
from witnessmark.maths.printing.units import space_before, unit_text
from witnessmark.questions.model.kinds import limits_in
from witnessmark.questions.model.parts import QuantityPart
from witnessmark.questions.model.question import Question
from witnessmark.questions.sheet.task import Rules
from witnessmark.questions.sheet.variant import Variant, taking_g
from witnessmark.reading.number.comma_habits import OTHER, SAID, read_by
from witnessmark.reading.number.numbers import COMMA_SAID
from witnessmark.reading.quantity.entries import Candidate, Reading, read_quantity
from witnessmark.reading.result import Certainty

MOST_EVIDENCE = 8
LONGEST_DIGITS = 12
MOST_FIGURES_SHOWN = 6
MOST_IN_FULL = 7
LEAST_IN_FULL = 4  # figures of the right value where it is told in full
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
    commas: Commas = field(default_factory=dict)

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
        found = np.where((found == order[Verdict.RIGHT]) & place.unit_fault, order[Verdict.UNIT], found)
        found = np.where(place.reading.is_blank, order[Verdict.BLANK], found)
        return np.where(place.reading.is_unreadable, order[Verdict.UNREADABLE], found)

    def misconceptions(self, key: str) -> tuple[npt.NDArray[np.intp], tuple[str, ...]]:
        """The misconceptions named at a place, joined by `+`: which of these texts it is for each student, and the
        texts."""
        place = self.numbers[key]
        every = ["", *("+".join(h.method.names) for h in place.candidates)]
        texts = tuple(dict.fromkeys(every))
        return np.array([texts.index(text) for text in every], np.intp)[place.named + 1], texts

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
    rules = rules or Rules()
    variant = taking_g(variant, rules.g)
    columns = {key: [text] for key, text in answer_texts(variant.question, answers).items()}
    marked = mark_question(variant.question, Answered(variant.columns, columns, 1, [variant]), rules)
    sides = [key for key in sides_of(variant.question) if key in columns and key in marked.keys]
    return marked.outcomes(0) | {key: marked.outcome(key, 0) for key in sides}


def mark_question(
    question: Question, answered: Answered, rules: Rules, priors: ClassPriors | None = None
) -> QuestionMarked:
    """One question marked for many students; `priors` are what the class was seen to do."""
    size = answered.size
    b = bench(question, answered.givens, rules, size, priors, answered.told)
    commas = answered.habits()
    numbers, entries = mark_either_way(b, answered.entries, commas)
    variants = answered.variants or [None] * size
    words: dict[str, tuple[Outcome, ...]] = {}
    for part in question.parts:
        outcomes = mark_words(b, part, entries.get(part.key) or [""] * size, numbers, variants)
        words |= {part.key: outcomes} if outcomes else {}
    part_marks = {p.key: _part_marks(p, numbers) for p in question.quantities if p.key in numbers}
    return _with_limits(QuestionMarked(b, numbers, words, dict(entries), part_marks, commas))


def _with_limits(marked: QuestionMarked) -> QuestionMarked:
    """The question with an outcome for every two limits, from those of their values."""
    found: dict[str, tuple[Outcome, ...]] = {}
    for part in limits_in(marked.bench.question.parts):
        if all(side.key in marked.numbers for side in part.sides):
            texts = marked.entries.get(part.key) or [""] * marked.bench.size
            sides = [
                (marked.outcome(part.largest.key, n), marked.outcome(part.smallest.key, n)) for n in range(len(texts))
            ]
            each = zip(texts, sides, strict=True)
            found[part.key] = tuple(joined(part, text, both, marked.bench.rules) for text, both in each)
    return replace(marked, words={**marked.words, **found}) if found else marked


def _part_marks(part: QuantityPart, numbers: Mapping[str, PlaceMarked]) -> Hundredths:
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


@dataclass(frozen=True)
class _Answer:
    """One student's answer at one place, as far as it is marked: whose (a row), what was typed and how it was read."""

    marked: QuestionMarked
    place: PlaceMarked
    row: int
    raw: str
    reading: Reading

    @property
    def key(self) -> str:
        """`a` or `a.A_s`."""
        return self.place.place.key

    @cached_property
    def candidate(self) -> Candidate:
        """The reading that won."""
        return self.reading.readings[int(self.place.candidate[self.row])]

    @cached_property
    def climbed(self) -> Climbed:
        """How the reading that won was marked and named."""
        return self.place.climbed[int(self.place.candidate[self.row])]

    @property
    def sure(self) -> float:
        """The posterior of the name."""
        return float(self.climbed.sure[self.row])

    @cached_property
    def read_as(self) -> str:
        """The value understood, as text: `94.2 kN`."""
        return _read_as(self.candidate)

    @cached_property
    def right_text(self) -> str:
        """The right value, as text: to one figure more than asked, and to as many as were written."""
        asked, value = self.place.place.asked, float(self.marked.bench.worked[self.key][self.row])
        written = min(self.candidate.figures, MOST_IN_FULL)
        return value_text(value, asked.unit, max(LEAST_IN_FULL, asked.figures + 1, written))


def _worded(marked: QuestionMarked, place: PlaceMarked, row: int) -> Outcome:
    texts, key = marked.entries.get(place.place.key), place.place.key
    answer = _Answer(marked, place, row, texts[row] if texts else "", place.reading.reading(row))
    marks, out_of = plain_marks(int(marked.marks(key)[row])), marked.out_of(key)
    if answer.reading.certainty in (Certainty.BLANK, Certainty.UNREADABLE):
        return _empty(answer, marks, out_of)
    return _named(answer, marks, out_of) if place.named[row] >= 0 else _unexplained(answer, marks, out_of)


def _empty(answer: _Answer, marks: Decimal, out_of: Decimal) -> Outcome:
    reading, blank = answer.reading, answer.reading.certainty is Certainty.BLANK
    verdict = Verdict.BLANK if blank else Verdict.UNREADABLE
    sentence = empty_sentence(verdict, reading.reason)
    if blank and answer.marked.implied(answer.key)[answer.row]:
        sentence = "Not entered; your result shows that it was right."
    tray = () if blank else (f"could not be read: {reading.reason}",)
    return Outcome(marks, out_of, verdict, sentence, raw=answer.raw, repairs=reading.repairs, in_tray=tray)


def _unexplained(answer: _Answer, marks: Decimal, out_of: Decimal) -> Outcome:
    return Outcome(
        marks, out_of, Verdict.UNEXPLAINED, empty_sentence(Verdict.UNEXPLAINED, ""), (), answer.sure,
        _evidence(answer), answer.raw, answer.read_as, _repairs(answer),
        in_tray=("no known method gives this number", *_comma_doubt(answer)),
    )  # fmt: skip


def _named(answer: _Answer, marks: Decimal, out_of: Decimal) -> Outcome:
    place, row, candidate = answer.place, answer.row, answer.candidate
    asked, rules = place.place.asked, answer.marked.bench.rules
    h = place.candidates[int(place.named[row])]
    verdict = h.verdict
    sentence = because(place.place, h, answer.marked.bench.question, answer.read_as, answer.right_text)
    if verdict is Verdict.RIGHT and place.unit_fault[row]:
        verdict = Verdict.UNIT
        sentence = unit_sentence(asked.unit, "" if candidate.unit_missing else candidate.unit)
    elif h.kind == "conversion" and not candidate.dimension_fits:
        sentence = converted_sentence(answer.read_as, h.factor.conversion, asked.unit)
    elif place.unit_fault[row] and h.kind != "conversion" and (h.told or not h.done):
        said = unit_as_well_sentence(asked.unit, "" if candidate.unit_missing else candidate.unit)
        sentence = f"{sentence} {said}"
    if place.other_figures[row] and not h.cut_off:
        sentence = f"{sentence} {figures_sentence(place.place.part.figures or rules.figures)}"
    notes = (note_of_edit(h, answer.marked.bench.question, answer.read_as),) if h.done else ()
    return Outcome(
        marks, out_of, verdict, sentence, h.method.names, answer.sure, _evidence(answer), answer.raw, answer.read_as,
        _repairs(answer), notes, _tray(answer, verdict),
    )  # fmt: skip


def _repairs(answer: _Answer) -> tuple[str, ...]:
    said = [str(r) for r in (*answer.reading.repairs, *answer.candidate.repairs)]
    if answer.reading.raw != answer.raw:
        habit = answer.marked.commas.get(answer.row)
        said.append(SAID[habit] if habit else str(COMMA_SAID))
    return tuple(dict.fromkeys(said))


def _read_as(candidate: Candidate) -> str:
    unit_sign = unit_text(candidate.unit) if candidate.unit else ""
    digits = str(candidate.digits)
    long = "E" in digits or len(digits) > LONGEST_DIGITS
    figures = min(candidate.figures, MOST_FIGURES_SHOWN)
    digits = shown_number(candidate.digits, figures) if long else as_written(candidate.digits)
    return f"{digits}{space_before(candidate.unit) if unit_sign else ''}{unit_sign}"


def _tray(answer: _Answer, verdict: Verdict) -> tuple[str, ...]:
    """Why a teacher should look at an answer that has a name."""
    found: list[str] = []
    row, certainty = answer.row, answer.reading.certainty
    if answer.climbed.tied[row]:
        found.append("two explanations fit about as well; the kinder one was taken")
    elif answer.sure < answer.marked.bench.rules.ask_below:
        found.append(f"the name of the method is only {answer.sure:.0%} sure")
    others = {int(c.named[row]) for c in answer.place.climbed if np.isfinite(c.sure[row])}
    if certainty is Certainty.AMBIGUOUS and len(others) > 1:
        found.append("the entry can be read in two ways; the kinder one was taken")
    found += _comma_doubt(answer)
    if certainty is Certainty.REPAIRED and verdict in BLAMED_ON_READING:
        found.append("the entry had to be repaired before it could be read")
    if verdict is Verdict.EDIT:
        mistyped = answer.place.candidates[int(answer.place.named[row])].kind == "digits"
        found.append("two digits may be turned" if mistyped else "a method that the bank does not know")
    return tuple(found)


def _comma_doubt(answer: _Answer) -> tuple[str, ...]:
    """Why a teacher should look at an entry whose comma was settled by a habit, or by the size expected."""
    if answer.reading.raw == answer.raw:
        return ()
    habit, bench = answer.marked.commas.get(answer.row), answer.marked.bench
    if habit is None:
        return ("its comma may part thousands; it was read as a decimal point, which is kinder",)
    otherwise = read_quantity(read_by(answer.raw, OTHER[habit]), answer.reading.asked)
    low, high = (float(np.broadcast_to(end, bench.size)[answer.row]) for end in bench.envelopes[answer.key])
    would_be = any(low <= c.si <= high for c in otherwise.readings) and not low <= answer.candidate.si <= high
    return ("its comma was read as in other answers; read the other way it would be right",) if would_be else ()


def _evidence(answer: _Answer) -> tuple[Explanation, ...]:
    """Every explanation of the entry that fits, likeliest first."""
    fits, candidates = answer.climbed.fits, answer.place.candidates
    mine = np.flatnonzero(fits.row == answer.row)
    order = mine[np.argsort(-fits.posterior[mine], kind="stable")][:MOST_EVIDENCE]
    return tuple(_explanation(answer, candidates[int(fits.hypothesis[i])], float(fits.posterior[i])) for i in order)


def _explanation(answer: _Answer, h: Hypothesis, sure: float) -> Explanation:
    question = answer.marked.bench.question
    sentence = because(answer.place.place, h, question, answer.read_as, answer.right_text)
    return Explanation(h.verdict, h.method.names, h.marks, sentence, plain(h.method.formula), sure)
