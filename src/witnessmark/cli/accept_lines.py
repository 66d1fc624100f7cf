"""How `accept` shows what it would change, and `review` the wrong methods that students share."""

from __future__ import annotations

from typing import TYPE_CHECKING

from witnessmark.cli.stale_lines import stale_lines

if TYPE_CHECKING:
    from witnessmark.jobs.accepting import Accepted, MarkChange
    from witnessmark.jobs.reviewing import Reviewed
    from witnessmark.marking.outcome import Outcome

WOULD = "would change; nothing is written without --apply"


def accepted_data(done: Accepted) -> dict[str, object]:
    """What accepting a slip changes, as plain data: marks as text."""
    slip = done.slip
    data: dict[str, object] = {
        "task": done.task, "answer": done.label, "misconception": slip.misconception.key, "formula": slip.answer,
        "keeps": str(slip.keeps), "applied": done.applied, "dropped": done.dropped,
        "changes": [_change_data(change) for change in done.changes], "stale": list(map(str, done.stale)),
    }  # fmt: skip
    if done.advice is not None:
        a = done.advice
        data["bank"] = {"entry": a.entry, "part": a.part, "file": str(a.file) if a.file else "", "line": a.line,
                        "written": a.written, "why_not": a.why_not, "misconception": a.misconception}  # fmt: skip
    return data


def _change_data(change: MarkChange) -> dict[str, object]:
    return {
        "sheet": change.sheet, "student": change.student, "answer": change.label,
        "before": _outcome_data(change.before), "after": _outcome_data(change.after),
        "stands": None if change.stands is None else str(change.stands), "stands_by": change.stands_by,
    }  # fmt: skip


def _outcome_data(outcome: Outcome | None) -> dict[str, object] | None:
    if outcome is None:
        return None
    return {"verdict": str(outcome.verdict), "marks": str(outcome.marks), "out_of": str(outcome.out_of),
            "misconceptions": list(outcome.misconceptions)}  # fmt: skip


def accepted_lines(done: Accepted) -> list[str]:
    """What accepting a slip changes, or taking one back, as lines for a teacher."""
    slip, count = done.slip, len(done.changes)
    what = f"{done.label}: {slip.misconception.key}, {slip.answer}, keeps {slip.keeps}"
    answers = f"{count or 'no'} answer{'' if count == 1 else 's'}"
    said = "No longer a slip" if done.dropped else "Accepted as a slip"
    head = f"{said}: {what}. {answers} changed:" if done.applied else f"{what}. {answers} {WOULD}:"
    head = head if count else head.removesuffix(":") + "."
    return [head, *(_change_line(change) for change in done.changes), *_advice_lines(done), *stale_lines(done.stale)]


def _change_line(change: MarkChange) -> str:
    line = f"  {change.sheet}  {change.student:8} {change.label:8} {_told(change.before)} -> {_told(change.after)}"
    if change.stands is None:
        return line
    return f"{line}; {change.stands} by {change.stands_by} stays, and waits for another look"


def _told(outcome: Outcome | None) -> str:
    if outcome is None:
        return "none"
    names = f" ({' + '.join(outcome.misconceptions)})" if outcome.misconceptions else ""
    return f"{outcome.verdict}{names} {outcome.marks} of {outcome.out_of}"


def _advice_lines(done: Accepted) -> list[str]:
    a = done.advice
    if a is None:
        return []
    where = f"{a.file}:{a.line}" if a.line else f"{a.file or 'the question in the bank'}"
    if a.written:
        return [f"Written in the bank, {where}:", f"  {a.entry}", f"Next: witnessmark check {a.file}"]
    lines = [f"For the bank, under slips of part {a.part} ({where}):", f"  {a.entry}"]
    lines += [f"It was not written there: {a.why_not}."] if a.why_not and done.applied else []
    if a.misconception:
        lines += ["For misconceptions.yaml:", *(f"  {line}" for line in a.misconception.splitlines())]
    return lines


def shared_lines(done: Reviewed) -> list[str]:
    """The wrong methods that students share, as lines for a teacher; a sentence where there are none."""
    from witnessmark.maths.printing.sentence import in_sentence
    from witnessmark.review import sentences

    found = done.review.searched
    if not found.shared:
        return [sentences.nothing(found)]
    lines = ["Wrong methods that no question knows yet:"]
    for m in found.shared:
        equation = f"{m.symbol} = " if m.symbol else ""
        who = ", ".join(sharer.student for sharer in m.who)
        lines.append(f"  {m.label}, formula {m.number}: {equation}{in_sentence(m.formula, m.symbols)}; used by {who}")
        told = [sentences.difference(m), sentences.power(m), sentences.certainty(m), sentences.accident(m)]
        lines += [f"    {sentence}" for sentence in told if sentence]
        lines.append(f"    {m.entry}")
        lines.append(f"    {sentences.accept_command(m, str(done.folder), done.task)}")
    return lines
