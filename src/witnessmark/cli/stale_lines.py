"""How every command names the documents that show what stood before it."""

from collections.abc import Sequence
from pathlib import Path


def stale_lines(stale: Sequence[Path]) -> list[str]:
    """The documents that show what stood before, for people."""
    if not stale:
        return []
    head = "These show what stood before; witnessmark return and review write them anew:"
    return [head, *(f"  {path}" for path in stale)]
