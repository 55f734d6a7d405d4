"""How the server speaks: an answer's head and body do not wait for each other on a connection that is kept."""

from __future__ import annotations

import asyncio
import socket

from crownwright.web.serve import listen


def test_small_writes_do_not_wait_for_each_other() -> None:
    """A connection accepted from the server's own socket sends at once (TCP_NODELAY), or each answer takes 40 ms longer."""

    async def accepted() -> int:
        at_once: asyncio.Future[int] = asyncio.get_running_loop().create_future()

        def meet(_reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
            at_once.set_result(writer.get_extra_info("socket").getsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY))
            writer.close()

        sock = listen(False)
        async with await asyncio.start_server(meet, sock=sock):
            _, writer = await asyncio.open_connection(*sock.getsockname())
            found = await asyncio.wait_for(at_once, 10)
            writer.close()
            return found

    assert asyncio.run(accepted())
