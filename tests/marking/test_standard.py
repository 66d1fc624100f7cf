"""A size chosen from a table, judged on the student's own value: slips, other values, singly and by columns."""

import csv
from decimal import Decimal
from pathlib import Path

import pandas as pd
import pytest

import witnessmark as wm
from bank_fixture import BANK
from witnessmark.files.bank.question_text import question_from_text
from witnessmark.marking.kinds.dispatch import wrong_answers
from witnessmark.marking.outcome import Outcome
from witnessmark.questions.drawable import DrawableQuestion
from witnessmark.questions.drawing.draw import draw_all
from witnessmark.questions.model.kinds import standards_in
from witnessmark.questions.model.parts import StandardPart
from witnessmark.questions.model.question import Question, Table
from witnessmark.questions.sheet.right_texts import size_text
from witnessmark.questions.sheet.task import Rules
from witnessmark.questions.sheet.variant import Variant

D = Decimal
ASKED = [(question, part) for question in BANK.values() for part in standards_in(question.parts)]
CABLE = BANK["cable-size"]
VARIANT = CABLE.variant(P="260 W", U="12 V", L="7 m", k="3 percent", rho="0.0178 ohm*mm^2/m", A_s="16 mm^2")
"""By hand: 0.0178 Ω mm²/m x 2 x 7 m x 21.667 A / 0.36 V = 14.998 mm², so 16 mm² of the sizes of IEC 60228."""
FUSE = BANK["fuse-for-cable"].variant(I_f="34 A", c="80 percent")
"""By hand: 80 % of 34 A is 27.2 A; the largest fuse that is at most that has 25 A."""
TABLES = Path(__file__).parents[1] / "cases" / "published_sizes.csv"


def told(out: Outcome) -> tuple[str, str, str]:
    return str(out.marks), str(out.verdict), "+".join(out.misconceptions)


@pytest.mark.parametrize("entry", ["16", "16 mm²", "16mm2", "16 mm", "0.16 cm²", "cable 16 mm²"])
def test_the_right_size_earns_all_marks_however_it_is_typed(entry: str) -> None:
    assert told(wm.mark(VARIANT, {"b": "15.0 mm^2", "d": entry})["d"]) == ("1", "right", "")


WRONG = [
    ({"b": "15.0 mm²", "d": "10"}, "0", "slip", "nearest-size-taken", 0),
    ({"b": "15.0 mm²", "d": "25"}, "0.5", "slip", "one-size-more-than-enough", 0),
    ({"b": "15.0 mm²", "d": "15 mm²"}, "0", "slip", "any-size-can-be-had", 0),
    ({"b": "15.0 mm²", "d": "6"}, "0", "wrong", "", 0),
    ({"b": "15.0 mm²", "d": ""}, "0", "blank", "", 0),
    ({"b": "15.0 mm²", "d": "10 or 16"}, "0", "unreadable", "", 1),
    ({"b": "15.0 mm²", "d": "10 mm"}, "0", "slip", "nearest-size-taken", 1),
    ({"b": "15.0 mm²", "d": "16 mm"}, "1", "right", "", 0),
    ({"b": "7.50 mm²", "d": "10"}, "1", "carried forward", "", 0),
    ({"b": "7.50 mm²", "d": "6"}, "0", "slip", "nearest-size-taken", 0),
    ({"b": "7.50 mm²", "d": "16"}, "0", "wrong", "", 1),
    ({"b": "150 mm²", "d": "16"}, "1", "right", "", 0),
    ({"b": "150 mm²", "d": "50"}, "0", "wrong", "", 0),
    ({"b": "1.50 mm²", "d": "1.5"}, "1", "carried forward", "", 0),
    ({"b": "50.0 mm²", "d": "35"}, "0", "slip", "nearest-size-taken", 0),
    ({"b": "2345 mm²", "d": "50"}, "0", "wrong", "", 1),
    ({"b": "0.10 mm²", "d": "6"}, "0", "wrong", "", 0),
    ({"b": "6.02 mm²", "d": "6"}, "0", "slip", "nearest-size-taken", 0),
    ({"b": "6.0 mm²", "d": "6"}, "1", "carried forward", "", 0),
    ({"b": "6.0 mm²", "d": "10"}, "1", "carried forward", "", 0),
    ({"b": "4.0 mm²", "d": "2.5"}, "0", "slip", "nearest-size-taken", 0),
    ({"b": "4.0 mm²", "d": "10"}, "0.5", "slip", "one-size-more-than-enough", 0),
    ({"d": "4"}, "0.5", "slip", "cables-side-by-side", 0),
    ({"d": "10"}, "0.5", "slip", "one-way-cable+nearest-size-taken", 1),
    ({"d": "16"}, "1", "right", "", 0),
]  # fmt: skip


@pytest.mark.parametrize(("entries", "marks", "verdict", "who", "waits"), WRONG)
def test_a_size_is_judged_on_the_own_value(
    entries: dict[str, str], marks: str, verdict: str, who: str, waits: int
) -> None:
    out = wm.mark(VARIANT, entries)["d"]
    assert told(out) == (marks, verdict, who), out.because
    assert len(out.in_tray) == waits
    assert out.raw == entries["d"]


@pytest.mark.parametrize(("entries", "said"), [
    ({"d": "25"}, "16 mm² is the smallest size listed that is at least 15 mm²; 25 mm² is at least that as well."),
    ({"b": "6.0 mm²", "d": "6"}, "6 mm² is the smallest size listed that is at least your 6 mm²."),
    ({"b": "6.0 mm²", "d": "10"}, "10 mm² is the smallest size listed that is at least your 6 mm²."),
    ({"b": "2345 mm²", "d": "6"}, "The table has no size that is at least your 2345 mm²."),
    ({"b": "1.50 mm²", "d": "1.5"}, "1.5 mm² follows from your own number as you wrote it."),
])  # fmt: skip
def test_the_table_is_read_aloud_at_the_value_that_counts(entries: dict[str, str], said: str) -> None:
    """By hand 14.998 mm²; 6.0 is 5.95 to 6.05, which asks for 6 or 10."""
    assert wm.mark(VARIANT, entries)["d"].because.replace("\N{NO-BREAK SPACE}", " ") == said


def test_what_is_said_stands_in_the_students_own_numbers() -> None:
    out = wm.mark(VARIANT, {"b": "7.50 mm²", "d": "6"})["d"]
    said = out.because.replace("\N{NO-BREAK SPACE}", " ")
    assert said == "10 mm² is the smallest size listed that is at least your 7.5 mm²; 6 mm² is not."
    out = wm.mark(VARIANT, {"b": "7.50 mm²", "d": "25"})["d"]
    assert out.because.endswith("; 25 mm² is at least that as well.")
    nothing: dict[str, str] = {}
    for earlier in (nothing, {"a": "20.0 A"}):  # of the current the table is not asked
        assert "your" not in wm.mark(VARIANT, {**earlier, "d": "25"})["d"].because
    out = wm.mark(VARIANT, {"b": "0.10 mm²", "d": "6"})["d"]
    assert "is the smallest size listed that is at least your 0.1" in out.because.replace("\N{NO-BREAK SPACE}", " ")


@pytest.mark.parametrize(("entry", "marks", "who"), [
    ("25 A", "1", ""), ("30", "0", "nearest-size-taken"), ("20 A", "0.5", "weaker-fuse-is-better"),
    ("27.2 A", "0", "any-size-can-be-had"), ("40", "0", ""),
])  # fmt: skip
def test_the_largest_size_at_most_is_chosen_where_that_is_asked(entry: str, marks: str, who: str) -> None:
    out = wm.mark(FUSE, {"a": "27.2 A", "b": entry})["b"]
    assert (str(out.marks), "+".join(out.misconceptions)) == (marks, who), out.because


def test_of_a_value_without_an_earlier_part_its_own_formula_chooses_and_a_slip_of_it_is_named() -> None:
    pins = own_formula()
    variant = pins.variant(D="10 mm")
    assert told(wm.mark(variant, {"a": "11 mm"})["a"]) == ("1", "right", "")
    assert told(wm.mark(variant, {"a": "18"})["a"]) == ("0.5", "slip", "diameter-for-radius")


def own_formula() -> DrawableQuestion:
    """10 mm asks for 10.5 mm, which is the pin of 11 mm; half as much again is 15 mm, which is that of 18 mm."""
    rows: dict[str, dict[str, Decimal | str]] = {f"{d} mm": {"thickness": D(d)} for d in (9, 11, 14, 18)}
    table = Table("pins", "invented for a test", {"thickness": "mm"}, rows)
    found, problems = question_from_text(PINS, "pins.yaml", {"pins": table})
    assert problems == ()
    assert found is not None
    return found


PINS = """question: pins
title: Pins
topic: shear
level: 1
setting: A pin of {D} is worn.
given:
  D: {is: pin diameter, unit: mm, one of: [10, 12, 13]}
find:
  a:
    ask: The new one is at least a twentieth thicker. Which is taken?
    is: new pin
    standard: pins
    column: thickness
    choose: at least
    value: 1.05*D
    marks: 1
    slips:
      - {misconception: diameter-for-radius, value: 1.5*D, keeps: 0.5}
"""


def test_a_table_is_marked_as_each_row_is_alone() -> None:
    given = {name: float(shown.number) for name, shown in VARIANT.shown.items()}
    frame = pd.DataFrame([{**given, "a": "", "b": "", "c": "", "d": "", **entries} for entries, *_ in WRONG])
    table = wm.mark_table(CABLE, frame)
    for row, (entries, *_) in zip(table.to_dict("records"), WRONG, strict=True):
        out = wm.mark(VARIANT, entries)["d"]
        alone = (float(out.marks), str(out.verdict), "+".join(out.misconceptions))
        assert (row["d.marks"], row["d.verdict"], row["d.misconceptions"]) == alone, entries
        assert row["d.sure"] == pytest.approx(out.sure, abs=1e-12)


def drawn(question: Question) -> list[Variant]:
    return list(draw_all(question, {str(n): f"sizes|{n}" for n in range(4)}, frozenset()).values())


@pytest.mark.parametrize(("question", "part"), ASKED, ids=lambda one: one.key)
def test_every_modelled_wrong_size_is_named_and_the_right_one_earns_all(question: Question, part: StandardPart) -> None:
    seen: set[str] = set()
    for variant in drawn(question):
        assert wm.mark(variant, {part.key: size_text(variant, part)})[part.key].marks == part.marks
        for who, text in wrong_answers(variant, part, Rules()):
            out = wm.mark(variant, {part.key: text})[part.key]
            assert (out.verdict, set(who) <= set(out.misconceptions)) == ("slip", True), (text, out)
            assert out.marks < part.marks
            seen |= set(who)
    assert len(seen) > len(part.slips), "slips of the parts before show through the table"


@pytest.mark.parametrize(("question", "part"), ASKED, ids=lambda one: one.key)
def test_no_size_is_right_for_more_than_half_of_a_class(question: Question, part: StandardPart) -> None:
    seeds = {str(n): f"spread|{n}" for n in range(40)}
    chosen = [size_text(variant, part) for variant in draw_all(question, seeds, frozenset()).values()]
    assert max(map(chosen.count, chosen)) <= len(chosen) / 2
    assert "" not in chosen


@pytest.mark.parametrize("half_marks", [True, False])
def test_marks_come_in_the_steps_of_the_task(half_marks: bool) -> None:
    marks = wm.mark(VARIANT, {"d": "4"}, Rules(half_marks=half_marks))["d"].marks
    assert marks == (D("0.5") if half_marks else 0)


with TABLES.open(encoding="utf-8", newline="") as file:
    PRINTED = list(csv.DictReader(line for line in file if not line.startswith("#")))


@pytest.mark.parametrize("row", PRINTED, ids=lambda row: f"{row['table']} {row['name']}")
def test_the_tables_of_sizes_hold_what_standards_print(row: dict[str, str]) -> None:
    assert BANK.tables[row["table"]].rows[row["name"]][row["column"]] == D(row["value"])


def test_breaking_forces_of_ropes_follow_from_their_diameter() -> None:
    """EN 12385-4: least breaking force = 0.330 d² R/1000 in kN, R = 1770 N/mm² (the factor of the 6x19 class with fibre
    core from memory), to three figures."""
    for name, cells in BANK.tables["wire-ropes"].rows.items():
        d = float(name.removesuffix(" mm"))
        assert float(cells["breaking_force"]) == float(f"{0.330 * d**2 * 1770 / 1000:.3g}"), name
