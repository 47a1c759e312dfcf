"""Who does the work: processes of this machine, or the workers of a Dask scheduler.

The processes are started by a server that has loaded the CAD kernel but never used it: a kernel
that has worked does not survive a fork. An order that kills its process (or outlasts LONGEST) is
found out by doing what was under way again one at a time; it is lost, the others go on. The
workers end with whoever started them, also when that was killed.
"""

import multiprocessing
import os
import signal
import sys
import threading
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from contextlib import suppress
from itertools import islice
from multiprocessing.connection import wait as wait_for
from typing import Any, Final

from hangpost.generators.many.order import Order, Outcome

Work = Callable[[Order], Outcome]
LONGEST: Final = 900  # seconds that one order may take, house: a pack takes some ten
AHEAD: Final = 2  # orders handed out for every worker
PRELOAD: Final = ["cadquery", "hangpost.generators.pack"]


class NoScheduler(ValueError):
    """The scheduler cannot be used; says why."""


def usable_cores() -> int:
    """How many processors this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def embedded(work: Work, orders: Iterable[Order], workers: int) -> Iterator[Outcome]:
    """The outcomes as they come, from processes of this machine."""
    waiting = iter(orders)
    again: list[Order] = []  # what was under way when a process died
    while True:
        batch = [again.pop(0)] if again else None
        count = 1 if batch else workers
        under_way: dict[Future[Outcome], Order] = {}
        refused: list[Order] = []  # by a pool that had just died
        pool = _pool(count)
        try:
            given = iter(batch) if batch else waiting
            yield from _drawn(pool, work, given, count, under_way, refused)
            if not again and not batch:
                return
        except BrokenProcessPool:
            if batch:
                yield _lost(batch[0], f"its process died or took more than {LONGEST} s")
            else:
                again += [*under_way.values(), *refused]
        except BaseException:
            _stop(pool)
            raise
        finally:
            pool.shutdown(wait=True, cancel_futures=True)


def _pool(count: int) -> ProcessPoolExecutor:
    context = multiprocessing.get_context("forkserver" if sys.platform != "win32" else "spawn")
    if sys.platform != "win32":
        context.set_forkserver_preload(PRELOAD)
    return ProcessPoolExecutor(count, mp_context=context, initializer=_ready_to_work)


def _drawn(
    pool: ProcessPoolExecutor,
    work: Work,
    orders: Iterator[Order],
    workers: int,
    under_way: dict[Future[Outcome], Order],
    refused: list[Order],
) -> Iterator[Outcome]:
    """Outcomes of a pool that always has a little more to do than it has hands."""

    def hand_out(count: int) -> None:
        for order in islice(orders, count):
            try:
                under_way[pool.submit(_timed, work, order)] = order
            except BrokenProcessPool:
                refused.append(order)
                raise

    hand_out(workers * AHEAD)
    while under_way:
        done, _ = wait(under_way, return_when=FIRST_COMPLETED)
        for future in done:
            outcome = future.result()
            del under_way[future]
            yield outcome
            hand_out(1)


def _ready_to_work() -> None:
    """Set a new process up: Ctrl-C is its parent's business, and it dies with its parent."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    signal.signal(signal.SIGTERM, _unwind)
    parent = multiprocessing.parent_process()

    def watch() -> None:
        if parent is not None:
            wait_for([parent.sentinel])
            os.kill(os.getpid(), signal.SIGTERM)

    threading.Thread(target=watch, daemon=True).start()


class _Stopped(SystemExit):
    """Told to stop: half-written folders are cleared away while this rises."""


def _unwind(_number: int, _frame: object) -> None:
    raise _Stopped


def _timed(work: Work, order: Order) -> Outcome:
    if hasattr(signal, "alarm"):
        signal.alarm(LONGEST)  # the default of SIGALRM ends the process, also inside the kernel
    try:
        return work(order)
    except _Stopped:
        os._exit(1)
    finally:
        if hasattr(signal, "alarm"):
            signal.alarm(0)


def _stop(pool: ProcessPoolExecutor) -> None:
    """End the processes of a pool, giving them time to clear away what is half written."""
    workers: dict[int, Any] = dict(getattr(pool, "_processes", None) or {})
    for process in workers.values():
        with suppress(OSError, ValueError):
            process.terminate()
    for process in workers.values():
        process.join(timeout=10)


def _lost(order: Order, reason: str) -> Outcome:
    row = {"name": order.name, **order.varied, "status": "lost", "reason": reason}
    return Outcome(key=order.key, name=order.name, status="lost", reason=reason, rows=(row,))


def on_scheduler(address: str, work: Work, orders: Iterable[Order]) -> Iterator[Outcome]:
    """The outcomes as they come, from the workers of a Dask scheduler; raises NoScheduler."""
    try:
        from distributed import Client, as_completed
    except ImportError:
        raise NoScheduler(
            "--scheduler needs the package `distributed`, which is not installed here:\n"
            "    pip install 'hangpost[cluster]'"
        ) from None
    try:
        client = Client(address, timeout="10s")
    except (OSError, ValueError, TimeoutError) as error:
        raise NoScheduler(f"no Dask scheduler answers at {address}: {error}") from None
    waiting = iter(orders)
    with client:
        if not client.scheduler_info()["workers"]:
            raise NoScheduler(f"the Dask scheduler at {address} has no workers")
        ahead = AHEAD * sum(client.nthreads().values())
        under_way: dict[Any, Order] = {}

        def hand_out(count: int) -> list[Any]:
            new = {client.submit(work, o, pure=False): o for o in islice(waiting, count)}
            under_way.update(new)
            return list(new)

        running = as_completed(hand_out(ahead))
        for future in running:
            order = under_way.pop(future)
            for new in hand_out(1):
                running.add(new)
            broken = future.exception()
            yield _lost(order, f"{broken}") if broken else future.result()
