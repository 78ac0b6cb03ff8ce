import { readFileSync } from 'node:fs';
import { readDocument } from '@taptrue/server/transport/mtconnect/documents.ts';
import { MtconnectAgent } from '@taptrue/simulators/mtconnect/agent.ts';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { validateXML } from 'xmllint-wasm';

// What the schemas are and where their facts come from: tests/reference/mtconnect/SOURCE.md.
const schemaOf = (kind: string) =>
  readFileSync(new URL(`./mtconnect/${kind}.xsd`, import.meta.url), 'utf8');

async function faultsIn(kind: 'streams' | 'devices' | 'error', contents: string) {
  const { valid, errors } = await validateXML({
    xml: [{ fileName: `${kind}.xml`, contents }],
    schema: [schemaOf(kind)],
  });
  return valid ? [] : errors.map(({ message }) => message);
}

/** As an agent of a machine with a rotary table and an inch readout would send it; put together by hand. */
const STREAMS = `<?xml version="1.0" encoding="UTF-8"?>
<MTConnectStreams xmlns="urn:mtconnect.org:MTConnectStreams:2.0" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance" xsi:schemaLocation="urn:mtconnect.org:MTConnectStreams:2.0 http://example.invalid/MTConnectStreams_2.0.xsd">
  <Header creationTime="2026-03-03T07:15:02Z" sender="shop-pc" instanceId="1772522000" version="2.0" deviceModelChangeTime="2026-03-03T06:00:00.120Z" bufferSize="131072" nextSequence="20518" firstSequence="1" lastSequence="20517"/>
  <Streams>
    <DeviceStream name="knee-mill" uuid="shop-7-knee-mill">
      <ComponentStream component="Linear" name="X" componentId="x1">
        <Samples>
          <Position dataItemId="x3" timestamp="2026-03-03T07:15:01.871Z" name="Xact" sequence="20514" subType="ACTUAL">101.5999985</Position>
          <Position dataItemId="x3" timestamp="2026-03-03T07:15:01.921Z" name="Xact" sequence="20517" subType="ACTUAL">101.6254</Position>
          <Position dataItemId="x4" timestamp="2026-03-03T07:15:01.871Z" name="Xcom" sequence="20515" subType="COMMANDED">1.016254E2</Position>
        </Samples>
      </ComponentStream>
      <ComponentStream component="Linear" name="Y" nativeName="Y1" componentId="y1">
        <Samples>
          <Position dataItemId="y3" timestamp="2026-03-03T06:00:00.120Z" name="Yact" sequence="12" subType="ACTUAL">UNAVAILABLE</Position>
        </Samples>
        <Events><AxisState dataItemId="y9" timestamp="2026-03-03T06:00:00.120Z" sequence="13">UNAVAILABLE</AxisState></Events>
      </ComponentStream>
      <ComponentStream component="Controller" componentId="c1">
        <Events><Execution dataItemId="c2" timestamp="2026-03-03T07:00:00Z" sequence="19000">READY</Execution></Events>
      </ComponentStream>
    </DeviceStream>
  </Streams>
</MTConnectStreams>`;

const DEVICES = `<?xml version="1.0" encoding="UTF-8"?>
<MTConnectDevices xmlns="urn:mtconnect.org:MTConnectDevices:2.0">
  <Header creationTime="2026-03-03T07:15:02Z" sender="shop-pc" instanceId="1772522000" version="2.0" deviceModelChangeTime="2026-03-03T06:00:00.120Z" bufferSize="131072" assetBufferSize="8096" assetCount="0"/>
  <Devices>
    <Device id="d1" name="knee-mill" uuid="shop-7-knee-mill">
      <Description manufacturer="none">Knee mill by the window</Description>
      <DataItems><DataItem category="EVENT" id="avail" type="AVAILABILITY"/></DataItems>
      <Components>
        <Axes id="a1" name="axes">
          <Components>
            <Linear id="x1" name="X">
              <DataItems>
                <DataItem category="SAMPLE" id="x4" name="Xcom" type="POSITION" subType="COMMANDED" units="MILLIMETER" nativeUnits="INCH" coordinateSystem="MACHINE"/>
                <DataItem category="SAMPLE" id="x3" name="Xact" type="POSITION" subType="ACTUAL" units="MILLIMETER" nativeUnits="INCH" coordinateSystem="MACHINE"/>
              </DataItems>
            </Linear>
            <Rotary id="r1" name="C"><DataItems><DataItem category="SAMPLE" id="r3" type="ANGLE" subType="ACTUAL" units="DEGREE"/></DataItems></Rotary>
          </Components>
        </Axes>
        <Controller id="c1"/>
      </Components>
    </Device>
  </Devices>
</MTConnectDevices>`;

describe('documents as an agent sends them', () => {
  it('are valid by the schema, and read', async () => {
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
    ]);
  });

  it('describe the machine: valid, and every data item read with its axis', async () => {
    expect(await faultsIn('devices', DEVICES)).toEqual([]);
    const document = readDocument(DEVICES);
    const items = document.kind === 'devices' ? document.items : [];
    expect(items.map(({ id, axis, units }) => [id, axis.join('/'), units])).toEqual([
      ['avail', '', ''],
      ['x4', 'X/x1', 'MILLIMETER'],
      ['x3', 'X/x1', 'MILLIMETER'],
      ['r3', 'C/r1', 'DEGREE'],
    ]);
  });

  it.each([
    ['without its sequence', / sequence="20514"/, ''],
    ['without its time', / timestamp="2026-03-03T07:15:01.871Z"/, ''],
    ['that is a word', /101\.6254</, 'moving<'],
    ['with a time that is none', /07:15:01\.921Z/, 'noon'],
    ['in a header without nextSequence', / nextSequence="20518"/, ''],
  ])('the schema refuses a position %s: it is no rubber stamp', async (_what, part, other) => {
    expect(await faultsIn('streams', STREAMS.replace(part, other))).not.toEqual([]);
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
