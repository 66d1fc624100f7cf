"""Every room of the desk, one module each."""

from witnessmark.desk.rooms import (
    after,
    bank,
    classes,
    files,
    in_tray,
    marks,
    setting,
    student,
    students,
    taking_in,
    working,
    year,
)
from witnessmark.desk.rooms.room import Room

ROOMS: tuple[Room, ...] = (
    *classes.ROOMS, *students.ROOMS, *setting.ROOMS, *taking_in.ROOMS, *in_tray.ROOMS, *marks.ROOMS, *after.ROOMS,
    *student.ROOMS, *bank.ROOMS, *year.ROOMS, *files.ROOMS, *working.ROOMS,
)  # fmt: skip
