"""From the instrument through the command to the shop, over real sockets on this machine."""

import http.server
import json
import ssl
import stat
import threading
from contextlib import contextmanager
from datetime import UTC, datetime

import pytest

from deploy.launch.tls import ensure_tls
from shop.benches.instruments import offering
from shop.benches.instruments.command_line import run
from shop.benches.instruments.functions import BY_KEY
from shop.benches.instruments.instrument import Said
from shop.benches.instruments.shop_client import (
    SessionFile,
    ShopAway,
    ShopClient,
    ShopTrouble,
    SignInNeeded,
)
from shop.benches.instruments.simulated import SimulatedInstrument, simulated
from shop.benches.models import OfferedReading
from shop.calc.readings import reading_said
from shop.core.models import Device
from shop.core.services import revoke_device
from tests.factories.jobs import BenchFactory, MeterFactory

PASSWORD = "anna holds the iron"


@pytest.fixture
def shop(request, transactional_db, anna):
    """The shop's server, where Anna may sign in, with one bench and one meter."""
    # Started only now: what it serves lies in folders that the settings of a test name.
    live_server = request.getfixturevalue("live_server")
    anna.set_password(PASSWORD)
    anna.save()
    BenchFactory(name="Bench 1, window")
    MeterFactory(code="MEWGHNAV", name="Hand meter")
    return live_server.url


@pytest.fixture
def meter(shop, tmp_path, monkeypatch, capsys):
    """Runs `meter offer` against the shop and a simulated instrument: `meter("--once")`."""
    monkeypatch.setenv("METER_PASSWORD", PASSWORD)
    session = str(tmp_path / "state" / "session.json")
    simulation = SimulatedInstrument({"voltage_dc": ["4.987"]})
    with simulated(simulation) as address:

        def offer(*more, bench="bench 1, window", code="mewghnav"):
            words = ["--at", address, "--patience", "0.4", "--quantity", "voltage_dc"]
            shop_words = ["--shop", shop, "--session", session, "--as", "anna"]
            place = ["--bench", bench, "--meter", code]
            result = run(["offer", *words, *shop_words, *place, *more])
            return result, capsys.readouterr()

        offer.simulation = simulation
        offer.session = tmp_path / "state" / "session.json"
        yield offer


def test_a_reading_goes_from_the_instrument_to_the_bench(meter, anna):
    result, said = meter("--once")

    (offer,) = OfferedReading.objects.all()
    assert (result, offer.said, offer.quantity) == (0, "+4.98700000E+00", "voltage_dc")
    assert (offer.bench.name, offer.meter.code) == ("Bench 1, window", "MEWGHNAV")
    assert offer.offered_by == anna
    assert "4.987 V  offered to Bench 1, window" in said.out
    assert "clip the probes on while it is dead" in said.err


def test_the_pc_is_a_device_of_its_own_and_signs_in_once(meter):
    meter("--once")
    _result, said = meter("--once")

    (device,) = Device.objects.all()
    assert device.name.startswith("PC ")
    assert {offer.device for offer in OfferedReading.objects.all()} == {device}
    assert "Signed in" not in said.err


def test_the_session_is_kept_where_only_its_owner_reads_it(meter):
    meter("--once")

    assert stat.S_IMODE(meter.session.stat().st_mode) == 0o600
    assert PASSWORD not in meter.session.read_text()


def test_a_withdrawn_pc_offers_nothing_more(meter, max):
    meter("--once")
    revoke_device(device=Device.objects.get(), by=max)

    result, said = meter("--once")

    assert result == 1
    assert "withdrawn" in said.err
    assert OfferedReading.objects.count() == 1


def test_a_wrong_password_is_one_sentence(meter, monkeypatch):
    monkeypatch.setenv("METER_PASSWORD", "wrong")

    result, said = meter("--once")

    assert (result, said.err.strip()) == (1, "Name or password is wrong.")
    assert not OfferedReading.objects.exists()


@pytest.mark.parametrize(
    ("more", "words"),
    [({"bench": "Bench 9"}, "It has: Bench 1, window"), ({"code": "M0000000"}, "MEWGHNAV")],
)
def test_a_bench_or_meter_that_is_none_is_told_with_those_there_are(meter, more, words):
    result, said = meter("--once", **more)

    assert result == 1
    assert words in said.err


@pytest.mark.parametrize("fault", ["silent", "cut", "garbage", "bytes", "error"])
def test_a_fault_of_the_instrument_offers_nothing(meter, fault):
    meter.simulation.say("voltage_dc", fault)

    result, said = meter("--once")

    assert result == 1
    assert len(said.err.strip().splitlines()) == 3  # who signed in, the caution, the fault
    assert not OfferedReading.objects.exists()


def test_over_range_is_offered_as_what_it_is(meter):
    meter.simulation.say("voltage_dc", "over")

    meter("--once")

    assert OfferedReading.objects.get().said == "+9.90000000E+37"


def test_each_press_of_enter_is_one_reading_and_a_fault_in_between_stops_nothing(
    meter, monkeypatch
):
    meter.simulation.say("voltage_dc", "1", "garbage", "2")
    monkeypatch.setattr("sys.stdin", iter(["\n", "\n", "\n"]))

    meter()

    said = OfferedReading.objects.order_by("taken_at").values_list("said", flat=True)
    assert list(said) == ["+1.00000000E+00", "+2.00000000E+00"]


@contextmanager
def answering(*answers, tls=None):
    """A server on loopback that gives these (status, body) in turn, and the bodies it was sent."""
    left, bodies = list(answers), []

    class Answers(http.server.BaseHTTPRequestHandler):
        def do_POST(self):
            bodies.append(json.loads(self.rfile.read(int(self.headers["Content-Length"]))))
            status, body = left.pop(0)
            self.send_response(status)
            if status == 302:
                self.send_header("Location", "http://127.0.0.1:9/elsewhere")
            self.end_headers()
            self.wfile.write(body)

        def log_message(self, *_words):
            pass

    with http.server.ThreadingHTTPServer(("127.0.0.1", 0), Answers) as server:
        if tls:
            context = ssl.create_default_context(ssl.Purpose.CLIENT_AUTH)
            context.load_cert_chain(tls.chain, tls.key)
            server.socket = context.wrap_socket(
                server.socket, server_side=True, do_handshake_on_connect=False
            )
        thread = threading.Thread(target=server.serve_forever, args=(0.02,), daemon=True)
        thread.start()
        yield f"http{'s' if tls else ''}://127.0.0.1:{server.server_address[1]}", bodies
        server.shutdown()
        thread.join(5)


NO = b'{"code": "not_your_role", "detail": "Your role may not do this."}'


@pytest.mark.parametrize(
    ("status", "body", "kind", "words"),
    [
        (403, NO, ShopTrouble, "Your role"),
        (401, b'{"code": "not_signed_in", "detail": "x"}', SignInNeeded, "Nobody is signed in"),
        (500, b"<html>", ShopTrouble, "500"),
        (503, b"", ShopAway, "503"),
        (200, b"<html>", ShopTrouble, "not the shop"),
        (302, b"", ShopTrouble, "another address: http://127.0.0.1:9/elsewhere"),
    ],
)
def test_what_the_shop_answers_is_told_and_never_followed_elsewhere(
    tmp_path, status, body, kind, words
):
    with answering((status, body)) as (url, _bodies):
        client = ShopClient(url, SessionFile(tmp_path / "s.json"))

        with pytest.raises(kind, match=words):
            client.post("anything/", {})


def test_the_shop_is_trusted_by_its_own_authority_and_by_no_other_way(tmp_path):
    tls = ensure_tls(tmp_path / "tls", "bench.local", "127.0.0.1")
    file = SessionFile(tmp_path / "s.json")
    with answering((200, b'{"name": "Anna"}'), tls=tls) as (url, bodies):
        with pytest.raises(ShopAway, match="give its authority with --ca"):
            ShopClient(url, file).post("session/", {"password": "secret"})

        assert ShopClient(url, file, tls.authority).post("session/", {})["name"] == "Anna"

    assert bodies == [{}]  # nothing was told to what was not trusted


@pytest.fixture
def place(tmp_path):
    """A bench and a meter of the shop at an address."""

    def at(url):
        client = ShopClient(url, SessionFile(tmp_path / "s.json"))
        return offering.Place(client, {"id": "b1", "name": "Bench 1"}, {"code": "M1"})

    return at


def test_a_shop_that_is_busy_gets_the_very_same_offer_again(place, monkeypatch):
    monkeypatch.setattr(offering, "FIRST_WAIT", 0.01)
    with answering((503, b""), (429, b""), (201, b"{}")) as (url, bodies):
        place(url).offer(_said(), _moment())

    ids = {body["id"] for body in bodies}
    assert (len(bodies), len(ids)) == (3, 1)
    assert len({body["taken_at"] for body in bodies}) == 1
    assert bodies[0]["sent_at"] < bodies[2]["sent_at"]


def test_a_reading_that_finds_no_shop_in_time_is_dropped(place, monkeypatch):
    monkeypatch.setattr(offering, "FIRST_WAIT", 0.01)
    monkeypatch.setattr(offering, "GIVE_UP_SECONDS", 0.1)

    with pytest.raises(ShopAway, match="does not answer"):
        place("http://127.0.0.1:9").offer(_said(), _moment())


def _moment():
    return datetime(2026, 3, 2, 9, tzinfo=UTC)


def _said():
    function = BY_KEY["voltage_dc"]
    return Said(function, "+5.0E+00", reading_said("+5.0E+00", function.quantity))


@pytest.mark.parametrize("content", [b"", b"{", b'{"shop": 1}', b"\xff"])
def test_a_broken_session_file_is_a_fresh_start(tmp_path, content):
    file = tmp_path / "s.json"
    file.write_bytes(content)

    kept = SessionFile(file).read("https://shop.example")

    assert (kept.shop, kept.cookies) == ("https://shop.example", {})


def test_the_session_of_one_shop_is_not_shown_to_another(tmp_path):
    file = SessionFile(tmp_path / "s.json")
    kept = file.read("https://one.example")
    kept.cookies["sessionid"] = "secret"
    file.write(kept)

    assert file.read("https://two.example").cookies == {}
    assert file.read("https://one.example").cookies == {"sessionid": "secret"}


@pytest.mark.parametrize("address", ["ftp://shop.example", "https://", "file:///etc/passwd"])
def test_what_is_no_address_of_a_shop_is_refused(tmp_path, address):
    with pytest.raises(ShopTrouble, match="no address"):
        ShopClient(address, SessionFile(tmp_path / "s.json"))


def test_a_file_that_holds_no_authority_is_told(tmp_path):
    (tmp_path / "ca.pem").write_text("no certificate")

    with pytest.raises(ShopTrouble, match="no certificate authority"):
        ShopClient("https://shop.example", SessionFile(tmp_path / "s"), tmp_path / "ca.pem")
