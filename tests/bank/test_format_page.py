"""The page on the format of bank files: its examples load, its problems are said, its keys are complete."""

import json
import re
from pathlib import Path

import pytest

from bank_cases import problems_of
from witnessmark.files.bank.folder import load_bank
from witnessmark.files.class_folder.task_text import task_from_text
from witnessmark.files.shapes.schemas import schemas
from witnessmark.maths.many import OF_MANY
from witnessmark.maths.syntax import WORDS_OF_FORMULAS
from witnessmark.questions.model.constants import CONSTANTS
from witnessmark.questions.sheet.task import Rules

BANK = Path(__file__).parents[2] / "bank"
PAGE = (BANK / "README.md").read_text(encoding="utf-8")
EXAMPLES = {m[1]: m[0].split("\n", 1)[1] for m in re.finditer(r"(?<=```yaml\n)# (\S+)\n.*?(?=```)", PAGE, re.DOTALL)}


def _bank(folder: Path) -> Path:
    for name, text in EXAMPLES.items():
        if not name.startswith("tasks/"):
            (folder / name).parent.mkdir(parents=True, exist_ok=True)
            (folder / name).write_text(text, encoding="utf-8")
    (folder / "figures").mkdir()
    for name in ("fork-joint", "depth-gauge"):
        (folder / "figures" / f"{name}.svg.j2").write_text("<svg/>", encoding="utf-8")
    return folder


def test_the_examples_are_a_bank_without_problems_or_notes(tmp_path: Path) -> None:
    bank = load_bank(_bank(tmp_path))
    assert sorted(bank) == ["depth-of-a-groove", "fork-pin", "pin-words", "stretch-of-a-cord"]
    assert bank.notes == ()


def test_the_examples_can_be_drawn(tmp_path: Path) -> None:
    for question in load_bank(_bank(tmp_path)).values():
        assert question.draw("seed").shown


def test_the_task_of_the_page_has_the_rules_that_hold_by_themselves() -> None:
    task, problems = task_from_text(EXAMPLES["tasks/shear-1.yaml"], "t.yaml", ("fork-pin", "pin-words"))
    assert problems == ()
    assert task is not None
    assert task.rules == Rules()


def test_the_problems_of_the_page_are_what_loading_says(tmp_path: Path) -> None:
    bank = _bank(tmp_path)
    file = bank / "shear" / "fork-pin.yaml"
    text = file.read_text(encoding="utf-8")
    said = [line.replace("bank/", "") for line in re.findall(r"^bank/.*$", PAGE, re.MULTILINE)]
    for old, new, line in (("unit: kN", "unit: Kn", said[0]), ("answer: P/A_s", "answer: P/d", said[1])):
        file.write_text(text.replace(old, new), encoding="utf-8")
        assert problems_of(bank) == [line]


def _keys(schema: object) -> set[str]:
    match schema:
        case {"properties": dict(properties), **rest}:
            return set(properties) | _keys(list(properties.values())) | _keys(list(rest.values()))
        case dict():
            return _keys(list(schema.values()))
        case list():
            return set().union(*(_keys(item) for item in schema)) if schema else set()
    return set()


@pytest.mark.parametrize("key", sorted(_keys(schemas())))
def test_every_key_is_named_on_the_page_and_stands_in_an_example(key: str) -> None:
    assert f"`{key}`" in PAGE or f"{key}:" in EXAMPLES["tasks/shear-1.yaml"]
    assert any(re.search(rf"(?m)(^|[\s{{-]){re.escape(key)}:", text) for text in EXAMPLES.values())


@pytest.mark.parametrize("name", sorted(WORDS_OF_FORMULAS) + sorted(OF_MANY) + sorted(CONSTANTS))
def test_every_function_and_constant_is_named_on_the_page(name: str) -> None:
    assert re.search(rf"\b{name}\b", PAGE.split("### Expressions")[1].split("### Units")[0])


@pytest.mark.parametrize("name", sorted(schemas()))
def test_the_schemas_for_editors_are_those_of_the_shapes(name: str) -> None:
    committed = json.loads((BANK / f"{name}.schema.json").read_text(encoding="utf-8"))
    assert committed == schemas()[name], "run scripts/write_schema.py"
