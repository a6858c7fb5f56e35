"""Notes that name somebody and that they have not seen."""

from __future__ import annotations

from django.db.models import QuerySet

from shop.core.models import Person
from shop.jobs.models import Mention
from shop.repairs.stages import CLOSED


def mentions_waiting_for(person: Person) -> QuerySet[Mention]:
    """Notes this person has yet to see, oldest first; one that was corrected waits no longer."""
    unseen = Mention.objects.filter(person=person, seen_at=None, entry__replaced_by=None)
    still = unseen.exclude(entry__repair__stage__in=CLOSED)
    return still.select_related("entry__made_by", "entry__repair__unit").order_by(
        "entry__received_at", "id"
    )
