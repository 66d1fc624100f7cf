"""Write what the bank holds: `bank/INDEX.md`, by topic and level, and `bank/INDEX.html`, the index for a teacher.

Run `python scripts/write_index.py` after a question was added or changed; tests compare both. `--pdf FILE` writes the
teacher's index once more, to print.
"""

import argparse
from pathlib import Path

from witnessmark.documents.bank_index import index_page
from witnessmark.documents.page.html import html_of
from witnessmark.documents.page.pdf import pdf_of
from witnessmark.documents.teachers_index import teachers_index
from witnessmark.files.bank.folder import load_bank

BANK = Path(__file__).parents[1] / "bank"


def main() -> None:
    """Write the pages."""
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--pdf", type=Path, metavar="FILE")
    pdf: Path | None = words.parse_args().pdf
    bank = load_bank(BANK)
    (BANK / "INDEX.md").write_text(index_page(bank), encoding="utf-8")
    for_teachers = teachers_index(bank)
    (BANK / "INDEX.html").write_text(html_of(for_teachers), encoding="utf-8")
    if pdf:
        pdf.write_bytes(pdf_of(for_teachers))


if __name__ == "__main__":
    main()
