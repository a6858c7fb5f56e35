"""While the shop runs, its certificate is renewed and a new address followed, and no more."""

from datetime import UTC, datetime, timedelta

import pytest

from deploy.launch.children import children_of
from deploy.launch.lan_watch import LanWatch
from deploy.launch.options import read_options
from deploy.launch.tls import ensure_tls, load

NOW = datetime(2031, 5, 4, 12, tzinfo=UTC)


class Recorder:
    """Stands where the supervisor stands and notes whom it was asked to replace."""

    def __init__(self, children):
        self.children, self.replaced = children, []

    def replace(self, child, command):
        child.command = command
        self.replaced.append(child.name)


@pytest.fixture
def shop(tmp_path):
    options = read_options(["--lan", "--data", str(tmp_path)])
    tls = ensure_tls(tmp_path / "lan", "lampledger.local", "192.168.7.20", NOW)
    recorder = Recorder(children_of(options, tls))
    return LanWatch(options, tls, recorder), recorder


def test_on_an_ordinary_day_nothing_happens(shop):
    watch, recorder = shop

    watch.follow("192.168.7.20", NOW + timedelta(days=200))

    assert recorder.replaced == []


def test_a_renewed_certificate_restarts_the_web_server_only(shop):
    watch, recorder = shop
    before = load(watch.tls.chain).serial_number

    watch.follow("192.168.7.20", NOW + timedelta(days=380))

    assert recorder.replaced == ["web"]
    assert load(watch.tls.chain).serial_number != before


def test_a_new_address_is_told_to_the_name_and_leaves_the_certificate(shop):
    watch, recorder = shop

    watch.follow("192.168.7.99", NOW)

    assert set(recorder.replaced) == {"web", "name"}
    assert "192.168.7.99" in next(c for c in recorder.children if c.name == "name").command


def test_beat_is_a_process_of_its_own_and_no_worker_embeds_one(shop):
    _, recorder = shop
    commands = {child.name: child.command for child in recorder.children}

    assert set(commands) == {"web", "worker", "beat", "trust page", "name"}
    assert "-B" not in commands["worker"]


def test_a_name_that_routers_know_needs_no_answer_of_ours(tmp_path):
    options = read_options(["--lan", "--data", str(tmp_path), "--host", "bench.example"])
    tls = ensure_tls(tmp_path / "lan", "bench.example", "192.168.7.20", NOW)

    assert "name" not in {child.name for child in children_of(options, tls)}
