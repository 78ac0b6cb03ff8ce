import type { ItemDescription } from '@taptrue/server/devices/transport/mtconnect/documents.ts';
import { findItem } from '@taptrue/server/devices/transport/mtconnect/find-item.ts';
import { itemFault } from '@taptrue/server/devices/transport/mtconnect/mtconnect-faults.ts';
import { describe, expect, it } from 'vitest';

describe('which position is meant', () => {
  const item = (change: Partial<ItemDescription>): ItemDescription => ({
    id: 'i',
    name: '',
    type: 'POSITION',
    subType: 'ACTUAL',
    units: 'MILLIMETER',
    coordinateSystem: 'MACHINE',
    category: 'SAMPLE',
    representation: '',
    statistic: '',
    compositionId: '',
    axis: ['X', 'x1'],
    device: 'mill',
    ...change,
  });
  const items = [
    item({ id: 'x-com', name: 'Xcom', subType: 'COMMANDED' }),
    item({ id: 'x-work', name: 'Xabs', coordinateSystem: 'WORK' }),
    item({ id: 'x-act', name: 'Xact' }),
    item({ id: 'x-load', type: 'LOAD', units: 'PERCENT' }),
    item({ id: 'c-act', axis: ['C'], type: 'ANGLE', units: 'DEGREE' }),
  ];

  it.each([
    ['an id', 'x-com', 'x-com'],
    ['a name', 'xABS', 'x-work'],
    ['an axis: actual before commanded, machine before work', 'x', 'x-act'],
    ['the id of an axis', 'x1', 'x-act'],
  ])('by %s', (_how, wanted, id) => {
    expect(findItem(items, wanted)).toEqual({ kind: 'found', id });
  });

  it.each([
    ['a load', 'x-load', { kind: 'no length', type: 'LOAD', units: 'PERCENT', as: '' }],
    ['an angle', 'c-act', { kind: 'no length', type: 'ANGLE', units: 'DEGREE', as: '' }],
  ])('%s is no length', (_what, wanted, found) => {
    expect(findItem(items, wanted)).toEqual(found);
  });

  // MTConnectDevices_2.4_1.0.xsd: category, representation and statistic of DataItem.
  const notOneValue: [string, Partial<ItemDescription>, string][] = [
    ['a condition of it', { category: 'CONDITION', subType: '', units: '' }, 'CONDITION'],
    ['a series of it', { representation: 'TIME_SERIES' }, 'TIME_SERIES'],
    ['a table of it', { representation: 'TABLE' }, 'TABLE'],
    ['its average', { statistic: 'AVERAGE', representation: 'VALUE' }, 'AVERAGE'],
  ];
  it.each(notOneValue)('%s is passed over where the position itself is there', (_what, change) => {
    const listed = [item({ id: 'other', ...change }), item({ id: 'com', subType: 'COMMANDED' })];
    expect(findItem(listed, 'X')).toEqual({ kind: 'found', id: 'com' });
    const elsewhere = [item({ id: 'other', device: 'lathe', ...change }), item({ id: 'x' })];
    expect(findItem(elsewhere, 'X')).toEqual({ kind: 'found', id: 'x' });
  });

  it.each(notOneValue)('%s alone is refused, and not offered', (_what, change, as) => {
    const listed = [item({ id: 'other', ...change })];
    for (const wanted of ['X', 'other']) {
      expect(findItem(listed, wanted)).toMatchObject({ kind: 'no length', as });
    }
    expect(findItem(listed, 'Z')).toEqual({ kind: 'not there', positions: [] });
  });

  it('of the axis goes before that of a part of it, and that before the commanded one', () => {
    const ofPart = item({ id: 'part', compositionId: 'x-motor' });
    const commanded = item({ id: 'com', subType: 'COMMANDED' });
    expect(findItem([ofPart, item({ id: 'axis', coordinateSystem: 'WORK' })], 'X')).toEqual({
      kind: 'found',
      id: 'axis',
    });
    expect(findItem([commanded, ofPart], 'X')).toEqual({ kind: 'found', id: 'part' });
  });

  it('is told with what it is, where it is no single value', () => {
    const names = { device: 'readout', title: 'http://shop:5000' };
    const series = item({ id: 'ts', representation: 'TIME_SERIES' });
    const found = findItem([series], 'X');
    if (found.kind === 'found') throw new Error('taken');
    expect(itemFault(names, 'X', found)).toMatchObject({
      code: 'mtconnect-item-not-length',
      got: 'POSITION in MILLIMETER, as TIME_SERIES',
    });
  });

  it('of an axis that is not there: those that are, are named', () => {
    expect(findItem(items, 'Z')).toEqual({
      kind: 'not there',
      positions: ['Xcom of X (commanded)', 'Xabs of X (actual)', 'Xact of X (actual)'],
    });
  });

  it('of an axis that two machines have: the machines are named', () => {
    expect(findItem([...items, item({ id: 'x2', device: 'lathe' })], 'X')).toEqual({
      kind: 'several machines',
      devices: ['mill', 'lathe'],
    });
  });
});
