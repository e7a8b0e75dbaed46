"""What the web server runs."""

import gc
import os

from django.core.wsgi import get_wsgi_application

from firm.management import leash

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "firm.settings")
application = get_wsgi_application()
leash.end_when_orphaned()
# What is loaded stays: the collector need not look at it again.
gc.collect()
gc.freeze()
gc.set_threshold(10_000, 20, 50)
