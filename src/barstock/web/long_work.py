"""Long work is done in a process of its own, so that the pages go on answering, tell how far it has
come, and can stop it.
"""

from __future__ import annotations

import multiprocessing
import os
import signal
import traceback
from collections.abc import Callable
from dataclasses import dataclass, replace
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from threading import Event, Lock, Thread
from types import FrameType

from barstock.errors import BarstockError
from barstock.web.page_words import say

Tell = Callable[[str, float], None]
Task = Callable[[Tell], object]
"""What is to be done; told how far it has come. It is pickled."""
PATIENCE = 10.0
"""What is stopped may put away what it has begun, for so long [seconds]."""


@dataclass(frozen=True)
class State:
    """How far the work has come. failed: why it could not be done, in lines."""

    running: bool = False
    words: str = ""
    share: float = 0.0
    failed: tuple[str, ...] = ()


class LongWork:
    """A task carried out in another process, one at a time."""

    def __init__(self) -> None:
        self.state = State()
        self._lock = Lock()
        self._process: BaseProcess | None = None
        self._stopped = False

    def start(self, task: Task, then: Callable[[], None] = lambda: None) -> None:
        """Begin a task; nothing happens where one is running already. then: called here when it
        went well.
        """
        with self._lock:
            if self.state.running:
                return
            self.state, self._stopped = State(running=True, words="…"), False
        Thread(target=self._run, args=(task, then), daemon=True).start()

    def stop(self) -> None:
        """Break the task off; what it has not finished is not kept."""
        with self._lock:
            if not self.state.running or self._stopped:
                return
            self._stopped = True
            self.state = replace(self.state, words=say("long work stopping"))
            if self._process is not None:
                _interrupt(self._process)

    def _run(self, task: Task, then: Callable[[], None]) -> None:
        context = multiprocessing.get_context("spawn")
        here, there = context.Pipe(duplex=False)
        process = context.Process(target=_work, args=(task, there))
        process.start()
        there.close()
        failed: tuple[str, ...] | None = None
        while failed is None:
            try:
                told = here.recv()
            except EOFError:
                failed = (say("long work broke off"),)
                break
            if isinstance(told, tuple) and told[0] == "end":
                failed = tuple(told[1])
            else:
                self._note(process, *told)
        process.join(PATIENCE)
        if process.is_alive():
            process.kill()
            process.join()
        if not failed and not self._stopped:
            then()
        with self._lock:
            self._process = None
            self.state = State(failed=() if self._stopped else failed)

    def _note(self, process: BaseProcess, words: str, share: float) -> None:
        with self._lock:
            if not self._stopped:
                self._process, self.state = process, State(True, words, share)
            elif self._process is None:  # stopped before it was ready to be
                self._process = process
                _interrupt(process)


def _interrupt(process: BaseProcess) -> None:
    if process.pid is not None and process.is_alive():
        os.kill(process.pid, signal.SIGINT)


def _work(task: Task, out: Connection) -> None:
    """Carry out the task in the other process. Ctrl-C is left to the process that asked."""
    os.setpgrp()
    stopping = Event()

    def stop(number: int, frame: FrameType | None) -> None:
        stopping.set()
        raise KeyboardInterrupt

    def tell(words: str, share: float) -> None:
        if stopping.is_set():  # what was raised in a callback of a library is lost there
            raise KeyboardInterrupt
        out.send((words, share))

    signal.signal(signal.SIGINT, stop)
    try:
        out.send(("…", 0.0))  # it can be stopped from now on
        task(tell)
    except KeyboardInterrupt:
        pass
    except (BarstockError, OSError) as wrong:
        out.send(("end", str(wrong).splitlines()))
    except Exception as wrong:
        traceback.print_exc()
        told = str(wrong).partition("\n")[0]
        out.send(("end", (say("broken"), f"{type(wrong).__name__}: {told}")))
    else:
        out.send(("end", ()))
