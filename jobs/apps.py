from django.apps import AppConfig


class JobsConfig(AppConfig):
    name = "jobs"

    def ready(self) -> None:
        from firm.actions.tray import register_check
        from jobs.actions import visit_letters

        for kind in ("visit-confirmed", "visit-tomorrow"):
            register_check(kind, visit_letters.reason_to_stand_down)
