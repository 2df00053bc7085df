
from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ('studio_sessions', '0001_first'),
    ]

    operations = [
        migrations.AddField(
            model_name='callbackclosed',
            name='verdicts',
            field=models.JSONField(default=dict),
        ),
    ]
