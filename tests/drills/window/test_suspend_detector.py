"""A machine that slept, or a program that was stopped, is noticed by two clocks."""

import signal
import subprocess
import sys
import time

from drills.window.suspend_detector import SLEPT_MS, STOPPED_MS, Standstill


class Clocks:
    """A monotonic clock that stops in sleep, and one that does not; both in ms."""

    def __init__(self):
        self.awake = self.asleep = 0.0
        self.standstill = Standstill(
            lambda: round(self.awake * 1e6), lambda: round((self.awake + self.asleep) * 1e6)
        )

    def look_after(self, awake, asleep=0.0):
        self.awake += awake
        self.asleep += asleep
        return self.standstill.look()


def test_a_lid_shut_in_mid_card_is_noticed_once_and_by_its_whole_length():
    clocks = Clocks()
    assert clocks.look_after(1000) is None
    assert clocks.look_after(300, asleep=3_600_000) == 3_600_300
    assert clocks.look_after(1000) is None


def test_a_program_that_was_stopped_is_noticed_though_no_clock_stood_still():
    clocks = Clocks()
    assert clocks.look_after(STOPPED_MS) is None
    assert clocks.look_after(STOPPED_MS + 1) == STOPPED_MS + 1


def test_a_loop_that_comes_round_once_a_second_is_no_standstill():
    clocks = Clocks()
    assert all(clocks.look_after(1000.5, asleep=SLEPT_MS / 2) is None for _ in range(100))


WATCH = """
import sys, time
from drills.window.suspend_detector import Standstill
standstill = Standstill()
print("watching", flush=True)
while True:
    time.sleep(0.02)
    if (stood := standstill.look()) is not None:
        print(stood, flush=True)
        break
"""


def test_a_stopped_process_notices_it_by_the_clocks_of_this_machine():
    process = subprocess.Popen([sys.executable, "-c", WATCH], stdout=subprocess.PIPE, text=True)
    assert process.stdout.readline() == "watching\n"
    process.send_signal(signal.SIGSTOP)
    time.sleep(STOPPED_MS / 1000 + 0.2)
    process.send_signal(signal.SIGCONT)
    stood = float(process.communicate(timeout=10)[0])
    assert STOPPED_MS < stood < 60_000
