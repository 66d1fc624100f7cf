"""The rooms of bank and task: questions found and chosen, a task written, issued on one button, printed in one file."""

import shutil
from collections.abc import Callable
from pathlib import Path

from desk.conftest import KLASS
from desk.open_desk import Visitor, form_to
from jobs.small_class import TASK, sheets_of
from witnessmark.jobs.opened import open_class, read_task

AtDesk = Callable[[Path], Visitor]
SET = f"/class/{KLASS}/set"


def keys(page_text: str, *wanted: str) -> list[bool]:
    return [one in page_text for one in wanted]


def test_questions_are_found_by_topic_level_misconception_and_words(issued: Path, at_desk: AtDesk) -> None:
    at, bank = at_desk(issued), open_class(issued).bank()
    room = f"/class/{KLASS}/bank"
    of_topic = at.look(f"{room}?topic=shear")
    assert f"{len(bank.of_topic('shear'))} of {len(bank)} questions" in of_topic.headings
    question = bank["drain-hole"]
    found = at.look(f"{room}?words=drain+hole&level={question.level}")
    assert question.title in found.text
    shows = at.look(f"{room}?misconception=face-area-for-sheared-edge")
    assert question.title in shows.text
    assert bank["keel-bolt"].title not in shows.text
    assert "No question has all of this" in at.look(f"{room}?topic=shear&words=nothing-like-it").text


def test_a_question_is_seen_in_three_variants_with_what_each_slip_is_told(issued: Path, at_desk: AtDesk) -> None:
    at = at_desk(issued)
    page = at.look(f"/class/{KLASS}/bank/drain-hole")
    assert "What it can show" in page.headings
    variants = at.get(f"/class/{KLASS}/bank/drain-hole/variants")
    assert all(f"Variant {n} of 3" in variants.text for n in (1, 2, 3))
    assert "Look at the slug" in variants.text
    assert "sandbox" in variants.headers["content-security-policy"]
    assert "default-src 'none'" in variants.headers["content-security-policy"]


def test_a_question_that_was_changed_in_its_file_is_seen_as_it_is_now(
    issued: Path, at_desk: AtDesk, tmp_path: Path
) -> None:
    whole = open_class(issued).folder.bank
    bank = Path(shutil.copytree(whole, tmp_path / "bank"))
    settings = issued / "class.yaml"
    settings.write_text(settings.read_text(encoding="utf-8").replace(str(whole), str(bank)), encoding="utf-8")
    at, room = at_desk(issued), f"/class/{KLASS}/bank/drain-hole"
    for words in ("Punching a drain hole", "A drain hole, punched"):
        assert words in at.look(room).text
        assert all(words in at.get(f"{room}/variants").text for _look in range(2))
        file = bank / "shear" / "drain-hole.yaml"
        changed = file.read_text(encoding="utf-8").replace("Punching a drain hole", "A drain hole, punched")
        file.write_text(changed, encoding="utf-8")


def test_what_is_chosen_stays_chosen_while_more_is_sought_and_can_go_up(issued: Path, at_desk: AtDesk) -> None:
    at = at_desk(issued)
    page = at.look(f"{SET}?question=drain-hole&question=clevis-pin&topic=axial")
    assert page.forms[0].data()["question"] == ["drain-hole", "clevis-pin"]
    moved = at.look(f"{SET}?question=drain-hole&question=clevis-pin&up=clevis-pin")
    assert moved.forms[0].data()["question"] == ["clevis-pin", "drain-hole"]


def test_a_task_is_written_as_a_file_that_the_command_reads(issued: Path, at_desk: AtDesk) -> None:
    at = at_desk(issued)
    form = at.look(f"{SET}?question=drain-hole&question=keel-bolt").forms[0]
    page = at.send(
        form,
        title="Punching: the 'first'",
        due="2027-03-05",
        named={"figures": "4", "unit missing": "1", "ask below": "0,95"},
    )
    opened = open_class(issued)
    task = read_task(opened, "punching-the-first", opened.bank())
    assert (task.title, task.questions) == ("Punching: the 'first'", ("drain-hole", "keel-bolt"))
    assert (task.rules.figures, f"{task.rules.unit_missing}", task.rules.carried_forward) == (4, "1", True)
    assert task.rules.ask_below == 0.95
    assert "Issue 4 sheets" in page.text
    assert "Variants left" in page.text


def test_the_relations_of_its_topics_are_asked_for_by_a_tick_that_stays_while_more_is_sought(
    issued: Path, at_desk: AtDesk
) -> None:
    at, opened = at_desk(issued), open_class(issued)
    form = at.look(f"{SET}?question=drain-hole&relations=yes&words=pin").forms[0]
    assert form.data()["relations"] == ["yes"]
    assert "Relations listed ofshear" in at.send(form, title="With relations").text
    assert "Relations listed" not in at.send(at.look(f"{SET}?question=drain-hole").forms[0], title="Without").text
    listed = {key: read_task(opened, key, opened.bank()).relations for key in ("with-relations", "without")}
    assert [topic.topic for topic in listed["with-relations"]] == ["shear"]
    assert listed["without"] == ()


def test_a_task_that_cannot_be_is_shown_again_with_all_that_was_typed(issued: Path, at_desk: AtDesk) -> None:
    at = at_desk(issued)
    form = at.look(f"{SET}?question=drain-hole").forms[0]
    page = at.send(form, 422, title="Punching", due="tomorrow", figures="many")
    assert "a day of the calendar" in page.text or "figures" in page.text
    kept = page.forms[0].data()
    assert (kept["title"], kept["question"], kept["figures"]) == (["Punching"], ["drain-hole"], ["many"])
    assert not (issued / "tasks" / "punching.yaml").exists()


def test_a_name_that_is_taken_or_leads_elsewhere_is_refused(issued: Path, at_desk: AtDesk) -> None:
    at = at_desk(issued)
    before = (issued / "tasks" / f"{TASK}.yaml").read_bytes()
    form = at.look(f"{SET}?question=drain-hole").forms[0]
    assert "which is there" in at.send(form, 422, title="Again", key=TASK).text
    assert "small letters" in at.send(form, 422, title="Away", key="../../away").text
    assert (issued / "tasks" / f"{TASK}.yaml").read_bytes() == before
    assert sorted(path.name for path in (issued / "tasks").glob("*.yaml")) == [f"{TASK}.yaml"]


def test_a_task_is_issued_on_one_button_and_what_was_issued_stays(issued: Path, at_desk: AtDesk) -> None:
    at, before = at_desk(issued), sheets_of(issued)
    with (issued / "students.csv").open("a", encoding="utf-8") as students:
        students.write("LW03,Per Holm,Low Wharf\n")
    done = at.send(form_to(at.look(f"/class/{KLASS}/task/{TASK}"), f"/task/{TASK}"))
    assert "1 sheet issued now, 4 before" in done.text
    after = sheets_of(issued)
    assert {code: after[code] for code in before} == before
    assert "LW03" in after
    assert at.get(f"/class/{KLASS}/file/issued/{TASK}/sheets/LW03.pdf").content.startswith(b"%PDF")


def test_all_sheets_come_in_one_file_to_print(issued: Path, at_desk: AtDesk) -> None:
    at = at_desk(issued)
    done = at.send(form_to(at.look(f"/class/{KLASS}/task/{TASK}"), "/print"), group="Low Wharf")
    assert "2 sheets in one file" in done.text
    link = next(link for link in done.links if "/file/" in link)
    answer = at.get(link)
    assert answer.content.startswith(b"%PDF")
    assert answer.headers["content-disposition"].startswith("inline")
