"""What bringing a record up to date does beside its scripts: texts rewritten, and a chain for the journal it has."""

import hashlib
import json
import sqlite3
from collections.abc import Callable, Mapping

from witnessmark.record import chain
from witnessmark.record.codec import to_json


def mend_4(db: sqlite3.Connection) -> None:
    """Question texts lose the path of the bank that they were read from, so that one question is one text; the rows of
    the journal get their links."""
    for old, body in db.execute("SELECT hash, body FROM texts ORDER BY rowid").fetchall():
        text = _without_path(body)
        if text != body:
            new = hashlib.sha256(text.encode()).hexdigest()
            db.execute("INSERT OR IGNORE INTO texts (hash, body) VALUES (?, ?)", (new, text))
            db.execute("UPDATE variants SET text = ? WHERE text = ?", (new, old))
            db.execute("DELETE FROM texts WHERE hash = ?", (old,))
    chain.seal(db, since=0)


def _without_path(body: str) -> str:
    """A bundle of form 1 as one of form 2, which has no path; any other text as it is."""
    try:
        content = json.loads(body)
    except (ValueError, RecursionError):
        return body
    if not isinstance(content, dict) or content.get("form") != "witnessmark question 1":
        return body
    return to_json(
        {**{key: value for key, value in content.items() if key != "file"}, "form": "witnessmark question 2"}
    )


MENDING: Mapping[int, Callable[[sqlite3.Connection], None]] = {4: mend_4}
"""What is done after the script that makes a version."""
