"""What a progress note may call secure."""

from dataclasses import replace
from decimal import Decimal

from review.year_class import FACE, Planted, students, year
from witnessmark.marking.outcome import Outcome, Verdict
from witnessmark.questions.model.kinds import lines_of
from witnessmark.questions.sheet.task import Ask
from witnessmark.review.year.chances import chances_of
from witnessmark.review.year.history import Year
from witnessmark.review.year.progress import Progress, progress_of
from witnessmark.review.year.recurrence import recurrences_of

TITLE = "Punching a drain hole"
WHO = students(1)


def progress(made: Year) -> Progress:
    """Of the one student."""
    return progress_of(made, recurrences_of(chances_of(made), {}, ()), WHO[0])


def with_line(misconceptions: tuple[str, ...]) -> Year:
    """All results right; the step of the first part was entered, and shows this."""
    made = year(WHO, Planted({}), (("drain-hole",),))
    (task,), sheet = made.tasks, made.tasks[0].sheets[0]
    part = sheet.variants[0].question.parts[0]
    ask = Ask(1, part, lines_of(part)[0])
    verdict = Verdict.SLIP if misconceptions else Verdict.RIGHT
    line = Outcome(Decimal(0), Decimal(1), verdict, "", misconceptions, raw="113 mm2")
    mine = {**task.outcomes[sheet.code], ask.key: line}
    return replace(made, tasks=(replace(task, outcomes={sheet.code: mine}),))


def test_a_question_is_not_secure_where_a_step_shows_a_misconception_though_the_results_follow_from_it() -> None:
    assert progress(with_line(())).secure == (TITLE,)
    found = progress(with_line((FACE,)))
    assert (found.secure, found.unsure) == ((), (TITLE,))
