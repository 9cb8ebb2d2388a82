"""More pairs of hands: processes that work on solids beside this one, each with its own kernel.

One fresh interpreter, to which it is no matter what this process has loaded or runs at its end,
loads the kernel before there is anything to do; each hand is its fork.
"""

from __future__ import annotations

import contextlib
import os
import pickle
import signal
import socket
import subprocess
import sys
import traceback
from collections.abc import Callable, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass
from importlib import import_module
from queue import Empty, SimpleQueue
from threading import Lock
from types import TracebackType
from typing import Any, BinaryIO, TypeVar

T = TypeVar("T")

MOST = 4
"""Hands at work at most: each takes some 300 MiB."""
KERNEL = ("numpy", "OCP")
THREADS = ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS")
"""A hand works one thread: there are as many hands as cores."""
START = """import sys
sys.path[:] = {path!r}
from barstock.solids.hands import fork
fork({loaded!r})"""


class Hands:
    """Processes that do tasks, at most `many` at a time; with none the tasks are done here.

    To be left by `with`, which ends them and whatever they were still at.
    """

    def __init__(self, many: int | None = None, loaded: Sequence[str] = ()) -> None:
        """many: None is one for each core. loaded: modules of the tasks, loaded once for all."""
        if many is None:
            many = min(MOST, os.cpu_count() or 1) if sys.executable else 0
        self._threads = ThreadPoolExecutor(many) if many else None
        self._loaded = (*KERNEL, *loaded)
        self._idle: SimpleQueue[_Hand] = SimpleQueue()
        self._body: _Body | None = None
        self._starting = Lock()
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
            hand = self._another()
        answer: T = hand.do(task)
        self._idle.put(hand)
        return answer

    def _another(self) -> _Hand:
        with self._starting:
            if self._left:
                raise RuntimeError("the work was stopped")
            assert self._body is not None, "hands work within `with`"
            return self._body.hand()

    def __enter__(self) -> Hands:
        if self._threads is not None:
            self._body = _Body(self._loaded)
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        value: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        if self._threads is not None:
            self._threads.shutdown(wait=False, cancel_futures=True)
            with self._starting:
                self._left = True
                if self._body is not None:
                    self._body.end()
            self._threads.shutdown()


class _Body:
    """The process that hands are forked from, and the line to it."""

    def __init__(self, loaded: Sequence[str]) -> None:
        self._asked = False
        self._line, there = socket.socketpair()
        with there:
            self.process = subprocess.Popen(
                [sys.executable, "-c", START.format(path=sys.path, loaded=loaded)],
                stdin=there.fileno(),
                stdout=subprocess.DEVNULL,
                start_new_session=True,  # Ctrl-C is for the one who asked
                env=os.environ | dict.fromkeys(THREADS, "1"),
            )

    def hand(self) -> _Hand:
        self._asked = True
        asked, to = os.pipe()
        answers, back = os.pipe()
        try:
            socket.send_fds(self._line, [b"."], [asked, back])
        except OSError as gone:
            os.close(to)
            os.close(answers)
            raise RuntimeError("the processes that work on the solids have ended") from gone
        finally:
            os.close(asked)
            os.close(back)
        return _Hand(os.fdopen(to, "wb"), os.fdopen(answers, "rb"))

    def end(self) -> None:
        """End it and its hands, whatever they are at."""
        self._line.close()
        if not self._asked:
            self.process.kill()
        self.process.wait()


@dataclass(frozen=True)
class _Hand:
    """The pipes to a process at work."""

    to: BinaryIO
    answers: BinaryIO

    def do(self, task: Callable[[], Any]) -> Any:
        asked = pickle.dumps(task)
        try:
            pickle.dump(asked, self.to)
            self.to.flush()
            good, answer = pickle.load(self.answers)
        except (EOFError, OSError, pickle.UnpicklingError):
            with contextlib.suppress(OSError):
                self.to.close()
            self.answers.close()
            raise RuntimeError("the process at work on the solids ended") from None
        if not good:
            raise answer
        return answer


def fork(loaded: Sequence[str]) -> None:
    """Load modules; fork a hand whenever pipes for one come down the line, until it is closed.

    Then end them all.
    """
    for name in loaded:
        import_module(name)
    hands = []
    with socket.socket(fileno=os.dup(0)) as line:
        while True:
            said, pipes, _, _ = socket.recv_fds(line, 1, 2)
            if not said:
                break
            hand = os.fork()
            if hand == 0:
                line.close()
                serve(*pipes)
                os._exit(0)
            hands.append(hand)
            for pipe in pipes:
                os.close(pipe)
    for hand in hands:
        with contextlib.suppress(ProcessLookupError):
            os.kill(hand, signal.SIGKILL)
        os.waitpid(hand, 0)
    os._exit(0)  # the kernel takes half a second to take leave


def serve(asks: int, back: int) -> None:
    """Do the tasks that come in, until no more can come. asks, back: the pipes."""
    with os.fdopen(asks, "rb") as asked, os.fdopen(back, "wb") as answers:
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
