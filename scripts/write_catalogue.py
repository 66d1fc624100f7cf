"""Write the catalogue of the desk's words anew: every text that it says, with what is translated already.

Usage: python scripts/write_catalogue.py [LANGUAGE ...]   (default: every language that has a file)

New texts stand there without a translation, which a test then asks for; texts that are said no more are taken out.
"""

import sys
from io import BytesIO
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.extract import extract_from_dir
from babel.messages.pofile import read_po, write_po

DESK = Path(__file__).parents[1] / "src" / "witnessmark" / "desk"
KEYWORDS = {"_": None, "N_": None, "counted": (2, 3)}
METHODS = [("views/**.j2", "jinja2.ext:babel_extract"), ("**.py", "python")]


def said() -> Catalog:
    """Every text that the desk says."""
    found = Catalog(fuzzy=False)
    for _file, _line, text, _comments, _context in extract_from_dir(DESK, METHODS, keywords=KEYWORDS):
        found.add(text)
    return found


def renewed(language: str, known: bytes, texts: Catalog) -> bytes:
    """The file of a language for these texts, with the translations that it has."""
    catalog = read_po(BytesIO(known), language) if known else Catalog(language)
    catalog.update(texts, no_fuzzy_matching=True)
    catalog.obsolete.clear()
    catalog.fuzzy, catalog.project, catalog.header_comment = False, "Witness Mark, the desk", "# Words of the desk."
    written = BytesIO()
    write_po(written, catalog, width=120, omit_header=False, sort_output=True, no_location=True)
    lines = written.getvalue().decode().splitlines()
    kept = [line for line in lines if not line.startswith(TIMED)]
    return ("\n".join(kept).strip() + "\n").encode()


TIMED = ('"POT-Creation-Date', '"PO-Revision-Date', '"Generated-By', '"Last-Translator', '"Language-Team',
         '"Report-Msgid', '"Project-Id')  # fmt: skip


def main(languages: list[str]) -> None:
    """Write the file of each language."""
    texts = said()
    for language in languages or sorted(file.stem for file in (DESK / "catalogue").glob("*.po")):
        file = DESK / "catalogue" / f"{language}.po"
        file.parent.mkdir(exist_ok=True)
        file.write_bytes(renewed(language, file.read_bytes() if file.is_file() else b"", texts))
        print(f"written: {file}")


if __name__ == "__main__":
    main(sys.argv[1:])
