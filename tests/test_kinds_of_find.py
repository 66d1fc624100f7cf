"""Adding a kind of find touches one module a layer, and mypy names each: DEVELOPERS.md lists them."""

import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
PARTS = Path("src/witnessmark/questions/model/parts.py")
SHAPES = Path("src/witnessmark/files/shapes/shapes.py")
NEW_PART = '''
@dataclass(frozen=True, slots=True)
class ParcelPart(Find):
    """A kind that nobody deals with yet."""

    kind: ClassVar[Literal[Kind.HAND]] = Kind.HAND


Part = ('''
NEW_SHAPE = '''
class ParcelShape(MarkedShape):
    """A kind that nobody deals with yet."""


AnyFind = Annotated[
    Annotated[ParcelShape, Tag("parcel")] | '''


def patched(file: Path, before: str, after: str) -> None:
    text = file.read_text(encoding="utf-8")
    assert text.count(before) == 1, f"{file.name} has no longer the line that this test extends: {before!r}"
    file.write_text(text.replace(before, after), encoding="utf-8")


def modules_listed() -> set[str]:
    """The modules that the chapter of DEVELOPERS.md marks as told by mypy."""
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    chapter = text.partition("**A kind of find.**")[2].partition("\n\n**")[0]
    return set(re.findall(r"^\d\. `([\w/]+\.py)` \(mypy\)", chapter, flags=re.MULTILINE))


@pytest.mark.deep
def test_mypy_names_the_modules_of_the_chapter_for_a_new_kind_and_no_others(tmp_path: Path) -> None:
    shutil.copytree(ROOT / "src", tmp_path / "src")
    shutil.copy(ROOT / "pyproject.toml", tmp_path)
    if (ROOT / ".mypy_cache").is_dir():  # which makes it several times faster
        shutil.copytree(ROOT / ".mypy_cache", tmp_path / ".mypy_cache")
    patched(tmp_path / PARTS, "\nPart = (", NEW_PART)
    patched(tmp_path / PARTS, "    QuantityPart | LimitsPart", "    ParcelPart | QuantityPart | LimitsPart")
    patched(tmp_path / SHAPES, "\nAnyFind = Annotated[\n    ", NEW_SHAPE)
    run = subprocess.run(
        [sys.executable, "-m", "mypy", "--strict", "src"], cwd=tmp_path, capture_output=True, text=True, check=False
    )
    errors = [line for line in run.stdout.splitlines() if ": error: " in line]
    named = {line.partition(":")[0].removeprefix("src/witnessmark/") for line in errors}
    assert named == modules_listed(), "\n".join(errors)
    assert all("assert_never" in line for line in errors), "\n".join(errors)
