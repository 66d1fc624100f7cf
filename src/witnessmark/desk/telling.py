"""How a problem is put on a page: where, what was expected and found, and what to do; no command is named to a hand
that holds a mouse."""

import re
from collections.abc import Iterable
from dataclasses import dataclass

from witnessmark.desk.words import N_, _
from witnessmark.words.problems import Problem, on_one_line

COMMAND = re.compile(r"\bwitnessmark [a-z]")
INSTEAD = {
    "not-issued": N_("issue its sheets first"),
    "not-marked": N_("take in what came back first"),
    "no-return": N_("look at what came back, and choose there"),
    "not-a-quantity": N_("set the part aside instead"),
    "entries-differ": N_("choose between the two below"),
    "too-few-variants": N_("widen the ranges of its givens, or set another question"),
}

STEPS = {
    "mark": N_("taking in and marking"),
    "moderate": N_("a mark of a teacher"),
    "counts": N_("which return counts"),
    "correct": N_("a question put right"),
    "accept": N_("a wrong method named"),
    "second": N_("marks of a second teacher"),
    "set-again": N_("a task set again"),
    "visited": N_("what was done on a visit"),
    "extend": N_("more time"),
    "excuse": N_("a task left out of the marks"),
    "received": N_("the day on which a sheet came in"),
    "leave": N_("somebody left the class"),
    "group": N_("another group"),
}
"""What a step of the record was, where its own word is a command's."""
PLACES = {
    "--answer": N_("the right expression"), "--also": N_("the second method"), "--formula": N_("the slip's expression"),
    "--tolerance": N_("the tolerance"), "--wording": N_("what is asked"), "--slip": N_("key of the slip"),
    "ANSWER": N_("the answer"),
}  # fmt: skip
"""What a command calls by its options."""

VERDICTS = (
    N_("right"), N_("wrong"), N_("carried forward"), N_("rounded early"), N_("unit"), N_("power of ten"), N_("slip"),
    N_("two slips"), N_("edit"), N_("other sheet"), N_("unexplained"), N_("blank"), N_("unreadable"),
    N_("sign"), N_("set aside"),
)  # fmt: skip
"""The names of verdicts, as they are put into the reader's language."""


@dataclass(frozen=True, slots=True)
class ToldProblem:
    """A problem as the page shows it."""

    place: str
    expected: str
    found: str
    remedy: str
    code: str
    line: int


def told(problems: Iterable[Problem]) -> list[ToldProblem]:
    """Each problem as the page shows it, once."""
    return [_told(problem) for problem in dict.fromkeys(problems)]


def step_words(what: str) -> str:
    """What a step was, in the reader's language."""
    return _(STEPS[what]) if what in STEPS else what


def _told(problem: Problem) -> ToldProblem:
    place = problem.place
    name = re.split(r"[/\\]", place.file)[-1]
    where = _(PLACES[name]) if name in PLACES else f"{name}, {place.inside}" if place.inside else name
    remedy = problem.remedy
    if COMMAND.search(remedy) or problem.code in INSTEAD:
        remedy = _(INSTEAD[problem.code]) if problem.code in INSTEAD else ""
    where, expected, found, remedy = map(on_one_line, (where, problem.expected, problem.found, remedy))
    return ToldProblem(where, expected, found, remedy, problem.code, place.line)
