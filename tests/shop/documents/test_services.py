"""One cause, one row, one file: whatever is repeated or ends in the middle."""

import hashlib
from threading import Thread

import pytest
from django.core.files.storage import default_storage
from django.db import connection, connections

from shop.core import outbox
from shop.core.ids import new_id
from shop.core.models import OutboxEvent
from shop.documents import services
from shop.documents.errors import DocumentError
from shop.documents.models import Document
from shop.documents.pdf import draw
from shop.documents.selectors import latest_issued, state_of
from tests.factories.units import RepairFactory

pytestmark = pytest.mark.django_db


def files_of(document):
    folder = f"documents/{document.id}"
    return default_storage.listdir(folder)[1] if default_storage.exists(folder) else []


class WorkerKilled(BaseException):
    """As an ended process: nothing gets to tidy up."""


def test_a_repeat_with_the_same_cause_changes_nothing():
    repair, cause = RepairFactory(), new_id()
    first = services.issue(kind="tag", repair_id=repair.id, cause_id=cause)

    second = services.issue(kind="tag", repair_id=str(repair.id), cause_id=str(cause))

    assert (second.id, second.sha256, second.file.name) == (first.id, first.sha256, first.file.name)
    assert Document.objects.count() == 1
    assert len(files_of(first)) == 1


def test_the_kept_file_is_the_one_whose_hash_is_in_the_row():
    document = services.issue(kind="tag", repair_id=RepairFactory().id, cause_id=new_id())

    with document.file.open() as file:
        assert hashlib.sha256(file.read()).hexdigest() == document.sha256


@pytest.mark.parametrize("where", ["before the file", "after the file"])
def test_a_worker_killed_in_the_middle_doubles_nothing(monkeypatch, where):
    repair, cause = RepairFactory(), new_id()
    keep = default_storage.save

    def killed(name, content):
        if where == "after the file":
            keep(name, content)
        raise WorkerKilled

    with monkeypatch.context() as patched:
        patched.setattr(default_storage, "save", killed)
        with pytest.raises(WorkerKilled):
            services.issue(kind="tag", repair_id=repair.id, cause_id=cause)

    document = services.issue(kind="tag", repair_id=repair.id, cause_id=cause)

    assert Document.objects.get() == document
    assert files_of(document) == [document.file.name.rpartition("/")[2]]


def test_a_run_that_was_overtaken_keeps_the_first_paper(monkeypatch):
    repair, cause = RepairFactory(), new_id()
    drawing = services.draw_paper

    def overtaken(document):
        with monkeypatch.context() as patched:
            patched.setattr(services, "draw_paper", drawing)
            services.issue(kind="tag", repair_id=repair.id, cause_id=cause)
        return drawing(document)

    with monkeypatch.context() as patched:
        patched.setattr(services, "draw_paper", overtaken)
        document = services.issue(kind="tag", repair_id=repair.id, cause_id=cause)

    with document.file.open() as file:
        assert hashlib.sha256(file.read()).hexdigest() == document.sha256
    assert len(files_of(document)) == 1


def test_a_run_whose_file_is_cleared_away_by_a_faster_one_takes_its_paper(monkeypatch):
    repair, cause = RepairFactory(), new_id()
    keep, running = default_storage.save, []

    def cleared_away(name, content):
        if running:  # the faster one
            return keep(name, content)
        running.append(name)
        services.issue(kind="tag", repair_id=repair.id, cause_id=cause)
        raise FileNotFoundError(name)

    with monkeypatch.context() as patched:
        patched.setattr(default_storage, "save", cleared_away)
        document = services.issue(kind="tag", repair_id=repair.id, cause_id=cause)

    assert document.issued_at
    assert files_of(document) == [document.file.name.rpartition("/")[2]]


def test_a_folder_that_is_gone_is_an_error_and_leaves_the_paper_to_be_drawn(monkeypatch):
    repair, cause = RepairFactory(), new_id()

    def gone(name, content):
        raise FileNotFoundError(name)

    with monkeypatch.context() as patched:
        patched.setattr(default_storage, "save", gone)
        with pytest.raises(FileNotFoundError):
            services.issue(kind="tag", repair_id=repair.id, cause_id=cause)

    assert state_of(Document.objects.get()) == "drawing"


def test_an_issued_paper_is_not_drawn_again_and_the_new_one_names_it():
    repair = RepairFactory()
    first = services.issue(kind="tag", repair_id=repair.id, cause_id=new_id())
    repair.unit.serial = "changed since"
    repair.unit.save()

    second = services.issue(kind="tag", repair_id=repair.id, cause_id=new_id())

    first.refresh_from_db()
    assert second.replaces == first
    assert first.sha256 != second.sha256
    assert latest_issued(repair, "tag") == second


def test_a_paper_asked_for_at_the_desk_is_drawn_by_the_outbox(dora):
    repair = RepairFactory()

    document = services.ask_for_paper(kind="receipt", repair=repair, by=dora)

    assert state_of(document) == "drawing"
    outbox.sweep()
    document.refresh_from_db()
    assert state_of(document) == "ready"
    assert document.requested_by == dora
    assert Document.objects.count() == 1


def test_a_paper_whose_work_was_given_up_is_shown_as_failed(dora, monkeypatch):
    document = services.ask_for_paper(kind="tag", repair=RepairFactory(), by=dora)

    def full(_document):
        raise OSError("no space left")

    monkeypatch.setattr(services, "draw_paper", full)
    event = OutboxEvent.objects.get()
    event.tries = outbox.MAX_TRIES
    outbox.attempt(event)

    assert state_of(document) == "failed"


def test_a_sticker_without_a_computed_fuse_is_refused_at_once(dora):
    with pytest.raises(DocumentError, match="start the mains conversion first"):
        services.ask_for_paper(kind="plate_sticker", repair=RepairFactory(), by=dora)

    assert not Document.objects.exists()
    assert not OutboxEvent.objects.exists()


def test_a_picture_from_elsewhere_is_an_error_and_not_a_gap(monkeypatch):
    from shop.documents import pdf

    for source in ("http://elsewhere.example/a.png", "file:///etc/hostname", "missing.png"):
        page = f'<html lang="en"><title>x</title><img src="{source}" alt="x"></html>'
        monkeypatch.setattr(pdf, "render_to_string", lambda *_, page=page: page)

        with pytest.raises(pdf.DocumentError):
            draw("any.html", {})


@pytest.mark.postgresql
@pytest.mark.django_db(transaction=True)
def test_two_workers_at_once_make_one_paper():
    if connection.vendor != "postgresql":
        pytest.skip("needs PostgreSQL")
    repair, cause = RepairFactory(), new_id()

    def run():
        services.issue(kind="tag", repair_id=repair.id, cause_id=cause)
        connections.close_all()

    threads = [Thread(target=run) for _ in range(3)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()

    document = Document.objects.get()
    assert default_storage.exists(document.file.name)
    assert len(files_of(document)) == 1
