"""The in-tray: one answer at a time, with everything that its mark rests on, and one decision for all alike."""

from collections.abc import Sequence
from decimal import Decimal

from witnessmark.desk.rooms.room import Room
from witnessmark.desk.rooms.seen import seen
from witnessmark.desk.visit import Go, Page, Reply, Visit
from witnessmark.documents.gradebook.data import criteria_of
from witnessmark.jobs.in_tray import About, Answer, InTray, TypedMark, decide, in_tray
from witnessmark.questions.model.mark_steps import HALF, WHOLE
from witnessmark.words.errors import ProblemsFound


def show_tray(visit: Visit) -> Reply:
    """The answer that is asked for, or the first that waits."""
    tray = in_tray(visit.class_path, visit.way["task"])
    at = _place(tray, visit)
    if at is None:
        return Page("tray-empty", {"tray": tray})
    answer = tray.answers[at]
    alike = tray.alike(answer)
    values = {
        "tray": tray, "at": at, "answer": answer, "alike": alike, "seen": seen(visit, answer),
        "before": tray.answers[at - 1] if at else None, "after": _after(tray, at, alike), "steps": mark_steps(answer),
        "criteria": criteria_of(answer.ask), "ticked": visit.several("also") if visit.problems else None,
    }  # fmt: skip
    return Page("tray", values)


def give(visit: Visit) -> Reply:
    """The mark given to this answer and to those ticked; the next that waits is shown."""
    about = [About(*one.split(" ", 2)) for one in (visit.text("this"), *visit.several("also")) if one.count(" ") == 2]
    typed = visit.text("other").strip() or visit.text("marks")
    criteria = tuple(visit.typed.get("criterion", ()))
    decision = TypedMark(typed, visit.text("why"), visit.who.strip(), visit.text("say"), criteria)
    done = decide(visit.class_path, visit.way["task"], about, decision, visit.now)
    if done.problems:
        raise ProblemsFound(done.problems)
    return Go(visit.at("task", visit.way["task"], "tray", at=visit.text("next")))


def _place(tray: InTray, visit: Visit) -> int | None:
    """Where the answer asked for stands; after a decision that was refused, the one that it was about."""
    wanted = " ".join(visit.text("this").split(" ")[:2]) if visit.problems else visit.text("at")
    places = [answer.place for answer in tray.answers]
    if wanted in places:
        return places.index(wanted)
    return 0 if places else None


def _after(tray: InTray, at: int, alike: Sequence[Answer]) -> Answer | None:
    """The next answer that one decision here, for those that are alike too, would leave waiting."""
    served = {answer.place for answer in (tray.answers[at], *alike)}
    later = [answer for answer in (*tray.answers[at + 1 :], *tray.answers[:at]) if answer.place not in served]
    return later[0] if later else None


def mark_steps(answer: Answer) -> list[Decimal]:
    """Every mark that can be given for an answer, from nothing to all."""
    step = HALF if answer.sheet.task.rules.half_marks else WHOLE
    return [step * n for n in range(int(answer.outcome.out_of / step) + 1)]


ROOMS = (Room("/class/{klass}/task/{task}/tray", show_tray, give),)
