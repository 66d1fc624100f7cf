"""A task file of a class as a value: `CLASS/tasks/shear-1.yaml`."""

import re
from collections.abc import Callable, Collection
from datetime import date
from decimal import Decimal

from witnessmark.files.bank.fault_text import AS_FAULT, key_of_fault
from witnessmark.files.bank.question_text import check_key
from witnessmark.files.shapes.misfits import fitted
from witnessmark.files.shapes.placed import Placed
from witnessmark.files.shapes.problems import add_misfits
from witnessmark.files.shapes.task_shapes import LateShape, RulesShape, TaskShape
from witnessmark.files.shapes.yaml_text import read_yaml
from witnessmark.questions.model.mark_steps import is_in_steps, steps_text
from witnessmark.questions.model.relations import TopicRelations
from witnessmark.questions.sheet.lateness import Each, Late
from witnessmark.questions.sheet.task import Layout, Rules, Task, Which
from witnessmark.words.nearest import near_or_all
from witnessmark.words.problems import Problem

DATE = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
Listed = Callable[[str], TopicRelations | None]
TAKEN_OFF = (
    "unit missing", "rounded early", "wrong unit", "power of ten", "unknown method", "figures mark", "most taken off",
)  # fmt: skip


def nothing_listed(question: str) -> None:
    """Of a bank without relations."""


def task_from_text(
    text: str, file: str, bank_keys: Collection[str], listed: Listed = nothing_listed
) -> tuple[Task | None, tuple[Problem, ...]]:
    """The task of a file, or None with every problem of the file; `bank_keys` are the questions there are, and `listed`
    tells what relations a sheet can list of the topic of one."""
    read, problems = read_yaml(text, file)
    placed = Placed(read)
    placed.problems += problems
    shape = None
    if read.data is not None:
        shape, misfits = fitted(TaskShape, read.data)
        add_misfits(placed, misfits)
    if shape is None:
        return None, placed.in_order()
    check_key(placed, ("task",), shape.task)
    questions = _questions(placed, shape.questions, bank_keys)
    due = _date(placed, shape.due)
    rules = _rules(placed, shape.rules)
    late = _late(placed, shape.late, shape.rules.half_marks)
    attempts = _one_of(placed, ("attempts",), shape.attempts, [which.value for which in Which])
    layout = _one_of(placed, ("layout",), shape.layout, [layout.value for layout in Layout])
    relations = _relations(placed, shape, listed) if shape.relations else ()
    if rules is None or late is None or placed.problems:
        return None, placed.in_order()
    ways = (Which(attempts), Layout(layout), shape.working, relations)
    return Task(shape.task, shape.title, questions, due, rules, late, shape.weight, *ways), ()


def _relations(placed: Placed, shape: TaskShape, listed: Listed) -> tuple[TopicRelations, ...]:
    """What the sheets list, topic by topic as the questions come; a problem where there is nothing to list."""
    of_questions = [listed(text.partition(AS_FAULT)[0]) for text in shape.questions]
    found = tuple(dict.fromkeys(each for each in of_questions if each is not None))
    if not found and not placed.problems:
        expected = "relations of a topic of its questions, in relations.yaml of the bank"
        placed.add("no-relations", ("relations",), expected, "none", "write them there, or delete the line")
    return found


def _questions(placed: Placed, texts: list[str], bank_keys: Collection[str]) -> tuple[str, ...]:
    """The keys of the questions; of those that are set as a fault, the key of what is made of them."""
    for position, text in enumerate(texts):
        key = text.partition(AS_FAULT)[0]
        if key not in bank_keys or (key != text and key_of_fault(text) == text):
            remedy = near_or_all(key, bank_keys) if key not in bank_keys else f"type {key} as fault"
            placed.add("unknown-question", ("questions", position), "a question of the bank", f"'{text}'", remedy)
        elif text in texts[:position]:
            placed.add("question-twice", ("questions", position), "each question once", f"'{text}' again", "delete it")
    return tuple(key_of_fault(text) for text in texts)


def _date(placed: Placed, text: str) -> date | None:
    try:
        if not text or DATE.fullmatch(text):
            return date.fromisoformat(text) if text else None
    except ValueError:
        pass
    placed.add("no-date", ("due",), "a day of the calendar", f"'{text}'", "type year-month-day, like 2027-03-05")
    return None


def _rules(placed: Placed, shape: RulesShape) -> Rules | None:
    """The rules, or None with a problem for each amount that is not in their steps."""
    amounts = (
        shape.unit_missing, shape.rounded_early, shape.wrong_unit, shape.power_of_ten, shape.unknown_method,
        shape.figures_mark, shape.most_taken_off,
    )  # fmt: skip
    sound = True
    for key, amount in zip(TAKEN_OFF, amounts, strict=True):
        if not is_in_steps(amount, shape.half_marks):
            sound = False
            expected = f"{steps_text(shape.half_marks)}, at least 0"
            remedy = "" if shape.half_marks else f"type {key}: 1 or 0, or half marks: true"
            placed.add("marks", ("rules", key), expected, str(amount), remedy)
    if not sound:
        return None
    taken_off = {key.replace(" ", "_"): amount for key, amount in zip(TAKEN_OFF, amounts, strict=True)}
    return Rules(
        figures=shape.figures, carried_forward=shape.carried_forward, half_marks=shape.half_marks,
        ask_below=float(shape.ask_below), g=shape.g, **taken_off,
    )  # fmt: skip


def _late(placed: Placed, shape: LateShape | None, half_marks: bool) -> Late | None:
    """The rule for what comes late, or None with every problem of it."""
    if shape is None:
        return Late()
    before = len(placed.problems)
    each = _one_of(placed, ("late", "each"), shape.each, [each.value for each in Each])
    marks, share = shape.marks_off, shape.share_off
    if (marks is None) == (share is None):
        found = "neither" if marks is None else "both"
        remedy = "type marks off: 1, or share off: 0.1; without the key late nothing is taken off"
        placed.add("late-rule", ("late",), "one of marks off and share off", found, remedy)
    if marks is not None and not is_in_steps(marks, half_marks):
        placed.add("marks", ("late", "marks off"), f"{steps_text(half_marks)}, at least 0", str(marks))
    amount, most = (share if marks is None else marks) or Decimal(0), shape.at_most
    if most is not None and most < amount:
        placed.add("late-rule", ("late", "at most"), f"at least {amount}, which is taken off at once", str(most))
    if most is not None and marks is None and most > 1:
        placed.add("late-rule", ("late", "at most"), "a share from 0 to 1, as the rule takes off a share", str(most))
    if marks is not None and most is not None and not is_in_steps(most, half_marks):
        placed.add("marks", ("late", "at most"), f"{steps_text(half_marks)}, at least 0", str(most))
    if len(placed.problems) > before:
        return None
    return Late(marks or Decimal(0), share or Decimal(0), Each(each), most)


def _one_of(placed: Placed, path: tuple[str, ...], typed: str, allowed: list[str]) -> str:
    """A word of a few; with a problem, the first of them."""
    if typed in allowed:
        return typed
    placed.add("wrong-value", path, f"one of {', '.join(allowed)}", f"'{typed}'", near_or_all(typed, allowed))
    return allowed[0]
