"""The job `review` without a task: the class over its year, as a page to open and a PDF for a meeting."""

from dataclasses import dataclass
from pathlib import Path

from witnessmark.documents.page.html import html_of
from witnessmark.documents.page.pdf import pdf_of
from witnessmark.documents.year.page import year_document
from witnessmark.files.safe.atomic import write_together
from witnessmark.jobs.documents import Documents
from witnessmark.jobs.opened import alone
from witnessmark.jobs.opened_year import OpenedYear, open_year
from witnessmark.review.year.topics import topics_of
from witnessmark.review.year.year_review import YearReview, year_review
from witnessmark.words.faults import Fault

WITH_NAMES, CODES_ALONE = "year", "year-codes"


@dataclass(frozen=True, slots=True)
class YearReviewed:
    """The review of a year, whether it names people, and the files to open; `faults` are documents that failed."""

    review: YearReview
    with_names: bool
    files: tuple[Path, ...]
    faults: tuple[Fault, ...] = ()


def review_of_year(class_path: Path, with_names: bool = True) -> YearReviewed:
    """Write the review of the year from the record; raises ProblemsFound where nothing was marked yet."""
    with alone(class_path, "review"):
        review, made = year_files(open_year(class_path), with_names)
        write_together(class_path, made.files)
        return YearReviewed(review, with_names, tuple(class_path / file for file in made.files), tuple(made.faults))


def year_files(found: OpenedYear, with_names: bool) -> tuple[YearReview, Documents]:
    """The review of a year, and its page and PDF."""
    review = year_review(found.year, found.misconceptions, found.recurrences, topics_of(found.bank.values()))
    name = WITH_NAMES if with_names else CODES_ALONE
    made = Documents()
    made.add(f"{name}.html", lambda: html_of(year_document(review, with_names)).encode())
    made.add(f"{name}.pdf", lambda: pdf_of(year_document(review, with_names, has_answers=False)))
    return review, made
