"""The life of a job template over the API, as the editor uses it."""

from __future__ import annotations

import json

import pytest

from shop.core.ids import new_id
from shop.jobs.format.facts import FACTS
from shop.jobs.format.shapes import ANY
from shop.jobs.format.vocabulary import FIELDS, KINDS, QUANTITIES, TITLES
from shop.jobs.format.words import facts_in_words, own_title
from shop.jobs.models import Draft, Revision
from shop.jobs.services import publish_revision
from tests.factories.bodies import PASSWORD
from tests.factories.core import PersonFactory, ShopFactory
from tests.factories.jobs import BenchFactory, caution, look, on_the_bench, reading, started
from tests.factories.jobs import template as template_body
from tests.factories.units import ModelSheetFactory

pytestmark = pytest.mark.django_db
DRAFTS = "/api/v1/template-drafts/"


def begun(client, slug="small", body=None, **more):
    made = client.post(DRAFTS, {"slug": slug, "title": slug, **more}, format="json").json()
    if body is None:
        return made
    return put(client, made, body).json()


def put(client, draft, body, version=None, **more):
    sent = {"body": body, **more}
    etag = f'"{version or draft["version"]}"'
    return client.put(f"{DRAFTS}{draft['id']}/", sent, format="json", headers={"If-Match": etag})


def act(client, draft, action, version=None, **sent):
    headers = {"If-Match": f'"{version}"'} if version else {}
    return client.post(f"{DRAFTS}{draft['id']}/{action}/", sent, format="json", headers=headers)


def test_from_an_empty_draft_to_a_revision(api, anna, max):
    tech, manager = api(anna), api(max)
    draft = begun(tech, body=template_body())

    submitted = act(tech, draft, "submit", note="please").json()
    said = {"agree": True, "note": "fine", "password": PASSWORD}
    agreed = act(manager, draft, "review", submitted["version"], **said).json()
    published = act(manager, draft, "publish", change_note="first").json()

    assert draft["may"] == {"edit": True, "submit": True, "review": False, "publish": False}
    assert (submitted["stage"], agreed["stage"]) == ("in_review", "reviewed")
    assert agreed["may"]["publish"] is True
    assert (published["number"], published["review_words"]) == (1, "Reviewed by Max.")
    (row,) = tech.get("/api/v1/job-templates/small/revisions/").json()
    assert (row["reviewed_by_name"], row["review_note"]) == ("Max", "fine")


def test_a_draft_is_saved_from_the_version_that_was_seen(api, anna, max):
    draft = begun(api(anna))
    address = f"{DRAFTS}{draft['id']}/"

    unsaid = api(anna).put(address, {"body": {}}, format="json")
    saved = put(api(anna), draft, {"a": 1})
    stale = put(api(max), draft, {"a": 2})

    assert (unsaid.status_code, unsaid.json()["code"]) == (428, "if_match_missing")
    assert (saved.status_code, saved["ETag"]) == (200, '"2"')
    assert (stale.status_code, stale.json()["code"]) == (412, "stale")
    assert api(max).get(address).json()["body"] == {"a": 1}


def test_problems_lead_to_their_place(api, anna):
    body = template_body(caution(), look(), reading(unit="A"))

    draft = begun(api(anna), body=body)

    (problem,) = draft["problems"]
    assert (problem["path"], problem["field"]) == (["steps", 2, "unit"], "steps[2].unit")
    assert problem["step"] == "rail"


@pytest.mark.parametrize(
    "raw",
    [
        '{"body": {"a": "\\u0000"}}', '{"body": {"a": "\\ud800"}}', '{"body": {"a": NaN}}',
        '{"body": {"a": 1e400}}', '{"body": []}', '{"body": null}', "{}",
        '{"body": ' + '{"a":' * 200 + "1" + "}" * 201,
        '{"body": {"a": "' + "x" * 500_001 + '"}}',
    ],
    ids=["nul", "half pair", "nan", "infinite", "list", "null", "none", "deep", "large"],
)  # fmt: skip
def test_a_body_that_cannot_be_kept_is_refused_with_a_reason(api, anna, raw):
    draft = begun(api(anna))
    headers = {"If-Match": '"1"'}

    answer = api(anna).generic(
        "PUT", f"{DRAFTS}{draft['id']}/", raw, "application/json", headers=headers
    )

    assert answer.status_code == 400
    assert answer.json()["detail"]
    assert Draft.objects.get().version == 1


def test_a_review_takes_the_password_of_who_reviews(api, anna, max):
    ben = PersonFactory(username="ben", role="tech")
    draft = begun(api(anna), body=template_body())
    act(api(anna), draft, "submit")

    wrong = act(api(anna), draft, "review", 3, agree=True, password="no", username="ben")
    own = act(api(anna), draft, "review", 3, agree=True, password=PASSWORD)
    unseen = act(api(anna), draft, "review", agree=True, password=PASSWORD, username="ben")
    older = act(api(anna), draft, "review", 2, agree=True, password=PASSWORD, username="ben")
    theirs = act(api(anna), draft, "review", 3, agree=True, password=PASSWORD, username="ben")

    assert (unseen.status_code, older.status_code) == (428, 412)
    assert (wrong.status_code, wrong.json()["code"]) == (403, "wrong_password")
    assert (own.status_code, own.json()["code"]) == (409, "review_needs_other_person")
    assert theirs.json()["reviewed_by_name"] == str(ben)


def test_faults_hold_back_submitting_and_trying(api, anna):
    ShopFactory()
    draft = begun(api(anna))

    for action in ("submit", "try"):
        answer = act(api(anna), draft, action)
        assert (answer.status_code, answer.json()["code"]) == (409, "template_faulty")
        assert {row["field"] for row in answer.json()["errors"]} == {"summary", "steps"}


def test_a_draft_is_tried_on_what_is_known_and_nothing_is_kept(api, anna):
    ShopFactory()
    repair, sheet = on_the_bench(), ModelSheetFactory(make="Testmake", model="Other")
    body = template_body(look(title="Look at {unit.make}", text="{sheet.model}"))
    draft = begun(api(anna), body=body)

    tried = [
        act(api(anna), draft, "try", **{name: str(id)}).json()["pack"]["steps"][0]
        for name, id in (("repair", repair.id), ("unit", repair.unit_id), ("sheet", sheet.id))
    ]
    nothing = act(api(anna), draft, "try", bench=str(BenchFactory().id)).json()["pack"]

    assert tried[0]["text"] == tried[1]["text"] == repair.unit.model_sheet.model
    assert (tried[2]["title"], tried[2]["text"]) == ("Look at Testmake", "Other")
    assert nothing["template"]["revision"] == 1
    assert not repair.worksheets.exists()


def test_trying_says_what_must_be_known_and_which_gate_is_shut(api, anna):
    ShopFactory()
    facts = [{"key": "idle", "title": "Idle power", "quantity": "power", "required": True}]
    gates = [{"when": {"eq": ["sheet.supply_kind", "external"]}, "reason": "Not for these."}]
    draft = begun(api(anna), body=template_body(facts=facts, gates=gates))
    sheet = ModelSheetFactory(supply_kind="external")

    missing = act(api(anna), draft, "try")
    gated = act(api(anna), draft, "try", sheet=str(sheet.id), facts={"idle": "9"})
    found = act(api(anna), draft, "try", facts={"idle": "9 W"})

    assert (missing.status_code, missing.json()["code"]) == (409, "facts_missing")
    assert (gated.status_code, gated.json()["detail"]) == (409, "Not for these.")
    assert found.status_code == 200
    assert act(api(anna), draft, "try", repair=str(new_id())).status_code == 404


def test_the_shelf_has_every_template_and_its_drafts(api, anna, max, django_assert_num_queries):
    ShopFactory()
    started(template_body(), by=anna)
    publish_revision(body=template_body(slug="retired", title="Retired"))
    api(max).post("/api/v1/job-templates/retired/retire/", {"reason": "old"}, format="json")
    begun(api(anna), **{"from": {"template": "small"}})
    begun(api(anna), slug="new")

    with django_assert_num_queries(3):
        rows = api(anna).get("/api/v1/template-shelf/").json()

    assert [(row["slug"], row["revision"], len(row["drafts"])) for row in rows] == [
        ("retired", 1, 0), ("small", 1, 1), ("new", None, 1),
    ]  # fmt: skip
    assert (rows[0]["retired_reason"], rows[1]["open_worksheets"]) == ("Max: old", 1)
    assert (rows[1]["steps"], rows[2]["drafts"][0]["faults"]) == (3, 2)


def test_a_retired_template_is_brought_back(api, max):
    publish_revision(body=template_body())
    address = "/api/v1/job-templates/small/"

    unsaid = api(max).post(f"{address}retire/", {"reason": " "}, format="json")
    api(max).post(f"{address}retire/", {"reason": "old"}, format="json")
    gone = api(max).get(address).status_code
    api(max).post(f"{address}bring-back/", {}, format="json")

    assert (unsaid.status_code, gone) == (400, 404)
    assert api(max).get(address).status_code == 200


def test_differences_and_old_revisions_are_read(api, anna, dora):
    publish_revision(body=template_body())
    publish_revision(body=template_body(minutes=9))
    address = "/api/v1/job-templates/small/"
    draft = begun(api(anna), body=template_body(minutes=12), **{"from": {"template": "small"}})

    between = api(dora).get(f"{address}difference/", {"from": 1, "to": 2}).json()
    own = api(anna).get(f"{DRAFTS}{draft['id']}/difference/").json()

    assert [change["text"] for change in between["changes"]] == [
        "Time planned of the job template changed from 5 minutes to 9 minutes."
    ]
    assert "from 9 minutes to 12 minutes" in own["changes"][0]["text"]
    assert api(dora).get(f"{address}revisions/1/").json()["body"]["minutes"] == 5
    assert api(dora).get(f"{address}revisions/3/").status_code == 404
    assert api(dora).get(f"{address}difference/", {"from": 1}).status_code == 400


def test_files_go_out_and_come_in_as_drafts(api, anna):
    publish_revision(body=template_body())
    address = "/api/v1/job-templates/"

    out = api(anna).get(f"{address}small/file/", {"form": "json"})
    same = api(anna).post(address, {"content": out.content.decode()}, format="json")
    other = {**json.loads(out.content), "minutes": 7}
    new = api(anna).post(address, {"content": json.dumps(other)}, format="json")
    change = api(anna).post(address, {"content": json.dumps(other), "as": "change"}, format="json")

    assert out["Content-Disposition"] == 'attachment; filename="small.json"'
    assert (same.status_code, same.json()) == (200, {"drafts": [], "unchanged": ["small"]})
    assert (new.status_code, new.json()["drafts"][0]["slug"]) == (201, "small-2")
    assert change.json()["drafts"][0]["slug"] == "small"
    assert Revision.objects.count() == 1


def test_every_fact_quantity_and_kind_of_step_has_words(api, anna):
    words = api(anna).get("/api/v1/template-words/").json()
    schema = api(anna).get("/api/v1/schemas/job-template-1/").json()["$defs"]

    assert {row["key"] for row in words["quantities"]} == set(QUANTITIES)
    assert set(schema["quantity"]["enum"]) == set(QUANTITIES)
    assert set(schema["step"]["properties"]["kind"]["enum"]) == set(KINDS)
    assert list(unnamed("", FACTS)) == []
    assert set(TITLES) <= {row["path"] for row in everything_named(facts_in_words())}


_ROW = "sheet.supplies."  # the maker's settings have the fields of the list they come from


def everything_named(rows):
    for row in rows:
        yield row
        yield from everything_named(row.get("rows", []))


def unnamed(path, shape):
    """Paths without words of their own."""
    if isinstance(shape, list):
        yield from unnamed(path, shape[0])
    elif isinstance(shape, dict) and shape != ANY:
        for name, inner in shape.items():
            full = f"{path}.{name}".lstrip(".")
            row = full.replace("sheet.at_set_for.", _ROW).replace("sheet.at_use_at.", _ROW)
            if not own_title(row) and name not in FIELDS:
                yield full
            yield from unnamed(full, inner)
