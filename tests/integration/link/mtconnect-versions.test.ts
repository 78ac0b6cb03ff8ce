import type { ServerResponse } from 'node:http';
import { afterEach, describe, expect, it } from 'vitest';
import { agentWith, closeAll, host, linkTo } from './agent-links.ts';

afterEach(closeAll);

/** The agent's own documents told in another version's namespace, every element with a prefix. */
function retold(text: string, version: string): string {
  return text
    .replaceAll(/(MTConnect[A-Z][a-z]+):2\.4/g, `$1:${version}`)
    .replaceAll(/<(\/?)([A-Z])/g, '<$1m:$2')
    .replace(' xmlns="', ' xmlns:m="');
}

/** Whatever is asked, from the agent at this port; nothing where it is gone, as at the end of a test. */
async function ask(port: number, url: string): Promise<string> {
  try {
    return await (await fetch(`http://127.0.0.1:${port}${url}`)).text();
  } catch {
    return '';
  }
}

/** One part of a stream, its bytes a few at a time: each `write` is a chunk of its own in HTTP. */
async function writePart(response: ServerResponse, document: string): Promise<void> {
  const length = Buffer.byteLength(document);
  const bytes = Buffer.from(
    `--b\r\nContent-type: text/xml\r\nContent-length: ${length}\r\n\r\n${document}\r\n`,
  );
  for (let at = 0; at < bytes.length; at += 97) {
    response.write(bytes.subarray(at, at + 97));
    await new Promise((resolve) => setImmediate(resolve));
  }
}

/** As MTConnectError_2.6_1.0.xsd has it: the kind of error is the name of an element. */
const errorOf26 = (inside: string) =>
  `<MTConnectError xmlns="urn:mtconnect.org:MTConnectError:2.6"><Header version="2.6.0.1" creationTime="2026-03-03T07:15:02Z" instanceId="7" sender="shop-pc" deviceModelChangeTime="2026-03-03T06:00:00Z" bufferSize="8"/><Errors>${inside}</Errors></MTConnectError>`;

describe.each(['1.3', '2.4', '2.7'])('an agent of version %s that writes prefixes', (version) => {
  it('is followed, its stream chopped up into chunks', async () => {
    const { agent, port: behind } = await agentWith();
    const port = await host(async (url, response) => {
      if (!url.startsWith('/sample')) {
        response.end(retold(await ask(behind, url), version));
        return;
      }
      response.writeHead(200, { 'content-type': 'multipart/x-mixed-replace;boundary=b' });
      while (!response.destroyed) {
        const path = /path=[^&]*/.exec(url)?.[0] ?? '';
        await writePart(response, retold(await ask(behind, `/current?${path}`), version));
        await new Promise((resolve) => setTimeout(resolve, 20));
      }
    });
    const one = linkTo(port);
    await one.shows(1.0001);
    agent.set('x-actual', '25.4');
    await one.shows(25.4);
    expect(one.link.report().state).toBe('live');
    expect(one.link.report().counters).toMatchObject({ reconnects: 0, resyncs: 0 });
  });
});

describe('an agent of version 2.6', () => {
  it('that has lost the number to go on from is taken up from how things stand', async () => {
    const { agent, port: behind } = await agentWith();
    let refused = 0;
    const port = await host(async (url, response) => {
      if (!url.startsWith('/sample')) {
        response.end(await ask(behind, url));
        return;
      }
      refused += 1;
      response.writeHead(400, { 'content-type': 'text/xml' });
      response.end(
        errorOf26(
          '<OutOfRange><QueryParameter name="from"><Value>3</Value><Minimum>9</Minimum></QueryParameter><URI>/sample?from=3</URI><ErrorMessage>from is too old</ErrorMessage></OutOfRange>',
        ),
      );
    });
    const one = linkTo(port);
    await one.shows(1.0001);
    agent.set('x-actual', '2.5');
    await one.shows(2.5);
    expect(refused).toBeGreaterThan(0);
    expect(one.link.report().counters.resyncs).toBeGreaterThan(0);
    expect(one.link.report().state).toBe('live');
  });

  it('that does not have the machine says so in words', async () => {
    const port = await host((_url, response) => {
      response.writeHead(404, { 'content-type': 'text/xml' });
      response.end(
        errorOf26(
          '<NoDevice><URI>/lathe-9/probe</URI><ErrorMessage>no lathe-9</ErrorMessage></NoDevice>',
        ),
      );
    });
    const one = linkTo(port, { path: '/lathe-9' });
    await one.becomes('refused');
    expect(one.link.report().fault).toMatchObject({
      code: 'mtconnect-refused',
      got: 'NO_DEVICE: no lathe-9',
    });
  });
});

describe('a position that is no number', () => {
  it.each(['UNAVAILABLE', 'moving', ''])('%j is absent, and told as it was sent', async (text) => {
    const { agent, port } = await agentWith();
    const one = linkTo(port);
    await one.becomes('live');
    agent.set('x-actual', text);
    await one.becomes('not understood');
    expect(one.readings.at(-1)).toMatchObject({ value: null, valueMm: null });
    expect(one.link.report().fault).toMatchObject({ code: 'mtconnect-unavailable', got: text });
  });
});
