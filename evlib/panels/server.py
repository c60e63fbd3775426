"""The JupyterLab server's kernel connection, sending each packet at once.

``start.py`` passes ``--ServerApp.kernel_websocket_connection_class=evlib.panels.server.NoDelayConnection``. Without it
about half the moves of a slider wait some 30 ms for the network layer to gather small packets (Nagle's algorithm).
"""

from __future__ import annotations

from typing import Any

from jupyter_server.services.kernels.connection.channels import ZMQChannelsWebsocketConnection


class NoDelayConnection(ZMQChannelsWebsocketConnection):
    """The usual connection between page and kernel, with the gathering of small packets switched off."""

    def connect(self) -> Any:
        """Connect as usual; the websocket is open by now, so the setting can be made."""
        self.websocket_handler.set_nodelay(True)
        return super().connect()
