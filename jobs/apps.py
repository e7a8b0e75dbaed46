from django.apps import AppConfig


class JobsConfig(AppConfig):
    name = "jobs"

    def ready(self) -> None:
        from firm.actions.tray import register_check
        from jobs.actions import visit_letters

        for kind in ("visit-confirmed", "visit-tomorrow"):
            register_check(kind, visit_letters.reason_to_stand_down)

        from firm.actions.papers import register_press
        from firm.actions.rounds import register_round
        from firm.queries.papers import register_reader
        from jobs.actions import booking  # noqa: F401  registers its letters' checks
        from jobs.actions.evening import evening_round
        from jobs.documents import order as order_paper
        from jobs.queries import job_sections
        from jobs.queries.order import may_read_order_paper

        register_round("evening", evening_round)
        register_press(order_paper.KIND, order_paper.press)
        register_reader(order_paper.KIND, may_read_order_paper)
        job_sections.register()
