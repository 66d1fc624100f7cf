"""How the gradebook looks."""

from witnessmark.documents.gradebook.writer import Look

TITLE = Look(bold=True, size=16)
NOTE = Look(colour="595959")
NOTE_ACROSS = Look(colour="595959", wrapped=True)
HEADING = Look(bold=True, colour="FFFFFF", fill="2F4F4F", wrapped=True)
HEADING_CENTRED = Look(bold=True, colour="FFFFFF", fill="2F4F4F", wrapped=True, centred=True)
UPRIGHT = Look(bold=True, colour="FFFFFF", fill="2F4F4F", upright=True)
ABOVE = Look(italic=True, colour="595959", fill="EEF2F2")
ABOVE_NUMBER = Look(italic=True, colour="595959", fill="EEF2F2", centred=True)
ABOVE_MEAN = Look(italic=True, colour="595959", fill="EEF2F2", centred=True, numbers="0.0")
ABOVE_SHARE = Look(italic=True, colour="595959", fill="EEF2F2", centred=True, numbers="0 %")
PLAIN = Look()
WRAPPED = Look(wrapped=True)
QUIET = Look(wrapped=True, colour="595959", size=9)
TYPED = Look(wrapped=True, numbers="@")
NUMBER = Look(centred=True)
TOTAL = Look(centred=True, bold=True)
SHARE = Look(centred=True, numbers="0 %")
DAY = Look(centred=True, numbers="yyyy-mm-dd")
LATE = Look(centred=True, bold=True, fill="F3D9D2")
MEAN = Look(centred=True, bold=True, numbers="0.0 %")
STAYS_OUT = Look(centred=True, italic=True, colour="595959", size=9)
WAITING = "FFEFC2"
MODERATED = Look(bold=True, fill="D6E6F5")
OPEN = "F4F9EC"
"""The fill of cells in which a teacher types."""
OWN_MARK = Look(centred=True, fill=OPEN, bold=True)
OWN_WORDS = Look(wrapped=True, numbers="@", fill=OPEN)
OWN_HEADING = Look(bold=True, colour="FFFFFF", fill="4E6B1F", wrapped=True)
SHOWN = Look(fill="F3D9D2", bold=True)
