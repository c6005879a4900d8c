"""A server setting that makes sliders answer at once.

JupyterLab's server leaves small messages from a kernel waiting for the next one (Nagle's algorithm,
RFC 896) while the browser delays its acknowledgement (RFC 1122, 4.2.3.2): some 35 ms for each move of
a slider. Give this class to the server as ``ServerApp.kernel_websocket_connection_class``;
``labkit lessons`` does. Everything works without it, only slower.
"""

from jupyter_server.services.kernels.connection.channels import ZMQChannelsWebsocketConnection


class PromptConnection(ZMQChannelsWebsocketConnection):
    """A kernel's websocket whose small messages are sent at once (TCP_NODELAY)."""

    def connect(self):
        """Connect, and switch the delay off."""
        self.websocket_handler.set_nodelay(True)
        return super().connect()
