"""Whatever is typed for a formula: no error, no delay, nothing executed, and what we print ourselves is read back."""

import os
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from searching import examples
from witnessmark.maths.formulas import Same, equal
from witnessmark.maths.printing.plain import plain
from witnessmark.maths.syntax import Binary, Call, Minus, Name, Number, Tree, parse, walk
from witnessmark.reading.formula.cursor import MOST_PIECES
from witnessmark.reading.formula.entry import FormulaReading, read_formula
from witnessmark.reading.formula.tokens import LONGEST_FORMULA
from witnessmark.reading.result import Certainty

SYMBOLS: dict[str, str | tuple[str, ...]] = {
    "tau": "τ", "sigma": "σ", "theta": "θ", "d": "d", "D": "D", "t": "t", "F": "F", "A_s": "A_s", "L": "L", "g": "g",
}  # fmt: skip
LONGEST_SECONDS = 0.050
ENVIRONMENT = {**os.environ, "PYTHONPATH": str(Path(__file__).parents[2] / "src")}


def read(text: str) -> FormulaReading:
    return read_formula(text, SYMBOLS, "Q")


CODE = [
    '__import__("os").system("echo PWNED > pwned") or 1',
    "().__class__.__base__.__subclasses__()[0]",
    'exec("import os")',
    "open('/etc/passwd').read()",
    "lambda: 0",
    "d if t else L",
    "[x for x in (1).__class__.__mro__]",
    "d.__class__",
    "f'{d}'",
    "(d:=3)",
    "eval(d)",
    "globals()",
    "d; import os",
    "{d: t}",
    "@d",
    "=cmd|'/c calc'!A1",
    "=HYPERLINK(\"http://x\")",
    "${jndi:ldap://x}",
    "<script>alert(1)</script>",
    "d\\write18{ls}",
    "\\input{/etc/passwd}",
    "'; DROP TABLE marks; --",
    "%s%s%n",
]  # fmt: skip


@pytest.mark.parametrize("text", CODE)
def test_program_text_is_not_a_formula_and_does_nothing(
    text: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    reading = read(text)
    assert reading.tree is None or {n.name for n in walk(reading.tree) if isinstance(n, Name)} <= {*SYMBOLS, "pi"}
    assert list(tmp_path.iterdir()) == []


def test_text_of_python_that_would_run_gives_no_tree() -> None:
    assert all(
        read(text).tree is None for text in CODE if text != "lambda: 0"
    )  # that names a result "lambda", and is 0


REPEATED = [
    "(", ")", "d", "d ", "√", "2F/", "d/t ", "sin ", "sin(", "^2", "d^", "1,", "1,000 ", "'", "=", "F=", "|d", "log ",
    "d^1/2", "½", "1½", "22/7", "F/τσ ", "e^", "min(1,", "\\frac{", "\\sqrt{", "_", "Aₛ", "²", "x", "pi", "sqrt", ".",
    "d2", "\x00", "\u202e", "é", "𝛑", "0", "9^9", "°", "30°", ":", "tau", "shear ", "times ", "root ", "∛", "d-", "--",
    "-", "\n",
]  # fmt: skip


@pytest.mark.parametrize("piece", REPEATED, ids=ascii)
@pytest.mark.parametrize("size", [40, 130, LONGEST_FORMULA, 10_000])
def test_no_repeated_piece_raises_an_error_or_takes_long(piece: str, size: int) -> None:
    text = (piece * size)[:size]
    assert _fastest(lambda: read(text), 5) < LONGEST_SECONDS


def _fastest(work: Callable[[], object], tries: int) -> float:
    """The processor's time of the fastest of a few tries, which a busy machine does not change much."""
    times = []
    for _ in range(tries):
        start = time.process_time()
        work()
        times.append(time.process_time() - start)
        if times[-1] < LONGEST_SECONDS:
            break
    return min(times)


PIECES = st.sampled_from(
    [
        *"dDtFLgσθτπ0123456789.,;:=+-−–*/·×÷^()[]{}|√∛°²³⁻½¾ \n_'\\", "sin", "cos", "sqrt", "log", "ln", "e^", "A_s",
        "max(", "pi", "tau", "**", "22/7", "3.14", "\\frac", " x ", "over", "1,000", "atan2(", "^-1", "^1/2", "equals",
    ]
)  # fmt: skip


@given(text=st.one_of(st.text(max_size=60), st.lists(PIECES, max_size=25).map("".join)))
@examples(600)
def test_any_text_gives_a_reading_that_keeps_its_promises(text: str) -> None:
    reading = read(text)
    known = {*SYMBOLS, "pi"}
    for tree in reading.trees:
        assert {n.name for n in walk(tree) if isinstance(n, Name)} <= known
        assert sum(1 for _ in walk(tree)) <= MOST_PIECES + 2
        assert parse(plain(tree)) == tree
    assert 0 <= reading.stopped_at <= len(text) + 1
    assert (len(reading.trees) > 1) == (reading.certainty is Certainty.AMBIGUOUS)
    assert (len(reading.trees) == 1) == (reading.certainty in (Certainty.CERTAIN, Certainty.REPAIRED))
    assert bool(reading.stopped_at) == (reading.certainty is Certainty.UNREADABLE)


# Found by scripts/fuzz_formulas.py.
@pytest.mark.parametrize("text", ["3.d d +td" + "7" * 90, "d" + "\udcff" * 4 + "7" * 90])
def test_a_text_that_once_broke_the_reader_does_so_no_more(text: str) -> None:
    reading = read(text)
    assert reading.certainty is Certainty.UNREADABLE
    assert reading.reason.encode()


def test_a_text_that_was_once_slow_is_read_in_time() -> None:
    letters = {**SYMBOLS, "ab": "ab", "bc": "bc", "a": "a", "c": "c"}
    text = "tan(π" + "a" * 11 + "log" + "a" * 10 + "tFd/dFF" + " 3+aaaaFFFFFF"
    assert _fastest(lambda: read_formula(text, letters, "Q"), 5) < LONGEST_SECONDS


@given(text=st.lists(PIECES, max_size=25).map("".join))
@examples(300)
def test_reading_twice_gives_the_same(text: str) -> None:
    assert read(text) == read(text)


LEAVES: list[Tree] = [
    *(Name(n) for n in (*SYMBOLS, "pi")), *(Number(n) for n in ("1", "2", "4", "0.5", "16", "180")),
]  # fmt: skip


def grown(inner: st.SearchStrategy[Tree]) -> st.SearchStrategy[Tree]:
    return st.one_of(
        st.builds(Binary, st.sampled_from("+-*/"), inner, inner),
        st.builds(Binary, st.just("**"), inner, st.sampled_from([Number("2"), Number("3"), Number("0.5"), Name("d")])),
        st.builds(Minus, inner),
        st.builds(lambda f, a: Call(f, (a,)), st.sampled_from(["sqrt", "exp", "abs", "asin", "acos", "atan"]), inner),
        st.builds(lambda f, a, b: Call(f, (a, b)), st.sampled_from(["min", "max", "atan2"]), inner, inner),
    )


trees: st.SearchStrategy[Tree] = st.recursive(st.sampled_from(LEAVES), grown, max_leaves=10)


@given(tree=trees)
@examples(500)
def test_what_the_plain_printer_prints_is_read_back_as_the_same_tree(tree: Tree) -> None:
    reading = read(plain(tree))
    assume("at most" not in reading.reason and "--" not in plain(tree))  # too large; two signs in a row are refused
    assert reading.certainty is Certainty.CERTAIN, reading
    assert reading.tree == tree


@pytest.mark.parametrize("text", ["log(d)", "sin(30)", "cos(theta) + log(L/d)"])
def test_an_author_s_logarithm_and_angle_are_the_first_reading(text: str) -> None:
    assert read(text).tree == parse(text)


def as_people_write(tree: Tree) -> str:
    """A tree in signs of the page: middle dots, raised figures, root signs, Greek letters, brackets everywhere else."""
    match tree:
        case Number(text=text):
            return text
        case Name(name=name):
            given = SYMBOLS.get(name, "π")
            return given if isinstance(given, str) else given[0]
        case Minus(of=of):
            return f"(−{as_people_write(of)})"
        case Binary(op="**", left=left, right=Number(text="2" | "3" as power)):
            return f"({as_people_write(left)}){'²' if power == '2' else '³'}"
        case Binary(op="**", left=left, right=right):
            return f"({as_people_write(left)})^({as_people_write(right)})"
        case Binary(op=op, left=left, right=right):
            sign = {"*": " · ", "/": " ÷ ", "-": " – ", "+": " + "}[op]
            return f"({as_people_write(left)}{sign}{as_people_write(right)})"
        case Call(function="sqrt", arguments=(of,)):
            return f"√({as_people_write(of)})"
        case Call(function="abs", arguments=(of,)):
            return f"|{as_people_write(of)}|"
        case Call(function=function, arguments=arguments):
            names = {"asin": "sin⁻¹", "acos": "arccos", "exp": "e^"}
            return f"{names.get(function, function)}({'; '.join(as_people_write(a) for a in arguments)})"
    raise TypeError(tree)


@given(tree=trees)
@examples(300)
def test_the_same_in_signs_of_the_page_is_read_as_an_equal_tree(tree: Tree) -> None:
    text = as_people_write(tree)
    assume(not any(f"{b}{n}" in text for b in ")|" for n in "0123456789") and "||" not in text and text.count("|") <= 2)
    reading = read(text)
    assume("at most" not in reading.reason)
    assert reading.certainty in (Certainty.CERTAIN, Certainty.AMBIGUOUS), (text, reading)
    assert any(t == tree or equal(t, tree).same is not Same.NO for t in reading.trees), text


@pytest.mark.parametrize("habit", [" ", "*", "·", "×", " x "])
@given(names=st.permutations(["tau", "d", "t", "pi"]), greek=st.booleans())
def test_a_product_is_the_same_in_every_order_and_with_every_sign(habit: str, names: list[str], greek: bool) -> None:
    shown = {"tau": "τ", "pi": "π"} if greek else {}
    reading = read(habit.join(shown.get(n, n) for n in names))
    assert reading.certainty is Certainty.CERTAIN
    assert reading.tree is not None
    assert equal(reading.tree, parse("pi*d*t*tau")).same is Same.YES


def test_reading_a_formula_does_not_load_the_algebra() -> None:
    program = (
        "import sys, witnessmark.reading.formula.entry, witnessmark.reading.short.points; print('sympy' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True, env=ENVIRONMENT)
    assert done.stdout.strip() == "False"
