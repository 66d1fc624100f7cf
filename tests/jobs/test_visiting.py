"""The pages for visits, and what was done on them."""

from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner

from documents.pages import Page
from jobs.copied import copied
from jobs.small_class import LATER
from jobs.teaching_class import EDGE, FACE, taught, teaching_class
from witnessmark.cli.main import main
from witnessmark.documents.page.blocks import AnswerBox, Heading, Inset, Keep
from witnessmark.documents.visits.trip import trip_document
from witnessmark.jobs.opened import open_class
from witnessmark.jobs.visiting import VisitsWritten, visited, visits
from witnessmark.review.year.kit import cautions_of, merged_kit
from witnessmark.words.errors import ProblemsFound

DAY = "2027-02-01"


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A class of six, of whom three hold something."""
    return copied(taught, tmp_path_factory.mktemp("visits") / "class")


@pytest.fixture(scope="module")
def written(folder: Path) -> VisitsWritten:
    """The trip of the day on which both yards are visited."""
    return visits(folder, DAY)


def test_a_trip_has_a_stop_for_each_yard_and_sees_whoever_showed_something(written: VisitsWritten) -> None:
    stops = {stop.group: [s.student.code for s in stop.students] for stop in written.trip.stops}
    assert stops == {"Heron Boats": ["HB00", "HB02"], "Low Wharf": ["LB01"]}
    assert [s.code for s in written.trip.stops[0].secure] == ["HB04"]
    assert not written.faults


def test_the_kit_of_the_whole_trip_has_nothing_twice(written: VisitsWritten) -> None:
    assert set(written.trip.kit) == {"biscuit cutter", "rolled clay", "paper strip", "punch", "stamp pad"}
    assert len(set(written.trip.kit)) == len(written.trip.kit)


def test_the_page_shows_each_with_their_own_entry_and_what_to_ask(folder: Path, written: VisitsWritten) -> None:
    page = Page((folder / "visits" / f"{DAY}.html").read_text(encoding="utf-8"))
    with open_class(folder).record() as record:
        sheet = next(s for s in record.sheets("shear-1") if s.student.code == "HB02")
        entry = record.outcomes("shear-1")[sheet.code]["1.a"].raw
    for told in (entry, "Take me through how you got this", "biscuit cutter", "Heron Lane 4", "Oona Brisk"):
        assert told in page.words, told


def test_the_box_for_notes_is_kept_on_the_page_of_what_it_is_about(written: VisitsWritten) -> None:
    blocks = trip_document(written.trip, {}, {}).blocks
    about = [
        [type(inner) for inner in keep.blocks[:-1]] for keep in blocks if isinstance(keep, Keep) and is_for_notes(keep)
    ]
    assert about == [[Inset], [Heading, Inset], [Heading, Inset]]
    assert [block for block in blocks if isinstance(block, AnswerBox)] == []


def is_for_notes(keep: Keep) -> bool:
    last = keep.blocks[-1]
    return isinstance(last, AnswerBox) and last.hint == "notes"


def test_one_page_is_left_with_each_student_seen_and_names_no_marks(folder: Path, written: VisitsWritten) -> None:
    left = sorted(path.name for path in (folder / "visits" / DAY).iterdir())
    assert left == ["HB00.pdf", "HB02.pdf", "LB01.pdf"]


def test_a_day_on_which_nobody_is_visited_tells_the_days(folder: Path) -> None:
    with pytest.raises(ProblemsFound, match="visits are planned on 2027-02-01, 2027-03-01"):
        visits(folder, "2027-02-02")
    with pytest.raises(ProblemsFound, match="Heron Boats"):
        visits(folder, "Heron Boat")


def test_what_was_done_is_kept_and_can_be_taken_back(folder: Path) -> None:
    kept = visited(folder, "Heron Boats", date(2027, 2, 1), "R. Vos", "Cut clay together.", LATER).visits
    taken_up = {visit.student: set(visit.misconceptions) for visit in kept}
    assert taken_up == {"HB00": {EDGE, FACE}, "HB02": {FACE}, "HB04": set()}
    with open_class(folder).record() as record:
        assert len(record.visits()) == 3
        record.undo("R. Vos", "the wrong yard", LATER)
        assert record.visits() == ()


def test_the_commands_print_the_trip_and_keep_a_visit(folder: Path) -> None:
    shown = CliRunner().invoke(main, ["visits", str(folder), "Low Wharf"])
    assert shown.exit_code == 0
    assert "Low Wharf: 1 student to see" in shown.output
    kept = CliRunner().invoke(main, ["visited", str(folder), "LB01", "--on", DAY, "--who", "R. Vos", "--took-up", FACE])
    assert (kept.exit_code, kept.output.strip()) == (0, f"LB01, {DAY}: {FACE}")


def test_a_yard_with_nothing_to_take_up_has_its_page_too(tmp_path: Path) -> None:
    done = visits(teaching_class(tmp_path / "class", {}), "Low Wharf")
    assert not done.faults
    assert [s.code for s in done.trip.stops[0].secure] == ["LB01", "LB03", "LB05"]


def test_of_one_thing_in_several_numbers_the_most_is_carried() -> None:
    assert merged_kit([("weight", "rule"), ("two equal weights", "rule")]) == ("rule", "two equal weights")


def test_what_can_hurt_in_a_demonstration_is_told() -> None:
    assert "cut" in cautions_of("Saw a bar and colour the end.", ("bar offcut", "hacksaw"))[0]
    assert cautions_of("Count the faces in the drawing.", ("drawing",)) == ()
