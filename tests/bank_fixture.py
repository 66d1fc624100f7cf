"""The bank of the repository, loaded once for all tests."""

from pathlib import Path

from witnessmark.files.bank.folder import load_bank

BANK = load_bank(Path(__file__).parents[1] / "bank")
