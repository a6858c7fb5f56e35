"""Who is asking: the session cookie, with CSRF checked on every write."""

from rest_framework.authentication import SessionAuthentication
from rest_framework.request import Request


class StaffSession(SessionAuthentication):
    """Django's session. Names a scheme, so that a missing login is 401 and not 403."""

    def authenticate_header(self, request: Request) -> str:
        return "Session"
