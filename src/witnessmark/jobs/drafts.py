"""What was typed for a question's file and is not kept in the bank yet: held in the class folder, so that it outlives
the page, the browser and the desk."""

import re
from dataclasses import dataclass
from pathlib import Path

from witnessmark.files.safe.atomic import write_file
from witnessmark.files.safe.bounded import text_or_nothing
from witnessmark.files.safe.plain_text import LARGEST

DRAFTS = "drafts"
FIRST_LINE = re.compile(r"# typed at the desk over (?P<seal>[0-9a-f]{64}), not in the bank yet\n")


@dataclass(frozen=True, slots=True)
class Draft:
    """What was typed, and the seal of the file over which it was typed."""

    text: str
    seal: str


def draft_of(class_path: Path, key: str) -> Draft | None:
    """What was typed last for a question and not kept; None where nothing was."""
    text = text_or_nothing(_file(class_path, key), LARGEST)
    first = FIRST_LINE.match(text)
    return Draft(text[first.end() :], first["seal"]) if first else None


def hold_draft(class_path: Path, key: str, draft: Draft) -> None:
    """Hold what was typed in the place of what is held."""
    if draft_of(class_path, key) != draft:
        first = f"# typed at the desk over {draft.seal}, not in the bank yet\n"
        write_file(_file(class_path, key), f"{first}{draft.text}".encode())


def drop_draft(class_path: Path, key: str, text: str | None = None) -> None:
    """Hold nothing any more; with `text`, only where that is what is held."""
    draft = draft_of(class_path, key)
    if draft is not None and text in (None, draft.text):
        _file(class_path, key).unlink(missing_ok=True)


def _file(class_path: Path, key: str) -> Path:
    return class_path / DRAFTS / f"{key}.yaml"
