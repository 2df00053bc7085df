"""pip's words (pip 23 to 25, as seen on consoles) as one sentence."""

import pytest

from studio.setup.pip_report import explain

REFUSED = """WARNING: Retrying (Retry(total=0, connect=None, read=None, redirect=None, status=None)) after connection
broken by 'NewConnectionError('<pip._vendor.urllib3.connection.HTTPConnection object at 0x7f>: Failed to establish a
new connection: [Errno 111] Connection refused')': /simple/django/
ERROR: Could not find a version that satisfies the requirement Django==5.2.19 (from versions: none)
ERROR: No matching distribution found for Django==5.2.19
"""
NO_NAME = """WARNING: Retrying after connection broken by 'NameResolutionError("Failed to resolve 'pypi.org' ([Errno -3]
Temporary failure in name resolution)")': /simple/django/
ERROR: No matching distribution found for Django==5.2.19
"""
TIMED_OUT = """WARNING: Retrying after connection broken by 'ConnectTimeoutError(<HTTPSConnection>,
'Connection to pypi.org timed out. (connect timeout=20.0)')'
ERROR: No matching distribution found for Django==5.2.19
"""
HALFWAY = "pip._vendor.urllib3.exceptions.ReadTimeoutError: HTTPSConnectionPool: Read timed out.\n"
NO_WHEEL = "ERROR: No matching distribution found for numpy==2.4.6\n"
FULL = "ERROR: Could not install packages due to an OSError: [Errno 28] No space left on device\n"
CONFLICT = "ERROR: Cannot install a and b because these package versions have conflicting dependencies.\n"


@pytest.mark.parametrize(
    ("output", "wheels", "python", "begins", "way_on"),
    [
        pytest.param(REFUSED, False, (3, 11), "The packages could not be fetched", "wheels/", id="refused"),
        pytest.param(
            NO_NAME, False, (3, 11), "The packages could not be fetched", "internet", id="no-name-server"
        ),
        pytest.param(
            TIMED_OUT, False, (3, 11), "The packages could not be fetched", "repeat", id="timed-out"
        ),
        pytest.param(
            HALFWAY, False, (3, 11), "The packages could not be fetched", "repeat", id="cut-off-halfway"
        ),
        pytest.param(
            NO_WHEEL, True, (3, 11), "The folder wheels/ holds no numpy", "MAKE", id="wheels-lack-one"
        ),
        pytest.param(
            NO_WHEEL,
            False,
            (3, 15),
            "There is no numpy==2.4.6 for Python 3.15",
            "3.11 to 3.14",
            id="python-too-new",
        ),
        pytest.param(
            NO_WHEEL, False, (3, 12), "The package index has no numpy", "64-bit", id="no-such-build"
        ),
        pytest.param(FULL, False, (3, 11), "The disk is full", "500 MB", id="disk-full"),
        pytest.param(
            CONFLICT, False, (3, 11), "The packages could not be installed (Cannot", "{log}", id="other"
        ),
        pytest.param("", False, (3, 11), "The packages could not be installed", "{log}", id="nothing-said"),
    ],
)
def test_explain(output, wheels, python, begins, way_on):
    sentence = explain(output, wheels=wheels, python=python, again="MAKE")
    assert sentence.startswith(begins)
    assert way_on in sentence
    assert "\n" not in sentence
