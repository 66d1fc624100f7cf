"""What is set and handed in, as values: students, rules, tasks, sheets, the places for answers, returns."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from enum import StrEnum

from witnessmark.questions.model.kinds import lines_of, results_of
from witnessmark.questions.model.parts import Line, Part
from witnessmark.questions.model.relations import TopicRelations
from witnessmark.questions.sheet.lateness import Late
from witnessmark.questions.sheet.variant import Variant
from witnessmark.words.checks import expect, expect_each_once, expect_marks, expect_share, expect_text, expect_whole


@dataclass(frozen=True, slots=True)
class Student:
    """One student of a class; `more` keeps the further columns of students.csv."""

    code: str
    name: str
    group: str = ""
    more: tuple[tuple[str, str], ...] = ()

    def __post_init__(self) -> None:
        expect_text("code of a student", self.code)


MOST_FIGURES = 9
LEAST_G, USUAL_G, MOST_G = Decimal("9.7"), Decimal("9.81"), Decimal(10)
TAKEN_OFF = (
    "unit_missing", "rounded_early", "wrong_unit", "power_of_ten", "unknown_method", "figures_mark", "most_taken_off",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Rules:
    """The rules of a task. Marks are exact; the defaults are those of the design (section 5).

    `g` is what the task takes for the acceleration of free fall, in m/s². `most_taken_off` bounds
    what several of the deductions take off one answer together; one alone takes what it says.
    """

    figures: int = 3
    carried_forward: bool = True
    unit_missing: Decimal = Decimal("0.5")
    rounded_early: Decimal = Decimal("0.5")
    wrong_unit: Decimal = Decimal(1)
    power_of_ten: Decimal = Decimal(1)
    unknown_method: Decimal = Decimal(0)
    figures_mark: Decimal = Decimal(0)
    half_marks: bool = True
    ask_below: float = 0.9
    most_taken_off: Decimal = Decimal(1)
    g: Decimal = USUAL_G

    def __post_init__(self) -> None:
        expect_whole("figures", self.figures, 1, MOST_FIGURES)
        for name in ("carried_forward", "half_marks"):
            expect(isinstance(getattr(self, name), bool), name, "True or False", getattr(self, name))
        for name in TAKEN_OFF:
            expect_marks(name, getattr(self, name))
        expect_share("ask_below", self.ask_below)
        is_g = isinstance(self.g, Decimal) and self.g.is_finite() and LEAST_G <= self.g <= MOST_G
        expect(is_g, "g", f"a Decimal from {LEAST_G} to {MOST_G}", self.g)


class Which(StrEnum):
    """Which of a student's attempts at a task counts."""

    BEST = "best"
    LAST = "last"
    MEAN = "mean"


class Layout(StrEnum):
    """How a sheet is laid out: each question with room around it, or one after the other, as many as a page holds."""

    ROOMY = "roomy"
    COMPACT = "compact"


MOST_LINES = 30  # of handwriting: a page has no more


@dataclass(frozen=True, slots=True)
class Task:
    """What is set to a class: questions by key in order, a date, rules, what coming late costs, the weight among the
    tasks of the class, which of several attempts counts, how its sheets are laid out, and how many lines of handwriting
    each part has for working; `relations` are what its sheets list, of each topic of its questions."""

    key: str
    title: str
    questions: tuple[str, ...]
    due: date | None = None
    rules: Rules = field(default_factory=Rules)
    late: Late = field(default_factory=Late)
    weight: Decimal = Decimal(1)
    attempts: Which = Which.BEST
    layout: Layout = Layout.ROOMY
    working: int = 0
    relations: tuple[TopicRelations, ...] = ()

    def __post_init__(self) -> None:
        expect_marks("weight", self.weight)
        expect(isinstance(self.attempts, Which), "attempts", "best, last or mean", self.attempts)
        expect(isinstance(self.layout, Layout), "layout", "roomy or compact", self.layout)
        expect_whole("working", self.working, 0, MOST_LINES)
        expect_text("key of a task", self.key)
        expect(bool(self.questions), "questions", "at least one question", self.questions)
        expect_each_once("questions", self.questions)
        expect_each_once("relations", (each.topic for each in self.relations))


EACH_ITS_OWN = ("each-its-own",)
"""The questions of a task of which each sheet has others: a follow-up, made for one student."""


@dataclass(frozen=True, slots=True)
class Ask:
    """One place for an answer: a part, or a line of it that may be left blank (`line` is set)."""

    number: int
    part: Part
    line: Line | None = None

    def __post_init__(self) -> None:
        expect_whole("number of a question", self.number, 1)

    @property
    def key(self) -> str:
        """`1.a` for a part of the first question, `1.a.A_s` for a line."""
        return f"{self.number}.{self.within}"

    @property
    def within(self) -> str:
        """The key inside the question: `a` or `a.A_s`."""
        return f"{self.part.key}.{self.line.name}" if self.line else self.part.key

    @property
    def label(self) -> str:
        """What people see: `1a`, or `1a A_s` for a line."""
        return f"{self.number}{self.part.key} {self.line.name}" if self.line else f"{self.number}{self.part.key}"

    @property
    def has_unit(self) -> bool:
        """True where a number with a unit is wanted, or two of them."""
        return self.line is not None or bool(results_of(self.part))


def label_of_key(key: str) -> str:
    """The label of an ask of this key: `1a A_s` of `1.a.A_s`."""
    number, part, *line = key.split(".", 2) if "." in key else ("", key)
    return " ".join([f"{number}{part}", *line])


def ask_labelled(asks: Iterable[Ask], label: str) -> Ask | None:
    """The one answer of a label or key, None where there is none or no one; capitals are told apart where two lines
    differ in nothing else."""
    wanted = label.strip()
    by_label = {ask.label: ask for ask in asks}.values()
    exact = [ask for ask in by_label if wanted in (ask.label, ask.key)]
    alike = [ask for ask in by_label if wanted.casefold() in (ask.label.casefold(), ask.key.casefold())]
    return (exact or alike)[0] if len(exact or alike) == 1 else None


@dataclass(frozen=True, slots=True)
class Sheet:
    """One student's own copy of a task. `code` is the sheet code with its check character."""

    code: str
    task: Task
    student: Student
    variants: tuple[Variant, ...]
    attempt: int = 1

    def __post_init__(self) -> None:
        expect_text("code of a sheet", self.code)
        expect_whole("attempt", self.attempt, 1)
        drawn = tuple(variant.question.key for variant in self.variants)
        as_set = self.task.questions in (drawn, EACH_ITS_OWN)
        expect(as_set, "variants", f"those of {', '.join(self.task.questions)}", drawn)

    @property
    def asks(self) -> tuple[Ask, ...]:
        """Every place for an answer, in sheet order; lines stand before the part they belong to."""
        found: list[Ask] = []
        for number, variant in enumerate(self.variants, 1):
            for part in variant.question.parts:
                found += [Ask(number, part, line) for line in lines_of(part)]
                found.append(Ask(number, part))
        return tuple(found)


@dataclass(frozen=True, slots=True)
class Entry:
    """What a student entered for one ask: the text as received (number and unit cells joined by a blank), where it
    stood, and what a spreadsheet did to it (`note`), which makes it unreadable when `spoiled`."""

    raw: str
    place: str = ""
    note: str = ""
    spoiled: bool = False

    def __post_init__(self) -> None:
        expect(bool(self.note) or not self.spoiled, "note", "what a spreadsheet did to a spoiled entry", self.note)

    @property
    def is_filled(self) -> bool:
        """True where something stands in the cell, also what a spreadsheet spoiled."""
        return bool(self.raw.strip() or self.note or self.spoiled)


NOTE = "note"
"""The key under which a return keeps what the student wrote to the teacher: it answers nothing and is never marked."""


@dataclass(frozen=True, slots=True)
class Return:
    """One student's answers as received, by ask key (`1.a`), with a note to the teacher under `NOTE` where there is
    one, and the file they came in."""

    sheet_code: str
    file: str
    entries: tuple[tuple[str, Entry], ...]

    def __post_init__(self) -> None:
        expect_text("code of a sheet", self.sheet_code)
        expect_each_once("entries", (key for key, _ in self.entries))

    @property
    def answers(self) -> tuple[tuple[str, Entry], ...]:
        """The entries that answer something: all but the note."""
        return tuple((key, entry) for key, entry in self.entries if key != NOTE)

    @property
    def note(self) -> Entry | None:
        """What the student wrote to the teacher; None where nothing was written."""
        return next((entry for key, entry in self.entries if key == NOTE and entry.is_filled), None)
