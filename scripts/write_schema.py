"""Write the JSON Schemas of question, table, misconception and task files into `bank/`, for editors.

Run `python scripts/write_schema.py` after a change of `files/shapes/shapes.py`; a test compares them.
"""

import json
from pathlib import Path

from witnessmark.files.shapes.schemas import schemas

BANK = Path(__file__).parents[1] / "bank"


def main() -> None:
    """Write every schema as `bank/NAME.schema.json`."""
    for name, schema in schemas().items():
        text = json.dumps(schema, indent=2, ensure_ascii=False) + "\n"
        (BANK / f"{name}.schema.json").write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
