"""Every room of the desk, one module each."""

from witnessmark.desk.rooms import (
    after,
    arranging,
    bank,
    classes,
    files,
    in_tray,
    marks,
    put_right,
    setting,
    settings,
    student,
    students,
    taking_in,
    working,
    writing,
    year,
)
from witnessmark.desk.rooms.room import Room

ROOMS: tuple[Room, ...] = (
    *classes.ROOMS, *students.ROOMS, *setting.ROOMS, *taking_in.ROOMS, *in_tray.ROOMS, *marks.ROOMS, *after.ROOMS,
    *student.ROOMS, *arranging.ROOMS, *put_right.ROOMS, *bank.ROOMS, *writing.ROOMS, *year.ROOMS, *files.ROOMS,
    *working.ROOMS, *settings.ROOMS,
)  # fmt: skip
