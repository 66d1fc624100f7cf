"""Finds that ask which thing goes with which option."""

from witnessmark.files.bank.working_text import WorkingReader
from witnessmark.files.shapes.shapes import MatchShape
from witnessmark.files.shapes.slip_shapes import PairSlipShape
from witnessmark.files.shapes.yaml_text import Path
from witnessmark.questions.model.mark_steps import is_in_steps
from witnessmark.questions.model.parts import MatchPart
from witnessmark.questions.model.slips import PairSlip
from witnessmark.words.nearest import near_or_all


class PairsReader(WorkingReader):
    """Reads them, with every problem of a pair at its place."""

    def match(self, shape: MatchShape, path: Path, key: str) -> MatchPart | None:
        """Pairs and what is left over, or problems."""
        self.marks((*path, "marks"), shape.marks)
        if not is_in_steps(abs(shape.marks) / len(shape.match)):
            expected = f"marks that share out in halves over {len(shape.match)} pairs"
            self.placed.add("marks", (*path, "marks"), expected, str(shape.marks))
        self._texts(shape, path)
        if shape.in_figure:
            self._balloons((*path, "in figure"), key)
        for position, slip in enumerate(shape.slips):
            self._pair_slip(slip, (*path, "slips", position), shape)
        if self.has_problems:
            return None
        pairs = tuple((pair.thing, pair.with_) for pair in shape.match)
        slips = tuple(PairSlip(slip.misconception, slip.pairs, slip.with_) for slip in shape.slips)
        return MatchPart(key, shape.ask, shape.marks, pairs, tuple(shape.spare), slips, shape.in_figure)

    def _texts(self, shape: MatchShape, path: Path) -> None:
        """A problem for a thing or an option that stands twice, or that names what no student is given."""
        options = [pair.with_ for pair in shape.match]
        self.each_once((*path, "match"), [pair.thing for pair in shape.match], "thing")
        self.each_once((*path, "match"), options, "with")
        self.each_once((*path, "spare"), shape.spare)
        for position, pair in enumerate(shape.match):
            if not shape.in_figure:
                self.scope.placeholders((*path, "match", position, "thing"), pair.thing)
            self.scope.placeholders((*path, "match", position, "with"), pair.with_)
        for position, text in enumerate(shape.spare):
            self.scope.placeholders((*path, "spare", position), text)
            if text in options:
                expected, found = "an option that goes with none of the things", f"'{text}', which goes with one"
                self.placed.add("text-twice", (*path, "spare", position), expected, found, "delete it")

    def _balloons(self, at: Path, key: str) -> None:
        """Notes a part whose things are balloons; a problem where another has taken the numbers of the figure."""
        if self.scope.balloons:
            expected, found = "one find whose things are balloons", f"another, {self.scope.balloons[0]}"
            self.placed.add("balloons-twice", at, expected, found, "ask for them in a question of its own")
        self.scope.balloons.append(key)

    def _pair_slip(self, slip: PairSlipShape, at: Path, shape: MatchShape) -> None:
        """A problem where a slip names no thing or no option of the find, or pairs what belongs together."""
        self.misconception((*at, "misconception"), slip.misconception)
        things, options = [pair.thing for pair in shape.match], [*(pair.with_ for pair in shape.match), *shape.spare]
        if slip.pairs not in things:
            remedy = near_or_all(slip.pairs, things)
            self.placed.add("unknown-thing", (*at, "pairs"), "a thing of this find", f"'{slip.pairs}'", remedy)
        if slip.with_ not in options:
            remedy = near_or_all(slip.with_, options)
            self.placed.add("unknown-option", (*at, "with"), "an option of this find", f"'{slip.with_}'", remedy)
        earlier = shape.slips[: int(str(at[-1]))]
        if any((one.pairs, one.with_) == (slip.pairs, slip.with_) for one in earlier):
            self.placed.add("slip-twice", at, "each wrong pair once", f"'{slip.with_}' with it again")
        if any((pair.thing, pair.with_) == (slip.pairs, slip.with_) for pair in shape.match):
            self.placed.add("slip-is-right", (*at, "with"), "a wrong pair", f"'{slip.with_}', which goes with it")
