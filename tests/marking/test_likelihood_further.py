"""How likely digits are, by hand, where every operation is rounded, where figures are left out of what follows from a
typed result, and where many own results go on together. The drain hole has 300 MPa, 20 mm and 6 mm.

Six in ten of those who round every operation do so to three figures, the others to four; four in ten go on from a right
result as they typed it (our assumptions; common practice, no source).
"""

from dataclasses import replace

import numpy as np
import pytest

from marking.test_likelihood import like, right_force, setting
from marking.test_weighing_laws import right_at
from witnessmark.marking.hypotheses.hypotheses import MANY, Hypothesis
from witnessmark.marking.outcome import Verdict
from witnessmark.marking.weighing.habits import Before, Own
from witnessmark.marking.weighing.setting import have_own, works_from
from witnessmark.maths.syntax import parse
from witnessmark.questions.working.methods import Method, Step
from witnessmark.questions.working.working import AskedNumber


def each(key: str) -> Hypothesis:
    """The right working, every operation rounded."""
    return Hypothesis("each rounded", 3, Verdict.ROUNDED_EARLY, right_at(key))


def test_who_rounds_every_operation_comes_to_their_own_digits_by_each_value_of_a_constant() -> None:
    """To four figures pi d is 0.06283 m, 0.06284 by 3.142, 0.0628 by 3.14 and 0.06286 by 22/7; that makes 113.1 kN by
    the first two alone. To three it is 113 kN by all."""
    assert like(each("a"), [0.113, 0.1131], 3, setting(2), 1e6)[0] == pytest.approx(1.0)
    assert like(each("a"), [0.1131, 0.1130], 4, setting(2), 1e6) == pytest.approx([
        0.4 * (0.75 + 0.07), 0.6 + 0.4 * 0.15,
    ])  # fmt: skip


def test_who_rounds_every_operation_of_a_part_has_the_result_before_it_in_full() -> None:
    """113.0973 kN on 314.3 mm^2, of pi in full to four figures, are 359.8 MPa; 113 kN would be 359.5."""
    assert like(each("b"), [359.8], 4, setting(1), 1e6) == pytest.approx([0.4 * 0.75])


def test_who_gives_fewer_figures_than_were_asked_did_not_round_every_operation_to_them() -> None:
    assert like(each("a"), [0.11], 2, setting(1), 1e6) == [0.0]


@pytest.mark.parametrize(("factor", "from_typed"), [("1.001", 1.0), ("0.9995", 0.0)])
def test_figures_are_left_out_of_what_follows_from_a_result_as_it_was_typed_or_as_it_was_worked(
    factor: str, from_typed: float
) -> None:
    """282 MPa cut from 282.78, of 113 kN as it was typed; from 282.36 nothing is cut that would round up."""
    method = Method((), AskedNumber("b", parse(f"{factor}*F/d**2"), "MPa", 3))
    h = Hypothesis("cut off", 3, Verdict.RIGHT, method, cut_off=True)
    typed, worked = like(h, [282.0, 282.0], 3, setting(2, right_force(2, (0,))), 1e6)
    assert 0.05 < worked < 0.95
    assert typed == pytest.approx(0.4 * from_typed + 0.6 * worked)


def own(name: str, wrong: float, typed: float) -> Own:
    """A result of one student, in metres and exact: wrong, or right as it was typed."""
    nothing = np.zeros(1)
    return Own((name,), np.array([wrong]), Before.unknown(1), nothing, nothing, np.array([typed]), np.ones(1, np.bool_))


def test_of_many_results_that_go_on_together_one_wrong_one_is_enough_and_of_few_each_must_be() -> None:
    """2 m is wrong; 3, 4 and 5 m are right, and 14 m their sum."""
    some = [own("p", 2.0, 1.0), own("q", np.nan, 3.0), own("r", np.nan, 4.0), own("s", np.nan, 5.0)]
    assert len(some) == MANY
    method = Method((), AskedNumber("b", parse("p + q + r + s"), "m", 3))
    h = Hypothesis("carried", 3, Verdict.CARRIED_FORWARD, method, (0, 1, 2, 3))
    assert like(h, [14.0], 3, setting(1, *some), 1.0) == pytest.approx([1.0])
    fewer = replace(h, method=replace(method, final=replace(method.final, tree=parse("p + q + r"))), carried=(0, 1, 2))
    assert like(fewer, [9.0], 3, setting(1, *some[:3]), 1.0) == [0.0]


# Whom a hypothesis that carries own results on is looked for with.


def sums(formula: str, *carried: int) -> Hypothesis:
    method = Method((), AskedNumber("b", parse(formula), "m", 3))
    return Hypothesis("carried", 3, Verdict.CARRIED_FORWARD, method, carried)


def owned(name: str, *has: int) -> Own:
    """A wrong result of these of five students."""
    nothing, values = np.zeros(5), np.where(np.isin(np.arange(5), has), 2.0, np.nan)
    return Own((name,), values, Before.unknown(5), nothing, nothing, np.full(5, 3.0), np.ones(5, np.bool_))


def test_a_hypothesis_gives_nothing_without_the_own_results_that_it_uses_and_with_many_without_any() -> None:
    known = setting(5, *(owned(name, 0) for name in "pqrs"))
    assert works_from(sums("p + d", 0, 1), known) == (0,)
    assert works_from(sums("p + q", 0, 1), known) == (0, 1)
    assert works_from(sums("d", 0, 1, 2, 3), known) == ()
    assert works_from(sums("p + d", 0, 1, 2, 3), known) == (0, 1, 2, 3)
    assert works_from(sums("p + d", 0, 1, 2), known) == (0,)


def test_an_own_result_is_needed_where_no_own_line_stands_in_its_place() -> None:
    """k is twice p, and m, which nothing takes, three times r."""
    lines = [Step(name, AskedNumber(f"b.{name}", parse(tree), "m", 3)) for name, tree in (("k", "2*p"), ("m", "3*r"))]
    known = setting(5, *(owned(name, 0) for name in "pqrk"))
    one = sums("k + q", 0, 1, 2)
    h = replace(one, method=replace(one.method, steps=tuple(lines)))
    assert works_from(h, known) == (0, 1)
    assert works_from(replace(h, carried=(0, 1, 3)), known) == (1, 3)
    assert works_from(replace(h, carried=(2,)), known) == ()
    assert works_from(replace(h, carried=()), known) == ()


def test_who_has_the_own_results_is_looked_up_where_not_nearly_all_have_them() -> None:
    """Fewer than four in five, which is our own choice; of few all are needed, and of many any."""
    known = setting(5, owned("p", 0, 2, 3), owned("q", 2, 3, 4), owned("r", 0, 1, 2, 3), owned("s", 1))

    def have(*own: int) -> list[int] | None:
        rows = have_own(own, known)
        return None if rows is None else [int(row) for row in rows]

    assert have() is None
    assert have(0) == [0, 2, 3]
    assert have(2) is None
    assert have(0, 1) == [2, 3]
    assert have(0, 1, 3) == []
    assert have(0, 1, 2, 3) is None
    assert have(0, 0, 0, 3) is None
    assert have(3, 3, 3, 3) == [1]


def test_of_what_a_hypothesis_needs_some_rows_are_taken_and_the_rest_is_left() -> None:
    """It carries p on, uses q that is right, and has nothing to do with r."""
    q = replace(owned("q"), typed=np.arange(5.0), written=np.arange(5.0) + 10, is_typed=np.arange(5) > 1)
    known = setting(5, owned("p", 0, 2), q, owned("r", 1))
    between = {**known.variants.between, "d": (np.arange(5.0), np.arange(5.0) + 1)}
    marked = replace(known, variants=replace(known.variants, between=between))
    some = marked.of(sums("p + q + d", 0), np.array([2, 1]))
    assert (some.variants.names, sorted(some.variants.between)) == ({}, ["d"])
    assert [end.tolist() for end in some.variants.between["d"]] == [[2.0, 1.0], [3.0, 2.0]]
    assert some.variants.ways.rows.tolist() == [2, 1]
    p, q, r = some.own
    assert (p.values[0], p.typed.shape) == (2.0, (2,))
    assert (q.typed.tolist(), q.written.tolist(), q.is_typed.tolist()) == ([2.0, 1.0], [12.0, 11.0], [True, False])
    assert q.values.shape == (5,)
    assert r is known.own[2]
