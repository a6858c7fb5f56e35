"""Tokens of status links: derived from the link's id by a key, never stored.

192 bits of an HMAC-SHA256 under a key that is derived from SECRET_KEY, so that papers and mails
can print the same address again while the database holds only the token's hash.
"""

from __future__ import annotations

import hashlib
from base64 import urlsafe_b64encode
from uuid import UUID

from django.utils.crypto import salted_hmac

SALT = "shop.repairs.status_link"
TOKEN_BYTES = 24
TOKEN_LENGTH = 32


def derive_token(link_id: UUID) -> str:
    """The token of a link: 32 URL-safe characters."""
    digest = salted_hmac(SALT, link_id.hex, algorithm="sha256").digest()
    return urlsafe_b64encode(digest[:TOKEN_BYTES]).decode()


def token_sha256(token: str) -> str:
    """What is stored of a token (hex)."""
    return hashlib.sha256(token.encode()).hexdigest()
