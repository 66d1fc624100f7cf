"""Files that are no workbook, and things that are no file: each function puts one into a folder of returned books."""

import os
import socket
import zipfile
from pathlib import Path

from hostile.packing import zipped


def a_pipe(folder: Path) -> None:
    os.mkfifo(folder / "x.xlsx")


def a_socket(folder: Path) -> None:
    here = Path.cwd()
    os.chdir(folder)  # the path of a socket may be 107 bytes long
    with socket.socket(socket.AF_UNIX) as made:
        made.bind("x.xlsx")
    os.chdir(here)


def a_link_to_a_device(folder: Path) -> None:
    (folder / "x.xlsx").symlink_to("/dev/zero")


def a_link_to_a_slow_device(folder: Path) -> None:
    (folder / "x.ods").symlink_to("/dev/tty")


def a_link_to_itself(folder: Path) -> None:
    (folder / "x.xlsx").symlink_to(folder / "x.xlsx")


def a_link_to_nothing(folder: Path) -> None:
    (folder / "x.xlsx").symlink_to(folder / "none.xlsx")


def a_folder_that_links_to_itself(folder: Path) -> None:
    (folder / "more").symlink_to(folder)


def a_folder_called_as_a_book(folder: Path) -> None:
    (folder / "x.xlsx").mkdir()


def eight_gigabytes(folder: Path) -> None:
    with (folder / "x.xlsx").open("wb") as file:
        file.truncate(8_000_000_000)


def a_name_with_a_new_line(folder: Path) -> None:
    (folder / "x\nback: 30 returns taken in, all right.xlsx").write_bytes(b"x")


def a_name_that_turns_the_line(folder: Path) -> None:
    (folder / "x\u202excod.xlsx").write_bytes(b"x")


def a_name_that_rings_the_bell(folder: Path) -> None:
    (folder / "x\x1b[2J\x07.xlsx").write_bytes(b"x")


def a_name_that_is_no_text(folder: Path) -> None:
    Path(os.fsdecode(os.fsencode(folder) + b"/x\xff\xfe.xlsx")).write_bytes(b"x")


def a_name_as_long_as_names_go(folder: Path) -> None:
    (folder / f"{'n' * 250}.xlsx").write_bytes(b"x")


def a_name_that_looks_like_an_option(folder: Path) -> None:
    (folder / "--help.xlsx").write_bytes(b"x")


def folders_inside_each_other(folder: Path) -> None:
    (folder / "/".join("d" * 60)).mkdir(parents=True)


def files_of_no_kind(folder: Path) -> None:
    for n in range(300):
        (folder / f"{n}.xyz").touch()


def a_program(folder: Path) -> None:
    (folder / "x.xlsx").write_text("#!/bin/sh\ntouch /tmp/witnessmark-ran\n")
    (folder / "x.xlsx").chmod(0o755)


def python_beside_the_books(folder: Path) -> None:
    for name in ("json", "zipfile", "openpyxl", "python_calamine", "sitecustomize", "numpy"):
        (folder / f"{name}.py").write_text("raise SystemExit('ran')\n")


def a_pdf(folder: Path) -> None:
    (folder / "x.pdf").write_bytes(b"%PDF-1.7\n" + b"1 0 obj" * 100_000)


def a_picture_called_a_book(folder: Path) -> None:
    (folder / "x.xlsx").write_bytes(b"\xff\xd8\xff\xe0" + bytes(100_000))


def a_document(folder: Path) -> None:
    zipped(folder / "x.docx", {"word/document.xml": "<w/>"})


def an_archive_of_noughts(folder: Path) -> None:
    zipped(folder / "x.zip", {f"{n}.xlsx": bytes(21_000_000) for n in range(3)})


def an_archive_that_leads_outside(folder: Path) -> None:
    zipped(folder / "x.zip", {"../../../outside.xlsx": b"x", "/abs.xlsx": b"x", "c:\\x.xlsx": b"x"})


def an_archive_of_archives(folder: Path) -> None:
    path = folder / "x.zip"
    path.write_bytes(b"")
    inner = b"x"
    for _ in range(40):
        with zipfile.ZipFile(path, "w") as archive:
            archive.writestr("x.zip", inner)
        inner = path.read_bytes()


def an_archive_of_a_hundred_thousand_names(folder: Path) -> None:
    zipped(folder / "x.zip", {f"{n}.xlsx": b"" for n in range(20_000)}, zipfile.ZIP_STORED)


def an_archive_with_a_link(folder: Path) -> None:
    with zipfile.ZipFile(folder / "x.zip", "w") as archive:
        link = zipfile.ZipInfo("x.xlsx")
        link.external_attr = 0o120777 << 16
        archive.writestr(link, "/etc/passwd")


def an_archive_with_a_password(folder: Path) -> None:
    path = zipped(folder / "x.zip", {"x.xlsx": b"x" * 100})
    data = bytearray(path.read_bytes())
    for mark, at in ((b"PK\x01\x02", 8), (b"PK\x03\x04", 6)):
        data[data.index(mark) + at] |= 1
    path.write_bytes(data)
