"""The examples of a page: its `bash` and `python` blocks, run in order in one folder."""

import os
import re
import subprocess
import sys
from dataclasses import dataclass, field
from pathlib import Path

REPOSITORY = Path(__file__).parents[1]
BLOCK = re.compile(r"^```(bash|python)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
SECONDS = 300

# Stands for the installed command where the package was not installed (a checkout on PYTHONPATH).
COMMAND = """#!/bin/sh
exec "{python}" -c 'import sys; from witnessmark.cli.main import main; sys.argv[0] = "witnessmark"; main()' "$@"
"""


@dataclass(frozen=True)
class Block:
    """One example: its language, its text, and the line of the page on which the text begins."""

    language: str
    text: str
    line: int

    def __str__(self) -> str:
        return f"line {self.line} ({self.language})"


def blocks(page: str) -> list[Block]:
    """The examples of a page that can be run. Blocks of any other language are only shown."""
    return [Block(m[1], m[2], page.count("\n", 0, m.start(2)) + 1) for m in BLOCK.finditer(page)]


@dataclass
class Walk:
    """A reader who follows a page from the top, in one folder; `done` holds what each block said."""

    folder: Path
    page: list[Block]
    done: list[subprocess.CompletedProcess[str]] = field(default_factory=list)

    def follow(self, number: int) -> None:
        """Runs the blocks up to this one (from 0) that were not run yet; AssertionError when one of them fails."""
        for n, block in enumerate(self.page[: number + 1]):
            if n == len(self.done):
                self.done.append(self._run(block))
            said = self.done[n]
            assert said.returncode == 0 or n == number, f"not reached, since {block} failed"
            assert said.returncode == 0, f"{block} ended with {said.returncode}:\n{block.text}\n{said.stdout}"

    def _run(self, block: Block) -> subprocess.CompletedProcess[str]:
        shell = (
            ["bash", "-euo", "pipefail", "-c"] if block.language == "bash" else [sys.executable, "-W", "error", "-c"]
        )
        return subprocess.run(
            [*shell, block.text], cwd=self.folder, env=self._environment(), timeout=SECONDS, text=True,
            stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, check=False,
        )  # fmt: skip

    def _environment(self) -> dict[str, str]:
        """The environment of a reader who has put the command on the path."""
        beside = Path(sys.executable).parent
        if not (beside / "witnessmark").exists():
            beside = self._stand_in()
        path = os.pathsep.join([str(beside), str(Path(sys.executable).parent), os.environ.get("PATH", os.defpath)])
        return {**os.environ, "PATH": path, "PYTHONPATH": str(REPOSITORY / "src"), "PYTHONUTF8": "1"}

    def _stand_in(self) -> Path:
        folder = self.folder.parent / f"{self.folder.name}-command"
        folder.mkdir(exist_ok=True)
        (folder / "witnessmark").write_text(COMMAND.format(python=sys.executable), encoding="utf-8")
        (folder / "witnessmark").chmod(0o755)
        return folder
