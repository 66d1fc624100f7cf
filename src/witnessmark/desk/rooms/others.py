"""Every room but the first ones: what they need takes longer to load than a first page may."""

from witnessmark.desk.rooms import (
    after,
    arranging,
    bank,
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

OTHERS: tuple[Room, ...] = (
    *students.ROOMS, *setting.ROOMS, *taking_in.ROOMS, *in_tray.ROOMS, *marks.ROOMS, *after.ROOMS, *student.ROOMS,
    *arranging.ROOMS, *put_right.ROOMS, *bank.ROOMS, *writing.ROOMS, *year.ROOMS, *files.ROOMS, *working.ROOMS,
    *settings.ROOMS,
)  # fmt: skip
