"""A question's file written at the desk: looked at as `check` does, held while it is typed, kept on one button, and
never over what somebody else has changed."""

import shutil
from pathlib import Path

import pytest

from desk.conftest import KLASS
from desk.open_desk import Visitor, form_to, visitor
from desk.page_reader import Form, Reader
from jobs.small_class import BANK_FOLDER, contents, small_class
from witnessmark.files.shapes.completing import offers
from witnessmark.jobs.checking import check
from witnessmark.words.errors import ProblemsFound

ROOM = f"/class/{KLASS}/bank/drain-hole"
WRITE = f"{ROOM}/write"
PIECES = (
    "misconceptions.yaml", "families.yaml", "tables/metals.yaml", "tables/tool-steels.yaml",
    "figures/round-hole-in-plate.svg.j2", "shear/drain-hole.yaml",
)  # fmt: skip


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """The file of a question, in a bank that may be changed."""
    return file_in(tmp_path)


def file_in(home: Path) -> Path:
    """The file of a question in a small bank, beside a class."""
    bank = home / "bank"
    for near in PIECES:
        (bank / near).parent.mkdir(parents=True, exist_ok=True)
        shutil.copy(BANK_FOLDER / near, bank / near)
    small_class(home / KLASS, bank)
    return bank / "shear" / "drain-hole.yaml"


def at_desk_of(file: Path) -> Visitor:
    return visitor(file.parents[2])


def typed(page: Reader) -> str:
    """What stands in the field."""
    return dict(writing(page).fields)["text"]


def writing(page: Reader) -> Form:
    return [form for form in page.forms if form.action.endswith("/write")][-1]


def test_the_page_holds_the_file_to_the_last_sign_and_says_that_nothing_is_wrong(file: Path) -> None:
    page = at_desk_of(file).look(WRITE)
    assert typed(page) == file.read_text(encoding="utf-8")
    assert "Nothing is wrong with it." in page.headings
    assert "as it stands in the bank" in page.text


def test_what_is_typed_is_held_and_not_in_the_bank_before_it_is_kept(file: Path) -> None:
    before, at = file.read_bytes(), at_desk_of(file)
    text = before.decode().replace("title: Punching a drain hole", "title: A drain hole punched")
    page = at.send(writing(at.look(WRITE)), text=text, what="look")
    assert typed(page) == text
    assert file.read_bytes() == before
    anew = at_desk_of(file)  # another browser, another day
    held = anew.look(WRITE)
    assert typed(held) == text
    assert "This is what you typed last" in held.text
    kept = anew.send(writing(held), what="keep")
    assert "kept in the bank" in kept.text
    assert file.read_bytes().decode() == text
    assert not list((file.parents[2] / KLASS / "drafts").iterdir())
    assert check(file).problems == ()


def test_the_same_problems_as_check_stand_at_their_lines_and_nothing_is_kept(file: Path) -> None:
    before, at = file.read_bytes(), at_desk_of(file)
    text = before.decode().replace("unit: kN", "unit: kX").replace("keeps: 2", "keeps: 7")
    page = at.send(writing(at.look(WRITE)), status=422, text=text, what="keep")
    assert typed(page) == text
    assert file.read_bytes() == before
    file.write_text(text, encoding="utf-8")
    with pytest.raises(ProblemsFound) as error:
        check(file)
    assert len(error.value.problems) == 2
    for problem in error.value.problems:
        for said in (problem.expected, problem.found, problem.remedy, str(problem.place.line)):
            assert said in page.text


def test_a_file_that_was_changed_meanwhile_is_shown_and_not_overwritten(file: Path) -> None:
    at = at_desk_of(file)
    form, text = writing(at.look(WRITE)), file.read_text(encoding="utf-8")
    theirs = text.replace("level: 2", "level: 1")
    file.write_text(theirs, encoding="utf-8")
    mine = text.replace("Punching a drain hole", "A hole for the drain")
    page = at.send(form, status=422, text=mine, what="keep")
    assert file.read_text(encoding="utf-8") == theirs
    assert "-level: 1" in page.text
    assert "+level: 2" in page.text
    assert typed(page) == mine
    on = at.send(page.forms[0], what="look")
    assert "changed since you began" not in on.text
    assert "kept in the bank" in at.send(writing(on), what="keep").text
    assert file.read_text(encoding="utf-8") == mine


def test_what_was_typed_is_given_up_on_a_button_alone(file: Path) -> None:
    at = at_desk_of(file)
    page = at.send(writing(at.look(WRITE)), text="question: drain-hole\n", what="look")
    assert ("what", "leave", "") in writing(page).buttons
    assert typed(at.send(writing(page), what="leave")) == file.read_text(encoding="utf-8")


def test_line_ends_and_the_mark_of_byte_order_stay_as_they_were(file: Path) -> None:
    whole = b"\xef\xbb\xbf" + file.read_bytes().replace(b"\n", b"\r\n")
    file.write_bytes(whole)
    at = at_desk_of(file)
    form = writing(at.look(WRITE))
    text = dict(form.fields)["text"].replace("level: 2", "level: 3").replace("\n", "\r\n")
    at.send(form, text=text, what="keep")
    assert file.read_bytes() == whole.replace(b"level: 2", b"level: 3")


def test_a_question_keeps_the_key_that_tasks_know_it_by(file: Path) -> None:
    at = at_desk_of(file)
    text = file.read_text(encoding="utf-8").replace("question: drain-hole", "question: drain")
    page = at.send(writing(at.look(WRITE)), status=422, text=text, what="keep")
    assert "expected the key drain-hole, found 'drain'" in page.text


def test_a_file_with_problems_is_opened_all_the_same(file: Path) -> None:
    file.write_text(file.read_text(encoding="utf-8").replace("level: 2", "level: two"), encoding="utf-8")
    assert "1 thing to put right" in at_desk_of(file).look(WRITE).headings


def test_a_script_is_told_problems_with_their_lines_and_where_variants_are_seen(file: Path) -> None:
    at, text = at_desk_of(file), file.read_text(encoding="utf-8")
    wrong = at.client.post(f"{ROOM}/look", data={"text": text.replace("unit: kN", "unit: kX")}).json()
    assert [(one["line"], one["found"]) for one in wrong["problems"]] == [(25, "'kX'")]
    assert wrong["variants"] == ""
    right = at.client.post(f"{ROOM}/look", data={"text": text.replace("in one stroke", "at one blow")}).json()
    assert right["problems"] == []
    assert "at one blow" in at.get(right["variants"]).text
    assert "Variant 3 of 3" in at.get(right["variants"]).text


def test_only_the_page_that_writes_may_run_a_script_and_none_that_stands_in_it(file: Path) -> None:
    at = at_desk_of(file)
    policy = at.get(WRITE).headers["content-security-policy"]
    assert "script-src 'self';" in policy
    assert "unsafe" not in policy
    assert "script-src" not in at.get(f"/class/{KLASS}/students").headers["content-security-policy"]


def test_nothing_outside_the_bank_is_opened_or_written(file: Path) -> None:
    at = at_desk_of(file)
    before = contents(file.parents[2])
    for key in ("no-such-question", "misconceptions", "..", "%2e%2e", "..%2f..%2fclass", ".*"):
        way = f"/class/{KLASS}/bank/{key}"
        assert at.get(f"{way}/write").status_code in (404, 422), key
        assert at.client.post(f"{way}/look", data={"text": "x"}).status_code in (404, 405, 422), key
        assert at.client.post(f"{way}/write", data={"text": "x", "what": "keep"}).status_code in (404, 405, 422), key
    assert contents(file.parents[2]) == before


HOSTILE = ("</textarea><script>alert(1)</script>", "a: &b [*b]", "\x00\x01", "{" * 500, "- " * 3000, "x: |\n" * 99)


def test_hostile_text_and_places_end_in_an_answer(file: Path) -> None:
    at = at_desk_of(file)
    for text in HOSTILE:
        answer = at.client.post(f"{ROOM}/look", data={"text": text})
        assert answer.status_code == 200, text[:20]
        assert answer.json()["problems"]
        for line, column in (("1", "1"), ("999999", "999999"), ("-1", "x"), ("", "")):
            asked = {"text": text, "line": line, "column": column}
            assert at.client.post(f"{ROOM}/words", data=asked).status_code == 200
    assert ("script", "src") in at.look(WRITE).tags
    assert "<script>alert" not in at.get(WRITE).text


NAMES = {"misconception": {"radius-for-diameter": "Half of it."}, "figure": {"pin": ""}, "row of": {"metals": ""}}
FINDS = "find:\n  a:\n    ask: x\n"
PLACES = {  # "|" is where somebody types
    "|": "question title topic level setting find given keep figure caution",
    "question: x\nfig|\n": "title topic level setting find given keep figure caution",
    f"{FINDS}    judge: a < b\n    |": "marks carries yes-words no-words slips",
    f"{FINDS}    answer: a\n    slips:\n      - {{|}}": "misconception line answer keeps",
    f"{FINDS}    hand:\n      - criterion: x\n        |": "marks",
    f"{FINDS}    hand:\n    - |": "criterion marks",
    f"{FINDS}    answer: a\n    lines: {{A: {{is: x, |": "value unit symbol marks",
    "given:\n  d: {is: x, in figure: |}": "true false",
    "given:\n  m: {row of: |": "metals",
    f"{FINDS}    slips:\n      - {{misconception: rad|": "radius-for-diameter",
    "figure: |": "pin",
    "setting: >\n  A plate, |\n": "",
    "title: |": "",
}


@pytest.mark.parametrize("text", PLACES)
def test_what_may_stand_at_a_place_is_offered(text: str) -> None:
    before = text[: text.index("|")]
    line, column = before.count("\n") + 1, len(before) - before.rfind("\n")
    found = [one.word.replace(" ", "-") for one in offers(text.replace("|", ""), line, column, NAMES)]
    for word in PLACES[text].split():
        assert word in found
    if len(PLACES[text].split()) < 3:
        assert found == PLACES[text].split()


def test_words_of_the_bank_come_to_the_page(file: Path) -> None:
    at = at_desk_of(file)
    asked = {"text": "find:\n  a:\n    answer: x\n    slips:\n      - {misconception: ", "line": "5", "column": "25"}
    words = at.client.post(f"{ROOM}/words", data=asked).json()["words"]
    assert "face-area-for-sheared-edge" in [one["label"] for one in words]
    assert form_to(at.look(WRITE), "/write")


def beginning(page: Reader) -> Form:
    """The form that begins a question; the other of that page only seeks."""
    return next(form for form in page.forms if form.method == "post")


def test_a_new_question_begins_with_a_whole_one_to_change(file: Path) -> None:
    at = at_desk_of(file)
    bank = f"/class/{KLASS}/bank"
    begun = at.send(beginning(at.look(bank)), named={"new-topic": "shear", "key": "deck-bolt"})
    assert "Nothing is wrong with it." in begun.headings
    assert (file.parent / "deck-bolt.yaml").is_file()
    again = at.send(beginning(at.look(bank)), 422, named={"new-topic": "shear", "key": "deck-bolt"})
    assert "a key that no question has" in again.text
    outside = at.send(beginning(at.look(bank)), 422, named={"new-topic": "..", "key": "x"})
    assert "TOPIC/KEY of small letters" in outside.text


def test_a_room_that_a_broken_question_stops_leads_to_where_it_is_mended(file: Path) -> None:
    whole = file.read_text(encoding="utf-8")
    file.write_text(whole.replace("level: 2", "level: two"), encoding="utf-8")
    at = at_desk_of(file)
    stopped = at.look(f"/class/{KLASS}/bank", 422)
    assert WRITE in stopped.links
    at.send(writing(at.look(WRITE)), text=whole, what="keep")
    assert "Punching a drain hole" in at.look(f"/class/{KLASS}/bank").text
