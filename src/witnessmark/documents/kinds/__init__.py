"""How each kind of find is asked, answered and worked on paper, in one dispatch."""
