"""The job `review`: the class's review as a page to open and as JSON for machines."""

import json
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from witnessmark.documents.review_page import review_page
from witnessmark.files.atomic import write_together
from witnessmark.jobs.opened import open_class
from witnessmark.review.class_review import ClassReview, class_review
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem


@dataclass(frozen=True, slots=True)
class Reviewed:
    """The review, and where its page and its JSON were written."""

    review: ClassReview
    page: Path
    data: Path


def review(class_path: Path, task_key: str) -> Reviewed:
    """Write the review of one task from the record; raises ProblemsFound when the task was not issued."""
    opened = open_class(class_path)
    with opened.record() as record:
        sheets, outcomes = record.sheets(task_key), record.outcomes(task_key)
    if not sheets:
        remedy = f"witnessmark issue {class_path} {task_key}"
        raise ProblemsFound([Problem("not-issued", Place(str(class_path)), "a task that was issued", task_key, remedy)])
    misconceptions = {k: m for s in sheets for v in s.variants for k, m in v.question.misconceptions.items()}
    found = class_review(f"{opened.title}: {sheets[0].task.title}", sheets, outcomes, misconceptions)
    page, data = class_path / f"review-{task_key}.html", class_path / f"review-{task_key}.json"
    told = json.dumps(as_json(found), indent=1, ensure_ascii=False)
    write_together(class_path, {page.name: review_page(found).encode(), data.name: told.encode()})
    return Reviewed(found, page, data)


def as_json(found: ClassReview) -> dict[str, Any]:
    """The review as plain data: numbers as numbers, marks as text, so that nothing is rounded."""
    data = asdict(found)
    for recurrence, row in zip(found.recurrences, data["recurrences"], strict=True):
        row["students"], row["share"] = list(recurrence.students), recurrence.share
    for row in data["facilities"]:
        row["out_of"] = str(row["out_of"])
        row["verdicts"] = {str(verdict): count for verdict, count in row["verdicts"]}
    return data
