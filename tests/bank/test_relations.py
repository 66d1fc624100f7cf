"""The relations of each topic: read, with every problem at its place, right in their dimensions, listed on sheets."""

import math
import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pint
import pytest

from bank_cases import problems_of
from bank_fixture import BANK
from documents.pages import Page, words_of_pdf
from witnessmark.documents.page.html import html_of
from witnessmark.documents.page.pdf import pdf_of
from witnessmark.documents.sheet.relations import in_order
from witnessmark.documents.sheet.sheet import sheet_document
from witnessmark.files.class_folder.task_text import task_from_text
from witnessmark.maths.syntax import Binary
from witnessmark.questions.model.relations import FEWEST_SPARE, NamedLetter, Relation, TopicRelations
from witnessmark.questions.sheet.task import Sheet, Student, Task
from witnessmark.record.codec import dump, load

UNITS: pint.UnitRegistry[Any] = pint.UnitRegistry()
"""pint's own units, not those of the package."""
FUNCTIONS = {name: getattr(np, name) for name in ("sqrt", "sin", "cos", "tan", "exp", "log", "abs")}
FUNCTIONS |= {"asin": np.arcsin, "acos": np.arccos, "atan": np.arctan}
CONSTANTS = {"pi": math.pi, "g": UNITS.Quantity(9.81, "m/s^2")}
NOT_IN_A_LIST = {"hardness-of-a-plate"}  # a mean, a spread, a difference
"""Questions whose numbers come without any relation that a list could hold."""
GOOD = """\
t:
  letters: {tau: {is: stress, unit: MPa}, F: {is: force, unit: kN}, d: {is: diameter, unit: mm}}
  relations:
    - {letter: tau, equals: F/(pi*d**2/4), needed by: [q]}
    - {letter: F, equals: tau*pi*d**2, holds: never}
    - {letter: d, equals: sqrt(F/tau)}
"""
QUESTION = """\
question: q
title: T
topic: t
level: 1
setting: S
given: {p: {is: one, unit: mm, from: 10, to: 90, step: 0.25}}
find: {a: {ask: A, is: length, unit: mm, answer: 2*p, marks: 1}}
"""


def every() -> Iterator[tuple[TopicRelations, Relation]]:
    """Each relation of the bank with its topic."""
    return ((topic, relation) for topic in BANK.relations.values() for relation in topic.relations)


def quantity(letter: NamedLetter, number: float) -> Any:
    """So much of a letter's unit, by pint."""
    unit = {"": "dimensionless", "degC": "kelvin"}.get(letter.unit, letter.unit)
    return UNITS.Quantity(np.float64(number), unit).to_base_units()


def test_every_topic_of_the_bank_has_its_relations() -> None:
    assert set(BANK.relations) == set(BANK.topics())


def test_every_question_that_is_calculated_needs_a_relation_of_its_topic() -> None:
    needed = {key for _, relation in every() for key in relation.needed_by}
    worked = {q.key for q in BANK.values() if any(isinstance(part.answer, Binary) for part in q.quantities)}
    assert worked - needed == NOT_IN_A_LIST


def test_every_relation_holds_in_the_units_of_its_letters() -> None:
    """Each right side is worked by Python with pint's quantities: neither reader nor units are those of the package."""
    wrong = []
    for topic, relation in every():
        letters = {each.name: quantity(each, 1.1 + 0.1 * n) for n, each in enumerate(topic.letters)}
        with np.errstate(all="ignore"):
            found = eval(relation.equals, {"__builtins__": {}}, {**FUNCTIONS, **CONSTANTS, **letters})
        if UNITS.Quantity(found).dimensionality != letters[relation.letter].dimensionality:
            wrong.append((topic.topic, relation.letter, relation.equals))
    assert not wrong


def test_no_sheet_lists_only_what_it_needs_whatever_questions_it_has() -> None:
    for topic in BANK.relations.values():
        listed = sheet_document(sheet_of(topic), {})
        words = Page(html_of(listed)).words
        spare = [relation for relation in topic.relations if not relation.needed_by]
        assert len(spare) >= FEWEST_SPARE, topic.topic
        meanings = {each.name: each.is_ for each in topic.letters}
        assert all(meanings[name] in words for relation in spare for name in relation.names), topic.topic


def test_the_order_of_a_list_says_nothing_of_what_is_needed() -> None:
    """With the notes of what is needed taken away the list is the same."""
    for topic in BANK.relations.values():
        bare = tuple(replace(relation, needed_by=()) for relation in topic.relations)
        told = [(one.letter, one.equals) for one in in_order(topic)]
        assert told == [(one.letter, one.equals) for one in in_order(replace(topic, relations=bare))]


def sheet_of(*topics: TopicRelations) -> Sheet:
    """A sheet with the first question of each topic, and their relations."""
    questions = [BANK.of_topic(topic.topic)[0] for topic in topics]
    task = Task("k", "T", tuple(question.key for question in questions), relations=topics)
    return Sheet("SHEET", task, Student("A01", "One"), tuple(question.draw("A01") for question in questions))


def test_a_sheet_numbers_its_relations_through_all_topics_as_a_list_of_parts() -> None:
    topics = (BANK.relations["axial"], BANK.relations["shear"])
    page = html_of(sheet_document(sheet_of(*topics), {}))
    numbers = re.findall(r'<td data-column="No\.".*?>(\d+)</td>', page)
    assert numbers == [str(n + 1) for n in range(sum(len(topic.relations) for topic in topics))]
    assert "stress along the bar (MPa)" in Page(page).words
    assert page.count('displaystyle="true"') == len(numbers)


def test_the_printed_sheet_has_the_list_as_the_page_has(tmp_path: Path) -> None:
    printed = " ".join(words_of_pdf(pdf_of(sheet_document(sheet_of(BANK.relations["vessels"]), {})), tmp_path))
    assert "Some of these relations are needed on this sheet, and some are not." in printed
    for letter in BANK.relations["vessels"].letters:
        assert letter.is_.split()[0] in printed, letter


def test_a_task_lists_relations_only_where_it_says_so() -> None:
    text = "task: k\ntitle: T\nquestions: [chainplate, keel-bolt, drain-hole as fault]\n"
    task, problems = task_from_text(f"{text}relations: true\n", "k.yaml", BANK.keys(), BANK.relations_for)
    assert not problems
    assert task is not None
    assert [each.topic for each in task.relations] == ["axial", "shear"]
    silent, _ = task_from_text(text, "k.yaml", BANK.keys(), BANK.relations_for)
    assert silent is not None
    assert silent.relations == ()


def test_a_task_that_asks_for_relations_of_a_bank_without_any_is_told_so_at_its_place() -> None:
    task, (problem,) = task_from_text("task: k\ntitle: T\nquestions: [q]\nrelations: true\n", "k.yaml", ["q"])
    assert task is None
    assert str(problem).startswith("k.yaml:4:12: [no-relations]")


def test_what_was_issued_keeps_its_relations_in_the_record() -> None:
    task = sheet_of(BANK.relations["vessels"]).task
    assert load(Task, dump(task)) == task


def written(folder: Path, relations: str) -> Path:
    """A bank of one question, with these relations."""
    (folder / "t").mkdir()
    (folder / "misconceptions.yaml").write_text("m: {believes: B, shows: S, say: Look.}\n")
    (folder / "t" / "q.yaml").write_text(QUESTION)
    (folder / "relations.yaml").write_text(relations)
    return folder


def test_a_sound_file_has_no_problem(tmp_path: Path) -> None:
    assert problems_of(written(tmp_path, GOOD)) == []


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("t:\n", "tt:\n", "relations.yaml:1:1: [unknown-topic] expected a topic of the bank, found 'tt'"),
        ("[q]", "[qq]", "[unknown-question] expected a question of this topic, found 'qq'; did you mean q?"),
        ("letter: tau", "letter: tow", "[unknown-letter] expected a letter of this topic, found 'tow'"),
        ("tau*pi*d**2", "tau*pi*D**2", "[unknown-name] expected a letter of this topic or a constant, found 'D'"),
        ("tau*pi*d**2", "tau*pi*d", "[wrong-dimension] expected F in kN"),
        ("tau*pi*d**2", "tau*pi*", "[unreadable-formula]"),
        ("unit: kN", "unit: Kn", "[unknown-unit] expected a unit of the unit list, found 'Kn'; did you mean kN?"),
        ("d: {is", "sin: {is", "[name-taken]"),
        ("holds: never", "hold: never", "[unknown-key]"),
        ("{is: force, unit: kN}", "{unit: kN}", "[missing-key]"),
        ("holds: never", "needed by: [q]", "[gives-away] expected 2 relations at least that no question needs"),
        ("letter: d, equals: sqrt(F/tau)", "letter: F, equals: tau*pi*d**2", "[relation-twice]"),
        ("unit: mm}}", "unit: mm}, x: {is: way, unit: mm}}", "[unused-letter] expected a relation with this letter"),
        (GOOD, "- a list", "[wrong-value]"),
    ],
)
def test_each_problem_of_the_file_stands_at_its_place(tmp_path: Path, old: str, new: str, says: str) -> None:
    assert old in GOOD
    said = problems_of(written(tmp_path, GOOD.replace(old, new)))
    assert any(says in one for one in said), said
    assert all("relations.yaml:" in one for one in said)
