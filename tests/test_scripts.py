"""The scripts that make the environment, and the lock files that they make it from."""

import json
import os
import re
import shutil
import subprocess
import sys
import tomllib
import venv
import zipfile
from importlib import metadata
from pathlib import Path

import pytest
from hatchling import build
from packaging.requirements import Requirement

REPOSITORY = Path(__file__).parents[1]
SCRIPTS = REPOSITORY / "scripts"
LOCKS = [SCRIPTS / "requirements.lock", SCRIPTS / "requirements-run.lock"]
PROJECT = tomllib.loads((REPOSITORY / "pyproject.toml").read_text(encoding="utf-8"))
TOP_LEVEL = {"README.md", "DEVELOPERS.md", "LICENSE", "pyproject.toml", "src", "bank", "tests", "exports", "scripts"}
TOP_LEVEL |= {"classes"}  # where scripts/desk lets classes lie; git passes it over
SHELL_SCRIPTS = [
    *(SCRIPTS / name for name in ("test", "demo", "desk", "renew-lock", "renew-editor", "mutate")),
    *sorted(SCRIPTS.glob("lib/*.sh")),
    REPOSITORY / ".ci" / "run",
]  # fmt: skip


def pins(lock: Path) -> list[Requirement]:
    """Every requirement of a lock file, for every system and Python."""
    lines = lock.read_text(encoding="utf-8").replace("\\\n", "").splitlines()
    return [Requirement(line.split("--hash")[0]) for line in lines if line and not line.lstrip().startswith("#")]


def pins_here(lock: Path) -> dict[str, str]:
    """Version by name of what a lock file installs here."""
    here = [p for p in pins(lock) if p.marker is None or p.marker.evaluate()]
    return {plain_name(p.name): str(p.specifier).removeprefix("==") for p in here}


def plain_name(name: str) -> str:
    return re.sub(r"[-_.]+", "-", name).lower()


def bash(text: str, folder: Path, **environment: str) -> subprocess.CompletedProcess[str]:
    """A piece of bash that has read our library, for a repository in `folder`."""
    library = "".join(f'. "{part}"\n' for part in sorted(SCRIPTS.glob("lib/*.sh")))
    return subprocess.run(
        ["/bin/bash", "-c", f'set -euo pipefail\nrepository="{folder}"\n{library}{text}'],
        env={"PATH": "/usr/bin:/bin", **environment}, stdin=subprocess.DEVNULL, cwd=folder,
        stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, timeout=120, check=False,
    )  # fmt: skip


def program(folder: Path, name: str, text: str) -> None:
    """A small shell program of this name in a folder that stands for the path."""
    folder.mkdir(exist_ok=True)
    (folder / name).write_text(f"#!/bin/bash\n{text}\n", encoding="utf-8")
    (folder / name).chmod(0o755)


def files_in(folder: Path) -> list[Path]:
    return [p for p in folder.rglob("*") if p.is_file()]


# The repository and its lock files.


def test_the_top_level_holds_no_more_than_agreed() -> None:
    assert {p.name for p in REPOSITORY.iterdir() if not p.name.startswith(".")} - TOP_LEVEL == set()


@pytest.mark.parametrize("lock", LOCKS, ids=lambda lock: lock.name)
def test_a_lock_file_names_no_place_to_fetch_from(lock: Path) -> None:
    text = lock.read_text(encoding="utf-8")
    assert re.findall(r".*(?:://|@ |--index|--extra|--find|--trusted).*", text) == []


@pytest.mark.parametrize("lock", LOCKS, ids=lambda lock: lock.name)
def test_every_pin_is_exact_and_has_a_hash(lock: Path) -> None:
    entries = re.split(r"\n(?=\w)", lock.read_text(encoding="utf-8"))[1:]
    assert len(entries) == len(pins(lock)) > 20
    assert [
        e for e in entries if not re.match(r"[\w.-]+==\S+( ; .+)? \\\n( +--hash=sha256:[0-9a-f]{64}( \\)?\n)+", e)
    ] == []


def wanted(groups: bool) -> list[Requirement]:
    texts = [t for g in PROJECT["dependency-groups"].values() for t in g if isinstance(t, str)] if groups else []
    return [Requirement(text) for text in [*PROJECT["project"]["dependencies"], *texts]]


@pytest.mark.parametrize(("lock", "groups"), [(LOCKS[0], True), (LOCKS[1], False)], ids=["all", "run"])
def test_what_the_package_asks_for_is_locked_in_a_version_that_it_accepts(lock: Path, groups: bool) -> None:
    here = pins_here(lock)
    assert [str(r) for r in wanted(groups) if here.get(plain_name(r.name), "") not in r.specifier] == []


def test_what_the_package_runs_on_is_a_part_of_the_whole_lock_without_the_tools() -> None:
    everything, running = pins_here(LOCKS[0]), pins_here(LOCKS[1])
    assert running.items() <= everything.items()
    assert {"pytest", "hypothesis", "mypy", "ruff", "scipy"} & running.keys() == set()
    assert "hatchling" in running


@pytest.mark.skipif(
    Path(sys.prefix).parent != REPOSITORY or not Path(sys.prefix).name.startswith(".venv"),
    reason="not an environment that scripts/test makes",
)
def test_this_environment_is_the_locked_one() -> None:
    installed = {name: metadata.version(name) for name in pins_here(LOCKS[0])}
    assert installed == pins_here(LOCKS[0])


def test_the_package_states_the_version_that_it_is_installed_as() -> None:
    text = (REPOSITORY / "src" / "witnessmark" / "__init__.py").read_text(encoding="utf-8")
    assert f'__version__ = "{PROJECT["project"]["version"]}"' in text


def test_an_installed_package_has_all_its_files(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    source = REPOSITORY / "src" / "witnessmark"
    for name in ("pyproject.toml", "README.md", "LICENSE", ".gitignore"):
        shutil.copy(REPOSITORY / name, tmp_path)
    shutil.copytree(source, tmp_path / "src" / "witnessmark", ignore=shutil.ignore_patterns("__pycache__", ".*_cache"))
    shutil.copytree(REPOSITORY / "bank", tmp_path / "bank")
    monkeypatch.chdir(tmp_path)
    wheel = zipfile.ZipFile(tmp_path / build.build_wheel(str(tmp_path)))
    expected = {p.relative_to(tmp_path / "src").as_posix() for p in files_in(tmp_path / "src")}
    bank = {
        f"witnessmark/starter_bank/{p.relative_to(tmp_path / 'bank').as_posix()}" for p in files_in(tmp_path / "bank")
    }
    assert "witnessmark/maths/units.txt" in expected
    assert "witnessmark/starter_bank/misconceptions.yaml" in bank
    assert (expected | bank) - set(wheel.namelist()) == set()
    wheel.close()


# The shell.


@pytest.mark.parametrize("script", SHELL_SCRIPTS, ids=lambda s: s.name)
def test_a_script_can_be_read_by_bash(script: Path) -> None:
    assert subprocess.run(["bash", "-n", script], capture_output=True, text=True, check=False).stderr == ""


def test_a_step_that_fails_ends_the_run_with_its_code_and_seconds(tmp_path: Path) -> None:
    done = bash('step "first" true\nstep "second" sh -c "echo torn; exit 3"\nstep "third" true', tmp_path)
    assert done.returncode == 3
    assert done.stdout.splitlines() == [
        "", "==> first", "--- 0 s: first", "", "==> second", "torn", "--- FAILED with exit code 3 after 0 s: second",
    ]  # fmt: skip


def test_a_failure_in_the_middle_of_a_step_is_a_failure(tmp_path: Path) -> None:
    done = bash('middle() { echo before; false; echo after; }\nstep "one" middle', tmp_path)
    assert done.returncode == 1
    assert "before" in done.stdout
    assert "after\n" not in done.stdout


def test_the_first_python_that_is_new_enough_and_runs_is_taken(tmp_path: Path) -> None:
    program(tmp_path / "bin", "python3.11", "exit 127  # found, and does not run")
    program(tmp_path / "bin", "python3.12", "exit 1  # too old, whatever its name")
    program(tmp_path / "bin", "python3", "exit 0")
    done = bash("find_python", tmp_path, PATH=f"{tmp_path / 'bin'}")
    assert done.stdout.split() == [str(tmp_path / "bin" / "python3")]


def test_without_a_python_the_message_says_what_to_install(tmp_path: Path) -> None:
    done = bash('PATH=/nowhere make_environment "$ALL_LOCK"', tmp_path)
    assert done.returncode == 1
    assert "no Python of 3.11 or later was found; install one (Debian: apt-get install python3)" in done.stdout


ANSWERS = """\
case "$*" in
    *version_info*) [ "${*: -1}" = %s ] ;;
    *ensurepip*) exit %s ;;
esac"""
"""A Python that says which version it is, and whether it can make environments."""


@pytest.mark.parametrize(
    ("path", "kept", "taken"),
    [
        ({"python3.12": ("3.12", 0), "python3.13": ("3.13", 0)}, {}, "bin/python3.13"),
        ({"python3.14": ("3.15", 0), "python3.13": ("3.13", 1), "python3.12": ("3.12", 0)}, {}, "bin/python3.12"),
        ({"python3.12": ("3.12", 0)}, {"3.13.0": ("3.13", 0)}, "kept/versions/3.13.0/bin/python"),
        ({"python3.11": ("3.11", 0)}, {"3.11.7": ("3.11", 0)}, None),
    ],
    ids=["newest", "runs and is complete", "kept by a version manager", "none"],
)
def test_the_newest_later_python_is_found(
    tmp_path: Path, path: dict[str, tuple[str, int]], kept: dict[str, tuple[str, int]], taken: str | None
) -> None:
    for name, answers in path.items():
        program(tmp_path / "bin", name, ANSWERS % answers)
    for name, answers in kept.items():
        folder = tmp_path / "kept" / "versions" / name
        folder.mkdir(parents=True)
        program(folder / "bin", "python", ANSWERS % answers)
    done = bash("newest_python", tmp_path, PATH=f"{tmp_path / 'bin'}", PYENV_ROOT=f"{tmp_path / 'kept'}")
    assert done.stdout.strip() == (f"{tmp_path / taken}" if taken else "")
    assert (done.returncode == 0) == (taken is not None)


def test_a_later_python_is_installed_where_debian_offers_one(tmp_path: Path) -> None:
    path = path_without_tools(tmp_path / "bin")
    (path / "id").unlink()
    program(path, "id", "echo 0")
    program(path, "apt-cache", '[ "$2" != python3.13-venv ] || echo "Package: $2"')
    made = f"cat >{path}/python3.13 <<'END'\n#!/bin/bash\n{ANSWERS % ('3.13', 0)}\nEND\nchmod +x {path}/python3.13"
    program(path, "apt-get", f'[ "$1" = update ] || {{ echo "$@" >calls\n{made}\n}}')
    done = bash("provide_later_python 2>/dev/null", tmp_path, PATH=str(path), PYENV_ROOT="/nowhere")
    assert done.stdout.splitlines() == [str(path / "python3.13")]
    assert (tmp_path / "calls").read_text().split()[-1] == "python3.13-venv"


def scripts_test(folder: Path, *typed: str, later: str = "") -> list[str]:
    """What `scripts/test` runs with these arguments, every program but bash itself a stand-in; `later` is a Python."""
    for name in ("scripts/lib", ".venv/bin", ".venv-3.13/bin", "bin"):
        (folder / name).mkdir(parents=True)
    shutil.copy(SCRIPTS / "test", folder / "scripts")
    for part in SCRIPTS.glob("lib/*.sh"):
        shutil.copy(part, folder / "scripts" / "lib")
    with (folder / "scripts" / "lib" / "tools.sh").open("a", encoding="utf-8") as file:
        found = f'echo "{later}"' if later else "return 1"
        file.write('\nmake_environment() { echo "made: $*"; }\nprovide_tools() { :; }\n')
        file.write(f"provide_later_python() {{ {found}; }}\n")
    for name in (".venv/bin/python", ".venv-3.13/bin/python", "later"):
        says = f'case "$2" in *cpu_count*) echo 2 ;; *version_info*) echo 3.13 ;; *) echo "{name}: $*" ;; esac'
        program((folder / name).parent, Path(name).name, says)
    for name in ("ruff", "mypy"):
        program(folder / ".venv" / "bin", name, "")
    done = subprocess.run(
        ["bash", folder / "scripts" / "test", *typed], capture_output=True, text=True, timeout=60, check=False
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return [line for line in done.stdout.splitlines() if re.match("made|NOT RUN|.*pytest --num|.*-m pytest", line)]


PYTEST = "-m pytest --numprocesses 2 --dist loadscope --no-loadscope-reorder"


def test_the_tests_run_on_one_python_unless_more_are_asked_for(tmp_path: Path) -> None:
    assert scripts_test(tmp_path, "tests/cli", "-k", "a b") == [
        "made: scripts/requirements.lock", f".venv/bin/python: {PYTEST} tests/cli -k a b",
    ]  # fmt: skip


def test_all_tests_run_again_on_every_python(tmp_path: Path) -> None:
    assert scripts_test(tmp_path, "--every-python", later=f"{tmp_path}/later")[1:] == [
        f".venv/bin/python: {PYTEST}", f"made: scripts/requirements.lock .venv-3.13 {tmp_path}/later",
        f".venv-3.13/bin/python: {PYTEST}",
    ]  # fmt: skip


def test_of_the_core_alone_the_later_python_gets_folders_that_are_there(tmp_path: Path) -> None:
    ran = scripts_test(tmp_path, "--every-python=core", later=f"{tmp_path}/later")
    assert ran[1] == f".venv/bin/python: {PYTEST}"
    paths = ran[-1].removeprefix(f".venv-3.13/bin/python: {PYTEST} ").split()
    assert {"tests/maths", "tests/marking", "tests/questions", "tests/files"} <= set(paths)
    assert [path for path in paths if not (REPOSITORY / path).exists()] == []


def test_a_machine_with_one_python_says_what_was_not_run(tmp_path: Path) -> None:
    assert scripts_test(tmp_path, "--every-python")[-1].startswith("NOT RUN: no Python of 3.14 3.13 3.12 is here")


def test_a_deep_run_takes_fresh_examples_and_the_tests_marked_so(tmp_path: Path) -> None:
    deep = "--hypothesis-profile=deep -m deep or not deep"
    assert scripts_test(tmp_path, "--deep", "tests/maths")[-1] == f".venv/bin/python: {PYTEST} {deep} tests/maths"


@pytest.fixture
def repository(tmp_path: Path) -> Path:
    """A repository with lock files, and an empty .venv that says it was made from the one for running."""
    (tmp_path / "scripts").mkdir()
    for path in (*LOCKS, REPOSITORY / "pyproject.toml"):
        shutil.copy(path, tmp_path / path.relative_to(REPOSITORY))
    venv.create(tmp_path / ".venv", with_pip=False)
    stamp(tmp_path, "$RUN_LOCK")
    return tmp_path


def stamp(repository: Path, lock: str) -> None:
    python = repository / ".venv/bin/python"
    done = bash(f'echo "{lock} $(fingerprint_of {python} "{lock}")" >.venv/installed-from', repository)
    assert done.returncode == 0, done.stdout


def test_another_python_gets_an_environment_of_its_own(repository: Path) -> None:
    made = 'install_from() { echo "installed $*"; }\nmake_environment "$RUN_LOCK" .venv-later '
    done = bash(made + sys.executable, repository)
    assert done.stdout.splitlines()[-1] == "installed scripts/requirements-run.lock .venv-later"
    assert (repository / ".venv-later" / "bin" / "python").exists()
    assert is_current(repository, "$RUN_LOCK")


def is_current(repository: Path, lock: str) -> bool:
    done = bash(f'is_current "{lock}" && echo current || echo stale', repository)
    assert done.stdout.strip() in {"current", "stale"}
    return done.stdout.strip() == "current"


def test_an_environment_is_left_alone_while_nothing_has_changed(repository: Path) -> None:
    assert is_current(repository, "$RUN_LOCK")
    done = bash('install_from() { echo installed; }\nmake_environment "$RUN_LOCK"', repository)
    assert done.stdout.strip() == "unchanged: .venv is as scripts/requirements-run.lock asks"


@pytest.mark.parametrize(
    ("changed", "old", "new", "stale"),
    [
        ("scripts/requirements-run.lock", "rapidfuzz==", "rapidfuzz==9.", True),
        ("pyproject.toml", "witnessmark.cli.entry:main", "witnessmark.cli.entry:other", True),
        ("pyproject.toml", "line-length = 120", "line-length = 121", False),
    ],
    ids=["lock", "command", "style"],
)
def test_an_environment_is_made_anew_when_what_it_was_made_from_changes(
    repository: Path, changed: str, old: str, new: str, stale: bool
) -> None:
    text = (repository / changed).read_text(encoding="utf-8")
    assert old in text
    (repository / changed).write_text(text.replace(old, new), encoding="utf-8")
    assert is_current(repository, "$RUN_LOCK") is not stale


def test_an_environment_that_was_moved_or_is_broken_is_made_anew(repository: Path, tmp_path: Path) -> None:
    moved = tmp_path / "moved"
    moved.mkdir()
    for name in ("scripts", "pyproject.toml", ".venv"):
        shutil.move(repository / name, moved / name)
    assert not is_current(moved, "$RUN_LOCK")
    (moved / ".venv/bin/python").unlink()
    assert not is_current(moved, "$RUN_LOCK")


def test_an_environment_for_the_tests_serves_the_demo_but_not_the_other_way_round(repository: Path) -> None:
    assert not is_current(repository, "$ALL_LOCK")
    stamp(repository, "$ALL_LOCK")
    assert is_current(repository, "$ALL_LOCK")
    assert is_current(repository, "$RUN_LOCK")


@pytest.mark.parametrize(("typed", "where"), [([], "."), (["--json", "a b"], "elsewhere")], ids=["bare", "arguments"])
def test_the_demo_hands_on_its_arguments_and_adds_nothing_to_the_output(
    repository: Path, typed: list[str], where: str
) -> None:
    shutil.copy(SCRIPTS / "demo", repository / "scripts")
    shutil.copytree(SCRIPTS / "lib", repository / "scripts" / "lib")
    (repository / "elsewhere").mkdir()
    program(repository / ".venv" / "bin", "witnessmark", 'echo "$# $* in $PWD"')
    done = subprocess.run(
        ["bash", repository / "scripts" / "demo", *typed], cwd=repository / "elsewhere", capture_output=True, text=True,
        timeout=60, check=False,
    )  # fmt: skip
    words = ["demo", *typed]
    assert done.stdout == f"{len(words)} {' '.join(words)} in {(repository / where).resolve()}\n"
    assert done.stderr == "unchanged: .venv is as scripts/requirements-run.lock asks\n"


# Programs of the system.


def path_without_tools(folder: Path) -> Path:
    """A path with what the shell needs and no program that the tests use."""
    folder.mkdir()
    for name in ("bash", "cut", "tr", "tail", "mktemp", "rm", "id", "cat", "chmod", "sh"):
        (folder / name).symlink_to(shutil.which(name) or f"/bin/{name}")
    return folder


def test_missing_programs_are_named_plainly_where_nothing_may_be_installed(tmp_path: Path) -> None:
    path = path_without_tools(tmp_path / "bin")
    (path / "id").unlink()
    program(path, "id", "echo 1000")
    program(path, "sudo", "exit 1")
    program(path, "apt-get", "echo called >>calls")
    done = bash("provide_tools", tmp_path, PATH=str(path))
    assert done.returncode == 0
    assert "not installed, since this account is not root and has no sudo without password" in done.stdout
    for command, package in (("soffice", "libreoffice-calc"), ("chromium", "chromium"), ("pdftoppm", "poppler-utils")):
        assert f"MISSING: {command} (Debian: apt-get install {package}), which " in done.stdout
    assert "the tests that need them are skipped, and pytest names each" in done.stdout
    assert not (tmp_path / "calls").exists()


def test_under_ci_missing_programs_announce_failures(tmp_path: Path) -> None:
    path = path_without_tools(tmp_path / "bin")
    done = bash("provide_tools", tmp_path, PATH=str(path), CI="true")
    assert done.returncode == 0
    assert "not installed, since this machine has no apt-get: libreoffice-calc chromium poppler-utils" in done.stdout
    assert "CI=true: the tests that need them will fail" in done.stdout


@pytest.mark.parametrize("account", ["0", "1000"], ids=["root", "sudo"])
def test_only_what_is_missing_is_installed_after_one_update(tmp_path: Path, account: str) -> None:
    path = path_without_tools(tmp_path / "bin")
    program(path, "chromium", "")
    (path / "id").unlink()
    program(path, "id", f"echo {account}")
    program(path, "sudo", 'shift; [ "$1" = true ] || echo "as root:" >>calls; "$@"')
    made = f"for tool in soffice pdftoppm; do echo >{path}/$tool; chmod +x {path}/$tool; done"
    program(path, "apt-get", f'echo "$@" >>calls; [ "$1" = update ] || {{ {made}; }}')
    done = bash("provide_tools", tmp_path, PATH=str(path))
    called = [line for line in (tmp_path / "calls").read_text().splitlines() if line != "as root:"]
    assert "found: soffice chromium pdftoppm" in done.stdout, done.stdout
    assert called[0] == "update"
    assert called[1].startswith("install ")
    assert called[1].endswith(" libreoffice-calc poppler-utils")
    assert len(called) == 2
    assert ("as root:" in (tmp_path / "calls").read_text()) == (account == "1000")


def test_a_failing_installation_shows_why_and_names_what_is_missing(tmp_path: Path) -> None:
    path = path_without_tools(tmp_path / "bin")
    (path / "id").unlink()
    program(path, "id", "echo 0")
    program(path, "apt-get", 'echo "E: the disk is full"; exit 100')
    done = bash("provide_tools", tmp_path, PATH=str(path))
    assert done.returncode == 0
    assert "apt-get failed; the end of what it said:\nE: the disk is full" in done.stdout
    assert "MISSING: soffice" in done.stdout


def test_ci_runs_the_same_script_as_anybody_else(tmp_path: Path) -> None:
    for folder in ("scripts", ".ci"):
        (tmp_path / folder).mkdir()
    shutil.copy(REPOSITORY / ".ci" / "run", tmp_path / ".ci")
    (tmp_path / "scripts" / "test").write_text('echo "CI=$CI in $PWD with $*"; cat; exit 5\n', encoding="utf-8")
    environment = {k: v for k, v in os.environ.items() if k != "CI"}
    done = subprocess.run(
        ["bash", tmp_path / ".ci" / "run", "-k", "a b"], cwd="/", env=environment, input="typed",
        capture_output=True, text=True, timeout=60, check=False,
    )  # fmt: skip
    assert done.returncode == 5
    assert done.stdout == f"CI=true in {tmp_path} with -k a b\n"


def test_the_benchmark_of_the_start_ends_as_its_own_numbers_and_limits_say() -> None:
    command: list[str | Path] = [sys.executable, SCRIPTS / "benchmark_start.py", "1", "0"]
    source = {**os.environ, "PYTHONPATH": str(REPOSITORY / "src")}
    done = subprocess.run(command, env=source, capture_output=True, text=True, timeout=240, check=False)
    told = re.search(r"--help .* ratio +([0-9.]+) \(limit ([0-9.]+)\)", done.stdout)
    imports = re.search(r"imports of mark +([0-9.]+) ms .* \(limit ([0-9.]+) s", done.stdout)
    assert told is not None, done.stdout + done.stderr
    assert imports is not None, done.stdout + done.stderr
    missed = float(told[1]) > float(told[2]) or float(imports[1]) > float(imports[2]) * 1000
    assert done.returncode == (1 if missed else 0)


def test_the_editor_of_the_desk_is_packed_from_the_versions_that_are_named_with_each_licence() -> None:
    named = json.loads((SCRIPTS / "editor" / "package.json").read_text(encoding="utf-8"))["dependencies"]
    locked = json.loads((SCRIPTS / "editor" / "package-lock.json").read_text(encoding="utf-8"))["packages"]
    assets = REPOSITORY / "src" / "witnessmark" / "desk" / "assets"
    told = (assets / "codemirror-licences.txt").read_text(encoding="utf-8")
    assert {name: locked[f"node_modules/{name}"]["version"] for name in named} == named
    assert [name for name, version in named.items() if f"\n{name} {version}, MIT\n" not in told] == []
    assert "eval(" not in (assets / "codemirror.js").read_text(encoding="utf-8")


def test_every_mutant_that_is_known_to_change_nothing_is_still_one_of_its_module() -> None:
    """What was left behind where code moved would let a mutant that matters pass for known."""
    known = tomllib.loads((SCRIPTS / "equivalent_mutants.toml").read_text(encoding="utf-8"))["equivalent"]
    asked = "import json, sys; from pathlib import Path; from mutants import mutants_of; json.dump({m: sorted({(x.old, "
    asked += "x.new) for x in mutants_of(Path('src/witnessmark', m).read_text())}) for m in sys.argv[1:]}, sys.stdout)"
    modules = sorted({entry["module"] for entry in known})
    told = subprocess.run([sys.executable, "-c", asked, *modules], cwd=REPOSITORY, env={**os.environ, "PYTHONPATH": str(
        SCRIPTS)}, capture_output=True, text=True, check=True)  # fmt: skip
    there = {module: {(old, new) for old, new in found} for module, found in json.loads(told.stdout).items()}
    stale = [(e["module"], e["old"]) for e in known if (e["old"], e["new"]) not in there[e["module"]]]
    assert stale == []
