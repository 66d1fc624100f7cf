"""The part of a record that is about students and no mark: what was arranged for them."""

from datetime import datetime

from witnessmark.questions.sheet.arranged import Arranged, Arrangement, Arranging
from witnessmark.record import arrangements
from witnessmark.record.record_file import RecordFile


class OfStudents(RecordFile):
    """Arrangements of a record that is open. All methods raise ProblemsFound as those of `Record` do."""

    def arranged(self) -> Arranged:
        """All that stands arranged for students of the class."""
        with self._reading():
            return Arranged(arrangements.load_arrangements(self._db))

    def arrange(self, new: Arrangement) -> bool:
        """Let an arrangement stand; False where it stood already. ProblemsFound without a name or reason."""
        with self.together():
            return arrangements.arrange(self._db, new)

    def drop_arrangement(
        self, kind: Arranging, task_key: str, student: str, who: str, why: str, now: datetime, sheet_code: str = ""
    ) -> bool:
        """Let an arrangement stand no longer; False where there was none. ProblemsFound without a name or reason."""
        with self.together():
            return arrangements.drop(self._db, kind, task_key, student, sheet_code, who, why, now)
