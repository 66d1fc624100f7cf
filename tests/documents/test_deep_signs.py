"""Every code point that Unicode has given away: as an answer of each kind by itself, and through every document."""

from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context

import pandas as pd
import pytest

import witnessmark as wm
from bank_fixture import BANK
from documents.every_sign import documents, failing, made, signs
from witnessmark.questions.drawable import DrawableQuestion

KINDS = ("copper-rivets", "two-resistors")
"""Questions that have every kind of find between them."""
PER_TEXT, PER_DOCUMENT = 400, 10
ALL = tuple(signs())
SAMPLE = 997
DOCUMENTS_A_PROCESS = 8


def marked(question: DrawableQuestion, typed: list[str]) -> pd.DataFrame:
    """A table with each text as the answer to every part of a question, a row each."""
    variant = question.draw("signs")
    givens = {name: [float(q.number)] * len(typed) for name, q in variant.shown.items()}
    return wm.mark_table(question, pd.DataFrame(givens | {part.key: typed for part in question.parts}, dtype=object))


@pytest.mark.parametrize("key", KINDS)
def test_a_sample_of_signs_as_answers_stops_no_marking(key: str) -> None:
    some = list(ALL[::SAMPLE])
    assert failing(some, lambda texts: marked(BANK[key], list(texts))) == []


@pytest.mark.deep
@pytest.mark.parametrize("key", KINDS)
def test_no_sign_as_an_answer_stops_the_marking(key: str) -> None:
    parts = [ALL[n : n + 20_000] for n in range(0, len(ALL), 20_000)]
    found = [failing(part, lambda texts: marked(BANK[key], list(texts))) for part in parts]
    assert [one for several in found for one in several] == []


@pytest.mark.deep
@pytest.mark.parametrize("name", documents(["a"]))
def test_no_sign_stops_a_document(name: str) -> None:
    """So many signs a text, so many texts a document; halved where one fails. In processes that end after some
    documents, since typst keeps what it has set."""
    texts = ["".join(ALL[n : n + PER_TEXT]) for n in range(0, len(ALL), PER_TEXT)]
    batches = [texts[n : n + PER_DOCUMENT] for n in range(0, len(texts), PER_DOCUMENT)]
    with ProcessPoolExecutor(1, mp_context=get_context("spawn"), max_tasks_per_child=DOCUMENTS_A_PROCESS) as others:
        found = [failing(batch, lambda some: others.submit(made, name, list(some)).result()) for batch in batches]
    assert [one for several in found for one in several] == []
