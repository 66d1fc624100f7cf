"""The rules of the source as functions of its syntax trees: each gives its faults as `file:line: what; what to do`."""

import ast
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

PACKAGE = "witnessmark"

# From the lowest. A layer imports from itself and from those before it; `cli` may also open the `desk`.
LAYERS = (
    "strangers", "words", "maths", "reading", "questions", "marking", "review", "trial",
    "files", "record", "documents", "jobs", "desk", "cli",
)  # fmt: skip
STRANGERS = "strangers"
MEET_STRANGERS = ("strangers/", "trial/", "jobs/trying.py")
CORE = LAYERS[: LAYERS.index("files")]


# Inside a layer, from the lowest: folders, and modules beside them that are not above all of them. What is not named
# here is a module that joins the rooms, and may import from any of them.
ROOMS: dict[str, tuple[str, ...]] = {
    "reading": ("result", "text", "number", "unit", "quantity", "column", "formula", "short"),
    "questions": ("model", "working", "sheet", "drawing", "checking"),
    "marking": ("outcome", "weights", "hypotheses", "weighing", "kinds", "search"),
    "review": ("sightings", "statistics", "year"),
    "files": ("safe", "shapes", "bank", "workbooks", "tables", "class_folder"),
    "documents": (
        "page",
        "workbook",
        "figures",
        "kinds",
        "sheet",
        "feedback",
        "gradebook",
        "review",
        "year",
        "note",
        "visits",
        "follow_up",
    ),
    "desk": (
        "words",
        "spoken",
        "staying",
        "beside",
        "works",
        "keeping",
        "visit",
        "telling",
        "acts",
        "deciding",
        "rooms",
    ),
}


def words(text: str) -> frozenset[str]:
    """The words of a text, as a set."""
    return frozenset(text.split())


# The modules that may import a dependency: a file, or a folder that ends with a slash.
DOORS: dict[str, tuple[str, ...]] = {
    "babel": ("desk/words.py", "desk/spoken.py"),
    "click": ("cli/",),
    "distributed": ("jobs/cluster.py",),
    "docx": ("documents/note/writer.py",),
    "fcntl": ("files/safe/in_use.py",),
    "jinja2": ("documents/page/templates.py", "documents/figures/render.py", "documents/figures/template_limits.py"),
    "markupsafe": ("documents/page/templates.py", "documents/figures/render.py"),  # comes with jinja2
    "mpmath": ("maths/precise.py", "maths/probability.py"),
    "msvcrt": ("files/safe/in_use.py",),
    "numpy": (*(f"{layer}/" for layer in LAYERS),),
    "openpyxl": ("documents/workbook/archive.py", "files/workbooks/second_look.py"),
    "pandas": ("marking/frames.py",),
    "pint": ("maths/quantities.py",),
    "pydantic": (
        "files/shapes/values.py",
        "files/shapes/shapes.py",
        "files/shapes/slip_shapes.py",
        "files/shapes/relation_shapes.py",
        "files/shapes/column_shapes.py",
        "files/shapes/task_shapes.py",
        "record/codec.py",
    ),
    "pydantic_core": ("files/shapes/values.py", "record/codec.py"),  # comes with pydantic
    "python_calamine": ("files/workbooks/cells.py",),
    "rapidfuzz": ("reading/text/near_words.py",),
    "sqlite3": ("record/",),
    "starlette": ("desk/app.py", "desk/safety.py", "desk/forms.py", "desk/opening.py", "desk/serving.py"),
    "sympy": ("maths/formulas/",),
    "typst": ("documents/page/pdf.py",),
    "uvicorn": ("desk/serving.py",),
    "xlsxwriter": ("documents/gradebook.py", "documents/gradebook/"),
    "yaml": ("files/shapes/yaml_text.py",),
}
# Folders in which any module may be the door, but one only.
SINGLE_DOORS = ("xlsxwriter",)

# Functions that may import when they are called: file, and the name of the function ("" for any).
LAZY_EDGES = (
    ("marking/kinds/dispatch.py", "_formulae"),
    ("questions/checking/method_clashes.py", "_proved"),  # algebra takes a second to load, and few questions need it
    ("maths/quantities.py", ""),  # pint takes a third of a second to load, and known_units.py answers most questions
    ("files/workbooks/cells.py", "_seen_again"),  # openpyxl takes a fifth of a second, and few books need it
    ("jobs/cluster.py", "_library"),  # an extra, which need not be there
    ("desk/serving.py", "_desk"),  # the browser starts meanwhile
    ("desk/app.py", "_others"),  # and meanwhile the first page is shown
    ("cli/", ""),
    ("__init__.py", ""),
)

MODULE_LINES = 400
FUNCTION_LINES = 60

# What the core may not import, and where it may all the same: package data that is read once.
OUTSIDE_WORLD = words(
    "asyncio glob io logging multiprocessing os pathlib random secrets shutil signal socket subprocess sys tempfile"
    " threading time uuid"
)
CORE_EXCEPTIONS = {"maths/quantities.py": frozenset({"os", "pathlib"})}  # hands the path of the unit file to pint
CORE_CALLS = frozenset({"open", "print", "input", "breakpoint"})
CLOCKS = frozenset({"now", "today", "utcnow"})
FILE_METHODS = frozenset(
    {"read_text", "write_text", "read_bytes", "write_bytes", "unlink", "mkdir", "iterdir", "tofile"}
)
SEEDED = frozenset({"default_rng", "Generator", "SeedSequence", "PCG64", "Philox"})

# Calls that execute text, or load objects that do.
EXECUTES = words(
    "eval exec compile __import__ sympify parse_expr parse_latex parse_mathematica lambdify"
    " os.system os.popen pickle.load pickle.loads yaml.load yaml.unsafe_load"
)
NETWORK = words("ftplib http httpx imaplib poplib requests smtplib socket socketserver ssl urllib xmlrpc")
LOCAL_PAGE = "desk/serving.py"
HARMLESS = frozenset({"urllib.parse", "http.HTTPStatus"})

SQL_STARTS = ("SELECT ", "INSERT INTO ", "DELETE FROM ", "CREATE TABLE ", "CREATE INDEX ", "PRAGMA ", "BEGIN IMMEDIATE")


@dataclass(frozen=True)
class Module:
    """A module of the package: its path below the package's folder (`maths/syntax.py`), its text and its tree."""

    path: str
    text: str
    tree: ast.Module

    @property
    def layer(self) -> str:
        """The first folder; "" for the package's own `__init__.py`."""
        return self.path.split("/")[0] if "/" in self.path else ""

    def fault(self, node: ast.AST | int, what: str) -> str:
        """A fault at a node or a line."""
        line = node if isinstance(node, int) else getattr(node, "lineno", 1)
        return f"src/{PACKAGE}/{self.path}:{line}: {what}"

    def is_in(self, places: tuple[str, ...]) -> bool:
        """True when the module is one of these files or in one of these folders."""
        return any(self.path.startswith(p) if p.endswith("/") else self.path == p for p in places)


def module(path: str, text: str) -> Module:
    """A module from its text."""
    return Module(path, text, ast.parse(text))


def modules_in(folder: Path) -> list[Module]:
    """Every module below the package's folder, by path."""
    paths = sorted(folder.rglob("*.py"))
    return [module(p.relative_to(folder).as_posix(), p.read_text(encoding="utf-8")) for p in paths]


@dataclass(frozen=True)
class Imported:
    """One imported name, in full (`witnessmark.maths.syntax.parse`, `numpy`), and where."""

    name: str
    node: ast.stmt
    function: str  # "" outside every function
    for_types: bool  # under `if TYPE_CHECKING:`


def imports(of: Module) -> Iterator[Imported]:
    """Every import of a module, relative ones made absolute."""
    yield from _imports(of, of.tree.body, "", for_types=False)


def _imports(of: Module, body: list[ast.stmt], function: str, *, for_types: bool) -> Iterator[Imported]:
    for node in body:
        if isinstance(node, ast.Import):
            yield from (Imported(alias.name, node, function, for_types) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            base = _absolute(of, node)
            yield from (Imported(f"{base}.{alias.name}", node, function, for_types) for alias in node.names)
        inside = node.name if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef) else function
        only_types = for_types or (isinstance(node, ast.If) and "TYPE_CHECKING" in ast.unparse(node.test))
        for block in _blocks(node):
            yield from _imports(of, block, inside, for_types=only_types)


def _blocks(node: ast.stmt) -> Iterator[list[ast.stmt]]:
    """The blocks of statements directly inside a statement, of `if`, `try`, `match` and the rest."""
    for field in ("body", "orelse", "finalbody"):
        yield getattr(node, field, [])
    for part in (*getattr(node, "handlers", ()), *getattr(node, "cases", ())):
        yield part.body


def _absolute(of: Module, node: ast.ImportFrom) -> str:
    if not node.level:
        return node.module or ""
    folders = [PACKAGE, *of.path.split("/")[:-1]]
    return ".".join([*folders[: len(folders) - node.level + 1], *([node.module] if node.module else [])])


def layer_of(name: str) -> str:
    """The layer of an imported name; "" when it is not of this package."""
    parts = name.split(".")
    return parts[1] if parts[0] == PACKAGE and len(parts) > 1 else ""


def layer_faults(of: Module) -> list[str]:
    """Imports of a higher layer, and folders that are no layer."""
    if not of.layer:
        return []
    if of.layer not in LAYERS:
        return [of.fault(1, f"{of.layer} is not a layer; put the module into one of {', '.join(LAYERS)}")]
    higher = LAYERS[LAYERS.index(of.layer) + 1 :]
    remedy = "pass it in as an argument, or move what both need into the lower layer"
    return [
        of.fault(i.node, f"{of.layer} imports {i.name} of the higher layer {layer_of(i.name)}; {remedy}")
        for i in imports(of)
        if layer_of(i.name) in higher
    ]


def stranger_faults(of: Module) -> list[str]:
    """Imports of the package by those who judge it from outside, and of them by those whom they judge."""
    mine, remedy = of.layer == STRANGERS, "strangers share no code with what they judge"
    return [
        of.fault(i.node, f"{of.path} imports {i.name}; {remedy}")
        for i in imports(of)
        if (layer_of(i.name) not in ("", STRANGERS) if mine else layer_of(i.name) == STRANGERS)
        and (mine or not of.is_in(MEET_STRANGERS))
    ]


def room_faults(of: Module) -> list[str]:
    """Imports of a higher room of the same layer, and folders that have no place in the order of rooms."""
    order = ROOMS.get(of.layer, ())
    inside = of.path.split("/")[1:]
    if not order or not inside or inside == ["__init__.py"]:
        return []
    room = inside[0].removesuffix(".py")
    if room not in order:
        return [] if len(inside) == 1 else [of.fault(1, f"{room} has no place among the rooms of {of.layer}; name it")]
    lower = {*order[: order.index(room) + 1], "__init__"}
    remedy = "move what both need into the lower room, or what needs both above them"
    return [
        of.fault(i.node, f"{of.layer}/{room} imports {i.name}, which stands above it; {remedy}")
        for i in imports(of)
        if layer_of(i.name) == of.layer and i.name.count(".") > 1 and i.name.split(".")[2] not in lower
    ]


def cycle_faults(modules: list[Module]) -> list[str]:
    """Modules that import each other, directly or by others: one fault for each knot, with the modules in it."""
    by_name = {_dotted_path(m.path): m for m in modules}
    needs = {name: _needed(m, by_name) for name, m in by_name.items()}
    faults = []
    for name in sorted(needs):
        knot = {name} | {other for other in _reached(name, needs) if name in _reached(other, needs)}
        if name in _reached(name, needs) and name == min(knot):
            faults.append(by_name[name].fault(1, f"a knot of imports: {', '.join(sorted(knot))}; part what both need"))
    return faults


def _dotted_path(path: str) -> str:
    return ".".join([PACKAGE, *path.removesuffix(".py").removesuffix("__init__").rstrip("/").split("/")]).rstrip(".")


def _needed(of: Module, by_name: dict[str, Module]) -> set[str]:
    """The modules of the package that a module imports, in functions and for types too."""
    names = {i.name if i.name in by_name else i.name.rpartition(".")[0] for i in imports(of)}
    return {name for name in names if name in by_name and name != PACKAGE}


def _reached(start: str, needs: dict[str, set[str]]) -> set[str]:
    reached: set[str] = set()
    waiting = [start]
    while waiting:
        new = needs[waiting.pop()] - reached
        reached |= new
        waiting += new
    return reached


def door_faults(of: Module) -> list[str]:
    """Dependencies imported outside their door, and dependencies that have none."""
    faults = []
    for i in imports(of):
        top = i.name.split(".")[0]
        if top in DOORS:
            if not of.is_in(DOORS[top]):
                faults.append(of.fault(i.node, f"{top} is imported beside its door; use {' or '.join(DOORS[top])}"))
        elif top != PACKAGE and top not in sys.stdlib_module_names:
            faults.append(of.fault(i.node, f"{top} has no door; choose one module for it and add it to DOORS"))
    return faults


def second_doors(modules: list[Module]) -> list[str]:
    """Dependencies of SINGLE_DOORS that more than one module imports."""
    faults = []
    for top in SINGLE_DOORS:
        found = [(m, i) for m in modules for i in imports(m) if i.name.split(".")[0] == top]
        first = found[0][0].path if found else ""
        faults += [
            m.fault(i.node, f"{top} has a door already; go through {first}") for m, i in found if m.path != first
        ]
    return faults


def lazy_import_faults(of: Module) -> list[str]:
    """Imports inside functions, and modules imported by name, beside the named few."""
    remedy = "move it to the top of the module (or, for a reason, add it to LAZY_EDGES)"
    faults = [
        of.fault(i.node, f"{i.name} is imported inside {i.function}(); {remedy}")
        for i in imports(of)
        if i.function and not _is_lazy_edge(of, i.function)
    ]
    by_name = [n for n, called in calls(of) if called.split(".")[-1] == "import_module"]
    return faults + [
        of.fault(n, f"a module is imported by name; {remedy}") for n in by_name if not _is_lazy_edge(of, "")
    ]


def _is_lazy_edge(of: Module, function: str) -> bool:
    return any(of.is_in((place,)) and name in {"", function} for place, name in LAZY_EDGES)


def eager_faults(of: Module) -> list[str]:
    """Imports at the top of the package's own `__init__.py` that `--help` would pay for."""
    if of.path != "__init__.py":
        return []
    return [
        of.fault(i.node, f"{i.name} is imported when the package is; import it in __getattr__ when it is asked for")
        for i in imports(of)
        if not i.function and not i.for_types and i.name.split(".")[0] not in sys.stdlib_module_names
    ]


def size_faults(of: Module) -> list[str]:
    """Modules and functions that are too long to be read in one go."""
    lines = len(of.text.splitlines())
    faults = []
    if lines > MODULE_LINES:
        faults.append(of.fault(MODULE_LINES + 1, f"{lines} lines, {MODULE_LINES} at most; split it by what it does"))
    for node in ast.walk(of.tree):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            length = (node.end_lineno or node.lineno) - node.lineno + 1
            if length > FUNCTION_LINES:
                what = f"{node.name}() has {length} lines, {FUNCTION_LINES} at most; name its parts as functions"
                faults.append(of.fault(node, what))
    return faults


def calls(of: Module) -> Iterator[tuple[ast.Call, str]]:
    """Every call with the dotted name of what is called (`np.random.rand`, `.read_text`)."""
    for node in ast.walk(of.tree):
        if isinstance(node, ast.Call):
            yield node, dotted(node.func)


def dotted(node: ast.expr) -> str:
    """`a.b.c` of names and attributes; `.c` of what stands after a call or a subscript."""
    if isinstance(node, ast.Name):
        return node.id
    if isinstance(node, ast.Attribute):
        return f"{dotted(node.value)}.{node.attr}"
    return ""


def purity_faults(of: Module) -> list[str]:
    """In the core: imports of the outside world, and calls that reach a file, a clock, the screen or chance."""
    if of.layer not in CORE:
        return []
    allowed = CORE_EXCEPTIONS.get(of.path, frozenset())
    faults = [
        of.fault(i.node, f"the core imports {i.name}; do it in files, record or jobs and pass the result in")
        for i in imports(of)
        if i.name.split(".")[0] in OUTSIDE_WORLD - allowed
    ]
    for node, called in calls(of):
        if remedy := _impure(node, called):
            faults.append(of.fault(node, f"the core calls {called}(); {remedy}"))
    return faults


def _impure(node: ast.Call, called: str) -> str:
    """What to do instead of a call that the core may not make; "" for any other."""
    last = called.rsplit(".", maxsplit=1)[-1]
    if called in CORE_CALLS:
        return "return the value, and let an edge read or show it"
    if "." in called and last in CLOCKS:
        return "take the date as an argument"
    if last in FILE_METHODS or (last == "open" and "." in called):
        return "read and write in files or record, and pass the text in"
    if ".random." in f".{called}" and not (last in SEEDED and (node.args or node.keywords)):
        return "take the seed as an argument and use numpy.random.default_rng(seed)"
    return ""


def execution_faults(of: Module) -> list[str]:
    """Calls that execute text: what a student types would run one day."""
    faults = []
    for node, called in calls(of):
        by_name = called in EXECUTES or ("." in called and called.split(".")[-1] in EXECUTES - {"compile"})
        shell = any(k.arg == "shell" and getattr(k.value, "value", True) for k in node.keywords)
        if by_name or shell:
            faults.append(of.fault(node, f"{called}() executes text; read it with maths/syntax.py, or as data"))
    return faults


def network_faults(of: Module) -> list[str]:
    """Imports that could send something away, beside the local page."""
    if of.is_in((LOCAL_PAGE,)):
        return []
    return [
        of.fault(i.node, f"{i.name} can reach the network; nothing leaves the machine, so do without")
        for i in imports(of)
        if i.name.split(".")[0] in NETWORK and not i.name.startswith(tuple(HARMLESS))
    ]


def sql_faults(of: Module) -> list[str]:
    """Statements of SQL outside the record."""
    if of.layer == "record":
        return []
    return [
        of.fault(node, "SQL outside the record; add a function to record/ and call it")
        for node in ast.walk(of.tree)
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
        if node.value.lstrip().startswith(SQL_STARTS)
    ]


Rule = Callable[[Module], list[str]]
