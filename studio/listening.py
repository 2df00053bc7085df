"""What pages and the server tell each other about the network, inside the one process."""

import threading
from dataclasses import dataclass, field


@dataclass
class Listening:
    """State of the network's listeners.

    served: whether a server that can listen runs in this process at all. open_at: the hosts it listens for now.
    port, error: the port that could not be had and why, or None.
    """

    served: bool = False
    open_at: tuple[str, ...] = ()
    port: int = 0
    error: OSError | None = None
    changed: threading.Event = field(default_factory=threading.Event)
    settled: threading.Event = field(default_factory=threading.Event)

    def ask(self) -> None:
        """Ask the server to look at the settings again."""
        self.settled.clear()
        self.changed.set()

    def wait(self, seconds: float) -> None:
        """Wait until the server has done what it was asked, where there is one."""
        if self.served:
            self.settled.wait(seconds)


state = Listening()
