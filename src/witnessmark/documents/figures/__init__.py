"""Figures drawn to the numbers of one student: drawing parts, and the door to figure templates."""
