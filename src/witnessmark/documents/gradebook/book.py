"""The gradebook of one task as a workbook: a summary, every answer, what students wrote to the teacher,
misconceptions by student, and charts."""

from datetime import datetime

from witnessmark.documents.gradebook.answers_page import write_answers
from witnessmark.documents.gradebook.charts_page import write_charts
from witnessmark.documents.gradebook.data import GradebookData
from witnessmark.documents.gradebook.hand_pages import hand_labels, write_hand_page
from witnessmark.documents.gradebook.misconceptions_page import write_misconceptions
from witnessmark.documents.gradebook.notes_page import NOTES, write_notes
from witnessmark.documents.gradebook.summary_page import write_summary
from witnessmark.documents.gradebook.writer import GradeBook
from witnessmark.questions.sheet import gradebook_columns as columns


def gradebook(data: GradebookData, made: datetime) -> bytes:
    """The gradebook as xlsx; the same bytes for the same data and time. Formulas carry their results."""
    with GradeBook(f"{data.class_title}: {data.task_title}, gradebook", made) as book:
        summary, answers = book.page("Summary"), book.page(columns.ANSWERS)
        by_hand = {label: book.page(columns.hand_page(label)) for label in hand_labels(data)}
        notes = book.page(NOTES) if data.notes else None
        misconceptions, charts = book.page("Misconceptions"), book.page("Charts")
        write_summary(summary, data)
        write_answers(answers, data)
        for label, page in by_hand.items():
            write_hand_page(page, data, label)
        if notes:
            write_notes(notes, data)
        write_misconceptions(misconceptions, data)
        write_charts(charts, data, misconceptions)
    return book.data
