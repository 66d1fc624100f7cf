"""Whether the texts of a drawing keep clear of each other and of its lines."""

from itertools import combinations

from witnessmark.documents.figures.part import Part

TOUCHING = 0.3  # points by which a box may be entered before it shows


def clashes(drawing: Part) -> tuple[str, ...]:
    """A sentence for each pair of texts that overlap, and for each text that a line goes through."""
    found = [
        f"“{one.words}” overlaps “{other.words}”"
        for one, other in combinations(drawing.texts, 2)
        if not one.is_of_one_text_with(other) and one.box.overlaps(other.box)
    ]
    found += [
        f"a line goes through “{lettering.words}”"
        for lettering in drawing.texts
        if any(stroke.crosses(lettering.box.padded(-TOUCHING)) for stroke in drawing.strokes)
    ]
    return tuple(dict.fromkeys(found))
