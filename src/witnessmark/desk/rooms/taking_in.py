"""Taking in: files handed in and marked, what was not understood, and two entries side by side before one replaces the
other."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from witnessmark.desk.acts.marking import take_in
from witnessmark.desk.rooms.room import Room, begun, typed_day
from witnessmark.desk.spoken import moment
from witnessmark.desk.visit import Go, Page, Reply, Visit
from witnessmark.desk.words import _, counted
from witnessmark.desk.works import Done
from witnessmark.jobs.counting import choose
from witnessmark.jobs.handing_in import HandedIn, PutIn, put_in
from witnessmark.jobs.listing_returns import ReturnsListed, list_returns
from witnessmark.jobs.opened import alone
from witnessmark.record.rows import Difference
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem


@dataclass(frozen=True, slots=True)
class SideBySide:
    """Two returns of one sheet that hold different entries: whose, which returns, and the entries by answer."""

    sheet: str
    student: str
    name: str
    counts: int
    other: int
    entries: tuple[tuple[str, Difference], ...]
    filled: tuple[int, int]


def show_back(visit: Visit) -> Reply:
    """What came back so far, and what waits for a choice."""
    listed = list_returns(visit.class_path, visit.way["task"], visit.now, with_days=False)
    visit.keeping.works.make_ready(take_in)
    return Page("back", {"listed": listed, "pairs": side_by_side(listed), "rows": _rows(listed)})


def take(visit: Visit) -> Reply:
    """Files put beside those that are there, then everything marked in a process of its own."""
    came, task = typed_day(visit.text("came")), visit.way["task"]
    files = (*visit.files, *_message(visit))
    before = _told(put_in(visit.class_path, task, files)) if files else Done()
    title = _("Taking in {task}").format(task=task)
    return begun(visit, title, take_in, visit.class_path, task, visit.now, came, visit.who.strip(), before)


def _message(visit: Visit) -> tuple[HandedIn, ...]:
    """What was copied from a message, as a file."""
    text = visit.text("message").strip()
    return (HandedIn(f"message {visit.now:%Y-%m-%d %H-%M}.txt", f"{text}\n".encode()),) if text else ()


def choose_return(visit: Visit) -> Reply:
    """One of two returns counts: for the answers that differ, or for the whole sheet."""
    with alone(visit.class_path, "counts"):
        _choose(visit, visit.text("sheet"), visit.text("counts"))
    return Go(visit.at("task", visit.way["task"], "back"))


def _choose(visit: Visit, sheet: str, number: str) -> None:
    listed = list_returns(visit.class_path, visit.way["task"], visit.now, with_days=False)
    pair = next((p for p in side_by_side(listed) if _seal(p) == visit.text("pair")), None)
    if pair is None or number not in (str(pair.counts), str(pair.other)):
        found, remedy = _("others, since something came in or was chosen meanwhile"), _("look at them once more")
        raise ProblemsFound([Problem("stale", Place(sheet), _("the two entries that were shown"), found, remedy)])
    labels = [label for label, _difference in pair.entries]
    choose(visit.class_path, sheet, int(number), labels, visit.text("who"), visit.text("why"), visit.now)


def side_by_side(listed: ReturnsListed) -> list[SideBySide]:
    """Every pair of returns that differ, with all entries in which they do."""
    found: dict[tuple[str, int, int], list[Difference]] = {}
    for one in listed.differences:
        found.setdefault((one.sheet, one.counts.number, one.other.number), []).append(one)
    return [_pair(listed, *which, several) for which, several in found.items()]


def _pair(listed: ReturnsListed, code: str, counts: int, other: int, differences: Sequence[Difference]) -> SideBySide:
    sheet = listed.sheets[code]
    labels = {ask.key: ask.label for ask in sheet.asks}
    filled = {r.number: sum(e.is_filled for _key, e in r.handed_in.answers) for r in listed.returns[code]}
    entries = tuple((labels[d.ask], d) for d in differences)
    student = sheet.student
    return SideBySide(code, student.code, student.name, counts, other, entries, (filled[counts], filled[other]))


def _seal(pair: SideBySide) -> str:
    """What tells whether a pair is the one that was shown."""
    return f"{pair.sheet} {pair.counts} {pair.other} {' '.join(label for label, _difference in pair.entries)}"


def _rows(listed: ReturnsListed) -> list[tuple[str, str, str, int, int, str]]:
    """Each return, and each sheet without one: student, name, file, entries, how many count, and when."""
    rows = []
    for code, several in listed.returns.items():
        student = listed.sheets[code].student
        for one in several:
            filled = sum(entry.is_filled for _key, entry in one.handed_in.answers)
            when = moment(one.received)
            file = Path(one.handed_in.file).name
            rows.append((student.code, student.name, file, filled, len(one.counts), when))
        if not several:
            rows.append((student.code, student.name, "", 0, 0, ""))
    return rows


def _told(put: PutIn) -> Done:
    told = [counted(len(put.new), "{n} file taken", "{n} files taken")] if put.new else []
    if put.there:
        told.append(counted(len(put.there), "{n} file was there already, the same to the last sign",
                            "{n} files were there already, the same to the last sign"))  # fmt: skip
    return Done(tuple(told), put.problems)


ROOMS = (
    Room("/class/{klass}/task/{task}/back", show_back, take),
    Room("/class/{klass}/task/{task}/choose", show_back, choose_return),
)
