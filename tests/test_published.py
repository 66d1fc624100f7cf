"""The main job, through the public API, against figures from outside: tests/cases/published.csv names each source."""

import re
from collections import Counter
from decimal import Decimal

import pandas as pd
import pytest

import witnessmark as wm
from bank_fixture import BANK
from published_rows import PUBLISHED, SLIPPED, Published, Slipped, si_of, tally, variant
from witnessmark.maths.quantities import from_si


@pytest.mark.parametrize("row", PUBLISHED, ids=str)
def test_the_expected_value_rounds_to_the_printed_figure_unless_the_row_says_that_it_differs(row: Published) -> None:
    expected = si_of(row.variant.expected[row.key])
    printed, half_a_unit = row.si
    agrees = abs(expected - printed) <= half_a_unit * (1 + 1e-9)
    assert agrees == (row.agrees == "yes"), f"{expected:.8g} is expected, {printed:.8g} ± {half_a_unit:.2g} is printed"


@pytest.mark.parametrize("row", PUBLISHED, ids=str)
def test_the_published_figure_typed_by_a_student_gets_its_verdict_and_all_marks_when_right(row: Published) -> None:
    rules = wm.Rules(figures=min(3, int(row.digits)))
    outcome = wm.mark(row.variant, {row.key: row.typed}, rules)[row.key]
    assert row.verdict in (outcome.verdict, "not right"), outcome.because
    assert (outcome.marks == outcome.out_of) == (row.verdict == "right")


def by_givens() -> list[list[Published]]:
    """Rows that fit into one table: the same question and place, and the same names of givens; two rows or more."""
    groups: dict[tuple[str, str, tuple[str, ...]], list[Published]] = {}
    for row in PUBLISHED:
        groups.setdefault((row.question, row.key, tuple(sorted(row.variant.given))), []).append(row)
    return [group for group in groups.values() if len(group) > 1]


@pytest.mark.parametrize("group", by_givens(), ids=lambda group: f"{group[0].question} {group[0].key}")
def test_a_table_of_published_figures_is_marked_as_each_of_them_alone(group: list[Published]) -> None:
    question, key = BANK[group[0].question], group[0].key
    units = {given.name: given.unit for given in question.givens}
    units |= {f"{row.name}.{c}": u for row in question.rows for c, u in question.tables[row.table].units.items()}
    columns: dict[str, list[float | str]] = {
        name: [from_si(row.variant.values[name], units[name]) for row in group] for name in group[0].variant.given
    }
    table = wm.mark_table(question, pd.DataFrame(columns | {key: [row.typed for row in group]}))
    for row, verdict, marks in zip(group, table[f"{key}.verdict"], table[f"{key}.marks"], strict=True):
        alone = wm.mark(row.variant, {key: row.typed})[key]
        assert (verdict, marks) == (alone.verdict, float(alone.marks)), row


def test_every_row_has_a_source_a_status_and_a_reason_where_it_differs() -> None:
    known = (
        "confirmed in the source",
        "confirmed in a secondary source",
        "reference library run",
        "from memory",
        "givens confirmed, answer from memory",
    )
    for row in PUBLISHED:
        assert row.source
        assert row.status in known, row.status
        assert row.agrees == "yes" or row.note, f"{row}: say why it differs"
        assert row.agrees in ("yes", "differs")


def test_every_topic_of_the_bank_has_published_figures_most_of_them_seen_in_a_source() -> None:
    rows, sources, per_topic = tally()
    assert {topic: per_topic[topic] for topic in BANK.topics() if per_topic[topic] < 5} == {}
    assert rows >= 400
    assert sources >= 200
    seen = [row for row in PUBLISHED if row.status.startswith("confirmed")]
    assert len(seen) > 0.75 * rows


def test_no_row_stands_twice() -> None:
    counts = Counter((row.question, row.given, row.key, row.printed, row.source) for row in PUBLISHED)
    assert [key for key, count in counts.items() if count > 1] == []


@pytest.mark.parametrize("row", SLIPPED, ids=str)
def test_a_wrong_method_on_published_givens_is_named_and_never_gets_full_marks(row: Slipped) -> None:
    outcome = wm.mark(variant(row.question, row.given), {row.key: row.entry})[row.key]
    assert (outcome.verdict, outcome.misconceptions) == ("slip", (row.misconception,)), outcome.because
    assert outcome.marks < outcome.out_of


# Common practice, no source: a plate of 222.8 MPa and a round hole as wide as the plate is thick. The punch then bears
# four times the shear strength: pi d t tau / (pi d²/4) = 4 tau t/d.
ROUND_HOLE = "tau=222.8 MPa; d=10 mm; t=10 mm"


@pytest.mark.parametrize("entry", ["70 kN", "69.99 kN", "69 995 N", "7.14 tf", "7140 kgf"])
def test_a_hole_as_wide_as_the_plate_is_thick_takes_about_seven_tonnes_of_force(entry: str) -> None:
    outcome = wm.mark(variant("drain-hole", ROUND_HOLE), {"a": entry})["a"]
    assert (outcome.verdict, outcome.marks) == ("right", outcome.out_of), outcome.because


def test_about_seven_tonnes_of_force_is_right_where_one_figure_is_asked() -> None:
    outcome = wm.mark(variant("drain-hole", ROUND_HOLE), {"a": "7 tf"}, wm.Rules(figures=1))["a"]
    assert (outcome.verdict, outcome.marks) == ("right", outcome.out_of), outcome.because


@pytest.mark.parametrize("entry", ["7.14 t", "7140 kg", "7.87 short tons", "7.03 long tons"])
def test_the_mass_that_weighs_as_much_is_a_fault_of_the_unit(entry: str) -> None:
    outcome = wm.mark(variant("drain-hole", ROUND_HOLE), {"a": entry})["a"]
    assert outcome.verdict == "unit", outcome.because
    assert 0 < outcome.marks < outcome.out_of


def test_who_took_ten_for_g_is_not_told_that_g_was_left_out() -> None:
    # NCERT, Physics for class XI, example (submarine), prints 103E5 Pa for 1030 kg/m³ and 1000 m with g = 10 m/s².
    port = variant("viewing-port", "rho=1.03e3 kg/m^3; h=1000 m; d=22.567583 cm; p_a=101 kPa")
    assert "g-left-out" not in wm.mark(port, {"a": "103E5 Pa"})["a"].misconceptions


def test_its_punch_bears_four_times_the_shear_strength_of_the_plate() -> None:
    hole = variant("drain-hole", ROUND_HOLE)
    assert float((hole.expected["b"] / hole.given["tau"]).to("").magnitude) == pytest.approx(4, rel=1e-12)
    outcome = wm.mark(hole, {"b": "891.2 MPa"})["b"]
    assert (outcome.verdict, outcome.marks) == ("right", Decimal(2))


def test_there_the_face_of_the_punch_for_the_sheared_edge_gives_a_quarter_of_the_force() -> None:
    hole = variant("drain-hole", ROUND_HOLE)
    face = hole.slips["a"]["face-area-for-sheared-edge"]
    assert float((hole.expected["a"] / face).to("").magnitude) == pytest.approx(4, rel=1e-12)


def test_where_both_areas_are_the_same_number_the_entry_is_right() -> None:
    outcome = wm.mark(variant("drain-hole", "tau=350 MPa; d=20 mm; t=5 mm"), {"a": "109.96 kN"})["a"]
    assert (outcome.verdict, outcome.misconceptions, outcome.marks) == ("right", (), outcome.out_of)


def test_neither_hole_is_ever_drawn_though_both_may_be_marked() -> None:
    drawn = [BANK["drain-hole"].draw(f"hole {i}") for i in range(200)]
    ratios = [float((v.given["d"] / v.given["t"]).to("").magnitude) for v in drawn]
    assert min(ratios) > 1  # `keep`
    assert all(abs(ratio - 4) > 0.01 for ratio in ratios)  # else pi d t = pi d²/4, and two methods give one number


@pytest.mark.parametrize("row", [*PUBLISHED, *SLIPPED], ids=str)
def test_a_source_that_nobody_can_find_again_says_so(row: Published | Slipped) -> None:
    """What names neither book, standard, program nor host: a forum, a page, a table of something."""
    nameless = re.search(r"^(givens: )?([a-z ]*(problem|item|forum)|gas cylinder|capstan)", row.source)
    host = re.search(r"\w\.(ca|com|in|net)\b", row.source)
    assert ("cannot be found again" in row.source) == (nameless is not None and host is None), row.source
