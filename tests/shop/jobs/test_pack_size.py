"""A pack goes over a poor network to a phone: it stays small, however long the worksheet."""

import gzip

import pytest

from shop.jobs.services import import_template_file, publish_revision
from shop.jobs.shipped import shipped_templates
from tests.factories.core import ShopFactory
from tests.factories.overhaul import overhaul
from tests.shop.jobs.test_shipped_templates import a_repair, start

pytestmark = pytest.mark.django_db
MOST_BYTES = 60_000


def test_a_worksheet_of_300_steps_comes_to_the_phone_in_60_kilobytes(anna):
    ShopFactory()
    for file in shipped_templates():
        import_template_file(path=file)
    publish_revision(body=overhaul())

    sheet, pack = start("overhaul", a_repair(), anna)

    assert len(pack["steps"]) >= 300
    assert len(gzip.compress(bytes(sheet.pack))) <= MOST_BYTES
