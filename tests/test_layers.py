"""The source keeps to its rules, and each rule can fail."""

from collections.abc import Iterable, Sequence
from pathlib import Path

import pytest

from source_rules import (
    FUNCTION_LINES,
    LAYERS,
    MODULE_LINES,
    STRANGERS,
    Module,
    Rule,
    cycle_faults,
    door_faults,
    eager_faults,
    execution_faults,
    layer_faults,
    lazy_import_faults,
    module,
    modules_in,
    network_faults,
    purity_faults,
    room_faults,
    second_doors,
    size_faults,
    sql_faults,
    stranger_faults,
)

SOURCE = Path(__file__).parents[1] / "src" / "witnessmark"


@pytest.fixture(scope="module")
def modules() -> list[Module]:
    return modules_in(SOURCE)


def expect_none(faults: Iterable[str]) -> None:
    """Fails with all faults, each on its line and once."""
    if found := "\n".join(dict.fromkeys(faults)):
        pytest.fail(found, pytrace=False)


def faults_of(rule: Rule, modules: list[Module]) -> list[str]:
    return [fault for m in modules for fault in rule(m)]


def test_the_whole_package_was_read(modules: list[Module]) -> None:
    assert {m.layer for m in modules} >= set(LAYERS)
    assert "maths/syntax.py" in {m.path for m in modules}


def test_no_layer_imports_a_higher_one(modules: list[Module]) -> None:
    expect_none(faults_of(layer_faults, modules))


def test_strangers_share_no_code_with_what_they_judge(modules: list[Module]) -> None:
    expect_none(faults_of(stranger_faults, modules))
    assert any(m.layer == STRANGERS for m in modules)


def test_no_room_of_a_layer_imports_a_higher_one(modules: list[Module]) -> None:
    expect_none(faults_of(room_faults, modules))


def test_no_modules_import_each_other(modules: list[Module]) -> None:
    expect_none(cycle_faults(modules))


def test_each_dependency_is_imported_by_its_door_alone(modules: list[Module]) -> None:
    expect_none(faults_of(door_faults, modules))


def test_no_single_door_is_doubled(modules: list[Module]) -> None:
    expect_none(second_doors(modules))


def test_only_the_named_edges_import_lazily(modules: list[Module]) -> None:
    expect_none(faults_of(lazy_import_faults, modules))


def test_the_package_itself_imports_nothing_heavy(modules: list[Module]) -> None:
    expect_none(faults_of(eager_faults, modules))


def test_no_module_and_no_function_is_too_long(modules: list[Module]) -> None:
    expect_none(faults_of(size_faults, modules))


def test_the_core_touches_no_file_clock_screen_or_chance(modules: list[Module]) -> None:
    expect_none(faults_of(purity_faults, modules))


def test_nothing_executes_text(modules: list[Module]) -> None:
    expect_none(faults_of(execution_faults, modules))


def test_nothing_but_the_local_page_can_reach_a_network(modules: list[Module]) -> None:
    expect_none(faults_of(network_faults, modules))


def test_there_is_no_sql_outside_the_record(modules: list[Module]) -> None:
    expect_none(faults_of(sql_faults, modules))


# The rules themselves: source that breaks one is found at its line, source that keeps it is not.

BROKEN: list[tuple[Rule, str, str, int, str]] = [
    (layer_faults, "maths/a.py", "import numpy\nfrom witnessmark.marking.outcome import Outcome", 2, "layer marking"),
    (layer_faults, "maths/a.py", "import witnessmark.marking.outcome", 1, "layer marking"),
    (layer_faults, "maths/a.py", "from witnessmark import cli", 1, "layer cli"),
    (layer_faults, "maths/printing/a.py", "from ...marking import outcome", 1, "layer marking"),
    (layer_faults, "desk/a.py", "from witnessmark.cli.main import main", 1, "layer cli"),
    (
        layer_faults,
        "maths/a.py",
        "def f():\n    try:\n        import witnessmark.jobs\n    except E:\n        pass",
        3,
        "jobs",
    ),
    (layer_faults, "maths/a.py", "if TYPE_CHECKING:\n    from witnessmark.jobs import a", 2, "layer jobs"),
    (layer_faults, "helpers/a.py", "", 1, "helpers is not a layer"),
    (room_faults, "questions/model/a.py", "import witnessmark.questions.sheet.variant", 1, "questions/model imports"),
    (room_faults, "questions/model/a.py", "from witnessmark.questions import drawable", 1, "stands above it"),
    (room_faults, "marking/outcome.py", "from witnessmark.marking.kinds import hand", 1, "marking/outcome imports"),
    (room_faults, "reading/attic/a.py", "", 1, "attic has no place"),
    (door_faults, "maths/a.py", "import sympy", 1, "maths/formulas/"),
    (door_faults, "marking/a.py", "from pint.errors import PintError", 1, "maths/quantities.py"),
    (door_faults, "files/a.py", "import openpyxl.utils", 1, "files/workbooks/second_look.py"),
    (door_faults, "jobs/a.py", "import sqlite3", 1, "record/"),
    (door_faults, "jobs/a.py", "import attrs", 1, "attrs has no door"),
    (lazy_import_faults, "marking/a.py", "def f():\n    import json", 2, "inside f()"),
    (
        lazy_import_faults,
        "marking/a.py",
        "class A:\n    def f(self):\n        if self:\n            import json",
        4,
        "f()",
    ),
    (lazy_import_faults, "marking/a.py", "def f(x):\n    match x:\n        case 1:\n            import json", 4, "f()"),
    (lazy_import_faults, "marking/kinds/dispatch.py", "def other():\n    import json", 2, "inside other()"),
    (lazy_import_faults, "marking/a.py", "import importlib\nimportlib.import_module('json')", 2, "by name"),
    (eager_faults, "__init__.py", "from witnessmark.words import errors", 1, "__getattr__"),
    (eager_faults, "__init__.py", "import numpy", 1, "__getattr__"),
    (size_faults, "maths/a.py", "x = 1\n" * (MODULE_LINES + 1), MODULE_LINES + 1, "split it"),
    (size_faults, "maths/a.py", "\ndef f():\n" + "    x = 1\n" * FUNCTION_LINES, 2, "f() has 61 lines"),
    (size_faults, "maths/a.py", "class A:\n  async def f():\n" + "    x = 1\n" * FUNCTION_LINES, 2, "f() has 61"),
    (purity_faults, "words/a.py", "import os", 1, "imports os"),
    (purity_faults, "maths/quantities.py", "import os\nimport time", 2, "imports time"),
    (purity_faults, "review/a.py", "from random import choice", 1, "imports random"),
    (purity_faults, "reading/a.py", "x = [open(p) for p in q]", 1, "calls open()"),
    (purity_faults, "reading/a.py", "def f():\n    print(1)", 2, "calls print()"),
    (purity_faults, "questions/a.py", "x = datetime.now(UTC)", 1, "take the date"),
    (purity_faults, "questions/a.py", "x = datetime.date.today()", 1, "take the date"),
    (purity_faults, "questions/a.py", "x = Path('a').read_text()", 1, "read_text()"),
    (purity_faults, "marking/a.py", "x = np.random.normal()", 1, "seed"),
    (purity_faults, "marking/a.py", "x = np.random.default_rng()", 1, "seed"),
    (execution_faults, "cli/a.py", "eval('1')", 1, "executes text"),
    (
        execution_faults,
        "maths/formulas/symbolic.py",
        "import sympy\nsympy.parsing.sympy_parser.parse_expr('x')",
        2,
        "executes",
    ),
    (execution_faults, "maths/formulas/symbolic.py", "sympy.sympify('x')", 1, "executes text"),
    (execution_faults, "jobs/a.py", "compile('x', 'y', 'eval')", 1, "executes text"),
    (execution_faults, "jobs/a.py", "subprocess.run('x', shell=True)", 1, "executes text"),
    (network_faults, "jobs/a.py", "import urllib.request", 1, "can reach the network"),
    (network_faults, "jobs/a.py", "from http import client", 1, "can reach the network"),
    (stranger_faults, "strangers/a.py", "\nfrom witnessmark.maths.rounding import half_unit", 2, "share no code"),
    (stranger_faults, "strangers/a.py", "import witnessmark.words.errors", 1, "share no code"),
    (stranger_faults, "marking/a.py", "from witnessmark.strangers.changes import CONSTANTS", 1, "share no code"),
    (sql_faults, "jobs/a.py", "x = 'SELECT * FROM marks'", 1, "SQL outside"),
    (sql_faults, "jobs/a.py", "x = f'''\n  INSERT INTO marks VALUES ({a})'''", 1, "SQL outside"),
]

SOUND: list[tuple[Rule, str, str]] = [
    (layer_faults, "marking/a.py", "from witnessmark.maths import syntax\nfrom witnessmark.marking import outcome"),
    (layer_faults, "maths/printing/a.py", "from . import plain\nfrom .. import syntax"),
    (layer_faults, "cli/a.py", "from witnessmark.desk import page"),
    (layer_faults, "__init__.py", "def __getattr__(name):\n    from witnessmark.jobs import a"),
    (room_faults, "questions/sheet/a.py", "from witnessmark.questions.model import question"),
    (room_faults, "marking/marker.py", "from witnessmark.marking import other_sheets, kinds"),
    (room_faults, "record/a.py", "from witnessmark.record import journal"),
    (
        door_faults,
        "maths/formulas/symbolic.py",
        "import sympy\nimport numpy as np\nimport json\nfrom witnessmark.words import errors",
    ),
    (door_faults, "record/tables.py", "import sqlite3"),
    (door_faults, "documents/gradebook/sheet.py", "import xlsxwriter"),
    (lazy_import_faults, "marking/kinds/dispatch.py", "class Q:\n    def _formulae(self):\n        import json"),
    (lazy_import_faults, "cli/main.py", "def check():\n    import json"),
    (lazy_import_faults, "__init__.py", "from importlib import import_module\ndef f(n):\n    return import_module(n)"),
    (
        eager_faults,
        "__init__.py",
        "from importlib import import_module\nif TYPE_CHECKING:\n    import witnessmark.jobs",
    ),
    (size_faults, "maths/a.py", "x = 1\n" * MODULE_LINES),
    (size_faults, "maths/a.py", "def f():\n" + "    x = 1\n" * (FUNCTION_LINES - 1)),
    (purity_faults, "maths/quantities.py", "import os\nfrom pathlib import Path"),
    (purity_faults, "jobs/a.py", "import os\nopen(p)"),
    (purity_faults, "questions/a.py", "from datetime import date\nx = date(2027, 3, 5)\ny = now()\nz = self.opened"),
    (purity_faults, "review/a.py", "x = np.random.default_rng(seed)\ny = np.random.Generator(np.random.PCG64(seed))"),
    (execution_faults, "maths/a.py", "import re\nx = re.compile('a')\ny = self.evaluate(1)\nrun(a, shell=False)"),
    (execution_faults, "documents/page/pdf.py", "x = typst.Compiler(a).compile(b)\ny = _compiler().compile(c)"),
    (network_faults, "desk/serving.py", "import socket"),
    (network_faults, "desk/safety.py", "from http import HTTPStatus\nfrom urllib.parse import parse_qs"),
    (network_faults, "documents/page/html.py", "from urllib.parse import quote\nfrom html import escape"),
    (stranger_faults, "strangers/a.py", "import numpy\nfrom witnessmark.strangers.scales import scale"),
    (stranger_faults, "trial/a.py", "from witnessmark.strangers.scales import scale"),
    (sql_faults, "record/tables.py", "x = 'SELECT * FROM marks'"),
    (sql_faults, "jobs/a.py", "x = 'Select one of them'"),
]


def case_names(cases: Sequence[tuple[Rule, str, *tuple[object, ...]]]) -> list[str]:
    return [f"{case[0].__name__}-{case[1]}-{n}" for n, case in enumerate(cases, 1)]


@pytest.mark.parametrize("case", BROKEN, ids=case_names(BROKEN))
def test_a_broken_rule_is_found_at_its_line(case: tuple[Rule, str, str, int, str]) -> None:
    rule, path, text, line, words = case
    faults = rule(module(path, text))
    assert len(faults) == 1
    assert faults[0].startswith(f"src/witnessmark/{path}:{line}: ")
    assert words in faults[0]


@pytest.mark.parametrize("case", SOUND, ids=case_names(SOUND))
def test_source_that_keeps_a_rule_is_let_through(case: tuple[Rule, str, str]) -> None:
    rule, path, text = case
    assert rule(module(path, text)) == []


def test_a_second_door_in_the_same_folder_is_found() -> None:
    first, second = (
        module("documents/gradebook/a.py", "import xlsxwriter"),
        module("documents/gradebook/b.py", "\nfrom xlsxwriter import Workbook"),
    )
    assert second_doors([first]) == []
    assert second_doors([first, second]) == [
        "src/witnessmark/documents/gradebook/b.py:2: xlsxwriter has a door already; go through documents/gradebook/a.py"
    ]


def test_a_knot_of_imports_is_told_with_its_modules() -> None:
    one = module("maths/a.py", "from witnessmark.maths import b")
    two = module("maths/b.py", "def f():\n    from witnessmark.maths.c import g")
    three = module("maths/c.py", "if TYPE_CHECKING:\n    import witnessmark.maths.a")
    assert cycle_faults([one, two]) == []
    knot = "witnessmark.maths.a, witnessmark.maths.b, witnessmark.maths.c"
    assert cycle_faults([three, two, one]) == [
        f"src/witnessmark/maths/a.py:1: a knot of imports: {knot}; part what both need"
    ]


def test_the_rules_read_files_from_a_folder(tmp_path: Path) -> None:
    (tmp_path / "maths").mkdir()
    (tmp_path / "maths" / "a.py").write_text("import sympy\n", encoding="utf-8")
    assert [m.path for m in modules_in(tmp_path)] == ["maths/a.py"]
    assert faults_of(door_faults, modules_in(tmp_path))[0].startswith("src/witnessmark/maths/a.py:1: sympy")


def test_the_message_names_each_fault_once() -> None:
    with pytest.raises(pytest.fail.Exception, match=r"^a:1: x\nb:2: y$"):
        expect_none(["a:1: x", "b:2: y", "a:1: x"])
    expect_none([])
