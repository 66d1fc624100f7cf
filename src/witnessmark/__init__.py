"""Witness Mark: individual calculation sheets, and a marker that finds the method behind a wrong answer."""

TYPE_CHECKING = False  # the module `typing` loads as long as Python takes to start
if TYPE_CHECKING:
    from typing import Any

    from witnessmark.files.bank.folder import load_bank
    from witnessmark.jobs.marking_tables import mark_table
    from witnessmark.marking.marker import mark
    from witnessmark.marking.outcome import Outcome, Verdict
    from witnessmark.questions.sheet.task import Rules
    from witnessmark.reading.quantity.entries import Certainty, Reading, read_quantity
    from witnessmark.words.errors import NoVariant, ProblemsFound, WitnessMarkError

__version__ = "0.1.0"

_HOMES = {
    "Certainty": "witnessmark.reading.quantity.entries",
    "NoVariant": "witnessmark.words.errors",
    "Outcome": "witnessmark.marking.outcome",
    "ProblemsFound": "witnessmark.words.errors",
    "Reading": "witnessmark.reading.quantity.entries",
    "Rules": "witnessmark.questions.sheet.task",
    "Verdict": "witnessmark.marking.outcome",
    "WitnessMarkError": "witnessmark.words.errors",
    "load_bank": "witnessmark.files.bank.folder",
    "mark": "witnessmark.marking.marker",
    "mark_table": "witnessmark.jobs.marking_tables",
    "read_quantity": "witnessmark.reading.quantity.entries",
}

__all__ = [
    "Certainty",
    "NoVariant",
    "Outcome",
    "ProblemsFound",
    "Reading",
    "Rules",
    "Verdict",
    "WitnessMarkError",
    "load_bank",
    "mark",
    "mark_table",
    "read_quantity",
]


def __getattr__(name: str) -> "Any":
    """Public names are imported at first use, so that `import witnessmark` and `--help` stay light."""
    if name not in _HOMES:
        raise AttributeError(f"module 'witnessmark' has no attribute {name!r}")
    from importlib import import_module

    return getattr(import_module(_HOMES[name]), name)


def __dir__() -> list[str]:
    """The public names, and what every module has: `dir` and `help` show what is imported at first use as well."""
    return sorted([*__all__, *(name for name in globals() if name.startswith("__"))])
