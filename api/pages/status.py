"""The customer's page at /s/<token>/: no account, no JavaScript, nothing changed by opening it."""

from __future__ import annotations

from typing import Any

from django.core.cache import cache
from django.http import FileResponse, HttpRequest, HttpResponse, HttpResponseRedirect
from django.template.loader import render_to_string
from django.utils import translation
from django.utils.translation import gettext as _
from django.views.decorators.csrf import csrf_exempt
from django.views.decorators.http import require_POST, require_safe

from api.pages.status_facts import estimate_proven_by, report_of, status_facts
from shop.billing.errors import EstimateNotOpen
from shop.billing.services import answer_estimate
from shop.core.selectors import the_shop
from shop.repairs.models import Repair, StatusLink
from shop.repairs.selectors import repair_by_token
from shop.repairs.tokens import token_sha256

WRONG_TOKENS_PER_MINUTE = 30
NAME_LENGTH = 80


@require_safe
def page(request: HttpRequest, token: str) -> HttpResponse:
    """Where the repair stands. GET and HEAD change nothing."""
    repair = repair_by_token(token)
    return _status(repair, token) if repair else _no_such_link(request, token)


# No CSRF cookie: with `no-referrer` browsers send `Origin: null`, which Django's check refuses.
# The form carries a signed proof in its place, which only this page gives out.
@csrf_exempt
@require_POST
def answer(request: HttpRequest, token: str) -> HttpResponse:
    """The customer agrees or declines. The same answer again changes nothing."""
    repair = repair_by_token(token)
    if repair is None:
        return _no_such_link(request, token)
    estimate = estimate_proven_by(repair, request.POST.get("proof", ""))
    choice = request.POST.get("answer", "")
    if request.headers.get("Sec-Fetch-Site") == "cross-site" or estimate is None:
        return _status(repair, token, status=403, problem="form")
    name = request.POST.get("name", "").strip()[:NAME_LENGTH]
    if not name or choice not in {"agree", "decline"}:
        return _status(repair, token, status=400, problem="name" if choice else "choice")
    try:
        how = _answered_how(repair)
        answer_estimate(estimate=estimate, agreed=choice == "agree", how=how, words=name)
    except EstimateNotOpen:
        return _status(repair, token, status=409, problem="closed")
    return _sealed(HttpResponseRedirect(f"/s/{token}/", status=303))


def _answered_how(repair: Repair) -> str:
    with translation.override(the_shop().language):
        return _("on the status page")


@require_safe
def report(request: HttpRequest, token: str) -> HttpResponse | FileResponse:
    """The test report as PDF, once the repair is ready."""
    repair = repair_by_token(token)
    if repair is None:
        return _no_such_link(request, token)
    document = report_of(repair)
    if document is None:
        return _status(repair, token, status=404, problem="no_report")
    answer = FileResponse(
        document.file.open(), content_type="application/pdf", filename="test-report.pdf"
    )
    return _sealed(answer)


@require_safe
def robots(request: HttpRequest) -> HttpResponse:
    return HttpResponse("User-agent: *\nDisallow: /s/\n", content_type="text/plain")


def _status(repair: Repair, token: str, *, status: int = 200, problem: str = "") -> HttpResponse:
    repair.refresh_from_db()
    facts = {**status_facts(repair), "token": token, "problem": problem}
    return _rendered("status/page.html", facts, repair.customer.language, status)


def _no_such_link(request: HttpRequest, token: str) -> HttpResponse:
    """410 for a link that was once good, 404 for any other, 429 for somebody who keeps guessing."""
    was_good = StatusLink.objects.filter(token_sha256=token_sha256(token)).exists()
    status = 410 if was_good else 429 if _guesses(request) else 404
    facts = {"shop": the_shop(), "was_good": was_good, "is_guessing": status == 429}
    return _rendered("status/no_link.html", facts, the_shop().language, status)


def _guesses(request: HttpRequest) -> bool:
    key = f"status-link-guesses:{request.META.get('REMOTE_ADDR', '')}"
    cache.add(key, 0, timeout=60)
    try:
        return cache.incr(key) > WRONG_TOKENS_PER_MINUTE
    except ValueError:  # it ran out between the two
        return False


def _rendered(template: str, facts: dict[str, Any], language: str, status: int) -> HttpResponse:
    with translation.override(language):
        html = render_to_string(template, {**facts, "language": language})
    answer = HttpResponse(html, status=status)
    answer["Content-Language"] = language
    return _sealed(answer)


def _sealed(answer: Any) -> Any:
    """Out of caches, search engines and the Referer of whatever comes next."""
    answer["Referrer-Policy"] = "no-referrer"
    answer["Cache-Control"] = "no-store"
    answer["X-Robots-Tag"] = "noindex, nofollow"
    return answer
