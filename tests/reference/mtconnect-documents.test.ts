import { readDocument } from '@taptrue/server/devices/transport/mtconnect/documents.ts';
import { findItem } from '@taptrue/server/devices/transport/mtconnect/find-item.ts';
import { MtconnectAgent } from '@taptrue/simulators/mtconnect/agent.ts';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { DEVICES, ERROR, STREAMS } from './mtconnect/as-agents-send.ts';
import { type DocumentKind, faultsOf } from './mtconnect/validate.ts';

// What the schemas are and where their facts come from: tests/reference/mtconnect/SOURCE.md.
const faultsIn = async (kind: DocumentKind, text: string) => (await faultsOf(kind, [text]))[0];

describe('documents as an agent sends them', () => {
  it('are valid by the schema, and every single position in them is read', async () => {
    expect(await faultsIn('streams', STREAMS)).toEqual([]);
    const document = readDocument(STREAMS);
    expect(document).toMatchObject({
      kind: 'streams',
      header: {
        instanceId: '1772522000',
        firstSequence: 1,
        lastSequence: 20517,
        nextSequence: 20518,
      },
    });
    expect(document.kind === 'streams' && document.positions).toEqual([
      { itemId: 'x3', sequence: 20514, timestamp: '2026-03-03T07:15:01.871Z', text: '101.5999985' },
      { itemId: 'x3', sequence: 20517, timestamp: '2026-03-03T07:15:01.921Z', text: '101.6254' },
      { itemId: 'x4', sequence: 20515, timestamp: '2026-03-03T07:15:01.871Z', text: '1.016254E2' },
      { itemId: 'y3', sequence: 12, timestamp: '2026-03-03T06:00:00.120Z', text: 'UNAVAILABLE' },
      { itemId: 'y4', sequence: 19500, timestamp: '2026-03-03T07:10:00.000Z', text: '0' },
    ]);
  });

  it('describe the machine: valid, and every data item of a machine read with its axis', async () => {
    expect(await faultsIn('devices', DEVICES)).toEqual([]);
    const document = readDocument(DEVICES);
    const items = document.kind === 'devices' ? document.items : [];
    expect(items.map(({ id, axis, units }) => [id, axis.join('/'), units])).toEqual([
      ['avail', '', ''],
      ['asset', '', ''],
      ['x6', 'X/x1', ''],
      ['x5', 'X/x1', 'MILLIMETER'],
      ['x4', 'X/x1', 'MILLIMETER'],
      ['x3', 'X/x1', 'MILLIMETER'],
      ['y4', 'Y/Y1/y1', 'MILLIMETER'],
      ['y3', 'Y/Y1/y1', 'MILLIMETER'],
      ['r3', 'C/r1', 'DEGREE'],
      ['p2', 'p1', 'MILLIMETER_3D'],
    ]);
    expect(findItem(items, 'X')).toEqual({ kind: 'found', id: 'x3' });
    expect(findItem(items, 'y')).toEqual({ kind: 'found', id: 'y3' });
  });

  it('refuse: valid, and read with their code', async () => {
    expect(await faultsIn('error', ERROR)).toEqual([]);
    const alone = ERROR.replace(/<\/?Errors>/g, '');
    expect(await faultsIn('error', alone)).toEqual([]);
    for (const text of [ERROR, alone]) {
      expect(readDocument(text)).toEqual({
        kind: 'error',
        code: 'OUT_OF_RANGE',
        text: "'from' must be greater than 20000",
      });
    }
  });

  it('may have the header last where the schema lets them, and are read all the same', async () => {
    const header = /<Header.*\/>/.exec(STREAMS)?.[0] ?? '';
    const turned = STREAMS.replace(header, '').replace('</Streams>', `</Streams>${header}`);
    expect(await faultsIn('streams', turned)).toEqual([]);
    expect(readDocument(turned)).toEqual(readDocument(STREAMS));
  });
});

// The namespaces of the published schemas, one for each version: MTConnectStreams_1.3.xsd to _2.7.xsd.
const VERSIONS = [
  '1.3',
  '1.4',
  '1.5',
  '1.6',
  '1.7',
  '1.8',
  ...[0, 1, 2, 3, 4, 5, 6, 7].map((n) => `2.${n}`),
];

/** `<m:Position>`, in the same namespace. */
const prefixed = (text: string) =>
  text.replaceAll(/<(\/?)([A-Z])/g, '<$1m:$2').replace(' xmlns="', ' xmlns:m="');

it('a prefix is as good as the default namespace, by the schema', async () => {
  expect(prefixed(STREAMS)).toContain('<m:Position ');
  expect(await faultsIn('streams', prefixed(STREAMS))).toEqual([]);
  expect(await faultsIn('devices', prefixed(DEVICES))).toEqual([]);
});

describe.each(VERSIONS)('a document of version %s', (version) => {
  const ofVersion = (text: string) =>
    text.replaceAll(/(MTConnect[A-Z][a-z]+):2\.4/g, `$1:${version}`);

  it('is read as any other, in the default namespace and with a prefix', () => {
    for (const text of [STREAMS, DEVICES, ERROR]) {
      const expected = readDocument(text);
      expect(readDocument(ofVersion(text))).toEqual(expected);
      expect(readDocument(prefixed(ofVersion(text)))).toEqual(expected);
    }
  });
});

describe('the small agent of the simulators', () => {
  const agent = new MtconnectAgent({ nativeUnits: 'INCH' });
  let base: string;
  beforeAll(async () => {
    base = `http://127.0.0.1:${await agent.start()}`;
    agent.set('x-actual', '12.3456');
    agent.set('y-commanded', '-1.5E-3');
  });
  afterAll(() => agent.stop());
  const get = async (path: string) => (await fetch(base + path)).text();

  it.each([
    ['/probe', 'devices'],
    ['/mill-1/probe', 'devices'],
    ['/current', 'streams'],
    [`/current?path=${encodeURIComponent('//DataItem[@id="x-actual"]')}`, 'streams'],
    ['/sample?from=999999', 'error'],
    ['/lathe-9/current', 'error'],
    ['/asset', 'error'],
  ] as const)('answers %s as the schema has it', async (path, kind) => {
    expect(await faultsIn(kind, await get(path))).toEqual([]);
  });

  it('streams parts that are whole documents, the empty one of a heartbeat too', async () => {
    const ending = new AbortController();
    const response = await fetch(`${base}/sample?from=1&interval=10&heartbeat=30`, {
      signal: ending.signal,
    });
    expect(response.headers.get('content-type')).toBe(
      'multipart/x-mixed-replace;boundary=3a9c1f7e',
    );
    let text = '';
    for await (const chunk of response.body!) {
      text += Buffer.from(chunk).toString();
      if (text.split('</MTConnectStreams>').length > 3) break;
    }
    ending.abort();
    const documents = text.match(/<\?xml[\s\S]*?<\/MTConnectStreams>/g) ?? [];
    expect(documents.length).toBeGreaterThanOrEqual(2);
    for (const document of documents) expect(await faultsIn('streams', document)).toEqual([]);
    expect(documents[0]).toMatch(/>12\.3456</);
    expect(documents[1]).not.toMatch(/<Position/);
  });
});
