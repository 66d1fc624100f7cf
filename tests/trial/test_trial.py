"""The trial itself: repeatable by its seed, on a bank or one file, with students whose habits are bent."""

import json

import pytest
from click.testing import CliRunner, Result

from bank_cases import SMALL_BANK
from bank_fixture import BANK
from witnessmark.cli.main import main
from witnessmark.jobs.trying import try_out
from witnessmark.trial.tallies import trial
from witnessmark.words.errors import ProblemsFound

FILE = SMALL_BANK / "shear" / "drain-hole.yaml"
HOLE = BANK["drain-hole"]


def run(*words: object) -> Result:
    return CliRunner().invoke(main, ["trial", *map(str, words)], catch_exceptions=False)


def test_the_same_seed_gives_the_same_students_and_another_one_others() -> None:
    first, again, other = (list(trial([HOLE], 1, seed)) for seed in (1, 1, 2))
    assert first == again
    assert [t.entry for t in first] != [t.entry for t in other]


def test_bent_habits_change_what_students_write_and_are_repeatable() -> None:
    bent = [[t.entry for t in trial([HOLE], 2, 1, bend)] for bend in (0.0, 0.5, 0.5, -1.0)]
    assert bent[1] == bent[2]
    assert bent[0] != bent[1]
    assert bent[0] != bent[3]


def test_students_of_the_leading_habits_alone_round_nothing_on_the_way() -> None:
    rights = [t for t in trial([HOLE], 4, 1, -1.0) if t.kind == "right"]
    assert rights
    assert all(t.named and t.full for t in rights)


def test_right_answers_stay_right_however_the_habits_are_bent() -> None:
    for bend in (-0.5, 0.5):
        rights = [t for t in trial([HOLE, BANK["bottle-jack"]], 4, 3, bend) if t.kind == "right"]
        assert all(t.full for t in rights)


def test_a_file_is_tried_like_its_question_in_the_bank() -> None:
    alone, in_bank = try_out(FILE, (), 1, 1, 0.0), try_out(SMALL_BANK, ("drain-hole",), 1, 1, 0.0)
    assert alone == in_bank
    assert [g.name for g in alone.report.questions] == ["drain-hole"]


def test_a_question_that_the_bank_or_file_lacks_is_a_problem() -> None:
    for source in (SMALL_BANK, FILE):
        with pytest.raises(ProblemsFound) as error:
            try_out(source, ("no-such",), 1, 1, 0.0)
        assert str(error.value).startswith(f"{source}: [no-question] expected a question of the bank, found no-such; ")


def test_a_question_without_numbers_to_try_is_a_problem() -> None:
    file = SMALL_BANK / "words" / "cut-edge.yaml"
    with pytest.raises(ProblemsFound) as error:
        try_out(file, (), 1, 1, 0.0)
    says = "expected numbers to work out, found none; see what witnessmark check says of its variants"
    assert str(error.value) == f"{file}: [nothing-to-try] {says}"


def test_the_tables_tell_counts_and_intervals_by_kind_method_level_and_question() -> None:
    result = run(FILE, "--each", 1, "--bend", "-0.5")
    assert result.exit_code == 0
    lines = result.stdout.splitlines()
    assert lines[0].endswith(" simulated answers, seed 1, habits bent by -0.5")
    heads = ("what the students did", "sure (kinds", "wrong method", "level", "question")
    for head in heads:
        (found,) = [line for line in lines if line.startswith(head) and "answers" in line]
        assert "95 % interval" in found
    assert any(line.startswith("radius-for-diameter ") for line in lines)
    assert any(line.startswith("0.99 to 1.00 ") for line in lines)


def test_everything_in_the_tables_is_there_for_machines() -> None:
    found = json.loads(run(FILE, "--each", 1, "--bend", "0.5", "--json").stdout)
    assert (found["seed"], found["bend"]) == (1, 0.5)
    assert found["answers"] == sum(row["named"]["count"] for row in found["kinds"])
    for table in ("methods", "levels", "questions"):
        assert found[table]
        for row in found[table]:
            share = row["named"]
            assert share["interval"][0] <= share["share"] <= share["interval"][1] + 1e-12
            assert share["hits"] <= share["count"]
    assert [len(band["interval"]) for band in found["bands"]] == [2] * 5
    assert {"named", "in_evidence", "slip_named", "full", "verdicts"} <= found["kinds"][0].keys()


@pytest.mark.parametrize("words", [("--bend", "-2"), ("--bend", "much"), ("--each", "0"), ("--seed", "-1")])
def test_shares_and_counts_that_cannot_be_are_wrong_usage(words: tuple[str, str]) -> None:
    result = CliRunner().invoke(main, ["trial", str(FILE), *words])
    assert result.exit_code == 2
    assert words[0] in result.stderr
