import { readDocument } from '@taptrue/server/devices/transport/mtconnect/documents.ts';
import { Thread } from '@taptrue/server/devices/transport/mtconnect/follow-thread.ts';
import { boundaryOf, PartCutter } from '@taptrue/server/devices/transport/mtconnect/multipart.ts';
import {
  readPosition,
  timesOf,
} from '@taptrue/server/devices/transport/mtconnect/read-position.ts';
import { describe, expect, it } from 'vitest';

describe('the number of a position', () => {
  it.each([
    ['101.6254', 101.6254, 4],
    ['-0.001', -0.001, 3],
    ['+5', 5, 0],
    ['.5', 0.5, 1],
    ['7.', 7, 0],
    ['1.5E-3', 0.0015, 4],
    ['1.016254E2', 101.6254, 4],
    ['101.5999984741211', 101.5999984741211, 6],
  ])('%s is %d with %i decimals', (text, value, decimals) => {
    expect(readPosition(text)).toEqual({ value, decimals });
  });

  it.each(['UNAVAILABLE', '', 'NaN', 'INF', '-INF', '1,5', '0x10', '1 2 3', '1e999', '--1'])(
    '%j is absent, never zero',
    (text) => {
      expect(readPosition(text)).toBeNull();
    },
  );
});

describe('when observations of one document were', () => {
  it.each([
    [
      'the newest as it arrived, the others before it',
      ['00:00.900', '00:00.950', '00:01.000'],
      [4900, 4950, 5000],
    ],
    ['all at one time', ['00:01.000', '00:01.000'], [5000, 5000]],
    ['a value that stood for minutes', ['00:00.000', '10:00.000'], [5000, 5000]],
    ['a time that is none', ['noon', '00:01.000'], [5000, 5000]],
  ])('%s', (_what, stamps, times) => {
    const iso = stamps.map((stamp) => (stamp === 'noon' ? stamp : `2026-03-03T07:${stamp}Z`));
    expect(timesOf(iso, 5000)).toEqual(times);
  });
});

describe('a document that is none', () => {
  it.each([
    ['a web page', '<!DOCTYPE html><html><body>hello</body></html>', /web page/],
    [
      'entities that grow',
      '<!DOCTYPE a [<!ENTITY b "ha">]><MTConnectStreams>&b;</MTConnectStreams>',
      /DOCTYPE/,
    ],
    [
      'half a document',
      '<MTConnectStreams><Header instanceId="1" nextSequence="2"/>',
      /broken XML/,
    ],
    ['tags that cross', '<MTConnectStreams><Header></MTConnectStreams></Header>', /broken XML/],
    ['text', '+0.0012 in\r\n', /no XML/],
    ['nothing', '', /no XML/],
    ['another root', '<Machine/>', /<Machine>/],
    [
      'a header without its numbers',
      '<MTConnectStreams><Header/></MTConnectStreams>',
      /instanceId/,
    ],
    ['a thousand levels', `${'<a>'.repeat(1000)}${'</a>'.repeat(1000)}`, /broken XML/],
  ])('%s is not understood, with the reason', (_what, text, why) => {
    const document = readDocument(text);
    expect(document.kind).toBe('not understood');
    expect(document.kind === 'not understood' && document.why).toMatch(why);
  });

  it('an error is read from old and new documents', () => {
    const old = '<MTConnectError><Error errorCode="NO_DEVICE">none</Error></MTConnectError>';
    const group =
      '<m:MTConnectError xmlns:m="x"><m:Errors><m:Error errorCode="OUT_OF_RANGE">from</m:Error></m:Errors></m:MTConnectError>';
    expect(readDocument(old)).toEqual({ kind: 'error', code: 'NO_DEVICE', text: 'none' });
    expect(readDocument(group)).toEqual({ kind: 'error', code: 'OUT_OF_RANGE', text: 'from' });
  });

  // MTConnectError_2.6_1.0.xsd: the elements that stand for Error, and ErrorDeprecated.
  it.each([
    ['OutOfRange', 'OUT_OF_RANGE'],
    ['NoDevice', 'NO_DEVICE'],
    ['InvalidURI', 'INVALID_URI'],
    ['InvalidXPath', 'INVALID_XPATH'],
    ['TooMany', 'TOO_MANY'],
    ['InvalidParameterValue', 'INVALID_PARAMETER_VALUE'],
  ])('an error of version 2.6 is the element %s, which is %s', (name, code) => {
    const inside = `<${name}><QueryParameter name="from"><Value>3</Value></QueryParameter><URI>/sample?from=3</URI><ErrorMessage>too old</ErrorMessage></${name}>`;
    const header = '<Header version="2.6" instanceId="7" bufferSize="8"/>';
    for (const errors of [`<Errors>${inside}</Errors>`, inside]) {
      const document = `<MTConnectError xmlns="urn:mtconnect.org:MTConnectError:2.6">${header}${errors}</MTConnectError>`;
      expect(readDocument(document)).toEqual({ kind: 'error', code, text: 'too old' });
    }
  });

  it.each([
    [
      'of the old form within the new',
      '<Errors><ErrorDeprecated errorCode="TOO_MANY">9</ErrorDeprecated></Errors>',
      { code: 'TOO_MANY', text: '9' },
    ],
    [
      'with both a name and a code',
      '<Errors><OutOfRange errorCode="OUT_OF_RANGE"><URI>/</URI></OutOfRange></Errors>',
      { code: 'OUT_OF_RANGE', text: '' },
    ],
    ['that says nothing', '<Errors/>', { code: 'UNKNOWN', text: '' }],
    ['without a code', '<Errors><Error>why</Error></Errors>', { code: 'UNKNOWN', text: 'why' }],
  ])('an error %s is read', (_what, errors, read) => {
    const document = `<MTConnectError><Header/>${errors}</MTConnectError>`;
    expect(readDocument(document)).toEqual({ kind: 'error', ...read });
  });
});

describe('an answer of many documents', () => {
  const parts = ['<a>1</a>', `<b>${'é'.repeat(40)}</b>`, '<c/>'];
  const withLength = parts
    .map(
      (text) =>
        `--xyz\r\nContent-type: text/xml\r\nContent-length: ${Buffer.byteLength(text)}\r\n\r\n${text}\r\n`,
    )
    .join('');
  const withoutLength = `${parts.map((text) => `--xyz\r\nContent-type: text/xml\r\n\r\n${text}\r\n`).join('')}--xyz--\r\n`;

  it.each([
    ['with lengths', withLength],
    ['without', withoutLength],
  ])('%s is cut into them, wherever its pieces end', (_how, text) => {
    const bytes = Buffer.from(text);
    for (let at = 0; at <= bytes.length; at += 1) {
      const cutter = new PartCutter('xyz', 1000);
      const cuts = [bytes.subarray(0, at), bytes.subarray(at)].flatMap((piece) =>
        cutter.feed(piece),
      );
      expect(cuts.map((cut) => (cut.kind === 'part' ? cut.text.trim() : cut.kind))).toEqual(parts);
    }
    const cutter = new PartCutter('xyz', 1000);
    const one = [...bytes].flatMap((byte) => cutter.feed(Uint8Array.of(byte)));
    expect(one).toHaveLength(parts.length);
  });

  it.each([
    ['a length beyond all bounds', '--xyz\r\nContent-length: 99999999\r\n\r\n<a>'],
    ['a document without an end', `--xyz\r\n\r\n${'<a>'.repeat(500)}`],
    ['no boundary at all', 'x'.repeat(5000)],
  ])('with %s is given up', (_what, text) => {
    expect(new PartCutter('xyz', 1000).feed(Buffer.from(text)).at(-1)).toEqual({
      kind: 'too long',
    });
  });

  it.each([
    ['multipart/x-mixed-replace;boundary=abc', 'abc'],
    ['multipart/x-mixed-replace; boundary="a b"', 'a b'],
    ['Multipart/X-Mixed-Replace; charset=x; Boundary=q', 'q'],
    ['text/xml', null],
    [null, null],
  ])('%s has the boundary %s', (type, boundary) => {
    expect(boundaryOf(type)).toBe(boundary);
  });
});

describe('the thread of a stream', () => {
  const header = (nextSequence: number, firstSequence = 1, instanceId = '1') => ({
    instanceId,
    firstSequence,
    lastSequence: nextSequence - 1,
    nextSequence,
  });
  const at = (sequence: number, itemId = 'x') => ({ itemId, sequence, timestamp: '', text: '1' });
  const begun = () => {
    const thread = new Thread(['x', 'y']);
    thread.begin(header(10), [at(9), at(4, 'y')]);
    return thread;
  };
  const sequences = (threading: ReturnType<Thread['goOn']>) =>
    threading.kind === 'goes on'
      ? threading.positions.map(({ sequence }) => sequence)
      : threading.kind;

  it('gives each observation once and in order, those of others not at all', () => {
    const thread = begun();
    expect(thread.nextSequence).toBe(10);
    const fresh = [at(12), at(9), at(11, 'y'), at(10), at(13, 'z')];
    expect(sequences(thread.goOn(header(14), fresh))).toEqual([10, 11, 12]);
    expect(sequences(thread.goOn(header(14), fresh))).toEqual([]);
    expect(thread.nextSequence).toBe(14);
  });

  it('that has lost observations says how many', () => {
    expect(begun().goOn(header(40, 13), [at(39)])).toEqual({ kind: 'gap', lost: 3 });
  });

  it('of an agent that was started anew is another one', () => {
    expect(begun().goOn(header(3, 1, '2'), [at(2)])).toEqual({ kind: 'agent restarted' });
    expect(begun().begin(header(3, 1, '2'), [at(2)])).toEqual({ kind: 'agent restarted' });
  });
});
