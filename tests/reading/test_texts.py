"""A column of texts of which many are the same stands for the texts as they were typed."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.reading.column.columns import read_column
from witnessmark.reading.column.texts import Texts, texts_at

TYPED = ["94.2 kN", "", "9,42 kN", "about 94", "94.2 kN", "1,295 N", "94.2 kN", "94.2 N"]


def column(texts: list[str]) -> Texts:
    """The same texts, each told once."""
    different = list(dict.fromkeys(texts))
    return Texts(different, np.array([different.index(text) for text in texts], np.intp))


@given(st.lists(st.sampled_from(TYPED), min_size=1), st.data())
def test_it_has_the_texts_of_its_rows_and_none_that_stands_in_no_row(texts: list[str], data: st.DataObject) -> None:
    told = column(texts)
    start, stop = sorted(data.draw(st.tuples(*[st.integers(0, len(texts))] * 2)))
    rows = np.array(data.draw(st.lists(st.integers(0, len(texts) - 1))), np.intp)
    assert (list(told), len(told), told[0], told[-1]) == (texts, len(texts), texts[0], texts[-1])
    for some, expected in ((told[start:stop], texts[start:stop]), (told.at(rows), [texts[row] for row in rows])):
        assert list(some) == expected
        assert set(some.different) == set(expected)
    assert list(texts_at(told, rows)) == list(texts_at(texts, rows))


def test_it_is_read_as_its_texts_are() -> None:
    one, other = read_column(TYPED * 3, "kN"), read_column(column(TYPED * 3), "kN")
    for row in range(len(TYPED) * 3):
        assert one.reading(row) == other.reading(row)
    np.testing.assert_array_equal(one.si, other.si)
    np.testing.assert_array_equal(one.certainty, other.certainty)
