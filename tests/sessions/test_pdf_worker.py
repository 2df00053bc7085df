"""The process that makes PDFs: what it may read, and what happens when it stalls, dies or is missing."""

import os
import signal
import threading
import time
from functools import partial
from pathlib import Path

import pikepdf
import pytest

from sessions import pdf, pdf_worker
from tests.sessions import pdf_reading as reading
from tests.sessions import pdf_workers

PAGE = '<html lang="en"><head><title>Page</title></head><body><h1>Page</h1>{}</body></html>'


@pytest.fixture
def fresh():
    """Start with no worker and leave none of this test's behind."""
    pdf.shutdown()
    yield
    pdf.switch_off("")
    pdf.shutdown()


@pytest.fixture
def worker(fresh, monkeypatch):
    """Return a function that makes every new worker run the given function instead of the real one."""
    real = pdf.Worker
    return lambda serve: monkeypatch.setattr(pdf, "Worker", partial(real, serve=serve))


def test_engine_is_there(fresh):
    assert pdf.available() == (True, "")


def test_warming_does_not_wait(worker):
    """A worker that never gets ready would hold up whoever waits for it."""
    worker(pdf_workers.never_ready)
    pdf.warm()
    assert pdf._worker.process.is_alive()


FOREIGN = [
    "file:///etc/passwd",
    "FILE:///etc/passwd",
    "http://127.0.0.1:9/x",
    "https://example.invalid/x",
    "ftp://example.invalid/x",
    "//example.invalid/x",
    "data:text/plain,stolen",
    "print:../../manage.py",
    "print:/etc/passwd",
    "print:handout.css",
    "/etc/passwd",
    "",
]


@pytest.mark.parametrize("address", FOREIGN)
def test_fetcher_serves_nothing_but_the_print_folder(address):
    fetcher = pdf_worker.print_fetcher(pdf.FOLDER)
    with pytest.raises(pdf_worker.Refused):
        fetcher.fetch(address)
    assert fetcher.refused == [address]


def test_fetcher_serves_the_typefaces():
    fetcher = pdf_worker.print_fetcher(pdf.FOLDER)
    got = fetcher.fetch("print:fonts/radio-canada-400.woff2").read()
    assert got == (pdf.FOLDER / "fonts" / "radio-canada-400.woff2").read_bytes()


TRICKS = {
    "image": '<img alt="x" src="{}">',
    "stylesheet": '<link rel="stylesheet" href="{}">',
    "import": '<style>@import url("{}");</style>',
    "font": '<style>@font-face {{ font-family: x; src: url("{}") }} p {{ font-family: x }}</style><p>x</p>',
    "attachment": '<link rel="attachment" href="{}">',
    "link attachment": '<a rel="attachment" href="{}">x</a>',
    "object": '<object data="{}">x</object>',
    "SVG image": '<svg width="9" height="9"><title>x</title><image href="{}" width="9" height="9"/></svg>',
    "SVG use": '<svg width="9" height="9"><title>x</title><use href="{}#x"/></svg>',
    "background": '<style>p {{ background: url("{}") }}</style><p>x</p>',
}


@pytest.mark.parametrize("trick", TRICKS)
def test_markup_reads_no_file_and_no_address(trick, tmp_path, caplog):
    """The engine's own fetcher would read all of these: the secret must not come along in any of them."""
    secret = tmp_path / "secret.svg"
    secret.write_text('<svg xmlns="http://www.w3.org/2000/svg"><text y="9">swordfish</text></svg>')
    data = pdf.make_pdf(PAGE.format(TRICKS[trick].format(secret.as_uri())))
    with reading.opened(data) as document:
        streams = [item.read_bytes() for item in document.objects if isinstance(item, pikepdf.Stream)]
        assert "/Names" not in document.Root or "/EmbeddedFiles" not in document.Root.Names
    assert b"swordfish" not in b"".join(streams) + data
    assert "swordfish" not in " ".join(reading.texts(data))


def test_refusals_are_told(caplog):
    pdf.make_pdf(PAGE.format('<img alt="x" src="file:///etc/passwd">'))
    assert any("file:///etc/passwd" in record.getMessage() for record in caplog.records)


@pytest.mark.parametrize(
    "page",
    ["<title>No language</title><p>x</p>", '<html lang="en"><p>No title</p></html>', ""],
    ids=["no language", "no title", "nothing"],
)
def test_a_page_without_title_or_language_is_refused(page):
    with pytest.raises(pdf.PdfError, match="title and a language"):
        pdf.make_pdf(page)
    assert pdf.make_pdf(PAGE.format("still here")).startswith(b"%PDF-1.7")


def test_too_long_a_page_is_refused_before_any_worker_is_asked(worker):
    worker(pdf_workers.never_ready)
    with pytest.raises(pdf.PdfError, match="too long"):
        pdf.make_pdf("x" * (pdf.LONGEST + 1))


def test_a_killed_worker_is_replaced_within_the_call(fresh):
    pdf.make_pdf(PAGE.format("before"))
    os.kill(pdf._worker.process.pid, signal.SIGKILL)
    assert "after" in reading.texts(pdf.make_pdf(PAGE.format("after")))[0]


def test_a_worker_that_always_dies_is_given_up(worker):
    worker(pdf_workers.dies)
    with pytest.raises(pdf.PdfError, match="has gone"):
        pdf.make_pdf(PAGE.format(""))


def test_a_stuck_worker_is_ended_and_the_next_call_has_another(worker, monkeypatch):
    real = pdf.Worker
    worker(pdf_workers.stuck)
    pdf.available()
    process = pdf._worker.process
    with pytest.raises(pdf.PdfTimeout):
        pdf.make_pdf(PAGE.format(""), timeout=0.3)
    assert not process.is_alive()
    monkeypatch.setattr(pdf, "Worker", real)
    assert pdf.make_pdf(PAGE.format("next")).startswith(b"%PDF")


def test_a_worker_that_does_not_start_is_not_waited_for_longer_than_asked(worker):
    worker(pdf_workers.never_ready)
    assert pdf.available(timeout=0.5) == (False, "the PDF took too long to make")


def test_without_the_engine_the_reason_is_told_every_time(worker):
    worker(pdf_workers.no_engine)
    for _time in range(2):
        there, reason = pdf.available()
        assert there is False
        assert "weasyprint" in reason
    with pytest.raises(pdf.EngineMissing, match="weasyprint"):
        pdf.make_pdf(PAGE.format(""))


def test_switched_off_for_a_reason(fresh):
    pdf.switch_off("no PDF on this machine")
    assert pdf.available() == (False, "no PDF on this machine")
    with pytest.raises(pdf.EngineMissing, match="no PDF on this machine"):
        pdf.make_pdf(PAGE.format(""))
    pdf.switch_off("")
    assert pdf.available() == (True, "")


def test_the_worker_does_not_load_the_app(worker):
    worker(pdf_workers.lists_modules)
    modules = pdf.make_pdf(PAGE.format(""))
    assert "weasyprint" in modules
    assert [
        name for name in modules if name.split(".")[0] in ("django", "library", "clients", "studio")
    ] == []


def test_ctrl_c_leaves_the_worker_to_its_parent(fresh):
    """Ctrl-C goes to every process of the terminal; the worker ends when it is told, not before."""
    pdf.available()
    process = pdf._worker.process
    os.kill(process.pid, signal.SIGINT)
    time.sleep(0.2)
    assert process.is_alive()
    pdf.shutdown()
    assert not process.is_alive()
    pdf.shutdown()


def test_several_threads_take_turns():
    results = {}

    def one(number: int) -> None:
        results[number] = reading.texts(pdf.make_pdf(PAGE.format(f"<p>thread {number}</p>")))[0]

    threads = [threading.Thread(target=one, args=(number,)) for number in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert results == {number: f"Page thread {number}" for number in range(4)}


def test_memory_has_a_ceiling():
    """The ceiling of the process itself, read from the system (proc, Linux)."""
    pdf.available()
    limits = Path(f"/proc/{pdf._worker.process.pid}/limits").read_text()
    assert f"Max address space         {pdf_worker.MEMORY}" in limits
