"""The setting that makes sliders answer at once, on a real socket."""

import asyncio
import socket

from jupyter_server.services.kernels.connection.channels import ZMQChannelsWebsocketConnection
from jupyter_server.services.kernels.websocket import KernelWebsocketHandler
from tornado.httpserver import HTTPServer
from tornado.testing import bind_unused_port
from tornado.web import Application
from tornado.websocket import WebSocketHandler, websocket_connect

from labkit.commands.lessons import SERVER
from labkit.server import PromptConnection


def nodelay_of(handler) -> bool:
    stream = handler.ws_connection.stream
    return bool(stream.socket.getsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY))


def test_small_messages_are_sent_at_once(monkeypatch):
    seen = []

    def connect(connection):
        seen.append(nodelay_of(connection.websocket_handler))
        return "connected"

    monkeypatch.setattr(ZMQChannelsWebsocketConnection, "connect", connect)

    class Handler(KernelWebsocketHandler):
        """Opens without a kernel and without a login."""

        prepare, get = WebSocketHandler.prepare, WebSocketHandler.get
        select_subprotocol = WebSocketHandler.select_subprotocol
        check_origin = set_default_headers = on_close = lambda self, *_: True

        def open(self):
            seen.append(nodelay_of(self))
            prompt = PromptConnection.__new__(PromptConnection)
            prompt.websocket_handler = self
            seen.append(prompt.connect())

    async def visit():
        listener, port = bind_unused_port()
        server = HTTPServer(Application([("/", Handler)]))
        server.add_socket(listener)
        client = await websocket_connect(f"ws://127.0.0.1:{port}/")
        for _ in range(100):
            if len(seen) == 3:
                break
            await asyncio.sleep(0.01)
        client.close()
        server.stop()

    asyncio.run(visit())
    assert seen == [False, True, "connected"]


def test_the_lessons_start_with_it():
    name = f"{PromptConnection.__module__}.{PromptConnection.__qualname__}"
    assert f"--ServerApp.kernel_websocket_connection_class={name}" in SERVER
