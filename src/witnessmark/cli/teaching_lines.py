"""The results of the commands from marks to teaching, as lines for people and data for machines."""

from __future__ import annotations

from typing import TYPE_CHECKING

from witnessmark.cli.words import counted

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from witnessmark.jobs.following_up import FollowedUp
    from witnessmark.jobs.planning import Planned
    from witnessmark.jobs.visiting import Visited, VisitsWritten


def visits_data(done: VisitsWritten) -> Mapping[str, object]:
    """The trip as data."""
    stops = [
        {
            "group": stop.group, "place": stop.place, "minutes": stop.minutes, "kit": stop.kit,
            "students": [
                {"student": s.student.code, "minutes": s.minutes, "needs": [n.key for n in s.needs],
                 "open": [f"{e.task} {e.label}" for e in s.open]} for s in stop.students
            ],
        }
        for stop in done.trip.stops
    ]  # fmt: skip
    return {"day": done.trip.day, "kit": done.trip.kit, "stops": stops, "files": done.files}


def visits_lines(done: VisitsWritten) -> Sequence[str]:
    """The trip in lines."""
    stops = [
        f"{stop.group}: {counted(len(stop.students), 'student')} to see, about {stop.minutes} min"
        for stop in done.trip.stops
    ]
    kit = f"To carry: {', '.join(done.trip.kit)}" if done.trip.kit else "Nothing to carry"
    return [*stops, kit, *(f"  {path}" for path in done.files)]


def visited_data(done: Visited) -> Mapping[str, object]:
    """What was kept, as data."""
    kept = [{"student": v.student, "day": v.day, "took_up": v.misconceptions, "note": v.note} for v in done.visits]
    return {"visits": kept}


def visited_lines(done: Visited) -> Sequence[str]:
    """What was kept, in lines."""
    return [f"{v.student}, {v.day}: {', '.join(v.misconceptions) or 'nothing taken up'}" for v in done.visits]


def followed_up_data(done: FollowedUp) -> Mapping[str, object]:
    """The follow-up as data."""
    return {
        "task": done.task, "new": [s.code for s in done.new], "before": [s.code for s in done.before],
        "aims": done.aims, "left": [{"student": n.student, "misconception": n.key} for n in done.left],
        "without": [student.code for student in done.without], "files": done.files,
    }  # fmt: skip


def followed_up_lines(done: FollowedUp) -> Sequence[str]:
    """The follow-up in lines."""
    without = [f"  nothing farther on in the bank for {student.code}" for student in done.without]
    left = [f"  left out for {n.student}: {n.key}" for n in done.left]
    if not done.aims and not left:
        return ["Nobody showed anything that still stands: no sheet was written.", *without]
    if not done.aims:
        said = "No sheet was written: no calculated question of the bank shows what was shown here."
        return [said, *left, *without]
    aims = [f"  {student}: {', '.join(keys) or 'farther on'}" for student, keys in done.aims.items()]
    said = f"{done.task}: {counted(len(done.new), 'sheet')} new, {len(done.before)} before"
    return [said, *aims, *left, *without, *(f"  {path}" for path in done.files)]


def planned_data(done: Planned) -> Mapping[str, object]:
    """The proposal as data."""
    chosen = [
        {"question": c.question.key, "minutes": c.minutes, "bits": c.bits,
         "reasons": [{"misconception": r.key, "bits": r.bits, "suspected": r.suspected} for r in c.reasons]}
        for c in done.chosen
    ]  # fmt: skip
    return {"task": done.task, "minutes": done.minutes, "questions": chosen, "file": done.file}


def planned_lines(done: Planned) -> Sequence[str]:
    """The proposal in lines."""
    lines = [f"{done.task}: {counted(len(done.chosen), 'question')}, about {done.minutes} min"]
    for one in done.chosen:
        why = ", ".join(reason.key for reason in one.reasons)
        lines.append(f"  {one.question.key} ({one.minutes} min): {why}")
    return [*lines, f"  {done.file}"]
