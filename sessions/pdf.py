"""The one place that makes PDFs: a warm worker process, asked by one thread at a time.

    available()            -> (bool, reason)
    warm()                 start the worker and do not wait
    make_pdf(html, style)  -> bytes
    shutdown()             end the worker (also done at exit)

Making a PDF keeps a processor busy for a third of a second; in a process of its own it does not slow the
pages of the studio, it can be ended when it takes too long, and what crashes in it crashes nothing else.
"""

import atexit
import logging
import multiprocessing
import threading
from pathlib import Path
from time import monotonic

from sessions import pdf_worker

FOLDER = Path(__file__).resolve().parent.parent / "static" / "print"
TIMEOUT = 20.0
LONGEST = 4 * 1024 * 1024
WARM_UP = (
    '<html lang="en"><title>Warm</title><h1>Warm</h1><p>0123 <b>Warm</b></p>'
    '<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><title>Warm</title><path d="M0 0h9"/></svg>'
)

log = logging.getLogger(__name__)


class PdfError(Exception):
    """No PDF was made; the page can still be printed by the browser."""


class EngineMissing(PdfError):
    """The engine or a library under it cannot be loaded, or it is switched off. The text says which."""


class PdfTimeout(PdfError):
    """It took too long, and was ended."""


class _WorkerDied(PdfError):
    pass


class Worker:
    """One process and the pipe to it. Not for sharing: `_turn` lets one thread in at a time."""

    def __init__(self, folder: Path = FOLDER, serve=pdf_worker.serve):
        context = multiprocessing.get_context("spawn")
        self.pipe, theirs = context.Pipe()
        self.process = context.Process(
            target=serve, args=(theirs, str(folder), WARM_UP), daemon=True, name="evenside-pdf"
        )
        self.process.start()
        theirs.close()
        self.ready = False
        self.missing = ""

    def wait_ready(self, deadline: float) -> None:
        """Wait until it can work. Raises EngineMissing when it cannot, ever."""
        if not self.ready and not self.missing:
            state, reason = self._answer(deadline)
            self.ready, self.missing = state == "ready", reason
        if self.missing:
            raise EngineMissing(self.missing)

    def ask(self, html: str, style: str, deadline: float) -> bytes:
        self.wait_ready(deadline)
        try:
            self.pipe.send((html, style))
        except OSError as error:
            raise _WorkerDied("the PDF worker has gone") from error
        state, result = self._answer(deadline)
        if state == "failed":
            raise PdfError(result)
        return result

    def _answer(self, deadline: float):
        try:
            if not self.pipe.poll(max(0.0, deadline - monotonic())):
                raise PdfTimeout("the PDF took too long to make")
            state, result, notes = self.pipe.recv()
        except (EOFError, OSError) as error:
            raise _WorkerDied("the PDF worker has gone") from error
        for note in notes:
            log.warning("PDF: %s", note)
        return state, result

    def end(self) -> None:
        self.pipe.close()
        self.process.join(0.5)
        if self.process.is_alive():
            self.process.kill()
            self.process.join(2)


_turn = threading.Lock()
_worker: Worker | None = None
_off = ""


def switch_off(reason: str) -> None:
    """Do without PDFs from now on, for the reason given; with "" go back to trying."""
    global _off
    _off = reason
    if reason:
        shutdown()


def warm() -> None:
    """Start the worker if there is none and return at once: it is ready about a second later."""
    if not _off and _turn.acquire(blocking=False):
        try:
            _current()
        except PdfError as error:
            log.warning("PDF: %s", error)
        finally:
            _turn.release()


def available(*, timeout: float = TIMEOUT) -> tuple[bool, str]:
    """Say whether PDFs can be made, and if not, why. Waits for a worker that is just starting."""
    try:
        with _in_turn(timeout) as deadline:
            _current().wait_ready(deadline)
    except EngineMissing as error:
        return False, str(error)
    except PdfError as error:
        _drop_worker()
        return False, str(error)
    return True, ""


def make_pdf(html: str, style: str = "handout", *, timeout: float = TIMEOUT) -> bytes:
    """Return the PDF/UA file of a page made from a template for print with for_pdf set.

    style: the print styles it is set in, a name of pdf_worker.STYLES.
    The page names its own language (html lang), title and date of issue (meta dcterms.created); the same
    page gives the same bytes. A worker that died is replaced once. Raises EngineMissing, PdfTimeout (the
    worker is ended and the next call starts another) or PdfError.
    """
    if len(html) > LONGEST:
        raise PdfError(f"the page is too long: {len(html)} characters")
    with _in_turn(timeout) as deadline:
        try:
            return _current().ask(html, style, deadline)
        except _WorkerDied:
            log.warning("PDF: the worker died and is started again")
            _drop_worker()
        except PdfTimeout:
            _drop_worker()
            raise
        try:
            return _current().ask(html, style, deadline)
        except (_WorkerDied, PdfTimeout):
            _drop_worker()
            raise


def shutdown() -> None:
    """End the worker. Calling it twice does no harm; a later call of make_pdf starts another."""
    _drop_worker()


class _in_turn:
    """Hold the lock, or say that the queue is too long. Gives the moment by which all must be done."""

    def __init__(self, timeout: float):
        self.timeout = timeout

    def __enter__(self) -> float:
        if _off:
            raise EngineMissing(_off)
        deadline = monotonic() + self.timeout
        if not _turn.acquire(timeout=self.timeout):
            raise PdfTimeout("other PDFs are still being made")
        return deadline

    def __exit__(self, *_error) -> None:
        _turn.release()


def _current() -> Worker:
    global _worker
    if _worker is None:
        try:
            _worker = Worker()
        except OSError as error:
            raise EngineMissing(f"no worker process can be started: {error}") from error
    return _worker


def _drop_worker() -> None:
    global _worker
    worker, _worker = _worker, None
    if worker is not None:
        worker.end()


atexit.register(shutdown)
