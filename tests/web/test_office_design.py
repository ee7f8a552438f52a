"""A job is designed in the office: every change is a step that can be undone, and nothing is lost by a slip."""

from __future__ import annotations

import re
from dataclasses import replace
from io import BytesIO

import pytest
from flask import Flask
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from shopfloor.intake.demo import demo_job
from shopfloor.journal.fold import fold
from shopfloor.store import drafts, jobs, journal
from shopfloor.trade.construct.cabinet import Cabinet
from shopfloor.trade.construct.compose import follow, named
from shopfloor.trade.construct.plain import Plain
from shopfloor.trade.document import to_toml
from shopfloor.trade.length import read
from shopfloor.trade.part import Job, Mortise, Unit
from tests.entries import entry, offered
from tests.web.office_shop import PageReader

KEY = "choir-cabinet"
PAGE = f"/jobs/{KEY}/design"


@pytest.fixture
def demo(app: Flask) -> Flask:
    with app.app_context():
        jobs.save(demo_job())
    return app


def form_on(client: FlaskClient, name: str = "cabinet", address: str = PAGE) -> dict[str, str]:
    """What a browser would send of a construction's form as it stands on the page."""
    answer = client.get(address)
    assert answer.status_code == 200, answer.text
    page = PageReader(answer.text)
    assert page.faults == []
    start = answer.text.index(f'id="construction-{name}"')
    end = answer.text.index(f'value="change:{name}"')
    form: dict[str, str] = {}
    for tag in re.findall(r"<(?:input|select|option)[^>]*>", answer.text[start:end]):
        given = dict(re.findall(r'([a-z-]+)="([^"]*)"', tag))
        if tag.startswith("<select"):
            chosen = given["name"]
            form[chosen] = ""
        elif tag.startswith("<option"):
            if " selected" in tag:
                form[chosen] = given["value"]
        elif given.get("type") != "checkbox" or " checked" in tag:
            form[given["name"]] = given["value"].replace("&#39;", "'").replace("&amp;", "&")
    return form


def change(client: FlaskClient, name: str = "cabinet", status: int = 303, address: str = PAGE, **typed: str) -> str:
    form = form_on(client, name, address)
    unknown = set(typed) - set(form) - {key for key in typed if key.endswith((".there", ".add", ".remove"))}
    assert not unknown
    answer = client.post(address, data=form | typed | {"do": f"change:{name}"})
    assert answer.status_code == status, answer.text
    return answer.text


def job_of(app: Flask, key: str = KEY) -> Job:
    with app.app_context():
        return drafts.read(key).job


def cabinet_of(app: Flask) -> Cabinet:
    (made,) = job_of(app).constructions
    assert isinstance(made, Cabinet)
    return made


def test_the_form_as_it_stands_changes_nothing(demo: Flask, office: FlaskClient) -> None:
    change(office)

    assert job_of(demo) == demo_job()
    with demo.app_context():
        assert not drafts.read(KEY).changed


@pytest.mark.parametrize(("typed", "nm"), [("27", read("27")), ("2' 3\"", read("27")), ("700 mm", 700_000_000)])
def test_an_outside_size_changes_everything_downstream(demo: Flask, office: FlaskClient, typed: str, nm: int) -> None:
    change(office, width=typed)

    rail = next(line for line in job_of(demo).lines if line.key == "back-top-rail")
    assert cabinet_of(demo).width == nm
    assert rail.length == nm - 2 * read("1 3/4") + 2 * read("7/8")
    page = office.get(PAGE).text
    assert "Last: cabinet: width." in page
    assert "back top rail" in page.lower()


@pytest.mark.parametrize(("field", "typed", "says"), [
    ("width", "about 26", "is not exact"),
    ("width", "", "size"),
    ("width", "-3", "less than nothing"),
    ("web_frames.count", "six", "not a whole number"),
    ("left.frame.rails", "3; x", "not a size"),
    ("species", "x\x07y", "cannot be printed"),
])  # fmt: skip
def test_what_cannot_be_read_stays_in_its_field_with_one_sentence(
    demo: Flask, office: FlaskClient, field: str, typed: str, says: str
) -> None:
    page = change(office, status=422, depth="18", **{field: typed})

    assert job_of(demo) == demo_job()
    (wrong,) = re.findall(r'<p class="here says"[^>]*>([^<]*)<', page)
    assert says in wrong
    assert 'name="depth" value="18"' in page


def test_an_impossible_size_is_said_with_the_number_that_would_do_and_the_rest_stays(
    demo: Flask, office: FlaskClient
) -> None:
    change(office, **{"drawers.side": "13"})

    page = office.get(PAGE).text
    assert "thing is wrong" in page or "things are wrong" in page
    lines = {line.key for line in job_of(demo).lines}
    assert "front-left-leg" in lines or "leg-front" in lines or any("leg" in key for key in lines)
    assert not any(key.startswith("drawer") for key in lines)


def test_ten_thousand_drawers_are_refused_with_what_would_do(demo: Flask, office: FlaskClient) -> None:
    change(office, **{"web_frames.count": "10000"})

    page = office.get(PAGE).text
    assert "10000 openings" in page
    assert "would do" in page
    assert len(job_of(demo).lines) < len(demo_job().lines)


def test_what_may_be_left_out_comes_and_goes_with_its_box(demo: Flask, office: FlaskClient) -> None:
    change(office, **{"front.there": "yes"})
    assert (front := cabinet_of(demo).front) is not None
    assert len(front.frame.rails) == 2

    form = form_on(office)
    del form["drawers.there"]
    office.post(PAGE, data=form | {"do": "change:cabinet"})

    assert cabinet_of(demo).drawers is None
    assert not any(assembly.key.startswith("drawer") for assembly in job_of(demo).assemblies)


def test_steps_are_undone_done_again_and_thrown_away(demo: Flask, office: FlaskClient) -> None:
    change(office, width="27")
    change(office, depth="18")
    seen = []
    for do in ("undo", "undo", "redo", "drop"):
        assert office.post(PAGE, data={"do": do}).status_code == 303
        seen.append((cabinet_of(demo).width // read("1"), cabinet_of(demo).depth // read("1")))

    assert seen == [(27, 17), (26, 17), (27, 17), (26, 17)]


def test_a_length_is_set_by_hand_stays_so_and_follows_again(demo: Flask, office: FlaskClient) -> None:
    office.post(PAGE, data={"do": "by-hand:cabinet", "length-of": "top.width", "length": "19"})
    change(office, depth="20")
    line = next(line for line in job_of(demo).lines if line.key == "top")
    assert line.width == read("19")
    assert ", set by hand; else " in office.get(PAGE).text

    office.post(PAGE, data={"do": "follow:cabinet", "length-of": "top.width", "length": "19"})
    line = next(line for line in job_of(demo).lines if line.key == "top")
    assert line.width == read("21 1/4")


def test_a_length_by_hand_that_cannot_be_read_stays_where_it_was_typed(demo: Flask, office: FlaskClient) -> None:
    answer = office.post(PAGE, data={"do": "by-hand:cabinet", "length-of": "top.width", "length": "wide"})

    assert answer.status_code == 422
    assert 'value="wide"' in answer.text
    assert "is not a size" in answer.text


@pytest.mark.parametrize("kind", ["cabinet", "carcase", "doors", "plain"])
def test_every_construction_can_be_added_and_taken_out(demo: Flask, office: FlaskClient, kind: str) -> None:
    answer = office.post(PAGE, data={"do": "add", "kind": kind, "key": "Music Shelf"})

    assert answer.location.endswith("open=music-shelf")
    assert [named(each) for each in job_of(demo).constructions] == ["cabinet", "music-shelf"]
    form_on(office, "music-shelf", answer.location)
    office.post(PAGE, data={"do": "remove:music-shelf"})
    assert job_of(demo) == demo_job()


def test_cuts_are_put_into_plain_parts_and_taken_out_again(demo: Flask, office: FlaskClient) -> None:
    office.post(PAGE, data={"do": "add", "kind": "plain", "key": "batten"})
    change(office, "batten", **{"features.add": "mortise", "length": "20"})
    change(office, "batten", **{"features.0.depth": "1/2"})

    made = job_of(demo).constructions[1]
    assert isinstance(made, Plain)
    assert [(type(cut), getattr(cut, "depth", 0)) for cut in made.features] == [(Mortise, read("1/2"))]
    change(office, "batten", **{"features.0.remove": "yes"})
    assert job_of(demo).constructions[1] == replace(made, features=())


def test_a_job_begins_with_a_name_alone(app: Flask, office: FlaskClient) -> None:
    answer = office.post("/new-job", data={"name": "Hymn  Böard 2", "unit": "mm"})

    assert answer.location == "/jobs/hymn-boeard-2/design"
    assert (job_of(app, "hymn-boeard-2").name, job_of(app, "hymn-boeard-2").unit) == ("Hymn Böard 2", Unit.MM)
    page = office.get(answer.location).text
    assert "Nothing is designed yet." in page
    office.post(answer.location, data={"do": "add", "kind": "cabinet", "key": ""})
    assert office.post(answer.location, data={"do": "save"}).status_code == 303
    with app.app_context():
        assert jobs.latest_number("hymn-boeard-2") == 2
    assert office.get("/jobs/hymn-boeard-2").status_code == 200
    assert office.get("/").status_code == 200


def test_two_jobs_of_one_name_have_two_keys(app: Flask, office: FlaskClient) -> None:
    made = [office.post("/new-job", data={"name": "Bench"}).location for _ in range(3)]

    assert made == ["/jobs/bench/design", "/jobs/bench-2/design", "/jobs/bench-3/design"]


def test_a_job_without_a_name_is_asked_for_one(app: Flask, office: FlaskClient) -> None:
    answer = office.post("/new-job", data={"name": "  ", "unit": "mm"})

    assert answer.status_code == 400
    assert "the job has no name" in answer.text.lower()
    assert re.search(r'value="mm" checked', answer.text)


def tell_cut(app: Flask, *parts: str) -> None:
    with app.app_context():
        codes = jobs.codes(KEY)
        journal.keep(offered(*(entry(n, part=codes[part], step="rough") for n, part in enumerate(parts, 1))))


def test_parts_that_are_cut_already_are_listed_before_saving_and_told_on_their_sheets(
    demo: Flask, office: FlaskClient
) -> None:
    tell_cut(demo, "back.top-rail", "leg.front-left", "drawer.1.front")
    change(office, width="27")

    page = office.get(PAGE).text
    assert "2 parts are cut already" in page
    assert office.post(PAGE, data={"do": "save", "note": "wider"}).status_code == 303

    with demo.app_context():
        codes = jobs.codes(KEY)
        assert next((row.number, row.note) for row in jobs.revisions(KEY)) == (2, "wider")
        told = {
            part: [note.body["text"] for note in fold(journal.rows_of_part(codes[part])).notes]
            for part in ("back.top-rail", "leg.front-left", "drawer.1.front")
        }
    assert told["back.top-rail"] == ["Changed in revision 2, after it was cut: length 24 1/4, now 25 1/4."]
    assert told["leg.front-left"] == []
    assert "now 23 7/16" in told["drawer.1.front"][0]
    assert jobs_note_is_seen(office, codes["back.top-rail"])


def notes_of(app: Flask, part: str) -> list[str]:
    with app.app_context():
        return [note.body["text"] for note in fold(journal.rows_of_part(jobs.codes(KEY)[part])).notes]


@pytest.mark.parametrize(
    ("depth", "listed", "told"),
    [
        ("17 1/2", "It was last in revision 1 and comes back: length ",
         "In the job again since revision 3, and since revision 1 changed, after it was cut: "
         "length 15 1/4, now 15 3/4."),
        ("17", "comes back as it was", "In the job again since revision 3, as it was."),
    ],
)  # fmt: skip
def test_a_part_that_comes_back_is_told_against_what_it_was_cut_to(
    demo: Flask, office: FlaskClient, depth: str, listed: str, told: str
) -> None:
    tell_cut(demo, "left.top-rail")
    before = {each.key: each.number for each in demo_job().assemblies}
    (old,) = demo_job().constructions
    assert isinstance(old, Cabinet)
    with demo.app_context():
        draft = drafts.read(KEY)
        open_left = replace(old, left=None)
        drafts.keep(follow(draft.job, (open_left,), jobs.known(KEY)).job, draft.base, "open")
    assert office.post(PAGE, data={"do": "save"}).status_code == 303
    assert notes_of(demo, "left.top-rail") == ["Changed in revision 2, after it was cut: it is no longer in this job."]

    with demo.app_context():
        draft = drafts.read(KEY)
        deep = replace(old, depth=read(depth))
        drafts.keep(follow(draft.job, (deep,), jobs.known(KEY)).job, draft.base, "back")
    assert listed in office.get(PAGE).text
    assert office.post(PAGE, data={"do": "save"}).status_code == 303

    assert notes_of(demo, "left.top-rail")[1:] == [told]
    assert {each.key: each.number for each in job_of(demo).assemblies} == before


def test_a_design_of_which_something_cannot_be_made_is_not_saved_and_put_right_it_is_as_it_was(
    demo: Flask, office: FlaskClient
) -> None:
    rails = form_on(office)["left.frame.rails"]
    change(office, **{"left.frame.rails": "20; 20"})

    answer = office.post(PAGE, data={"do": "save"})
    assert answer.status_code == 422
    assert "Nothing was saved." in answer.text
    with demo.app_context():
        assert jobs.latest_number(KEY) == 1

    change(office, **{"left.frame.rails": rails})
    assert job_of(demo) == demo_job()


def jobs_note_is_seen(office: FlaskClient, code: str) -> bool:
    return "Changed in revision 2" in office.get(f"/jobs/{KEY}/parts/{code}").text


def test_a_draft_is_not_saved_over_what_somebody_saved_meanwhile(demo: Flask, office: FlaskClient) -> None:
    change(office, width="27")
    with demo.app_context():
        jobs.save(replace(demo_job(), note="meanwhile"))

    answer = office.post(PAGE, data={"do": "save"})

    assert answer.status_code == 422
    assert "revision 2 was saved since this draft was begun" in answer.text.lower()
    assert cabinet_of(demo).width == read("27")


def test_a_draft_with_a_fault_is_not_saved_and_not_lost(demo: Flask, office: FlaskClient) -> None:
    office.post(PAGE, data={"do": "add", "kind": "plain", "key": "batten"})
    change(office, "batten", **{"features.add": "mortise"})
    change(office, "batten", **{"features.0.depth": "9"})

    answer = office.post(PAGE, data={"do": "save"})

    assert answer.status_code == 422
    assert "Cannot be saved so." in answer.text
    with demo.app_context():
        assert jobs.latest_number(KEY) == 1
        assert drafts.read(KEY).changed


@pytest.mark.parametrize("do", ["", "nothing", "change:nobody", "remove:nobody", "add", "by-hand:nobody"])
def test_what_the_page_never_asks_is_refused_in_one_sentence(demo: Flask, office: FlaskClient, do: str) -> None:
    answer = office.post(PAGE, data={"do": do, "kind": "shed"})

    assert answer.status_code == 422
    assert answer.text.count('role="alert"') == 1
    assert job_of(demo) == demo_job()


def test_a_job_that_is_not_there_has_no_design(app: Flask, office: FlaskClient) -> None:
    assert office.get("/jobs/nope/design").status_code == 404
    assert office.post("/jobs/nope/design", data={"do": "undo"}).status_code in (303, 404)


@pytest.mark.parametrize("query", ["?stack=back", "?line=back-top-rail", "?open=-&stack=nope", "?line=%3Cb%3E"])
def test_what_is_asked_for_is_drawn(demo: Flask, office: FlaskClient, query: str) -> None:
    answer = office.get(PAGE + query)

    assert answer.status_code == 200
    assert "<b>" not in query or "<b>" not in answer.text
    assert answer.text.count("<svg") >= 1


def take(office: FlaskClient, text: str, name: str = "job.toml") -> TestResponse:
    return office.post("/new-job/document", data={"document": (BytesIO(text.encode()), name)})


def test_a_new_job_of_which_something_cannot_be_made_waits_as_a_draft(app: Flask, office: FlaskClient) -> None:
    (cabinet,) = demo_job().constructions
    assert isinstance(cabinet, Cabinet)
    low = replace(demo_job(), constructions=(replace(cabinet, height=read("3")),))

    assert take(office, to_toml(low)).status_code == 303

    with app.app_context():
        saved, number = jobs.latest(KEY)
        assert (saved.lines, number) == ((), 1)
    assert job_of(app) == low
    assert office.post(PAGE, data={"do": "save"}).status_code == 422


def test_a_document_of_a_new_job_is_taken_in_and_of_a_known_one_is_a_draft(app: Flask, office: FlaskClient) -> None:
    assert take(office, to_toml(demo_job())).location == PAGE
    with app.app_context():
        assert jobs.latest(KEY) == (demo_job(), 1)

    assert take(office, to_toml(demo_job()).replace("Choir cabinet", "Singers cabinet")).location == PAGE

    assert job_of(app).name == "Singers cabinet"
    with app.app_context():
        assert jobs.latest(KEY) == (demo_job(), 1)


@pytest.mark.parametrize("text", ["", "nonsense", "{}", 'key = "a"'])
def test_what_is_no_document_is_said_in_one_place(app: Flask, office: FlaskClient, text: str) -> None:
    answer = take(office, text)

    assert answer.status_code == 400
    assert answer.text.count('role="alert"') == 1
    with app.app_context():
        assert jobs.all_jobs() == []


def test_what_cannot_be_made_is_said_at_its_field_in_its_place_and_where_it_is_saved(
    demo: Flask, office: FlaskClient
) -> None:
    change(office, **{"left.frame.tenon.thickness": "3/4"})

    page = office.get(PAGE).text
    (status,) = re.findall(r'role="status">(.*?)</p>', page)
    assert "Left side cannot be made: A tenon 3/4 in is too much" in status
    ((field,),) = [re.findall(r'<input id="([^"]*)"[^>]*aria-invalid="true"', page)]
    assert field == "cabinet-left.frame.tenon.thickness"
    assert f'href="#{field}"' in page[page.index("To look at") :]
    assert page.index("1 Legs") < page.index("Left side cannot be made</h3>") < page.index("3 Right side")
    assert re.search(r'value="save" disabled aria-describedby="shut"', page)
    assert "1/2 in or less would do." in page[page.index('id="shut"') : page.index('value="save"')]


def test_the_documents_are_those_of_a_revision_and_say_so(demo: Flask, office: FlaskClient) -> None:
    change(office, width="27")
    page = office.get(PAGE).text

    assert f'href="/jobs/{KEY}/revisions/1.toml">TOML of revision 1</a>' in page
    assert f'href="/jobs/{KEY}/revisions/1.json">JSON of revision 1</a>' in page


def test_a_plain_part_is_drawn_though_there_is_nothing_to_pull_apart(demo: Flask, office: FlaskClient) -> None:
    address = office.post(PAGE, data={"do": "add", "kind": "plain", "key": "batten"}).location

    page = office.get(address).text
    assert "cannot be pulled apart" not in page
    assert "<figcaption>batten</figcaption><svg" in page


def test_legs_of_one_name_are_told_apart_in_the_list(demo: Flask, office: FlaskClient) -> None:
    assert "<span>Leg, front" in office.get(PAGE).text
