"""Decisions that change much at once, in two steps: what would change is shown, and is done only as it was shown.

The second step works out anew what would change; where that is not what was shown, it is shown again and not done.
Nobody else writes into the class between that and the act.
"""

import hashlib
from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import datetime
from pathlib import Path

from witnessmark.desk.spoken import marks as marks_text
from witnessmark.desk.words import _, counted
from witnessmark.desk.works import Done, Fields, Table, Way
from witnessmark.jobs import accepting, correcting, removing
from witnessmark.jobs.decision import Decision
from witnessmark.jobs.opened import Progress, alone
from witnessmark.marking.outcome import Outcome
from witnessmark.words.problems import Place, Problem

Rows = tuple[tuple[str, ...], ...]
SEAL = "seal"
SIGNS = 12
MOST_NAMED = 5


def correct_task(
    progress: Progress, class_path: Path, task: str, wanted: correcting.Wanted, decision: Decision, sent: Fields
) -> Done:
    """What a correction changes; `sent` is what the form held, to be sent once more."""
    progress(_("marks"), 0, 1)
    onward = ("task", task, "put-right")

    def shown() -> tuple[str, Table]:
        done = correcting.correct(class_path, task, wanted, replace(decision, apply=False))
        return done.told, Table(_headings(), tuple(_corrected(one) for one in done.changes))

    def do() -> Done:
        done = correcting.correct(class_path, task, wanted, decision)
        return Done((*_marks_changed(len(done.changes)), *_stale(done.stale)))

    way = Way(_("Correct it"), (*onward, "correct"), sent)
    with alone(class_path, "correct"):
        return _in_two_steps(shown, do, way, decision.apply, onward)


def accept_method(
    progress: Progress, class_path: Path, task: str, label: str, proposed: accepting.Proposed, decision: Decision,
    sent: Fields,
) -> Done:  # fmt: skip
    """What naming a wrong method changes; `sent` as above."""

    def accept(decided: Decision) -> accepting.Accepted:
        return accepting.accept(class_path, task, label, proposed, decided)

    with alone(class_path, "accept"):
        return _naming(progress, task, accept, _("Name it so"), "accept", decision, sent)


def drop_method(
    progress: Progress, class_path: Path, task: str, label: str, misconception: str, decision: Decision, sent: Fields
) -> Done:
    """What changes where a named method is one no longer; `sent` as above."""

    def drop(decided: Decision) -> accepting.Accepted:
        return accepting.drop(class_path, task, label, misconception, decided)

    with alone(class_path, "accept"):
        return _naming(progress, task, drop, _("Name it so no longer"), "drop", decision, sent)


def _naming(
    progress: Progress, task: str, change: Callable[[Decision], accepting.Accepted], says: str, form: str,
    decision: Decision, sent: Fields,
) -> Done:  # fmt: skip
    """What changes with the name of a method; `form` is where `sent` came from, `says` its button."""
    progress(_("marks"), 0, 1)
    onward = ("task", task, "put-right")
    return _in_two_steps(
        lambda: _accepted(change(replace(decision, apply=False))), lambda: _kept(change(replace(decision, apply=True))),
        Way(says, (*onward, form), sent), decision.apply, onward,
    )  # fmt: skip


def remove_student(progress: Progress, class_path: Path, code: str, who: str, now: datetime, sent: Fields) -> Done:
    """What is held of a student; taken out of the class where `sent` has the seal of what was shown."""
    progress(_("files"), 0, 1)

    def shown() -> tuple[str, Table]:
        found = removing.planned(class_path, code)
        return f"{found.student} {found.name}", Table((_("What"), _("Which")), tuple(_held(found, class_path)))

    def do() -> Done:
        done = removing.remove(class_path, code, who, now)
        return Done((_("{student} is taken out of the class").format(student=done.student), *_by_hand(done)))

    way = Way(_("Remove this student for good"), ("students", code, "remove"), sent, with_why=False)
    with alone(class_path, "remove"):
        return _in_two_steps(shown, do, way, bool(dict(sent).get(SEAL)), ("students",))


def _in_two_steps(
    shown: Callable[[], tuple[str, Table]], do: Callable[[], Done], way: Way, is_done: bool, onward: tuple[str, ...]
) -> Done:
    """What would change with the form that does it; or it is done, where it is what was shown."""
    told, table = shown()
    seal, sent = _seal(told, table), dict(way.fields).get(SEAL, "")
    if is_done and seal == sent:
        return replace(do(), table=table, onward=onward)
    fields = tuple((name, text) for name, text in way.fields if name != SEAL)
    confirm = replace(way, fields=(*fields, (SEAL, seal)))
    problems = _changed_since(sent, seal, table) if is_done else ()
    return Done((told, _("Nothing is changed yet.")), problems, (), onward, table, (), confirm)


def _seal(told: str, table: Table) -> str:
    """What tells whether the same is shown, and which rows are others: a short hash of the words and of each row."""
    return ".".join(hashlib.sha256(repr(one).encode()).hexdigest()[:SIGNS] for one in (told, *table.rows))


def _changed_since(sent: str, seal: str, table: Table) -> tuple[Problem, ...]:
    """What is otherwise than it was shown: the rows that are new or others, and how many are gone."""
    before, now = sent.split(".")[1:], seal.split(".")[1:]
    others = [", ".join(row[:2]) for row, one in zip(table.rows, now, strict=True) if one not in before]
    gone = len(set(before) - set(now))
    told = [_("new or otherwise now: {rows}").format(rows="; ".join(others[:MOST_NAMED]))] if others else []
    told += [counted(len(others) - MOST_NAMED, "and {n} more", "and {n} more")] if len(others) > MOST_NAMED else []
    told += [counted(gone, "{n} row as it was shown is gone", "{n} rows as they were shown are gone")] if gone else []
    found = ", ".join((_("something that has changed since"), *told))
    remedy = _("look at it once more, then decide")
    return (Problem("stale", Place(_("what was shown")), _("the changes that were shown"), found, remedy),)


def _headings() -> tuple[str, ...]:
    return _("Student"), _("Answer"), _("Before"), _("After"), _("Why")


def _corrected(one: correcting.MarkCorrected) -> tuple[str, ...]:
    before, after = one.marks
    stays = _("the teacher's mark stays, and waits for another look") if one.stays else one.after.because
    of, of_then = marks_text(one.before.out_of), marks_text(one.after.out_of)
    was = _("{marks} of {all}").format(marks=marks_text(before), all=of)
    then = _("{marks} of {all}").format(marks=marks_text(after), all=of_then)
    return f"{one.student} {one.name}", one.label, was, then, stays


def _accepted(done: accepting.Accepted) -> tuple[str, Table]:
    slip = done.slip
    told = _("{answer}: {key}, {formula}, keeps {marks}").format(
        answer=done.label, key=slip.misconception.key, formula=slip.answer, marks=marks_text(slip.keeps))  # fmt: skip
    return told, Table(_headings(), tuple(_changed(one) for one in done.changes))


def _changed(one: accepting.MarkChange) -> tuple[str, ...]:
    stays = _("{marks} by {who} stays, and waits for another look")
    why = stays.format(marks=marks_text(one.stands), who=one.stands_by) if one.stands is not None else ""
    return one.student, one.label, _outcome(one.before), _outcome(one.after), why


def _outcome(outcome: Outcome | None) -> str:
    if outcome is None:
        return _("none")
    marks = _("{marks} of {all}").format(marks=marks_text(outcome.marks), all=marks_text(outcome.out_of))
    return f"{marks}, {outcome.verdict} {' + '.join(outcome.misconceptions)}".strip()


def _kept(done: accepting.Accepted) -> Done:
    told = [*_marks_changed(len(done.changes)), *_stale(done.stale)]
    advice = done.advice
    if advice is not None and advice.written:
        told.append(_("written in the bank, {file}").format(file=advice.file.name if advice.file else ""))
    elif advice is not None:
        told.append(_("for the bank, under slips of part {part}: {entry}").format(part=advice.part, entry=advice.entry))
    return Done(tuple(told))


def _marks_changed(count: int) -> tuple[str, ...]:
    return (counted(count, "{n} answer is marked otherwise now", "{n} answers are marked otherwise now"),)


def _stale(files: Sequence[Path]) -> tuple[str, ...]:
    """Documents that show what stood before."""
    return tuple(_("shows what stood before, write it anew: {file}").format(file=file.name) for file in files)


def _held(found: removing.Removal, class_path: Path) -> Rows:
    counts = ((found.sheets, _("sheets")), (found.returns, _("returns")), (found.marks, _("marks")))
    rows = [(_("taken out of the record"), f"{count} {what}") for count, what in counts]
    rows += [(_("deleted"), _near(file, class_path)) for file in found.files]
    rows += [(_("written anew without"), _near(file, class_path)) for file in found.anew]
    rows += [(_("cleared, a copy of the record"), file.name) for file in found.copies]
    return (*rows, *((_("to look at by hand"), text) for text in found.by_hand))


def _near(file: Path, class_path: Path) -> str:
    return file.relative_to(class_path).as_posix() if file.is_relative_to(class_path) else str(file)


def _by_hand(done: removing.Removal) -> tuple[str, ...]:
    return tuple(_("look by hand for: {what}").format(what=text) for text in done.by_hand)
