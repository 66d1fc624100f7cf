"""`python -m witnessmark` does what the command `witnessmark` does."""

from witnessmark.cli.entry import main

if __name__ == "__main__":
    main()
