"""Class tables that want more than a table may: each function writes one file and gives its path."""

from pathlib import Path

HEAD = "student,1a,1b"


def _csv(folder: Path, text: str | bytes) -> Path:
    path = folder / "t.csv"
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return path


def rows_of_strangers(folder: Path) -> Path:
    return _csv(folder, HEAD + "\n" + "X9,1,1\n" * 380_000)


def ninety_thousand_rows_of_strangers(folder: Path) -> Path:
    return _csv(folder, HEAD + "\n" + "X,1\n" * 60_000)


def one_student_sixty_thousand_times(folder: Path) -> Path:
    return _csv(folder, HEAD + "\n" + "HB01,1\n" * 60_000)


def a_line_of_a_million_cells(folder: Path) -> Path:
    return _csv(folder, HEAD + "\n" + "HB01," + "," * 1_000_000)


def headings_without_end(folder: Path) -> Path:
    return _csv(folder, HEAD + "," + ",".join(f"h{n}" for n in range(20_000)) + "\nHB01,1,1" + ",x" * 20_000)


def headings_of_one_name(folder: Path) -> Path:
    return _csv(folder, HEAD + ",1a" * 20_000 + "\nHB01,1,1" + ",2" * 20_000)


def a_heading_of_four_megabytes(folder: Path) -> Path:
    return _csv(folder, HEAD + "," + "h" * 4_000_000 + "\nHB01,1,1,1")


def a_heading_of_a_hundred_thousand_letters(folder: Path) -> Path:
    return _csv(folder, HEAD + "," + "h" * 100_000 + "\nHB01,1,1,1")


def a_cell_of_four_megabytes(folder: Path) -> Path:
    return _csv(folder, HEAD + "\nHB01," + "9" * 4_000_000 + ",1")


def a_cell_of_a_hundred_thousand_characters(folder: Path) -> Path:
    return _csv(folder, HEAD + "\nHB01," + "9" * 100_000 + ",1")


def a_quote_that_never_ends(folder: Path) -> Path:
    return _csv(folder, HEAD + '\nHB01,"' + "1\n" * 1_000_000)


def quotes_in_every_cell(folder: Path) -> Path:
    return _csv(folder, HEAD + '\n"a"b,' * 60_000)


def lines_without_end(folder: Path) -> Path:
    return _csv(folder, HEAD + "\n" * 4_900_000)


def remarks_without_end(folder: Path) -> Path:
    return _csv(folder, "# x\n" * 1_000_000 + HEAD)


def control_characters(folder: Path) -> Path:
    return _csv(folder, HEAD + "\nHB01,\x00\x01\x1b[2J,\u202e1\n" * 20_000)


def noughts(folder: Path) -> Path:
    return _csv(folder, bytes(4_000_000))


def half_a_character_of_utf_16(folder: Path) -> Path:
    return _csv(folder, b"\xff\xfe" + HEAD.encode("utf-16-le") + b"\x00\xd8\x00")


def bytes_of_no_encoding(folder: Path) -> Path:
    return _csv(folder, HEAD.encode() + b"\n\x81\x8d\x8f" * 10_000)


def formulas(folder: Path) -> Path:
    return _csv(folder, HEAD + "\nHB01,=cmd|' /C calc'!A0,@SUM(1+1)\nHB02,+1+1,-2+3\n")


def a_table_of_two_hundred_megabytes(folder: Path) -> Path:
    path = folder / "t.csv"
    with path.open("wb") as file:
        file.truncate(200_000_000)
    return path


def a_pipe_as_a_table(folder: Path) -> Path:
    import os

    os.mkfifo(folder / "t.csv")
    return folder / "t.csv"


def a_device_as_a_table(folder: Path) -> Path:
    (folder / "t.csv").symlink_to("/dev/zero")
    return folder / "t.csv"


def a_path_too_long(folder: Path) -> Path:
    return folder / ("t" * 5000 + ".csv")


def a_name_too_long(folder: Path) -> Path:
    return folder / ("t" * 300 + ".csv")
