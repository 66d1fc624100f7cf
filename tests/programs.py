"""The programs that the tests look at our documents with: found or missing, and run without touching anything else."""

import os
import shutil
import subprocess
from pathlib import Path

import pytest

SECONDS = 180

# As root, and without a network that the browser would otherwise ask at every start.
CHROMIUM_OPTIONS = (
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--hide-scrollbars",
    "--disable-background-networking", "--disable-component-update", "--disable-sync", "--disable-dev-shm-usage",
)  # fmt: skip

WORKS_OUT = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load">
<prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop>
</item></oor:items>
"""


def needed(program: str, package: str) -> Path:
    """Where a program is. When it is missing the test fails under CI=true, and is skipped with the reason elsewhere."""
    found = shutil.which(program)
    if found:
        return Path(found)
    reason = f"{program} is missing (Debian: apt-get install {package})"
    if os.environ.get("CI") == "true":
        pytest.fail(f"{reason}; under CI=true nothing is skipped", pytrace=False)
    pytest.skip(reason)


def run(*command: str | Path) -> None:
    """Runs a command; an AssertionError with all that it said when it fails."""
    done = subprocess.run(
        [os.fspath(c) for c in command],
        capture_output=True, text=True, timeout=SECONDS, stdin=subprocess.DEVNULL, check=False,
    )  # fmt: skip
    assert done.returncode == 0, f"{command[0]} ended with {done.returncode}:\n{done.stdout}{done.stderr}"


def convert(soffice: Path, source: Path, suffix: str, folder: Path) -> Path:
    """The file as LibreOffice saves it (suffix `ods`, `xlsx`, `pdf`, `csv`) in `folder`, beside its profile."""
    profile = (folder / "profile").resolve().as_uri()
    run(soffice, f"-env:UserInstallation={profile}", "--headless", "--convert-to", suffix, "--outdir", folder, source)
    saved = folder / f"{source.stem}.{suffix}"
    assert saved.is_file(), f"LibreOffice wrote no {suffix} of {source.name}"
    return saved


def worked_out(soffice: Path, book: Path, suffix: str, folder: Path) -> Path:
    """The workbook as LibreOffice saves it in `folder` where it is set to work out every formula when it opens a file;
    as it comes, it takes the stored values for the results."""
    settings = folder / "profile" / "user" / "registrymodifications.xcu"
    settings.parent.mkdir(parents=True, exist_ok=True)
    settings.write_text(WORKS_OUT, encoding="utf-8")
    return convert(soffice, book, suffix, folder)


def pictures(pdftoppm: Path, pdf: Path, folder: Path, dots_per_inch: int = 60) -> list[Path]:
    """The pages of a PDF file as PNG files, in order."""
    run(pdftoppm, "-png", "-r", str(dots_per_inch), pdf, folder / pdf.stem)
    return sorted(folder.glob(f"{pdf.stem}-*.png"))


def screenshot(chromium: Path, page: str, picture: Path, size: tuple[int, int] = (1000, 800)) -> Path:
    """A page (`file:///...` or on this machine's loopback) as Chromium shows it, as a PNG file."""
    profile = picture.parent / f"{picture.stem}-profile"
    options = (*CHROMIUM_OPTIONS, f"--user-data-dir={profile}", f"--window-size={size[0]},{size[1]}")
    run(chromium, *options, f"--screenshot={picture}", page)
    assert picture.is_file(), f"Chromium made no picture of {page}"
    return picture
