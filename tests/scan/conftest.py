"""The pictures are taken and read once for all tests here."""

from __future__ import annotations

import pytest

from tests.scan.printed import printed_labels
from tests.scan.rate import Result, measure


@pytest.fixture(scope="session")
def results(tmp_path_factory: pytest.TempPathFactory) -> list[Result]:
    labels = printed_labels(tmp_path_factory.mktemp("labels"))
    return measure(labels, tmp_path_factory.mktemp("pictures"))
