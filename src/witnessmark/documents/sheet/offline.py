"""The page of a sheet that is filled in on a telephone or a laptop, without a network.

What was typed is saved as a file or shown as a message. It looks at the form alone; what is right it does not know.
"""

from collections.abc import Sequence
from dataclasses import replace
from functools import cache

from witnessmark.documents.kinds.dispatch import letters_of, manner_of
from witnessmark.documents.page import blocks
from witnessmark.documents.page.blocks import AnswerBox, Block, Document, Fill, Note, words
from witnessmark.documents.page.html import Script, html_of
from witnessmark.documents.page.templates import ASSETS
from witnessmark.questions.model.kinds import results_of
from witnessmark.questions.sheet.task import NOTE, Ask, Sheet

HOW_TO = (
    "You can type your answers into this page and send them from its end: as a file, or as the text of a message. On "
    "paper it is a sheet to write on."
)
ROOM = words("Working")


def offline_page(document: Document, sheet: Sheet) -> str:
    """The document of a sheet as a page that can be filled in."""
    return html_of(fillable(document, sheet), _script())


@cache
def _script() -> Script:
    text, style = ((ASSETS / name).read_text(encoding="utf-8") for name in ("offline.js", "offline.css"))
    return Script(text, style)


def fillable(document: Document, sheet: Sheet) -> Document:
    """The same document with a field for every answer of the sheet, and one for a note to the teacher."""
    filling = _Filling(sheet)
    title, *rest = (one for block in document.blocks for one in filling.block(block))
    note = AnswerBox(words("A note to your teacher, if you like"), lines=2, fill=Fill(NOTE, "for a note", "words"))
    return replace(document, blocks=(title, Note(words(HOW_TO)), *rest, note))


class _Filling:
    """Goes through the blocks of a sheet in their order, and gives each place to write the answer it is for."""

    def __init__(self, sheet: Sheet) -> None:
        self.sheet, self.number = sheet, 0
        self.asks = sheet.asks
        self.waiting: list[Ask] = []

    def block(self, block: Block) -> Sequence[Block]:
        """What stands in the place of a block: itself with its fields, or nothing."""
        match block:
            case blocks.Heading(number=number) if number.isdecimal():
                self.number = int(number)
            case blocks.Ask(letter=letter):
                self.waiting = self._asks(letter)
            case AnswerBox():
                return self._box(block)
            case blocks.Keep() | blocks.Beside():
                return (replace(block, blocks=tuple(one for inner in block.blocks for one in self.block(inner))),)
            case blocks.Readings():
                return (replace(block, rows=tuple(tuple(map(self._cell, row)) for row in block.rows)),)
            case blocks.SideBySide():
                return [one for inner in block.blocks for one in self._box(inner)]
        return (block,)

    def _asks(self, letter: str) -> list[Ask]:
        """The answers of a part, steps of the working first, as their boxes stand."""
        mine = [ask for ask in self.asks if ask.number == self.number and ask.part.key == letter]
        return sorted(mine, key=lambda ask: ask.line is None)

    def _box(self, box: AnswerBox) -> Sequence[AnswerBox]:
        """A box with its field; two results of one answer have one field together, and room for working none."""
        if box.before == ROOM or not self.waiting:
            return ()
        ask = self.waiting.pop(0)
        if ask.line is None and len(results_of(ask.part)) > 1:
            box = replace(box, before=words("Both, with “and” between"), hint="")
        return (replace(box, choices=(), fill=self._fill(ask)),)

    def _cell(self, cell: blocks.Cell) -> blocks.Cell:
        """A cell of a table of readings with its field, where it is asked."""
        asks = [ask for ask in self.asks if ask.number == self.number and ask.part.key == cell.key]
        return replace(cell, fill=Fill(asks[0].key, asks[0].label, "number")) if asks else cell

    def _fill(self, ask: Ask) -> Fill:
        manner, variant = manner_of(ask.part), self.sheet.variants[ask.number - 1]
        letters = letters_of(variant, ask.part) if manner.picks_letter else ()
        offers = (*manner.offers, *letters)
        if offers and ask.line is None:
            return Fill(ask.key, ask.label, "pick", offers)
        if ask.has_unit:
            return Fill(ask.key, ask.label, "number")
        return Fill(ask.key, ask.label, "words" if manner.in_words else "text")
