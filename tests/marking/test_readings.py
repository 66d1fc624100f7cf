"""A value read from a figure: what its division allows, misreadings by name, carried on; singly and by columns."""

from dataclasses import replace
from decimal import Decimal

import pandas as pd
import pytest

import witnessmark as wm
from bank_fixture import BANK
from witnessmark.maths.quantities import from_si
from witnessmark.questions.drawing.draw import draw_all
from witnessmark.questions.model.division import Division
from witnessmark.questions.model.fingerprint import fingerprint_of
from witnessmark.questions.model.parts import QuantityPart
from witnessmark.questions.sheet.variant import Variant

D = Decimal
READ = [key for key, q in BANK.items() if any(isinstance(p, QuantityPart) and p.division for p in q.parts)]
GIVEN = {
    "shaft-by-vernier": {"m": 23.0, "n": 7.0, "v": 0.05},
    "sheet-by-micrometer": {"m": 4.0, "n": 28.0, "v": 0.01},
    "pin-by-micrometer": {"m": 12.0, "h": 0.5, "n": 16.0, "v": 0.01, "z": 0.04, "d_min": 12.6},
    "rudder-rise": {"m": 4.0, "n": 31.0, "v": 0.01, "s_max": 4.5},
    "bore-by-vernier": {"m": 23.0, "n": 7.0, "v": 0.05, "z": 0.25},
    "blank-under-pressure": {"w": 6.0, "n": 3.5, "v": 0.2, "d": 40.0, "F_max": 1.0},
    "strength-from-a-graph": {
        "w": 40.0, "n": 3.5, "v": 2.0, "F_b": 38.0, "F_e": 30.0, "x": 16.0, "S_0": 100.0, "S": 200.0, "k": 4.0,
    },
}  # fmt: skip
"""Worked by hand: the shaft 23 + 7*0.05 = 23.35 mm, the bore 0.25 mm less; the plate 4 + 0.28 mm; the pin 12 + 0.5 +
0.16 = 12.66 mm, 12.62 mm without the 0.04 mm; the rudder 4.31 mm; the gauge 6 + 3.5*0.2 = 6.7 bar, 0.842 kN on 40 mm;
the graph 40 + 3.5*2 = 47 kN, 470 MPa on 100 mm²."""

CASES = [
    ("shaft-by-vernier", "a", "23.35 mm", "2", "right", ""),
    ("shaft-by-vernier", "a", "23.3 mm", "2", "right", ""),  # the line beside it looks as good
    ("shaft-by-vernier", "a", "23.40 mm", "2", "right", ""),
    ("shaft-by-vernier", "a", "2.335 cm", "2", "right", ""),
    ("shaft-by-vernier", "a", "23.35", "1.5", "unit", ""),
    ("shaft-by-vernier", "a", "23.7 mm", "1", "slip", "division-taken-for-a-tenth"),
    ("shaft-by-vernier", "a", "23 mm", "0.5", "slip", "fine-scale-not-read"),
    ("shaft-by-vernier", "a", "30 mm", "0.5", "slip", "beam-read-where-lines-meet"),
    ("sheet-by-micrometer", "a", "4.28 mm", "2", "right", ""),
    ("sheet-by-micrometer", "a", "8.28 mm", "1", "slip", "half-lines-counted-as-whole"),
    ("sheet-by-micrometer", "a", "6.8 mm", "1", "slip", "division-taken-for-a-tenth"),
    ("pin-by-micrometer", "a", "12.66 mm", "2", "right", ""),
    ("pin-by-micrometer", "a", "12.664 mm", "2", "right", ""),  # within half a division
    ("pin-by-micrometer", "a", "12.16 mm", "1", "slip", "half-millimetre-missed"),
    ("pin-by-micrometer", "a", "25.16 mm", "1", "slip", "half-lines-counted-as-whole"),
    ("pin-by-micrometer", "b", "12.62 mm", "1", "right", ""),
    ("pin-by-micrometer", "b", "12.70 mm", "0.5", "slip", "zero-error-with-the-wrong-sign"),
    ("pin-by-micrometer", "b", "12.66 mm", "0", "slip", "zero-error-left-out"),
    ("pin-by-micrometer", "b", "12.58 mm", "0.5", "slip", "zero-error-for-each-jaw"),
    ("rudder-rise", "a", "4.31 mm", "2", "right", ""),
    ("rudder-rise", "a", "0.31 mm", "1", "slip", "turns-not-counted"),
    ("rudder-rise", "a", "7.1 mm", "1", "slip", "division-taken-for-a-tenth"),
    ("rudder-rise", "a", "5.31 mm", "1", "slip", "next-number-for-the-one-passed"),
    ("rudder-rise", "b", "yes", "1", "right", ""),
    ("bore-by-vernier", "a", "23.35 mm", "2", "right", ""),
    ("bore-by-vernier", "a", "30 mm", "0.5", "slip", "beam-read-where-lines-meet"),
    ("bore-by-vernier", "b", "23.10 mm", "1", "right", ""),
    ("bore-by-vernier", "b", "23.60 mm", "0.5", "slip", "zero-error-with-the-wrong-sign"),
    ("blank-under-pressure", "a", "6.7 bar", "1", "right", ""),
    ("blank-under-pressure", "a", "6.8 bar", "1", "right", ""),  # half a division
    ("blank-under-pressure", "a", "97 bar", "0", "slip", "other-scale-read"),
    ("blank-under-pressure", "a", "97 psi", "1", "right", ""),
    ("blank-under-pressure", "a", "6.35 bar", "0.5", "slip", "division-taken-for-a-tenth"),
    ("blank-under-pressure", "b", "0.842 kN", "2", "right", ""),
    ("strength-from-a-graph", "a", "47 kN", "1", "right", ""),
    ("strength-from-a-graph", "a", "46 kN", "1", "right", ""),
    ("strength-from-a-graph", "a", "38 kN", "0.5", "slip", "last-force-for-the-greatest"),
    ("strength-from-a-graph", "a", "30 kN", "0.5", "slip", "yield-for-the-greatest"),
    ("strength-from-a-graph", "b", "470 MPa", "2", "right", ""),
]  # fmt: skip


def stated(key: str) -> Variant:
    return BANK[key].variant(**GIVEN[key])


@pytest.mark.parametrize(("key", "part", "entry", "marks", "verdict", "who"), CASES)
def test_a_reading_is_right_within_its_division_and_a_misreading_has_its_name(
    key: str, part: str, entry: str, marks: str, verdict: str, who: str
) -> None:
    out = wm.mark(stated(key), {part: entry})[part]
    assert (out.verdict, out.marks, "+".join(out.misconceptions)) == (verdict, D(marks), who), out.because


@pytest.mark.parametrize("key", READ)
def test_readings_are_marked_by_columns_as_each_alone(key: str) -> None:
    cases = [case for case in CASES if case[0] == key]
    blank = {part.key: "" for part in BANK[key].parts}
    table = wm.mark_table(BANK[key], pd.DataFrame([{**GIVEN[key], **blank, c[1]: c[2]} for c in cases]))
    for row, (_, part, entry, *_) in zip(table.to_dict("records"), cases, strict=True):
        out = wm.mark(stated(key), {part: entry})[part]
        alone = (float(out.marks), str(out.verdict), "+".join(out.misconceptions))
        assert (row[f"{part}.marks"], row[f"{part}.verdict"], row[f"{part}.misconceptions"]) == alone


@pytest.mark.parametrize("key", READ)
def test_every_misreading_that_is_modelled_is_named_when_it_is_typed(key: str) -> None:
    for variant in draw_all(BANK[key], {"1": "misread 1", "2": "misread 2"}, frozenset()).values():
        for part, slips in variant.slips.items():
            for misconception, value in slips.items():
                if not isinstance(value, float):
                    out = wm.mark(variant, {part: f"{value:.5g~}"})[part]
                    assert (out.verdict, misconception in out.misconceptions) == ("slip", True), (value, out.because)


def test_beyond_its_division_a_reading_is_not_right() -> None:
    for entry in ("23.24 mm", "23.46 mm"):
        assert wm.mark(stated("shaft-by-vernier"), {"a": entry})["a"].verdict != "right"
    variant = stated("pin-by-micrometer")
    assert variant.accepts["a"][0].magnitude == pytest.approx(12.655, abs=1e-6)
    assert wm.mark(variant, {"a": "12.68 mm"})["a"].verdict != "right"


def test_one_line_beside_the_right_one_carries_on() -> None:
    out = wm.mark(stated("bore-by-vernier"), {"a": "23.40 mm", "b": "23.15 mm"})
    assert [out[part].verdict for part in "ab"] == ["right", "right"]
    wrong = wm.mark(stated("bore-by-vernier"), {"a": "23.7 mm", "b": "23.45 mm"})
    assert [str(wrong[part].verdict) for part in "ab"] == ["slip", "carried forward"]
    assert [wrong[part].marks for part in "ab"] == [D(1), D(1)]


def test_the_envelope_says_that_its_scale_makes_the_room() -> None:
    said = stated("shaft-by-vernier").explains("a").high.sentences
    assert "read from its scale it may be 0.05\u00a0mm off, up to 23.4\u00a0mm" in said[0]


def test_the_room_of_a_reading_goes_into_what_is_carried() -> None:
    low, high = stated("bore-by-vernier").accepts["b"]
    assert float((high - low).to("mm").magnitude) == pytest.approx(0.11, abs=1e-6)  # 2*(0.05 + half of 0.01)


def test_the_division_belongs_to_what_a_question_draws() -> None:
    question = BANK["shaft-by-vernier"]
    part = question.quantity("a")
    finer = replace(question, parts=(replace(part, division=Division(D("0.02"), D(1))), *question.parts[1:]))
    assert fingerprint_of(finer) != fingerprint_of(question)
    assert finer.variant(**GIVEN["shaft-by-vernier"]).accepts["a"][1].magnitude == pytest.approx(23.37, abs=1e-6)


@pytest.mark.parametrize(("size", "share"), [("0", "0.5"), ("-1", "1"), ("0.1", "0.3"), ("nan", "1")])
def test_a_division_is_more_than_nothing_and_read_to_half_or_to_one(size: str, share: str) -> None:
    with pytest.raises(ValueError, match="division"):
        Division(D(size), D(share))


def test_the_accepted_ends_of_a_gauge_are_half_a_division_off() -> None:
    variant = stated("blank-under-pressure")
    assert [from_si(float(end.to("Pa").magnitude), "bar") for end in variant.accepts["a"]] == pytest.approx([6.6, 6.8])
