"""Marking raises on nothing that was typed, whatever is asked and whatever signs of Unicode stand in it."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

import witnessmark as wm
from bank_fixture import BANK
from marking.typed_text import FORMULAS, anything_typed
from searching import examples

CATEGORIES = (
    "Lu", "Ll", "Lt", "Lm", "Lo", "Mn", "Mc", "Me", "Nd", "Nl", "No", "Pc", "Pd", "Ps", "Pe", "Pi", "Pf", "Po", "Sm",
    "Sc", "Sk", "So", "Zs", "Zl", "Zp", "Cc", "Cf", "Cs", "Co", "Cn",
)  # fmt: skip
"""Every general category of Unicode (UAX #44, table 12)."""
PIECES = (
    "7", "0", "1e9", ",", ".", "-", "−", "/", ":", "^", "²", "½", "٣", "kN", "kNN", "mm", "%", "°", "'", '"', "(", ")",
    "[", "=", "≈", "π", "√", "log", "sin", "d", "F", "a", "b", "C", "yes", "no", "not", "maybe", "then", ">", "<", "->",
    "or", "to", "\n", "\t", "\x00", "\u200b", "\u202e", "\ufeff", *FORMULAS,
)  # fmt: skip


def _one_of_each_kind() -> dict[str, tuple[str, str]]:
    """Question and part for each kind of find, and for each unit that is asked."""
    found: dict[str, tuple[str, str]] = {}
    for key, question in BANK.items():
        for part in question.parts:
            found.setdefault(f"{type(part).__name__} {getattr(part, 'unit', '')}".strip(), (key, part.key))
    return found


KINDS = _one_of_each_kind()
SIGN = st.one_of(*(st.characters(categories=[category]) for category in CATEGORIES))  # type: ignore[list-item]
HOSTILE = st.one_of(
    st.lists(st.one_of(st.sampled_from(PIECES), SIGN), max_size=20).map("".join),
    st.tuples(st.lists(st.one_of(st.sampled_from(PIECES), SIGN), max_size=4).map("".join), st.integers(1, 300)).map(
        lambda repeated: repeated[0] * repeated[1]
    ),
    anything_typed("kN"),
)


@pytest.fixture(scope="module")
def variants() -> dict[str, Any]:
    """One student's numbers for each question that is asked here."""
    return {key: BANK[key].draw("heron") for key in {key for key, _ in KINDS.values()}}


def test_every_kind_of_find_is_tried() -> None:
    kinds = {name.partition(" ")[0] for name in KINDS}
    assert kinds == {type(part).__name__ for question in BANK.values() for part in question.parts}
    assert len(kinds) == 12


@examples(60)
@given(kind=st.sampled_from(sorted(KINDS)), text=HOSTILE)
def test_whatever_is_typed_has_an_outcome(variants: dict[str, Any], kind: str, text: str) -> None:
    key, part = KINDS[kind]
    out = wm.mark(variants[key], {part: text})[part]
    assert out.raw == text
    assert 0 <= out.marks <= out.out_of
    assert out.because


@pytest.mark.deep
@pytest.mark.filterwarnings("ignore:Generating overly large repr")
@pytest.mark.parametrize("kind", sorted(KINDS))
@examples(20)
@given(text=HOSTILE)
def test_whatever_is_typed_has_an_outcome_at_every_kind(variants: dict[str, Any], kind: str, text: str) -> None:
    key, part = KINDS[kind]
    assert wm.mark(variants[key], {part: text})[part].raw == text


def test_a_long_run_of_units_is_read_in_bounded_work(monkeypatch: pytest.MonkeyPatch) -> None:
    """Counted, not timed: how often two units are joined while one entry is read."""
    from witnessmark.reading.unit import products

    joined = 0
    then = products._then

    def counted(*parts: Any) -> Any:
        nonlocal joined
        joined += 1
        return then(*parts)

    monkeypatch.setattr(products, "_then", counted)
    for text in ("kg m s ", "Kg M S ", "k N ", "KG M S/", "ton gal "):
        for times in (2, 8, 11):
            joined = 0
            products.products.cache_clear()
            assert wm.read_quantity(f"7 {text * times}", "kg").certainty in ("unreadable", "wrong dimension")
            assert joined < 6_000, (text, times, joined)
