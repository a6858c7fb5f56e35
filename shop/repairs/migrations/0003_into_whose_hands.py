import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models
from django.db.models import Q


class Migration(migrations.Migration):
    dependencies = [
        ("repairs", "0002_note_how_a_unit_leaves"),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.AddField(
            model_name="stageevent",
            name="handed_to",
            field=models.ForeignKey(
                blank=True,
                null=True,
                on_delete=django.db.models.deletion.PROTECT,
                related_name="+",
                to=settings.AUTH_USER_MODEL,
            ),
        ),
        migrations.AddField(
            model_name="stageevent",
            name="hands",
            field=models.CharField(
                blank=True,
                choices=[
                    ("taken", "taken"),
                    ("handed", "handed over"),
                    ("put_back", "put back"),
                ],
                max_length=8,
                default="",
            ),
            preserve_default=False,
        ),
        migrations.AddConstraint(
            model_name="stageevent",
            constraint=models.CheckConstraint(
                condition=Q(hands__in=["taken", "handed"], handed_to__isnull=False)
                | Q(hands__in=["", "put_back"], handed_to__isnull=True),
                name="stageevent_handed_to_somebody",
            ),
        ),
    ]
