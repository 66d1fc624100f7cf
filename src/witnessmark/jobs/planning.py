"""The job `plan`: a proposal for the next task, written as a task file with the reasons beside each question."""

import os
from collections.abc import Collection
from dataclasses import dataclass
from pathlib import Path

from witnessmark.files.bank.question_text import KEY
from witnessmark.files.safe.atomic import write_together
from witnessmark.jobs.opened import alone
from witnessmark.jobs.opened_year import OpenedYear, open_year
from witnessmark.questions.drawable import DrawableQuestion
from witnessmark.review.year.belief import belief
from witnessmark.review.year.planning import Chosen, Reason, keys_of, plan
from witnessmark.review.year.sentences import counted
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.nearest import near_or_all
from witnessmark.words.problems import Place, Problem


@dataclass(frozen=True, slots=True)
class Planned:
    """The questions proposed, in the order of the sheet, and the file."""

    task: str
    chosen: tuple[Chosen, ...]
    file: Path

    @property
    def minutes(self) -> int:
        """How long they take together."""
        return sum(one.minutes for one in self.chosen)


def plan_task(class_path: Path, key: str, minutes: int, topic: str = "", about: Collection[str] = ()) -> Planned:
    """Propose a task and write its file; raises ProblemsFound for a topic or misconception that is not there, a task
    file that is, and where no question is left."""
    if not KEY.fullmatch(key):
        expected = "a name of small letters, digits and single hyphens"
        raise ProblemsFound([Problem("key-form", Place(str(class_path)), expected, f"'{key}'")])
    with alone(class_path, "plan"):
        found = open_year(class_path)
        file = class_path / "tasks" / f"{key}.yaml"
        if os.path.lexists(file):
            remedy = "name another task, or move the file"
            raise ProblemsFound([Problem("task-there", Place(str(file)), "a task that is new", "its file", remedy)])
        wanted = _about(found, class_path, about)
        questions = _questions(found, class_path, topic)
        students = [student.code for student in found.year.students]
        held = belief(found.chances, students, keys_of(questions))
        chosen = plan(questions, held, minutes, wanted)
        if not chosen:
            expected = f"a question that fits into {minutes} minutes and was not set yet"
            raise ProblemsFound([Problem("nothing-to-set", Place(str(class_path)), expected, "none")])
        ordered = tuple(sorted(chosen, key=lambda one: one.question.level))
        write_together(class_path, {f"tasks/{key}.yaml": task_text(key, topic, ordered).encode()})
        return Planned(key, ordered, file)


def _about(found: OpenedYear, path: Path, about: Collection[str]) -> frozenset[str]:
    """The misconceptions named, or those of the families named."""
    families = set(found.bank.families.values())
    wanted: set[str] = set()
    for name in about:
        members = {key for key, family in found.bank.families.items() if family == name}
        if not members and name not in found.misconceptions:
            remedy = near_or_all(name, [*families, *found.misconceptions])
            expected = "a misconception or a family of the bank"
            raise ProblemsFound([Problem("unknown-misconception", Place(str(path)), expected, f"'{name}'", remedy)])
        wanted |= members or {name}
    return frozenset(wanted)


def _questions(found: OpenedYear, path: Path, topic: str) -> list[DrawableQuestion]:
    topics = found.bank.topics()
    if topic and topic not in topics:
        remedy = near_or_all(topic, topics)
        raise ProblemsFound([Problem("no-topic", Place(str(path)), "a topic of the bank", f"'{topic}'", remedy)])
    used = {variant.question.key for task in found.year.tasks for s in task.sheets for variant in s.variants}
    return [q for q in found.bank.values() if q.key not in used and topic in ("", q.topic)]


def task_text(key: str, topic: str, chosen: tuple[Chosen, ...]) -> str:
    """The file of a task, with why each question is in as a comment."""
    title = (topic or "Next task").replace("-", " ").capitalize()
    lines = [f"task: {key}", f"title: {title}", "questions:"]
    for one in chosen:
        lines.append(f"  - {one.question.key}  # about {one.minutes} min")
        lines += [f"    # {reason_words(reason)}" for reason in one.reasons]
    return "\n".join([*lines, "rules: {figures: 3}", ""])


def reason_words(reason: Reason) -> str:
    """Why a question is in, in a line."""
    what = reason.key.replace("-", " ")
    if not reason.suspected:
        return f"a chance to show {what}, of which little is known ({reason.bits:.2f} bits)"
    return f"shows or clears {what}, suspected in {counted(len(reason.suspected), 'student')} ({reason.bits:.2f} bits)"
