"""Short texts of the bank: no wording that is wrong earns anything, none that is right is lost.

`tests/cases/points.csv` holds, for every point of the bank, what apprentices might type for it, right and wrong. The
wordings are invented (common practice, no source); which of them is right is what materials handbooks say of the thing
asked.
"""

import csv
import itertools
from collections import Counter
from collections.abc import Sequence
from pathlib import Path

import pytest

from bank_fixture import BANK
from witnessmark.marking.kinds.points import mark_points
from witnessmark.marking.outcome import Outcome, Verdict
from witnessmark.questions.model.parts import PointsPart
from witnessmark.questions.sheet.task import Rules
from witnessmark.reading.short.points_words import DENIALS, HARMLESS, LESSENINGS

CASES = Path(__file__).parents[1] / "cases" / "points.csv"
FEWEST = 6
PARTS = {
    (question.key, part.key): part
    for question in BANK.questions.values() for part in question.parts if isinstance(part, PointsPart)
}  # fmt: skip
POINTS = [(key, part, point) for key, part in PARTS.items() for point in part.points]
Row = dict[str, str]


def rows() -> list[Row]:
    with CASES.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


ROWS = rows()
RIGHT, WRONG = ([row for row in ROWS if row["is"] == sense] for sense in ("right", "wrong"))


def marked(text: str, part: PointsPart) -> Outcome:
    return mark_points(part, text, Rules())


def of(row: Row) -> PointsPart:
    return PARTS[row["question"], row["part"]]


def test_every_point_has_wordings_right_and_wrong() -> None:
    counted = Counter((r["question"], r["part"], r["point"], r["is"]) for r in ROWS)
    for (question, letter), _, point in POINTS:
        for sense in ("right", "wrong"):
            assert counted.pop((question, letter, point.name, sense), 0) >= FEWEST, (question, point.name, sense)
    assert not counted, f"rows of points that the bank has not: {list(counted)}"


@pytest.mark.parametrize(
    "row", [r for r in ROWS if r["is"] == "wrong"], ids=lambda r: f"{r['question']} {r['wording']}"
)
def test_a_wrong_wording_earns_nothing(row: Row) -> None:
    assert marked(row["wording"], of(row)).marks == 0, marked(row["wording"], of(row)).because


@pytest.mark.parametrize(
    "row", [r for r in ROWS if r["is"] == "right"], ids=lambda r: f"{r['question']} {r['wording']}"
)
def test_a_right_wording_earns_its_share_or_waits_for_the_teacher(row: Row) -> None:
    out = marked(row["wording"], of(row))
    assert out.marks > 0 or out.in_tray, out.because


def test_four_of_five_right_wordings_need_no_teacher() -> None:
    credited = [row for row in RIGHT if marked(row["wording"], of(row)).marks > 0]
    assert len(credited) >= 0.8 * len(RIGHT), [r["wording"] for r in RIGHT if r not in credited]


def turned_round(wordings: Sequence[str]) -> list[str]:
    """What denies, lessens, spoils or supposes each accepted wording of a point."""
    forms = ("not {}", "it is not {}", "never {}", "hardly {}", "it ruins: no {}", "{}? no", "{} is wrong",
             "stops {}", "less {}", "{} if not done", "it destroys {}", "{} gets lost", "{}: not true",
             "unless done, {}")  # fmt: skip
    return [form.format(wording) for wording in wordings for form in forms]


def earned_though_turned(some: int | None) -> list[tuple[str, str]]:
    """The texts that turn an accepted wording round and earn all the same, by question: some of each point, or all."""
    return [
        (key[0], text) for key, part, point in POINTS for text in turned_round(point.wordings[:some])
        if text not in {wording for other in part.points for wording in other.wordings} and marked(text, part).marks > 0
    ]  # fmt: skip


def test_no_accepted_wording_earns_where_it_is_turned_round() -> None:
    assert earned_though_turned(2) == []


@pytest.mark.deep
def test_no_accepted_wording_at_all_earns_where_it_is_turned_round() -> None:
    assert earned_though_turned(None) == []


def test_no_single_word_of_a_wording_earns_unless_it_tells_the_direction() -> None:
    """A bare noun or adjective is no property: only a comparative (tougher) says which way."""
    for key, part, point in POINTS:
        words = {word for wording in point.wordings for word in wording.split() if not word.endswith("er")}
        assert [word for word in sorted(words) if marked(word, part).marks > 0] == [], key


def contraries_that_earn(accepted: int | None, refused: int | None) -> list[tuple[str, str, str]]:
    """Texts that say a thing and its contrary and earn, or do not wait."""
    texts = [
        (key[0], part, text) for key, part, point in POINTS
        for yes, no in itertools.product(point.wordings[:accepted], point.refused[:refused])
        for text in (f"{yes}; {no}", f"{no}. {yes}")
    ]  # fmt: skip
    outcomes = [(key, text, marked(text, part)) for key, part, text in texts]
    return [(key, text, out.because) for key, text, out in outcomes if out.marks != 0 or not out.in_tray]


def test_a_thing_and_its_contrary_wait_for_the_teacher() -> None:
    assert contraries_that_earn(2, 4) == []


@pytest.mark.deep
def test_every_thing_and_its_contrary_wait_for_the_teacher() -> None:
    assert contraries_that_earn(8, None) == []


def test_every_point_refuses_something_and_a_refused_wording_alone_is_told_as_wrong() -> None:
    for key, part, point in POINTS:
        assert point.refused, key
        for wording in point.refused:
            out = marked(wording, part)
            assert out.marks == 0, (key, wording)
            assert out.verdict in (Verdict.WRONG, Verdict.UNEXPLAINED), (key, wording)


def test_words_that_may_stand_beside_a_point_turn_nothing_round() -> None:
    assert not HARMLESS & (DENIALS | LESSENINGS)
