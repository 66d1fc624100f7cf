"""The year of a class on a page, and the progress note, through their commands."""

import json
import re
from pathlib import Path

import docx
import pytest
import scipy.stats
from click.testing import CliRunner

from documents.pages import Page, words_of_pdf
from jobs.copied import copied
from jobs.small_class import LATER
from jobs.teaching_class import APPRENTICES, FACE, set_and_mark, taught
from witnessmark.cli.main import main
from witnessmark.questions.sheet.task import Task
from witnessmark.review.year.recurrence import Standing
from witnessmark.review.year.task_parts import least_told

LEARNT = {"HB00": (FACE,)}


def run(*words: str | Path) -> str:
    """The output of a command that succeeds."""
    done = CliRunner().invoke(main, [str(word) for word in words])
    assert done.exit_code == 0, done.output
    return done.output


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A class of six over two tasks: at the first three hold something, at the second one of them still does."""
    made = copied(taught, tmp_path_factory.mktemp("year") / "class")
    set_and_mark(made, Task("shear-2", "Shear once more", ("drain-hole",)), LEARNT, LATER)
    run("review", made)
    return made


@pytest.fixture(scope="module")
def page(folder: Path) -> Page:
    """The page of the year."""
    return Page((folder / "year.html").read_text(encoding="utf-8"))


def test_the_page_says_who_showed_what_of_those_who_could_and_who_shows_it_still(page: Page) -> None:
    for told in (
        "Face area for sheared edge", "Shown by 3 of the 6 who had the chance: too few to say how common it is.",
        "Show it still. HB00 Maren Tolk", "LB01 Idris Vael, HB02 Oona Brisk: not at their latest task with a chance.",
        "2 stopped showing it, 0 began to, 1 showed it both times", "So few changed that nothing can be concluded",
    ):  # fmt: skip
        assert told in page.words, told


def test_what_had_no_chance_stands_apart_from_what_was_not_seen(page: Page) -> None:
    apart = page.words.partition("Not seen, no chance:")
    assert "Double shear as single" in apart[2]
    assert "Double shear as single (" not in apart[0]


def test_what_had_no_chance_is_counted_by_topic_and_its_names_are_behind_the_counts(page: Page, folder: Path) -> None:
    told = json.loads(run("review", folder, "--json"))
    unknown = [m for m in told["misconceptions"] if m["standing"] == Standing.NO_CHANCE]
    apart = page.words.partition("Not seen, no chance:")[2].partition("Who needs the same")[0]
    counts = [int(count) for count in re.findall(r"(\d+) in [a-z]", apart)]
    assert apart.startswith(f" {len(unknown)} misconceptions. No answer that came in could have shown them")
    assert sum(counts) == len(unknown)
    assert counts == sorted(counts, reverse=True)
    assert len(page.all("details")) > len(counts)


def test_of_few_students_no_correlation_and_no_alpha_is_shown(page: Page, folder: Path) -> None:
    assert "6 students with every part marked. Fewer than 20 do not show which parts tell students apart" in page.words
    assert "alpha is" not in page.words
    told = json.loads(run("review", folder, "--json"))
    assert [(task["whole"], task["trust"]) for task in told["tasks"]] == [(6, None), (6, None)]
    assert all(part["item_rest"] is None for task in told["tasks"] for part in task["parts"])


def test_every_link_leads_to_a_heading_and_every_sighting_to_what_was_typed(page: Page, folder: Path) -> None:
    anchors = [a["id"] for a in page.all("div") if "id" in a]
    assert len(set(anchors)) == len(anchors)
    assert {str(a["href"])[1:] for a in page.all("a")} == set(anchors)
    assert f"entries-{FACE}" in anchors


def test_without_names_nobody_is_named(folder: Path, tmp_path: Path) -> None:
    run("review", folder, "--no-names")
    told = (folder / "year-codes.html").read_text(encoding="utf-8")
    printed = " ".join(words_of_pdf((folder / "year-codes.pdf").read_bytes(), tmp_path))
    for student in APPRENTICES:
        assert student.name not in told
        assert student.name not in printed
        assert student.code in printed


def test_page_and_paper_hold_their_drawings_with_words(page: Page, folder: Path, tmp_path: Path) -> None:
    assert len(page.all("img")) >= 3
    assert all(image["alt"] for image in page.all("img"))
    assert "What recurs" in " ".join(words_of_pdf((folder / "year.pdf").read_bytes(), tmp_path))


def test_a_mark_without_names_is_refused_for_a_task(folder: Path) -> None:
    done = CliRunner().invoke(main, ["review", str(folder), "shear-1", "--no-names"])
    assert done.exit_code == 2
    assert "--no-names is for the year" in done.output


@pytest.mark.parametrize("students", [3, 8, 20, 24, 100])
def test_the_least_correlation_that_is_told_from_none_is_that_of_a_reference_library(students: int) -> None:
    t = scipy.stats.t.ppf(0.975, students - 2)
    assert least_told(students) == pytest.approx(t / (students - 2 + t * t) ** 0.5, rel=1e-9)


def test_the_least_correlation_is_that_of_printed_tables() -> None:
    """R. A. Fisher and F. Yates, Statistical Tables, table VII: 0.632 at 8, 0.4438 at 18, 0.1966 at 98 degrees."""
    assert [round(least_told(n), 3) for n in (10, 20, 100)] == [0.632, 0.444, 0.197]


# The progress note -----------------------------------------------------------------------------------------------
def text_of(file: Path) -> str:
    """The words of a .docx as python-docx reads them."""
    return "\n".join(paragraph.text for paragraph in docx.Document(str(file)).paragraphs)


def test_a_note_says_what_is_secure_and_what_to_practise_without_marks_or_others(folder: Path) -> None:
    assert "to practise" in run("note", folder, "HB00")
    told = text_of(folder / "notes" / "HB00.docx")
    assert "Maren Tolk" in told
    assert "What to practise" in told
    assert "you wrote" in told
    assert not re.search(r"\d (of|marks?)\b|\bmark", told)
    assert not any(other.name in told or other.code in told for other in APPRENTICES[1:])


def test_a_note_tells_what_faded_and_what_is_not_known(folder: Path) -> None:
    run("note", folder, "LB01")
    told = text_of(folder / "notes" / "LB01.docx")
    assert "did not show the last time you could meet it" in told
    assert "No wrong way of working showed that still stands" in told
    assert "What was not asked yet is not known" in told


def test_a_note_for_the_yard_says_what_helps_at_the_bench_with_its_caution(folder: Path) -> None:
    run("note", folder, "HB00", "--yard", "--marks")
    told = text_of(folder / "notes" / "yard" / "HB00.docx")
    assert "What helps at the bench" in told
    assert "Caution." in told
    assert "you wrote" not in told
    assert re.search(r"Shear once more: \d½? of \d", told)


def test_a_note_that_was_edited_stays_and_a_fresh_one_is_written_beside_it(folder: Path) -> None:
    run("note", folder, "HB02")
    file = folder / "notes" / "HB02.docx"
    written = docx.Document(str(file))
    written.add_paragraph("Come by on Friday.")
    written.save(str(file))
    assert "HB02 (2).docx" in run("note", folder, "HB02")
    assert "Come by on Friday." in text_of(file)


def test_an_unknown_student_is_refused_with_the_codes(folder: Path) -> None:
    done = CliRunner().invoke(main, ["note", str(folder), "HB0O"])
    assert done.exit_code == 1
    assert "did you mean HB04" in done.output


def test_what_is_written_of_a_student_goes_when_the_student_does(tmp_path: Path) -> None:
    made = copied(taught, tmp_path / "class")
    run("review", made)
    run("note", made, "LB01", "--yard")
    run("remove", made, "LB01", "--who", "R. Vos", "--apply")
    page = (made / "year.html").read_text(encoding="utf-8")
    assert "HB00" in page
    assert "LB01" not in page
    assert not list(made.glob("notes/**/*.docx"))
