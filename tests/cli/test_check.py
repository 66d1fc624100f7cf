"""What `check` prints: a row for each question of a bank, all that is known of one file, and the same as data."""

import json
import shutil
from pathlib import Path

from click.testing import CliRunner

from bank_cases import SMALL_BANK
from witnessmark.cli.main import main

DRAIN_HOLE = SMALL_BANK / "shear" / "drain-hole.yaml"
SLIP = "      - {misconception: radius-for-diameter,        answer: tau*pi*(d/2)*t, keeps: 2}\n"


def said(*words: object, code: int = 0) -> tuple[list[str], list[str]]:
    """The lines of standard output and of standard error."""
    result = CliRunner().invoke(main, [str(w) for w in words], catch_exceptions=False)
    assert result.exit_code == code
    return result.stdout.splitlines(), result.stderr.splitlines()


def test_a_bank_is_a_table_with_a_row_for_each_question() -> None:
    out, err = said("check", SMALL_BANK, code=1)
    assert out[:4] == [
        "",
        "question              topic      level steps variants    kept separable to issue  plain conv.  judged yes",
        "drain-hole            shear          2     2      300     300     90.7%      234  19.3%     2  c 100%",
        "cut-edge              words          1     1        3       3    100.0%        2  33.3%     0  PROBLEM",
    ]
    assert out[-1] == "2 questions, 1 problem, 0 notes, 2 remarks"
    assert err == [
        (
            f"{SMALL_BANK / 'words' / 'cut-edge.yaml'}: [few-variants] expected 200 variants or more, enough for a "
            "class of 200, found 2 of 3 (plain number in 33%); widen the values, or issue with --repeats, which "
            "gives the same numbers out again"
        )
    ]


def test_one_file_is_told_in_full() -> None:
    out, err = said("check", DRAIN_HOLE)
    assert err == []
    assert out == [
        "drain-hole (shear, level 2, 2 steps)",
        "  300 variants, 300 satisfy keep, 234 can be issued (every one looked at)",
        "  90.7% of those that satisfy keep are separable",
        "  not issued: methods meet 9.3%, plain number 19.3%",
        "  methods that meet, and in how many of those:",
        "    a.A_s      5.3%  right and face-area-for-sheared-edge",
        "    a          5.3%  right and face-area-for-sheared-edge",
        "    b          5.3%  right and sheared-edge-for-face-area",
        "    a.A_s      4.0%  face-area-for-sheared-edge and radius-for-diameter",
        "    a          4.0%  face-area-for-sheared-edge and radius-for-diameter",
        "  figures that say a result exactly, in those that can be issued:",
        *[line for line in out if line.startswith(("    a: one 0%", "    b: one 0%"))],
        "  conversions of units: 2 in every variant",
        "  c: yes in 100% of those that can be issued",
        "1 question, 0 problems, 0 notes, 0 remarks",
    ]


def test_pairs_that_nothing_parts_are_told_in_the_file_and_below_the_table(tmp_path: Path) -> None:
    shutil.copytree(SMALL_BANK, tmp_path / "bank")
    file = tmp_path / "bank" / "shear" / "drain-hole.yaml"
    more = "      - {misconception: sheared-edge-for-face-area, answer: tau*A_s/2, keeps: 1}\n"
    file.write_text(file.read_text(encoding="utf-8").replace(SLIP, SLIP + more, 1), encoding="utf-8")
    pair = "a: radius-for-diameter = sheared-edge-for-face-area (known by algebra; parted where a.A_s is entered)"
    out, _ = said("check", file)
    assert out[out.index("  methods that are one number in every variant:") + 1] == f"    {pair}"
    table, _ = said("check", tmp_path / "bank", code=1)
    assert table[table.index("Methods that no numbers part:") + 1] == f"  drain-hole {pair}"


def test_json_carries_all_of_it_in_plain_values() -> None:
    (text, _) = said("check", DRAIN_HOLE, "--json")
    (found,) = json.loads("\n".join(text))["questions"]
    assert (found["question"], found["file"]) == ("drain-hole", str(DRAIN_HOLE))
    assert (found["variants"], found["kept"], found["issuable"], found["counted"]) == (300, 300, 234, True)
    assert found["meet"][0] == {
        "place": "a.A_s", "first": "right", "second": "face-area-for-sheared-edge", "share": 16 / 300,
    }  # fmt: skip
    assert found["even"]["conversions"] == [2, 2]
    assert [len(shares) for shares in found["even"]["figures"].values()] == [4, 4]
    assert found["even"]["judged"] == found["judged"] == {"c": 1.0}
    assert set(found["lost"]) == {
        "methods_meet",
        "judgement_unclear",
        "count_unclear",
        "values_offered_too_near",
        "plain_number",
        "size_unclear",
    }
    assert (found["pairs"], found["powers_of_ten"], found["problems"], found["never_drawn"]) == ([], [], [], {})
