"""Notes that name somebody: they wait for that person until they have seen them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from uuid import UUID

from django.utils import timezone

from shop.core.models import Person
from shop.core.selectors import active_people
from shop.jobs.models import Entry, Mention


def keep_mentions(entries: Iterable[Entry]) -> None:
    """A row for everybody whom these new notes name, in the transaction of the entries.

    Who has left, or names themselves, has nothing to see: there the note is words only.
    """
    named = {entry: _named_in(entry) for entry in entries if entry.kind == Entry.Kind.NOTE}
    everybody = set().union(*named.values())
    if not everybody:
        return
    here = set(active_people().filter(id__in=everybody).values_list("id", flat=True))
    Mention.objects.bulk_create(
        Mention(entry=entry, person_id=person)
        for entry, people in named.items()
        for person in sorted(people & here - {entry.made_by_id})
    )


def _named_in(entry: Entry) -> set[UUID]:
    return {UUID(id) for id in entry.value.get("mentions", [])}


def see_mentions(*, ids: Sequence[UUID], by: Person) -> int:
    """Notes this person has read. Says how many had waited; a repeat changes nothing."""
    unseen = Mention.objects.filter(id__in=ids, person=by, seen_at=None)
    return unseen.update(seen_at=timezone.now())
