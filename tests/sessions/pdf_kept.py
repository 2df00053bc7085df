"""Every page is made into its PDF once in a file of tests, however many of them read it.

For files whose tests ask for the same page again and again. That a page gives the same bytes each time is a test
of its own there, and `kept_pdfs.cache_clear()` has the next one made anew.
"""

import functools

import pytest

from sessions import pdf


@pytest.fixture(scope="module")
def kept_pdfs():
    with pytest.MonkeyPatch.context() as patch:
        kept = functools.cache(pdf.make_pdf)
        patch.setattr(pdf, "make_pdf", kept)
        yield kept
