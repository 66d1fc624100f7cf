"""Short typed answers that are no numbers: a choice, the order of steps, points of a list."""

from witnessmark.reading.choices import ChoiceReading, read_choice
from witnessmark.reading.orders import OrderReading, read_order
from witnessmark.reading.points import PointFound, PointsReading, read_points

__all__ = ["ChoiceReading", "OrderReading", "PointFound", "PointsReading", "read_choice", "read_order", "read_points"]
