"""Processes that work on solids beside this one, each with its own kernel.

They are the standard library's: forked from a server that has loaded the kernel before there is
anything to do, where the system has such a thing, and started afresh elsewhere.
"""

from __future__ import annotations

import multiprocessing
import os
import signal
import sys
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor, ThreadPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager, suppress
from dataclasses import dataclass, replace
from functools import partial
from importlib import import_module
from pathlib import Path
from tempfile import TemporaryDirectory
from threading import Lock
from types import ModuleType, TracebackType
from typing import Generic, TypeVar

from barstock.store.kept_folders import Kept

T = TypeVar("T")

MOST = 4
"""Processes at most: each takes some 300 MiB."""
KERNEL = ("numpy", "OCP")
THREADS = ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS")
"""Each process works one thread: there are as many as cores."""
METHOD = "forkserver" if "forkserver" in multiprocessing.get_all_start_methods() else "spawn"

LONGEST = 1200.0
"""Processor time that one task may take [s]: many times that of the longest known, so that only a
call of the kernel that never comes back meets it.
"""
TOO_LONG = -getattr(signal, "SIGXCPU", 0)
"""How a process ends that has taken too long."""
OFTEN = 3
"""A task is begun so often where the processes of others end beside it."""

_STARTING = Lock()


class TooLongError(RuntimeError):
    """Raised for a task that was ended because it took more processor time than it may."""


@dataclass(frozen=True)
class _Bounded(Generic[T]):
    """A task that its process is ended for where it takes too long. mark: a file that stands while
    it is at work, in which is the process; begun: how often it was.
    """

    task: Callable[[], T]
    longest: float
    mark: Path
    begun: int = 1

    def __call__(self) -> T:
        self.mark.write_text(str(os.getpid()), encoding="utf-8")
        _bound(self.longest)
        try:
            return self.task()
        finally:
            self.mark.unlink()


class Workers:
    """Processes that do tasks, at most `many` at a time; with none the tasks are done here.

    They are used within `with`, which ends them and whatever they were still at.
    """

    def __init__(
        self, many: int | None = None, loaded: Sequence[str] = (), longest: float = LONGEST
    ) -> None:
        """Make ready to start them. many: None is one for each core. loaded: modules of the tasks,
        loaded once for all. longest: that a task may take of processor time [s], where the system
        keeps to such a bound.
        """
        if many is None:
            many = min(MOST, os.cpu_count() or 1) if sys.executable else 0
        self._many, self._loaded = many, (*KERNEL, *loaded)
        self._pool: ProcessPoolExecutor | None = None
        self._longest, self._asked = longest, 0
        self._marks = TemporaryDirectory(prefix="barstock-") if many else None
        # a process starts only once the server has loaded the kernel: this thread waits for it
        self._starter = ThreadPoolExecutor(1)

    def ask(self, task: Callable[[], T]) -> Future[T]:
        """Have a task done. It and its answer must be such as can be pickled.

        The answer raises what the task raised, TooLongError where it took too long, and
        RuntimeError where its process ended otherwise.
        """
        if not self._many or self._marks is None:
            return _done_here(task)
        answer: Future[T] = Future()
        self._asked += 1
        mark = Path(self._marks.name) / str(self._asked)
        self._starter.submit(self._submit, _Bounded(task, self._longest, mark), answer)
        return answer

    def made(self, kept: Kept) -> Future[Path]:
        """A folder to be kept, there or yet to be made; its `make` must be able to be pickled."""
        return _done_here(kept.fetch) if kept.there else self.ask(kept.fetch)

    def _submit(self, task: _Bounded[T], answer: Future[T]) -> None:
        with _STARTING, _plain_start():
            try:
                pool, done = self._started(task)
            except Exception as wrong:
                answer.set_exception(wrong)
                return
        done.add_done_callback(partial(self._hand_on, pool, task, answer))

    def _started(self, task: _Bounded[T]) -> tuple[ProcessPoolExecutor, Future[T]]:
        if self._pool is None:
            self._pool = self._begin()
        try:
            return self._pool, self._pool.submit(task)
        except BrokenProcessPool:  # one of its processes ended: begin with others
            self._pool = self._begin()
            return self._pool, self._pool.submit(task)

    def _hand_on(
        self, pool: ProcessPoolExecutor, task: _Bounded[T], answer: Future[T], done: Future[T]
    ) -> None:
        """Hand on how a task went. Where its pool is broken, the task whose process ended is to
        blame; those beside it are begun again.
        """
        if done.cancelled():
            answer.cancel()
        elif (wrong := done.exception()) is None:
            answer.set_result(done.result())
        elif not isinstance(wrong, BrokenProcessPool):
            answer.set_exception(wrong)
        elif (code := _ended_with(pool, task.mark)) is None and task.begun < OFTEN:
            task.mark.unlink(missing_ok=True)
            try:
                self._starter.submit(self._submit, replace(task, begun=task.begun + 1), answer)
            except RuntimeError:  # all of them are being ended
                answer.cancel()
        elif code is not None and code == TOO_LONG:
            told = f"it was ended after {task.longest / 60:g} minutes of processor time"
            answer.set_exception(TooLongError(told))
        else:
            answer.set_exception(RuntimeError("the process at work on the solids ended"))

    def _begin(self) -> ProcessPoolExecutor:
        context = multiprocessing.get_context(METHOD)
        loaded = () if METHOD == "forkserver" else self._loaded
        return ProcessPoolExecutor(self._many, context, _settle, (loaded,))

    def __enter__(self) -> Workers:
        if self._many and METHOD == "forkserver":
            from multiprocessing import forkserver

            with _STARTING, _plain_start():
                multiprocessing.get_context(METHOD).set_forkserver_preload(list(self._loaded))
                forkserver.ensure_running()
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        value: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._starter.shutdown(cancel_futures=True)
        pool, self._pool, self._many = self._pool, None, 0
        if pool is not None:
            _end(pool)
        if self._marks is not None:
            self._marks.cleanup()


def _end(pool: ProcessPoolExecutor) -> None:
    """End the processes of a pool and whatever they are at."""
    processes = list((pool._processes or {}).values())  # emptied by what follows
    pool.shutdown(wait=False, cancel_futures=True)
    for process in processes:
        process.kill()
    for process in processes:
        process.join()


def _done_here(task: Callable[[], T]) -> Future[T]:
    answer: Future[T] = Future()
    try:
        answer.set_result(task())
    except Exception as wrong:
        answer.set_exception(wrong)
    return answer


def _ended_with(pool: ProcessPoolExecutor, mark: Path) -> int | None:
    """How the process that was at a task ended; None where it was not this one that ended."""
    with suppress(OSError, ValueError):
        pid = int(mark.read_text(encoding="utf-8"))
        return next(p.exitcode for p in (pool._processes or {}).values() if p.pid == pid)
    return None


def _bound(longest: float) -> None:
    """Let this process be ended by the system once it has taken so much more processor time [s]:
    within a call of the kernel nothing of its own would be heard.
    """
    if sys.platform == "win32":
        return
    import resource

    used = resource.getrusage(resource.RUSAGE_SELF)
    _, hard = resource.getrlimit(resource.RLIMIT_CPU)
    wanted = int(used.ru_utime + used.ru_stime + longest) + 1
    resource.setrlimit(resource.RLIMIT_CORE, (0, resource.getrlimit(resource.RLIMIT_CORE)[1]))
    if hard == resource.RLIM_INFINITY or wanted < hard:
        resource.setrlimit(resource.RLIMIT_CPU, (wanted, hard))


@contextmanager
def _plain_start() -> Iterator[None]:
    """What is started here works one thread, and does not run the caller's script again.

    Tasks are functions of modules, so that the new process needs nothing of `__main__`.
    """
    main, before = sys.modules["__main__"], {name: os.environ.get(name) for name in THREADS}
    sys.modules["__main__"] = ModuleType("__main__")
    os.environ.update(dict.fromkeys(THREADS, "1"))
    try:
        yield
    finally:
        sys.modules["__main__"] = main
        for name, was in before.items():
            if was is None:
                del os.environ[name]
            else:
                os.environ[name] = was


def _settle(loaded: Sequence[str]) -> None:
    """Begin in a new process: Ctrl-C is for the one who asked, and what is printed goes nowhere."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    with open(os.devnull, "wb") as nowhere:
        os.dup2(nowhere.fileno(), 1)
    for name in loaded:
        import_module(name)
