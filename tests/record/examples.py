"""An invented class for the tests of the record: one question with a line, a table, a judgement; sheets; outcomes."""

from collections.abc import Sequence
from datetime import UTC, date, datetime
from decimal import Decimal

from witnessmark.marking.outcome import Explanation, Outcome, Verdict
from witnessmark.maths.syntax import Comparison, Name, Number, parse
from witnessmark.questions.checking.accepted_slips import AcceptedSlip
from witnessmark.questions.model.parts import JudgePart, Line, QuantityPart
from witnessmark.questions.model.question import Given, Misconception, Question, RowGiven, Table
from witnessmark.questions.sheet.task import Entry, Return, Rules, Sheet, Student, Task
from witnessmark.questions.sheet.variant import Shown, Variant

NOW = datetime(2027, 2, 1, 9, 30, tzinfo=UTC)
LATER = datetime(2027, 2, 8, 17, 5, tzinfo=UTC)
FORCE = QuantityPart(
    "a", "Find the force.", Decimal(3), "force", "F", "kN",
    lines=(Line("A_s", "sheared area", "mm^2", parse("pi*d*t"), Decimal(1)),), answer=parse("tau*A_s"),
)  # fmt: skip
STANDS = JudgePart("b", "Does it stand?", Decimal(1), Comparison("<", Name("F"), Number("100000")))
METALS = Table("metals", "invented", {"strength": "MPa"}, {"mild steel": {"strength": Decimal(300)}})


def question(key: str = "drain-hole", source: str = "the whole text of the question") -> Question:
    """A question about a punched hole; its text is what the record stores."""
    givens = (
        Given("tau", "strength", "MPa", value=parse("material.strength")),
        Given("d", "hole diameter", "mm", one_of=(Decimal(10), Decimal("20.0"))),
        Given("t", "plate thickness", "mm", span=(Decimal(1), Decimal(8), Decimal("0.5"))),
    )
    return Question(
        key, "Punching", "shear", 1, "A plate {t} thick.", givens, (RowGiven("material", "metals"),), (),
        (FORCE, STANDS), {"metals": METALS}, fingerprint=f"fingerprint of {key}", source=f"{key}: {source}",
    )  # fmt: skip


QUESTIONS = {q.source: q for q in (question(), question("rivet"))}


def from_bundle(text: str) -> Question:
    """The question of a stored text."""
    return QUESTIONS[text]


def variant(of: Question, n: int = 0) -> Variant:
    """The n-th variant."""
    shown = {
        "material.strength": Shown(Decimal(300), "MPa"),
        "tau": Shown(Decimal(300), "MPa"),
        "d": Shown(Decimal("20.0") + n, "mm"),
        "t": Shown(Decimal(5), "mm"),
    }
    return Variant(of, shown, {"material": "mild steel"})


def task(key: str = "shear-1", rules: Rules | None = None) -> Task:
    """A task of two questions."""
    return Task(key, "Shear and punching", ("drain-hole", "rivet"), date(2027, 3, 5), rules or Rules())


STUDENTS = (
    Student("A1", "Kim Dekker", "Westhaven", (("phone", "none"),)),
    Student("A2", "Åsa Öberg", "Norrvik"),
    Student("B1", "Tomás Ó Sé", "Westhaven"),
)


def sheets(of: Task | None = None, students: Sequence[Student] = STUDENTS, attempt: int = 1) -> tuple[Sheet, ...]:
    """A sheet for each student."""
    of = of or task()
    drawn = [tuple(variant(q, n) for q in QUESTIONS.values()) for n, _ in enumerate(students)]
    return tuple(
        Sheet(f"{of.key}-{student.code}-{attempt}", of, student, variants, attempt)
        for student, variants in zip(students, drawn, strict=True)
    )


def handed_in(sheet: Sheet, force: str = "94.2 kN", file: str = "", **more: str) -> Return:
    """A return with a force and, by ask key with _ for the dot, further entries."""
    entries = {"1.a": force, **{key.replace("_", ".", 1).removeprefix("x"): text for key, text in more.items()}}
    made = tuple((key, Entry(text, f"B{n}")) for n, (key, text) in enumerate(entries.items(), 2))
    return Return(sheet.code, file or f"{sheet.student.code}.xlsx", made)


def outcome(marks: str = "3", verdict: Verdict = Verdict.RIGHT, **more: object) -> Outcome:
    """An outcome of three marks."""
    made = Outcome(Decimal(marks), Decimal(3), verdict, f"Said of {marks}.", raw="94.2 kN", read_as="94.2 kN")
    return _with(made, more)


def _with(made: Outcome, more: dict[str, object]) -> Outcome:
    fields = {name: getattr(made, name) for name in made.__slots__}
    return Outcome(**{**fields, **more})


def slip(marks: str = "1", misconception: str = "face-for-edge", **more: object) -> Outcome:
    """An outcome that names a misconception, with the evidence for it."""
    fits = Explanation(Verdict.SLIP, (misconception,), Decimal(marks), "The face was taken.", "tau*pi*d**2/4", 0.97)
    return outcome(marks, Verdict.SLIP, misconceptions=(misconception,), sure=0.97, evidence=(fits,), **more)


def accepted(key: str = "both-faces", answer: str = "2*tau*pi*d*t", keeps: str = "1", **more: str) -> AcceptedSlip:
    """A slip that was accepted for part a of the first question."""
    said = Misconception(key, "", "", "Count the edges that are cut.", kit=("slug",))
    return AcceptedSlip("drain-hole", "a", said, answer, Decimal(keeps), **more)
