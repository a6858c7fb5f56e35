"""Templates that nobody published came with the program; the others were taken in from files."""

from django.db import migrations


def fill(apps, schema_editor):
    Revision = apps.get_model("jobs", "Revision")
    JobTemplate = apps.get_model("jobs", "JobTemplate")
    Revision.objects.filter(published_by=None).update(origin="shipped")
    Revision.objects.exclude(published_by=None).update(origin="imported")
    JobTemplate.objects.update(origin="imported")
    JobTemplate.objects.filter(revisions__number=1, revisions__origin="shipped").update(
        origin="shipped"
    )


class Migration(migrations.Migration):
    dependencies = [("jobs", "0002_drafts_and_reviews")]
    operations = [migrations.RunPython(fill, migrations.RunPython.noop)]
