"""Templates out and in as files: the same words in another shop, and nothing overwritten."""

from __future__ import annotations

import hashlib
import json

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from shop.core.errors import BadField
from shop.jobs.errors import TemplateFaulty
from shop.jobs.format import read_template
from shop.jobs.format.procedures import unpinned
from shop.jobs.format.writing import written_file
from shop.jobs.models import Draft, JobTemplate, Revision
from shop.jobs.selectors import published_revision, revision_of, template_file
from shop.jobs.services import (
    import_file,
    import_template_file,
    publish_revision,
)
from shop.jobs.shipped import shipped_templates
from shop.repairs.models import Photo
from shop.repairs.services import store_photo
from tests.factories.drafts import file_of, published
from tests.factories.everything import picture
from tests.factories.jobs import caution, look, template

pytestmark = pytest.mark.django_db
FORMS = ("yaml", "json")


def emptied():
    """The same books as a shop that never saw a template."""
    Draft.objects.all().delete()
    Revision.objects.all().delete()
    JobTemplate.objects.all().delete()


@pytest.mark.parametrize("form", FORMS)
def test_every_shipped_template_means_the_same_in_another_shop(anna, max, form):
    for file in shipped_templates():
        import_template_file(path=file)
    files = {r.template_id: template_file(r, form) for r in Revision.objects.all()}
    bodies = {r.template_id: r.body for r in Revision.objects.all()}

    for slug, content in files.items():
        emptied()
        for draft in import_file(content=content, by=anna).drafts:
            published(draft, anna, max)

        assert published_revision(slug).body == bodies[slug]


@pytest.mark.parametrize("form", FORMS)
def test_pictures_and_procedures_travel_with_a_template(anna, max, form):
    content = picture()
    sha256 = hashlib.sha256(content).hexdigest()
    store_photo(sha256=sha256, content=content, by=max)
    publish_revision(body=template(slug="inner"))
    publish_revision(body=template(caution("c"), slug="inner"))
    shown = look(pictures=[{"sha256": sha256, "caption": "the cord"}])
    step = {"id": "in", "kind": "procedure", "procedure": {"template": "inner"}}
    outer = publish_revision(body=template(caution(), shown, step))
    file = template_file(outer, form)
    emptied()
    Photo.objects.all().delete()

    taken = import_file(content=file, by=anna)

    assert [draft.slug for draft in taken.drafts] == ["inner", "small"]
    assert Photo.objects.get().sha256 == sha256
    assert taken.drafts[1].body == unpinned(outer.body)


def test_a_picture_goes_by_the_bytes_that_are_kept(anna, max):
    from io import BytesIO

    from PIL import Image

    out = BytesIO()
    exif = Image.Exif()
    exif[0x010E] = "where it was taken"
    Image.new("RGB", (40, 30)).save(out, "JPEG", exif=exif)
    sha256 = hashlib.sha256(out.getvalue()).hexdigest()
    store_photo(sha256=sha256, content=out.getvalue(), by=max)
    revision = publish_revision(body=template(caution(pictures=[{"sha256": sha256}])))

    file = json.loads(template_file(revision, "json"))
    taken = import_file(content=json.dumps(file).encode(), by=anna)

    (named,) = file["pictures"]
    assert named != sha256
    assert taken.drafts[0].body["steps"][0]["pictures"] == [{"sha256": named}]
    assert Photo.objects.filter(sha256=named).exists()


def test_yaml_is_read_by_people_first(anna):
    sentence = ("Read the volts across the reservoir; wait until it is empty. " * 5).strip()
    step = look(text=f"{sentence}\nThen write it down: yes, all of it.")
    revision = publish_revision(body=template(caution(), step, summary="on"))

    text = template_file(revision, "yaml").decode()

    assert text.startswith("schema_version: 1\nslug: small\ntitle: small\nsummary: 'on'\n")
    assert "\n  - id: unplug\n    kind: caution\n    title: Unplug it\n" in text
    assert f"    text: |-\n      {sentence}\n      Then write it down: yes, all of it.\n" in text
    assert "&id" not in text
    assert "{" not in text


TEXT = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0"), max_size=30)
VALUES = st.recursive(
    st.none() | st.booleans() | st.integers(-(2**53), 2**53) | TEXT
    | st.sampled_from(["1e3", "0x1F", "1_000", "yes", "~", "2026-01-01", "a: b", "- x", "="])
    | st.floats(allow_nan=False, allow_infinity=False),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(TEXT, inner, max_size=4),
)  # fmt: skip


@given(st.dictionaries(TEXT, VALUES, max_size=4), st.sampled_from(FORMS))
def test_whatever_is_written_is_read_as_it_was(content, form):
    written = written_file(content, form)

    loaded = yaml.safe_load(written) if form == "yaml" else json.loads(written)

    assert loaded == content


@pytest.mark.parametrize("form", FORMS)
def test_our_own_reader_reads_what_we_write(form):
    body = template(caution(text='Line one.\nLine two: "quoted" – 10 µF.'), look())

    read, _lines, problems = read_template(written_file(body, form))

    assert (read, problems) == (body, [])


# In


def test_a_file_never_overwrites(anna):
    publish_revision(body=template())

    first = import_file(content=file_of(template(minutes=7)), by=anna)
    again = import_file(content=file_of(template(minutes=7)), by=anna)
    other = import_file(content=file_of(template(minutes=8)), by=anna)

    assert [d.slug for d in first.drafts] == ["small-2"]
    assert first.drafts[0].body["slug"] == "small-2"
    assert [d.id for d in again.drafts] == [first.drafts[0].id]
    assert [d.slug for d in other.drafts] == ["small-3"]
    assert Revision.objects.get().body["minutes"] == 5


def test_a_file_may_be_meant_as_a_change(anna):
    revision = publish_revision(body=template())

    taken = import_file(content=file_of(template(minutes=7)), by=anna, as_change=True)

    assert [(d.slug, d.based_on, d.origin) for d in taken.drafts] == [
        ("small", revision, "imported")
    ]


def test_what_is_published_already_makes_nothing(anna):
    inner = publish_revision(body=template(slug="inner"))
    step = {"id": "in", "kind": "procedure", "procedure": {"template": "inner"}}
    outer = publish_revision(body=template(caution("c"), step))

    taken = import_file(content=template_file(outer, "json"), by=anna)

    assert (taken.drafts, taken.unchanged) == ([], ["inner", "small"])
    assert inner == revision_of("inner")


def test_an_include_that_gets_another_name_is_named_so(anna):
    publish_revision(body=template(slug="inner"))
    step = {"id": "in", "kind": "procedure", "procedure": {"template": "inner"}}
    theirs = template(caution("theirs"), slug="inner")

    taken = import_file(content=file_of(template(caution("c"), step), includes=[theirs]), by=anna)

    inner, outer = taken.drafts
    assert inner.slug == "inner-2"
    assert outer.body["steps"][1]["procedure"]["template"] == "inner-2"


def test_a_faulty_template_becomes_a_draft_that_says_so(anna):
    taken = import_file(content=b'{"slug": "Bad one", "title": "x"}', by=anna)

    (draft,) = taken.drafts
    assert (draft.slug, draft.origin) == ("imported", "imported")
    assert draft.faults
    assert draft.body == {"slug": "Bad one", "title": "x"}


@pytest.mark.parametrize(
    "wrong",
    [
        b"", b"{", b"[]", b'"text"', b"\xff", b'{"includes": {}}', b'{"pictures": []}',
        b'{"pictures": {"ab": "?"}}', b'{"pictures": {"ab": "aGVsbG8="}}',
    ],
)  # fmt: skip
def test_what_is_no_template_file_is_refused_and_leaves_no_trace(anna, wrong):
    with pytest.raises(TemplateFaulty) as refused:
        import_file(content=wrong, by=anna)

    assert refused.value.problems
    assert not Draft.objects.exists()


def test_a_body_too_large_is_refused(anna):
    with pytest.raises(BadField):
        import_file(content=file_of(template(summary="x" * 500_001)), by=anna)

    assert not Draft.objects.exists()
