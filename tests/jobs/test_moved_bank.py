"""A bank that moved between two issues of a task is the same bank: one class, one search, and no path in the record."""

import shutil
from pathlib import Path

from jobs.shared_class import CODES, DID_SO, SQUARE, by_formula
from jobs.small_class import (
    BANK_FOLDER,
    LATER,
    NOW,
    TASK,
    hand_in,
    right_answers,
    sheets_of,
    small_class,
    write_students,
    write_task,
)
from witnessmark.jobs.issuing import issue
from witnessmark.jobs.marking import mark
from witnessmark.jobs.reviewing import review


def bank_in(place: Path) -> Path:
    """A bank of one question in a folder."""
    bank = place / "bank"
    question = next(BANK_FOLDER.glob("*/drain-hole.yaml"))
    (bank / question.parent.name).mkdir(parents=True)
    shutil.copy(question, bank / question.parent.name)
    shutil.copy(BANK_FOLDER / "misconceptions.yaml", bank)
    for folder in ("tables", "figures"):
        shutil.copytree(BANK_FOLDER / folder, bank / folder)
    return bank


def half_and_half(tmp_path: Path, mended: str = "") -> Path:
    """Eight apprentices, half of them issued before the bank moved; four went round a square, two on each side."""
    first, second = bank_in(tmp_path / "yard"), bank_in(tmp_path / "office")
    folder = small_class(tmp_path / "class", first)
    write_task(folder, "[drain-hole]")
    everybody = [(code, f"Name of {code}", code[:2]) for code in CODES]
    write_students(folder, everybody[:4])
    issue(folder, TASK, NOW)
    (folder / "class.yaml").write_text((folder / "class.yaml").read_text().replace("yard", "office"))
    if mended:
        (file,) = second.glob("*/drain-hole.yaml")
        file.write_text(file.read_text().replace("title: ", f"title: {mended} "))
    write_students(folder, everybody)
    issue(folder, TASK, NOW)
    for code, sheet in sheets_of(folder).items():
        answers = right_answers(sheet)
        if code in DID_SO:
            answers["1.a"] = by_formula(sheet, "1.a", SQUARE)
        hand_in(folder, sheet, answers)
    mark(folder, TASK, LATER)
    return folder


def shared(folder: Path) -> list[tuple[str, ...]]:
    """Who shares a method that no question knows."""
    return [tuple(w.student for w in m.who) for m in review(folder, TASK).review.searched.shared]


def test_a_wrong_method_is_found_in_students_who_were_issued_from_two_folders(tmp_path: Path) -> None:
    folder = half_and_half(tmp_path)
    assert shared(folder) == [DID_SO]
    assert str(tmp_path / "yard").encode() not in (folder / "record.db").read_bytes()


def test_a_misprint_mended_between_two_issues_does_not_part_the_class(tmp_path: Path) -> None:
    folder = half_and_half(tmp_path, mended="A better")
    titles = {sheet.variants[0].question.title for sheet in sheets_of(folder).values()}
    assert len(titles) == 2
    assert shared(folder) == [DID_SO]
