"""What reading each hostile return takes: seconds of work and memory, of the command and of its worker together."""

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from hostile.test_hostile_files import RETURNED

MOST_SECONDS, MOST_MEMORY = 5.0, 500_000_000
READ = (
    "import sys; from pathlib import Path; from witnessmark.files.workbooks.returns import read_returns;"
    "print(len(read_returns(Path(sys.argv[1]), {}).problems))"
)
pytestmark = [pytest.mark.deep, pytest.mark.skipif(os.name == "nt", reason="the system does not tell it of one child")]


@pytest.mark.parametrize(("name", "made"), RETURNED, ids=[name for name, _ in RETURNED])
def test_a_hostile_return_takes_little(name: str, made: Callable[..., None], tmp_path: Path) -> None:
    made(tmp_path)
    paths = os.pathsep.join(filter(None, sys.path))
    with subprocess.Popen(
        [sys.executable, "-c", READ, str(tmp_path)], stdout=subprocess.PIPE, env={**os.environ, "PYTHONPATH": paths}
    ) as process:
        _, status, used = os.wait4(process.pid, 0)
        process.returncode = os.waitstatus_to_exitcode(status)
    assert process.returncode == 0
    assert used.ru_utime + used.ru_stime < MOST_SECONDS  # with the worker, which it waits for
    assert used.ru_maxrss * (1 if sys.platform == "darwin" else 1024) < MOST_MEMORY
