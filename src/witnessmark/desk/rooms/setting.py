"""Setting a task: questions chosen from the bank, rules, and one button that issues; then its sheets to print."""

from collections.abc import Sequence
from pathlib import Path

from witnessmark.desk.acts.issuing import issue_sheets, print_all, set_task_again
from witnessmark.desk.rooms.room import Room, begun, typed_day
from witnessmark.desk.spoken import typed_number
from witnessmark.desk.visit import Go, Page, Reply, Visit
from witnessmark.desk.words import N_, _
from witnessmark.jobs.decision import Decision
from witnessmark.jobs.opened import Opened, open_class, read_task
from witnessmark.jobs.overlooking import task_stands
from witnessmark.jobs.printing import Wanted as ToPrint
from witnessmark.jobs.searching_bank import Sought, found, found_in, left, misconceptions_in, taken_in
from witnessmark.jobs.setting import Wanted, set_task
from witnessmark.questions.bank import Bank
from witnessmark.questions.sheet.task import Rules
from witnessmark.words.errors import ProblemsFound
from witnessmark.words.problems import Place, Problem

RULES = (
    N_("figures"), N_("unit missing"), N_("rounded early"), N_("wrong unit"), N_("power of ten"), N_("figures mark"),
    N_("most taken off"), N_("ask below"),
)  # fmt: skip


def show_setting(visit: Visit) -> Reply:
    """The bank as it was asked for, beside what is chosen so far."""
    bank, chosen = visit.bank, _chosen(visit)
    sought = Sought(visit.text("topic"), visit.text("level"), visit.text("misconception"), visit.text("words"))
    known = [found(bank[key]) for key in chosen if key in bank]
    offered = [one for one in found_in(bank, sought) if one.question.key not in chosen]
    usual = Rules()
    rules = [
        (name, _(name), visit.text(name), f"{getattr(usual, name.replace(' ', '_'))}", _(MEANING[name]))
        for name in RULES
    ]
    return Page("set", {
        "chosen": known,
        "offered": offered,
        "sought": sought,
        "topics": bank.topics(),
        "levels": sorted({q.level for q in bank.values()}),
        "misconceptions": misconceptions_in(bank),
        "rules": rules,
        "title": visit.text("title"),
        "due": visit.text("due"),
        "key": visit.text("key"),
        "relations": visit.text("relations") == "yes",
    })  # fmt: skip


MEANING = {
    "figures": N_("significant figures that results are rounded to"),
    "unit missing": N_("marks taken off where the unit is missing"),
    "rounded early": N_("marks taken off where steps were rounded to too few figures"),
    "wrong unit": N_("marks taken off for a unit that cannot be the unit here"),
    "power of ten": N_("marks taken off for a power of ten"),
    "figures mark": N_("marks taken off for other figures than asked"),
    "most taken off": N_("the most that these take off one answer together"),
    "ask below": N_("you are asked where a method is named less surely than this (0 to 1)"),
}


def write_task(visit: Visit) -> Reply:
    """The task as a file of the class."""
    rules = {name: typed_number(visit.text(name)) for name in RULES}
    lists = visit.text("relations") == "yes"
    wanted = Wanted(visit.text("title"), _chosen(visit), visit.text("key"), visit.text("due"), rules, lists)
    task = set_task(visit.class_path, wanted, visit.bank)
    return Go(visit.at("task", task.key))


def _chosen(visit: Visit) -> tuple[str, ...]:
    """The questions ticked, in their order; one that is to go up changes places with the one before."""
    keys = list(visit.several("question"))
    up = visit.text("up")
    if up in keys[1:]:
        at = keys.index(up)
        keys[at - 1], keys[at] = keys[at], keys[at - 1]
    return tuple(keys)


def show_task(visit: Visit) -> Reply:
    """A task: before it is issued, what would be; afterwards its sheets."""
    stands, opened = task_stands(visit.class_path, visit.way["task"]), open_class(visit.class_path)
    if stands.is_issued:
        with opened.record() as record:
            sheets = record.sheets(stands.key)
        groups = sorted({sheet.student.group for sheet in sheets if sheet.student.group})
        table = _table(opened, stands.key)
        shown = {"stands": stands, "sheets": sheets, "groups": groups, "table": table}
        return Page("task", shown | {"both_sides": opened.folder.both_sides})
    bank = visit.bank
    task = read_task(opened, stands.key, bank)
    counts = _left(opened, bank, task.questions)
    return Page("issue", {"stands": stands, "set_task": task, "counts": counts, "students": opened.students})


def _table(opened: Opened, task: str) -> tuple[str, ...]:
    """The words of the address of the class table, where it was written."""
    file = opened.issued(task) / "class-table.xlsx"
    return tuple(file.relative_to(opened.path).parts) if file.is_file() else ()


def _left(opened: Opened, bank: Bank, questions: Sequence[str]) -> list[tuple[str, str, int]]:
    """Each question of a task: key, title, and how many variants are left for it."""
    taken = {}
    if (opened.path / "record.db").is_file():
        with opened.record() as record:
            taken = dict(taken_in(record))
    return [(key, bank[key].title, left(bank[key], taken.get(key, 0))) for key in questions]


def issue(visit: Visit) -> Reply:
    """A sheet for everybody, in a process of its own."""
    key = visit.way["task"]
    title = _("Issuing {task}").format(task=key)
    return begun(visit, title, issue_sheets, visit.class_path, key, visit.now)


def print_sheets(visit: Visit) -> Reply:
    """The sheets in one file to print: all, or those of one group."""
    key, wanted = visit.way["task"], ToPrint(visit.several("student"), visit.text("group"))
    title = _("Sheets of {task} to print").format(task=key)
    asked = (Path(visit.class_path), key, wanted, visit.text("both") == "yes")
    return begun(visit, title, print_all, *asked)


def set_once_more(visit: Visit) -> Reply:
    """A further attempt on fresh numbers, for those ticked or for all, in a process of its own."""
    key, everybody = visit.way["task"], visit.text("everybody") == "yes"
    students = () if everybody else visit.several("student")
    if not students and not everybody:
        remedy = _("tick those who are to try again, or all of them")
        raise ProblemsFound([Problem("nobody", Place(_("students")), _("somebody"), _("nobody"), remedy)])
    decision = Decision(visit.who.strip(), visit.text("why"), visit.now)
    asked = (visit.class_path, key, students, typed_day(visit.text("due")), decision, visit.text("repeats") == "yes")
    return begun(visit, _("Setting {task} again").format(task=key), set_task_again, *asked)


ROOMS = (
    Room("/class/{klass}/set", show_setting, write_task),
    Room("/class/{klass}/task/{task}", show_task, issue),
    Room("/class/{klass}/task/{task}/print", show_task, print_sheets),
    Room("/class/{klass}/task/{task}/again", show_task, set_once_more),
)
