"""What `check` tells of a question's variants: counts by other means, and every problem as a whole line."""

import ast
import shutil
from fractions import Fraction
from pathlib import Path

import pytest

from bank_cases import SMALL_BANK
from bank_fixture import BANK
from jobs.small_class import BANK_FOLDER
from witnessmark.jobs.checking import Checked, QuestionReport, check, report_on
from witnessmark.questions.checking import diagnosis
from witnessmark.questions.checking.method_clashes import Known
from witnessmark.questions.drawing.draw import count_allowed
from witnessmark.questions.drawing.separation import keeps
from witnessmark.questions.drawing.space import choices, columns_of, nth_pick, space
from witnessmark.words.errors import ProblemsFound

RADIUS = "      - {misconception: radius-for-diameter,        answer: tau*pi*(d/2)*t, keeps: 2}\n"
LINE_RADIUS = "      - {misconception: radius-for-diameter, line: A_s, answer: pi*(d/2)*t, keeps: 2}\n"
ONE_DIAMETER = ("one of: [10, 12, 16, 20, 25]", "one of: [16]")
PROVOKED = Path(__file__).read_text(encoding="utf-8")


def more(answer: str, keeps: str = "1") -> tuple[str, str]:
    """A change that adds a slip to part a of the example."""
    return RADIUS, f"{RADIUS}      - {{misconception: sheared-edge-for-face-area, answer: {answer}, keeps: {keeps}}}\n"


def checked(folder: Path, *changes: tuple[str, str], of: str = "shear/drain-hole.yaml") -> Checked:
    """What `check` says of one question of the small bank that has been changed."""
    shutil.copytree(SMALL_BANK, folder / "bank")
    file = folder / "bank" / of
    text = file.read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    file.write_text(text, encoding="utf-8")
    return check(file)


def lines(problems: object, folder: Path) -> list[str]:
    """Problems as whole lines, without the path of the folder."""
    assert isinstance(problems, tuple)
    return [str(problem).replace(f"{folder}/bank/", "") for problem in problems]


def only(done: Checked) -> QuestionReport:
    """The report on the one question."""
    (report,) = done.questions
    return report


def test_methods_meet_in_as_many_variants_as_geometry_says(tmp_path: Path) -> None:
    """The face d^2/4 is the sheared edge d*t where d = 4 t, and half of it where d = 2 t; of the 5 diameters and 15
    thicknesses of the example four pairs and three do that, and the next ratios are 4 % away, beyond all rounding."""
    done = only(checked(tmp_path))
    assert (done.variants, done.spread.kept) == (300, 300)
    shares = {(m.key, m.first, m.second): m.share for m in done.spread.meetings}
    four, two = Fraction(4, 75), Fraction(3, 75)
    assert shares == {
        ("a.A_s", "right", "face-area-for-sheared-edge"): pytest.approx(float(four)),
        ("a", "right", "face-area-for-sheared-edge"): pytest.approx(float(four)),
        ("b", "right", "sheared-edge-for-face-area"): pytest.approx(float(four)),
        ("a.A_s", "face-area-for-sheared-edge", "radius-for-diameter"): pytest.approx(float(two)),
        ("a", "face-area-for-sheared-edge", "radius-for-diameter"): pytest.approx(float(two)),
    }
    assert done.spread.separable == pytest.approx(float(1 - four - two))


@pytest.mark.parametrize("key", ["drain-hole", "cable-size", "trestle-plank", "small-end", "cover-bolts"])
def test_what_can_be_issued_is_what_drawing_would_draw(key: str) -> None:
    """Counted where the space is small, estimated where it is not."""
    report = report_on(BANK[key], BANK)
    assert report.issuable == count_allowed(BANK[key])
    assert report.spread.counted == (space(BANK[key]) <= 40_000)


def test_a_judgement_of_the_bank_falls_as_often_as_it_is_counted_to() -> None:
    """Counted a second time, over every seventh variant that may be: the gap closes where s/(alpha L) < r."""
    question = BANK["shaft-gap"]
    variants = [nth_pick([c.count for c in choices(question)], n) for n in range(0, space(question), 7)]
    columns = columns_of(question, variants)
    kept = keeps(question, columns, len(variants))
    closes = columns["s"] / (columns["alpha"] * columns["L"]) < columns["r"]
    ((key, share),) = report_on(question, BANK).judged
    assert key == "b"
    assert share == pytest.approx(float(closes[kept].mean()), abs=0.08)


def test_a_slip_that_algebra_turns_into_what_is_right_is_a_problem(tmp_path: Path) -> None:
    done = checked(tmp_path, more("tau*(2*pi*d*t)/2"))
    assert lines(done.problems, tmp_path) == [
        (
            "shear/drain-hole.yaml: [never-apart] expected a slip that some numbers tell apart from what is right, "
            "found a: right = sheared-edge-for-face-area, one formula, as algebra shows; change or delete the slip"
        )
    ]
    assert only(done).issuable == 0


NEVER_APART = "[never-apart] expected a slip that some numbers tell apart from what is right, found a: right = "


def raised(folder: Path, *changes: tuple[str, str]) -> list[str]:
    """Problems of a changed question that cannot be read whole, without remedies."""
    with pytest.raises(ProblemsFound) as found:
        checked(folder, *changes)
    return [line.partition(";")[0] for line in lines(tuple(found.value.problems), folder)]


def test_slips_that_meet_are_told_in_the_same_run_as_a_unit_and_a_dimension_of_other_finds(tmp_path: Path) -> None:
    unit = ("    symbol: sigma\n    unit: MPa\n", "    symbol: sigma\n    unit: MPas\n")
    assert raised(tmp_path / "unit", more("tau*(2*pi*d*t)/2"), unit) == [
        f"shear/drain-hole.yaml: {NEVER_APART}sheared-edge-for-face-area, one formula, as algebra shows",
        "shear/drain-hole.yaml:35:11: [unknown-unit] expected a unit of the unit list, found 'MPas'",
    ]
    dimension = ("answer: F/A_p\n", "answer: F*A_p\n")
    last, first = raised(tmp_path / "dimension", more("tau*(2*pi*d*t)/2"), dimension)
    assert "drain-hole.yaml:38:" in first
    assert NEVER_APART in last


def test_nothing_is_said_of_how_methods_meet_where_the_find_itself_or_a_given_has_a_problem(tmp_path: Path) -> None:
    meets = more("tau*(2*pi*d*t)/2")
    (only_one,) = raised(tmp_path / "find", meets, ("    unit: kN\n", "    unit: kNs\n"))
    assert "[unknown-unit]" in only_one
    (only_one,) = raised(tmp_path / "given", meets, ("unit: mm, from: 1", "unit: mmm, from: 1"))
    assert "[unknown-unit]" in only_one


def test_one_broken_file_of_a_bank_hides_no_problem_of_another(tmp_path: Path) -> None:
    bank = tmp_path / "bank"
    shutil.copytree(SMALL_BANK, bank)
    file = bank / "shear" / "drain-hole.yaml"
    text = file.read_text(encoding="utf-8")
    file.write_text(text.replace(*more("tau*(2*pi*d*t)/2")), encoding="utf-8")
    (bank / "shear" / "broken.yaml").write_text("question: [", encoding="utf-8")
    with pytest.raises(ProblemsFound) as found:
        check(bank)
    told = lines(tuple(found.value.problems), tmp_path)
    assert any(line.startswith("shear/broken.yaml") for line in told)
    assert any(line.startswith(f"shear/drain-hole.yaml: {NEVER_APART}") for line in told)


def test_a_slip_that_the_drawn_values_alone_make_right_is_a_problem(tmp_path: Path) -> None:
    """The number of holes left out, where it is always one."""
    one = ("  punch: {row", '  n: {is: number of holes, unit: "", one of: [1]}\n  punch: {row')
    done = checked(tmp_path, one, ("answer: tau*A_s\n", "answer: n*tau*A_s\n"), more("tau*A_s"))
    assert lines(done.problems, tmp_path) == [
        (
            "shear/drain-hole.yaml: [never-apart] expected a slip that some numbers tell apart from what is right, "
            "found a: right = sheared-edge-for-face-area, one number in every variant; change the slip or widen the "
            "values"
        )
    ]


@pytest.mark.parametrize(
    ("answer", "first", "place"),
    [("tau*A_s*1.001", "right", "a"), ("tau*pi*(d/2)*t*1.0005", "radius-for-diameter", "a.A_s")],
)
def test_methods_that_meet_whatever_is_drawn_are_a_problem(answer: str, first: str, place: str, tmp_path: Path) -> None:
    """They differ by less than three figures show; told once, at the first place where they do."""
    done = checked(tmp_path, more(answer))
    found = f"{first} and sheared-edge-for-face-area at {place}, which meet in all variants that satisfy keep"
    assert lines(done.problems, tmp_path) == [
        (
            f"shear/drain-hole.yaml: [never-apart] expected methods that some numbers tell apart, found {found}; "
            "widen the values, or change one of them"
        )
    ]


def test_a_formula_that_a_slip_writes_in_another_way_is_a_problem(tmp_path: Path) -> None:
    done = checked(tmp_path, ("answer: (3*t)**2", "answer: (2*t)**2*3"), of="words/cut-edge.yaml")
    assert lines(done.problems, tmp_path)[0] == (
        "words/cut-edge.yaml: [never-apart] expected a slip that some numbers tell apart from what is right, found "
        "a: right = face-area-for-sheared-edge, one formula, as algebra shows; change or delete the slip"
    )


def test_a_value_that_is_offered_twice_is_a_problem(tmp_path: Path) -> None:
    """A choice between values leaves out the slip that prints the right value."""
    choice = "  f:\n    ask: Which is it?\n    choice: values\n    is: thickness\n    unit: mm\n"
    choice += "    answer: band\n    marks: 1\n"
    slips = "    slips:\n      - {misconception: face-area-for-sheared-edge, answer: t*2/6, keeps: 0.5}\n"
    slips += "      - {misconception: radius-for-diameter, answer: t/3*1.01, keeps: 0}\n"
    text = (SMALL_BANK / "words" / "cut-edge.yaml").read_text(encoding="utf-8")
    last = text[text.index("  f:\n") :]
    done = checked(tmp_path, (last, choice + slips), of="words/cut-edge.yaml")
    assert lines(done.problems, tmp_path) == [
        (
            "words/cut-edge.yaml: [never-apart] expected a slip that some numbers tell apart from what is right, "
            "found f: right = face-area-for-sheared-edge, one formula, as algebra shows; change or delete the slip"
        ),
        (
            "words/cut-edge.yaml: [never-apart] expected methods that some numbers tell apart, found right and "
            "radius-for-diameter at f, which meet in all variants that satisfy keep; widen the values, or change "
            "one of them"
        ),
        (
            "words/cut-edge.yaml: [never-apart] expected methods that some numbers tell apart, found "
            "face-area-for-sheared-edge and radius-for-diameter at f, which meet in all variants that satisfy keep; "
            "widen the values, or change one of them"
        ),
    ]


def test_two_slips_that_are_always_one_number_and_keep_different_marks_are_a_problem(tmp_path: Path) -> None:
    done = checked(tmp_path, (RADIUS, LINE_RADIUS), more_in_line("pi*d*t/2", "1"))
    assert lines(done.problems, tmp_path) == [
        (
            "shear/drain-hole.yaml: [never-apart] expected two slips that some numbers or a line part, or the same "
            "marks for both, found a: radius-for-diameter = sheared-edge-for-face-area, one formula, as algebra "
            "shows, which keeps 2 marks and never 1; keep the same for both, or delete one"
        )
    ]
    assert only(done).issuable == 234  # they can be issued all the same


def more_in_line(answer: str, keeps: str) -> tuple[str, str]:
    """A change that adds a slip in the line of part a."""
    slip = f"      - {{misconception: sheared-edge-for-face-area, line: A_s, answer: {answer}, keeps: {keeps}}}\n"
    return LINE_RADIUS, LINE_RADIUS + slip


def test_two_slips_that_are_always_one_number_and_keep_the_same_are_a_remark(tmp_path: Path) -> None:
    done = checked(tmp_path, (RADIUS, LINE_RADIUS), more_in_line("pi*d*t/2", "2"))
    assert done.problems == ()
    assert lines(only(done).remarks, tmp_path) == [
        (
            "shear/drain-hole.yaml: [slips-alike] expected two slips that some numbers or a line part, found a: "
            "radius-for-diameter = sheared-edge-for-face-area, one formula, as algebra shows; where both are meant, "
            "an outcome names both; else change one"
        )
    ]
    assert {(str(p), p.known_by) for p in only(done).pairs} == {
        ("a.A_s: radius-for-diameter = sheared-edge-for-face-area", Known.ALGEBRA),
        ("a: radius-for-diameter = sheared-edge-for-face-area", Known.ALGEBRA),
    }


def test_two_slips_of_a_result_that_a_line_parts_are_listed_and_no_more(tmp_path: Path) -> None:
    """Radius for diameter shows in the sheared area; half of the result does not."""
    done = checked(tmp_path, more("tau*A_s/2"))
    assert (done.problems, only(done).remarks) == ((), ())
    (pair,) = only(done).pairs
    assert (str(pair), pair.parted_by) == ("a: radius-for-diameter = sheared-edge-for-face-area", ("a.A_s",))


def test_a_question_of_which_nothing_can_be_issued_is_a_problem(tmp_path: Path) -> None:
    done = checked(tmp_path, ("- t < d ", "- t > 2*d "))
    assert lines(done.problems, tmp_path) == [
        (
            "shear/drain-hole.yaml: [no-variant] expected variants that can be issued, found none of 300, none of "
            "which satisfies keep; widen the values, or look at keep and at the slips"
        )
    ]


def test_a_space_too_small_for_a_class_of_two_hundred_is_a_problem_with_its_count(tmp_path: Path) -> None:
    """One diameter, 2 metals, 2 punches, 15 thicknesses. Methods meet at 4 and 8 mm, as 16 = 4*4 = 2*8: 2*2*13 remain.

    The stress in the punch, tau*4*t/d or 75 and 37.5 MPa for each mm, has one figure at 4 and 8 mm alone.
    """
    done = checked(tmp_path, ONE_DIAMETER)
    assert lines(done.problems, tmp_path) == [
        (
            "shear/drain-hole.yaml: [few-variants] expected 200 variants or more, enough for a class of 200, found "
            "52 of 60 (methods meet in 13%, mostly right and face-area-for-sheared-edge at a.A_s); widen the "
            "values, or issue with --repeats, which gives the same numbers out again"
        )
    ]


def test_a_question_that_asks_for_no_number_needs_no_space(tmp_path: Path) -> None:
    """The same question with its numeric part is a problem, as it has two variants."""
    text = (SMALL_BANK / "words" / "cut-edge.yaml").read_text(encoding="utf-8")
    number = text[text.index("  f:\n") :]
    whole = checked(tmp_path / "whole", of="words/cut-edge.yaml")
    assert [problem.code for problem in whole.problems] == ["few-variants"]
    assert checked(tmp_path / "words", (number, ""), of="words/cut-edge.yaml").problems == ()


@pytest.mark.parametrize("given", ["value: 2", "one of: [2]"])
def test_a_question_of_which_nothing_is_drawn_needs_no_space_and_is_told(given: str, tmp_path: Path) -> None:
    file = tmp_path / "bank" / "fixed.yaml"
    file.parent.mkdir()
    find = "find: {a: {ask: Find it., is: number, symbol: N, unit: '', answer: 12345*m, marks: 1}}\n"
    givens = f"given: {{m: {{is: count, unit: '', {given}}}}}\n"
    file.write_text(f"question: fixed\ntitle: T\ntopic: t\nlevel: 1\nsetting: S {{m}}.\n{givens}{find}", "utf-8")
    done = check(file)
    assert (done.problems, only(done).variants, only(done).issuable) == ((), 1, 1)
    assert lines(only(done).remarks, tmp_path)[-1] == (
        "fixed.yaml: [nothing-drawn] expected numbers that are drawn for each student, found one variant for all; "
        "give values to draw from, or issue with --repeats"
    )


def test_values_that_no_variant_to_issue_has_are_told() -> None:
    """A pin of 4 mm: pi*d^2/4 and pi*d are one number there."""
    assert report_on(BANK["shear-pin"], BANK).spread.never_drawn == (("d", ("4 mm",)),)


def test_a_slip_of_one_power_of_ten_is_told() -> None:
    """A pressure in bar taken as pascals."""
    (pair,) = report_on(BANK["pump-power"], BANK).spread.power_pairs
    assert (pair.key, pair.first, pair.second, pair.power) == ("a", "right", "bar-as-pascal", -5)


def test_the_bank_that_comes_along_has_no_problem_and_room_for_two_hundred() -> None:
    done = check(BANK_FOLDER)
    assert [str(problem) for problem in done.problems] == []
    assert min(report.issuable for report in done.questions) >= diagnosis.CLASS
    assert all(report.spread.conversions[0] == report.spread.conversions[1] for report in done.questions)


def test_a_slip_that_gives_no_number_with_any_values_is_told(tmp_path: Path) -> None:
    done = checked(tmp_path, more("tau*pi*d*t/(d - d)"))
    (line,) = lines(done.problems, tmp_path)
    assert line == (
        "shear/drain-hole.yaml: [no-number] expected a slip of a that gives a number, found sheared-edge-for-face-area,"
        " which gives none with any values, as when something is divided by 0; change or delete the slip"
    )


def test_a_given_that_gives_no_number_with_any_values_is_told(tmp_path: Path) -> None:
    done = checked(tmp_path, ("given:\n", "given:\n  q: {is: odd share, value: d/(d - d)}\n"))
    (line,) = lines(done.problems, tmp_path)
    assert line == (
        "shear/drain-hole.yaml: [no-number] expected a given q that gives a number, found none with any values;"
        " change or delete it"
    )


def test_every_code_of_the_diagnosis_is_provoked() -> None:
    assert diagnosis.__file__ is not None
    tree = ast.parse(Path(diagnosis.__file__).read_text(encoding="utf-8"))
    calls = [n for n in ast.walk(tree) if isinstance(n, ast.Call) and getattr(n.func, "id", "") == "_problem"]
    codes = {str(call.args[1].value) for call in calls if isinstance(call.args[1], ast.Constant)}
    assert len(codes) >= 4
    assert {code for code in codes if f"[{code}]" not in PROVOKED} == set()
