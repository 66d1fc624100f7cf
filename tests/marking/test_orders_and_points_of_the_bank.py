"""Orders of steps and short texts of the bank: what is right earns all, what is copied nothing, and letters stay."""

from dataclasses import replace
from decimal import Decimal

import witnessmark as wm
from bank_fixture import BANK
from witnessmark.marking.kinds.order import COPIED
from witnessmark.marking.kinds.points import mark_points
from witnessmark.marking.outcome import Verdict
from witnessmark.questions.model.orders import is_near, shown_by
from witnessmark.questions.model.parts import Kind, OrderPart, PointsPart
from witnessmark.questions.sheet.listing import letter_of, listed_steps
from witnessmark.questions.sheet.task import Rules

D = Decimal
RULES = Rules()


def test_every_right_order_of_the_bank_earns_all_and_names_nothing() -> None:
    for question in BANK.values():
        for part in question.parts:
            if part.kind is Kind.ORDER:
                v = question.draw("order")
                typed = ", ".join(letter_of(listed_steps(part, v).index(step)) for step in part.steps)
                out = wm.mark(v, {part.key: typed})[part.key]
                assert (out.marks, out.misconceptions) == (part.marks, ())


def test_whoever_copies_the_list_of_steps_earns_nothing_and_is_told_so() -> None:
    """By alphabet, the steps of softening copper stood one move from their right order."""
    for question in BANK.values():
        for part in question.parts:
            if not isinstance(part, OrderPart):
                continue
            lists = set()
            for seat in range(12):
                v = question.draw(f"copied {seat}")
                listed = listed_steps(part, v)
                order = tuple(part.steps.index(step) for step in listed)
                assert not is_near(order)
                assert not shown_by(part, order)
                copied = ", ".join(letter_of(i) for i in range(len(listed)))
                out = wm.mark(v, {part.key: copied})[part.key]
                assert (out.marks, out.misconceptions, out.because) == (D(0), (), COPIED), question.key
                lists.add(listed)
            assert len(lists) > 3, question.key


def test_steps_of_sheets_that_were_issued_by_alphabet_keep_their_letters() -> None:
    v = BANK["copper-rivets"].draw("order")
    part = BANK["copper-rivets"].part("b")
    assert isinstance(part, OrderPart)
    assert listed_steps(replace(part, shuffled=False), v) == tuple(sorted(part.steps))
    assert listed_steps(part, None) == tuple(sorted(part.steps))


def test_every_accepted_wording_of_the_bank_is_found_and_waits_for_nobody() -> None:
    for question in BANK.values():
        for part in question.parts:
            if not isinstance(part, PointsPart):
                continue
            for wording in (w for point in part.points for w in point.wordings):
                out = mark_points(replace(part, needed=1), wording, RULES)
                assert (out.verdict, out.in_tray) == (Verdict.RIGHT, ()), (question.key, wording, out)
