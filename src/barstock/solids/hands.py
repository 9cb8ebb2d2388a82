"""More pairs of hands: processes that work on solids beside this one, each with its own kernel.

They are started when there is first something to do, and are fresh interpreters, so that whatever
this process has loaded, or runs at its end, is no matter to them.
"""

from __future__ import annotations

import contextlib
import os
import pickle
import subprocess
import sys
import traceback
from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from queue import Empty, SimpleQueue
from types import TracebackType
from typing import Any, TypeVar

T = TypeVar("T")

MOST = 4
"""Hands at work at most: each takes some 300 MiB."""
THREADS = ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS")
"""A hand works one thread: there are as many hands as cores."""
START = "import sys; sys.path[:] = {path!r}; from barstock.solids.hands import serve; serve()"


class Hands:
    """Processes that do tasks, at most `many` at a time; with none the tasks are done here.

    To be left by `with`, which ends them and whatever they were still at.
    """

    def __init__(self, many: int | None = None) -> None:
        """many: None is one for each core."""
        if many is None:
            many = min(MOST, os.cpu_count() or 1) if sys.executable else 0
        self._threads = ThreadPoolExecutor(many) if many else None
        self._idle: SimpleQueue[_Hand] = SimpleQueue()
        self._all: list[_Hand] = []
        self._left = False

    def ask(self, task: Callable[[], T]) -> Future[T]:
        """Have a task done. It and its answer must be such as can be pickled."""
        if self._threads is not None:
            return self._threads.submit(self._done, task)
        answer: Future[T] = Future()
        try:
            answer.set_result(task())
        except Exception as wrong:
            answer.set_exception(wrong)
        return answer

    def _done(self, task: Callable[[], T]) -> T:
        try:
            hand = self._idle.get_nowait()
        except Empty:
            if self._left:
                raise RuntimeError("the work was stopped") from None
            hand = _Hand()
            self._all.append(hand)
        answer: T = hand.do(task)
        self._idle.put(hand)
        return answer

    def __enter__(self) -> Hands:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        value: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._left = True
        if self._threads is not None:
            self._threads.shutdown(wait=False, cancel_futures=True)
            for hand in self._all:
                hand.end()
            self._threads.shutdown()
            for hand in self._all:  # one that was just being started
                hand.end()


class _Hand:
    """One process, and the pipes to it."""

    def __init__(self) -> None:
        self.process = subprocess.Popen(
            [sys.executable, "-c", START.format(path=sys.path)],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            start_new_session=True,  # Ctrl-C is for the one who asked
            env=os.environ | dict.fromkeys(THREADS, "1"),
        )

    def do(self, task: Callable[[], Any]) -> Any:
        to, answers = self.process.stdin, self.process.stdout
        assert to is not None
        assert answers is not None
        asked = pickle.dumps(task)
        try:
            pickle.dump(asked, to)
            to.flush()
            good, answer = pickle.load(answers)
        except (EOFError, OSError, pickle.UnpicklingError):
            code = self.process.wait()
            raise RuntimeError(f"the process at work on the solids ended ({code})") from None
        if not good:
            raise answer
        return answer

    def end(self) -> None:
        self.process.kill()
        self.process.wait()
        for pipe in (self.process.stdin, self.process.stdout):
            with contextlib.suppress(OSError):
                if pipe is not None:
                    pipe.close()


def serve() -> None:
    """Do the tasks that come in, until no more can come; print nothing among the answers."""
    asked = sys.stdin.buffer
    with os.fdopen(os.dup(1), "wb") as answers:
        os.dup2(2, 1)
        while True:
            try:
                raw = pickle.load(asked)
            except EOFError:
                return
            answers.write(_answer(raw))
            answers.flush()


def _answer(raw: bytes) -> bytes:
    try:
        return pickle.dumps((True, pickle.loads(raw)()))
    except Exception as wrong:
        wrong.add_note(traceback.format_exc())
        try:
            return pickle.dumps((False, wrong))
        except Exception:
            return pickle.dumps((False, RuntimeError(f"{type(wrong).__name__}: {wrong}")))
