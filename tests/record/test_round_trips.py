"""Properties: whatever is typed comes back identical; the journal tells every mark."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import fields, replace
from datetime import timedelta
from decimal import Decimal
from pathlib import Path
from tempfile import TemporaryDirectory

from hypothesis import given
from hypothesis import strategies as st

from record.examples import NOW, from_bundle, handed_in, outcome, sheets
from searching import examples
from witnessmark.marking.outcome import Explanation, Outcome, Verdict
from witnessmark.questions.model.question import RowGiven, Table
from witnessmark.questions.sheet.task import Entry, Return, Rules, Sheet, Student
from witnessmark.questions.sheet.variant import Shown, Variant
from witnessmark.record.codec import dump, load
from witnessmark.record.record import Record
from witnessmark.record.rows import Event

WHOLE = sheets()
CODES = [sheet.code for sheet in WHOLE]
ASKS = ["1.a", "1.a.A_s", "1.b", "2.a"]
TEXT = st.text(st.characters())  # every code point, half surrogates and controls too
WORDS = st.tuples() | st.tuples(TEXT) | st.tuples(TEXT, TEXT)
KEYS = st.lists(st.text("abc-", min_size=1), max_size=3).map(tuple)
HALVES = st.integers(0, 12).map(lambda n: Decimal(n) / 2)
SURE = st.floats(0, 1)
DECIMALS = st.decimals(allow_nan=False, allow_infinity=False)
AMOUNTS = st.decimals(0, allow_nan=False, allow_infinity=False)

NOTES = st.text(st.characters(), min_size=1)
MADE = st.builds(Entry, TEXT, TEXT, TEXT) | st.builds(Entry, TEXT, TEXT, NOTES, st.just(True))
ENTRIES = st.lists(st.tuples(TEXT, MADE), min_size=1, max_size=5, unique_by=lambda e: e[0]).map(tuple)
EXPLANATIONS = st.builds(Explanation, st.sampled_from(Verdict), WORDS, HALVES, TEXT, TEXT, SURE)
OUTCOMES = st.builds(
    Outcome, HALVES, st.just(Decimal(6)), st.sampled_from(Verdict), TEXT, KEYS, SURE,
    st.lists(EXPLANATIONS, max_size=3).map(tuple), TEXT, TEXT, WORDS, WORDS, WORDS,
)  # fmt: skip


@contextmanager
def fresh() -> Iterator[Record]:
    """A record with the sheets of the invented class."""
    with TemporaryDirectory() as folder, Record(Path(folder) / "record.db", from_bundle) as record:
        record.add_sheets(WHOLE, NOW)
        yield record


@given(ENTRIES, TEXT)
@examples(30)
def test_any_entry_comes_back_identical(entries: tuple[tuple[str, Entry], ...], file: str) -> None:
    given_in = Return(CODES[0], file, entries)
    with fresh() as record:
        record.add_returns([given_in], NOW)
        assert record.returns("shear-1") == (given_in,)
        assert record.add_returns([given_in], NOW) == 0


@given(
    st.dictionaries(st.sampled_from(CODES), st.dictionaries(st.sampled_from(ASKS), OUTCOMES, min_size=1), min_size=1)
)
@examples(30)
def test_any_outcome_comes_back_identical_and_twice_is_once(marked: dict[str, dict[str, Outcome]]) -> None:
    with fresh() as record:
        record.set_outcomes("shear-1", marked, NOW, "marked")
        assert record.proposals("shear-1") == marked
        before = record.journal()
        assert record.set_outcomes("shear-1", record.proposals("shear-1"), NOW, "again") == ()
        assert record.journal() == before


def test_every_field_of_an_outcome_is_among_those_tried() -> None:
    # OUTCOMES names 12 fields and EXPLANATIONS 6: a field that is added must be added there too. The 13th is the
    # teacher's, and no proposal has it.
    assert (len(fields(Outcome)), len(fields(Explanation))) == (13, 6)


@given(st.lists(st.tuples(st.sampled_from("abcdefgh"), DECIMALS, TEXT), min_size=1, unique_by=lambda t: t[0]), TEXT)
@examples(30)
def test_shown_values_come_back_digit_for_digit(shown: list[tuple[str, Decimal, str]], name: str) -> None:
    rows = {key: text for key, _, text in shown}
    tables = {key: Table(key, "invented", {}, {text: {}}) for key, text in rows.items()}
    given_rows = tuple(RowGiven(key, key) for key in rows)
    of = replace(WHOLE[0].variants[0].question, givens=(), rows=given_rows, tables=tables)
    values = {key: Shown(number, "mm") for key, number, _ in shown}
    task = replace(WHOLE[0].task, questions=(of.key,))
    sheet = Sheet("X", task, Student("X1", name, name, ((name, name),)), (Variant(of, values, rows),))
    with TemporaryDirectory() as folder, Record(Path(folder) / "record.db", lambda _: of) as record:
        record.add_sheets([sheet], NOW, {"X": {}})
        (back,) = record.sheets("shear-1")
        assert back == sheet
        assert [str(s.number) for s in back.variants[0].shown.values()] == [str(n) for _, n, _ in shown]


@given(st.builds(Rules, st.integers(1, 9), st.booleans(), AMOUNTS, AMOUNTS, AMOUNTS, AMOUNTS, AMOUNTS))
def test_any_rules_come_back_digit_for_digit(rules: Rules) -> None:
    assert str(load(Rules, dump(rules))) == str(rules)


@given(st.dictionaries(st.sampled_from(ASKS), st.floats(allow_nan=False)))
def test_expected_results_come_back_bit_for_bit(expected: dict[str, float]) -> None:
    with TemporaryDirectory() as folder, Record(Path(folder) / "record.db", from_bundle) as record:
        record.add_sheets(WHOLE[:1], NOW, {CODES[0]: expected})
        assert record.expected("shear-1") == {CODES[0]: expected}


MARKED = st.tuples(st.just("mark"), st.sampled_from(CODES[:2]), st.dictionaries(st.sampled_from(ASKS[:2]), HALVES))
MODERATED = st.tuples(st.just("moderate"), st.sampled_from(CODES[:2]), st.tuples(st.sampled_from(ASKS[:2]), HALVES))
WITHDRAWN = st.tuples(st.just("withdraw"), st.sampled_from(CODES[:2]), st.sampled_from(ASKS[:2]))


@given(st.lists(MARKED | MODERATED | WITHDRAWN, max_size=12))
@examples(40)
def test_the_journal_alone_tells_every_mark_that_stands(steps: list[tuple[str, str, object]]) -> None:
    with fresh() as record:
        for n, (kind, code, what) in enumerate(steps):
            act(record, kind, code, what, n)
        stands = {(s, a): o.marks for s, by_ask in record.outcomes("shear-1").items() for a, o in by_ask.items()}
        assert told_by_journal(record) == stands
        assert all(row.why for row in record.journal())


def act(record: Record, kind: str, code: str, what: object, n: int) -> None:
    """One step of a class's life; what is not there yet cannot be moderated."""
    now = NOW + timedelta(minutes=n)
    match kind, what:
        case "mark", dict():
            marked = {ask: outcome(str(min(marks, Decimal(3)))) for ask, marks in what.items()}
            record.set_outcomes("shear-1", {code: marked}, now, f"step {n}")
        case "moderate", (str() as ask, Decimal() as marks):
            if ask in record.outcomes("shear-1").get(code, {}):
                record.moderate(code, ask, min(marks, Decimal(3)), "R. Vos", f"step {n}", now)
        case "withdraw", str():
            if what in record.outcomes("shear-1").get(code, {}):
                record.withdraw(code, what, "R. Vos", f"step {n}", now)


def told_by_journal(record: Record) -> dict[tuple[str, str], Decimal]:
    """The marks that stand, from the rows of the journal and nothing else."""
    machine: dict[tuple[str, str], Decimal] = {}
    teacher: dict[tuple[str, str], Decimal] = {}
    for row in record.journal():
        key = (row.sheet, row.ask)
        where = teacher if row.event in (Event.MODERATED, Event.WITHDRAWN) else machine
        if row.event in (Event.MARKED, Event.MODERATED, Event.WITHDRAWN):
            assert row.before == (teacher.get(key, machine.get(key)) if where is teacher else machine.get(key))
            if row.after is None or row.event is Event.WITHDRAWN:
                where.pop(key)
            else:
                where[key] = row.after
    return machine | teacher


def test_a_return_of_every_code_point_comes_back_identical() -> None:
    every = "".join(map(chr, range(0x110000)))
    given_in = handed_in(WHOLE[0], every)
    with fresh() as record:
        record.add_returns([given_in], NOW)
        assert record.returns("shear-1")[0].entries[0][1].raw == every
