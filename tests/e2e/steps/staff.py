"""Staff of the shop: signing in on a screen, and the API for what no screen is wanted for."""

from __future__ import annotations

from typing import Any
from uuid import uuid4

from playwright.sync_api import APIRequestContext, APIResponse, Page, Playwright, expect

from tests.e2e.seed import PEOPLE


def sign_in(page: Page, username: str, *, device: str) -> None:
    """Through the sign-in screen; ends on the person's first page."""
    page.get_by_label("User name").fill(username)
    page.get_by_label("Password").fill(PEOPLE[username][2])
    page.get_by_label("Name of this phone or desk").fill(device)
    page.get_by_role("button", name="Sign in").click()
    expect(page.get_by_role("navigation", name="Main")).to_be_visible()


def sign_in_again(page: Page, username: str) -> None:
    """From the line that says that the session has ended."""
    page.get_by_role("link", name="Sign in").click()
    page.get_by_label("Password").fill(PEOPLE[username][2])
    page.get_by_role("button", name="Sign in").click()
    expect(page.get_by_text("Your session has ended.")).to_have_count(0)


class ThroughApi:
    """One person's session without a screen."""

    def __init__(self, driver: Playwright, url: str, username: str) -> None:
        self.context: APIRequestContext = driver.request.new_context(base_url=url)
        self.context.get("/api/v1/csrf/")
        device = {"id": str(uuid4()), "name": "test bench"}
        body = {"username": username, "password": PEOPLE[username][2], "device": device}
        self.me = self.post("session/", body)

    def get(self, path: str) -> Any:
        answer = self.context.get(f"/api/v1/{path}")
        assert answer.ok, (path, answer.status, answer.text())
        return answer.json()

    def post(self, path: str, body: dict[str, Any], **headers: str) -> Any:
        answer = self.send(path, body, **headers)
        assert answer.ok, (path, answer.status, answer.text())
        return answer.json() if answer.body() else None

    def send(self, path: str, body: dict[str, Any], **headers: str) -> APIResponse:
        return self.context.post(
            f"/api/v1/{path}", data=body, headers={"X-CSRFToken": self._token(), **headers}
        )

    def change_stage(self, repair: str, to: str, reason: str = "test") -> None:
        version = self.get(f"repairs/{repair}/")["version"]
        body = {"id": str(uuid4()), "to": to, "reason": reason}
        self.post(f"repairs/{repair}/stage/", body, **{"If-Match": f'"{version}"'})

    def _token(self) -> str:
        cookies = self.context.storage_state()["cookies"]
        return next((c["value"] for c in cookies if c["name"] == "csrftoken"), "")

    def close(self) -> None:
        self.context.dispose()
