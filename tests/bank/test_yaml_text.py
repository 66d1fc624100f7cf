"""The strict part of YAML: what is read, what stays text, and agreement with PyYAML where both read alike."""

from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from bank_cases import SMALL_BANK
from witnessmark.files.shapes.yaml_text import read_yaml

BANK = Path(__file__).parents[2] / "bank"
# YAML 1.2.2 sec. 10.3.2, the core schema, as far as decimals go; 1.1 reads several of these otherwise.
SCALARS: list[tuple[str, Any]] = [
    ("1", Decimal(1)), ("-12", Decimal(-12)), ("+3", Decimal(3)), ("0.50", Decimal("0.50")), (".5", Decimal("0.5")),
    ("5.", Decimal(5)), ("1e3", Decimal(1000)), ("-2.5E-3", Decimal("-0.0025")), ("007", Decimal(7)),
    ("true", True), ("false", False), ("null", None), ("~", None), ("", None),
    ("2027-03-05", "2027-03-05"), ("12:30:45", "12:30:45"), ("1_000", "1_000"), ("0x1F", "0x1F"), ("0o17", "0o17"),
    (".inf", ".inf"), (".nan", ".nan"), ("1e999", "1e999"), ("1.2.3", "1.2.3"), ("y", "y"), ("n", "n"),
    ("'no'", "no"), ('"true"', "true"), ("'1.10'", "1.10"), ("1.10", Decimal("1.10")), ("10 mm", "10 mm"),
    ("１２", "１２"), ("٣", "٣"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "value"), SCALARS, ids=[text or "empty" for text, _ in SCALARS])
def test_a_scalar_is_read_as_written(text: str, value: Any) -> None:
    read, problems = read_yaml(f"key: {text}\n", "f.yaml")
    assert problems == ()
    assert read.data == {"key": value}
    assert type(read.data["key"]) is type(value)
    assert str(read.data["key"]) == str(value)


def test_every_value_and_key_has_its_place() -> None:
    read, _ = read_yaml('a:\n  - {τ: 1, b: "x"}\n  - >\n    folded\n', "f.yaml")
    assert str(read.place(("a", 0, "τ"))) == "f.yaml:2:9"
    assert str(read.key_place(("a", 0, "b"))) == "f.yaml:2:12"
    assert str(read.place(("a", 0, "b"))) == "f.yaml:2:15"
    assert str(read.place(("a", 1))) == "f.yaml:3:5"
    assert str(read.place_inside(("a", 1), "folded")) == "f.yaml:4:5"
    assert str(read.place_inside(("a", 0, "b"), "x", 0)) == "f.yaml:2:16"


def test_the_place_of_what_is_not_there_is_that_of_what_is_above_it() -> None:
    read, _ = read_yaml("a:\n  b: 1\n", "f.yaml")
    assert str(read.place(("a", "c", 3))) == "f.yaml:2:3"


@pytest.mark.parametrize("file", sorted([*BANK.rglob("*.yaml"), *SMALL_BANK.rglob("*.yaml")]), ids=lambda p: p.stem)
def test_files_of_the_bank_are_read_as_pyyaml_reads_them(file: Path) -> None:
    """PyYAML 6 is the reference for structure and text; its numbers are floats."""
    text = file.read_text(encoding="utf-8")
    read, problems = read_yaml(text, file.name)
    assert problems == ()
    assert _with_floats(read.data) == _with_floats(yaml.safe_load(text))


def _with_floats(data: Any) -> Any:
    match data:
        case dict():
            return {str(key): _with_floats(value) for key, value in data.items()}
        case list():
            return [_with_floats(value) for value in data]
        case bool() | None | str():
            return data
    return float(data)


@given(st.text(max_size=200))
def test_no_text_breaks_the_reader(text: str) -> None:
    read, problems = read_yaml(text, "f.yaml")
    assert read.data is not None or problems or text.strip(" \n\r\x85\u2028\u2029\ufeff") in ("~", "null", "---", "...")


@given(st.text(alphabet="ab:{}[],&*!|>-'\"#%@` \n\t01.", max_size=60))
def test_no_marks_of_yaml_break_the_reader(text: str) -> None:
    read, problems = read_yaml(text, "f.yaml")
    for problem in problems:
        assert problem.place.line <= text.count("\n") + 2
    assert isinstance(read.data, dict | list | str | Decimal | bool | None)


def test_aliases_that_would_grow_without_end_are_never_followed() -> None:
    lines = ["a0: &a0 [x, x, x, x, x, x, x, x, x]"]
    lines += [f"a{i}: &a{i} [{', '.join([f'*a{i - 1}'] * 9)}]" for i in range(1, 9)]
    read, problems = read_yaml("\n".join(lines), "f.yaml")
    assert read.data["a8"] == [None] * 9
    assert {problem.code for problem in problems} == {"anchor", "alias"}


def test_the_slower_loader_reads_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    text = (SMALL_BANK / "shear" / "drain-hole.yaml").read_text(encoding="utf-8")
    fast, _ = read_yaml(text, "f.yaml")
    monkeypatch.setattr("witnessmark.files.shapes.yaml_text.LOADER", yaml.SafeLoader)
    slow, problems = read_yaml(text, "f.yaml")
    assert problems == ()
    assert (slow.data, slow.values.keys(), slow.keys) == (fast.data, fast.values.keys(), fast.keys)
    starts = {path: (s.line, s.column, s.start) for path, s in slow.values.items()}
    assert starts == {path: (s.line, s.column, s.start) for path, s in fast.values.items()}
