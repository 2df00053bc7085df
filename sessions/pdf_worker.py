"""The process that turns a printed page's HTML into PDF: it imports the PDF engine and nothing of the app.

Only `sessions/pdf.py` starts it. It keeps one font configuration and the parsed print styles; both may be
used by one thread at a time only, and a process has one here.
"""

import contextlib
import logging
import os
import signal
from pathlib import Path

MEMORY = 2 * 1024**3
# How far behind the server the worker stands in the queue for a processor, of 19 steps.
BEHIND = 10
SCHEME = "print:"
# The print styles there are. The first is read at once, another when a page of its kind is first made.
STYLES = {"handout": "handout.css", "progress": "progress.css", "questions": "questions.css"}
# Further typefaces, read when a page first has letters from there on.
SCRIPTS = ((0x300, "names.css"), (0x2E80, "names-han.css"))
NOT_LETTERS = range(0x2000, 0x2E80)


class Refused(ValueError):
    """Something asked for a file or an address that is not part of the print folder."""


class Engine:
    """HTML to PDF/UA. Raises ImportError or OSError when the engine or its libraries cannot be loaded."""

    def __init__(self, folder: Path):
        import weasyprint
        from weasyprint.text.fonts import FontConfiguration

        self.weasyprint = weasyprint
        self.fetcher = print_fetcher(folder)
        self.folder = folder
        self.fonts = FontConfiguration()
        self.styles = {"handout": self._style(STYLES["handout"])}
        self.scripts = dict.fromkeys(name for _first, name in SCRIPTS)

    def make(self, html: str, style: str = "handout") -> bytes:
        """Return the PDF of a page of HTML that names its language and title. Raises ValueError without.

        style: which of STYLES it is set in; KeyError for another.
        """
        from sessions import pdf_tags

        self._read_scripts(html)
        if style not in self.styles:
            self.styles[style] = self._style(STYLES[style])
        page = self.weasyprint.HTML(string=html, url_fetcher=self.fetcher)
        extra = [style for style in self.scripts.values() if style]
        document = page.render(font_config=self.fonts, stylesheets=[*extra, self.styles[style]])
        if not (document.metadata.title and document.metadata.lang):
            raise ValueError("a printed page needs a title and a language")
        pdf_tags.add_language(document.metadata)
        return document.write_pdf(pdf_variant="pdf/ua-1", finisher=pdf_tags.finish)

    def _style(self, name: str):
        text = (self.folder / name).read_text(encoding="utf-8").replace("url(", f"url({SCHEME}")
        return self.weasyprint.CSS(string=text, font_config=self.fonts, url_fetcher=self.fetcher)

    def _read_scripts(self, html: str) -> None:
        letters = {ord(letter) for letter in html} - set(NOT_LETTERS)
        highest = max(letters, default=0)
        for first, name in SCRIPTS:
            if highest >= first and self.scripts[name] is None:
                self.scripts[name] = self._style(name)


def print_fetcher(folder: Path):
    """Return a fetcher that serves the files of the print folder, read now, by name, and nothing else."""
    from weasyprint.urls import URLFetcher, URLFetcherResponse

    files = {
        SCHEME + path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.suffix in (".svg", ".woff2", ".ttf")
    }
    kinds = {".svg": "image/svg+xml", ".woff2": "font/woff2", ".ttf": "font/ttf"}

    class PrintFetcher(URLFetcher):
        def __init__(self):
            super().__init__(allowed_protocols=(), allow_redirects=False)
            self.refused = []

        def fetch(self, url, headers=None):
            if url not in files:
                self.refused.append(url)
                raise Refused(f"not part of the print folder: {url[:80]}")
            kind = kinds[Path(url).suffix]
            return URLFetcherResponse(url, files[url], {"Content-Type": kind})

    return PrintFetcher()


class Notes(logging.Handler):
    """Keeps what the engine complains about, for the one who asked."""

    def __init__(self):
        super().__init__(logging.WARNING)
        self.lines = []

    def emit(self, record):
        self.lines.append(f"{record.levelname.lower()}: {record.getMessage()}"[:300])

    def take(self) -> list[str]:
        lines, self.lines = self.lines, []
        return lines


def serve(connection, folder: str, warm_up: str) -> None:
    """Answer requests until the other end closes.

    In comes (HTML, style), out goes ("pdf", bytes, notes) or ("failed", why, notes).
    The first message out is ("ready", "", notes) or ("missing", why, []).
    """
    # Ctrl-C reaches the whole process group; the parent decides when this one ends.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    # The parent may close its end at any moment, also while this one warms up: that is an end, not a fault.
    with contextlib.suppress(BrokenPipeError, EOFError, ConnectionError):
        _answer(connection, Path(folder), warm_up)


def _answer(connection, folder: Path, warm_up: str) -> None:
    notes = Notes()
    logging.getLogger("weasyprint").addHandler(notes)
    try:
        give_way()
        limit_memory()
        engine = Engine(folder)
        engine.make(warm_up)
    except (ImportError, OSError) as error:
        connection.send(("missing", f"{type(error).__name__}: {error}".splitlines()[0], []))
        return
    connection.send(("ready", "", notes.take()))
    while True:
        html, style = connection.recv()
        try:
            answer = ("pdf", engine.make(html, style), notes.take())
        except Exception as error:
            answer = ("failed", f"{type(error).__name__}: {error}"[:300], notes.take())
        connection.send(answer)


def give_way() -> None:
    """Let the pages of the studio go first where the two want the same processor."""
    if hasattr(os, "nice"):  # not on Windows
        os.nice(BEHIND)


def limit_memory() -> None:
    """Put a ceiling on this process's memory where the system has one."""
    try:
        import resource
    except ImportError:  # Windows
        return
    _soft, hard = resource.getrlimit(resource.RLIMIT_AS)
    ceiling = MEMORY if hard == resource.RLIM_INFINITY else min(MEMORY, hard)
    resource.setrlimit(resource.RLIMIT_AS, (ceiling, hard))
