"""What the gradebook of a task shows, as values: a row for each student, a row for each answer, who shows what."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from decimal import Decimal

from witnessmark.marking.outcome import ClassOutcomes, Outcome, Verdict
from witnessmark.marking.standing import AttemptStanding, marks_available
from witnessmark.questions.model.parts import HandPart
from witnessmark.questions.model.question import Misconception
from witnessmark.questions.sheet.class_table_columns import asks_of
from witnessmark.questions.sheet.gradebook_columns import state_mark
from witnessmark.questions.sheet.lateness import Late
from witnessmark.questions.sheet.task import EACH_ITS_OWN, Ask, Sheet
from witnessmark.record.rows import Moderation, Noted
from witnessmark.review.facility import facility
from witnessmark.review.sightings import sightings

Moderations = Mapping[str, Mapping[str, Moderation]]
"""A teacher's marks by sheet code and ask key."""


@dataclass(frozen=True, slots=True)
class NoteRow:
    """What one student wrote to the teacher with a sheet: the words as they were typed, and the day they came."""

    student: str
    name: str
    sheet_code: str
    received: date
    words: str


EACH_OWN = "each their own"
"""The title of a column where every sheet asks another question."""
COUNTED = "yes"
"""What stands beside an answer that counts into the facility of its part."""


@dataclass(frozen=True, slots=True)
class QuestionColumn:
    """One question of the task: its number on the sheet, its title, the marks that it gives."""

    number: int
    title: str
    out_of: Decimal


@dataclass(frozen=True, slots=True)
class StudentRow:
    """One student: marks by question in the order of the columns (None where nothing came back), what waits, how many
    answers have no mark before the teacher gives one (`unmarked`), the days with what lateness took off, and why the
    task stays `out` of the student's marks (absent, exempt, left), if it does. `own_out_of` are the marks of this sheet
    where each asks its own."""

    code: str
    name: str
    group: str
    sheet_code: str
    marks: tuple[Decimal | None, ...]
    in_tray: int
    unmarked: int = 0
    days: AttemptStanding | None = None
    out: str = ""
    own_out_of: Decimal | None = None

    @property
    def returned(self) -> bool:
        """True when a return was marked."""
        return any(m is not None for m in self.marks)

    @property
    def total(self) -> Decimal | None:
        """All marks together; None where nothing came back."""
        return sum((m for m in self.marks if m is not None), Decimal(0)) if self.returned else None

    @property
    def state(self) -> str:
        """`marked`, `waiting` (for the teacher) or `not returned`; or why the task stays out."""
        if self.out:
            return self.out
        if not self.returned:
            return "not returned"
        return "waiting" if self.in_tray else "marked"


@dataclass(frozen=True, slots=True)
class PartRow:
    """One answer: what was typed, what it was read as, what it earned and why. `machine_marks` is the proposal; what is
    not `is_marked` waits for the teacher's mark and counts into no facility. `moderation` is the teacher's own mark;
    `criteria` are those of a part that is marked by hand."""

    student: str
    sheet_code: str
    label: str
    raw: str
    read_as: str
    verdict: str
    marks: Decimal
    out_of: Decimal
    machine_marks: Decimal
    because: str
    misconceptions: str
    sure: float
    in_tray: str
    notes: str = ""
    is_line: bool = False
    is_marked: bool = True
    moderation: Moderation | None = None
    criteria: tuple[tuple[str, Decimal], ...] = ()

    @property
    def counted(self) -> str:
        """Whether it counts into the facility of its part; see `COUNTED`."""
        if self.verdict == Verdict.SET_ASIDE:
            return "set aside"
        return COUNTED if self.is_marked else "not yet"

    @property
    def state(self) -> str:
        """What tells whether this answer has changed since; see `state_of`."""
        return state_of(self.marks, self.raw, self.moderation)


@dataclass(frozen=True, slots=True)
class PartColumn:
    """How hard one answer was: mean marks over marks available (0 to 1) over those who returned a sheet, `answers` of
    them; `waiting` ones wait for the teacher's mark and are left out. None where none is marked yet."""

    label: str
    facility: float | None
    answers: int
    waiting: int = 0


@dataclass(frozen=True, slots=True)
class MisconceptionRow:
    """One misconception: what the student believes, and how often each student shows it, in the order of students."""

    key: str
    believes: str
    counts: tuple[int, ...]

    @property
    def words(self) -> str:
        """What the student believes; the key where the bank knows no words for it any more."""
        return self.believes or self.key

    @property
    def students(self) -> int:
        """How many students show it."""
        return sum(count > 0 for count in self.counts)


@dataclass(frozen=True, slots=True)
class GradebookData:
    """The gradebook of one task."""

    class_title: str
    task_title: str
    questions: tuple[QuestionColumn, ...]
    students: tuple[StudentRow, ...]
    parts: tuple[PartRow, ...]
    facilities: tuple[PartColumn, ...]
    misconceptions: tuple[MisconceptionRow, ...]
    late: Late = field(default_factory=Late)
    half_marks: bool = True
    notes: tuple[NoteRow, ...] = ()

    @property
    def has_days(self) -> bool:
        """True where any sheet had a day on which it was due."""
        return any(student.days is not None and student.days.due is not None for student in self.students)

    @property
    def has_own_questions(self) -> bool:
        """True of a follow-up, in which each sheet asks its own and has marks of its own."""
        return any(student.own_out_of is not None for student in self.students)

    @property
    def out_of(self) -> Decimal:
        """The marks of the whole task."""
        return sum((question.out_of for question in self.questions), Decimal(0))


def state_of(marks: Decimal, raw: str, moderation: Moderation | None) -> str:
    """What tells whether the mark that stands for an answer, its entry or the teacher's words have changed since."""
    m = moderation
    said = (m.who, m.why, m.say, *(f"{one.normalize():f}" for one in m.criteria)) if m else None
    return state_mark(marks, raw, said)


def gradebook_data(
    class_title: str, sheets: Sequence[Sheet], outcomes: ClassOutcomes, proposals: ClassOutcomes | None = None,
    moderations: Moderations | None = None, days: Mapping[str, AttemptStanding] | None = None,
    out: Mapping[str, str] | None = None, notes: Sequence[Noted] = (),
) -> GradebookData:  # fmt: skip
    """The gradebook of one task from its sheets and the outcomes of those that came back.

    `proposals` are the machine's own outcomes, where a teacher's marks (`moderations`) stand in `outcomes`; left out,
    nothing was moderated. A student with several sheets has a row for each. `days` tell, by sheet code, when each was
    due and came; `out`, by student code, why the task stays out of somebody's marks; `notes` are students' own words
    to the teacher.
    """
    columns, is_own = _columns(sheets, outcomes), _asks_its_own(sheets)
    return GradebookData(
        class_title,
        sheets[0].task.title if sheets else "",
        columns,
        tuple(
            replace(
                _student(sheet, columns, outcomes.get(sheet.code, {})),
                days=(days or {}).get(sheet.code),
                out=(out or {}).get(sheet.student.code, ""),
                own_out_of=marks_available(sheet, {}) if is_own else None,
            )
            for sheet in sheets
        ),
        tuple(row for sheet in sheets for row in _parts(sheet, outcomes, proposals or outcomes, moderations or {})),
        _facilities(sheets, outcomes),
        _misconceptions(sheets, outcomes),
        sheets[0].task.late if sheets else Late(),
        sheets[0].task.rules.half_marks if sheets else True,
        tuple(_note(sheet, note) for sheet in sheets for note in notes if note.sheet == sheet.code),
    )


def _note(sheet: Sheet, note: Noted) -> NoteRow:
    student, day = sheet.student, note.received.astimezone().date()
    return NoteRow(student.code, student.name, sheet.code, day, note.words)


def _columns(sheets: Sequence[Sheet], outcomes: ClassOutcomes) -> tuple[QuestionColumn, ...]:
    """The questions in order; a part that was set aside gives what its outcomes give, which may be nothing."""
    gives = {key: o.out_of for by_ask in outcomes.values() for key, o in by_ask.items()}
    found: dict[int, QuestionColumn] = {}
    for sheet in sheets:
        for number, variant in enumerate(sheet.variants, 1):
            parts = variant.question.parts
            total = sum((gives.get(Ask(number, part).key, part.marks) for part in parts), Decimal(0))
            title = EACH_OWN if _asks_its_own(sheets) else variant.question.title
            found.setdefault(number, QuestionColumn(number, title, total))
    return tuple(found[number] for number in sorted(found))


def _asks_its_own(sheets: Sequence[Sheet]) -> bool:
    return any(sheet.task.questions == EACH_ITS_OWN for sheet in sheets)


def _student(sheet: Sheet, columns: Sequence[QuestionColumn], outcomes: Mapping[str, Outcome]) -> StudentRow:
    marks: dict[int, Decimal] = {}
    for ask in sheet.asks:
        if ask.key in outcomes and counts(ask):
            marks[ask.number] = marks.get(ask.number, Decimal(0)) + outcomes[ask.key].marks
    earned = tuple(marks.get(column.number) for column in columns)
    waiting = sum(bool(outcome.in_tray) for outcome in outcomes.values())
    unmarked = sum(outcome.is_waiting for outcome in outcomes.values())
    student = sheet.student
    return StudentRow(student.code, student.name, student.group, sheet.code, earned, waiting, unmarked)


def counts(ask: Ask) -> bool:
    """True of a part, whose marks hold those of its lines."""
    return ask.line is None


def _parts(sheet: Sheet, outcomes: ClassOutcomes, proposals: ClassOutcomes, moderations: Moderations) -> list[PartRow]:
    marked, proposed = outcomes.get(sheet.code, {}), proposals.get(sheet.code, {})
    mine, known = moderations.get(sheet.code, {}), _known([sheet])
    return [
        replace(
            _part(sheet, ask, marked[ask.key], proposed.get(ask.key, marked[ask.key]), known),
            moderation=mine.get(ask.key), criteria=criteria_of(ask),
        )
        for ask in sheet.asks
        if ask.key in marked
    ]  # fmt: skip


def criteria_of(ask: Ask) -> tuple[tuple[str, Decimal], ...]:
    """What a part that is marked by hand is looked at for, each with its marks; none for any other answer."""
    return ask.part.criteria if isinstance(ask.part, HandPart) else ()


def _part(sheet: Sheet, ask: Ask, outcome: Outcome, proposal: Outcome, known: Mapping[str, Misconception]) -> PartRow:
    believed = " / ".join(known[m].believes if m in known else m for m in outcome.misconceptions)
    return PartRow(
        sheet.student.code, sheet.code, ask.label, outcome.raw, outcome.read_as, outcome.verdict.value, outcome.marks,
        outcome.out_of, proposal.marks, outcome.because, believed, outcome.sure,
        "; ".join(outcome.in_tray), "; ".join((*outcome.repairs, *outcome.notes)), ask.line is not None,
        not outcome.is_waiting,
    )  # fmt: skip


def _known(sheets: Sequence[Sheet]) -> dict[str, Misconception]:
    return {
        key: m for sheet in sheets for variant in sheet.variants for key, m in variant.question.misconceptions.items()
    }


def _facilities(sheets: Sequence[Sheet], outcomes: ClassOutcomes) -> tuple[PartColumn, ...]:
    """In the order of the sheet, those last of which no answer is marked yet."""
    found = []
    for ask in asks_of(sheets):
        marked = [outcomes[s.code][ask.key] for s in sheets if ask.key in outcomes.get(s.code, {})]
        share, waiting = facility(marked, with_waiting=False), sum(outcome.is_waiting for outcome in marked)
        if share is not None or (waiting and waiting == len(marked)):
            found.append(PartColumn(ask.label, share, len(marked) - waiting, waiting))
    return tuple(sorted(found, key=lambda part: part.facility is None))


def _misconceptions(sheets: Sequence[Sheet], outcomes: ClassOutcomes) -> tuple[MisconceptionRow, ...]:
    """Most students first; a student who shows one in several answers is counted by answers in their own column."""
    known, rows = _known(sheets), []
    for key, seen in sightings(sheets, outcomes).items():
        count = Counter(marked.sheet.code for marked in seen)
        believes = known[key].believes if key in known else ""
        rows.append(MisconceptionRow(key, believes, tuple(count[sheet.code] for sheet in sheets)))
    return tuple(sorted(rows, key=lambda row: (-row.students, -sum(row.counts), row.key)))
