"""From the text of a question to its value: the design's example, fingerprints, bundles, and texts that are cut up."""

import json
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bank_cases import SMALL_BANK
from searching import examples
from witnessmark.files.bank.folder import load_bank
from witnessmark.files.bank.misconceptions_text import misconceptions_from_text
from witnessmark.files.bank.question_text import Known, question_from_bundle, question_from_text
from witnessmark.files.bank.tables_text import table_from_text
from witnessmark.maths.syntax import parse
from witnessmark.questions.drawable import DrawableQuestion
from witnessmark.questions.model.fingerprint import marked_alike
from witnessmark.questions.model.kinds import slips_of
from witnessmark.questions.model.parts import (
    ChoicePart,
    ExpressionPart,
    HandPart,
    JudgePart,
    Kind,
    LimitsPart,
    MatchPart,
    OrderPart,
    PointsPart,
    QuantityPart,
    SeveralPart,
)
from witnessmark.questions.model.question import Misconception, Table
from witnessmark.questions.model.slips import PairSlip, SetSlip
from witnessmark.words.errors import ProblemsFound


def _read(name: str) -> str:
    return (SMALL_BANK / name).read_text(encoding="utf-8")


DRAIN_HOLE = _read("shear/drain-hole.yaml")
CUT_EDGE = _read("words/cut-edge.yaml")


def _tables(sheet_metals: str = _read("tables/sheet-metals.yaml")) -> dict[str, Table]:
    texts = {"sheet-metals": sheet_metals, "tool-steels": _read("tables/tool-steels.yaml")}
    tables = {key: table_from_text(text, f"{key}.yaml", key)[0] for key, text in texts.items()}
    return {key: table for key, table in tables.items() if table is not None}


def _misconceptions() -> dict[str, Misconception]:
    return dict(misconceptions_from_text(_read("misconceptions.yaml"), "misconceptions.yaml")[0])


def _question(text: str = DRAIN_HOLE, tables: dict[str, Table] | None = None) -> DrawableQuestion:
    question, problems = question_from_text(text, "q.yaml", tables or _tables(), Known(_misconceptions()))
    assert problems == ()
    assert question is not None
    return question


def test_the_example_of_the_design_has_its_values() -> None:
    question = _question()
    a, b, c = question.parts
    assert [part.kind for part in question.parts] == [Kind.QUANTITY, Kind.QUANTITY, Kind.JUDGE]
    assert isinstance(a, QuantityPart)
    assert isinstance(b, QuantityPart)
    assert isinstance(c, JudgePart)
    assert (a.answer, a.lines[0].value, a.lines[0].marks) == (parse("tau*A_s"), parse("pi*d*t"), Decimal(1))
    assert [(s.misconception, s.keeps) for s in a.slips] == [
        ("face-area-for-sheared-edge", Decimal(1)), ("radius-for-diameter", Decimal(2)),
    ]  # fmt: skip
    assert b.carries == ("a",)
    assert (c.carries, c.judge) == (("b",), parse("sigma < punch.compressive_strength"))
    tau, d, t = question.givens
    assert (tau.unit, tau.symbol, tau.value) == ("MPa", "τ", parse("material.shear_strength"))
    assert (d.one_of, d.span) == (tuple(Decimal(n) for n in (10, 12, 16, 20, 25)), None)
    assert t.span == (Decimal(1), Decimal(8), Decimal("0.5"))
    assert [row.table for row in question.rows] == ["sheet-metals", "tool-steels"]
    assert set(question.misconceptions) == {s.misconception for part in question.parts for s in slips_of(part)}


def test_every_kind_of_find_has_its_values() -> None:
    parts = _question(CUT_EDGE).parts
    assert [part.kind for part in parts] == [
        Kind.EXPRESSION, Kind.CHOICE, Kind.ORDER, Kind.POINTS, Kind.HAND, Kind.QUANTITY, Kind.SEVERAL,
        Kind.LIMITS, Kind.MATCH,
    ]  # fmt: skip
    formula, choice, order, points, hand, quantity, several, limits, match = parts
    assert isinstance(formula, ExpressionPart)
    assert formula.answer == parse("4*3*t*t")
    assert isinstance(choice, ChoicePart)
    assert [option.right for option in choice.options] == [True, False, False]
    assert isinstance(order, OrderPart)
    assert order.steps[0] == "clamp the plate"
    assert isinstance(points, PointsPart)
    assert (points.needed, points.points[0].wordings) == (2, ("a high burr", "burr"))
    assert isinstance(hand, HandPart)
    assert (hand.marks, hand.criteria[1]) == (Decimal("1.5"), ("The torn part is marked.", Decimal("0.5")))
    assert isinstance(quantity, QuantityPart)
    assert (quantity.tolerance, quantity.figures) == (Decimal("0.02"), 2)
    assert isinstance(several, SeveralPart)
    assert [option.right for option in several.options] == [True, True, True, False, False]
    assert several.slips == (SetSlip("radius-for-diameter", ("a bright band", "a saw mark")),)
    assert isinstance(limits, LimitsPart)
    assert [side.answer for side in limits.sides] == [parse("1.1*t"), parse("0.9*t")]
    assert [slip.answer for slip in limits.largest.slips] == [parse("1.3*t"), parse("2*(1.1*t)")]
    assert [slip.keeps for side in limits.sides for slip in side.slips] == [Decimal("0.5"), 0, Decimal("0.5")]
    assert isinstance(match, MatchPart)
    assert match.pairs == (("a bright band", "the shear"), ("a torn part", "the break"))
    assert (match.spare, match.in_figure) == (("the file",), False)
    assert match.slips == (PairSlip("face-area-for-sheared-edge", "a bright band", "the break"),)


def test_a_given_without_words_is_worked_out_and_not_told() -> None:
    band = _question(CUT_EDGE).givens[1]
    assert (band.is_, band.unit, band.value) == ("", "mm", parse("t/3"))


def test_a_line_or_result_in_its_own_slip_stands_for_the_right_value() -> None:
    text = DRAIN_HOLE.replace("answer: tau*pi*(d/2)*t", "line: A_s, answer: A_s/2")
    text = text.replace("answer: F/(pi*d*t)", "answer: 2*sigma")
    question = _question(text)
    assert question.quantity("a").slips[1].answer == parse("pi*d*t/2")
    assert question.quantity("b").slips[0].answer == parse("2*(F/A_p)")


def test_a_condition_on_results_is_kept_as_one_on_givens() -> None:
    question = _question(DRAIN_HOLE.replace("  - t < d", "  - sigma < punch.compressive_strength"))
    assert question.keep == (parse("tau*(pi*d*t)/(pi*d**2/4) < punch.compressive_strength"),)


@pytest.mark.parametrize(
    ("text", "tree"),
    [
        ("t < 8 mm", "t < 0.008"),
        ("F >= 12.5 kN", "tau*(pi*d*t) >= 12500"),
        ("tau > 300 N/mm^2", "tau > 300000000"),
        ("t/d < 2", "t/d < 2"),
        ("t/d <= 20 percent", "t/d <= 0.2"),
    ],
)
def test_a_condition_may_name_a_unit(text: str, tree: str) -> None:
    assert _question(DRAIN_HOLE.replace("  - t < d", f"  - {text}")).keep == (parse(tree),)


SAME = [
    ("a comment", "level: 2\n", "level: 2   # one step\n"),
    ("the title", "title: Punching a drain hole", "title: A drain hole"),
    ("the setting", "in one stroke", "with one stroke"),
    ("the caution", "A press closes", "Presses close"),
    ("an ask", "Find the force needed", "Work out the force needed"),
    ("marks", "marks: 3", "marks: 4"),
    ("what a slip keeps", "t, keeps: 2", "t, keeps: 1"),
    ("the misconception of a slip", "misconception: radius-for-diameter", "misconception: sheared-edge-for-face-area"),
    ("the words of a given", "is: hole diameter", "is: diameter"),
    ("the printed symbol of a given", "symbol: τ", "symbol: T"),
    ("the figure", "figure: round-hole-in-plate", "figure: other"),
]
OTHER = [
    ("a value", "20, 25]", "20, 24]"),
    ("the order of values", "20, 25]", "25, 20]"),
    ("a range", "to: 8", "to: 9"),
    ("a step", "step: 0.5", "step: 1"),
    ("a condition", "- t < d", "- 2*t < d"),
    ("an answer", "answer: tau*A_s\n", "answer: tau*A_s*1.1\n"),
    ("a line", "value: pi*d*t", "value: 3*d*t"),
    ("a unit", "unit: kN", "unit: N"),
    ("a slip", "tau*pi*(d/2)*t", "tau*pi*(d/3)*t"),
    ("a rows' choice", "{row of: sheet-metals}", "{row of: sheet-metals, rows: [mild steel]}"),
    ("a judgement", "judge: sigma <", "judge: sigma <="),
    ("a tolerance", "answer: tau*A_s\n", "answer: tau*A_s\n    tolerance: 1 %\n"),
]


@pytest.mark.parametrize(("old", "new"), [c[1:] for c in SAME], ids=[c[0] for c in SAME])
def test_wording_and_marks_leave_the_fingerprint_and_the_draw_alone(old: str, new: str) -> None:
    first, second = _question(), _question(DRAIN_HOLE.replace(old, new))
    assert old in DRAIN_HOLE
    assert second.source != first.source
    assert second.fingerprint == first.fingerprint
    assert second.draw("seed").shown == first.draw("seed").shown


@pytest.mark.parametrize(("old", "new"), [c[1:] for c in OTHER], ids=[c[0] for c in OTHER])
def test_whatever_shapes_variants_changes_the_fingerprint(old: str, new: str) -> None:
    assert old in DRAIN_HOLE
    assert _question(DRAIN_HOLE.replace(old, new)).fingerprint != _question().fingerprint


@pytest.mark.parametrize(
    ("old", "new", "is_same"),
    [
        ("shear_strength: 300", "shear_strength: 310", False),
        ("{name: mild steel", "{name: soft steel", False),
        ("finish: pickled", "finish: rolled", True),
        ("finish: text}", "finish: text, density: kg/m^3}", True),
        ("source: invented", "source: also invented", True),
    ],
)
def test_only_rows_and_cells_that_are_used_change_the_fingerprint(old: str, new: str, is_same: bool) -> None:
    text = _read("tables/sheet-metals.yaml")
    assert old in text
    changed = _question(tables=_tables(text.replace(old, new)))
    assert (changed.fingerprint == _question().fingerprint) == is_same


def test_the_fingerprint_of_the_example_is_the_same_for_years() -> None:
    """Written down when it was first computed: a change means that every class would draw other numbers."""
    assert _question().fingerprint == "4543f48faea1acf1867631e800019a00d84004c2291e3cd468949328a5e1e35b"


@pytest.mark.parametrize("text", [DRAIN_HOLE, CUT_EDGE], ids=["drain-hole", "cut-edge"])
def test_a_question_is_rebuilt_from_its_bundle_without_the_bank(text: str) -> None:
    question = _question(text)
    assert question_from_bundle(question.source) == question


def test_every_question_of_the_bank_is_rebuilt_from_its_bundle() -> None:
    for question in load_bank(Path(__file__).parents[2] / "bank").values():
        assert question_from_bundle(question.source) == question


@pytest.mark.parametrize("source", ["", "{}", "[]", "null", '{"form": "other"}', "[" * 100_000])
def test_what_is_no_bundle_says_so(source: str) -> None:
    with pytest.raises(ProblemsFound) as caught:
        question_from_bundle(source)
    said = f"a stored question: [not-a-bundle] expected witnessmark question 2, found '{source[:40]}'"
    assert [str(problem) for problem in caught.value.problems] == [said]


def test_a_bundle_whose_question_is_damaged_says_what_is_wrong_with_it() -> None:
    content = json.loads(_question().source)
    content["text"] = content["text"].replace("level: 2", "level: 4")
    with pytest.raises(ProblemsFound) as caught:
        question_from_bundle(json.dumps(content))
    assert [problem.code for problem in caught.value.problems] == ["out-of-range"]


TYPED = st.one_of(
    st.text(max_size=40),
    st.text(alphabet="abdtF()+-*/. <>=,2_τ{}[]'\"\\:;#@", max_size=40),
    st.sampled_from(
        ["-" * 1900 + "d", "(" * 900 + "d" + ")" * 900, "d" + "**9" * 400, "1if d else t", "d.__class__", "9**9**9"]
    ),
)


@pytest.mark.parametrize(
    "old",
    ["answer: tau*A_s\n", "unit: kN\n", "symbol: F\n", "ask: Find the force needed to punch the hole.\n", "- t < d"],
)
@examples(60)
@given(typed=TYPED)
def test_whatever_an_author_types_is_a_question_or_a_problem(old: str, typed: str) -> None:
    key, _, _ = old.partition(": ") if ": " in old else ("-", "", "")
    quoted = json.dumps(typed)
    new = f"{key}: {quoted}\n" if ": " in old else f"- {quoted}"
    question, problems = question_from_text(DRAIN_HOLE.replace(old, new), "q.yaml", _tables(), Known(_misconceptions()))
    assert (question is None) == bool(problems)


@examples(300)
@given(st.sampled_from([DRAIN_HOLE, CUT_EDGE]), st.data())
def test_a_text_that_was_cut_up_gives_a_question_or_problems_in_their_places(text: str, data: st.DataObject) -> None:
    start = data.draw(st.integers(0, len(text)))
    end = data.draw(st.integers(start, min(len(text), start + 40)))
    put = data.draw(
        st.sampled_from(["", "x", " ", "\n", ": ", "{", "}", "[", "1", "-", "*", "'", "a: 1", text[start:end] * 2])
    )
    cut = text[:start] + put + text[end:]
    question, problems = question_from_text(cut, "q.yaml", _tables(), Known(_misconceptions()))
    assert (question is None) == bool(problems)
    for problem in problems:
        assert problem.place.file == "q.yaml"
        assert 0 <= problem.place.line <= cut.count("\n") + 2
        assert problem.expected
        assert problem.found


def test_questions_that_are_put_otherwise_are_marked_together_and_those_that_earn_otherwise_are_not() -> None:
    question = _question()
    part, rest = question.quantity("a"), question.parts[1:]
    assert marked_alike(replace(question, title="Another", setting="Elsewhere.")) == marked_alike(question)
    assert marked_alike(replace(question, parts=(replace(part, ask="Otherwise put."), *rest))) == marked_alike(question)
    dearer = replace(part, marks=part.marks + 1)
    assert marked_alike(replace(question, parts=(dearer, *rest))) != marked_alike(question)
    (key, told), *_ = question.misconceptions.items()
    said = {**question.misconceptions, key: replace(told, say="Look at something else.")}
    assert marked_alike(replace(question, misconceptions=said)) != marked_alike(question)
    slips = tuple(replace(slip, keeps=slip.keeps + 1) for slip in part.slips)
    assert slips
    assert marked_alike(replace(question, parts=(replace(part, slips=slips), *rest))) != marked_alike(question)


def test_a_column_that_the_file_names_nowhere_is_not_given_to_a_student() -> None:
    """One wide table serves every question; what is not named would be searched for in wrong methods all the same."""
    text = _read("tables/sheet-metals.yaml").replace("finish: text}", "finish: text, density: kg/m^3}")
    text = text.replace("finish: pickled", "finish: pickled, density: 7850")
    question = _question(tables=_tables(text))
    assert set(question.draw("seed").shown) == set(_question().draw("seed").shown)
    assert "density" not in question.tables["sheet-metals"].units
    told = _question(DRAIN_HOLE.replace("{material.name}", "{material.name} ({material.finish})"), _tables(text))
    assert "finish" in told.tables["sheet-metals"].rows["mild steel"]
