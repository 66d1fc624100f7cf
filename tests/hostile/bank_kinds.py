"""Files of a bank that want more than they may: each function spoils one of `folder`, a class, or of its `bank`."""

import os
from pathlib import Path


def _question(bank: Path, old: str, new: str) -> None:
    path = next(bank.rglob("drain-hole.yaml"))
    text = path.read_text(encoding="utf-8")
    assert old in text, old
    path.write_text(text.replace(old, new), encoding="utf-8")


def marks_without_end(folder: Path, bank: Path) -> None:
    _question(bank, "    marks: 3\n", "    marks: 1e99\n")


def two_thousand_givens(folder: Path, bank: Path) -> None:
    more = "".join(f"  g{n}: {{is: thing, unit: mm, one of: [1, 2]}}\n" for n in range(2000))
    _question(bank, "given:\n", "given:\n" + more)


def ninety_thousand_values(folder: Path, bank: Path) -> None:
    _question(bank, "[10, 12, 16, 20, 25]", f"[{', '.join(map(str, range(10, 90_010)))}]")


def a_formula_a_hundred_thousand_long(folder: Path, bank: Path) -> None:
    _question(bank, "answer: tau*A_s\n", f"answer: tau*A_s{'*1' * 50_000}\n")


def a_formula_of_brackets(folder: Path, bank: Path) -> None:
    _question(bank, "answer: tau*A_s\n", f"answer: {'(' * 900}tau*A_s{')' * 900}\n")


def powers_of_powers(folder: Path, bank: Path) -> None:
    _question(bank, "answer: tau*A_s\n", "answer: tau*A_s*9**9**9**9\n")


def a_slip_without_a_number(folder: Path, bank: Path) -> None:
    _question(bank, "answer: tau*pi*(d/2)*t, keeps", "answer: tau*d*t/(d/d - 1), keeps")


def a_slip_that_overflows(folder: Path, bank: Path) -> None:
    _question(bank, "answer: tau*pi*(d/2)*t, keeps", "answer: tau*d*t*10**300*10**300, keeps")


def a_setting_of_a_million_letters(folder: Path, bank: Path) -> None:
    _question(bank, "setting: >\n", "setting: >\n  " + "word " * 180_000 + "\n")


def a_question_that_is_a_pipe(folder: Path, bank: Path) -> None:
    path = next(bank.rglob("drain-hole.yaml"))
    path.unlink()
    os.mkfifo(path)


def a_question_of_noughts(folder: Path, bank: Path) -> None:
    next(bank.rglob("drain-hole.yaml")).write_bytes(bytes(1_000_000))


def misconceptions_without_end(folder: Path, bank: Path) -> None:
    with (bank / "misconceptions.yaml").open("r+b") as file:
        file.truncate(8_000_000_000)


def a_table_of_values_that_is_a_device(folder: Path, bank: Path) -> None:
    path = bank / "tables" / "metals.yaml"
    path.unlink()
    path.symlink_to("/dev/zero")


def a_bank_that_links_to_itself(folder: Path, bank: Path) -> None:
    (bank / "more").symlink_to(bank)
