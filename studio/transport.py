"""What TLS changes about a request and its answer: cookies that never travel in the clear, and the strict header."""

from studio.management.listeners import STRICT

# A browser takes a cookie of this name over TLS only, from this host only (RFC 6265bis, 4.1.3.2).
PREFIX = "__Host-"
STRICT_SECONDS = 365 * 24 * 60 * 60


class TransportMiddleware:
    """Outermost. Over TLS every cookie is Secure and named `__Host-…`; on this machine's own address it is plain.

    Behind this middleware a cookie has one name either way. A plain cookie that comes over TLS is not read: it
    may have been planted from an unprotected page. Forwarded headers are never asked: there is no proxy.
    """

    def __init__(self, get_response):
        self.get_response = get_response

    def __call__(self, request):
        if not request.is_secure():
            return self.get_response(request)
        request.COOKIES = {
            name.removeprefix(PREFIX): value
            for name, value in request.COOKIES.items()
            if name.startswith(PREFIX)
        }
        response = self.get_response(request)
        harden(response.cookies)
        if request.META.get(STRICT):
            response.headers["Strict-Transport-Security"] = f"max-age={STRICT_SECONDS}"
        return response


def harden(cookies) -> None:
    """Give every cookie of an answer the prefix and what the prefix asks for: Secure, path /, no domain."""
    for name in list(cookies):
        marks = dict(cookies[name])
        value = cookies.pop(name).value
        cookies[PREFIX + name] = value
        cookies[PREFIX + name].update({**marks, "secure": True, "path": "/", "domain": ""})
