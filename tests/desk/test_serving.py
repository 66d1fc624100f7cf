"""The socket of the desk, as its server finds it."""

import asyncio
import socket

from witnessmark.desk.serving import HERE, listening


def test_a_page_is_sent_at_once_and_does_not_wait_until_its_head_was_confirmed() -> None:
    async def no_delay() -> bool:
        found: asyncio.Future[bool] = asyncio.get_running_loop().create_future()

        async def come(_reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
            accepted: socket.socket = writer.get_extra_info("socket")
            found.set_result(bool(accepted.getsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY)))
            writer.close()

        listener = listening(0)
        async with await asyncio.start_server(come, sock=listener):
            _reader, writer = await asyncio.open_connection(HERE, listener.getsockname()[1])
            writer.close()
            return await found

    assert asyncio.run(no_delay())
