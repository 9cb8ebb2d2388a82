"""Other processes do work on solids: answers, faults, what is printed, and the end of it all."""

from __future__ import annotations

import operator
import os
import signal
import subprocess
import sys
import time
from collections import deque
from concurrent.futures import wait
from functools import partial
from itertools import count
from pathlib import Path

import pytest

import barstock
from barstock.errors import WrongUseError
from barstock.solids.shapes import box, nothing
from barstock.solids.workers import TooLongError, Workers

BLOCK = box((0, 0, 0), (2, 3, 4))
HOLE = box((0, 0, 0), (1, 1, 1))


def test_a_solid_is_cut_by_another_process_as_it_is_here() -> None:
    with Workers(2) as workers:
        left = workers.ask(partial(BLOCK.cut, HOLE)).result()
        assert workers.ask(os.getpid).result() != os.getpid()
        assert workers.ask(partial(operator.attrgetter("empty"), nothing())).result()
    assert left.volume == pytest.approx(2 * 3 * 4 - 1)
    assert left.bounds == BLOCK.bounds


def test_hands_work_at_the_same_time() -> None:
    with Workers(2) as workers:
        first = [workers.ask(partial(time.sleep, 0.2)), workers.ask(os.getpid)]
        assert wait(first).not_done == set()
        pids = [workers.ask(os.getpid), workers.ask(os.getpid)]
        assert os.getpid() not in {pid.result() for pid in pids}


@pytest.mark.parametrize("many", [0, 1])
def test_what_goes_wrong_is_raised_for_who_asked(many: int) -> None:
    with Workers(many) as workers:
        answer = workers.ask(partial(barstock.read, "no such folder"))
        with pytest.raises(WrongUseError, match="there is no folder no such folder"):
            answer.result()
        assert workers.ask(partial(max, 1, 2)).result() == 2, "and goes on afterwards"


def test_what_a_task_prints_is_no_answer() -> None:
    with Workers(1) as workers:
        assert workers.ask(partial(os.write, 1, b"said aloud\n")).result() == 11
        assert workers.ask(partial(max, 1, 2)).result() == 2


def test_a_process_that_dies_says_so_and_another_takes_its_place() -> None:
    with Workers(1) as workers:
        with pytest.raises(RuntimeError, match="ended"):
            workers.ask(partial(os._exit, 9)).result()
        assert workers.ask(partial(max, 1, 2)).result() == 2


def test_leaving_ends_what_is_still_at_work() -> None:
    """It cannot have waited: what is at work never ends."""
    with Workers(2) as workers:
        pid = workers.ask(os.getpid).result()
        workers.ask(signal.pause)
    with pytest.raises(ProcessLookupError):
        os.kill(pid, 0)


def test_a_script_without_a_guard_may_ask(tmp_path: Path) -> None:
    script = tmp_path / "script.py"
    script.write_text(
        "from functools import partial\nfrom barstock.solids.workers import Workers\n"
        "print('once')\n"
        "with Workers(1) as workers:\n    print(workers.ask(partial(max, 1, 2)).result())\n"
    )
    done = subprocess.run([sys.executable, script], capture_output=True, text=True, check=True)
    assert done.stdout.split() == ["once", "2"]


def test_what_never_comes_back_is_ended_and_the_rest_goes_on() -> None:
    """The endless task lets nothing else of its process run, as a call of the kernel does not."""
    endless = partial(deque, count(), 0)
    with Workers(2, longest=1.0) as workers:
        answer = workers.ask(endless)
        others = [workers.ask(partial(max, n, 0)) for n in range(6)]
        with pytest.raises(TooLongError, match="minutes of processor time"):
            answer.result()
        assert [other.result() for other in others] == list(range(6))
        assert workers.ask(partial(max, 1, 2)).result() == 2


def test_what_is_done_beside_a_process_that_dies_is_begun_again() -> None:
    with Workers(2) as workers:
        beside = workers.ask(partial(time.sleep, 0.5))
        with pytest.raises(RuntimeError, match="ended"):
            workers.ask(partial(os._exit, 9)).result()
        assert beside.result() is None
