"""The job `accept`: what would change is shown first; what is done is kept with its reason and stays."""

import ast
import shutil
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from jobs.copied import copied
from jobs.shared_class import CODES, DID_SO, SQUARE, shared_class
from jobs.small_class import BANK_FOLDER, LATER, TASK, contents, record_lines, sheets_of, small_class
from witnessmark.files.bank.folder import load_bank
from witnessmark.files.safe.plain_text import decoded
from witnessmark.jobs.accepting import Accepted, Proposed, accept, drop
from witnessmark.jobs.decision import Decision
from witnessmark.jobs.marking import mark
from witnessmark.jobs.moderating import moderate
from witnessmark.jobs.opened import open_class
from witnessmark.jobs.returning import return_feedback
from witnessmark.jobs.reviewing import review
from witnessmark.marking.outcome import Outcome
from witnessmark.record.rows import Event
from witnessmark.words.errors import ProblemsFound

SOURCES = Path(__file__).parents[2] / "src" / "witnessmark"
KEY, SAY = "square-for-round", "Look at the rim: it is a circle."
SHOWN = Decision("", "", LATER, apply=False)
DONE = Decision("K. Lund", "four of them went round a square", LATER)
FOUND = Proposed(KEY, found=1, keeps="1", say=SAY)
TYPED = Proposed(KEY, SQUARE, keeps="1", say=SAY)


@pytest.fixture(scope="module")
def marked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A class with one wrong method that four share; not to be changed."""
    return copied(shared_class, tmp_path_factory.mktemp("accept") / "class")


@pytest.fixture
def folder(marked: Path, tmp_path: Path) -> Path:
    """The same class, to be changed."""
    shutil.copytree(marked, tmp_path / "class")
    return tmp_path / "class"


def told(folder: Path, label: str = "1a", proposed: Proposed = TYPED, said: Decision = SHOWN, task: str = TASK) -> str:
    """What an acceptance is refused for, line by line; nothing may have changed."""
    before = contents(folder)
    with pytest.raises(ProblemsFound) as raised:
        accept(folder, task, label, proposed, said)
    assert contents(folder) == before
    return str(raised.value).replace(str(folder), "CLASS").replace(str(BANK_FOLDER), "BANK")


def outcomes(folder: Path) -> dict[str, Outcome]:
    """What stands at 1a, by student."""
    with open_class(folder).record() as record:
        found = record.outcomes(TASK)
        return {sheet.student.code: found[sheet.code]["1.a"] for sheet in record.sheets(TASK)}


def changed(done: Accepted) -> list[tuple[str, str, str, Decimal, str, Decimal]]:
    """The changes: whose, where, and verdict with marks before and after."""
    found = []
    for change in done.changes:
        assert change.before is not None
        assert change.after is not None
        before, after = change.before, change.after
        found.append((change.student, change.label, str(before.verdict), before.marks, str(after.verdict), after.marks))
    return found


EACH = [(code, "1a", "edit", Decimal(0), "slip", Decimal(1)) for code in DID_SO]


@pytest.mark.parametrize("proposed", [FOUND, TYPED], ids=["found", "typed"])
def test_without_being_told_to_nothing_is_written_and_every_change_is_shown(folder: Path, proposed: Proposed) -> None:
    before, lines = contents(folder), record_lines(folder)
    done = accept(folder, TASK, "1a", proposed, SHOWN)
    assert changed(done) == EACH
    assert (done.applied, done.slip.answer, done.slip.keeps) == (False, SQUARE, Decimal(1))
    assert (contents(folder), record_lines(folder)) == (before, lines)


def test_what_was_shown_is_what_is_done(folder: Path) -> None:
    shown, done = accept(folder, TASK, "1a", FOUND, SHOWN), accept(folder, TASK, "1a", FOUND, DONE)
    assert shown.changes == done.changes
    found = outcomes(folder)
    assert {code for code, o in found.items() if o.misconceptions == (KEY,)} == set(DID_SO)
    for change in done.changes:
        stands = found[change.student]
        assert change.after == stands
        assert (stands.verdict, stands.marks, stands.in_tray) == ("slip", Decimal(1), ())
        assert stands.because.endswith("is what 4 × τ × d × t gives with your numbers; that is not the punching force.")
    others = [o for code, o in found.items() if code not in DID_SO]
    assert [(str(o.verdict), o.marks) for o in others] == [("right", Decimal(3))] * (len(CODES) - len(DID_SO))


def test_every_mark_that_changed_has_a_row_that_says_why(folder: Path) -> None:
    with open_class(folder).record() as record:
        before = len(record.journal())
    accept(folder, TASK, "1a", FOUND, DONE)
    with open_class(folder).record() as record:
        first, *rows = record.journal()[before:]
        codes = {sheet.code: sheet.student.code for sheet in record.sheets(TASK)}
    assert (first.event, first.who, first.why) == (Event.ACCEPTED, "K. Lund", DONE.why)
    assert first.detail == f"drain-hole a: {KEY}, {SQUARE}, keeps 1"
    assert [(codes[r.sheet], r.ask, r.before, r.after, r.detail) for r in rows] == [
        (code, "1.a", Decimal(0), Decimal(1), "edit, now slip") for code in DID_SO
    ]
    assert {(r.event, r.who, r.why) for r in rows} == {
        (Event.MARKED, "K. Lund", f"{KEY} accepted as a slip at 1a: {DONE.why}")
    }


def test_marking_again_changes_nothing(folder: Path) -> None:
    accept(folder, TASK, "1a", FOUND, DONE)
    before = record_lines(folder)
    mark(folder, TASK, LATER)
    assert record_lines(folder) == before


def test_what_was_issued_stays_as_it_was(folder: Path) -> None:
    def issued() -> list[str]:
        return [line for line in record_lines(folder) if line.startswith(('{"kind":"text"', '{"kind":"variant"'))]

    before = issued()
    accept(folder, TASK, "1a", FOUND, DONE)
    assert before
    assert issued() == before


def test_a_teachers_mark_stays_and_waits_for_another_look(folder: Path) -> None:
    sheet = sheets_of(folder)[DID_SO[0]]
    moderate(folder, sheet.code, "1a", "2", "the working shows the area", "R. Vos", LATER)
    done = accept(folder, TASK, "1a", FOUND, DONE)
    (mine,) = [change for change in done.changes if change.student == DID_SO[0]]
    assert (mine.stands, mine.stands_by) == (Decimal(2), "R. Vos")
    assert {change.stands for change in done.changes if change is not mine} == {None}
    stands = outcomes(folder)[DID_SO[0]]
    assert (stands.marks, stands.in_tray) == (
        Decimal(2), ("the machine's mark was 0 when it was moderated and is 1 now",),
    )  # fmt: skip


def test_it_is_taken_back_and_the_marks_are_those_before(folder: Path) -> None:
    before = outcomes(folder)
    accept(folder, TASK, "1a", FOUND, DONE)
    shown = drop(folder, TASK, "1a", KEY, SHOWN)
    assert (shown.applied, len(shown.changes)) == (False, len(DID_SO))
    assert outcomes(folder) != before
    done = drop(folder, TASK, "1a", KEY, DONE)
    assert (done.dropped, done.changes) == (True, shown.changes)
    assert outcomes(folder) == before
    with open_class(folder).record() as record:
        assert record.accepted(TASK) == ()
        assert [row.event for row in record.journal()][-len(DID_SO) - 1 :] == [
            Event.DROPPED, *[Event.MARKED] * len(DID_SO)
        ]  # fmt: skip


def test_the_review_then_names_it_and_feedback_says_what_to_look_at(folder: Path) -> None:
    accept(folder, TASK, "1a", FOUND, DONE)
    found = review(folder, TASK).review
    (recurs,) = found.recurrences
    assert (recurs.misconception.key, recurs.students, recurs.misconception.say) == (KEY, DID_SO, SAY)
    assert found.searched.shared == ()
    with open_class(folder).record() as record:
        assert all(KEY in s.variants[0].question.misconceptions for s in record.sheets(TASK))
    assert len(return_feedback(folder, TASK, LATER).sheets) == len(CODES)


# What is refused.


def test_accepting_twice_is_told(folder: Path) -> None:
    accept(folder, TASK, "1a", FOUND, DONE)
    line = (
        f"MISCONCEPTION: [accepted-already] expected a slip that is not accepted yet, found '{KEY}', accepted by"
        f" K. Lund: {DONE.why}; nothing to do; to change what it keeps, take it back with --drop first"
    )
    assert told(folder, said=DONE) == line
    assert told(folder, proposed=FOUND, said=DONE) == (
        "--found: [no-formula] expected the number of a formula found at 1a (none, since no formula is shared there),"
        f" found 1; witnessmark review CLASS {TASK}"
    )
    assert told(folder, proposed=Proposed(KEY, "5*tau*d*t", keeps="1", say=SAY)) == (
        f"MISCONCEPTION: [slip-twice] expected each misconception once at one place, found '{KEY}' again;"
        " choose another key"
    )
    assert told(folder, proposed=Proposed("round-for-square", "2*tau*(d + d)*t", keeps="1", say=SAY)) == (
        "--formula: [slip-known] expected a method that the question does not know yet,"
        f" found '2*tau*(d + d)*t', the slip {KEY}"
    )


KEEPS = "--keeps: [keeps] expected halves or whole marks, at least 0 and less than 3, the marks of the part, found '{}'"
BAD_SLIPS = {
    "not read": (
        Proposed(KEY, "4*tau*)", keeps="1", say=SAY),
        (
            "--formula:1:7: [unreadable-formula] expected an expression, found '4*tau*)';"
            " write products with * and powers with **"
        ),
    ),
    "what runs": (
        Proposed(KEY, "__import__('os').getcwd()", keeps="1", say=SAY),
        (
            "--formula:1:1: [unreadable-formula] expected names, numbers, + - * / ** and the listed functions,"
            " found '__import__('os').getcwd()'"
        ),
    ),
    "name": (
        Proposed(KEY, "4*tau*d*width", keeps="1", say=SAY),
        (
            "--formula:1:9: [unknown-name] expected a given, a table cell, an earlier line of this part, a carried"
            " result or a constant, found 'width'; known here: A_s, d, g,"
            " material.shear_strength, pi, punch.compressive_strength, t, tau"
        ),
    ),
    "comparison": (
        Proposed(KEY, "tau < d", keeps="1", say=SAY),
        "--formula:1:1: [no-comparison] expected an expression, found a comparison with <, <=, > or >=",
    ),
    "number": (
        Proposed(KEY, "12", keeps="1", say=SAY),
        "--formula:1:1: [no-name] expected an expression of what the student is told, found '12', a number",
    ),
    "right": (
        Proposed(KEY, "pi*t*d*tau", keeps="1", say=SAY),
        "--formula: [slip-is-right] expected a wrong expression, found 'pi*t*d*tau', the right one",
    ),
    "right by its lines": (
        Proposed(KEY, "tau*A_s", keeps="1", say=SAY),
        "--formula: [slip-is-right] expected a wrong expression, found 'tau*A_s', the right one",
    ),
    "known": (
        Proposed(KEY, "tau*A_s/2", keeps="1", say=SAY),
        (
            "--formula: [slip-known] expected a method that the question does not know yet,"
            " found 'tau*A_s/2', the slip radius-for-diameter"
        ),
    ),
    "no value": (
        Proposed(KEY, "tau*sqrt(t - 2*d)*d", keeps="1", say=SAY),
        (
            "--formula: [no-value] expected an expression with a value for these numbers,"
            " found 'tau*sqrt(t - 2*d)*d', which has none"
        ),
    ),
    "all marks": (
        Proposed(KEY, SQUARE, keeps="3", say=SAY),
        KEEPS.format("3"),
    ),
    "less than none": (
        Proposed(KEY, SQUARE, keeps="-1", say=SAY),
        KEEPS.format("-1"),
    ),
    "thirds": (
        Proposed(KEY, SQUARE, keeps="0.3", say=SAY),
        KEEPS.format("0.3"),
    ),
    "no marks": (
        Proposed(KEY, SQUARE, keeps="nan", say=SAY),
        KEEPS.format("nan"),
    ),
    "key": (
        Proposed("Square for round", SQUARE, keeps="1", say=SAY),
        (
            "MISCONCEPTION: [key-form] expected a key of small letters, digits and single hyphens,"
            " found 'Square for round'"
        ),
    ),
    "not in the bank": (
        Proposed(KEY, SQUARE, keeps="1"),
        (
            f"MISCONCEPTION: [unknown-misconception] expected a key of misconceptions.yaml, found '{KEY}';"
            f" add {KEY}: to BANK/misconceptions.yaml, or say with --say what the student should look at"
        ),
    ),
    "number of a formula": (
        Proposed(KEY, found=2, keeps="1", say=SAY),
        (
            "--found: [no-formula] expected the number of a formula found at 1a (1), found 2;"
            f" witnessmark review CLASS {TASK}"
        ),
    ),
}


@pytest.mark.parametrize("name", BAD_SLIPS)
def test_a_slip_that_cannot_be_is_told_and_nothing_changes(folder: Path, name: str) -> None:
    proposed, line = BAD_SLIPS[name]
    assert told(folder, proposed=proposed, said=DONE) == line


def test_every_problem_of_a_slip_is_told_at_once(folder: Path) -> None:
    lines = told(folder, proposed=Proposed("Square", "4*tau*width", keeps="9")).splitlines()
    assert sorted(line.split("[")[1].split("]")[0] for line in lines) == [
        "keeps", "key-form", "unknown-misconception", "unknown-name",
    ]  # fmt: skip


def test_a_result_of_a_later_part_is_told_as_unknown_there(folder: Path) -> None:
    assert "[unknown-name]" in told(folder, proposed=Proposed(KEY, "sigma*d*t", keeps="1", say=SAY))


def test_an_answer_that_is_not_there_or_no_number_is_told(folder: Path) -> None:
    assert told(folder, "9z") == "ANSWER: [no-answer] expected one of 1a A_s, 1a, 1b A_p, 1b, found '9z'"
    assert told(folder, "1c") == (
        "ANSWER: [not-a-quantity] expected an answer that is a number with a unit, found 1c, a judge"
    )


def test_a_task_that_was_not_issued_is_told(folder: Path) -> None:
    assert told(folder, task="winter-9") == (
        "CLASS: [not-issued] expected a task that was issued as winter-9, found no sheets of it;"
        " witnessmark issue CLASS winter-9"
    )


def test_a_task_that_was_not_marked_is_told(folder: Path) -> None:
    small = small_class(folder.parent / "small")
    with open_class(small).record() as record, open_class(folder).record() as other:
        record.add_sheets(other.sheets(TASK), LATER)
    with pytest.raises(ProblemsFound) as raised:
        accept(small, TASK, "1a", TYPED, SHOWN)
    assert str(raised.value) == (
        f"{small}: [not-marked] expected a marked task {TASK}, found no marks; witnessmark mark {small} {TASK}"
    )


def test_marks_that_are_not_up_to_date_are_told_since_other_changes_would_be_mixed_in(folder: Path) -> None:
    with open_class(folder).record() as record:
        code, mine = next(iter(record.proposals(TASK).items()))
        other = replace(mine["1.a"], marks=Decimal("0.5"))
        record.set_outcomes(TASK, {code: mine | {"1.a": other}}, LATER, "an earlier program marked so")
    assert told(folder) == (
        "CLASS: [marks-out-of-date] expected marks that are up to date, found 1 that marking gives otherwise now;"
        f" witnessmark mark CLASS {TASK}"
    )
    mark(folder, TASK, LATER)
    assert len(accept(folder, TASK, "1a", TYPED, SHOWN).changes) == len(DID_SO)


@pytest.mark.parametrize(("who", "why"), [("", "seen"), ("K. Lund", " ")])
def test_without_a_name_or_a_reason_nothing_is_done(folder: Path, who: str, why: str) -> None:
    line = told(folder, said=replace(DONE, who=who, why=why))
    missing = "a name" if not who else "a reason"
    assert line == (
        f"{TASK}: [no-reason] expected {missing} for {KEY}, found none;"
        " say who decides and why; both are kept in the record"
    )


def test_what_was_not_accepted_cannot_be_taken_back(folder: Path) -> None:
    with pytest.raises(ProblemsFound) as raised:
        drop(folder, TASK, "1a", KEY, DONE)
    assert str(raised.value) == (
        f"MISCONCEPTION: [not-accepted] expected a slip that was accepted at 1a, found '{KEY}';"
        " accepted in this task: none"
    )


def test_every_code_is_provoked_here() -> None:
    said = Path(__file__).read_text(encoding="utf-8")
    files = (SOURCES / "files" / "bank" / "slip_text.py", SOURCES / "jobs" / "accepting.py")
    assert {code for file in files for code in _codes(file) if f"[{code}]" not in said} == set()


def _codes(file: Path) -> Iterator[str]:
    """The first argument of every call that makes a problem."""
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call) and node.args and isinstance(node.args[0], ast.Constant):
            name = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
            if name in {"add", "Problem"}:
                yield str(node.args[0].value)


# The bank.


@pytest.fixture(scope="module")
def own_bank(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A class with a bank of its own, not to be changed."""
    place = tmp_path_factory.mktemp("own")
    shutil.copytree(BANK_FOLDER, place / "bank")
    return shared_class(place / "class", place / "bank").parent


@pytest.fixture
def place(own_bank: Path, tmp_path: Path) -> Path:
    """The same class with its bank, to be changed."""
    shutil.copytree(own_bank, tmp_path / "own")
    file = tmp_path / "own" / "class" / "class.yaml"
    text = file.read_text(encoding="utf-8")
    file.write_text(text.replace(str(own_bank), str(tmp_path / "own")), encoding="utf-8")
    return tmp_path / "own"


ENTRY = f"- {{misconception: {KEY}, answer: {SQUARE}, keeps: 1}}"


def add_misconception(place: Path) -> None:
    """The key in the bank's list."""
    file = place / "bank" / "misconceptions.yaml"
    text, _ = decoded(file.read_bytes(), "")
    added = (
        f"\n{KEY}:\n  believes: A round hole is as long round as a square one.\n  shows: Four sides.\n  say: {SAY!r}\n"
    )
    file.write_text(text + added, encoding="utf-8")


def test_the_entry_and_its_place_are_told_and_the_bank_stays_as_it_is(place: Path) -> None:
    before = contents(place / "bank")
    into_bank = replace(TYPED, into_bank=True)
    for proposed, said in ((TYPED, SHOWN), (into_bank, SHOWN), (TYPED, DONE)):
        advice = accept(place / "class", TASK, "1a", proposed, said).advice
        assert advice is not None
        assert (advice.entry, advice.written) == (ENTRY, False)
        assert advice.file is not None
        lines = advice.file.read_text(encoding="utf-8").splitlines()
        assert lines[advice.line - 2].strip().startswith("- {misconception: radius-for-diameter,")
        assert advice.misconception.splitlines()[:1] == [f"{KEY}:"]
    assert contents(place / "bank") == before


def test_the_entry_is_written_into_the_file_and_every_comment_stays(place: Path) -> None:
    add_misconception(place)
    file = place / "bank" / "shear" / "drain-hole.yaml"
    before = file.read_text(encoding="utf-8").splitlines()
    done = accept(place / "class", TASK, "1a", replace(TYPED, say="", into_bank=True), DONE)
    assert done.advice is not None
    assert (done.advice.written, done.advice.why_not, done.advice.misconception) == (True, "", "")
    after = file.read_text(encoding="utf-8").splitlines()
    assert after[done.advice.line - 1].strip() == ENTRY
    assert [line for line in after if line.strip() != ENTRY] == before
    slip = load_bank(place / "bank")["drain-hole"].quantity("a").slips[-1]
    assert (slip.misconception, slip.keeps) == (KEY, Decimal(1))
    assert done.slip.misconception.shows == "Four sides."


def test_the_sentence_then_says_how_it_shows(place: Path) -> None:
    add_misconception(place)
    accept(place / "class", TASK, "1a", replace(TYPED, say=""), DONE)
    assert outcomes(place / "class")[DID_SO[0]].because.endswith("gives with your numbers. Four sides.")


def test_a_bank_without_the_misconception_is_not_written_and_the_reason_is_told(place: Path) -> None:
    before = contents(place / "bank")
    advice = accept(place / "class", TASK, "1a", replace(TYPED, into_bank=True), DONE).advice
    assert advice is not None
    assert (advice.written, advice.why_not) == (False, f"misconceptions.yaml has no {KEY} yet")
    assert contents(place / "bank") == before


CHANGES = {
    "problems": ("unit: MPa", "unit: furlong", "the file has problems: "),
    "the right method there": ("answer: tau*A_s\n", "answer: 4*tau*d*t\n", "not the one that was issued, or"),
    "flow": ("    slips:\n      - {m", "    slips: [{m", "its part is not written line by line"),
    "gone": ("question: drain-hole\n", "question: drain-holes\n", " has no question drain-hole"),
}


@pytest.mark.parametrize("name", CHANGES)
def test_a_file_that_cannot_be_added_to_safely_is_left_alone(place: Path, name: str) -> None:
    add_misconception(place)
    file = place / "bank" / "shear" / "drain-hole.yaml"
    old, new, why = CHANGES[name]
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new, 1), encoding="utf-8")
    before = contents(place / "bank")
    advice = accept(place / "class", TASK, "1a", replace(TYPED, say="", into_bank=True), DONE).advice
    assert advice is not None
    assert not advice.written
    assert why in advice.why_not
    assert contents(place / "bank") == before


def test_line_ends_of_windows_stay(place: Path) -> None:
    add_misconception(place)
    file = place / "bank" / "shear" / "drain-hole.yaml"
    file.write_bytes(b"\xef\xbb\xbf" + file.read_bytes().replace(b"\n", b"\r\n"))
    before = file.read_bytes()
    accept(place / "class", TASK, "1a", replace(TYPED, say="", into_bank=True), DONE)
    after = file.read_bytes()
    assert after.startswith(b"\xef\xbb\xbfquestion: ")
    assert after.count(b"\n") == after.count(b"\r\n") == before.count(b"\n") + 1
