import { readFileSync } from 'node:fs';
import { request } from 'node:http';
import { createServer } from 'node:https';
import { fileURLToPath } from 'node:url';
import type { LinkConfig } from '@taptrue/protocol';
import { SYSTEM_CLOCK } from '@taptrue/server/devices/transport/clock.ts';
import { Link } from '@taptrue/server/devices/transport/keep-open.ts';
import { sourceFor } from '@taptrue/server/devices/transport/source-for.ts';
import { MtconnectAgent } from '@taptrue/simulators/mtconnect/agent.ts';
import { afterEach, describe, expect, it } from 'vitest';
import { Program } from '../pty-job/programs.ts';

const stops: (() => Promise<unknown> | unknown)[] = [];
afterEach(async () => {
  for (const stop of stops.splice(0).reverse()) await stop();
});

/** Signed by itself for 127.0.0.1 until 2126; made for this test with openssl, and good for nothing else. */
const certPath = fileURLToPath(new URL('agent-certificate/cert.pem', import.meta.url));
const TLS = {
  key: readFileSync(new URL('agent-certificate/key.pem', import.meta.url)),
  cert: readFileSync(certPath),
};

async function agent() {
  const made = new MtconnectAgent();
  made.set('x-actual', '101.6');
  const port = await made.start(0);
  stops.push(() => made.stop());
  return port;
}

/** The agent behind https, as one stands behind a proxy. */
async function secureAgent(): Promise<number> {
  const port = await agent();
  const server = createServer(TLS, (asked, answer) => {
    const passed = request({ port, path: asked.url, headers: asked.headers }, (given) => {
      answer.writeHead(given.statusCode ?? 500, given.headers);
      given.pipe(answer);
    });
    answer.on('close', () => passed.destroy());
    passed.on('error', () => answer.destroy());
    passed.end();
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  stops.push(() => {
    server.closeAllConnections();
    server.close();
  });
  const address = server.address();
  if (address === null || typeof address === 'string') throw new Error('no port');
  return address.port;
}

function linkTo(port: number) {
  const config: LinkConfig = {
    source: {
      kind: 'mtconnect',
      host: '127.0.0.1',
      port,
      secure: true,
      path: '',
      item: 'X',
      way: 'stream',
      everyMs: 20,
    },
    shape: '',
    unit: 'as sent',
    channel: null,
  };
  const clock = SYSTEM_CLOCK;
  const simulatedPipes = (): never => {
    throw new Error('no simulation here');
  };
  const link = new Link({
    name: 'readout',
    config,
    clock,
    source: sourceFor({ name: 'readout', config, shape: null, clock, simulatedPipes }),
    onReading: () => undefined,
    onSecond: () => undefined,
    onReport: () => undefined,
  });
  stops.push(() => link.close());
  link.open();
  return link;
}

const faultOf = async (port: number) => {
  const link = linkTo(port);
  await expect.poll(() => link.report().fault, { timeout: 8000 }).not.toBeNull();
  return link.report().fault!;
};

describe('an agent over https', () => {
  it('whose certificate it has signed itself is told, with what to do', async () => {
    const fault = await faultOf(await secureAgent());
    expect(fault).toMatchObject({
      code: 'mtconnect-certificate',
      got: 'DEPTH_ZERO_SELF_SIGNED_CERT',
    });
    expect(fault.what).toMatch(
      /https:\/\/127\.0\.0\.1:\d+ is not accepted: it has signed it itself/,
    );
    expect(fault.remedy).toMatch(/NODE_EXTRA_CA_CERTS/);
  });

  it('is read once its certificate is named as the remedy says', async () => {
    const port = await secureAgent();
    const before = process.env.NODE_EXTRA_CA_CERTS;
    process.env.NODE_EXTRA_CA_CERTS = certPath;
    const listen = new Program('listen', '--port', `mtconnects://127.0.0.1:${port}/X`);
    if (before === undefined) delete process.env.NODE_EXTRA_CA_CERTS;
    else process.env.NODE_EXTRA_CA_CERTS = before;
    await listen.says(/101\.6/);
    await listen.stop();
  });
});

it('an agent that speaks no https is told so, not that it is silent', async () => {
  const fault = await faultOf(await agent());
  expect(fault.code).toBe('mtconnect-no-https');
  expect(fault.remedy).toMatch(/Leave the s away/);
});
