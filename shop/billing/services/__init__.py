"""Writes of money: estimates and their answers, payments, invoices."""

from shop.billing.services.estimates import answer_estimate, make_estimate, send_estimate
from shop.billing.services.invoices import issue_invoice
from shop.billing.services.payments import take_payment

__all__ = ["answer_estimate", "issue_invoice", "make_estimate", "send_estimate", "take_payment"]
