"""`mark_table` and `mark` say exactly the same of every entry of the kept corpus, over all kinds of find."""

import importlib.util
from collections import defaultdict
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pandas as pd
import pytest

import witnessmark as wm
from bank_fixture import BANK
from witnessmark.marking.outcome import Outcome

SCRIPT = Path(__file__).parents[2] / "scripts" / "corpus.py"
FEW = 3
"""Questions of the usual run, with every so many of their papers; the first four have every kind of find."""
EVERY = 40


def _corpus() -> Any:
    spec = importlib.util.spec_from_file_location("corpus_of_table", SCRIPT)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


CORPUS = _corpus()
HEAD, QUESTIONS = CORPUS.corpus()
KEYS = tuple(record["question"] for record in QUESTIONS)
TABLED = tuple(n for n, record in enumerate(QUESTIONS) if CORPUS.has_columns(record))


def by_columns(record: dict[str, Any], question: Any, name: str, rows: list[int]) -> dict[tuple[int, str], Any]:
    """Fields of each answer as a table of these rows gives them, by row and place."""
    givens = pd.DataFrame([record["variants"][record["variant"][n]] for n in rows])
    entries = {key: [texts[n] for n in rows] for key, texts in record["entries"].items()}
    marked = wm.mark_table(question, pd.concat([givens, pd.DataFrame(entries)], axis=1), CORPUS.rules(name))
    fields = {key: [marked[f"{key}.{field}"].tolist() for field in CORPUS.IN_TABLE] for key in entries}
    return {(n, key): row for key, columns in fields.items() for n, *row in zip(rows, *columns, strict=True)}


def as_in_a_table(out: Outcome) -> list[Any]:
    """The fields that a table has, of one outcome."""
    return [float(out.marks), float(out.out_of), str(out.verdict), "+".join(out.misconceptions), out.sure]


def disagreements(which: int, every: int) -> tuple[int, list[str]]:
    """How many answers were compared in one question of the corpus, and those that the two doors tell otherwise."""
    record = QUESTIONS[which]
    question = CORPUS.bank(KEYS)[record["question"]]
    rows_of = defaultdict(list)
    for n in range(0, len(record["variant"]), every):
        rows_of[record["rules"][record["variant"][n]]].append(n)
    compared, wrong = 0, []
    for name, rows in rows_of.items():
        table = by_columns(record, question, name, rows)
        for n in rows:
            answers = {key: texts[n] for key, texts in record["entries"].items()}
            variant = question.variant(**record["variants"][record["variant"][n]])
            single = wm.mark(variant, answers, CORPUS.rules(name))
            for key, text in answers.items():
                compared += 1
                if (alone := as_in_a_table(single[key])) != (there := table[n, key]):
                    wrong.append(f"{record['question']} {key} row {n} {text!r}: alone {alone}, in a table {there}")
    return compared, wrong


@pytest.mark.parametrize("which", TABLED[:FEW], ids=lambda n: KEYS[n])
def test_some_papers_are_marked_alike_alone_and_in_a_table(which: int) -> None:
    compared, wrong = disagreements(which, EVERY)
    assert compared > 40
    assert wrong == []


def test_what_others_typed_of_their_lines_says_nothing_of_an_answer() -> None:
    """Of each set of lines somebody typed all, and nothing else is in the table but these."""
    question = BANK["battery-hours"]
    given = {"C": 110, "U": 12.8, "k": 65, "P": 120, "t_n": 12}  # 9.375 A, 71.5 A h, 7.627 h
    papers = [
        {"a.I": current, "a.Q": charge, "a": hours}
        for current in ("", "9.4 A", "9.37 A")
        for charge in ("", "72 A h", "71.5 A h")
        for hours in ("7.6 h", "7.66 h", "7.68 h", "11.7 h", "4.11 h", "458 min", "0.0763 h")
    ]
    table = wm.mark_table(question, pd.concat([pd.DataFrame([given] * len(papers)), pd.DataFrame(papers)], axis=1))
    for n, paper in enumerate(papers):
        single = wm.mark(question.variant(**given), paper)
        for key in paper:
            assert as_in_a_table(single[key]) == [table[f"{key}.{f}"][n] for f in CORPUS.IN_TABLE], (paper, key)


def test_a_right_working_cut_off_and_without_its_unit_is_a_fault_of_the_unit_in_both() -> None:
    """300 · pi · 20 · 6 = 113.097 kN, of which 113.0 is left where the rest is dropped."""
    given = {"tau": 300, "d": 20, "t": 6}
    table = wm.mark_table(BANK["drain-hole"], pd.DataFrame([{**given, "a": "113.0"}]))
    single = wm.mark(BANK["drain-hole"].variant(**given), {"a": "113.0"})["a"]
    assert single.verdict == table["a.verdict"][0] == "unit"


@pytest.mark.deep
@pytest.mark.parametrize("which", TABLED, ids=lambda n: KEYS[n])
def test_all_papers_of_a_question_are_marked_alike_alone_and_in_a_table(
    which: int, record_property: Callable[[str, object], None]
) -> None:
    compared, wrong = disagreements(which, 1)
    record_property("compared", compared)  # --junitxml keeps it
    assert compared > 500
    assert wrong == []
