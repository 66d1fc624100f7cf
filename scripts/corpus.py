"""Marks a kept corpus of 200,000 typed entries, to show that a change of the code leaves every outcome as it was.

Run with `python scripts/corpus.py COMMAND`:

    outcomes OUT   marks the corpus, writes every outcome to OUT (gzip, one JSON line an answer), prints the hashes;
                   with --keep it writes `tests/corpus/outcomes.sha256` anew, where outcomes were meant to change
    check          tells whether the hashes are those of that file
    compare A B    tells which answers two files of outcomes say otherwise of, field by field

`--questions N` takes the first N questions alone (the first four have every kind of find), `--workers N` so many
processes. The corpus (`tests/corpus/README.md`) has its own copy of the bank, so that only a change of reading or of
marking tells. Nothing but the public names of `witnessmark` is used: set PYTHONPATH to the `src` of another checkout to
mark with its code.
"""

import argparse
import functools
import gzip
import hashlib
import itertools
import json
import lzma
import os
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from decimal import Decimal
from pathlib import Path
from typing import Any

FOLDER = Path(__file__).resolve().parents[1] / "tests" / "corpus"
ARCHIVE, HASHES = FOLDER / "corpus.jsonl.xz", FOLDER / "outcomes.sha256"
IN_TABLE = ("marks", "out_of", "verdict", "misconceptions", "sure")
IN_OUTCOME = (
    "marks", "out_of", "verdict", "because", "misconceptions", "sure", "raw", "read_as", "repairs", "notes", "in_tray",
)  # fmt: skip
IN_EVIDENCE = ("verdict", "misconceptions", "marks", "sentence", "formula", "sure")
TOTAL, CORPUS = "(all)", "(corpus)"
MOST_SHOWN = 20
Record = dict[str, Any]


def plain(value: Any) -> Any:
    """A field as JSON: numbers as text, floats to 12 significant digits."""
    if isinstance(value, Decimal):
        return f"{value.normalize():f}"
    if isinstance(value, str):
        return str(value)
    if isinstance(value, tuple | list):
        return [plain(v) for v in value]
    return f"{float(value):.12g}"


# The corpus.


def corpus() -> tuple[Record, list[Record]]:
    """The frozen bank with the rules by name, and a record for each question."""
    head, *questions = lzma.decompress(ARCHIVE.read_bytes()).decode("utf-8").splitlines()
    return json.loads(head), [json.loads(line) for line in questions]


@functools.cache
def bank(keys: tuple[str, ...]) -> Any:
    """The frozen bank with these questions; a process loads it once."""
    import witnessmark as wm

    files: dict[str, str] = corpus()[0]["bank"]
    with tempfile.TemporaryDirectory() as folder:
        for name, text in files.items():
            path = Path(folder) / name
            if path.parent.name in ("tables", "figures") or "/" not in name or path.stem in keys:
                path.parent.mkdir(parents=True, exist_ok=True)
                path.write_text(text, encoding="utf-8")
        return wm.load_bank(folder)


def rules(name: str) -> Any:
    """The rules of this name."""
    import witnessmark as wm

    stated: dict[str, Any] = {k: Decimal(v) if isinstance(v, str) else v for k, v in corpus_rules()[name].items()}
    return wm.Rules(**stated)


@functools.cache
def corpus_rules() -> dict[str, dict[str, Any]]:
    """Every set of rules, as stated."""
    found: dict[str, dict[str, Any]] = corpus()[0]["rules"]
    return found


# Marking.


def outcomes_of(record: Record, keys: tuple[str, ...]) -> list[str]:
    """The outcomes of one question, a line each: marked as tables, as one class, and some rows alone in full."""
    question = bank(keys)[record["question"]]
    if has_columns(record):
        tables = [*_table(record, question, "table"), *_table(record, question, "class")]
        lines = [*tables, *_alone(record, question, record["full"])]
    else:
        lines = [*_alone(record, question, range(len(record["variant"])))]
    return [json.dumps([record["question"], *line], ensure_ascii=False) for line in lines]


def has_columns(record: Record) -> bool:
    """False where a part has the name of a given, so that no table can have a column for both."""
    return not record["entries"].keys() & record["variants"][0].keys()


def _table(record: Record, question: Any, door: str) -> Iterator[list[Any]]:
    """Rows marked by columns, one table for each set of rules; as a class those of the usual rules."""
    import pandas as pd

    import witnessmark as wm

    of_row = [record["rules"][variant] for variant in record["variant"]]
    for name in ("usual",) if door == "class" else tuple(dict.fromkeys(record["rules"])):
        rows = [n for n, rule in enumerate(of_row) if rule == name]
        givens = pd.DataFrame([record["variants"][record["variant"][n]] for n in rows])
        entries = {key: [texts[n] for n in rows] for key, texts in record["entries"].items()}
        frame = pd.concat([givens, pd.DataFrame(entries)], axis=1)
        marked = wm.mark_table(question, frame, rules(name), as_class=door == "class")
        for key, texts in entries.items():
            columns = [marked[f"{key}.{field}"].tolist() for field in IN_TABLE]
            for n, text, *values in zip(rows, texts, *columns, strict=True):
                fields = dict(zip(IN_TABLE, map(plain, values), strict=True))
                yield [record["variant"][n], n, key, door, text, fields]


def _alone(record: Record, question: Any, rows: Iterable[int]) -> Iterator[list[Any]]:
    """Some rows marked one by one, with every field of every outcome."""
    import witnessmark as wm

    for n in rows:
        which = record["variant"][n]
        answers = {key: texts[n] for key, texts in record["entries"].items() if texts[n]}
        marked = wm.mark(question.variant(**record["variants"][which]), answers, rules(record["rules"][which]))
        for key, outcome in marked.items():
            fields = {field: plain(getattr(outcome, field)) for field in IN_OUTCOME}
            fields["evidence"] = [{f: plain(getattr(e, f)) for f in IN_EVIDENCE} for e in outcome.evidence]
            yield [which, n, key, "mark", answers.get(key, ""), fields]


def marked(count: int | None, workers: int) -> Iterator[tuple[str, str]]:
    """The key of each question (the first `count`, or all) and its outcomes as text."""
    records = corpus()[1][:count]
    keys = tuple(record["question"] for record in records)
    with ProcessPoolExecutor(workers) as processes:
        for key, lines in zip(keys, processes.map(outcomes_of, records, itertools.repeat(keys)), strict=True):
            yield key, "".join(f"{line}\n" for line in lines)


# Hashes.


def hashes(texts: Iterable[tuple[str, str]], whole: bool) -> dict[str, str]:
    """SHA-256 by question, and over all where the whole corpus was marked."""
    found: dict[str, str] = {}
    total = hashlib.sha256()
    for key, text in texts:
        found[key] = hashlib.sha256(text.encode()).hexdigest()
        total.update(text.encode())
    found[CORPUS] = hashlib.sha256(ARCHIVE.read_bytes()).hexdigest()
    return found | ({TOTAL: total.hexdigest()} if whole else {})


def written(found: dict[str, str]) -> str:
    """Hashes as the lines of a file."""
    return "".join(f"{digest}  {key}\n" for key, digest in found.items())


def kept() -> dict[str, str]:
    """The hashes that are kept."""
    lines = HASHES.read_text(encoding="utf-8").splitlines()
    return {key: digest for digest, key in (line.split("  ") for line in lines)}


def to_file(path: Path, texts: Iterable[tuple[str, str]]) -> Iterator[tuple[str, str]]:
    """The same, written on the way."""
    with path.open("wb") as raw, gzip.GzipFile(fileobj=raw, mode="wb", mtime=0, filename="", compresslevel=6) as file:
        for key, text in texts:
            file.write(text.encode())
            yield key, text


def check(found: dict[str, str]) -> list[str]:
    """What differs from the hashes kept, as lines."""
    expected = kept()
    if found[CORPUS] != expected[CORPUS]:
        return [f"{ARCHIVE.name} itself is not the one that the hashes were made from"]
    differing = [key for key, digest in found.items() if digest != expected.get(key)]
    return [f"{key}: {'outcomes differ' if key in expected else 'no hash is kept'}" for key in differing]


# Comparing.


def flat(value: Any, name: str = "") -> dict[str, str]:
    """The fields of an outcome by name (`evidence.0.sure`)."""
    if not isinstance(value, dict | list):
        return {name: value}
    parts = value.items() if isinstance(value, dict) else enumerate(value)
    found = {} if parts else {name: ""}
    for key, part in parts:
        found |= flat(part, f"{name}.{key}" if name else str(key))
    return found


def differing(first: Path, second: Path) -> Iterator[tuple[list[Any], dict[str, tuple[str, str]]]]:
    """Each answer that two files say otherwise of: where it stands, and both texts of each field."""
    with gzip.open(first, "rt", encoding="utf-8") as a, gzip.open(second, "rt", encoding="utf-8") as b:
        for one, other in itertools.zip_longest(a, b, fillvalue=""):
            if one != other:
                yield _pair(one, other)


def _pair(one: str, other: str) -> tuple[list[Any], dict[str, tuple[str, str]]]:
    if not one or not other:
        where = json.loads(one or other)[:-1]
        return where, {"the whole line": ("there" if one else "absent", "there" if other else "absent")}
    (*where, mine), (*there, theirs) = json.loads(one), json.loads(other)
    if where != there:
        return where, {"another answer stands in this line": (str(where), str(there))}
    fields, others = flat(mine), flat(theirs)
    names = dict.fromkeys([*fields, *others])
    return where, {n: (fields.get(n, "-"), others.get(n, "-")) for n in names if fields.get(n) != others.get(n)}


def _unnumbered(name: str) -> str:
    """`evidence.sure` of `evidence.0.sure`."""
    return ".".join(part for part in name.split(".") if not part.isdigit())


def compare(first: Path, second: Path, most: int) -> bool:
    """Prints the first differences and their tally; True where there are none."""
    by_question: Counter[str] = Counter()
    by_field: Counter[str] = Counter()
    for where, fields in differing(first, second):
        question, variant, row, key, door, entry = where
        by_question[question] += 1
        by_field.update(dict.fromkeys(map(_unnumbered, fields), 1))
        if by_question.total() <= most:
            print(f"{question}, variant {variant}, row {row}, {key} by {door}: {entry!r}")
            print(*(f"    {name}: {a!r} -> {b!r}" for name, (a, b) in fields.items()), sep="\n")
    print(f"{by_question.total():,} answers differ")
    for name, count in [*by_field.most_common(), *by_question.most_common()]:
        print(f"  {count:,} in {name}")
    return not by_question


# The commands.


def arguments(typed: Sequence[str]) -> argparse.Namespace:
    """What was typed."""
    parser = argparse.ArgumentParser(description="Marks a kept corpus of typed entries, and compares outcomes.")
    commands = parser.add_subparsers(dest="command", required=True)
    for name in ("outcomes", "check"):
        command = commands.add_parser(name)
        command.add_argument("--workers", type=int, default=min(os.cpu_count() or 1, 8))
        command.add_argument("--questions", type=int)
        if name == "outcomes":
            command.add_argument("out", type=Path)
            command.add_argument("--keep", action="store_true")
    command = commands.add_parser("compare")
    command.add_argument("first", type=Path)
    command.add_argument("second", type=Path)
    command.add_argument("--most", type=int, default=MOST_SHOWN)
    asked = parser.parse_args(typed)
    if getattr(asked, "keep", False) and asked.questions is not None:
        parser.error("hashes are kept of the whole corpus alone; leave --questions out")
    return asked


def main() -> None:
    """One command; exit code 1 where outcomes differ."""
    asked = arguments(sys.argv[1:])
    if asked.command == "compare":
        raise SystemExit(0 if compare(asked.first, asked.second, asked.most) else 1)
    start = time.perf_counter()
    texts = marked(asked.questions, asked.workers)
    texts = to_file(asked.out, texts) if asked.command == "outcomes" else texts
    found = hashes(texts, asked.questions is None)
    print(f"marked in {time.perf_counter() - start:.0f} s")
    if asked.command == "check":
        raise SystemExit(0 if reported(check(found), found) else 1)
    print(written(found), end="")
    if asked.keep:
        HASHES.write_text(written(found), encoding="utf-8")


def reported(problems: list[str], found: dict[str, str]) -> bool:
    """Prints what a check found; True where nothing differs."""
    for problem in problems:
        print(problem)
    print(f"{len(problems)} of {len(found)} hashes differ; {TOTAL} {found.get(TOTAL, 'not asked')}")
    if problems:
        print("see which answers: `outcomes` with this code and with the code before, then `compare`")
    return not problems


if __name__ == "__main__":
    main()
