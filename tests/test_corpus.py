"""The kept corpus of typed entries is marked as it was: a sample of it here, all of it by `scripts/corpus.py check`."""

import gzip
import importlib.util
import json
import lzma
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

REPOSITORY = Path(__file__).parents[1]
SCRIPT = REPOSITORY / "scripts" / "corpus.py"
FOLDER = REPOSITORY / "tests" / "corpus"
SAMPLE = 4
KEYS_OF_KINDS = ("answer", "lines", "judge", "choice", "order", "points", "hand", "expression")


def run(*typed: str | Path) -> subprocess.CompletedProcess[str]:
    source = {**os.environ, "PYTHONPATH": str(REPOSITORY / "src")}
    command = [sys.executable, SCRIPT, *typed]
    return subprocess.run(command, env=source, capture_output=True, text=True, timeout=900, check=False)


@pytest.fixture(scope="module")
def script() -> Any:
    spec = importlib.util.spec_from_file_location("corpus_script", SCRIPT)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="module")
def archive() -> list[dict[str, Any]]:
    lines = lzma.decompress((FOLDER / "corpus.jsonl.xz").read_bytes()).decode("utf-8").splitlines()
    return [json.loads(line) for line in lines]


def test_the_sampled_questions_are_marked_as_they_were() -> None:
    done = run("check", "--questions", str(SAMPLE))
    assert done.returncode == 0, done.stdout + done.stderr
    assert f"0 of {SAMPLE + 1} hashes differ" in done.stdout


def test_a_hash_that_is_not_the_kept_one_is_named(script: Any) -> None:
    kept = script.kept()
    assert script.check(kept) == []
    assert script.check(kept | {"anode": kept["anode"][::-1]}) == ["anode: outcomes differ"]
    assert script.check(kept | {"a-new-one": "0" * 64}) == ["a-new-one: no hash is kept"]
    assert "itself is not the one" in script.check(kept | {"(corpus)": "0" * 64})[0]


def test_two_files_of_outcomes_are_compared_field_by_field(tmp_path: Path) -> None:
    where = ["fork-pin", 3, 17, "a.A_s", "mark", "94,2"]
    old = [*where, {"verdict": "slip", "marks": "1", "evidence": [{"sure": "0.97"}, {"sure": "0.02"}]}]
    new = [*where, {"verdict": "slip", "marks": "1.5", "evidence": [{"sure": "0.97"}]}]
    for name, lines in (("old", [old, old]), ("new", [old, new])):
        (tmp_path / name).write_bytes(gzip.compress("".join(f"{json.dumps(line)}\n" for line in lines).encode()))
    done = run("compare", tmp_path / "old", tmp_path / "new")
    assert done.returncode == 1
    assert done.stdout.splitlines() == [
        "fork-pin, variant 3, row 17, a.A_s by mark: '94,2'", "    marks: '1' -> '1.5'",
        "    evidence.1.sure: '0.02' -> '-'", "1 answers differ", "  1 in marks", "  1 in evidence.sure",
        "  1 in fork-pin",
    ]  # fmt: skip
    same = run("compare", tmp_path / "old", tmp_path / "old")
    assert (same.returncode, same.stdout) == (0, "0 answers differ\n")


def test_the_corpus_has_two_hundred_thousand_entries_and_each_question_its_hash(archive: list[dict[str, Any]]) -> None:
    _, *questions = archive
    typed = [text for question in questions for texts in question["entries"].values() for text in texts]
    assert sum(text.strip() != "" for text in typed) > 200_000
    lines = (FOLDER / "outcomes.sha256").read_text(encoding="utf-8").splitlines()
    hashed = [line.split("  ")[1] for line in lines]
    assert hashed == [*(question["question"] for question in questions), "(corpus)", "(all)"]


def test_the_sample_has_every_kind_of_find(archive: list[dict[str, Any]]) -> None:
    head, *questions = archive
    texts = {Path(name).stem: text for name, text in head["bank"].items()}
    sampled = "".join(texts[question["question"]] for question in questions[:SAMPLE])
    assert [key for key in KEYS_OF_KINDS if f"\n    {key}:" not in sampled] == []
