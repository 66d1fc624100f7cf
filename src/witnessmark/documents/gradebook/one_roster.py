"""The results of a class as a set of OneRoster 1.2 CSV files in a zip file, for the systems of schools.

Source: 1EdTech, OneRoster CSV Binding 1.2, final release (imsglobal.org/spec/oneroster/v1p2/bind/csv), sections 2 and
3: names, order and meaning of columns, permitted values, bulk mode (no status, no dateLastModified; every object that
is named is defined), a header in each file, no file without rows, all files at the root of the zip.
"""

import csv
import hashlib
import io
import zipfile
from collections.abc import Iterator, Mapping, Sequence
from datetime import date, timedelta
from decimal import Decimal

from witnessmark.documents.gradebook.mark_book_data import MarkBookData, StudentOfYear, TaskOfYear
from witnessmark.marking.standing import State, TaskStanding

MANIFEST = (
    "academicSessions", "categories", "classes", "classResources", "courses", "courseResources", "demographics",
    "enrollments", "lineItemLearningObjectiveIds", "lineItems", "lineItemScoreScales", "orgs", "resources",
    "resultLearningObjectiveIds", "results", "resultScoreScales", "roles", "scoreScales", "userProfiles",
    "userResources", "users",
)  # fmt: skip
BULK = ("sourcedId", "status", "dateLastModified")
COLUMNS: Mapping[str, tuple[str, ...]] = {
    "academicSessions": ("title", "type", "startDate", "endDate", "parentSourcedId", "schoolYear"),
    "categories": ("title", "weight"),
    "classes": (
        "title", "grades", "courseSourcedId", "classCode", "classType", "location", "schoolSourcedId",
        "termSourcedIds", "subjects", "subjectCodes", "periods",
    ),
    "courses": ("schoolYearSourcedId", "title", "courseCode", "grades", "orgSourcedId", "subjects", "subjectCodes"),
    "enrollments": ("classSourcedId", "schoolSourcedId", "userSourcedId", "role", "primary", "beginDate", "endDate"),
    "lineItems": (
        "title", "description", "assignDate", "dueDate", "classSourcedId", "categorySourcedId",
        "academicSessionSourcedId", "resultValueMin", "resultValueMax", "schoolSourcedId",
    ),
    "orgs": ("name", "type", "identifier", "parentSourcedId"),
    "results": (
        "lineItemSourcedId", "studentSourcedId", "scoreStatus", "score", "scoreDate", "comment", "textScore",
        "classSourcedId", "inProgress", "incomplete", "late", "missing",
    ),
    "roles": (
        "userSourcedId", "roleType", "role", "beginDate", "endDate", "orgSourcedId", "userProfileSourcedId",
    ),
    "users": (
        "enabledUser", "username", "userIds", "givenName", "familyName", "middleName", "identifier", "email", "sms",
        "phone", "agentSourcedIds", "grades", "password", "userMasterIdentifier", "resourceSourcedIds",
        "preferredGivenName", "preferredMiddleName", "preferredFamilyName", "primaryOrgSourcedId", "pronouns",
    ),
}  # fmt: skip
"""The columns of each file after the three that all have, in the order of the specification."""
NO_RESULT = frozenset({State.LEFT, State.NOT_ISSUED})
FIRST_DAY = (1980, 1, 1, 0, 0, 0)  # the first that a zip file can tell, so that the same data is the same file
Row = Mapping[str, str]


def one_roster(data: MarkBookData) -> bytes:
    """The zip file. ValueError for a class without tasks or students, of which there would be no results."""
    tables = {name: list(rows) for name, rows in _tables(data).items()}
    if empty := [name for name, rows in tables.items() if not rows]:
        raise ValueError(f"no rows for {', '.join(empty)}")
    files = {"manifest.csv": _manifest(tables)}
    files |= {f"{name}.csv": _csv((*BULK, *COLUMNS[name]), rows) for name, rows in tables.items()}
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as packed:
        for name, text in files.items():
            packed.writestr(zipfile.ZipInfo(name, FIRST_DAY), text.encode(), zipfile.ZIP_DEFLATED)
    return out.getvalue()


def _csv(columns: Sequence[str], rows: Sequence[Row]) -> str:
    out = io.StringIO()
    lines = csv.DictWriter(out, columns, restval="", lineterminator="\r\n")
    lines.writeheader()
    lines.writerows({column: " ".join(text.split()) for column, text in row.items()} for row in rows)
    return out.getvalue()


def _manifest(tables: Mapping[str, Sequence[Row]]) -> str:
    told = {"manifest.version": "1.0", "oneroster.version": "1.2"}
    told |= {f"file.{name}": "bulk" if name in tables else "absent" for name in MANIFEST}
    told |= {"source.systemName": "Witness Mark"}
    return _csv(("propertyName", "value"), [{"propertyName": name, "value": value} for name, value in told.items()])


class _Ids:
    """The identifiers of a class: the same for the same class in every year of its life."""

    def __init__(self, data: MarkBookData) -> None:
        told = f"{data.class_title}|{data.started.isoformat()}"
        self.base = f"wm-{hashlib.sha256(told.encode()).hexdigest()[:12]}"

    def __call__(self, *words: str) -> str:
        return ".".join((self.base, *words))


def _tables(data: MarkBookData) -> Mapping[str, Iterator[Row]]:
    ids = _Ids(data)
    return {
        "academicSessions": iter([_session(data, ids)]),
        "categories": iter([{"sourcedId": ids("tasks"), "title": "Tasks"}]),
        "classes": iter([{
            "sourcedId": ids("class"), "title": data.class_title, "courseSourcedId": ids("course"),
            "classType": "scheduled", "schoolSourcedId": ids("school"), "termSourcedIds": ids("year"),
        }]),
        "courses": iter([{
            "sourcedId": ids("course"), "title": data.class_title, "schoolYearSourcedId": ids("year"),
            "orgSourcedId": ids("school"),
        }]),
        "enrollments": (_enrollment(one, ids) for one in data.students),
        "lineItems": (_line_item(data, task, ids) for task in data.tasks),
        "orgs": iter([{"sourcedId": ids("school"), "name": data.class_title, "type": "school"}]),
        "results": _results(data, ids),
        "roles": (_role(one, ids) for one in data.students),
        "users": (_user(one, ids) for one in data.students),
    }  # fmt: skip


def _end(data: MarkBookData) -> date:
    """The day on which the school year is over: a year after it began, and after all that was set in it."""
    last = max([data.today, *(of_year.task.due or of_year.assigned for of_year in data.tasks)])
    return max(data.started + timedelta(days=365), last + timedelta(days=1))


def _session(data: MarkBookData, ids: _Ids) -> Row:
    end = _end(data)
    return {
        "sourcedId": ids("year"), "title": data.class_title, "type": "schoolYear",
        "startDate": data.started.isoformat(), "endDate": end.isoformat(),
        "schoolYear": f"{(end - timedelta(days=1)).year}",
    }  # fmt: skip


def _user(one: StudentOfYear, ids: _Ids) -> Row:
    given, _, family = one.student.name.rpartition(" ")
    code = one.student.code
    return {
        "sourcedId": ids("student", code), "enabledUser": "true", "username": code, "identifier": code,
        "givenName": given or family or code, "familyName": family if given else code,
        "primaryOrgSourcedId": ids("school"),
    }  # fmt: skip


def _role(one: StudentOfYear, ids: _Ids) -> Row:
    code = one.student.code
    return {
        "sourcedId": ids("role", code), "userSourcedId": ids("student", code), "roleType": "primary",
        "role": "student", "orgSourcedId": ids("school"),
    }  # fmt: skip


def _enrollment(one: StudentOfYear, ids: _Ids) -> Row:
    code = one.student.code
    return {
        "sourcedId": ids("enrollment", code), "classSourcedId": ids("class"), "schoolSourcedId": ids("school"),
        "userSourcedId": ids("student", code), "role": "student",
    }  # fmt: skip


def _line_item(data: MarkBookData, of_year: TaskOfYear, ids: _Ids) -> Row:
    due = of_year.task.due or _end(data) - timedelta(days=1)
    return {
        "sourcedId": ids("task", of_year.task.key), "title": of_year.task.title,
        "assignDate": of_year.assigned.isoformat(), "dueDate": due.isoformat(), "classSourcedId": ids("class"),
        "categorySourcedId": ids("tasks"), "academicSessionSourcedId": ids("year"), "resultValueMin": "0.0",
        "resultValueMax": _float(of_year.out_of), "schoolSourcedId": ids("school"),
    }  # fmt: skip


def _results(data: MarkBookData, ids: _Ids) -> Iterator[Row]:
    for one in data.students:
        for standing in one.standings:
            if standing.state not in NO_RESULT:
                yield _result(data, one, standing, ids)


def _result(data: MarkBookData, one: StudentOfYear, standing: TaskStanding, ids: _Ids) -> Row:
    received = [attempt.received for attempt in standing.attempts if attempt.received and attempt.earned is not None]
    missing = standing.state is State.MISSING
    return {
        "sourcedId": ids("result", standing.task, one.student.code), "lineItemSourcedId": ids("task", standing.task),
        "studentSourcedId": ids("student", one.student.code), "scoreStatus": _status(standing),
        "score": "" if standing.marks is None else _float(standing.marks),
        "scoreDate": (received[-1] if received else data.today).isoformat(), "classSourcedId": ids("class"),
        "inProgress": _word(standing.state is State.OPEN), "incomplete": "false",
        "late": _word(missing or standing.state is State.LATE), "missing": _word(missing),
    }  # fmt: skip


def _status(standing: TaskStanding) -> str:
    if standing.state is State.EXEMPT:
        return "exempt"
    if standing.state in (State.IN_TIME, State.EXTENDED, State.LATE):
        return "partially graded" if standing.waiting else "fully graded"
    return "not submitted"


def _float(marks: Decimal) -> str:
    return f"{float(marks)}"


def _word(holds: bool) -> str:
    return "true" if holds else "false"
