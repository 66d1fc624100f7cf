"""Wrong methods that students share and no question knows, as blocks of the review: formula, who, how sure."""

from collections.abc import Sequence

from witnessmark.documents.page.blocks import (
    Block,
    Formula,
    Heading,
    Inset,
    Keep,
    Note,
    Paragraph,
    Run,
    Typed,
    Words,
    words,
)
from witnessmark.maths.printing.pieces import EQUALS, Letter, Piece, formula, row
from witnessmark.maths.printing.symbols import symbol_for
from witnessmark.maths.syntax import Tree
from witnessmark.review import sentences
from witnessmark.review.shared_methods import Searched, SharedMethod, Sharer

TITLE = "Wrong methods that no question knows yet"
EXPLAINED = (
    "One formula gives the answers of several students here, each with their own numbers. To accept it is to name it "
    "and to mark the task again with it. The command below shows every mark that would change and writes nothing; with "
    "--apply --who NAME --why REASON it is done, and the record keeps why."
)
MOST_NAMED = 40


def shared_methods_blocks(found: Searched) -> list[Block]:
    """The section on wrong methods that students share; it says so where there is none."""
    if not found.shared:
        return [Heading(TITLE), Paragraph(words(sentences.nothing(found)))]
    return [Keep((Heading(TITLE), Note(words(EXPLAINED)))), *(_method(method) for method in found.shared)]


def _method(m: SharedMethod) -> Keep:
    students = f"{len(m.who)} students"
    what = f", {m.what}" if m.what else ""
    heading = Heading(f"{m.label}{what}: formula {m.number}", 3, aside=students)
    told_of = [sentences.difference(m), sentences.power(m), sentences.certainty(m), sentences.accident(m)]
    inner: tuple[Block, ...] = (
        Formula(_equation(m, m.formula)),
        Formula(_equation(m, m.right), lead="right:", beside=True),
        *(Paragraph(words(sentence)) for sentence in told_of if sentence),
        Paragraph((Words("Used by: ", strong=True), *_who(m.who))),
        Paragraph((Words("For the slips of its question: ", strong=True), Typed(m.entry))),
        Paragraph((Words("To accept it: ", strong=True), Typed(sentences.accept_command(m)))),
    )
    return Keep((heading, Inset("", inner)))


def _equation(m: SharedMethod, tree: Tree) -> Piece:
    if not m.symbol:
        return formula(tree, m.symbols)
    return row(Letter(symbol_for(m.symbol, m.symbols)), EQUALS, formula(tree, m.symbols))


def _who(who: Sequence[Sharer]) -> list[Run]:
    """Everybody who used it with what was typed, group by group."""
    runs: list[Run] = []
    group = ""
    for n, sharer in enumerate(sorted(who, key=lambda s: s.group)[:MOST_NAMED]):
        between = "" if n == 0 else "; " if sharer.group != group else ", "
        named = f"{sharer.group} " if sharer.group and (n == 0 or sharer.group != group) else ""
        runs += [Words(f"{between}{named}{sharer.student} "), Typed(sharer.typed)]
        group = sharer.group
    more = len(who) - MOST_NAMED
    return [*runs, Words(f", and {more} more")] if more > 0 else runs
