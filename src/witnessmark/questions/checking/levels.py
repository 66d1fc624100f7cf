"""How many steps a question takes, and the level that follows from it.

A step is one relation on the way from the givens to an answer: each result, and each line that is worked from more than
lengths. A line worked from lengths alone (an area, a circumference, a wall taken off) is measuring and counts no step.
The steps of a part are its own and all those of the parts that it carries; a judgement has those of what it carries,
as a size has that is chosen by an earlier result alone. The cells of one column are one step.
"""

from collections.abc import Mapping

from witnessmark.maths.quantities import Dimension
from witnessmark.maths.syntax import Name, names_in
from witnessmark.questions.model.kinds import answer_of, carried_by, lines_of, results_of
from witnessmark.questions.model.parts import Line, Part
from witnessmark.questions.model.question import Question
from witnessmark.questions.working.methods import dimensions

HARDEST = 3


def level_of(question: Question) -> int:
    """1 for one step, 2 for two, 3 for three and more."""
    return min(max(steps(question), 1), HARDEST)


def steps(question: Question) -> int:
    """The steps of the part that takes most; 0 where nothing is worked out."""
    known = dimensions(question)
    needed: dict[str, frozenset[str]] = {}
    for part in question.parts:
        carried = frozenset[str]().union(*(needed[key] for key in carried_by(part)))
        own = _own(part, known)
        needed[part.key] = frozenset(question.find_of(key) for key in own) | carried
    return max(len(found) for found in needed.values())


def _own(part: Part, known: Mapping[str, Dimension]) -> frozenset[str]:
    """The steps that a part adds, by key."""
    answer = answer_of(part)
    if not results_of(part) and (answer is None or isinstance(answer, Name)):
        return frozenset()
    return frozenset(
        {part.key, *(f"{part.key}.{line.name}" for line in lines_of(part) if not is_measuring(line, known))}
    )


def is_measuring(line: Line, known: Mapping[str, Dimension]) -> bool:
    """True of a line that is worked from lengths, angles and pure numbers alone."""
    return all(not any(known[name].powers[1:]) for name in names_in(line.value))
