"""The desk is the teacher's own: what comes from elsewhere, leads elsewhere or is too much changes nothing."""

from collections.abc import Callable, Iterator
from pathlib import Path

from desk.conftest import KLASS
from desk.open_desk import PORT, Visitor, browser, form_to, opened_desk, visitor
from jobs.small_class import LATER, TASK, contents, hand_in, right_answers, sheets_of
from witnessmark.jobs.listing_students import students_of
from witnessmark.jobs.marking import mark

AtDesk = Callable[[Path], Visitor]
HOSTILE = (Path(__file__).parents[1] / "cases" / "hostile_entries.txt").read_text(encoding="utf-8").splitlines()
STUDENTS = f"/class/{KLASS}/students"


def test_without_the_secret_nothing_is_shown_or_done(issued: Path) -> None:
    before = contents(issued)
    client = browser(opened_desk(issued.parent))
    assert client.get("/").status_code == 403
    assert client.get("/?key=another").status_code == 403
    assert client.post(f"/class/{KLASS}/task/{TASK}").status_code == 403
    assert client.get(f"/class/{KLASS}/file/issued/{TASK}/sheets/HB01.pdf").status_code == 403
    assert contents(issued) == before


def test_the_secret_becomes_a_cookie_that_no_other_site_can_send(tmp_path: Path) -> None:
    desk = opened_desk(tmp_path)
    answer = browser(desk).get(desk.door.address, follow_redirects=False)
    cookie = answer.headers["set-cookie"].lower()
    assert answer.status_code == 303
    assert answer.headers["location"] == "/"
    assert "samesite=strict" in cookie
    assert "httponly" in cookie
    assert desk.door.secret not in cookie


OTHER_HOSTS = ["witness.example", f"witness.example:{PORT}", "127.0.0.1", f"127.0.0.2:{PORT}", ""]


def test_another_host_is_refused(tmp_path: Path) -> None:
    desk = opened_desk(tmp_path)
    client = browser(desk)
    client.get(desk.door.address)
    for way in ("/", f"/?key={desk.door.secret}"):
        assert {host: client.get(way, headers={"Host": host}).status_code for host in OTHER_HOSTS} == dict.fromkeys(
            OTHER_HOSTS, 421
        )


OTHER_ORIGINS = ["http://witness.example", "null", f"https://127.0.0.1:{PORT}", "http://127.0.0.1:1"]


def test_a_form_of_another_origin_changes_nothing(issued: Path) -> None:
    before, at = contents(issued), visitor(issued.parent)
    typed = {"list": "code,name,group\nX1,X,X\n", "seal": students_of(issued).seal}
    for origin in OTHER_ORIGINS:
        assert at.client.post(STUDENTS, data=typed, headers={"Origin": origin}).status_code == 403, origin
    assert contents(issued) == before
    assert at.client.post(STUDENTS, data=typed).status_code == 200
    assert contents(issued) != before


def test_a_form_without_an_origin_must_tell_that_it_is_of_this_page(tmp_path: Path) -> None:
    desk = opened_desk(tmp_path)
    client = browser(desk)
    client.get(desk.door.address)
    del client.headers["Origin"]
    for told in ({}, {"Sec-Fetch-Site": "cross-site"}, {"Sec-Fetch-Site": "same-site"}):
        assert client.post("/", data={"title": "A class"}, headers=told).status_code == 403
    assert client.post("/", data={"title": ""}, headers={"Sec-Fetch-Site": "same-origin"}).status_code == 422


def test_only_looking_and_sending_are_known(tmp_path: Path) -> None:
    desk = opened_desk(tmp_path)
    client = browser(desk)
    client.get(desk.door.address)
    for method in ("PUT", "DELETE", "PATCH", "OPTIONS", "TRACE"):
        assert client.request(method, "/").status_code == 405, method


OUTSIDE = [
    "/class/../first-years", "/class/%2e%2e", "/class/%2e%2e/students", "/class/first-years%2f..%2fother",
    f"/class/{KLASS}/file/record.db", f"/class/{KLASS}/file/class.yaml", f"/class/{KLASS}/file/students.csv",
    f"/class/{KLASS}/file/copies/x.pdf", f"/class/{KLASS}/file/%2e%2e/other/year.html",
    f"/class/{KLASS}/file/issued/%2e%2e/%2e%2e/%2e%2e/other/year.html", f"/class/{KLASS}/file//etc/passwd",
    f"/class/{KLASS}/file/issued/..%2f..%2fyear.html", f"/class/{KLASS}/file/year.html",
    f"/class/{KLASS}/file/issued/away.pdf", f"/class/{KLASS}/task/%2e%2e", f"/class/{KLASS}/task/..%5c..%5cother",
]  # fmt: skip


def test_no_address_leads_outside_the_documents_of_the_class(issued: Path) -> None:
    (issued.parent / "other").mkdir()
    for secret in (issued.parent / "other" / "year.html", issued.parent / "year.html"):
        secret.write_text("not for the desk", encoding="utf-8")
    (issued / "year.html").symlink_to(issued.parent / "year.html")
    (issued / "issued" / "away.pdf").symlink_to(issued.parent / "year.html")
    at = visitor(issued.parent)
    for address in OUTSIDE:
        answer = at.get(address)
        assert answer.status_code in (404, 422), address
        assert "not for the desk" not in answer.text, address


def test_a_desk_of_one_class_knows_no_other(issued: Path) -> None:
    other = issued.parent / "second-years"
    other.mkdir()
    (other / "class.yaml").write_text("class: Second years\nbank: ../bank\n", encoding="utf-8")
    assert "Second years" in visitor(issued.parent).look("/").text
    at = visitor(issued.parent, only=KLASS)
    at.look(f"/class/{KLASS}")
    at.look("/class/second-years", 404)
    assert "Second years" not in at.look("/").text
    assert at.client.post("/", data={"title": "Third years"}).status_code == 422


def test_what_says_that_it_is_too_large_is_refused_before_it_is_read(issued: Path) -> None:
    at = visitor(issued.parent)
    headers = {"Content-Length": "2000000000", "Content-Type": "multipart/form-data; boundary=x"}
    refused = at.client.post(f"/class/{KLASS}/task/{TASK}/back", content=b"--x--\r\n", headers=headers)
    assert refused.status_code == 413


def test_what_does_not_say_how_large_it_is_is_refused(issued: Path) -> None:
    def of_any_length() -> Iterator[bytes]:
        yield b'--x\r\nContent-Disposition: form-data; name="files"; filename="a.xlsx"\r\n\r\n0\r\n--x--\r\n'

    headers = {"Content-Type": "multipart/form-data; boundary=x"}
    room = f"/class/{KLASS}/task/{TASK}/back"
    refused = visitor(issued.parent).client.post(room, content=of_any_length(), headers=headers)
    assert refused.status_code == 411
    assert not list((issued / "returned" / TASK).iterdir())


def test_what_says_two_things_of_its_length_is_refused(issued: Path) -> None:
    """In pieces beside a length, the pieces count and not the length (RFC 9112, section 6.3)."""
    headers = {"Content-Length": "9", "Transfer-Encoding": "chunked", "Content-Type": "multipart/form-data; boundary=x"}
    refused = visitor(issued.parent).client.post(
        f"/class/{KLASS}/task/{TASK}/back", content=b"--x--\r\n", headers=headers
    )
    assert refused.status_code == 411


def test_more_files_than_are_taken_at_once_are_refused(issued: Path, at_desk: AtDesk) -> None:
    at = at_desk(issued)
    page = at.look(f"/class/{KLASS}/task/{TASK}/back")
    told = at.send(form_to(page, "/back"), 422, files=[(f"{n}.xlsx", b"x") for n in range(401)])
    assert "at most 400 files" in told.text
    assert not list((issued / "returned" / TASK).iterdir())


def test_every_answer_forbids_scripts_frames_and_requests_elsewhere(marked: Path, at_desk: AtDesk) -> None:
    at = at_desk(marked)
    for address in ("/", f"/class/{KLASS}", "/no-such-room", "/desk.css"):
        headers = at.get(address).headers
        policy = headers["content-security-policy"]
        assert policy.startswith("default-src 'none'; style-src 'self';")
        assert "script-src" not in policy
        assert "unsafe" not in policy
        assert (headers["x-content-type-options"], headers["referrer-policy"]) == ("nosniff", "same-origin")


def test_names_that_are_markup_or_commands_stay_text(issued: Path, at_desk: AtDesk) -> None:
    at = at_desk(issued)
    page = at.look(STUDENTS)
    tags = set(page.tags)
    names = [line for line in HOSTILE if line.isprintable() and '"' not in line and line == " ".join(line.split())]
    rows = [f'S{n:03},"{name}",<i>group</i>' for n, name in enumerate(names)]
    shown = at.send(page.forms[-1], 200, list="\n".join(["code,name,group", *rows]))
    assert len(names) > 50
    assert all(name in shown.text for name in names)
    assert set(shown.tags) - {("td", "class")} <= tags
    assert [s.name for s in students_of(issued).students] == names


def test_entries_that_are_markup_stay_text_wherever_they_are_shown(issued: Path, at_desk: AtDesk) -> None:
    sheet = sheets_of(issued)["HB01"]
    markup = [
        "<script>alert(1)</script> kN",
        '"><img src=x onerror=alert(1)>',
        "{{ 70 }} {% 70 %}",
        "</textarea><b>70</b>",
    ]
    asked = [*right_answers(sheet)][: len(markup)]
    hand_in(issued, sheet, dict(zip(asked, markup, strict=False)))
    mark(issued, TASK, LATER)
    at = at_desk(issued)
    rooms = [f"/class/{KLASS}/task/{TASK}/tray", f"/class/{KLASS}/task/{TASK}/mark/{sheet.code}/{asked[0]}",
             f"/class/{KLASS}/students/HB01", f"/class/{KLASS}/task/{TASK}/marks"]  # fmt: skip
    for room in rooms:
        names = {tag for tag, _name in at.look(room).tags}
        assert not names & {"script", "b"}
        assert ("img", "onerror") not in at.look(room).tags
    assert markup[0] in at.look(rooms[1]).text


def test_a_name_with_signs_of_headers_is_kept_as_a_name(issued: Path, at_desk: AtDesk) -> None:
    at = at_desk(issued)
    page = at.look(f"/class/{KLASS}/task/{TASK}/back")
    at.send(form_to(page, "/back"), who="K. Lund\r\nSet-Cookie: a=b; ü")
    assert "K. Lund" in at.look(f"/class/{KLASS}/task/{TASK}/back").forms[0].data()["who"][0]
