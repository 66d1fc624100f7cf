"""The review page: who shows what, how hard each part was, what waits; and what it does with a very large class."""

import re
from dataclasses import replace
from decimal import Decimal
from xml.etree import ElementTree as ET

import pytest

from documents.drain_hole import sheet
from documents.pages import Page
from witnessmark.documents.page.charts import LONGEST_LABEL, WIDTH, Bar, bar_chart
from witnessmark.documents.review.page import MOST_NAMED, MOST_WAITING, review_document, review_page, title_of
from witnessmark.marking.outcome import Outcome, Verdict
from witnessmark.questions.model.question import Misconception
from witnessmark.review.class_review import ClassReview, Facility, Recurrence, Seen, TrayItem, class_review

FACE = Misconception(
    "face-area-for-sheared-edge", "The plate gives way over the whole face.", "The area of the circle stands there.",
    "Look at the slug.", "Push a biscuit cutter through rolled clay.", ("biscuit cutter", "rolled clay"),
)  # fmt: skip
SEEN = (Seen("HB02", "Heron Boats", "1a", 0.99), Seen("SC05", "Saltcote Yard", "1a", 0.71))
FACILITY = Facility("1a", "punching force", False, 0.7, Decimal(3), ((Verdict.RIGHT, 11), (Verdict.SLIP, 7)))
LINE = Facility("1a A_s", "sheared area", True, 0.62, Decimal(1), ((Verdict.RIGHT, 4),))


def tray(sheet: str, label: str, *reasons: str) -> TrayItem:
    return TrayItem(sheet, "LW05", label, "64.8 kN", "other sheet, 0 of 3", reasons or ("look",))


def review(seen: tuple[Seen, ...] = SEEN, in_tray: tuple[TrayItem, ...] = (), out: tuple[str, ...] = ()) -> ClassReview:
    found = (Recurrence(FACE, seen, 21),) if seen else ()
    return ClassReview("Boatbuilding: Winter sheet 1", 24, 21, found, (LINE, FACILITY), in_tray, out)


def read(found: ClassReview) -> str:
    return Page(review_page(found)).words


def test_a_misconception_is_told_with_what_to_say_what_to_show_and_in_whom() -> None:
    words = read(review())
    for piece in (
        "Face area for sheared edge 2 of the 21 who returned a sheet", FACE.believes, FACE.shows, FACE.say,
        FACE.demonstrate, "Kit: biscuit cutter, rolled clay",
        "Seen in: Heron Boats HB02 (1a); Saltcote Yard SC05 (1a, 71% sure)",
    ):  # fmt: skip
        assert piece in words


def test_students_are_counted_group_by_group_only_where_there_are_groups() -> None:
    assert "Students by group" in read(review())
    assert "Students by group" not in read(review((Seen("HB02", "", "1a", 0.99),)))


def test_a_class_without_a_known_misconception_and_an_empty_in_tray_is_told_so() -> None:
    words = read(review(seen=()))
    assert "No known misconception was seen." in words
    assert "Nothing waits for you." in words
    assert "Not back yet nobody" in words


def test_facility_stands_in_the_chart_and_in_the_table_and_steps_only_in_the_table() -> None:
    page = Page(review_page(review()))
    assert page.all("img")[-1]["alt"] == "1a: 0.70"
    assert "1a A_s sheared area 0.62 4 right" in page.words
    assert "1a punching force 0.70 11 right, 7 slip" in page.words


def test_a_part_of_which_every_answer_waits_is_told_as_not_marked_and_has_no_bar() -> None:
    waits = replace(FACILITY, label="1b", facility=None, verdicts=((Verdict.UNREADABLE, 3),), waiting=3)
    page = Page(review_page(replace(review(), facilities=(FACILITY, waits))))
    assert page.all("img")[-1]["alt"] == "1a: 0.70; 1b: none marked yet"
    assert "1b punching force none marked yet 3 unreadable; left out: 3" in page.words
    alone = Page(review_page(replace(review(), facilities=(waits,)))).words
    assert "1b punching force none marked yet" in alone
    assert "0.00" not in alone


def test_a_part_is_named_without_the_numbers_of_any_one_sheet() -> None:
    judged = {"1.c": Outcome(Decimal(1), Decimal(1), Verdict.RIGHT, "")}
    found = class_review("t", [sheet()], {sheet().code: judged}, {})
    assert [f.ask for f in found.facilities] == ["Will a punch of compressive strength … survive?"]


def test_answers_of_a_sheet_that_wait_for_the_same_reason_share_a_row() -> None:
    waiting = (tray("XX6P-XMN2", "1a"), tray("XX6P-XMN2", "2a"), tray("XX6P-XMN2", "2b", "unsure"), tray("K7Q4", "1a"))
    words = read(review(in_tray=waiting))
    assert "1a 64.8 kN other sheet, 0 of 3; 2a 64.8 kN other sheet, 0 of 3 look" in words
    assert words.count("XX6P-XMN2") == 2
    assert "Waiting in the in-tray 4 answers" in words


def test_a_very_large_class_is_shortened_and_says_by_how_many() -> None:
    seen = tuple(Seen(f"S{n}", f"yard {n}", "1a", 0.99) for n in range(MOST_NAMED + 7))
    waiting = tuple(tray(f"sheet {n}", "1a") for n in range(MOST_WAITING + 5))
    words = read(review(seen, waiting, tuple(f"N{n}" for n in range(MOST_NAMED + 3))))
    assert "and 7 more" in words
    assert "And 5 more, which the gradebook lists." in words
    assert "and 3 more" in words
    assert re.search(r"the 12 of \d+ groups with the most sightings", words)


def test_what_a_student_typed_is_shown_and_never_run() -> None:
    hostile = TrayItem("K7Q4", "LW05", "1a", '<script>alert(1)</script>"=1+1', "unreadable, 0 of 3", ("no number",))
    page = Page(review_page(review(in_tray=(hostile,))))
    assert hostile.raw in page.words
    assert page.all("script") == []


def test_the_review_has_one_heading_of_the_first_level_and_names_every_chart() -> None:
    page = Page(review_page(review()))
    assert len(page.all("h1")) == 1
    assert all(image["alt"] for image in page.all("img"))
    assert review_document(review()).title == "Boatbuilding: Winter sheet 1"


def test_a_key_reads_as_words() -> None:
    assert title_of("face-area-for-sheared-edge") == "Face area for sheared edge"


@pytest.mark.parametrize("label", ["1a", "Face area for sheared edge", "M" * 200])
@pytest.mark.parametrize("share", [-0.1, 0.0, 0.5, 1.0, 1.7])
def test_a_bar_stays_in_its_place_whatever_its_share_and_its_label(label: str, share: float) -> None:
    svg = ET.fromstring(bar_chart([Bar(label, share, "5 students")], "Title", "Told <&>"))
    whole, bar = svg.iter("{http://www.w3.org/2000/svg}rect")
    assert 0 <= float(bar.attrib["width"]) <= float(whole.attrib["width"]) + 0.05
    assert float(whole.attrib["x"]) + float(whole.attrib["width"]) < WIDTH
    texts = [t.text or "" for t in svg.iter("{http://www.w3.org/2000/svg}text")]
    assert all(len(text) <= LONGEST_LABEL for text in texts)


def test_the_lengths_of_bars_are_as_their_shares() -> None:
    svg = ET.fromstring(bar_chart([Bar("1a", 0.25, ""), Bar("1b", 0.75, "")], "Title", "Told"))
    widths = [float(r.attrib["width"]) for r in svg.iter("{http://www.w3.org/2000/svg}rect")]
    assert widths[3] / widths[1] == pytest.approx(3, rel=0.01)
