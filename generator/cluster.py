"""Hands on other machines: the same work, sent to a Dask cluster whose address a person gave.

What travels is data: the name of one of our functions and the job that it is asked for, with all that was
read for it, so that a worker needs none of the maker's files. Back come the same bytes that this machine
would have made, since a worker whose installation differs in anything that decides a page refuses to work.
"""

from __future__ import annotations

import logging
import pickle
import re
import warnings
from asyncio import run, wait_for
from collections.abc import Callable, Iterator, Mapping
from concurrent.futures import CancelledError
from contextlib import contextmanager, suppress
from functools import cache
from hashlib import sha256
from threading import Lock
from time import monotonic
from types import TracebackType
from typing import TYPE_CHECKING, Any, ParamSpec, Self, TypeVar

from generator.base.errors import HandsError, UsageError
from generator.base.message import Number, joined, message
from generator.hands import Later
from generator.record.inputs import installation, versions

if TYPE_CHECKING:
    from distributed import Client, Future

T = TypeVar("T")
P = ParamSpec("P")

REACHED_WITHIN = 10.0
"""Seconds that a scheduler has to answer."""
PATIENCE = 60.0
"""Seconds that a cluster may be without any worker: some start their workers when there is work."""
_LOOK = 2.0
"""Seconds between two looks at whether workers are still there."""
_ADDRESS = re.compile(r"(?:(?:tcp|tls)://)?(?:\[[0-9a-fA-F:.%]+\]|[^\s/:\[\]]+):[0-9]{1,5}")


def _lost(address: str) -> HandsError:
    return HandsError(
        message("the scheduler at {address} is no longer there", address=address),
        message("start it again, then run the command again"),
    )


# Neither the page engine nor the reader of its pages takes two threads at once, and a worker may have many.
_one_at_a_time = Lock()
_standing = cache(installation)


@contextmanager
def reached(address: str | None) -> Iterator[Cluster | None]:
    """The cluster at an address, or None without one. Raises what ``Cluster`` raises."""
    if address is None:
        yield None
    else:
        with Cluster(address) as cluster:
            yield cluster


class Cluster:
    """The workers of a Dask scheduler; nothing but its address is ever asked for a connection."""

    def __init__(self, address: str, patience: float = PATIENCE) -> None:
        """Raises UsageError for what is no address, HandsError if no scheduler or no worker is there."""
        if not _ADDRESS.fullmatch(address):
            raise UsageError(
                message(
                    "“{address}” is no address of a scheduler; expected one like {one} or {other}",
                    address=address,
                    one="tcp://192.0.2.7:8786",
                    other="tls://192.0.2.7:8786",
                )
            )
        self.address, self._patience = address, patience
        self._client = _connected(address)
        self._seen = monotonic()
        self._standing = installation()
        try:
            self._client.wait_for_workers(1, timeout=patience)
            self._workers = len(self._client.nthreads(callback_timeout=REACHED_WITHIN))
        except (TimeoutError, OSError) as error:
            self.close()
            raise self._nobody from error

    @property
    def at_once(self) -> int:
        """How many things are done at once: a worker does one."""
        return self._workers

    def give(self, key: str, work: Callable[P, T], *args: P.args, **more: P.kwargs) -> Later[T]:
        """It waits until a worker is free; where a worker dies, the scheduler gives it to another one.

        Raises HandsError if the scheduler is no longer there.
        """
        order = pickle.dumps((work, args, more), pickle.HIGHEST_PROTOCOL)
        # The same pages may be asked for from two places, and what is told of their faults names a place.
        name = f"rimfold-{key}-{sha256(order).hexdigest()[:16]}"
        try:
            order = pickle.dumps(_Order(order, self._standing), pickle.HIGHEST_PROTOCOL)
            # A worker that is sent the name of a function which it does not know ends. So it is sent bytes,
            # and finds out when it reads them; then it can say so.
            return _Sent(self, self._client.submit(pickle.loads, order, key=name, pure=True))
        except Exception as error:
            raise _lost(self.address) from error

    def look(self) -> None:
        """Raises HandsError if the scheduler is gone, or if there has been no worker for too long."""
        try:
            workers = len(self._client.nthreads(callback_timeout=REACHED_WITHIN))
        except Exception as error:
            raise _lost(self.address) from error
        if workers:
            self._seen = monotonic()
        elif monotonic() - self._seen > self._patience:
            raise self._nobody

    def close(self) -> None:
        """Let go of the cluster; what still waits there is not wanted any more."""
        with suppress(Exception):
            self._client.close(timeout=_LOOK)

    @property
    def _nobody(self) -> HandsError:
        return HandsError(
            message(
                "the scheduler at {address} has had no worker for {seconds} seconds",
                address=self.address,
                seconds=Number(f"{self._patience:g}"),
            ),
            message("start workers, then run the command again: what is finished is kept"),
        )

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()


class _Sent:
    def __init__(self, cluster: Cluster, future: Future[Any]) -> None:
        self._cluster, self._future = cluster, future

    def result(self) -> Any:
        """Wait for it, as long as somebody is there to do it."""
        answer = self._answer()
        if isinstance(answer, Mapping):
            raise _unlike(answer)
        self._future.release()
        return pickle.loads(answer)

    def _answer(self) -> bytes | Mapping[str, str]:
        from distributed import KilledWorker

        address = self._cluster.address
        while True:
            try:
                answer: bytes | Mapping[str, str] = self._future.result(timeout=_LOOK)
                return answer
            except TimeoutError:
                self._cluster.look()
            except KilledWorker as error:
                raise HandsError(
                    message(
                        "at {address} one worker after another was ended over the same pages, most often "
                        "because memory ran out",
                        address=address,
                    ),
                    message("give workers more memory, then run the command again"),
                ) from error
            except (CancelledError, OSError) as error:
                raise _lost(address) from error
            except Exception as error:
                if _cannot_read(error):
                    raise HandsError(
                        message(
                            "a worker of {address} has no Rimfold, or another one ({reason})",
                            address=address,
                            reason=str(error),
                        ),
                        message("install the same Rimfold for all of them, then run the command again"),
                    ) from error
                raise


class _Order:
    """When it is read, it is done."""

    def __init__(self, order: bytes, standing: str) -> None:
        self._given = order, standing

    def __reduce__(self) -> tuple[Callable[[bytes, str], object], tuple[bytes, str]]:
        return done, self._given


def done(order: bytes, standing: str) -> bytes | dict[str, str]:
    """On a worker: do what was ordered; what came of it as bytes.

    Where this installation is not that of ``standing``, nothing is done, and told who is of which versions.
    """
    if _standing() != standing:
        from distributed import get_worker

        return {"worker": get_worker().address, **versions()}
    with _one_at_a_time:
        work, args, more = pickle.loads(order)
        return pickle.dumps(work(*args, **more), pickle.HIGHEST_PROTOCOL)


def _connected(address: str) -> Client:
    """Raises HandsError if the library is not installed, or if no scheduler answers."""
    try:
        from distributed import Client
        from distributed.comm.core import connect
        from distributed.security import Security
    except ImportError as error:
        raise HandsError(
            message("--scheduler needs the library “distributed”, which is not installed here"),
            message(
                "install Rimfold with its extra “cluster”, as the README says under “More than one machine”, "
                "then run the command again"
            ),
        ) from error
    _hush()
    security = Security()

    async def greet() -> None:
        # The client waits without end for an answer of somebody who takes a connection and says nothing.
        known = security.get_connection_args("client")
        comm = await wait_for(connect(address, timeout=REACHED_WITHIN, **known), REACHED_WITHIN)
        await comm.close()

    try:
        run(greet())
        return Client(
            address,
            timeout=REACHED_WITHIN,
            name="rimfold",
            security=security,
            set_as_default=False,
            direct_to_workers=False,
        )
    except Exception as error:
        raise HandsError(
            message(
                "no scheduler answers at {address} within {seconds} seconds",
                address=address,
                seconds=Number(f"{REACHED_WITHIN:g}"),
            ),
            message("see that it runs and that this machine may reach it, then run the command again"),
        ) from error


def _hush() -> None:
    """We say in our own words what went wrong, once."""
    for name in list(logging.root.manager.loggerDict):
        if name.partition(".")[0] in ("asyncio", "distributed", "tornado"):
            logging.getLogger(name).setLevel(logging.CRITICAL + 1)
    warnings.filterwarnings("ignore", module=r"distributed\b")


def _cannot_read(error: Exception) -> bool:
    """Whether a worker did not find our function by its name."""
    if isinstance(error, ModuleNotFoundError):
        return (error.name or str(error)).find("generator") >= 0
    return isinstance(error, AttributeError) and "Can't get attribute" in str(error)


def _unlike(there: Mapping[str, str]) -> HandsError:
    """What to say of a worker that refused."""
    differing = [
        message(
            "{name} {there} there and {here} here",
            name=name,
            there=there.get(name) or message("absent"),
            here=here,
        )
        for name, here in versions().items()
        if there.get(name) != here
    ]
    what = joined(differing) if differing else message("the same versions, but other files of Rimfold")
    return HandsError(
        message(
            "the worker at {worker} would not make the same pages: {what}", worker=there["worker"], what=what
        ),
        message("install the same everywhere, then run the command again"),
    )
