"""The bank that comes along: enough of everything, drawable for a class, each slip apart from the right way."""

import re
from collections import Counter

import pytest

import witnessmark as wm
from bank_fixture import BANK
from searching import every
from witnessmark.documents.bank_index import index_page
from witnessmark.questions.checking.levels import steps
from witnessmark.questions.checking.remarks import remarks_on
from witnessmark.questions.drawing.draw import draw_all
from witnessmark.questions.drawing.separation import keeps
from witnessmark.questions.model.kinds import results_of, shown_by, slips_of
from witnessmark.questions.model.parts import Kind, QuantityPart, Slip
from witnessmark.questions.model.question import Question
from witnessmark.questions.sheet.variant import Variant

TOPICS = {
    "punching", "shear", "axial", "thermal", "hydraulics", "levers", "friction", "tapers", "vessels", "bending",
    "electrics", "materials", "energy", "statics", "fits", "composites", "buoyancy", "measuring", "joining",
    "testing",
}  # fmt: skip
OURS = list(BANK.values())
SOME_OF_OURS = pytest.mark.parametrize("key", every(list(BANK), 3), ids=str)
FEW_BY_AGREEMENT = {"drain-hole"}  # the example of the design, word for word
SENTENCE_END = re.compile(r"[.!?](?=\s|$)")
NEEDS_A_CAUTION = {"punching", "hydraulics", "electrics"}
CLASS = {f"W{n:02}": f"own bank|{n}" for n in range(1, 31)}
SOME = dict(list(CLASS.items())[:3])


def drawn(question: Question, seeds: dict[str, str]) -> list[Variant]:
    return list(draw_all(question, seeds, frozenset()).values())


def quantities(question: Question) -> tuple[QuantityPart, ...]:
    return question.quantities


def test_there_are_seventy_two_questions_on_twelve_topics_and_at_least_four_on_each() -> None:
    counts = Counter(q.topic for q in OURS)
    assert set(counts) == TOPICS
    assert min(counts.values()) >= 4
    assert len(OURS) >= 72


def test_every_topic_has_an_easy_and_a_hard_question() -> None:
    for topic in TOPICS:
        assert {q.level for q in OURS if q.topic == topic} == {1, 2, 3}


def test_every_kind_of_find_is_asked_somewhere() -> None:
    assert {part.kind for q in OURS for part in q.parts} == set(Kind)


def test_the_folder_of_a_question_is_its_topic() -> None:
    for question in BANK.values():
        folder = BANK.figures_path.parent / question.topic
        assert (folder / f"{question.key}.yaml").is_file()


def test_every_calculated_part_models_at_least_three_wrong_methods() -> None:
    few = [f"{q.key} {p.key}" for q in OURS for p in q.parts if results_of(p) and len(shown_by(p)) < 3]
    assert {place.split()[0] for place in few} <= FEW_BY_AGREEMENT


def test_no_slip_keeps_full_marks() -> None:
    for question in BANK.values():
        for part in question.parts:
            assert all(slip.keeps < part.marks for slip in slips_of(part) if isinstance(slip, Slip)), question.key


def test_there_are_sixty_misconceptions_each_with_what_to_say_and_show() -> None:
    assert len(BANK.misconceptions) >= 60
    for key, found in BANK.misconceptions.items():
        assert len(SENTENCE_END.findall(found.say)) == 2, key
        assert found.believes.endswith("."), key
        assert found.shows.endswith("."), key
        assert found.demonstrate, key
        assert found.kit, key


def test_every_misconception_is_shown_by_some_slip_or_option() -> None:
    assert [note for note in BANK.notes if note.code == "unused-misconception"] == []


def test_the_authors_checks_have_nothing_to_remark() -> None:
    assert [str(remark) for q in OURS for remark in remarks_on(q)] == []


def test_where_pressure_presses_or_current_come_in_there_is_a_caution_of_one_line() -> None:
    for question in OURS:
        assert question.topic not in NEEDS_A_CAUTION or question.caution, question.key
        assert "\n" not in question.caution


def test_tables_name_their_source() -> None:
    assert all(len(table.source) > 20 for table in BANK.tables.values())


def test_the_level_of_a_question_is_the_number_of_its_steps() -> None:
    wrong = [(q.key, q.level, steps(q)) for q in BANK.values() if q.level != min(max(steps(q), 1), 3)]
    assert wrong == []


@SOME_OF_OURS
def test_a_class_of_thirty_gets_thirty_variants_that_keep_what_the_question_asks(key: str) -> None:
    question = BANK[key]
    variants = drawn(question, CLASS)
    assert len({v.identity for v in variants}) == len(CLASS)
    for variant in variants:
        assert keeps(question, variant.columns, 1).all()


@SOME_OF_OURS
def test_the_right_answers_earn_full_marks_and_no_slip_does(key: str) -> None:
    question = BANK[key]
    parts = quantities(question)
    for variant in drawn(question, SOME):
        out = wm.mark(variant, {part.key: f"{variant.expected[part.key]:.6g~}" for part in parts})
        assert [out[part.key].marks for part in parts] == [part.marks for part in parts]
        for part in parts:
            low, high = variant.accepts[part.key]
            for value in variant.slips[part.key].values():
                assert isinstance(value, float) or not low <= value <= high


def test_the_index_of_the_bank_is_current() -> None:
    index = (BANK.figures_path.parent / "INDEX.md").read_text(encoding="utf-8")
    assert index == index_page(BANK), "run scripts/write_index.py"


def test_the_index_names_every_question_with_a_link_to_its_file() -> None:
    index = (BANK.figures_path.parent / "INDEX.md").read_text(encoding="utf-8")
    linked = re.findall(r"\]\((\S+\.yaml)\)", index)
    assert sorted(linked) == sorted(f"{q.topic}/{q.key}.yaml" for q in BANK.values())
