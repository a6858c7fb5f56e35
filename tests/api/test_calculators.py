"""Calculators over HTTP: schemas, answers with working, and input that does not fit."""

import gzip

import pytest
from django.utils import translation
from django.utils.translation import gettext
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from shop.calc.areas import AREAS
from shop.calc.registry import calculators
from shop.calc.schemas import spoken

pytestmark = pytest.mark.django_db


def test_the_list_gives_a_schema_of_what_goes_in_and_comes_out(api, anna):
    answer = api(anna).get("/api/v1/calculators/")

    found = {one["name"]: one for one in answer.json()["results"]}
    assert {"fuses.scale", "series_lamp.ramp", "safety.limits", "cells.compare"} <= set(found)
    assert "old_mark" in str(found["fuses.scale"]["input"])


def test_the_list_gives_area_question_and_an_example_that_is_answered(api, anna):
    client = api(anna)
    rows = client.get("/api/v1/calculators/").json()["results"]

    answers = [
        client.post(f"/api/v1/calculators/{row['name']}/", row["example"], format="json")
        for row in rows
        if row["example"]
    ]

    assert {answer.status_code for answer in answers} == {200}
    assert all(row["area"]["key"] == row["name"].partition(".")[0] for row in rows)
    assert all(row["question"].endswith("?") for row in rows if row["question"])


def test_the_list_gives_words_by_which_techs_look_for_a_calculator(api, anna):
    rows = api(anna).get("/api/v1/calculators/").json()["results"]

    lamp = next(row for row in rows if row["name"] == "series_lamp.choose_lamp")
    assert "bulb" in lamp["words"].split()


def test_the_list_stands_in_the_order_of_the_areas(api, anna):
    rows = api(anna).get("/api/v1/calculators/").json()["results"]

    met = list(dict.fromkeys(row["area"]["key"] for row in rows))
    assert met == [area for area in AREAS if area in met]


def test_the_numbers_of_an_answer_have_their_units_too(api, anna):
    rows = api(anna).get("/api/v1/calculators/").json()["results"]

    answer = next(row["answer"] for row in rows if row["name"] == "windings.for_supply")
    shape = answer["$defs"]["ExpectedVolt"]["properties"]
    assert shape["volt"]["x-unit"] == "V"


def test_a_list_that_did_not_change_is_not_sent_again(api, anna):
    first = api(anna).get("/api/v1/calculators/")

    again = api(anna).get("/api/v1/calculators/", headers={"if-none-match": first["ETag"]})

    assert again.status_code == 304
    assert again.content == b""


def test_the_list_is_packed_for_who_can_unpack_it(api, anna):
    plain = api(anna).get("/api/v1/calculators/")

    packed = api(anna).get("/api/v1/calculators/", headers={"accept-encoding": "gzip, br"})

    assert packed["Content-Encoding"] == "gzip"
    assert gzip.decompress(packed.content) == plain.content
    assert len(packed.content) * 5 < len(plain.content)


def test_words_of_a_schema_are_spoken_and_what_programs_compare_is_not():
    english, german = "You need do nothing.", "Sie müssen nichts tun."
    schema = {
        "title": english,
        "enum": [english],
        "x-labels": {english: english},
        "properties": {"title": {"description": english, "examples": [english]}},
    }

    with translation.override("de"):
        said = spoken(schema, gettext)

    assert said == {
        "title": german,
        "enum": [english],
        "x-labels": {english: german},
        "properties": {"title": {"description": german, "examples": [english]}},
    }


def test_each_language_has_a_list_of_its_own(api, anna):
    english = api(anna).get("/api/v1/calculators/", headers={"accept-language": "en"})
    german = api(anna).get("/api/v1/calculators/", headers={"accept-language": "de"})

    assert "Accept-Language" in german["Vary"]
    assert german["Content-Language"] == "de"
    assert english["Content-Language"] == "en"


def test_a_unit_fused_80_ma_on_230_v_takes_160_ma_on_115_v(api, anna):
    # common practice, no source
    sent = {"old_mark": "T80mAL250V", "old_volt": 230, "new_volt": 115}

    answer = api(anna).post("/api/v1/calculators/fuses.scale/", sent, format="json").json()

    assert answer["value"]["mark"].startswith("T160")
    assert answer["working"]["sources"]


def test_a_fuse_in_no_series_is_refused_at_its_field(api, anna):
    sent = {"old_mark": "T77mAL250V", "old_volt": 230, "new_volt": 115}

    answer = api(anna).post("/api/v1/calculators/fuses.scale/", sent, format="json")

    assert answer.status_code == 400
    assert answer.json()["errors"][0]["field"] == "old_mark"


def test_an_unknown_calculator_is_not_found(api, anna):
    assert api(anna).post("/api/v1/calculators/tea/", {}, format="json").status_code == 404


def test_nobody_may_ask_without_signing_in(api):
    assert api().get("/api/v1/calculators/").status_code == 401


json_values = st.recursive(
    st.none()
    | st.booleans()
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.integers()
    | st.text(max_size=8),
    lambda inner: (
        st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=3)
    ),
    max_leaves=6,
)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.data())
def test_whatever_is_sent_gets_an_answer_or_a_named_field(api, anna, data):
    name = data.draw(st.sampled_from(sorted(calculators())))
    fields = list(calculators()[name].takes.__struct_fields__)
    sent = data.draw(st.dictionaries(st.sampled_from(fields), json_values, max_size=5))

    answer = api(anna).post(f"/api/v1/calculators/{name}/", sent, format="json")

    assert answer.status_code in (200, 400)
    if answer.status_code == 400:
        assert answer.json()["errors"][0]["field"]
