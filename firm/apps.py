from django.apps import AppConfig


class FirmConfig(AppConfig):
    name = "firm"
    verbose_name = "The firm"
