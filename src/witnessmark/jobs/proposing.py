"""The machine's marks for what counts of a task, with what waits because two files hold different entries."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import replace

from witnessmark.marking.class_marking import OnFault, mark_returns, pass_over
from witnessmark.marking.outcome import Outcome
from witnessmark.questions.sheet.task import Return, Sheet
from witnessmark.record.rows import Difference


def proposals(
    sheets: Mapping[str, Sheet],
    returns: Sequence[Return],
    differences: Sequence[Difference],
    on_fault: OnFault = pass_over,
) -> dict[str, dict[str, Outcome]]:
    """Outcomes by sheet code and ask key; an answer with two different entries waits, whatever its mark.

    `sheets` are those of one task, by code, with the questions that they are marked by.
    """
    rules = next(iter(sheets.values())).task.rules
    marked = mark_returns(sheets, returns, rules, on_fault)
    waiting: defaultdict[tuple[str, str], list[Difference]] = defaultdict(list)
    for one in differences:
        waiting[one.sheet, one.ask].append(one)
    for (code, ask), several in waiting.items():
        if ask in marked.get(code, {}):
            outcome = marked[code][ask]
            others = " and ".join(one.other.told for one in several)
            said = f"two entries differ: {several[0].counts.told} counts, {others} waits"
            marked[code][ask] = replace(outcome, in_tray=(*outcome.in_tray, said))
    return marked
