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
from contextlib import contextmanager
from functools import partial
from importlib import import_module
from pathlib import Path
from threading import Lock
from types import ModuleType, TracebackType
from typing import TypeVar

from barstock.store.kept_folders import Kept

T = TypeVar("T")

MOST = 4
"""Processes at most: each takes some 300 MiB."""
KERNEL = ("numpy", "OCP")
THREADS = ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS")
"""Each process works one thread: there are as many as cores."""
METHOD = "forkserver" if "forkserver" in multiprocessing.get_all_start_methods() else "spawn"

_STARTING = Lock()


class Workers:
    """Processes that do tasks, at most `many` at a time; with none the tasks are done here.

    They are used within `with`, which ends them and whatever they were still at.
    """

    def __init__(self, many: int | None = None, loaded: Sequence[str] = ()) -> None:
        """Make ready to start them. many: None is one for each core. loaded: modules of the tasks,
        loaded once for all.
        """
        if many is None:
            many = min(MOST, os.cpu_count() or 1) if sys.executable else 0
        self._many, self._loaded = many, (*KERNEL, *loaded)
        self._pool: ProcessPoolExecutor | None = None
        # a process starts only once the server has loaded the kernel: this thread waits for it
        self._starter = ThreadPoolExecutor(1)

    def ask(self, task: Callable[[], T]) -> Future[T]:
        """Have a task done. It and its answer must be such as can be pickled.

        The answer raises what the task raised, and RuntimeError where its process ended.
        """
        if not self._many:
            return _done_here(task)
        answer: Future[T] = Future()
        self._starter.submit(self._submit, task, answer)
        return answer

    def made(self, kept: Kept) -> Future[Path]:
        """A folder to be kept, there or yet to be made; its `make` must be able to be pickled."""
        return _done_here(kept.fetch) if kept.there else self.ask(kept.fetch)

    def _submit(self, task: Callable[[], T], answer: Future[T]) -> None:
        with _STARTING, _plain_start():
            try:
                done = self._started(task)
            except Exception as wrong:
                answer.set_exception(wrong)
                return
        done.add_done_callback(partial(_hand_on, answer))

    def _started(self, task: Callable[[], T]) -> Future[T]:
        if self._pool is None:
            self._pool = self._begin()
        try:
            return self._pool.submit(task)
        except BrokenProcessPool:  # one of its processes ended: begin with others
            self._pool = self._begin()
            return self._pool.submit(task)

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
        if pool is None:
            return
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


def _hand_on(answer: Future[T], done: Future[T]) -> None:
    if done.cancelled():
        answer.cancel()
    elif isinstance(done.exception(), BrokenProcessPool):
        answer.set_exception(RuntimeError("the process at work on the solids ended"))
    elif (wrong := done.exception()) is not None:
        answer.set_exception(wrong)
    else:
        answer.set_result(done.result())


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
