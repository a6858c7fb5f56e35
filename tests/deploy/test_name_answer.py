"""Multicast DNS (RFC 6762): our name is answered for, others are not, broken packets do no harm."""

import struct

from hypothesis import given
from hypothesis import strategies as st

from deploy.launch.name_answer import answer_for, questions_in

HOST, ADDRESS = "lampledger.local", "192.168.7.20"


def query(name, kind=1, number=0x1234):
    labels = b"".join(bytes([len(part)]) + part.encode() for part in name.split("."))
    header = struct.pack(">HHHHHH", number, 0, 1, 0, 0, 0)
    return header + labels + b"\x00" + struct.pack(">HH", kind, 1)


def test_our_name_is_answered_with_the_address_for_two_minutes():
    reply = answer_for(query(HOST), HOST, ADDRESS, legacy=False)

    number, flags, questions, answers, _, more = struct.unpack_from(">HHHHHH", reply)
    assert (number, flags, questions, answers, more) == (0, 0x8400, 0, 1, 1)
    record = reply[12 + len(HOST) + 2 :]
    assert struct.unpack_from(">HHIH", record) == (1, 0x8001, 120, 4)
    assert record[10:14] == bytes([192, 168, 7, 20])


def test_an_asker_that_speaks_plain_dns_gets_its_number_and_question_back():
    reply = answer_for(query(HOST), HOST, ADDRESS, legacy=True)

    assert struct.unpack_from(">HHH", reply) == (0x1234, 0x8400, 1)
    assert reply[12:].startswith(query(HOST)[12:])
    assert struct.unpack_from(">HHIH", reply, 12 + 2 * (len(HOST) + 2) + 4)[1:3] == (1, 10)


def test_capital_letters_ask_for_the_same_name():
    assert answer_for(query("LampLedger.LOCAL"), HOST, ADDRESS, legacy=False)


def test_asked_for_another_kind_of_address_it_says_there_is_none():
    reply = answer_for(query(HOST, kind=28), HOST, ADDRESS, legacy=False)

    assert struct.unpack_from(">H", reply, 12 + len(HOST) + 2) == (47,)  # NSEC, RFC 4034


def test_other_names_and_other_peoples_answers_are_left_alone():
    answer = answer_for(query(HOST), HOST, ADDRESS, legacy=False)

    assert answer_for(query("other.local"), HOST, ADDRESS, legacy=False) is None
    assert answer_for(answer, HOST, ADDRESS, legacy=False) is None


def test_a_name_that_points_in_a_circle_is_no_question():
    circle = struct.pack(">HHHHHH", 0, 0, 1, 0, 0, 0) + b"\xc0\x0c\x00\x01\x00\x01"

    assert questions_in(circle) == []


@given(st.binary(max_size=200))
def test_any_packet_is_read_without_an_error(packet):
    assert isinstance(questions_in(packet), list)
