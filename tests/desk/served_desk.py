"""The desk as it is really served, by a process of its own, and a browser that has come in by its first address."""

import json
import os
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import httpx2

SECONDS = 600  # a guard alone: a busy machine is slow
SOURCE = Path(__file__).parents[2] / "src"
COMMAND = (sys.executable, "-m", "witnessmark", "desk")


@dataclass(frozen=True)
class ServedDesk:
    """A desk that runs: its process, its first address, and the folder for what it lays aside for a time."""

    process: subprocess.Popen[str]
    address: str
    aside: Path

    @property
    def here(self) -> str:
        """The address of its machine and port."""
        return self.address.partition("/?")[0]

    @property
    def port(self) -> int:
        """Its port."""
        return int(self.here.rpartition(":")[2])

    @property
    def kilobytes(self) -> int:
        """The memory that it holds now (Linux)."""
        status = Path(f"/proc/{self.process.pid}/status").read_text(encoding="ascii")
        return int(next(line for line in status.splitlines() if line.startswith("VmRSS")).split()[1])

    @contextmanager
    def browser(self) -> Iterator[httpx2.Client]:
        """A browser that has come in."""
        with httpx2.Client(base_url=self.here, timeout=SECONDS, follow_redirects=True) as client:
            client.get(self.address).raise_for_status()
            client.headers["Origin"] = self.here
            yield client


@contextmanager
def served(folder: Path, command: Sequence[str] = COMMAND) -> Iterator[ServedDesk]:
    """The desk of a folder, until it is not needed any more or was killed."""
    with tempfile.TemporaryDirectory() as aside:
        path = os.pathsep.join([str(SOURCE), *filter(None, sys.path)])
        environment = {**os.environ, "PYTHONPATH": path, "TMPDIR": aside}
        whole = [*command, str(folder), "--no-browser", "--json"]
        process = subprocess.Popen(whole, stdout=subprocess.PIPE, text=True, env=environment)
        try:
            yield ServedDesk(process, _first_address(process), Path(aside))
        finally:
            process.kill()
            process.wait(SECONDS)
            if process.stdout is not None:
                process.stdout.close()


def _first_address(process: subprocess.Popen[str]) -> str:
    assert process.stdout is not None
    said = ""
    for line in process.stdout:
        said += line
        if line.startswith("}"):
            break
    return str(json.loads(said)["address"])
