"""Returns as they were received, which answers count, what waits beside them, notes, and files as they came."""

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import pytest

from record.examples import LATER, NOW, from_bundle, handed_in, sheets, task
from record.test_chain import changed_behind
from witnessmark.questions.sheet.task import NOTE, Entry, Return
from witnessmark.record.record import Record
from witnessmark.record.returns import standing_returns
from witnessmark.record.rows import Event, Received, Source
from witnessmark.words.errors import ProblemsFound

ONE, TWO, _ = sheets()


def with_note(given: Return, words: str, spoilt: str = "") -> Return:
    """A return with words to the teacher."""
    return replace(given, entries=(*given.entries, (NOTE, Entry(words, "B9", spoilt))))


def counted(record: Record, sheet: str = ONE.code) -> dict[str, str]:
    """The answers of a sheet that count."""
    return {ask: e.raw for r in record.returns("shear-1", sheet) for ask, e in r.entries if e.is_filled}


def waiting(record: Record) -> list[tuple[str, str, str]]:
    """What waits: answer, what counts, what was taken in beside it."""
    return [(d.ask, d.counts.entry.raw, d.other.entry.raw) for d in record.differences("shear-1")]


def test_taking_in_tells_how_much_was_new_and_which_answers_count_anew(issued: Record) -> None:
    taken = issued.take_in([handed_in(ONE, "1 kN", x1_b=""), handed_in(TWO, "2 kN", x1_b="no")], NOW, {})
    assert (taken.new, taken.added) == (2, ((ONE.code, "1.a"), (TWO.code, "1.a"), (TWO.code, "1.b")))
    again = issued.take_in([handed_in(ONE, "1 kN", x1_b="")], LATER, {})
    assert (again.new, again.added) == (0, ())


def test_a_return_is_kept_with_its_file_its_hash_when_and_whence(issued: Record) -> None:
    given = handed_in(ONE, file="/returned/Kim.xlsx")
    issued.take_in([given], NOW, {given.file: "ab" * 32}, Source.BOOK)
    (stored,) = issued.all_returns("shear-1")
    assert (stored.handed_in, stored.received, stored.sha256, stored.source) == (given, NOW, "ab" * 32, Source.BOOK)
    assert (stored.counts, stored.chosen, stored.kept, stored.taken_back) == (("1.a",), (), False, False)
    (row,) = (row for row in issued.journal() if row.event is Event.RETURNED)
    assert (row.task, row.sheet, row.why, row.detail) == ("shear-1", ONE.code, "taken in", "Kim.xlsx")


def test_returns_that_come_without_a_source_or_hash_are_of_an_unknown_one(issued: Record) -> None:
    issued.add_returns([handed_in(ONE)], NOW, {"A1.xlsx": "cd" * 32})
    issued.add_returns([handed_in(TWO)], NOW)
    assert [(r.sha256, r.source) for r in issued.all_returns("shear-1")] == [
        ("cd" * 32, Source.UNKNOWN), ("", Source.UNKNOWN),
    ]  # fmt: skip


def test_a_file_of_other_contents_is_another_return_although_the_entries_are_the_same(issued: Record) -> None:
    given = handed_in(ONE)
    for sha in ("ab" * 32, "cd" * 32, "ab" * 32):
        issued.add_returns([given], NOW, {given.file: sha})
    assert [r.sha256 for r in issued.all_returns("shear-1")] == ["ab" * 32, "cd" * 32]


def test_a_blank_before_an_answer_keeps_no_answer_from_counting_and_counts_for_nothing(issued: Record) -> None:
    issued.add_returns([handed_in(ONE, " ", x1_b="yes")], NOW)
    assert counted(issued) == {"1.b": "yes"}
    issued.add_returns([handed_in(ONE, "1 kN", "later.xlsx")], LATER)
    assert counted(issued) == {"1.a": "1 kN", "1.b": "yes"}


def test_one_return_stands_as_it_was_received_with_its_blanks(issued: Record) -> None:
    given = handed_in(ONE, "1 kN", x1_b="  ")
    issued.add_returns([given], NOW)
    assert issued.returns("shear-1") == (given,)


def test_blank_returns_stand_as_one_of_the_last_file(issued: Record) -> None:
    files = ("first.xlsx", "second.xlsx", "third.xlsx")
    issued.add_returns([handed_in(ONE, "", file) for file in files], NOW)
    (standing,) = issued.returns("shear-1")
    assert (standing.file, [entry.raw for _, entry in standing.entries]) == ("third.xlsx", [""])


def test_a_file_known_already_no_longer_hides_those_taken_in_after_it(issued: Record) -> None:
    known = handed_in(ONE)
    issued.add_returns([known], NOW)
    assert issued.add_returns([known, handed_in(TWO)], LATER) == 1
    assert counted(issued, TWO.code) == {"1.a": "94.2 kN"}


def test_what_a_file_said_first_waits_again_once_it_says_it_again(issued: Record) -> None:
    """1 kN counts; the other file says 2 kN, then 3 kN, then 2 kN again; at the end it says what counts."""
    issued.add_returns([handed_in(ONE, "1 kN")], NOW)
    for typed in ("2 kN", "3 kN", "2 kN"):
        issued.add_returns([handed_in(ONE, typed, "new.xlsx")], LATER)
        assert waiting(issued) == [("1.a", "1 kN", typed)]
    issued.add_returns([handed_in(ONE, "1 kN", "new.xlsx")], LATER)
    assert waiting(issued) == []


def test_of_one_file_name_what_another_sheet_waits_for_still_waits(issued: Record) -> None:
    issued.add_returns([handed_in(ONE, "1 kN", "a.xlsx"), handed_in(TWO, "1 kN", "b.xlsx")], NOW)
    issued.add_returns([handed_in(ONE, "2 kN", "all.csv"), handed_in(TWO, "2 kN", "all.csv")], NOW)
    issued.add_returns([handed_in(ONE, "3 kN", "all.csv")], LATER)
    assert [(d.student, d.other.entry.raw) for d in issued.differences("shear-1")] == [("A1", "3 kN"), ("A2", "2 kN")]


def test_a_known_file_is_looked_at_again_only_on_purpose(issued: Record) -> None:
    both = [handed_in(ONE, "1 kN"), handed_in(ONE, "2 kN", "new.xlsx")]
    issued.add_returns(both, NOW)
    issued.choose_return(ONE.code, 1, "R. Vos", "as agreed", NOW)
    issued.take_in(both, LATER, {})
    assert waiting(issued) == []
    issued.take_in(both, LATER, {}, again=True)
    assert waiting(issued) == [("1.a", "1 kN", "2 kN")]


def test_what_waited_beside_an_answer_that_was_taken_back_waits_no_longer_where_it_counts_itself(
    issued: Record,
) -> None:
    with issued.step("mark", "shear-1", NOW):
        issued.add_returns([handed_in(ONE, "1 kN")], NOW)
    second = handed_in(ONE, "2 kN", "new.xlsx")
    issued.add_returns([second], NOW)
    issued.undo("R. Vos", "the wrong folder", LATER)
    issued.add_returns([handed_in(ONE, "2 kN", "third.xlsx")], LATER)
    issued.take_in([second], LATER, {}, again=True)
    assert (counted(issued), waiting(issued)) == ({"1.a": "2 kN"}, [])


def test_a_spoilt_entry_differs_from_the_same_text_that_is_whole(issued: Record) -> None:
    spoilt = Return(ONE.code, "new.xlsx", (("1.a", Entry("94.2 kN", "B2", "became a date", True)),))
    issued.add_returns([handed_in(ONE)], NOW)
    issued.add_returns([spoilt], NOW)
    assert waiting(issued) == [("1.a", "94.2 kN", "94.2 kN")]


def test_a_difference_tells_both_entries_with_file_and_place(issued: Record) -> None:
    issued.add_returns([handed_in(ONE, "1 \ud800")], NOW)
    issued.add_returns([handed_in(ONE, "2 kN", "new.xlsx")], LATER)
    (one,) = issued.differences("shear-1")
    assert (one.sheet, one.student, one.ask) == (ONE.code, "A1", "1.a")
    assert one.counts == Received(1, "A1.xlsx", Entry("1 \ud800", "B2"))
    assert one.other == Received(2, "new.xlsx", Entry("2 kN", "B2"))
    assert issued.differences("shear-2") == ()


@pytest.fixture
def chosen_from(issued: Record) -> Record:
    """Two returns of one sheet that differ in both answers; the second has a third answer."""
    issued.add_returns([handed_in(ONE, "1 kN", x1_b="yes")], NOW)
    issued.add_returns([handed_in(ONE, "2 kN", "new.xlsx", x1_b="no", x2_b="yes")], LATER)
    return issued


@pytest.mark.parametrize(
    ("asks", "counts", "waits", "told"),
    [
        (["1.a"], {"1.a": "2 kN", "1.b": "yes", "2.b": "yes"}, ["1.b"], "new.xlsx: 1.a"),
        (["1.b", "1.a"], {"1.a": "2 kN", "1.b": "no", "2.b": "yes"}, [], "new.xlsx: 1.a, 1.b"),
        (None, {"1.a": "2 kN", "1.b": "no", "2.b": "yes"}, [], "new.xlsx: all answers"),
    ],
)
def test_a_teacher_chooses_for_one_answer_for_several_or_for_all(
    chosen_from: Record, asks: Sequence[str] | None, counts: dict[str, str], waits: list[str], told: str
) -> None:
    assert chosen_from.choose_return(ONE.code, 2, " R.  Vos", "seen the sketch", LATER, asks) is True
    assert counted(chosen_from) == counts
    assert [ask for ask, _, _ in waiting(chosen_from)] == waits
    row = chosen_from.journal()[-1]
    assert (row.event, row.task, row.sheet, row.who, row.why, row.detail) == (
        Event.CHOSEN, "shear-1", ONE.code, "R. Vos", "seen the sketch", told,
    )  # fmt: skip
    before = chosen_from.journal()
    assert chosen_from.choose_return(ONE.code, 2, "R. Vos", "again", LATER, asks) is False
    assert chosen_from.journal() == before


def test_choosing_what_counts_already_decides_what_waits_beside_it(chosen_from: Record) -> None:
    assert chosen_from.choose_return(ONE.code, 1, "R. Vos", "as agreed", LATER, ["1.a"]) is True
    assert waiting(chosen_from) == [("1.b", "yes", "no")]
    stored = {r.number: (r.counts, r.chosen) for r in chosen_from.all_returns("shear-1")}
    assert stored == {1: (("1.a", "1.b"), ("1.a",)), 2: (("2.b",), ())}


def test_choosing_a_return_alone_leaves_blank_what_it_does_not_answer(chosen_from: Record) -> None:
    assert chosen_from.choose_return(ONE.code, 1, "R. Vos", "as agreed", LATER) is True
    assert counted(chosen_from) == {"1.a": "1 kN", "1.b": "yes"}
    assert chosen_from.returns("shear-1")[0].file == "A1.xlsx"


def test_choosing_for_one_sheet_leaves_others_as_they_were(chosen_from: Record) -> None:
    chosen_from.add_returns([handed_in(TWO, "1 kN")], NOW)
    chosen_from.add_returns([handed_in(TWO, "2 kN", "new.xlsx")], LATER)
    chosen_from.choose_return(ONE.code, 2, "R. Vos", "seen", LATER)
    assert waiting(chosen_from) == [("1.a", "1 kN", "2 kN")]
    assert counted(chosen_from, TWO.code) == {"1.a": "1 kN"}


@pytest.mark.parametrize(("who", "why"), [("", "seen"), ("R. Vos", "")])
def test_no_return_is_chosen_without_a_name_and_a_reason(chosen_from: Record, who: str, why: str) -> None:
    with pytest.raises(ProblemsFound, match="for the choice of a return"):
        chosen_from.choose_return(ONE.code, 2, who, why, LATER)


def test_a_note_to_the_teacher_is_told_once_and_counts_for_no_answer(issued: Record) -> None:
    first = with_note(handed_in(ONE, "1 kN", "/returned/A1.xlsx"), " my pen\nbroke ")
    again = with_note(handed_in(ONE, "1 kN", "again.xlsx"), "my pen broke")
    other = with_note(handed_in(TWO, "2 kN"), "see the back")
    issued.add_returns([first], NOW)
    issued.add_returns([again, other, handed_in(sheets(task())[2], "3 kN")], LATER)
    assert [(n.sheet, n.words, n.file, n.received) for n in issued.notes("shear-1")] == [
        (ONE.code, "my pen\nbroke", "A1.xlsx", NOW), (TWO.code, "see the back", "A2.xlsx", LATER),
    ]  # fmt: skip
    assert [n.sheet for n in issued.notes("shear-1", TWO.code)] == [TWO.code]
    assert counted(issued) == {"1.a": "1 kN"}
    assert issued.all_returns("shear-1", ONE.code)[0].counts == ("1.a",)
    assert waiting(issued) == []


def test_words_that_a_spreadsheet_spoilt_say_so(issued: Record) -> None:
    issued.add_returns([with_note(handed_in(ONE), "1/2", "became a date"), with_note(handed_in(TWO), "", "lost")], NOW)
    assert [note.words for note in issued.notes("shear-1")] == ["1/2 (became a date)", "(lost)"]


def test_a_note_alone_hands_nothing_in_and_what_was_taken_back_says_nothing(issued: Record) -> None:
    issued.add_returns([Return(TWO.code, "A2.txt", ((NOTE, Entry("I was ill", "B9")),))], NOW)
    with issued.step("mark", "shear-1", NOW):
        issued.add_returns([with_note(handed_in(ONE), "my pen broke")], NOW)
    issued.undo("R. Vos", "the wrong folder", LATER)
    assert issued.returns("shear-1") == ()
    assert [note.words for note in issued.notes("shear-1")] == ["I was ill"]
    assert [stored.taken_back for stored in issued.all_returns("shear-1")] == [True, False]
    assert standing_returns(issued.all_returns("shear-1")) == ()


def test_answers_stand_in_the_order_of_issue_whatever_came_first(issued: Record) -> None:
    issued.add_returns([handed_in(TWO, "2 kN")], NOW)
    issued.add_returns([handed_in(ONE, "1 kN")], LATER)
    assert [r.sheet_code for r in issued.returns("shear-1")] == [ONE.code, TWO.code]


@pytest.mark.parametrize("data", [b"", b"x", b"a book of a yard " * 500])
def test_a_file_comes_back_as_it_was_received_and_its_return_says_that_it_is_kept(issued: Record, data: bytes) -> None:
    sha = issued.keep_file(data)
    issued.add_returns([handed_in(ONE)], NOW, {"A1.xlsx": sha})
    assert issued.kept_file(sha) == data
    assert [stored.kept for stored in issued.all_returns("shear-1")] == [True]


SPOILT = {
    "other contents of one length": ("body = (SELECT body FROM files WHERE size = 4)", b"abcd"),
    "longer contents": ("body = (SELECT body FROM files WHERE size = 9)", b"sheets---"),
    "another length": ("size = 5", b"other"),
}


@pytest.mark.parametrize(("change", "other"), SPOILT.values(), ids=SPOILT)
def test_a_kept_file_that_is_not_what_was_received_is_told(path: Path, change: str, other: bytes) -> None:
    with Record(path, from_bundle) as record:
        sha = record.keep_file(b"book")
        record.keep_file(other)
    changed_behind(path, f"UPDATE files SET {change} WHERE sha256 = '{sha}'")
    with Record(path, from_bundle) as record, pytest.raises(ProblemsFound, match=f"the file {sha[:12]} is not what"):
        record.kept_file(sha)
