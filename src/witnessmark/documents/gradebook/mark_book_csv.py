"""The mark book as one plain table, for any program: a line for each student, two columns for each task."""

import csv
import io

from witnessmark.documents.gradebook.mark_book_data import MarkBookData

STARTS_FORMULA = ("=", "+", "-", "@", "\t", "\r")


def mark_book_csv(data: MarkBookData) -> bytes:
    """UTF-8 text: code, name, group, for each task the marks that count and where the student stands, the mean.

    Text that a spreadsheet would take for a formula has an apostrophe before it.
    """
    out = io.StringIO()
    lines = csv.writer(out, lineterminator="\r\n")
    tasks = [of_year.task for of_year in data.tasks]
    heads = [head for task in tasks for head in (f"{task.key} marks", f"{task.key} state")]
    lines.writerow(["student", "name", "group", *heads, "weighted mean"])
    lines.writerow(["out of", "", "", *(text for t in data.tasks for text in (f"{t.out_of:f}", "")), ""])
    lines.writerow(["weight", "", "", *(text for t in tasks for text in (f"{t.weight:f}", "")), ""])
    for one in data.students:
        told = [x for s in one.standings for x in ("" if s.marks is None else f"{s.marks:.6g}", s.state.value)]
        mean = data.mean(one)
        who = (one.student.code, one.student.name, one.student.group)
        lines.writerow([*map(plain, who), *told, "" if mean is None else f"{mean:.4f}"])
    return out.getvalue().encode()


def plain(text: str) -> str:
    """Text that no spreadsheet takes for a formula."""
    return f"'{text}" if text.startswith(STARTS_FORMULA) else text
