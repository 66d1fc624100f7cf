"""The bank folder as one Bank: question files (in any subfolder), misconceptions and their families, tables, figures.

Every problem of every file is collected before any is raised, so that an author sees all of them at once.
"""

import re
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from witnessmark.files.bank.families_text import families_from_text
from witnessmark.files.bank.question_text import Known
from witnessmark.files.bank.read_once import misconceptions_once, question_once, relations_once
from witnessmark.files.bank.remains import what_remains
from witnessmark.files.bank.tables_text import table_from_text
from witnessmark.files.safe.bounded import read_bounded
from witnessmark.files.safe.plain_text import LARGEST
from witnessmark.files.shapes.yaml_text import YamlText
from witnessmark.questions.bank import Bank
from witnessmark.questions.drawable import DrawableQuestion
from witnessmark.questions.model.kinds import shown_by
from witnessmark.questions.model.question import Misconception, Table
from witnessmark.questions.model.relations import TopicRelations
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem

FIGURE_ENDING = ".svg.j2"
FIGURES = "figures"
MISCONCEPTIONS = "misconceptions.yaml"
FAMILIES = "families.yaml"
RELATIONS = "relations.yaml"


@dataclass(frozen=True, slots=True)
class AsFarAsRead:
    """A bank as far as it could be read: its whole questions, what remains of those with problems (by file), and every
    problem of every file."""

    bank: Bank
    remains: Mapping[Path, DrawableQuestion]
    problems: tuple[Problem, ...]


def load_bank(path: Path | str) -> Bank:
    """The bank of a folder; raises ProblemsFound once, with every problem of every file."""
    found = read_bank(path)
    if found.problems:
        raise ProblemsFound(found.problems)
    return found.bank


def read_bank(path: Path | str) -> AsFarAsRead:
    """The bank of a folder as far as it can be read; raises ProblemsFound where there is no folder.

    A topic's folder is the bank around it with the questions of that topic alone.
    """
    folder = Path(path)
    if not folder.is_dir():
        found = "a file" if folder.exists() else "nothing"
        remedy = "type the path of the bank"
        raise ProblemsFound([Problem("no-bank", Place(str(folder)), "a folder of question files", found, remedy)])
    home = _home_of(folder)
    around = _around(home)
    problems = [*_wrong_endings(folder), *around.problems]
    remains: dict[Path, DrawableQuestion] = {}
    questions = _questions(_question_files(folder), around, problems, remains)
    if not questions and not problems:
        place, remedy = Place(str(folder)), "write the first one there"
        problems.append(Problem("no-questions", place, "question files (.yaml)", "none", remedy))
    ordered = {q.key: q for q in sorted(questions.values(), key=lambda q: (q.topic, q.key))}
    relations = _relations(home / RELATIONS, ordered if home == folder else None, problems)
    notes = (*_unused_tables(folder, around.tables, ordered), *_unused_misconceptions(around.read, ordered))
    bank = replace(around.bank(ordered, notes if home == folder else ()), relations=relations)
    return AsFarAsRead(bank, remains, tuple(problems))


def load_question_file(path: Path | str) -> Bank:
    """A bank of this one question, with the tables, misconceptions and figures around it.

    Raises ProblemsFound with every problem of the file, and of the tables and misconceptions of its bank; of the other
    questions nothing is read but their keys.
    """
    found = read_question_file(path)
    if found.problems:
        raise ProblemsFound(found.problems)
    return found.bank


def read_question_file(path: Path | str, typed: str | None = None) -> AsFarAsRead:
    """The same as far as it can be read, with what was `typed` in the place of what the file holds; raises
    ProblemsFound where there is no such file."""
    file = Path(path)
    if not file.is_file():
        found = "a folder" if file.exists() else "nothing"
        remedy = "type the path of the file"
        raise ProblemsFound([Problem("no-question-file", Place(str(file)), "a question file", found, remedy)])
    folder = bank_around(file)
    around = _around(folder)
    problems = list(around.problems)
    remains: dict[Path, DrawableQuestion] = {}
    questions = _questions([file], around, problems, remains, typed)
    problems += [p for key in questions for p in _twice(key, file, _question_files(folder))]
    return AsFarAsRead(around.bank(questions, ()), remains, tuple(problems))


def bank_around(file: Path) -> Path:
    """The folder of the bank that a question file lies in: the nearest one with misconceptions, tables or figures."""
    whole = file.resolve()
    for folder in whole.parents:
        if (folder / MISCONCEPTIONS).is_file() or (folder / "tables").is_dir() or (folder / FIGURES).is_dir():
            return _as_typed(folder, file)
    return file.parent


def _home_of(folder: Path) -> Path:
    """The folder of the bank that a folder is, or is a part of."""
    around = bank_around(folder / MISCONCEPTIONS)
    return around if (around / MISCONCEPTIONS).is_file() else folder


def _as_typed(folder: Path, file: Path) -> Path:
    """The folder in the words of the path that was typed, where it lies above that path."""
    return next((above for above in file.parents if above.resolve() == folder), folder)


@dataclass(frozen=True, slots=True)
class _Around:
    """What a bank holds beside its questions, the problems of that, and all the `texts` that it was read from."""

    folder: Path
    tables: Mapping[str, Table]
    misconceptions: Mapping[str, Misconception] | None
    read: YamlText
    known: Known
    problems: tuple[Problem, ...]
    families: Mapping[str, str]
    texts: tuple[str, ...]

    def bank(self, questions: Mapping[str, DrawableQuestion], notes: tuple[Problem, ...]) -> Bank:
        known = self.misconceptions or {}
        return Bank(questions, known, self.tables, self.folder / FIGURES, notes, self.families)


def _around(folder: Path) -> _Around:
    problems: list[Problem] = []
    tables, broken, texts = _tables(folder / "tables", problems)
    misconceptions, read = _misconceptions(folder / MISCONCEPTIONS, problems)
    known = Known(misconceptions, _figures(folder / FIGURES), broken)
    families = _families(folder / FAMILIES, misconceptions, problems)
    texts += ("misconceptions", str(misconceptions is not None), read.text, "figures", *sorted(known.figures or ()))
    return _Around(folder, tables, misconceptions, read, known, tuple(problems), families, texts)


def question_file_of(folder: Path, key: str) -> Path | None:
    """The file of a bank that says it holds this question; None where no file does, or several do."""
    found = [file for file in _question_files(folder) if _names(file, key)] if key else []
    return found[0] if len(found) == 1 and bank_around(found[0]).resolve() == folder.resolve() else None


def _names(file: Path, key: str) -> bool:
    """True of a file with a line `question: KEY`, read as text."""
    line = re.compile(rf"(?m)^question:[ ]*[\"']?{re.escape(key)}[\"']?[ ]*(#.*)?\r?$")
    return bool(line.search(read_bounded(file, LARGEST)[0].decode("utf-8-sig", "replace")))


def _twice(key: str, file: Path, others: Iterable[Path]) -> Iterable[Problem]:
    """A problem for another file of the bank with the same key."""
    for other in others:
        if other.resolve() != file.resolve() and _names(other, key):
            found = f"'{key}' again (also in {other})"
            yield Problem("question-twice", Place(str(file)), "each key once in a bank", found, "rename one")


def _wrong_endings(folder: Path) -> Iterable[Problem]:
    for file in sorted(folder.rglob("*.yml")):
        place = Place(str(file))
        yield Problem("file-ending", place, "a name that ends in .yaml", ".yml", f"rename it {file.stem}.yaml")


def _text(file: Path, problems: list[Problem]) -> str | None:
    """The text of a file, or None and a problem."""
    content, unread = read_bounded(file, LARGEST)
    if unread:
        problems += unread
        return None
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        before = content[: error.start].decode("utf-8", "replace")
        place = Place(str(file), before.count("\n") + 1, len(before) - (before.rfind("\n") + 1) + 1)
        found = f"the byte {content[error.start]:#04x}"
        problems.append(Problem("not-utf-8", place, "text in UTF-8", found, "save the file as UTF-8"))
        return None


def _tables(folder: Path, problems: list[Problem]) -> tuple[dict[str, Table], frozenset[str], tuple[str, ...]]:
    """The tables by key, the keys of those with problems, and the keys and texts of them all."""
    tables: dict[str, Table] = {}
    broken: set[str] = set()
    texts: list[str] = []
    for file in sorted(folder.glob("*.yaml")):
        text = _text(file, problems)
        texts += [file.stem, text or ""]
        table, found = table_from_text(text, str(file), file.stem) if text is not None else (None, ())
        problems += found
        if table is None:
            broken.add(file.stem)
        else:
            tables[table.key] = table
    return tables, frozenset(broken), tuple(texts)


def _misconceptions(file: Path, problems: list[Problem]) -> tuple[Mapping[str, Misconception] | None, YamlText]:
    """The misconceptions and the file as read; None where it cannot be read, so that no slip is blamed for that."""
    nothing = YamlText(str(file), "")
    if not file.exists():
        return {}, nothing
    text = _text(file, problems)
    if text is None:
        return None, nothing
    found, read, more = misconceptions_once(text, str(file))
    problems += more
    return (found if isinstance(read.data, dict) else None), read


def _families(file: Path, known: Collection[str] | None, problems: list[Problem]) -> Mapping[str, str]:
    text = _text(file, problems) if file.exists() else None
    found, more = families_from_text(text, str(file), known) if text is not None else ({}, ())
    problems += more
    return found


def _relations(
    file: Path, questions: Mapping[str, DrawableQuestion] | None, problems: list[Problem]
) -> Mapping[str, TopicRelations]:
    """The relations of each topic; `questions` are those of the whole bank, None where these are only a part of it.
    Where a file has a problem a question may be missing for that, and none is looked for."""
    text = _text(file, problems) if file.exists() else None
    if text is None:
        return {}
    topics: dict[str, list[str]] = {}
    for question in (questions or {}).values():
        topics.setdefault(question.topic, []).append(question.key)
    found, more = relations_once(text, str(file), None if questions is None or problems else topics)
    problems += more
    return found


def _figures(folder: Path) -> frozenset[str]:
    return frozenset(file.name.removesuffix(FIGURE_ENDING) for file in folder.glob(f"*{FIGURE_ENDING}"))


def _question_files(folder: Path) -> list[Path]:
    elsewhere = {folder / "tables", folder / FIGURES}
    beside = {folder / name for name in (MISCONCEPTIONS, FAMILIES, RELATIONS)}
    return [file for file in sorted(folder.rglob("*.yaml")) if file not in beside and not elsewhere & set(file.parents)]


def _questions(
    files: Iterable[Path], around: _Around, problems: list[Problem], remains: dict[Path, DrawableQuestion],
    typed: str | None = None,
) -> dict[str, DrawableQuestion]:  # fmt: skip
    questions: dict[str, DrawableQuestion] = {}
    owners: dict[str, Path] = {}
    for file in files:
        text = typed if typed is not None else _text(file, problems)
        if text is None:
            continue
        question, found = question_once(text, str(file), around.tables, around.known, around.texts)
        problems += found
        if question is None:
            if rest := what_remains(text, str(file), found, around.tables, around.known):
                remains[file] = rest
            continue
        if question.key in questions:
            first = f"'{question.key}' again (first in {owners[question.key]})"
            problems.append(Problem("question-twice", Place(str(file)), "each key once in a bank", first, "rename one"))
        questions[question.key], owners[question.key] = question, file
    return questions


def _unused_tables(
    folder: Path, tables: Mapping[str, Table], questions: Mapping[str, DrawableQuestion]
) -> Iterable[Problem]:
    used = {key for question in questions.values() for key in question.tables}
    for key in tables:
        if key not in used:
            place = Place(str(folder / "tables" / f"{key}.yaml"))
            yield Problem("unused-table", place, f"a question that draws from {key}", "none")


def _unused_misconceptions(read: YamlText, questions: Mapping[str, DrawableQuestion]) -> Iterable[Problem]:
    used = set()
    for question in questions.values():
        for part in question.parts:
            used |= set(shown_by(part))
    for key in read.data if isinstance(read.data, dict) else ():
        if key not in used:
            place = read.key_place((key,))
            yield Problem("unused-misconception", place, f"a slip or option that shows {key}", "none")
