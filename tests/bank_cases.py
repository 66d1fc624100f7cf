"""Reads case files such as tests/cases/bank_problems.txt: changes to files, and the whole lines that they must raise.

A case is a paragraph: `# what is wrong`, then `file PATH`, `old TEXT` and `new TEXT` (repeated; without
`old`, `new` is the whole file), then one `says LINE` for each problem. `\\n`, `\\t` and `\\b` stand for a line end, a
tab and a bell.
"""

import shutil
from dataclasses import dataclass
from pathlib import Path

from witnessmark.files.bank.folder import load_bank
from witnessmark.words.errors import ProblemsFound

CASES = Path(__file__).parent / "cases"
SMALL_BANK = CASES / "small-bank"


@dataclass(frozen=True)
class Case:
    """One case: its name, the changes (file, old, new) and the lines expected."""

    name: str
    changes: tuple[tuple[str, str, str], ...]
    says: tuple[str, ...]


def read_cases(text: str) -> list[Case]:
    """The cases of the text."""
    return [_case(paragraph) for paragraph in text.strip().split("\n\n") if paragraph.startswith("# ")]


def _case(paragraph: str) -> Case:
    name, *lines = paragraph.splitlines()
    changes: list[tuple[str, str, str]] = []
    says: list[str] = []
    file = old = ""
    for line in lines:
        word, _, rest = line.partition(" ")
        if word == "file":
            file, old = rest, ""
        elif word == "old":
            old = _unescaped(rest)
        elif word == "new":
            changes.append((file, old, _unescaped(rest)))
        elif word == "says":
            says.append(rest)
        else:
            raise ValueError(f"{name}: cannot read {line!r}")
    return Case(name[2:], tuple(changes), tuple(says))


def _unescaped(text: str) -> str:
    return text.replace("\\n", "\n").replace("\\t", "\t").replace("\\b", "\a")


def small_bank(folder: Path, case: Case) -> Path:
    """The small bank with the changes of a case, in this folder."""
    bank = folder / "bank"
    shutil.copytree(SMALL_BANK, bank)
    for name, old, new in case.changes:
        file = bank / name
        text = file.read_text(encoding="utf-8") if old else ""
        if old and old not in text:
            raise ValueError(f"{case.name}: {old!r} is not in {name}")
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes((text.replace(old, new, 1) if old else new).encode())
    return bank


def problems_of(bank: Path) -> list[str]:
    """What loading a bank says, line by line, with the folder's own path left out; empty when it loads."""
    try:
        load_bank(bank)
    except ProblemsFound as error:
        return [str(problem).replace(f"{bank}/", "").replace(str(bank), "bank") for problem in error.problems]
    return []
