"""Calculators over HTTP: schemas, answers with working, and input that does not fit."""

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from shop.calc.registry import calculators

pytestmark = pytest.mark.django_db


def test_the_list_gives_a_schema_of_what_goes_in_and_comes_out(api, anna):
    answer = api(anna).get("/api/v1/calculators/")

    found = {one["name"]: one for one in answer.json()["results"]}
    assert {"fuses.scale", "series_lamp.ramp", "safety.limits", "cells.compare"} <= set(found)
    assert "old_mark" in str(found["fuses.scale"]["input"])


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
