"""Promise 7 for files: interrupted at any instant, a folder is as before or as after."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from searching import examples
from witnessmark.files.safe import atomic
from witnessmark.files.safe.atomic import AT_ONCE, finish_interrupted, make_folder, write_file, write_together
from witnessmark.words.errors import ProblemsFound

SRC = Path(__file__).parents[2] / "src"
# Does one thing to copies of a folder, over and over: the n-th time its process ends, without any clean-up, before the
# n-th call that touches the disk; until it comes to its end.
STOPPED = """
import itertools, json, os, shutil, sys
from pathlib import Path
from witnessmark.files.safe import atomic

what, template, copies = sys.argv[1], Path(sys.argv[2]), Path(sys.argv[3])
data = {name: text.encode() for name, text in json.loads(sys.argv[4]).items()}

def stopping(action, calls, stop):
    def stopped(*args, **kwargs):
        if next(calls) == stop:
            os._exit(9)
        return action(*args, **kwargs)
    return stopped

def child(folder, stop):
    calls = itertools.count(1)
    for owner, names in ((Path, "mkdir open replace rename unlink chmod rmdir"), (os, "fsync unlink rmdir")):
        for name in names.split():
            setattr(owner, name, stopping(getattr(owner, name), calls, stop))
    if what == "file":
        atomic.write_file(folder / "a.txt", data["a.txt"])
    elif what == "new":
        atomic.make_folder(folder / "new", data)
    else:
        atomic.write_together(folder, data)

for n in itertools.count(1):
    folder = copies / f"{n:03}"
    shutil.copytree(template, folder)
    pid = os.fork()
    if pid == 0:
        child(folder, n)
        os._exit(0)
    code = os.waitstatus_to_exitcode(os.waitpid(pid, 0)[1])
    if code != 9:
        sys.exit(code)
"""


def contents(folder: Path) -> dict[str, str]:
    """Every file of a folder that a reader would look at, by path; what starts with a dot is not looked at."""
    files = (p for p in folder.rglob("*") if p.is_file())
    inside = {p.relative_to(folder).as_posix(): p.read_text() for p in files}
    return {name: text for name, text in inside.items() if not name.startswith(".")}


def stopped(what: str, template: Path, copies: Path, files: dict[str, str]) -> tuple[list[Path], Path]:
    """Copies of a folder in which something was stopped at its first, second ... call, and one in which it was not."""
    if not hasattr(os, "fork"):
        pytest.skip("processes cannot be forked on this system")
    argv = [sys.executable, "-c", STOPPED, what, str(template), str(copies), json.dumps(files)]
    done = subprocess.run(argv, env={**os.environ, "PYTHONPATH": str(SRC)}, capture_output=True, check=False)
    assert done.returncode == 0, done.stderr.decode()
    *interrupted, whole = sorted(copies.iterdir())
    assert len(interrupted) > 4
    return interrupted, whole


BEFORE = {"a.txt": "old a", "b.txt": "old b", "kept.txt": "kept"}
NEW = {"a.txt": "new a", "b.txt": "new b", "deep/er/c.txt": "new c"}


@pytest.fixture
def before(tmp_path: Path) -> Path:
    """A folder with files."""
    for name, text in BEFORE.items():
        write_file(tmp_path / "before" / name, text.encode())
    return tmp_path / "before"


def test_one_file_interrupted_at_any_call_is_as_before_or_as_after(before: Path, tmp_path: Path) -> None:
    interrupted, whole = stopped("file", before, tmp_path / "copies", NEW)
    found = [contents(folder) for folder in interrupted]
    assert all(after in (BEFORE, contents(whole)) for after in found)
    assert {after["a.txt"] for after in found} == {"old a", "new a"}


def test_a_new_folder_interrupted_at_any_call_is_not_there_or_whole(before: Path, tmp_path: Path) -> None:
    interrupted, whole = stopped("new", before, tmp_path / "copies", NEW)
    found = [contents(folder / "new") for folder in interrupted]
    assert all(after in ({}, NEW) for after in found)
    assert {len(after) for after in found} == {0, 3}
    assert contents(whole / "new") == NEW


def test_several_files_interrupted_at_any_call_are_as_before_or_as_after_once_finished(
    before: Path, tmp_path: Path
) -> None:
    interrupted, whole = stopped("together", before, tmp_path / "copies", NEW)
    assert contents(whole) == BEFORE | NEW
    for folder in interrupted:
        finish_interrupted(folder)
        assert not list(folder.glob(".*"))
    found = [contents(folder) for folder in interrupted]
    changed = found.index(BEFORE | NEW)
    assert changed > 0
    assert found == [BEFORE] * changed + [BEFORE | NEW] * (len(found) - changed)


def test_finishing_that_is_interrupted_is_finished_by_the_next(before: Path, tmp_path: Path) -> None:
    interrupted, _ = stopped("together", before, tmp_path / "copies", NEW)
    decided = next(folder for folder in interrupted if list(folder.glob(".*/list.json")))
    again, whole = stopped("together", decided, tmp_path / "again", {})
    for folder in (*again, whole):
        finish_interrupted(folder)
        assert contents(folder) == BEFORE | NEW
        assert not list(folder.glob(".*"))


NAMES = st.text("ab", min_size=1, max_size=3).map(lambda name: f"f{name}")
FILES = st.dictionaries(NAMES | st.builds("d{}/{}".format, NAMES, NAMES), st.binary(max_size=20), max_size=5)


@given(FILES, FILES)
@examples(40)
def test_files_written_together_are_there_byte_for_byte(
    tmp_path_factory: pytest.TempPathFactory, one: dict[str, bytes], other: dict[str, bytes]
) -> None:
    folder = tmp_path_factory.mktemp("class")
    write_together(folder, one)
    write_together(folder, other)
    assert all((folder / name).read_bytes() == data for name, data in (one | other).items())
    assert sum(p.is_file() for p in folder.rglob("*")) == len(one | other)


def test_a_file_is_replaced_and_keeps_its_permissions(tmp_path: Path) -> None:
    path = tmp_path / "deep" / "mark.txt"
    write_file(path, b"one")
    path.chmod(0o640)
    write_file(path, b"two")
    assert path.read_bytes() == b"two"
    assert os.name != "posix" or path.stat().st_mode & 0o777 == 0o640
    assert [p.name for p in path.parent.iterdir()] == ["mark.txt"]


@pytest.mark.skipif(os.name != "posix", reason="links need rights on this system")
def test_a_link_is_followed(tmp_path: Path) -> None:
    link = tmp_path / "link.txt"
    link.symlink_to(tmp_path / "real.txt")
    write_file(link, b"x")
    assert link.is_symlink()
    assert (tmp_path / "real.txt").read_bytes() == b"x"


def test_a_place_that_cannot_be_written_is_a_problem(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x")
    path = tmp_path / "file" / "below.txt"
    with pytest.raises(ProblemsFound) as caught:
        write_file(path, b"x")
    said = str(caught.value)
    assert said.startswith(f"{path}: [not-writable] expected a place that can be written, found ")
    assert said.endswith("; close it in other programs, look whether you may write there and whether the disk is full")


def test_a_folder_where_a_file_should_go_is_a_problem_and_leaves_nothing_behind(tmp_path: Path) -> None:
    (tmp_path / "a.txt" / "full").mkdir(parents=True)
    with pytest.raises(ProblemsFound, match="not-writable"):
        write_file(tmp_path / "a.txt", b"x")
    assert [p.name for p in tmp_path.iterdir()] == ["a.txt"]


@pytest.mark.parametrize("name", ["../x", "/x", "a/../../x", "", "a\\b", ".together-1/x"])
def test_a_name_that_leads_outside_is_refused(tmp_path: Path, name: str) -> None:
    with pytest.raises(ValueError, match="does not name a file inside"):
        write_together(tmp_path / "class", {"good.txt": b"", name: b""})
    assert not (tmp_path / "class").exists()


def test_a_list_that_leads_outside_is_not_carried_out(tmp_path: Path) -> None:
    stage = tmp_path / "class" / ".together-0"
    stage.mkdir(parents=True)
    (stage / "0").write_text("x")
    (stage / "list.json").write_text('["../outside.txt"]')
    with pytest.raises(ValueError, match="does not name a file inside"):
        finish_interrupted(tmp_path / "class")
    assert not (tmp_path / "outside.txt").exists()


def test_a_new_folder_takes_the_place_of_an_empty_one_only(tmp_path: Path) -> None:
    folder = tmp_path / "class"
    folder.mkdir()
    make_folder(folder, {"a.txt": b"a", "empty/": b""})
    assert contents(folder) == {"a.txt": "a"}
    assert (folder / "empty").is_dir()
    with pytest.raises(ProblemsFound) as caught:
        make_folder(folder, {"b.txt": b"b"})
    assert str(caught.value) == (
        f"{folder}: [folder-exists] expected a name that is free, found a folder with files; choose another name"
    )
    assert contents(folder) == {"a.txt": "a"}


MANY = {f"{n:03}.txt": f"file {n}".encode() for n in range(2 * AT_ONCE + 3)}


def test_each_of_many_files_is_on_the_disk_before_the_list_that_decides(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    synced: list[str] = []
    sync = atomic._sync

    def counting(path: Path) -> None:
        sync(path)
        synced.append(path.name)

    monkeypatch.setattr(atomic, "_sync", counting)
    write_together(tmp_path, MANY)
    assert sorted(synced[:-1], key=int) == [str(n) for n in range(len(MANY))]
    assert synced[-1] == "list.json.part"
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == MANY


def test_many_files_of_which_one_cannot_be_brought_to_the_disk_are_a_problem_and_leave_nothing_behind(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    sync = atomic._sync

    def failing(path: Path) -> None:
        if path.name == "7":
            raise OSError(5, "Input/output error")
        sync(path)

    monkeypatch.setattr(atomic, "_sync", failing)
    with pytest.raises(ProblemsFound) as raised:
        write_together(tmp_path, MANY)
    assert [p.code for p in raised.value.problems] == ["not-writable"]
    assert list(tmp_path.iterdir()) == []
