"""Remarks on a question that has been read: what no rule forbids and a teacher would ask about. Nothing is drawn here.

Each remark is a Problem whose place is the question's key. A condition that can never hold is among them, since no
variant could be drawn; the others stop nothing.
"""

import re
from collections.abc import Iterable, Iterator, Mapping

import numpy as np

from witnessmark.maths.intervals import Interval, interval_of
from witnessmark.maths.printing.plain import plain
from witnessmark.maths.quantities import to_si
from witnessmark.maths.syntax import Comparison, Tree, names_in, substituted
from witnessmark.questions.checking.levels import level_of, steps
from witnessmark.questions.model.kinds import judged_by, names_of, right_trees, wrong_trees
from witnessmark.questions.model.question import Given, Question, RowGiven
from witnessmark.questions.working.working import CONSTANT_SPREADS
from witnessmark.words.problems import Place, Problem

RISKY = re.compile(
    r"(?i)\b(press(es|ed|ing)?|hydraulic\w*|pneumatic\w*|pressuri[sz]ed|oil pressure|jack(s|ed|ing)?|hoist\w*|cranes?"
    r"|winch\w*|lift(s|ed|ing)?|sling\w*|guillotine\w*|punch(es|ed|ing)?|saw(s|n|ing)?|cutters?|drill\w*|weld\w*)\b"
)


def remarks_on(question: Question) -> tuple[Problem, ...]:
    """Every remark on a question, in the order of its file."""
    found = [
        *_conditions(question),
        *_judgements(question),
        *_unused_givens(question),
        *_unused_lines(question),
        *_no_slips(question),
        *_no_caution(question),
        *_level(question),
    ]
    return tuple(found)


def formulas_of(question: Question) -> dict[str, Tree]:
    """How every line and result is worked from givens and constants alone, by name."""
    found: dict[str, Tree] = {}
    for part in question.quantities:
        for line in part.lines:
            found[line.name] = substituted(line.value, found)
        answer = substituted(part.answer, found)
        found |= dict.fromkeys(names_of(part), answer)
    return found


def spans_of(question: Question) -> dict[str, Interval]:
    """The least and greatest SI value that every given and cell can be drawn with, and the spread of constants."""
    spans: dict[str, Interval] = dict(CONSTANT_SPREADS)
    for row in question.rows:
        spans |= _cells(question, row)
    spans |= {given.name: _drawn(given) for given in question.givens if given.value is None}
    for given in question.givens:
        if given.value is not None and names_in(given.value) <= spans.keys():
            spans[given.name] = interval_of(given.value)(spans)
    return spans


def _cells(question: Question, row: RowGiven) -> Iterator[tuple[str, Interval]]:
    table = question.tables[row.table]
    rows = [table.rows[name] for name in row.rows or table.rows]
    for column, unit_name in table.units.items():
        cells = [to_si(float(cells[column]), unit_name) for cells in rows if column in cells]
        if cells:
            yield f"{row.name}.{column}", (np.float64(min(cells)), np.float64(max(cells)))


def _drawn(given: Given) -> Interval:
    values = given.one_of or (given.span or ())[:2]
    ends = [to_si(float(value), given.unit) for value in values]
    return np.float64(min(ends)), np.float64(max(ends))


def _fate(tree: Comparison, spans: Mapping[str, Interval]) -> bool | None:
    """True or False where a comparison has that outcome whatever is drawn; None where it can fall either way."""
    if not names_in(tree) <= spans.keys():
        return None
    left, right = interval_of(tree.left)(spans), interval_of(tree.right)(spans)
    if tree.op in (">", ">="):
        left, right = right, left
    if left[1] < right[0]:
        return True
    return False if left[0] > right[1] else None


def _remark(question: Question, code: str, expected: str, found: str, remedy: str = "") -> Problem:
    return Problem(code, Place(question.key), expected, found, remedy)


def _conditions(question: Question) -> Iterator[Problem]:
    spans = spans_of(question)
    for tree in question.keep:
        if isinstance(tree, Comparison) and _fate(tree, spans) is False:
            expected, remedy = "a keep that some drawn values satisfy", "change the keep or the values"
            yield _remark(question, "keep-never", expected, f"{plain(tree)}, which never holds", remedy)


def _judgements(question: Question) -> Iterator[Problem]:
    spans, formulas = spans_of(question), formulas_of(question)
    for part in question.parts:
        judged = judged_by(part)
        tree = substituted(judged, formulas) if judged is not None else None
        fate = _fate(tree, spans) if isinstance(tree, Comparison) else None
        if fate is not None:
            found = f"always {'yes' if fate else 'no'}"
            expected = f"a judgement in part {part.key} that falls both ways"
            yield _remark(question, "judged-one-way", expected, found, "widen the values")


def _names(trees: Iterable[Tree]) -> frozenset[str]:
    return frozenset[str]().union(*(names_in(tree) for tree in trees))


def _unused_givens(question: Question) -> Iterator[Problem]:
    """Givens and rows that no working, slip, other given or text uses (what only a slip uses is there to distract), nor
    the figure."""
    used = _names(tree for part in question.parts for tree in (*right_trees(part), *wrong_trees(part)))
    used |= _names(given.value for given in question.givens if given.value is not None)
    texts = " ".join([question.setting, *(part.ask for part in question.parts)])
    expected = "a given that some part, slip or text uses"
    for given in question.givens:
        if not given.in_figure and given.name not in used and f"{{{given.name}}}" not in texts:
            yield _remark(question, "unused-given", expected, f"{given.name}, which none uses", "delete it")
    for row in question.rows:
        if not any(name.startswith(f"{row.name}.") for name in used) and f"{{{row.name}." not in texts:
            yield _remark(question, "unused-given", expected, f"{row.name}, which none uses", "delete it")


def _unused_lines(question: Question) -> Iterator[Problem]:
    for part in question.quantities:
        used = _names(right_trees(part))
        for line in part.lines:
            if line.name not in used:
                found = f"{line.name}, which neither it nor a later line uses"
                yield _remark(question, "unused-line", f"a line that the answer of part {part.key} uses", found)


def _no_slips(question: Question) -> Iterator[Problem]:
    for part in question.quantities:
        if not part.slips:
            expected = f"at least one slip in part {part.key}"
            yield _remark(question, "no-slips", expected, "none", "add the wrong methods that students use")


def _no_caution(question: Question) -> Iterator[Problem]:
    texts = [question.title, question.setting, *(part.ask for part in question.parts)]
    risky = RISKY.search(" ".join(texts))
    if risky and not question.caution:
        expected = "a line of caution where pressure, presses, lifting or cutting come in"
        yield _remark(question, "no-caution", expected, f"'{risky.group()}' and no caution", "add caution:")


def _level(question: Question) -> Iterator[Problem]:
    level, count = level_of(question), steps(question)
    if level != question.level:
        found = f"level: {question.level}, where {count} {'step leads' if count == 1 else 'steps lead'} to the answer"
        yield _remark(question, "level", f"level: {level}", found, "areas and other lengths at work count no step")
