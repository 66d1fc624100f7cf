"""Which entry counts for each answer of a sheet.

What is taken in adds to what counts. Where two files hold different entries for one answer neither replaces the other:
the first goes on counting and the other waits in `differing`, until a teacher decides. A blank replaces nothing.
"""

import sqlite3
from collections.abc import Iterable, Sequence
from datetime import datetime

from witnessmark.questions.sheet.task import NOTE, Entry
from witnessmark.record import journal
from witnessmark.record.rows import Difference, Event, Received
from witnessmark.record.storing import any_text, named, stamp, text_back

ENTRY = "raw, place, note, spoiled"


def entry_of(raw: str | bytes, place: str | bytes, note: str | bytes, spoiled: int) -> Entry:
    """An entry from its columns."""
    return Entry(text_back(raw), text_back(place), text_back(note), bool(spoiled))


def forget_file(db: sqlite3.Connection, sheet: int, name: str | bytes, number: int) -> None:
    """Let what a file of this name said earlier wait no longer: it says something else now."""
    db.execute(
        "DELETE FROM differing WHERE sheet = ? AND return <> ? AND return IN (SELECT id FROM returns WHERE name = ?)",
        (sheet, number, name),
    )


def join(
    db: sqlite3.Connection, sheet: int, number: int, entries: Sequence[tuple[str, Entry]], now: datetime
) -> tuple[str, ...]:
    """Let the entries of a return count where none does yet; those that differ from one that counts wait. The asks that
    count anew. A note to the teacher answers nothing: every one stands beside the others."""
    counts = {
        text_back(ask): entry_of(*entry)
        for ask, *entry in db.execute(
            f"SELECT c.ask, {', '.join(f'e.{name}' for name in ENTRY.split(', '))} "  # noqa: S608
            "FROM counting AS c JOIN entries AS e ON e.return = c.return AND e.ask = c.ask WHERE c.sheet = ?",
            (sheet,),
        )
    }
    added = []
    for ask, entry in entries:
        if ask == NOTE or not entry.is_filled:
            continue
        if ask not in counts:
            db.execute("INSERT INTO counting (sheet, ask, return) VALUES (?, ?, ?)", (sheet, any_text(ask), number))
            counts[ask] = entry
            added.append(ask)
        elif (entry.raw, entry.spoiled) != (counts[ask].raw, counts[ask].spoiled):
            columns = "(sheet, ask, return, since)"
            row = (sheet, any_text(ask), number, stamp(now))
            db.execute(f"INSERT OR IGNORE INTO differing {columns} VALUES (?, ?, ?, ?)", row)  # noqa: S608
        else:
            db.execute(
                "DELETE FROM differing WHERE sheet = ? AND ask = ? AND return = ?", (sheet, any_text(ask), number)
            )
    return tuple(added)


def differences(db: sqlite3.Connection, task: str) -> tuple[Difference, ...]:
    """Every entry of a task that waits beside one that counts, in the order of sheets and answers."""
    found = db.execute(
        "SELECT s.code, s.student, d.ask, a.id, a.name, x.raw, x.place, x.note, x.spoiled, "
        "b.id, b.name, y.raw, y.place, y.note, y.spoiled FROM differing AS d JOIN sheets AS s ON s.id = d.sheet "
        "JOIN counting AS c ON c.sheet = d.sheet AND c.ask = d.ask "
        "JOIN returns AS a ON a.id = c.return JOIN entries AS x ON x.return = a.id AND x.ask = d.ask "
        "JOIN returns AS b ON b.id = d.return JOIN entries AS y ON y.return = b.id AND y.ask = d.ask "
        "WHERE s.task = ? ORDER BY s.id, x.position, b.id",
        (task,),
    )
    return tuple(
        Difference(code, student, text_back(ask), _received(*rest[:6]), _received(*rest[6:]))
        for code, student, ask, *rest in found
    )


def _received(number: int, name: str | bytes, *entry: str | bytes | int) -> Received:
    raw, place, note, spoiled = entry
    assert not isinstance(raw, int)
    assert not isinstance(place, int)
    assert not isinstance(note, int)
    return Received(number, text_back(name), entry_of(raw, place, note, int(spoiled)))


def choose(
    db: sqlite3.Connection, sheet: str, number: int, asks: Iterable[str] | None, who: str, why: str, now: datetime
) -> bool:
    """Let a return of a sheet count: for these asks, or alone for all where they are None. False where it does already.

    An answer that the chosen return leaves blank is blank then. ProblemsFound without a name or reason, KeyError where
    the sheet has no such return.
    """
    who, why = named(sheet, "the choice of a return", who, why)
    row = db.execute(
        "SELECT s.id, s.task, r.name FROM returns AS r JOIN sheets AS s ON s.id = r.sheet "
        "WHERE s.code = ? AND r.id = ?",
        (sheet, number),
    ).fetchone()
    if row is None:
        raise KeyError(f"{sheet} has no return {number}")
    filled = {
        text_back(ask)
        for ask, *entry in db.execute(f"SELECT ask, {ENTRY} FROM entries WHERE return = ?", (number,))  # noqa: S608
        if entry_of(*entry).is_filled
    } - {NOTE}
    found = db.execute("SELECT ask, return FROM counting WHERE sheet = ?", (row[0],))
    counts = {text_back(ask): counting for ask, counting in found}
    wanted = set(counts) | filled if asks is None else set(asks)
    waiting = {text_back(ask) for (ask,) in db.execute("SELECT ask FROM differing WHERE sheet = ?", (row[0],))}
    changed = {ask for ask in wanted if counts.get(ask) != (number if ask in filled else None)}
    if not changed and not wanted & waiting:
        return False
    for ask in sorted(wanted):
        db.execute("DELETE FROM counting WHERE sheet = ? AND ask = ?", (row[0], any_text(ask)))
        db.execute("DELETE FROM differing WHERE sheet = ? AND ask = ?", (row[0], any_text(ask)))
        if ask in filled:
            put = "INSERT INTO counting (sheet, ask, return, chosen) VALUES (?, ?, ?, 1)"
            db.execute(put, (row[0], any_text(ask), number))
    file = text_back(row[2])
    detail = f"{file}: {'all answers' if asks is None else ', '.join(sorted(wanted))}"
    journal.write(db, now, Event.CHOSEN, why, journal.About(row[1], sheet), who=who, detail=detail)
    return True
