from firm.tasks.letters import send_letter
from firm.tasks.papers import print_paper
from firm.tasks.rounds import minute, pulse

__all__ = ["minute", "print_paper", "pulse", "send_letter"]
