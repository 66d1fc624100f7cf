"""Write `bank/INDEX.md`: the questions of the bank by topic and level.

Run `python scripts/write_index.py` after a question was added or changed; a test compares it.
"""

from pathlib import Path

from witnessmark.documents.bank_index import index_page
from witnessmark.files.bank.folder import load_bank

BANK = Path(__file__).parents[1] / "bank"


def main() -> None:
    """Write the page."""
    (BANK / "INDEX.md").write_text(index_page(load_bank(BANK)), encoding="utf-8")


if __name__ == "__main__":
    main()
