"""`python -m witnessmark` does what the command `witnessmark` does."""

from witnessmark.cli.main import main

if __name__ == "__main__":
    main(prog_name="witnessmark")
