import { beforeAll, describe, expect, it } from 'vitest';
import { DEVICES, ERROR, STREAMS } from './mtconnect/as-agents-send.ts';
import { faultsOf } from './mtconnect/validate.ts';

/** What is changed in a valid document, and what the schema must name as wrong then. */
type Change = [what: string, part: RegExp, other: string, named: RegExp];

const STREAMS_CHANGES: Change[] = [
  ['a position without its sequence', / sequence="20514"/, '', /Position.*'sequence' is required/],
  [
    'a position without its time',
    / timestamp="2026-03-03T07:15:01.871Z"/,
    '',
    /Position.*'timestamp' is required/,
  ],
  [
    'a position without its data item',
    / dataItemId="x3"/,
    '',
    /Position.*'dataItemId' is required/,
  ],
  ['a position that is a word', /101\.6254</, 'moving<', /Position.*'moving'/],
  ['a position that is nothing', /101\.6254</, '<', /Position.*'' is not a valid/],
  ['a position with a comma', /101\.6254</, '101,6254<', /Position.*'101,6254'/],
  [
    'another word for UNAVAILABLE',
    /"ACTUAL">UNAVAILABLE/,
    '"ACTUAL">UNKNOWN',
    /Position.*'UNKNOWN'/,
  ],
  ['a position with a time that is none', /2026-03-03T07:15:01\.921Z/, 'noon', /timestamp.*'noon'/],
  ['a position with a number below 1', /sequence="20514"/, 'sequence="0"', /sequence.*'0' is less/],
  ['a subtype that is none', /subType="COMMANDED"/, 'subType="WANTED"', /subType.*'WANTED'/],
  ['a trigger that is none', /ACTION_COMPLETE/, 'LUNCH', /resetTriggered.*'LUNCH'/],
  [
    'an attribute it does not know',
    / sequence="20514"/,
    '$& unit="MILLIMETER"',
    /'unit' is not allowed/,
  ],
  [
    'a position outside of Samples',
    /<Samples>/,
    '<Position>1</Position>$&',
    /Position.*not expected/,
  ],
  ['empty Samples', /<Samples><Angle.*<\/Samples>/, '<Samples/>', /Samples.*Missing child/],
  [
    'a series without its count',
    / sampleCount="3"/,
    '',
    /PositionTimeSeries.*'sampleCount' is required/,
  ],
  [
    'a series that is UNAVAILABLE',
    /101\.6 101\.61 101\.62/,
    'UNAVAILABLE',
    /TimeSeries.*'UNAVAILABLE'/,
  ],
  ['a point of two numbers', /101\.6 0 12\.5/, '101.6 0', /PathPosition.*'101.6 0'/],
  ['a condition without its type', / type="POSITION"/, '', /Normal.*'type' is required/],
  [
    'a warning without its conditionId',
    / conditionId="w1"/,
    '',
    /Warning.*'conditionId' is required/,
  ],
  [
    'an axis without the kind it is',
    /component="Linear" /,
    '',
    /ComponentStream.*'component' is required/,
  ],
  ['two axes of one id', /componentId="y1"/, 'componentId="x1"', /componentId.*'x1'/],
  [
    'a machine without its uuid',
    / uuid="shop-7-knee-mill"/,
    '',
    /DeviceStream.*'uuid' is required/,
  ],
  [
    'a header without nextSequence',
    / nextSequence="20518"/,
    '',
    /Header.*'nextSequence' is required/,
  ],
  [
    'a header without the change of the model',
    / deviceModelChangeTime="[^"]*"/,
    '',
    /Header.*'deviceModelChangeTime' is required/,
  ],
  [
    'another version',
    /MTConnectStreams:2\.4"/,
    'MTConnectStreams:2.0"',
    /No matching global declaration/,
  ],
];

const DEVICES_CHANGES: Change[] = [
  ['a data item without id', / id="x3"/, '', /DataItem.*'id' is required/],
  ['a data item without type', / type="ANGLE"/, '', /DataItem.*'type' is required/],
  [
    'a data item without category',
    /category="SAMPLE" id="x3"/,
    'id="x3"',
    /DataItem.*'category' is required/,
  ],
  ['two data items of one id', / id="x4"/, ' id="x3"', /'id': 'x3'/],
  ['a category that is none', /category="CONDITION"/, 'category="ALARM"', /category.*'ALARM'/],
  ['a unit of its own without a prefix', /units="DEGREE"/, 'units="TURNS"', /units.*'TURNS'/],
  [
    'a coordinate system that is none',
    /coordinateSystem="MACHINE"/,
    'coordinateSystem="TABLE"',
    /coordinateSystem.*'TABLE'/,
  ],
  [
    'limits in the wrong order',
    /(<Min.*<\/Minimum>)(<Max.*<\/Maximum>)/,
    '$2$1',
    /Minimum.*not expected/,
  ],
  ['a machine without its name', / name="lathe"/, '', /Device.*'name' is required/],
  [
    'an agent that tells itself after its machines',
    /(<Agent [\s\S]*<\/Agent>)([\s\S]*)(<\/Devices>)/,
    '$2$1$3',
    /Agent.*not expected/,
  ],
  [
    'no machine behind an agent that tells itself',
    /<Device [\s\S]*(<\/Devices>)/,
    '$1',
    /Devices.*Missing child/,
  ],
  ['a header without assetCount', / assetCount="2"/, '', /Header.*'assetCount' is required/],
  [
    'a count of assets without their type',
    / assetType="CuttingTool"/,
    '',
    /AssetCount.*'assetType' is required/,
  ],
];

const ERROR_CHANGES: Change[] = [
  [
    'errors before the header',
    /(<Header.*\/>)\s*(<Errors>.*<\/Errors>)/,
    '$2$1',
    /Errors.*not expected/,
  ],
  ['no error', /<Error errorCode.*<\/Error>/, '', /Errors.*Missing child/],
  ['an error without a code', / errorCode="OUT_OF_RANGE"/, '', /Error.*'errorCode' is required/],
  ['a code that is none', /OUT_OF_RANGE/, 'INVALID_XPATH', /errorCode.*'INVALID_XPATH'/],
  [
    'the change of the model in its header',
    / bufferSize/,
    ' deviceModelChangeTime="2026-03-03T06:00:00Z"$&',
    /'deviceModelChangeTime' is not allowed/,
  ],
  [
    'an error told as version 2.6 does',
    /<Error errorCode.*<\/Error>/,
    '<OutOfRange><URI>/</URI></OutOfRange>',
    /OutOfRange.*not expected/,
  ],
];

describe.each([
  ['streams', STREAMS, STREAMS_CHANGES],
  ['devices', DEVICES, DEVICES_CHANGES],
  ['error', ERROR, ERROR_CHANGES],
] as const)('the schema of %s is no rubber stamp: it', (kind, valid, changes) => {
  const texts = changes.map(([, part, other]) => valid.replace(part, other));
  let faults: readonly string[][] = [];
  beforeAll(async () => {
    faults = await faultsOf(kind, [...texts, valid]);
  });

  it('takes the document that all of these are made from', () => {
    expect(faults.at(-1)).toEqual([]);
  });

  it.each(changes.map(([what, , , named], index) => [what, index, named] as const))(
    'refuses %s, and for that',
    (_what, index, named) => {
      expect(texts[index]).not.toBe(valid);
      expect(faults[index]?.join(' ')).toMatch(named);
    },
  );
});
