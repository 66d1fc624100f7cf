"""The rooms of classes and students: a class is started, its list is read in, and each problem stands at its line."""

from collections.abc import Callable
from pathlib import Path

from desk.conftest import KLASS
from desk.open_desk import Visitor, form_to, visitor
from jobs.small_class import BANK_FOLDER, contents
from witnessmark.files.class_folder.folder import read_class
from witnessmark.jobs.listing_students import students_of

AtDesk = Callable[[Path], Visitor]
ROOM = f"/class/{KLASS}/students"
LIST = "code,name,group,years\nA1,Kim Dekker,Westhaven,2\nA2,Ola Brand,Quay Lane,1\n"


def test_an_empty_folder_says_what_comes_next(tmp_path: Path) -> None:
    page = visitor(tmp_path).look("/")
    assert "There is no class in this folder yet" in page.text
    assert page.forms[0].method == "post"


def test_a_class_is_started_beside_a_bank_of_its_own(tmp_path: Path) -> None:
    at = visitor(tmp_path)
    page = at.send(at.look("/").forms[0], title="Boatbuilding, first year")
    folder = tmp_path / "Boatbuilding, first year"
    assert page.headings[0] == "Students"
    assert "Nobody is in the list yet" in page.text
    assert read_class(folder).bank == (tmp_path / "bank").resolve()
    assert (tmp_path / "bank" / "misconceptions.yaml").read_bytes() == (
        BANK_FOLDER / "misconceptions.yaml"
    ).read_bytes()
    assert "Say who is in the class" in at.look("/class/Boatbuilding%2C%20first%20year").text


def test_a_folder_that_is_there_is_not_written_over(issued: Path, at_desk: AtDesk) -> None:
    at, before = at_desk(issued), contents(issued)
    page = at.send(at.look("/").forms[0], 422, title="Another", folder=KLASS)
    assert "a name that is free" in page.text
    assert page.forms[0].data()["title"] == ["Another"]
    assert contents(issued) == before


def test_a_class_outside_the_folder_is_not_started(tmp_path: Path) -> None:
    home = tmp_path / "home"
    home.mkdir()
    at = visitor(home)
    at.send(at.look("/").forms[0], title="Away", folder="../away")
    assert not (tmp_path / "away").exists()
    assert (home / "away" / "class.yaml").is_file()


def test_a_list_from_a_file_takes_the_place_of_the_one_before(issued: Path, at_desk: AtDesk) -> None:
    at = at_desk(issued)
    form = at.look(ROOM).forms[0]
    page = at.send(form, files=[("list of 2027.csv", LIST.encode())], field="file")
    assert "2 students" in page.headings
    assert (issued / "students.csv").read_bytes() == LIST.encode()
    assert students_of(issued).students[0].more == (("years", "2"),)


def test_each_problem_stands_at_its_line_and_nothing_is_kept(issued: Path, at_desk: AtDesk) -> None:
    at, before = at_desk(issued), contents(issued)
    form = at.look(ROOM).forms[-1]
    typed = "code,name,group\nA1,Kim,West\n,Ola,Quay\nA1,Per,Quay\n"
    page = at.send(form, 422, list=typed)
    assert "3,Ola,Quayexpected a code, found none. give every student a code, such as A1" in page.text
    assert "'A1' again (line 2)" in page.text
    assert page.forms[-1].data()["list"] == [typed]
    assert contents(issued) == before


def test_a_list_that_changed_in_another_tab_is_not_lost(issued: Path, at_desk: AtDesk) -> None:
    at = at_desk(issued)
    first, second = (at.look(ROOM).forms[-1] for _tab in range(2))
    at.send(first, list=LIST)
    page = at.send(second, 422, list="code,name,group\nB1,Another,West\n")
    assert "one that was changed since" in page.text
    assert (issued / "students.csv").read_text(encoding="utf-8") == LIST


def test_a_class_with_a_broken_file_says_so_instead_of_failing(issued: Path, at_desk: AtDesk) -> None:
    (issued / "class.yaml").write_text("class: [\n", encoding="utf-8")
    page = at_desk(issued).look(f"/class/{KLASS}")
    assert "class.yaml, line" in page.text


def test_the_last_step_is_taken_back_with_a_reason_and_only_as_it_was_shown(marked: Path, at_desk: AtDesk) -> None:
    at, room = at_desk(marked), f"/class/{KLASS}"
    form = form_to(at.look(room), "/take-back")
    at.send(form, 422, who="K. Lund", why=" ")
    page = at.send(form, who="K. Lund", why="taken in too soon")
    assert "Take in what comes back" in page.text
    again = at.send(form, 422, who="K. Lund", why="twice")
    assert "the step that was shown" in again.text
