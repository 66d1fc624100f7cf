"""What to do with a file among returned books that is none, by what kind of file it is."""

from collections.abc import Mapping
from pathlib import Path

from witnessmark.questions.sheet.sheet_codes import codes_in
from witnessmark.questions.sheet.task import Sheet
from witnessmark.words.problems import Place, Problem

PICTURES = (".jpg", ".jpeg", ".png", ".heic", ".heif", ".webp", ".gif", ".tif", ".tiff", ".bmp")
DOCUMENTS = (".pdf", ".doc", ".docx", ".odt", ".rtf", ".pages", ".txt", ".md", ".html", ".htm", ".eml", ".msg")
SPREADSHEETS = (".xls", ".xlsm", ".xlsb", ".numbers", ".fods", ".ots", ".xlt", ".xltx")
TABLES = (".csv", ".tsv")
ARCHIVES = (".rar", ".7z", ".tar", ".gz", ".tgz", ".xz")


def unsupported(path: Path, sheets: Mapping[str, Sheet]) -> Problem:
    """The problem of a file that is no answer book, with what to do about it."""
    kind = path.suffix.lower()
    if kind in PICTURES or kind in DOCUMENTS:
        what = "a picture" if kind in PICTURES else "a document"
        found, remedy = f"{what} ('{path.suffix}')", f"type what it says into the class table, {_row(path, sheets)}"
    elif kind in TABLES:
        found, remedy = f"a table ('{path.suffix}')", "take it in by its own name: witnessmark mark CLASS TASK FILE"
    elif kind in ARCHIVES:
        found, remedy = f"an archive ('{path.suffix}')", "unpack it, or pack it anew as .zip"
    elif kind in SPREADSHEETS:
        found = f"a workbook of another format ('{path.suffix}')"
        remedy = "open it in the spreadsheet program and save it as .xlsx"
    else:
        found = f"a file of type '{path.suffix}'" if path.suffix else "a file without a type"
        remedy = "if it is a workbook, open it in the spreadsheet program and save it as .xlsx; else move it elsewhere"
    return Problem("unsupported-type", Place(str(path)), "an answer book (.xlsx or .ods)", found, remedy)


def _row(path: Path, sheets: Mapping[str, Sheet]) -> str:
    """The row of the student whose code, name or sheet the file is named for, as far as that is one student's."""
    said = path.stem.casefold()
    codes = [code for code in codes_in(path.stem) if code in sheets]
    named = codes or [
        code for code, sheet in sheets.items() if sheet.student.code.casefold() in said.replace("_", " ").split()
    ]
    if len(named) == 1:
        return f"in the row of {sheets[named[0]].student.code} (sheet {named[0]})"
    return "in the row of the student whose work it is"
