import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { httpGet, Redirected } from '@taptrue/server/devices/transport/mtconnect/http-get.ts';
import { afterEach, expect, test } from 'vitest';

const servers: Server[] = [];
afterEach(() => {
  for (const server of servers.splice(0)) server.close();
});

async function listening(server: Server): Promise<string> {
  servers.push(server);
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  return `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
}

test.each([301, 302, 303, 307, 308])('an answer %d is not followed', async (status) => {
  let asked = 0;
  const inside = await listening(
    createServer((_request, response) => {
      asked += 1;
      response.end('what only this computer may read');
    }),
  );
  const agent = await listening(
    createServer((_request, response) => {
      response.writeHead(status, { location: `${inside}/secret` });
      response.end();
    }),
  );
  const answer = httpGet(`${agent}/probe`, AbortSignal.timeout(5000));
  await expect(answer).rejects.toBeInstanceOf(Redirected);
  expect(asked).toBe(0);
});
