"""Every row of the tables of typed entries is read as the row says."""

import pytest

from reading.reading_cases import ALL, MORE, SPELLINGS, Case


@pytest.mark.parametrize("case", SPELLINGS, ids=str)
def test_each_row_of_the_agreed_table_reads_as_it_says(case: Case) -> None:
    assert case.fault() == ""


@pytest.mark.parametrize("case", MORE, ids=str)
def test_each_row_of_the_families_reads_as_it_says(case: Case) -> None:
    assert case.fault() == ""


def test_the_families_have_more_than_250_rows_and_no_row_twice() -> None:
    assert len(MORE) > 250
    assert len({(c.entry, c.asked, c.plausible) for c in MORE}) == len(MORE)


@pytest.mark.parametrize("case", ALL, ids=str)
def test_an_unreadable_row_has_a_reason_and_a_repaired_one_a_repair(case: Case) -> None:
    reading = case.reading
    said = (*reading.repairs, *(r for c in reading.readings for r in c.repairs))
    assert bool(reading.reason) == (reading.certainty == "unreadable")
    assert bool(said) or reading.certainty != "repaired"
    assert not said or reading.certainty != "certain"
    assert reading.raw == case.entry
