"""What a student gets back: marks, what happened in their own numbers, what to look at again, the working.

Notes for the teacher, evidence, degrees of certainty, and likeness to another sheet are never shown here.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal

from witnessmark.documents.feedback.verdict_words import sentence_of, speaks_otherwise, standing, tone_of
from witnessmark.documents.kinds.dispatch import manner_of, solution_blocks
from witnessmark.documents.page.blocks import (
    Ask,
    Block,
    Caution,
    Document,
    Heading,
    Inset,
    Keep,
    Maths,
    Note,
    Paragraph,
    Readings,
    Result,
    Run,
    Runs,
    Table,
    TitleBlock,
    Tone,
    Words,
    words,
)
from witnessmark.documents.page.wordings import (
    GENERAL_CAUTION,
    filled,
    listed,
    marks_of,
    marks_text,
    marks_words,
    paragraphs,
    student_field,
    symbols_of,
)
from witnessmark.documents.sheet.asking import asked_runs
from witnessmark.documents.sheet.readings import readings_block
from witnessmark.marking.outcome import Outcome, SheetOutcomes, Verdict
from witnessmark.marking.standing import AttemptStanding
from witnessmark.maths.printing.pieces import letter
from witnessmark.questions.model.kinds import lines_of, meaning_of
from witnessmark.questions.model.parts import Line, Part
from witnessmark.questions.model.question import Misconception
from witnessmark.questions.model.table import MeasuredTable
from witnessmark.questions.sheet.task import Ask as TaskAsk
from witnessmark.questions.sheet.task import Sheet
from witnessmark.questions.sheet.variant import Variant

POWERS = str.maketrans("²³", "23")
WORKED, WORKED_FROM_RIGHT = "How it works with your numbers", "How it works from the right earlier result"
NOT_COUNTED = "not counted"
NOTHING_COUNTS = "none to earn: it was set aside for everybody"
FROM_TEACHER = "Your teacher writes"
Misconceptions = Mapping[str, Misconception]
Worked = Mapping[int, Mapping[str, float]]


def feedback_document(
    sheet: Sheet,
    outcomes: SheetOutcomes,
    worked: Worked | None = None,
    misconceptions: Misconceptions | None = None,
    with_name: bool = False,
    days: AttemptStanding | None = None,
) -> Document:
    """The feedback on one sheet; `days` tell when it came in and what lateness took off.

    `outcomes` are by ask key (`1.a`, `1.a.A_s`), as moderated; `worked` holds, by number of the question, the right
    values in SI by key within it (`a`, `a.A_s`), `misconceptions` what to say by key; where they are not given, they
    come from the sheet's own variants. A part without an outcome is left out.
    """
    known = misconceptions or {key: m for v in sheet.variants for key, m in v.question.misconceptions.items()}
    marked = [place for place in sheet.asks if place.line is None and place.key in outcomes]
    blocks: list[Block] = [_title_block(sheet, marked, outcomes, with_name, days)]
    blocks += [*_summary(marked, outcomes, known), *_overview(sheet, marked, outcomes), Caution(GENERAL_CAUTION)]
    for number, variant in enumerate(sheet.variants, 1):
        values = worked[number] if worked else variant.expected_si
        blocks += _Marked(number, variant, outcomes, values, known, sheet.task.rules.figures).question()
    title = f"{sheet.task.title}: feedback on sheet {sheet.code}"
    return Document(title, _each_remark_once(blocks), sheet.code, f"{sheet.task.title}, feedback")


def _each_remark_once(blocks: Iterable[Block]) -> tuple[Block, ...]:
    """The blocks without the sentences of notes that stood in an earlier note."""
    told: set[Run] = set()

    def kept(block: Block) -> Block | None:
        if isinstance(block, Note):
            runs = tuple(run for run in block.runs if run not in told)
            told.update(runs)
            return replace(block, runs=runs) if runs else None
        if isinstance(block, Inset | Keep):
            return replace(block, blocks=tuple(b for inner in block.blocks if (b := kept(inner))))
        return block

    return tuple(b for block in blocks if (b := kept(block)))


def total_of_outcomes(sheet: Sheet, outcomes: SheetOutcomes) -> tuple[Decimal, Decimal]:
    """Marks earned and marks available over the parts that have an outcome."""
    return _sums([outcomes[p.key] for p in sheet.asks if p.line is None and p.key in outcomes])


def _sums(found: list[Outcome]) -> tuple[Decimal, Decimal]:
    return sum((o.marks for o in found), Decimal(0)), sum((o.out_of for o in found), Decimal(0))


def _title_block(
    sheet: Sheet, marked: list[TaskAsk], outcomes: SheetOutcomes, with_name: bool, days: AttemptStanding | None
) -> TitleBlock:
    earned, out_of = total_of_outcomes(sheet, outcomes)
    marks = marks_of(earned, out_of) if out_of else NOTHING_COUNTS
    fields = [("For", student_field(sheet.student, with_name)), ("Marks", marks)]
    if days is not None and days.days_late and days.counts is not None:
        late = "1 day" if days.days_late == 1 else f"{days.days_late} days"
        cost = f", {marks_words(days.off)} off: {marks_text(days.counts)} count" if days.off else ""
        fields.append(("Late", f"{late}{cost}"))
    waiting = [p for p in marked if outcomes[p.key].is_waiting]
    if waiting:
        open_marks = sum((outcomes[p.key].out_of for p in waiting), Decimal(0))
        fields.append(("Still with your teacher", f"{listed([p.label for p in waiting])}, {marks_words(open_marks)}"))
    return TitleBlock("Feedback", sheet.task.title, sheet.code, tuple(fields))


def _summary(marked: list[TaskAsk], outcomes: SheetOutcomes, known: Misconceptions) -> tuple[Block, ...]:
    """What is right, and what to look at first: the part with the most marks to gain."""
    right = [p.label for p in marked if tone_of(outcomes[p.key]) is Tone.RIGHT]
    again = [p for p in marked if tone_of(outcomes[p.key]) in (Tone.PART, Tone.AGAIN)]
    blank = [p.label for p in marked if outcomes[p.key].verdict is Verdict.BLANK]
    runs: Runs = ()
    if right and len(right) == len(marked):
        runs += (Words("Everything is right. Well worked."),)
    elif right:
        runs += (Words(f"{listed(right)} {'are' if len(right) > 1 else 'is'} right. "),)
    if again:
        first = max(again, key=lambda p: outcomes[p.key].out_of - outcomes[p.key].marks)
        runs += (Words(f"Look first at {first.label}.", strong=True), Words(f" {_advice(outcomes[first.key], known)} "))
    if blank:
        runs += (Words(f"Nothing was entered for {listed(blank)}; the working below shows a way in."),)
    return (Paragraph(runs),) if runs else ()


def _advice(outcome: Outcome, known: Misconceptions) -> str:
    said = outcome.teacher.say if outcome.teacher else ""
    named = () if speaks_otherwise(outcome) else outcome.misconceptions
    return said or " ".join(known[m].say for m in named if m in known) or sentence_of(outcome)


def _overview(sheet: Sheet, marked: list[TaskAsk], outcomes: SheetOutcomes) -> tuple[Table, ...]:
    rows = []
    for place in marked:
        outcome, variant = outcomes[place.key], sheet.variants[place.number - 1]
        asked = meaning_of(place.part) or filled(place.part.ask, variant)
        rows.append((words(place.label), words(asked), words(standing(outcome)), words(_marks(outcome))))
    table = Table(("Part", "Asked", "How it stands", "Marks"), tuple(rows), frozenset({3}), wide=1)
    return (table,) if rows else ()


def _marks(outcome: Outcome) -> str:
    """Marks of those available; `open` while the teacher has not looked."""
    if outcome.verdict is Verdict.SET_ASIDE and not outcome.out_of:
        return NOT_COUNTED
    return "open" if outcome.is_waiting else marks_of(outcome.marks, outcome.out_of)


@dataclass(frozen=True, slots=True)
class _Marked:
    """One marked question of a sheet."""

    number: int
    variant: Variant
    outcomes: SheetOutcomes
    values: Mapping[str, float]
    known: Misconceptions
    figures: int

    def outcome(self, part: Part, line: Line | None = None) -> Outcome | None:
        return self.outcomes.get(TaskAsk(self.number, part, line).key)

    def question(self) -> list[Block]:
        """Heading, setting, and every part that was marked."""
        question = self.variant.question
        mine = [o for part in question.parts if (o := self.outcome(part))]
        if not mine:
            return []
        earned, out_of = _sums(mine)
        heading = Heading(question.title, 2, str(self.number), marks_of(earned, out_of) if out_of else NOT_COUNTED)
        told = [Paragraph(words(filled(p, self.variant))) for p in paragraphs(question.setting)]
        marked = [(part, outcome) for part in question.parts if (outcome := self.outcome(part))]
        blocks: list[Block] = [Keep((heading, *told, self.readings(question.table)))] if question.table else []
        for part, outcome in marked:
            opening: tuple[Block, ...] = () if blocks else (heading, *told)
            blocks.append(Keep((*opening, *self.part(part, outcome), self.solution(part, outcome))))
        return blocks

    def readings(self, table: MeasuredTable) -> Readings:
        """The table that the working draws on, with what was entered in its cells."""
        entered = {part.key: o.raw for part in self.variant.question.parts if (o := self.outcome(part))}
        return readings_block(table, self.variant, entered)

    def part(self, part: Part, outcome: Outcome) -> list[Block]:
        """What was asked, what was entered, the marks, the reason, what to look at again."""
        steps = [
            (line, o) for line in lines_of(part) if (o := self.outcome(part, line)) and o.verdict is not Verdict.BLANK
        ]
        blocks: list[Block] = [Ask(part.key, asked_runs(self.variant, part))]
        blocks += [_result(o, (*self.step(line), Words(f", {line.is_}"))) for line, o in steps]
        blocks.append(_result(outcome, words("Your answer")))
        reasons = [(*self.step(line), Words(f": {sentence_of(o)}")) for line, o in steps if not _is_plain(o)]
        if _says_more(outcome):
            reasons.append(words(sentence_of(outcome)))
        blocks += [Paragraph(runs, under=True) for runs in reasons]
        return [*blocks, *self.from_teacher(steps, outcome), *self.advice([*(o for _, o in steps), outcome])]

    def step(self, line: Line) -> Runs:
        return (Words("Step "), Maths(letter(line.name, symbols_of(self.variant.question))))

    def from_teacher(self, steps: list[tuple[Line, Outcome]], outcome: Outcome) -> list[Block]:
        """What the teacher wrote for the student about a step or the answer."""
        of_steps = [(*self.step(line), Words(f": {o.teacher.say}")) for line, o in steps if o.teacher and o.teacher.say]
        own = [words(outcome.teacher.say)] if outcome.teacher and outcome.teacher.say else []
        written = tuple(Paragraph(runs) for runs in (*of_steps, *own))
        return [Inset(FROM_TEACHER, written)] if written else []

    def advice(self, outcomes: list[Outcome]) -> list[Block]:
        """How entries were read where that took a repair, and what each named misconception calls for."""
        blocks: list[Block] = []
        if repairs := dict.fromkeys(f"{repair.rstrip('.')}. " for o in outcomes for repair in o.repairs):
            blocks.append(Note(tuple(Words(repair, quiet=True) for repair in repairs), under=True))
        named = [o for o in outcomes if not speaks_otherwise(o)]
        if again := dict.fromkeys(m for o in named for m in o.misconceptions if m in self.known):
            says = tuple(Paragraph(words(self.known[m].say)) for m in again)
            blocks.append(Inset("Look at this again", says))
        return blocks

    def solution(self, part: Part, outcome: Outcome) -> Inset:
        worked = WORKED_FROM_RIGHT if outcome.verdict is Verdict.CARRIED_FORWARD else WORKED
        title = "" if _is_plain(outcome) else (manner_of(part).title or worked)
        return Inset(title, solution_blocks(self.variant, part, self.values, self.figures))


def _is_plain(outcome: Outcome) -> bool:
    """True where the row with the entry and its marks says it all: right, with all marks."""
    return outcome.verdict is Verdict.RIGHT and outcome.marks >= outcome.out_of


def _says_more(outcome: Outcome) -> bool:
    """True where the sentence of an outcome says more than its row."""
    return not _is_plain(outcome) and outcome.verdict is not Verdict.BLANK


def _bare(text: str) -> str:
    """What was entered without what nobody would call a difference: blanks, and how a power is written."""
    return "".join(text.split()).replace("^", "").translate(POWERS)


def _result(outcome: Outcome, what: Runs) -> Result:
    typed, read = outcome.raw.strip(), outcome.read_as.strip()
    shown = "" if _bare(read) == _bare(typed) else read
    marks = _marks(outcome) if outcome.out_of else ""
    return Result(tone_of(outcome), standing(outcome), marks, typed, shown, what)
