"""What `mark`, `returns` and `counts` print of returns: what was taken in, what counts, what waits and what differs."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal
from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING

from witnessmark.cli.stale_lines import stale_lines
from witnessmark.cli.words import counted
from witnessmark.cli.year_lines import days_line, late_lines

if TYPE_CHECKING:
    from witnessmark.jobs.counting import Chosen
    from witnessmark.jobs.listing_returns import ReturnsListed
    from witnessmark.jobs.marking import Marked
    from witnessmark.questions.sheet.task import Sheet
    from witnessmark.record.rows import Difference, Noted, StoredReturn

MOST_WAITING = 40
MOST_MISSING = 12
MOST_WRITTEN = 12
LONGEST_WRITTEN = 200
TOLD_ABOVE = "two entries differ, see above"
DECIDING = "--who … --why …"


def marked_lines(done: Marked) -> list[str]:
    """What was taken in and marked, what fell, what waits, and what to type next."""
    counts = f"{counted(done.taken_in, 'return')} taken in, {len(done.outcomes)} of {len(done.sheets)} sheets marked"
    lines = [f"{counts}, in the in-tray: {counted(done.waiting, 'answer')}"]
    if done.added:
        lines.append(f"{counted(done.added, 'answer')} added to what counts")
    if done.replaced:
        lines.append(f"{counted(done.replaced, 'answer')} replaced by what was taken in now")
    for one in done.fell:
        answers = ", ".join(f"{label} {before} to {after}" for label, before, after in one.answers)
        lines.append(f"lower than before: {one.student} ({one.sheet}) {one.before} to {one.after} marks: {answers}")
    for returned in done.gone:
        student = done.sheets[returned.handed_in.sheet_code].student.code
        lines.append(
            f"gone from the folder: {returned.handed_in.file} of {student}; what it held still counts"
            f" (return {returned.number}; witnessmark returns {done.folder} {done.task})"
        )
    students = {code: sheet.student.code for code, sheet in done.sheets.items()}
    late = late_lines(done.late, students)
    return [
        *lines,
        *late,
        *_missing(done),
        *_waiting(done),
        *_wrote(done.words, students),
        *stale_lines(done.stale),
        *_next(done),
    ]


def _missing(done: Marked) -> list[str]:
    """Whose sheet has no mark yet; nothing while most have none."""
    codes = [sheet.student.code for code, sheet in done.sheets.items() if code not in done.outcomes]
    return [f"nothing yet from {', '.join(codes)}"] if 0 < len(codes) <= MOST_MISSING else []


def _waiting(done: Marked) -> list[str]:
    """Each answer that waits, those of one sheet with the same reason in one line."""
    if not done.in_tray:
        return []
    lines = ["Waiting for you:"]
    differ = {(d.sheet, _label(done.sheets[d.sheet], d.ask)) for d in done.differences}
    told = [(sheet, label, _why(why, (sheet.code, label) in differ)) for sheet, label, why in done.in_tray]
    for _, group in groupby(told[:MOST_WAITING], key=lambda one: (one[0].code, one[2])):
        several = list(group)
        sheet, _, why = several[0]
        labels = ", ".join(label for _, label, _ in several)
        lines.append(f"  {sheet.student.code} {sheet.student.name}, {sheet.code} {labels}: {why}")
    more = len(done.in_tray) - MOST_WAITING
    return [*lines, f"  and {more} more; --json gives all"] if more > 0 else lines


def _wrote(notes: Sequence[Noted], students: Mapping[str, str]) -> list[str]:
    """What students wrote to the teacher, each on one line; of many the first, and where all of them stand."""
    if not notes:
        return []
    lines = [f"  {students[note.sheet]}, {note.sheet}: {_one_line(note.words)}" for note in notes[:MOST_WRITTEN]]
    more = len(notes) - MOST_WRITTEN
    rest = [f"  and {more} more; review and gradebook hold all"] if more > 0 else []
    return ["Written to you:", *lines, *rest]


def _one_line(text: str) -> str:
    """The text on one line; a long one is cut, since review and gradebook hold it whole."""
    line = " ".join(text.split())
    return line if len(line) <= LONGEST_WRITTEN else f"{line[:LONGEST_WRITTEN]}…"


def _why(reasons: Sequence[str], differs: bool) -> str:
    """Why an answer waits; two entries that differ were told as a problem already, with both and their places."""
    return "; ".join([*reasons[:-1], TOLD_ABOVE] if differs else reasons)


def _next(done: Marked) -> list[str]:
    lines = ["Next:"]
    if done.differences:
        lines.append(f"  witnessmark returns {done.folder} {done.task}    entries that differ, side by side")
    differ = {(d.sheet, _label(done.sheets[d.sheet], d.ask)) for d in done.differences}
    waits = next(((s, label) for s, label, _ in done.in_tray if (s.code, label) not in differ), None)
    if waits:
        sheet, label = waits
        place = f"{done.folder} {sheet.code} {quoted(label)}"
        lines += [f"  witnessmark explain {place}", f"  witnessmark moderate {place} --marks … --why … --who …"]
    if done.replaced:
        lines.append(f"  witnessmark undo {done.folder} {DECIDING}    takes this back")
    return [*lines, f"  witnessmark return {done.folder} {done.task}"]


def quoted(label: str) -> str:
    """A label as it is typed after a command."""
    return f'"{label}"' if " " in label else label


def marked_data(done: Marked) -> Mapping[str, object]:
    """The same for machines."""
    return {
        "taken_in": done.taken_in, "added": done.added, "replaced": done.replaced, "marked": len(done.outcomes),
        "issued": len(done.sheets), "in_tray": done.waiting,
        "waiting": [{"student": s.student.code, "sheet": s.code, "answer": label, "why": "; ".join(why)}
                    for s, label, why in done.in_tray],
        "differ": _differences(done.differences, done.sheets),
        "fell": [{"student": f.student, "sheet": f.sheet, "before": str(f.before), "after": str(f.after)}
                 for f in done.fell],
        "late": [{"student": done.sheets[one.sheet].student.code, "sheet": one.sheet, "days": one.days_late,
                  "off": str(one.off)} for one in done.late],
        "gone": [r.handed_in.file for r in done.gone],
        "written": [{"student": done.sheets[n.sheet].student.code, "sheet": n.sheet, "words": n.words}
                    for n in done.words],
        "problems": [str(p) for p in done.problems], "stale": done.stale,
    }  # fmt: skip


def _differences(differences: Iterable[Difference], sheets: Mapping[str, Sheet]) -> list[dict[str, object]]:
    return [
        {"student": d.student, "sheet": d.sheet, "answer": _label(sheets[d.sheet], d.ask),
         "counts": {"return": d.counts.number, "file": d.counts.file, "entry": d.counts.entry.raw},
         "waits": {"return": d.other.number, "file": d.other.file, "entry": d.other.entry.raw}}
        for d in differences
    ]  # fmt: skip


def _label(sheet: Sheet, key: str) -> str:
    return next((ask.label for ask in sheet.asks if ask.key == key), key)


def listed_lines(done: ReturnsListed) -> list[str]:
    """Every return of every student, then the entries that differ side by side with the commands that decide."""
    lines = [f"{'student':10} {'sheet':10} {'return':>6}  {'received':16}  {'entries':>7}  {'count':>5}  file"]
    for code, several in done.returns.items():
        student = done.sheets[code].student.code
        lines += [_row(student, code, one) for one in several] or [f"{student:10} {code:10}      -  nothing yet"]
        told = _standing(done, code)
        lines += [f"{'':28}  {told}"] if told else []
        lines += [f"{'':28}  wrote: {_one_line(note.words)}" for note in done.notes if note.sheet == code]
    for code, group in groupby(done.differences, key=lambda d: d.sheet):
        lines += ["", *_side_by_side(done, code, list(group))]
    lines += [f"not taken in: {_one_line(name)}" for name in done.not_taken_in[:MOST_WAITING]]
    more = len(done.not_taken_in) - MOST_WAITING
    lines += [f"not taken in: {more} more"] if more > 0 else []
    lines += [f"  {file}" for file in done.files]
    job = "return" if any(done.returns.values()) and not done.not_taken_in else "mark"
    return [*lines, "", "Next:", f"  witnessmark {job} {done.folder} {done.task}"]


def _standing(done: ReturnsListed, code: str) -> str:
    """The days of a sheet, and where its student stands; nothing where no day was set."""
    days = done.attempts.get(code)
    if days is None:
        return "this attempt was taken back"
    state = done.states[done.sheets[code].student.code].value
    line = days_line(days)
    return f"{line}; {state}" if line and state not in ("in time", "late") else line


def _filled(one: StoredReturn) -> int:
    return sum(entry.is_filled for _, entry in one.handed_in.answers)


def _row(student: str, code: str, one: StoredReturn) -> str:
    filled = _filled(one)
    when = one.received.astimezone().strftime("%Y-%m-%d %H:%M")
    chosen = " (chosen)" if one.chosen else ""
    kept = "" if one.kept else " (the file itself is not kept)"
    kept += " (taken back)" if one.taken_back else ""
    file = Path(one.handed_in.file).name
    return f"{student:10} {code:10} {one.number:>6}  {when}  {filled:>7}  {len(one.counts):>5}  {file}{chosen}{kept}"


def _side_by_side(done: ReturnsListed, code: str, differences: Sequence[Difference]) -> list[str]:
    sheet = done.sheets[code]
    lines = [f"{sheet.student.code} {sheet.student.name} ({code}): entries that differ"]
    width = max(len(_label(sheet, d.ask)) for d in differences)
    for d in differences:
        lines.append(f"  {_label(sheet, d.ask):{width}}  return {d.counts.number} counts: {d.counts.told}")
        lines.append(f"  {'':{width}}  return {d.other.number} waits:  {d.other.told}")
    returned = {one.number: one for one in done.returns[code]}
    numbers = dict.fromkeys(n for d in differences for n in (d.counts.number, d.other.number))
    fullest = max(numbers, key=lambda n: (_filled(returned[n]), -n))
    command = f"witnessmark counts {done.folder} {code}"
    lines.append(f"  the fuller is return {fullest}: {command} {fullest} {DECIDING}")
    first = differences[0]
    label, other = _label(sheet, first.ask), first.other.number
    return [*lines, f"  {label} alone from return {other}: {command} {other} {quoted(label)} {DECIDING}"]


def listed_data(done: ReturnsListed) -> Mapping[str, object]:
    """The same for machines, with every entry."""
    returned = [
        {"student": done.sheets[code].student.code, "sheet": code, "return": one.number, "file": one.handed_in.file,
         "received": one.received.isoformat(), "kept": one.kept, "source": str(one.source),
         "entries": {_label(done.sheets[code], ask): e.raw for ask, e in one.handed_in.entries},
         "counts": [_label(done.sheets[code], ask) for ask in one.counts],
         "chosen": [_label(done.sheets[code], ask) for ask in one.chosen]}
        for code, several in done.returns.items() for one in several
    ]  # fmt: skip
    days = [
        {"sheet": code, "due": str(one.due or ""), "received": str(one.received or ""), "late": one.days_late,
         "off": str(one.off), "state": done.states[done.sheets[code].student.code].value}
        for code, one in done.attempts.items()
    ]  # fmt: skip
    missing = [done.sheets[code].student.code for code, several in done.returns.items() if not several]
    differ = _differences(done.differences, done.sheets)
    return {"returns": returned, "days": days, "missing": missing, "differ": differ,
            "files": done.files, "not_taken_in": done.not_taken_in}  # fmt: skip


def chosen_lines(done: Chosen) -> list[str]:
    """What counts now, and every mark that changed by it."""
    what = ", ".join(done.labels) or "all answers"
    if not done.changed:
        return [f"{done.student} ({done.sheet}): return {done.number} counts for {what} already"]
    lines = [f"{done.student} ({done.sheet}): return {done.number} ({done.file}) counts for {what}"]
    lines += [f"  {label}: {_mark(before)} to {_mark(after)}" for label, before, after in done.marks]
    if not done.marks:
        lines.append("  no mark changes")
    undo = f"  witnessmark undo {done.folder} {DECIDING}    takes this back"
    return [*lines, *stale_lines(done.stale), "Next:", undo, f"  witnessmark return {done.folder} {done.task}"]


def _mark(marks: Decimal | None) -> str:
    return "no mark" if marks is None else f"{marks}"


def _data(marks: Decimal | None) -> str | None:
    return None if marks is None else f"{marks}"


def chosen_data(done: Chosen) -> Mapping[str, object]:
    """The same for machines."""
    marks = [
        {
            "answer": label,
            "before": _data(before),
            "after": _data(after),
        }
        for label, before, after in done.marks
    ]
    return {"sheet": done.sheet, "student": done.student, "return": done.number, "answers": done.labels,
            "changed": done.changed, "marks": marks, "stale": done.stale}  # fmt: skip
