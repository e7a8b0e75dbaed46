"""The workers' wiring. The tray is the truth; the broker only wakes."""

import os

from celery import Celery

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "firm.settings")

from django.conf import settings

IN_MEMORY = settings.FIRM_BROKER_URL.startswith("memory:")

app = Celery("firm")
app.conf.update(
    broker_url="memory://localhost/" if IN_MEMORY else settings.FIRM_BROKER_URL,
    broker_transport_options=(
        {"polling_interval": 0.05}
        if IN_MEMORY
        else {
            "visibility_timeout": 900,
            "socket_timeout": 5,
            "socket_connect_timeout": 2,
            "max_retries": 0,
        }
    ),
    broker_connection_retry_on_startup=True,
    broker_connection_max_retries=None,
    # A task that is lost is found again by its row, so nothing waits for an answer.
    task_ignore_result=True,
    task_acks_late=False,
    task_serializer="json",
    accept_content=["json"],
    task_default_queue="firm",
    worker_redirect_stdouts=False,
    worker_hijack_root_logger=False,
    worker_enable_remote_control=False,
    worker_prefetch_multiplier=64,
    timezone=settings.TIME_ZONE,
    beat_schedule={"minute": {"task": "firm.tasks.minute", "schedule": 60.0}},
)
app.autodiscover_tasks(["firm"])
