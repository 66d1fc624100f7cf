"""The library block of the design (section 8), line by line, on the drain hole, with figures from outside.

Singer's problem 115 (Pytel and Singer, Strength of Materials, 4th ed.): a 20 mm hole in 25 mm plate of 350 MN/m² takes
549.8 kN. The other figures here are closed forms of the same relation (pi d t tau; 4 tau t/d), worked by hand.
"""

from decimal import Decimal
from pathlib import Path

import pandas as pd
import pint
import pytest

import witnessmark as wm
from bank_fixture import BANK

DRAIN_HOLE = BANK["drain-hole"]
HOLE = DRAIN_HOLE.variant(tau="300 MPa", d="20 mm", t="5 mm", punch="oil-hardened tool steel")


def test_a_bank_is_loaded_from_its_folder_and_gives_questions_by_key() -> None:
    bank = wm.load_bank(str(Path(__file__).parents[1] / "bank"))
    assert bank["drain-hole"].title == "Punching a drain hole"
    assert "drain-hole" in bank
    assert len(bank) == len(list(bank))


def test_a_folder_that_is_no_bank_raises_problems_found_with_places(tmp_path: Path) -> None:
    (tmp_path / "shear").mkdir()
    (tmp_path / "shear" / "hole.yaml").write_text("question: hole\ntitle: [\n", encoding="utf-8")
    with pytest.raises(wm.ProblemsFound) as raised:
        wm.load_bank(str(tmp_path))
    assert any("hole.yaml:" in str(problem) for problem in raised.value.problems)


def test_a_draw_follows_from_its_seed_text_alone() -> None:
    first, again, other = (DRAIN_HOLE.draw(seed) for seed in ("any seed text", "any seed text", "another seed text"))
    assert first.given == again.given
    assert first.given != other.given
    assert first.row_names == again.row_names


def test_a_drawn_variant_keeps_the_ranges_and_the_conditions_of_its_question() -> None:
    v = DRAIN_HOLE.draw("any seed text")
    d, t = (float(v.given[name].to("millimetre").magnitude) for name in ("d", "t"))
    assert d in {10, 12, 16, 20, 25}
    assert 1 <= t <= 8
    assert t < d


def test_a_given_is_a_pint_quantity_in_the_unit_stated() -> None:
    v = DRAIN_HOLE.variant(tau="350 MN/m^2", d="2 cm", t=25, punch__compressive_strength="1150 MPa")
    assert isinstance(v.given["d"], pint.Quantity)
    assert v.given["d"].magnitude == 2
    assert v.given["d"].to("millimetre").magnitude == pytest.approx(20)
    assert v.given["t"].to("millimetre").magnitude == 25  # a bare number is in the declared unit
    assert v.given["punch.compressive_strength"].to("megapascal").magnitude == 1150


def test_a_given_may_be_a_pint_quantity_and_stated_values_are_not_held_to_ranges() -> None:
    thick = HOLE.given["d"] * 1.5
    v = DRAIN_HOLE.variant(tau=HOLE.given["tau"], d=HOLE.given["d"], t=thick)
    assert v.expected["a"].to("kilonewton").magnitude == pytest.approx(565.49, abs=0.005)  # pi 20 30 0.3


def test_a_name_that_is_no_given_is_an_error_that_lists_the_givens() -> None:
    with pytest.raises(KeyError, match=r"width: the givens of drain-hole are .*\bd\b"):
        DRAIN_HOLE.variant(width="20 mm")


def test_what_is_expected_is_a_pint_quantity_in_the_asked_unit_also_for_a_line() -> None:
    singer = DRAIN_HOLE.variant(tau="350 MN/m^2", d="20 mm", t="25 mm")
    assert f"{singer.expected['a'].units}" == "kN"
    assert round(singer.expected["a"].magnitude, 1) == 549.8
    assert round(singer.expected["a.A_s"].to("millimetre ** 2").magnitude, 1) == 1570.8  # 500 pi


def test_a_part_whose_givens_are_absent_is_not_expected() -> None:
    v = DRAIN_HOLE.variant(d="20 mm", t="25 mm")
    assert "a.A_s" in v.expected
    assert "a" not in v.expected
    assert "b" not in v.expected


def test_a_part_whose_givens_are_absent_is_not_marked() -> None:
    out = wm.mark(DRAIN_HOLE.variant(d="20 mm", t="25 mm"), {"a": "549.8 kN", "a.A_s": "1571 mm^2"})
    assert "a" not in out
    assert out["a.A_s"].verdict == "right"


def test_a_wrong_entry_is_marked_though_a_given_that_only_slips_use_is_absent() -> None:
    q = BANK["bolt-size"]  # one slip there uses the tensile strength, the right method does not
    out = wm.mark(q.variant(tau="300 MPa", P="400 kN", k=1), {"a": "1333 mm²"})
    assert (out["a"].verdict, out["a"].misconceptions) == ("slip", ("double-shear-as-single",))


def test_slips_are_quantities_by_misconception() -> None:
    slips = DRAIN_HOLE.variant(tau="350 MPa", d="20 mm", t="25 mm").slips["a"]
    force = {name: float(value.to("kilonewton").magnitude) for name, value in slips.items()}
    assert force["face-area-for-sheared-edge"] == pytest.approx(109.956, abs=0.0005)  # 350 pi 20²/4
    assert force["radius-for-diameter"] == pytest.approx(274.889, abs=0.0005)  # 350 pi 10 25


def test_what_is_accepted_holds_every_habit_of_rounding_and_leaves_the_slips_out() -> None:
    v = DRAIN_HOLE.variant(tau="300 MPa", d="20 mm", t="6 mm")
    low, high = (x.to("kilonewton").magnitude for x in v.accepts["a"])
    for by_hand in (113, 113.1, 113.10, 0.3 * 377, 0.3 * 3.14 * 120, 0.3 * 22 / 7 * 120):  # pi 20 6 = 376.99 mm²
        assert low <= by_hand <= high
    assert not any(low <= slip.to("kilonewton").magnitude <= high for slip in v.slips["a"].values())


def test_answers_are_marked_with_marks_verdict_reason_and_how_sure() -> None:
    out = wm.mark(HOLE, {"a": "94.2 kN", "b": "300 MPa", "c": "yes"})
    assert (out["a"].marks, out["a"].out_of) == (Decimal(3), Decimal(3))
    assert out["a"].verdict == "right"
    assert out["a"].verdict is wm.Verdict.RIGHT
    assert out["a"].misconceptions == ()
    assert out["a"].because.replace("\N{NO-BREAK SPACE}", " ").startswith("Right: 94.2 kN")
    assert 0.9 < out["a"].sure <= 1
    assert out["a"].raw == "94.2 kN"
    assert (out["b"].verdict, out["b"].marks, out["b"].out_of) == ("right", Decimal(2), Decimal(2))  # 4 · 300 · 5/20
    assert (out["c"].verdict, out["c"].marks) == ("right", Decimal(1))  # 300 MPa < 1150 MPa


def test_a_wrong_method_is_named_keeps_its_marks_and_is_carried_forward_once() -> None:
    out = wm.mark(HOLE, {"a": "47.1 kN", "b": "150 MPa", "c": "yes"})  # the radius for the diameter; 47.1/314.16 mm²
    assert (out["a"].verdict, out["a"].misconceptions) == ("slip", ("radius-for-diameter",))
    assert (out["a"].marks, out["a"].out_of) == (Decimal(2), Decimal(3))
    assert (out["b"].verdict, out["b"].marks) == ("carried forward", Decimal(2))
    assert out["a"].because
    assert out["a"].misconceptions[0] in BANK.misconceptions
    assert out["a"].evidence[0].misconceptions == ("radius-for-diameter",)
    named = [e.sure for e in out["a"].evidence if e.misconceptions == out["a"].misconceptions]
    assert sum(named) == pytest.approx(out["a"].sure)
    assert [e.sure for e in out["a"].evidence] == sorted((e.sure for e in out["a"].evidence), reverse=True)


def test_a_judgement_is_judged_on_the_students_own_number() -> None:
    weak = DRAIN_HOLE.variant(tau="300 MPa", d="20 mm", t="5 mm", punch="unhardened silver steel")  # 420 MPa
    own_stress_is_less = wm.mark(weak, {"b": "300 MPa", "c": "yes"})["c"]
    own_stress_is_more = wm.mark(weak, {"a": "188.5 kN", "b": "600 MPa", "c": "no"})["c"]
    assert (own_stress_is_less.verdict, own_stress_is_less.marks) == ("right", Decimal(1))
    assert own_stress_is_more.marks == Decimal(1)


def test_blank_and_unreadable_entries_have_their_own_verdicts_and_nothing_is_lost() -> None:
    out = wm.mark(HOLE, {"a": "", "b": "see the back"})
    assert out["a"].verdict == "blank"
    assert out["b"].verdict == "unreadable"
    assert out["b"].raw == "see the back"
    assert out["b"].in_tray


def test_a_key_that_is_no_part_is_an_error_that_lists_the_parts() -> None:
    with pytest.raises(KeyError, match="z: the parts of drain-hole are"):
        wm.mark(HOLE, {"z": "1"})


def test_a_table_of_answers_is_marked_by_the_same_ladder_as_one_answer() -> None:
    answers = ["94.2 kN", "47.1 kN", "94.2", "94 200 N", "", "perhaps", "0.0942 kN", "100 kN"]
    frame = pd.DataFrame({"tau": 300.0, "d": 20.0, "t": 5.0, "a": answers})
    out = wm.mark_table(DRAIN_HOLE, frame)
    assert list(out["a"]) == answers
    v = DRAIN_HOLE.variant(tau="300 MPa", d="20 mm", t="5 mm")
    for row, answer in zip(out.to_dict("records"), answers, strict=True):
        single = wm.mark(v, {"a": answer})["a"]
        assert row["a.verdict"] == single.verdict, answer
        assert row["a.marks"] == float(single.marks), answer
        assert row["a.out_of"] == 3
        assert row["a.misconceptions"] == "+".join(single.misconceptions), answer
        assert row["a.sure"] == pytest.approx(single.sure), answer


def test_a_column_of_a_table_is_in_its_declared_unit_and_a_table_without_givens_is_an_error() -> None:
    out = wm.mark_table(DRAIN_HOLE, pd.DataFrame({"tau": [350.0], "d": [20.0], "t": [25.0], "a": ["549.8 kN"]}))
    assert list(out["a.verdict"]) == ["right"]
    with pytest.raises(KeyError, match="drain-hole"):
        wm.mark_table(DRAIN_HOLE, pd.DataFrame({"a": ["549.8 kN"]}))


def test_a_typed_quantity_is_read_with_certainty_and_candidates() -> None:
    r = wm.read_quantity("70,5 kn", asked="kN")
    assert r.certainty is wm.Certainty.REPAIRED
    assert [c.to("newton").magnitude for c in r.candidates] == pytest.approx([70500])


def test_the_repairs_of_a_reading_are_sentences() -> None:
    repairs = wm.read_quantity("70,5 kn", asked="kN").repairs
    assert repairs
    assert all(isinstance(sentence, str) and sentence.endswith(".") for sentence in repairs)


@pytest.mark.parametrize(
    ("text", "certainty"),
    [
        ("70.5 kN", "certain"),
        ("70.5 kn", "repaired"),
        ("69,995 N", "ambiguous"),
        ("", "blank"),
        ("as before", "unreadable"),
        ("70.5 mm", "wrong dimension"),
    ],
)
def test_every_certainty_of_the_design_has_its_word(text: str, certainty: str) -> None:
    assert wm.read_quantity(text, asked="kN").certainty == certainty


def test_a_comma_with_three_digits_gives_both_candidates() -> None:
    candidates = wm.read_quantity("69,995 N", asked="kN").candidates
    assert sorted(c.to("newton").magnitude for c in candidates) == pytest.approx([69.995, 69995])


def test_what_the_package_offers_can_be_imported_by_name() -> None:
    assert all(getattr(wm, name) is not None for name in wm.__all__)
    with pytest.raises(AttributeError, match="no attribute 'nothing'"):
        wm.nothing  # noqa: B018


def test_the_ends_of_what_is_accepted_are_explained_as_data_and_in_sentences() -> None:
    v = DRAIN_HOLE.variant(tau="300 MPa", d="20 mm", t="5 mm")
    explained = v.explains("a")
    low, high = v.accepts["a"]
    assert explained.low.quantity.to("newton").magnitude == pytest.approx(low.to("newton").magnitude)
    assert explained.high.quantity.to("newton").magnitude == pytest.approx(high.to("newton").magnitude)
    assert [(use.name, use.value) for use in explained.low.steps[0].uses] == [("pi", 3.14)]
    assert "3.14" in explained.low.sentences[0]
    assert "22/7" in explained.high.sentences[0]
