"""How long `witnessmark --help` takes, as a multiple of the same Python doing nothing.

Usage: .venv/bin/python scripts/benchmark_help.py [runs]. Exit code 1 when the multiple is over the limit.
"""

import statistics
import subprocess
import sys
import time
from collections.abc import Sequence

LIMIT = 8.0
RUNS = 25
HELP = "import sys; from witnessmark.cli.main import main; sys.argv = ['witnessmark', '--help']; main()"


def seconds(command: Sequence[str]) -> float:
    """Wall-clock seconds of one run of a command, which must end well."""
    began = time.perf_counter()
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    took = time.perf_counter() - began
    if done.returncode != 0:
        raise SystemExit(f"{' '.join(command)} ended with {done.returncode}:\n{done.stderr}")
    return took


def medians(commands: Sequence[Sequence[str]], runs: int) -> list[float]:
    """The median seconds of each command. They take turns, so that a busy machine slows them alike."""
    for command in commands:
        seconds(command)  # once for the files to be in memory and compiled
    rounds = [[seconds(command) for command in commands] for _ in range(runs)]
    return [statistics.median(column) for column in zip(*rounds, strict=True)]


def main(arguments: Sequence[str]) -> int:
    """Prints both medians and their ratio; 1 when the ratio is over the limit."""
    runs = int(arguments[0]) if arguments else RUNS
    nothing, help_page = medians([[sys.executable, "-c", "pass"], [sys.executable, "-c", HELP]], runs)
    ratio = help_page / nothing
    print(f"python -c pass      {nothing * 1000:7.1f} ms  (median of {runs})")
    print(f"witnessmark --help  {help_page * 1000:7.1f} ms  (median of {runs})")
    print(f"ratio               {ratio:7.2f}     (limit {LIMIT:g})")
    return int(round(ratio, 2) > LIMIT)


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
