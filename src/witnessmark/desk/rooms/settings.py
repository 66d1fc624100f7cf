"""How the desk speaks: its language, the sign of decimals, the form of dates."""

from witnessmark.desk.rooms.room import Room
from witnessmark.desk.telling import told
from witnessmark.desk.visit import Go, Page, Reply, Visit
from witnessmark.desk.words import N_, _
from witnessmark.jobs.desk_settings import CHOICES, FILE, DeskSettings, keep_settings, read_settings

NAMED = {
    "language": N_("Language"), "decimals": N_("Decimals"), "dates": N_("Dates"), "en": "English", "de": "Deutsch",
    "point": N_("a point: 2.5"), "comma": N_("a comma: 2,5"), "in words": N_("in words: 5 March 2027"),
    "year first": N_("year first: 2027-03-05"), "day first": N_("day first: 05.03.2027"),
}  # fmt: skip


def show_settings(visit: Visit) -> Reply:
    """The settings as they stand."""
    stands, problems = read_settings(visit.keeping.own_folder)
    choices = [
        (key, _(NAMED[key]), [(one, _(NAMED[one])) for one in several], visit.text(key) or getattr(stands, key))
        for key, several in CHOICES.items()
    ]
    return Page("settings", {"choices": choices, "found": told(problems), "file": visit.keeping.own_folder / FILE})


def keep(visit: Visit) -> Reply:
    """Other settings, from now on."""
    keep_settings(visit.keeping.own_folder, DeskSettings(*(visit.text(key) for key in CHOICES)))
    return Go("/settings")


ROOMS = (Room("/settings", show_settings, keep),)
