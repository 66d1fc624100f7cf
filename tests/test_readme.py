"""Every example of the README runs, in order, in one folder that holds nothing but a copy of the bank."""

import re
import shutil
from pathlib import Path

import pytest

from readme_blocks import REPOSITORY, Block, Walk, blocks

README = (REPOSITORY / "README.md").read_text(encoding="utf-8")
EXAMPLES = blocks(README)


@pytest.fixture(scope="module")
def walk(tmp_path_factory: pytest.TempPathFactory) -> Walk:
    folder = tmp_path_factory.mktemp("readme") / "evening"
    folder.mkdir()
    shutil.copytree(REPOSITORY / "bank", folder / "bank")
    return Walk(folder, EXAMPLES)


@pytest.mark.parametrize("number", range(len(EXAMPLES)), ids=[f"line-{b.line}" for b in EXAMPLES])
def test_an_example_of_the_readme_runs(walk: Walk, number: int) -> None:
    walk.follow(number)


def test_the_readme_leads_from_an_empty_folder_to_a_gradebook() -> None:
    assert "## Five minutes from an empty folder to the first gradebook" in README
    commands = " ".join(b.text for b in EXAMPLES if b.language == "bash")
    assert [w for w in ("start", "issue", "mark", "return", "review") if f"witnessmark {w} " not in commands] == []


def test_the_rooms_that_the_readme_leads_through_are_rooms_of_the_desk() -> None:
    named = re.findall(r"^\d\. \*([^*]+)\*:", README, re.MULTILINE)
    views = REPOSITORY / "src" / "witnessmark" / "desk" / "views"
    words = "".join((views / f"{name}.html.j2").read_text(encoding="utf-8") for name in ("office", "classes"))
    assert len(named) > 5
    assert [room for room in named if f'_("{room}")' not in words] == []


# The harness itself.

PAGE = """# Page
```bash
echo keel > part
```
```text
false
```
```python
assert open("part").read() == "keel\\n"
```
"""


def test_blocks_that_can_be_run_are_found_with_their_lines() -> None:
    assert blocks(PAGE) == [
        Block("bash", "echo keel > part\n", 3),
        Block("python", 'assert open("part").read() == "keel\\n"\n', 9),
    ]


def test_blocks_share_one_folder_and_run_once(tmp_path: Path) -> None:
    walk = Walk(tmp_path, [Block("bash", "echo x >> log", 1), Block("bash", "test $(wc -l < log) = 1", 2)])
    walk.follow(1)
    walk.follow(1)
    assert (tmp_path / "log").read_text(encoding="utf-8") == "x\n"


@pytest.mark.parametrize(
    ("language", "text", "says"),
    [
        ("bash", "echo rivet; false; true", "rivet"),
        ("bash", "false | true", "false [|] true"),
        ("bash", "echo $UNSET_NAME_OF_OURS", "unbound variable"),
        ("python", "assert 1 == 2", "AssertionError"),
        ("python", "import warnings; warnings.warn('loose')", "loose"),
    ],
)
def test_a_block_that_fails_is_told_with_its_line_and_what_it_said(
    tmp_path: Path, language: str, text: str, says: str
) -> None:
    walk = Walk(tmp_path, [Block(language, text, 7), Block("bash", "true", 9)])
    with pytest.raises(AssertionError, match=rf"(?s)line 7 \({language}\) ended with .*{says}"):
        walk.follow(0)
    with pytest.raises(AssertionError, match="not reached, since line 7"):
        walk.follow(1)  # what follows a failure is not run
    assert len(walk.done) == 1
