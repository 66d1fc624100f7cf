"""The chain of the journal: each row has a hash of what it says and a link made of the link before and that hash.

A row that is changed, left out or put in by other means breaks it, or has no link. The hash is salted, and the salt
goes when a row is removed with its student: the links stay whole, and the hash tells nothing of who it was.
"""

import hashlib
import sqlite3
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from secrets import token_hex
from typing import Any

from witnessmark.record.codec import to_json
from witnessmark.record.storing import text_back

BEGINNING = "witnessmark journal 1"
COLUMNS = "id, at, event, task, sheet, ask, before, after, who, why, detail, evidence"


def digest(text: str) -> str:
    """The SHA-256 of a text, as 64 hexadecimal digits."""
    return hashlib.sha256(text.encode()).hexdigest()


def last_row(db: sqlite3.Connection) -> int:
    """The number of the last row that the journal ever had; rows beyond it are new."""
    found = db.execute("SELECT seq FROM sqlite_sequence WHERE name = 'journal'").fetchone()
    return found[0] if found else 0


def head(db: sqlite3.Connection) -> str:
    """The last link; it stands for the whole journal."""
    found = db.execute("SELECT link FROM chain ORDER BY row DESC LIMIT 1").fetchone()
    return found[0] if found else digest(BEGINNING)


def seal(db: sqlite3.Connection, since: int) -> None:
    """Give every row beyond `since` its link."""
    link, made = head(db), []
    for row in db.execute(f"SELECT {COLUMNS} FROM journal WHERE id > ? ORDER BY id", (since,)):  # noqa: S608
        salt = token_hex(8)
        content = _content(salt, row)
        link = _link(link, content)
        made.append((row[0], salt, content, link))
    db.executemany("INSERT INTO chain (row, salt, content, link) VALUES (?, ?, ?, ?)", made)


def unsalt(db: sqlite3.Connection, rows: Sequence[int], removal: int) -> None:
    """Leave of these rows, which are gone, the links alone; `removal` is the row that tells of it."""
    db.executemany("UPDATE chain SET salt = '', removed = ? WHERE row = ?", [(removal, row) for row in rows])


def evidence_of(rows: Iterable[int]) -> str:
    """What the row about a removal says of the rows that went."""
    return digest(to_json(sorted(rows)))


def _content(salt: str, row: Sequence[Any]) -> str:
    return digest(to_json([salt, *(text_back(v) if isinstance(v, bytes) else v for v in row)]))


def _link(before: str, content: str) -> str:
    return digest(f"{before} {content}")


def faults(db: sqlite3.Connection) -> Iterator[tuple[int, str]]:
    """Every row of the journal that is not as it was written, by number, with what is wrong."""
    rows = {row[0]: row for row in db.execute(f"SELECT {COLUMNS} FROM journal ORDER BY id")}  # noqa: S608
    link, gone = digest(BEGINNING), defaultdict(list)
    linked = set()
    for number, salt, content, stored, removal in db.execute("SELECT row, salt, content, link, removed FROM chain"):
        linked.add(number)
        if stored != _link(link, content):
            yield number, "does not follow the row before it"
        link = stored
        if removal:
            gone[removal].append(number)
        elif number not in rows:
            yield number, "is missing"
        elif _content(salt, rows[number]) != content:
            yield number, "was changed"
    for number, row in rows.items():
        if number not in linked:
            yield number, f"was not written by this program ({row[2]}, '{row[9]}')"
    for removal, removed in gone.items():
        if removal not in rows or rows[removal][-1] != evidence_of(removed):
            yield removal, f"does not tell of all {len(removed)} rows that were taken out with a student"
