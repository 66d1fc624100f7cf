"""Files as they were received, compressed, once for each content, so that a query a year later can open them."""

import hashlib
import sqlite3
import zlib


def keep(db: sqlite3.Connection, data: bytes) -> str:
    """Keep a file; its SHA-256."""
    sha = hashlib.sha256(data).hexdigest()
    known = db.execute("SELECT 1 FROM files WHERE sha256 = ?", (sha,)).fetchone()
    if known is None:
        packed = zlib.compress(data, 9)
        db.execute("INSERT INTO files (sha256, size, body) VALUES (?, ?, ?)", (sha, len(data), packed))
    return sha


def load(db: sqlite3.Connection, sha256: str) -> bytes | None:
    """The file of this hash, or None where it was not kept. ValueError where it is not what was kept."""
    row = db.execute("SELECT size, body FROM files WHERE sha256 = ?", (sha256,)).fetchone()
    if row is None:
        return None
    unpacked = zlib.decompressobj()
    data = unpacked.decompress(row[1], row[0] + 1)
    if len(data) != row[0] or hashlib.sha256(data).hexdigest() != sha256:
        raise ValueError(f"the file {sha256[:12]} is not what was received")
    return data
