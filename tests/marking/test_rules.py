"""The rules of a task, and what marks can be: exact, in halves, never negative, never over."""

import itertools
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

import witnessmark as wm
from bank_fixture import BANK
from marking.students import CALCULATED, marked
from marking.typed_text import anything_typed
from searching import examples
from witnessmark.questions.model.kinds import unit_asked

HOLE = BANK["drain-hole"].variant(tau="300 MPa", d="20 mm", t="6 mm", punch="oil-hardened tool steel")
AMOUNTS = st.sampled_from([Decimal(n) / 2 for n in range(8)])
RULES = st.builds(
    wm.Rules, figures=st.integers(2, 5), carried_forward=st.booleans(), unit_missing=AMOUNTS, rounded_early=AMOUNTS,
    wrong_unit=AMOUNTS, power_of_ten=AMOUNTS, unknown_method=AMOUNTS, figures_mark=AMOUNTS,
)  # fmt: skip
ENTRIES = st.sampled_from(
    ["", "113 kN", "113.1", "113.1 kg", "113.1 MN", "110 kN", "94.2 kN", "56.5 kN", "56.5 MN", "47.1 kN", "36 kN",
     "100 kN", "69,995 N", "11.53 kN", "?", "0 kN", "-3 kN"]
)  # fmt: skip
LATER = st.sampled_from(["", "360 MPa", "318 MPa", "318", "300 MPa", "3.6 GPa", "180 MPa", "265 MPa", "1000 MPa", "?"])
LINES = st.sampled_from(["", "377 mm²", "380 mm²", "314 mm²", "500 mm²", "377 kg", "3.77 mm²", "?"])


ANSWERS = st.fixed_dictionaries(
    {"a": ENTRIES, "a.A_s": LINES, "b": LATER, "c": st.sampled_from(["yes", "no", "", "?"])}
)


@examples(10)
@given(rules=RULES, answers=st.lists(ANSWERS, min_size=6, max_size=12))
def test_marks_are_exact_halves_never_negative_and_never_over(rules: wm.Rules, answers: list[dict[str, str]]) -> None:
    found = marked([HOLE] * len(answers), answers, rules)
    for row, mine in enumerate(answers):
        for key, outcome in found.outcomes(row).items():
            assert isinstance(outcome.marks, Decimal), (key, mine)
            assert 0 <= outcome.marks <= outcome.out_of, (key, mine, outcome)
            assert outcome.marks * 2 == int(outcome.marks * 2), (key, mine, outcome)
            assert 0 <= outcome.sure <= 1, (key, mine, outcome)


@examples(10)
@given(key=st.sampled_from(CALCULATED), seed=st.text(max_size=3), data=st.data())
def test_whatever_is_typed_into_any_question_has_marks_within_bounds_and_is_kept(
    key: str, seed: str, data: st.DataObject
) -> None:
    one = st.fixed_dictionaries({part.key: anything_typed(unit_asked(part)) for part in BANK[key].parts})
    answers = data.draw(st.lists(one, min_size=3, max_size=8))
    found = marked([BANK[key].draw(seed)] * len(answers), answers)
    for row, mine in enumerate(answers):
        for place, outcome in found.outcomes(row).items():
            assert 0 <= outcome.marks <= outcome.out_of, (place, mine, outcome)
            assert outcome.raw == mine.get(place, ""), place
            assert outcome.because, place


def test_each_rule_costs_what_it_says() -> None:
    cost = Decimal("1.5")
    rules = {
        "unit_missing": "113.1", "wrong_unit": "113.1 kg", "power_of_ten": "113.1 MN", "rounded_early": "110 kN",
    }  # fmt: skip
    for name, entry in rules.items():
        changed = wm.Rules(**{name: cost})  # type: ignore[arg-type]
        assert wm.mark(HOLE, {"a": entry}, changed)["a"].marks == Decimal("1.5"), name
        free = wm.Rules(**{name: Decimal(0)})  # type: ignore[arg-type]
        assert wm.mark(HOLE, {"a": entry}, free)["a"].marks == Decimal(3), name


def test_every_cost_is_at_most_what_there_is() -> None:
    everything = Decimal(100)
    strict = wm.Rules(unit_missing=everything, wrong_unit=everything, power_of_ten=everything, rounded_early=everything)
    for entry in ("113.1", "113.1 kg", "113.1 MN", "110 kN", "56.5", "56.5 MN"):
        assert wm.mark(HOLE, {"a": entry}, strict)["a"].marks == 0, entry


def test_marks_of_an_unknown_method_are_at_most_those_of_the_part() -> None:
    out = wm.mark(HOLE, {"a": "36 kN"}, wm.Rules(unknown_method=Decimal(9)))["a"]
    assert out.verdict == "edit"
    assert out.marks <= out.out_of


@pytest.mark.parametrize(
    ("entry", "marks", "why"),
    [
        ("113 kN", "3", "as asked"),
        ("113000 N", "3", "noughts at the end of a whole number may not count"),
        ("0.113 MN", "3", "noughts in front never count"),
        ("113.1 kN", "2.5", "four"),
        ("113.097 kN", "2.5", "six"),
        ("113.0 kN", "2.5", "a nought after the point counts"),
        ("114 kN", "2.5", "rounded early, which has its own cost"),
        ("56.55 kN", "2", "a slip keeps what it keeps"),
    ],
)
def test_figures_other_than_asked_cost_a_mark_only_where_the_task_says_so(entry: str, marks: str, why: str) -> None:
    out = wm.mark(HOLE, {"a": entry}, wm.Rules(figures_mark=Decimal("0.5")))["a"]
    assert out.marks == Decimal(marks), why
    says = "Write it to 3 significant figures." in out.because
    assert says == (out.verdict == "right" and out.marks < 3), why
    assert wm.mark(HOLE, {"a": entry})["a"].marks >= out.marks, why


def test_the_defaults_are_those_of_the_design() -> None:
    found = wm.Rules()
    assert (found.figures, found.carried_forward, found.half_marks, found.ask_below) == (3, True, True, 0.9)
    assert (found.unit_missing, found.rounded_early) == (Decimal("0.5"), Decimal("0.5"))
    assert (found.wrong_unit, found.power_of_ten, found.unknown_method) == (Decimal(1), Decimal(1), Decimal(0))
    assert found.figures_mark == 0


@pytest.mark.parametrize("forward", [True, False])
def test_a_right_answer_is_full_marks_under_any_rules(forward: bool) -> None:
    for unit, early, figures in itertools.product((0, 3), (0, 3), (2, 3, 4)):
        rules = wm.Rules(figures, forward, Decimal(unit), Decimal(early), Decimal(unit), Decimal(unit))
        out = wm.mark(HOLE, {"a": "113.10 kN", "b": "360.0 MPa", "c": "yes"}, rules)
        assert [out[k].marks for k in "abc"] == [3, 2, 1]
