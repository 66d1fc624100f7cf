"""The machine's marks for what counts of a task, with what waits because two files hold different entries.

They follow what was corrected since the task was issued: of two right methods the one that earns more counts, and a
part that was set aside has all its marks, or none to earn, for everybody who handed in.
"""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import replace
from decimal import Decimal

from witnessmark.marking.class_marking import Each, OnFault, here, mark_returns, pass_over
from witnessmark.marking.outcome import Outcome, Verdict
from witnessmark.questions.checking.corrections import ASIDE, Changes, Correction, with_second_method
from witnessmark.questions.sheet.task import Ask, Return, Sheet
from witnessmark.record.rows import Difference

Marked = dict[str, dict[str, Outcome]]
FULL, OUT = "This part was set aside: everybody has its marks.", "This part was set aside: it does not count."


def proposals(
    sheets: Mapping[str, Sheet],
    returns: Sequence[Return],
    differences: Sequence[Difference],
    on_fault: OnFault = pass_over,
    corrections: Sequence[Correction] = (),
    each: Each = here,
) -> Marked:
    """Outcomes by sheet code and ask key; an answer with two different entries waits, whatever its mark.

    `sheets` are those of one task, by code, with the questions that they are marked by; `each` has them marked.
    """
    rules = next(iter(sheets.values())).task.rules
    marked = mark_returns(sheets, returns, rules, on_fault, each)
    for one in corrections:
        if one.changes is Changes.ALSO:
            others = mark_returns(_by_second_method(sheets, one), returns, rules, each=each)
            marked = _better(sheets, marked, others, one)
    waiting: defaultdict[tuple[str, str], list[Difference]] = defaultdict(list)
    for difference in differences:
        waiting[difference.sheet, difference.ask].append(difference)
    for (code, ask), several in waiting.items():
        if ask in marked.get(code, {}):
            outcome = marked[code][ask]
            others_told = " and ".join(one.other.told for one in several)
            said = f"two entries differ: {several[0].counts.told} counts, {others_told} waits"
            marked[code][ask] = replace(outcome, in_tray=(*outcome.in_tray, said))
    aside = {(one.question, one.part): one for one in corrections if one.changes in ASIDE}  # the last one stands
    for one in aside.values():
        _set_aside(sheets, marked, one)
    return marked


def concerns(sheet: Sheet, ask: Ask, correction: Correction) -> bool:
    """True of the part that a correction is for, and of its lines."""
    question = sheet.variants[ask.number - 1].question
    return question.key == correction.question and ask.part.key == correction.part


def _by_second_method(sheets: Mapping[str, Sheet], correction: Correction) -> dict[str, Sheet]:
    questions = {id(v.question): v.question for sheet in sheets.values() for v in sheet.variants}
    made = {key: with_second_method(question, correction) for key, question in questions.items()}
    return {
        code: replace(s, variants=tuple(replace(v, question=made[id(v.question)]) for v in s.variants))
        for code, s in sheets.items()
    }


def _better(sheets: Mapping[str, Sheet], first: Marked, second: Marked, correction: Correction) -> Marked:
    """Of each answer to the question the outcome that earns more; the first where both earn the same."""
    made = {code: dict(by_ask) for code, by_ask in first.items()}
    for code, by_ask in second.items():
        for ask in sheets[code].asks:
            same = sheets[code].variants[ask.number - 1].question.key == correction.question
            if same and ask.key in by_ask and by_ask[ask.key].marks > made[code][ask.key].marks:
                made[code][ask.key] = by_ask[ask.key]
    return made


def _set_aside(sheets: Mapping[str, Sheet], marked: Marked, correction: Correction) -> None:
    for code, by_ask in marked.items():
        for ask in sheets[code].asks:
            if ask.key in by_ask and concerns(sheets[code], ask, correction):
                by_ask[ask.key] = _aside(by_ask[ask.key], correction.changes)


def _aside(outcome: Outcome, changes: Changes) -> Outcome:
    """An outcome of a part that is set aside: it says nothing of the student and waits for nobody."""
    marks = outcome.out_of if changes is Changes.FULL else Decimal(0)
    said = FULL if changes is Changes.FULL else OUT
    return replace(
        outcome, marks=marks, out_of=marks, verdict=Verdict.SET_ASIDE, because=said, misconceptions=(), evidence=(),
        in_tray=(), sure=1.0,
    )  # fmt: skip
