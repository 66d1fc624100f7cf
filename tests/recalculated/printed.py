"""What a student sees of a question: the words and numbers of its printed page, read back from the page alone."""

import re
from dataclasses import dataclass, field
from html.parser import HTMLParser

from recalculated.amounts import amount

SIZES = "To choose from: "
RAISED = str.maketrans("0123456789−", "⁰¹²³⁴⁵⁶⁷⁸⁹⁻")


@dataclass
class Printed:
    """The setting, the givens by their words, what is asked by letter, the options by letter of each, the sizes to
    choose from by letter (values in SI by name), the figure as it is drawn (SVG), where something is read from it, and
    the columns of the table of readings (in SI) by the letter in their heading.
    """

    setting: str = ""
    givens: dict[str, str] = field(default_factory=dict)
    asks: dict[str, str] = field(default_factory=dict)
    options: dict[str, dict[str, str]] = field(default_factory=dict)
    sizes: dict[str, dict[str, float]] = field(default_factory=dict)
    figure: str = ""
    columns: dict[str, list[float]] = field(default_factory=dict)

    def __getitem__(self, words: str) -> float:
        """The SI value of the given of these words (or of the only one that begins with them)."""
        begun = [name for name in self.givens if name.startswith(words)]
        found = [words] if words in self.givens else begun
        assert len(found) == 1, f"{len(found)} of the givens are called {words!r}; printed are {self.givens}"
        return amount(self.givens[found[0]])

    def behind(self, words: str) -> float:
        """The SI value of the amount that stands right behind these words of the setting or of what is asked."""
        text = "\n".join([self.setting, *self.asks.values()])
        assert text.count(words) == 1, f"{words!r} is printed {text.count(words)} times in {text!r}"
        return amount(text.partition(words)[2].lstrip())

    def says(self, words: str) -> bool:
        """Whether these words stand in the setting or in what is asked."""
        return any(words in text for text in (self.setting, *self.asks.values()))

    def figures(self, letter: str) -> int:
        """The significant figures that a part asks for; three where it says nothing (the sheet says so at its head)."""
        said = re.search(r"to (\d+) significant figures", self.asks[letter.rstrip("0123456789")])
        return int(said[1]) if said else 3

    def __str__(self) -> str:
        rows = [f"  {words}: {value}" for words, value in self.givens.items()]
        asked = [f"{letter}. {text} {self.options.get(letter, '')}" for letter, text in self.asks.items()]
        return "\n".join([self.setting, *rows, *asked])


@dataclass
class Tag:
    """A tag that is open, its class, and how many tags began within it."""

    name: str
    kind: str
    begun: int = 0


class Page(HTMLParser):
    """Walks a page: gathers the text of each cell, paragraph, option and formula, and puts it where it belongs."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.printed, self.formulae = Printed(), list[str]()
        self._open: list[Tag] = []
        self._text, self._row, self._letter, self._option = "", list[str](), "", ""
        self._names, self._heads = list[str](), list[tuple[str, ...]]()
        self.feed(html.partition("<main>")[2])

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        kind = dict(attrs).get("class") or ""
        if self._open:
            self._open[-1].begun += 1
        if tag not in ("img", "br", "mspace"):
            self._open.append(Tag(tag, kind))
        if tag in ("p", "td", "th", "li", "math") or kind == "letter":
            self._text = ""
        if tag == "tr":
            self._row = []

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if self._open:
            self._open[-1].begun += 1

    def handle_data(self, data: str) -> None:
        raised = any(tag.name == "msup" and tag.begun == 2 for tag in self._open)
        self._text += data.translate(RAISED) if raised else data

    def handle_endtag(self, tag: str) -> None:
        text, within = self._text.strip("\n "), [each.kind for each in self._open]
        if tag in ("td", "th"):
            self._row.append(text)
        elif tag == "tr" and "readings" in within:
            self._row_of_readings()
        elif tag == "tr" and (self._names or self._row[:1] == ["size"]):
            self._sizes_of_a_table()
        elif tag == "tr" and len(self._row) == 3 and self._row != ["Symbol", "Given", "Value"]:
            self.printed.givens[self._row[1]] = self._row[2]
        elif tag == "li" and "options" in within:
            self.printed.options.setdefault(self._letter, {})[self._option] = text
        elif tag == "p":
            self._paragraph(text, within)
        elif tag == "math":
            self.formulae.append(text)
        elif within[-1:] == ["letter"]:
            self._lettered(text, "options" in within)
        if self._open and self._open[-1].name == tag:
            self._open.pop()

    def _row_of_readings(self) -> None:
        """The headings, each with its letter and unit (`F in kN`), then the readings; what is asked is empty."""
        if self._row[0] == "row":
            self._heads = [tuple(head.rpartition(" in ")[::2]) if " in " in head else (head, "") for head in self._row]
            return
        for (letter, unit), reading in zip(self._heads[1:], self._row[1:], strict=True):
            if reading:
                self.printed.columns.setdefault(letter, []).append(amount(f"{reading}\u00a0{unit}".strip()))

    def _sizes_of_a_table(self) -> None:
        """Two rows: the names behind `size`, then the values behind `stress area in mm²`."""
        if not self._names:
            self._names = self._row[1:]
            return
        unit = self._row[0].rpartition(" in ")[2]
        values = [amount(f"{value}\u00a0{unit}") for value in self._row[1:]]
        self.printed.sizes.setdefault(self._letter, {}).update(zip(self._names, values, strict=True))
        self._names = []

    def _lettered(self, letter: str, is_option: bool) -> None:
        self._text = ""
        if is_option:
            self._option = letter
        else:
            self._letter = letter

    def _paragraph(self, text: str, within: list[str]) -> None:
        if "ask" in within:
            self.printed.asks[self._letter] = text
        elif text.startswith(SIZES):
            names = text.removeprefix(SIZES).split(", ")
            self.printed.sizes[self._letter] = {name: amount(name.replace(" ", "\u00a0")) for name in names}
        elif "caution" not in within:
            self.printed.setting += f" {text}" if self.printed.setting else text
