"""The job `explain`: one answer of one student, with everything that its mark rests on, read from the record."""

from dataclasses import dataclass, replace
from pathlib import Path

from witnessmark.documents.kinds.dispatch import right_text
from witnessmark.jobs.moderating import ask_of, sheet_of
from witnessmark.jobs.opened import open_class
from witnessmark.marking.outcome import Explanation, Outcome
from witnessmark.questions.model.kinds import carried_by
from witnessmark.questions.sheet.placeholders import filled
from witnessmark.questions.sheet.right_texts import asked_text, given_texts, relation_text
from witnessmark.questions.sheet.task import Ask, Entry, Return, Sheet
from witnessmark.questions.working.envelope_steps import EnvelopeExplained
from witnessmark.record.record import Record
from witnessmark.record.rows import JournalRow, Moderation, Noted


@dataclass(frozen=True, slots=True)
class Asked:
    """What was asked, in the student's own numbers, and what is right there; `relation` and `envelope` where a number
    is asked."""

    title: str
    setting: str
    text: str
    givens: tuple[tuple[str, str], ...]
    right: str
    relation: str
    envelope: EnvelopeExplained | None


@dataclass(frozen=True, slots=True)
class AnswerExplained:
    """One answer: the sheet, what was asked, what was typed (and in which file), the outcome as it stands, the
    machine's own, the teacher's moderation, the history of the mark, the own results that may be carried into it, and
    what the student wrote to the teacher with this sheet.

    Without a return `entry` is None, without marking `outcome` and `machine` are.
    """

    sheet: str
    student: str
    name: str
    task: str
    label: str
    asked: Asked
    file: str
    entry: Entry | None
    outcome: Outcome | None
    machine: Outcome | None
    moderation: Moderation | None
    earlier: tuple[tuple[str, str], ...]
    history: tuple[JournalRow, ...]
    notes: tuple[Noted, ...] = ()

    @property
    def fits(self) -> tuple[Explanation, ...]:
        """Every explanation that fitted, likeliest first; those that say the same are one, with their shares added."""
        found: dict[tuple[str, ...], Explanation] = {}
        for fit in self.machine.evidence if self.machine else ():
            says = (fit.verdict, fit.sentence, *fit.misconceptions)
            found[says] = replace(fit, sure=fit.sure + found[says].sure) if says in found else fit
        return tuple(sorted(found.values(), key=lambda fit: -fit.sure))

    @property
    def rest(self) -> float:
        """The share of belief that no explanation shown has: none of them, or weaker ones."""
        return max(1.0 - sum(fit.sure for fit in self.fits), 0.0)


def explain(class_path: Path, code: str, label: str) -> AnswerExplained:
    """Everything about one answer (label `1a`, `1a A_s`) of a sheet; raises ProblemsFound for an unknown one."""
    opened = open_class(class_path)
    with opened.record() as record:
        sheet = sheet_of(record, class_path, code)
        return _explained(record, sheet, ask_of(sheet, label))


def _explained(record: Record, sheet: Sheet, ask: Ask) -> AnswerExplained:
    task = sheet.task.key
    standing = record.outcomes(task, sheet.code).get(sheet.code, {})
    handed_in = next(iter(record.returns(task, sheet.code)), None)
    return AnswerExplained(
        sheet.code, sheet.student.code, sheet.student.name, task, ask.label, _asked(sheet, ask),
        handed_in.file if handed_in else "", _entry(handed_in, ask), standing.get(ask.key),
        record.proposals(task, sheet.code).get(sheet.code, {}).get(ask.key),
        record.moderations(task, sheet.code).get(sheet.code, {}).get(ask.key),
        tuple((a.label, o.read_as) for a in _before(sheet, ask) if (o := standing.get(a.key)) and o.read_as),
        record.journal(task, sheet.code, ask.key),
        record.notes(task, sheet.code),
    )  # fmt: skip


def _entry(handed_in: Return | None, ask: Ask) -> Entry | None:
    """What was typed; an empty entry where the return has none for this answer."""
    return None if handed_in is None else dict(handed_in.entries).get(ask.key, Entry(""))


def _asked(sheet: Sheet, ask: Ask) -> Asked:
    variant, figures = sheet.variants[ask.number - 1], sheet.task.rules.figures
    question = variant.question
    is_number = ask.within in variant.expected_si
    return Asked(
        question.title, filled(question.setting, variant), asked_text(variant, ask.part, ask.line),
        given_texts(variant), right_text(variant, ask.part, ask.line, figures),
        relation_text(question, ask.part, ask.line) if is_number else "",
        variant.explains(ask.within, figures) if is_number else None,
    )  # fmt: skip


def _before(sheet: Sheet, ask: Ask) -> tuple[Ask, ...]:
    """The asks whose own results may be carried into this one: the lines of its part before it, and what it carries."""
    mine = [a for a in sheet.asks if a.number == ask.number]
    lines = [a for a in mine if a.line and a.part.key == ask.part.key]
    if ask.line:
        lines = lines[: [a.key for a in lines].index(ask.key)]
    return (*(a for a in mine if a.line is None and a.part.key in carried_by(ask.part)), *lines)
