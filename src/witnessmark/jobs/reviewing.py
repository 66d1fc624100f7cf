"""The job `review`: the class's review as a page to open and as JSON for machines, with the wrong methods that students
share and no question knows."""

import json
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import Any

from witnessmark.documents.review.page import review_page
from witnessmark.files.safe.atomic import write_together
from witnessmark.jobs.documents import review_names
from witnessmark.jobs.opened import alone, not_issued, open_class
from witnessmark.maths.printing.plain import plain
from witnessmark.record.record import Record
from witnessmark.review import sentences
from witnessmark.review.class_review import ClassReview, NoteRead, class_review
from witnessmark.review.shared_methods import NOT_SEARCHED, Searched, SharedMethod, search
from witnessmark.words.errors import ProblemsFound


@dataclass(frozen=True, slots=True)
class Reviewed:
    """The review of a task of the class in a folder, and where its page and its JSON were written."""

    review: ClassReview
    page: Path
    data: Path
    folder: Path
    task: str


def review(class_path: Path, task_key: str) -> Reviewed:
    """Write the review of one task from the record; raises ProblemsFound when the task was not issued."""
    with alone(class_path, "review"):
        return _review(class_path, task_key)


def _review(class_path: Path, task_key: str) -> Reviewed:
    opened = open_class(class_path)
    with opened.record() as record:
        if not record.sheets(task_key):
            raise ProblemsFound([not_issued(class_path, task_key)])
        found, files = review_files(opened.title, record, task_key)
    write_together(class_path, files)
    page, data = (class_path / name for name in files)
    return Reviewed(found, page, data, class_path, task_key)


def review_files(title: str, record: Record, task_key: str) -> tuple[ClassReview, dict[str, bytes]]:
    """The review of a task of the class of this title, and its page and its JSON by their names."""
    sheets, outcomes = record.sheets(task_key), record.outcomes(task_key)
    misconceptions = {k: m for s in sheets for v in s.variants for k, m in v.question.misconceptions.items()}
    found = class_review(f"{title}: {sheets[0].task.title}", sheets, outcomes, misconceptions)
    students = {sheet.code: sheet.student.code for sheet in sheets}
    notes = tuple(NoteRead(note.sheet, students[note.sheet], note.words) for note in record.notes(task_key))
    found = replace(found, searched=search(sheets, outcomes), notes=notes)
    told = json.dumps(as_json(found), indent=1, ensure_ascii=False).encode(errors="backslashreplace")
    return found, dict(zip(review_names(task_key), (review_page(found).encode(), told), strict=True))


def as_json(found: ClassReview) -> dict[str, Any]:
    """The review as plain data: numbers as numbers, marks as text, so that nothing is rounded."""
    data = asdict(replace(found, searched=NOT_SEARCHED)) | {"searched": _searched(found.searched)}
    for recurrence, row in zip(found.recurrences, data["recurrences"], strict=True):
        row["students"], row["share"] = list(recurrence.students), recurrence.share
    for row in data["facilities"]:
        row["out_of"] = str(row["out_of"])
        row["verdicts"] = {str(verdict): count for verdict, count in row["verdicts"]}
    return data


def _searched(found: Searched) -> dict[str, Any]:
    shared = [_shared(method) for method in found.shared]
    said = "" if shared else sentences.nothing(found)
    return {"unexplained": found.unexplained, "searched": found.searched, "shared": shared, "told": said}


def _shared(m: SharedMethod) -> dict[str, Any]:
    """One shared method: its formulas as an author would type them, and the sentences about it."""
    said = [sentences.difference(m), sentences.power(m), sentences.certainty(m), sentences.accident(m)]
    return {
        "number": m.number, "label": m.label, "question": m.question, "place": m.place, "what": m.what,
        "formula": plain(m.formula), "right": plain(m.right), "power": m.power,
        "beside": plain(m.beside) if m.beside is not None else "", "entry": m.entry,
        "students": [asdict(sharer) for sharer in m.who], "log_odds": m.log_odds,
        "accidental": m.accidental, "tried": m.tried, "answers": m.answers,
        "rivals": [plain(tree) for tree in m.rivals], "told": [sentence for sentence in said if sentence],
    }  # fmt: skip
