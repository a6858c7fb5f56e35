"""What may stand behind `deploy/run.py`, and the name that phones know the shop by."""

from pathlib import Path

import pytest

from deploy.launch.addresses import kept_name
from deploy.launch.options import read_options
from deploy.launch.problems import CannotStart
from deploy.launch.surroundings import reach_of, shop_environment


def test_without_options_the_shop_is_for_this_machine_only_with_the_demo():
    options = read_options([])

    assert (options.port, options.demo, options.lan) == (8420, True, False)
    assert options.listen_on == "127.0.0.1"
    assert options.data_dir.name == "data"


def test_a_relative_data_folder_is_below_where_one_stands(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)

    assert read_options(["--data", "books"]).data_dir == tmp_path / "books"


@pytest.mark.parametrize(
    "words",
    [
        ["--port", "80"],
        ["--port", "70000"],
        ["--port", "x"],
        ["--host", "shop.local"],
        ["--lan", "--host", "no_dots"],
        ["--lan", "--host", "10.0.0.1"],
        ["--lan", "--lan-plain"],
        ["--dem"],
    ],
)
def test_words_that_make_no_sense_end_with_one_message_and_no_start(words, capsys):
    with pytest.raises(SystemExit) as ended:
        read_options(words)

    assert ended.value.code == 2
    assert "error:" in capsys.readouterr().err


def test_the_page_about_trust_has_a_port_beside_the_last_port_too():
    assert read_options(["--port", "65535"]).trust_port == 65534
    assert read_options([]).trust_port == 8421


def test_the_name_is_kept_and_another_one_is_refused(tmp_path):
    assert kept_name(tmp_path, None) == "lampledger.local"
    assert kept_name(tmp_path, None) == "lampledger.local"

    with pytest.raises(CannotStart, match=r"known to its phones as lampledger\.local"):
        kept_name(tmp_path, "other.local")

    assert kept_name(tmp_path, None) == "lampledger.local"


def test_the_first_name_asked_for_is_the_one_that_stays(tmp_path):
    assert kept_name(tmp_path, "bench.example") == "bench.example"
    assert kept_name(tmp_path, None) == "bench.example"


def environment(words, *, is_demo, outer=None, **where):
    options = read_options([*words, "--data", "/somewhere"])
    return shop_environment(options, reach_of(options, **where), is_demo=is_demo, outer=outer or {})


def test_the_demo_takes_its_own_address_as_public():
    env = environment(["--port", "9000"], is_demo=True)

    assert env["PUBLIC_URL"] == "http://localhost:9000"
    assert env["SECURE"] == "false"
    assert env["DATA_DIR"] == str(Path("/somewhere"))


def test_a_shop_of_ones_own_has_no_public_address_until_it_is_given():
    assert "PUBLIC_URL" not in environment([], is_demo=False)
    given = {"PUBLIC_URL": "https://status.example"}
    assert environment([], is_demo=True, outer=given)["PUBLIC_URL"] == "https://status.example"


def test_on_the_network_the_address_is_secure_and_goes_by_the_name():
    env = environment(["--lan"], is_demo=True, host="lampledger.local", address="192.168.7.20")

    assert env["PUBLIC_URL"] == "https://lampledger.local:8420"
    assert env["SECURE"] == "true"
    assert env["ALLOWED_HOSTS"].split(",")[:2] == ["lampledger.local", "192.168.7.20"]


def test_plain_http_on_the_network_uses_the_bare_address_without_secure_cookies():
    env = environment(["--lan-plain"], is_demo=True, address="192.168.7.20")

    assert env["PUBLIC_URL"] == "http://192.168.7.20:8420"
    assert env["SECURE"] == "false"
