"""The entries behind the numbers of a year: what each misconception showed in, and every answer of every task."""

from witnessmark.documents.page.blocks import Block, Folded, Heading, Note, Run, Runs, Table, Typed, Words, words
from witnessmark.documents.page.wordings import date_text, marks_of
from witnessmark.documents.year.naming import Naming, answers_of, entries_of, named
from witnessmark.questions.sheet.task import Sheet
from witnessmark.review.sightings import marked_answers
from witnessmark.review.year.chances import Chance
from witnessmark.review.year.history import SetTask
from witnessmark.review.year.recurrence import YearRecurrence
from witnessmark.review.year.year_review import YearReview

SURE = 0.9


def entries_blocks(review: YearReview, naming: Naming) -> list[Block]:
    """A table for each misconception that was seen, then one for each task."""
    seen = [r for r in review.recurrences if r.seen]
    blocks: list[Block] = [Heading("The entries behind the numbers")]
    blocks += [Note(words("What was typed, as it was typed. Figures above lead here."))]
    for recurrence in seen:
        blocks += _seen(recurrence, naming)
    for place, task in enumerate(review.year.tasks if naming.has_answers else ()):
        blocks += _task(place, task, naming)
    return blocks


def _seen(recurrence: YearRecurrence, naming: Naming) -> list[Block]:
    rows = tuple(_entry(chance, naming) for chance in recurrence.seen)
    could = set(recurrence.could) - set(recurrence.students)
    heading = Heading(named(recurrence.key), 3, anchor=entries_of(recurrence.key))
    table = Table(("Student", "Task", "Answer", "Entered"), rows, wide=3, whole=frozenset({0, 1, 2}))
    if not could:
        return [heading, table, Note(words("Nobody had the chance and did not show it."))]
    others = Note(words(f"{naming.all(sorted(could))}."))
    return [heading, table, Folded(f"{len(could)} had the chance and did not show it", (others,))]


def _entry(chance: Chance, naming: Naming) -> tuple[Runs, ...]:
    sure = () if chance.sure >= SURE else (Words(f" (the name is {chance.sure:.0%} sure)", quiet=True),)
    entered: Runs = (Typed(chance.typed or "–"), *sure)
    return (words(naming.who(chance.student)), words(str(chance.task + 1)), words(chance.label), entered)


def _task(place: int, task: SetTask, naming: Naming) -> list[Block]:
    back = f"{len(task.back)} of {len(task.sheets)} back"
    heading = Heading(
        f"{place + 1}. {task.title}", 3, aside=f"{date_text(task.issued)}, {back}", anchor=answers_of(place)
    )
    if not task.back:
        return [heading, Note(words("Nothing came back yet."))]
    rows = tuple((words(naming.who(sheet.student.code)), _answers(sheet, task)) for sheet in task.back)
    return [heading, Table(("Student", "Answers, with marks and verdict"), rows, wide=1, whole=frozenset({0}))]


def _answers(sheet: Sheet, task: SetTask) -> Runs:
    runs: list[Run] = []
    for marked in marked_answers([sheet], task.outcomes):
        if marked.ask.line is not None and not marked.outcome.raw.strip():
            continue
        runs += [Words("; ")] if runs else []
        outcome = marked.outcome
        runs.append(Words(f"{marked.ask.label} ", strong=True))
        runs += [Typed(outcome.raw.strip())] if outcome.raw.strip() else []
        marks = f"{marks_of(outcome.marks, outcome.out_of)}, " if outcome.out_of else ""
        runs.append(Words(f" {marks}{outcome.verdict}{', waits' if outcome.is_waiting else ''}", quiet=True))
    return tuple(runs)
