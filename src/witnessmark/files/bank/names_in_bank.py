"""The names that a question's file may use of its bank, by the key under which they are typed."""

from collections.abc import Mapping
from pathlib import Path

from witnessmark.files.bank.folder import FIGURE_ENDING, MISCONCEPTIONS
from witnessmark.files.bank.read_once import misconceptions_once
from witnessmark.files.safe.bounded import text_or_nothing
from witnessmark.files.safe.plain_text import LARGEST

Names = Mapping[str, Mapping[str, str]]


def names_in_bank(bank: Path) -> Names:
    """Misconceptions (with what is believed), figures, tables and topics; what cannot be read has no names."""
    file = bank / MISCONCEPTIONS
    found, _read, _problems = misconceptions_once(text_or_nothing(file, LARGEST), str(file))
    figures = sorted(one.name.removesuffix(FIGURE_ENDING) for one in (bank / "figures").glob(f"*{FIGURE_ENDING}"))
    tables = sorted(one.stem for one in (bank / "tables").glob("*.yaml"))
    topics = sorted(one.name for one in bank.iterdir() if one.is_dir() and next(one.glob("*.yaml"), None))
    return {
        "misconception": {key: one.believes for key, one in found.items()},
        "figure": dict.fromkeys(figures, ""),
        "row of": dict.fromkeys(tables, ""),
        "topic": dict.fromkeys((topic for topic in topics if topic != "tables"), ""),
    }
