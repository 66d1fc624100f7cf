"""What `remove` prints: what goes, what is written anew, and what only a person can clear; and the same as data."""

from __future__ import annotations

from typing import TYPE_CHECKING

from witnessmark.cli.words import counted

if TYPE_CHECKING:
    from witnessmark.jobs.removing import Removal


def removed_data(done: Removal) -> dict[str, object]:
    """The result of `remove`, for machines."""
    return {
        "student": done.student, "name": done.name, "applied": done.applied, "sheets": done.sheets,
        "returns": done.returns, "marks": done.marks, "files": done.files, "written_anew": done.anew,
        "copies": done.copies, "by_hand": done.by_hand,
    }  # fmt: skip


def removed_lines(done: Removal) -> list[str]:
    """The result of `remove`, for people: before it is done every file is named."""
    held = [(done.sheets, "sheet"), (done.returns, "return"), (done.marks, "mark"), (len(done.files), "file")]
    counts = ", ".join(counted(*pair) for pair in held)
    did = "removed" if done.applied else "would be removed; nothing is touched without --apply"
    return [
        f"{done.student}{'' if done.applied else f' {done.name}'}: {counts} {did}",
        *([] if done.applied else [f"  {path}" for path in done.files]),
        *_listed("cleared of it, of the copies of the record", done.copies),
        *_listed("written anew without it" if done.applied else "would be written anew without it", done.anew),
        *_listed("look by hand for", done.by_hand),
    ]


def _listed(said: str, what: tuple[object, ...]) -> list[str]:
    return [f"{said}:", *(f"  {one}" for one in what)] if what else []
