"""The kinds of blocks, runs and formula pieces as tuples, for renderers that tell them apart at run time."""

from typing import get_args

from witnessmark.documents.blocks import Block, Run
from witnessmark.maths.printing.pieces import Piece

PIECES: tuple[type, ...] = get_args(Piece)
BLOCKS: tuple[type, ...] = (*get_args(Block), *get_args(Run))
