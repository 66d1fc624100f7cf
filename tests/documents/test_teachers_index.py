"""The index for a teacher holds every question and every misconception of its slips, as the question files say."""

import re
from html import unescape
from pathlib import Path

from bank_fixture import BANK
from documents.pages import Page
from witnessmark.documents.page.html import html_of
from witnessmark.documents.teachers_index import teachers_index

FOLDER = Path(__file__).parents[2] / "bank"
KEPT = (FOLDER / "INDEX.html").read_text(encoding="utf-8")
QUESTION_FILES = {file.stem: file for file in FOLDER.glob("*/*.yaml") if file.parent.name != "tables"}
SECTIONS = dict(re.findall(r'id="question-([a-z0-9-]+)"(.*?)(?=<div class="heading"|</main>)', KEPT, re.DOTALL))


def named_in(file: Path) -> set[str]:
    """The misconceptions that stand in a question file, by its text alone."""
    return set(re.findall(r"\bmisconception: ([a-z0-9-]+)", file.read_text(encoding="utf-8")))


def told_in(section: str) -> set[str]:
    """The keys in brackets below a question."""
    return set(re.findall(r"\(([a-z0-9-]+)\)", section)) & set(BANK.misconceptions)


def test_every_question_file_has_its_place_in_the_index() -> None:
    assert len(QUESTION_FILES) > 150
    assert SECTIONS.keys() == QUESTION_FILES.keys(), "run scripts/write_index.py"


def test_each_question_lists_the_misconceptions_of_its_file_and_no_other() -> None:
    wrong = {key: told_in(SECTIONS[key]) ^ named_in(file) for key, file in QUESTION_FILES.items()}
    assert not {key: keys for key, keys in wrong.items() if keys}, "run scripts/write_index.py"


def test_each_misconception_stands_in_plain_words_beside_its_family() -> None:
    for key, section in SECTIONS.items():
        text = " ".join(unescape(re.sub("<[^>]*>", " ", section)).split())
        for misconception in told_in(section):
            assert BANK.misconceptions[misconception].believes in text, (key, misconception)
            assert BANK.families[misconception] in text, (key, misconception)


def test_the_head_of_a_question_tells_level_minutes_and_marks() -> None:
    """Three minutes to read and two for each mark (common practice, no source): 3 + 2 x 2."""
    assert "level 1, about 7 min, 2 marks" in SECTIONS["chainplate"]


def test_every_family_has_its_questions() -> None:
    families = KEPT[KEPT.index('id="families"') :]
    shown = {BANK.families[key] for file in QUESTION_FILES.values() for key in named_in(file)}
    assert {family for family in shown if f">{family}<" not in families} == set()
    linked = set(re.findall(r'href="#question-([a-z0-9-]+)"', families))
    assert linked == {key for key, file in QUESTION_FILES.items() if named_in(file)}


def test_the_index_for_a_teacher_is_current() -> None:
    assert Page(html_of(teachers_index(BANK))).words == Page(KEPT).words, "run scripts/write_index.py"
