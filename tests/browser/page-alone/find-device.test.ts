import type { BenchState, FindSection } from '@taptrue/protocol';
import { keptLinesWords } from '@taptrue/server/devices/finding/find-words.ts';
import type { PowerSeen } from '@taptrue/server/devices/finding/power-evidence.ts';
import { silence } from '@taptrue/server/devices/finding/silence-faults.ts';
import { describe, expect, it } from 'vitest';
import { axeFindings } from '../axe-findings.ts';
import { examplePorts } from '../example-ports.ts';
import { nothingSet } from '../example-states.ts';
import { sharedPage } from './shared-page.ts';

const SIZES = [
  { width: 1920, height: 1080 },
  { width: 1280, height: 800 },
  { width: 1024, height: 768 },
  { width: 390, height: 844 },
];

function finding(change: Partial<FindSection>): BenchState {
  const find: FindSection = {
    link: 'indicator',
    port: '/dev/ttyUSB0',
    state: 'listening',
    sentence: 'Listening at 9600 baud, 8 bits, no parity. Nothing is sent to the device.',
    settingsTried: 3,
    secondsLeft: 7,
    consent: 'not asked yet',
    question: null,
    fault: null,
    ...change,
  };
  return { ...withPorts(), find };
}

function withPorts(): BenchState {
  return { ...nothingSet(), ports: { ports: examplePorts(), leftOut: 0, watched: true } };
}

const QUESTION: FindSection['question'] = {
  number: '-0.0125',
  unit: 'mm',
  channel: null,
  text: '-000.0125',
  shape: 'Number with sign and point, unit if sent, streamed',
  settings: '4800 baud, 7 bits, even parity',
  lead: '',
  sends: 'sends by itself',
  index: 0,
  of: 2,
};

const NOTHING: FindSection['fault'] = {
  code: 'find-nothing-came',
  what: 'Nothing at all came on /dev/ttyUSB0, with any speed, parity or level of DTR and RTS.',
  got: 'nothing; not asked, its key waited for',
  remedy:
    'Check that the device is switched on, set to send, and plugged into this port; some leads cross two wires and need the other kind. If it sends only when asked, let it be asked.',
};

/** In the words of the service, where not a byte came. */
function silent(seen: PowerSeen): BenchState {
  const fault = silence('/dev/ttyUSB0', seen, { asked: false, keyed: true });
  return finding({ state: 'nothing found', secondsLeft: null, sentence: fault.what, fault });
}

const FED = keptLinesWords({ dtr: true, rts: false });

const SCREENS: [string, () => BenchState][] = [
  ['which port', withPorts],
  ['listening', () => finding({})],
  [
    'may it be asked',
    () =>
      finding({
        consent: 'wanted',
        sentence:
          'Listening at 115200 baud, 8 bits, odd parity, DTR down, RTS up. Nothing is sent to the device.',
        secondsLeft: 9,
      }),
  ],
  [
    'its key',
    () =>
      finding({
        state: 'waiting for its key',
        consent: 'refused',
        sentence:
          'Press the device’s send key, about every two seconds. Listening at 9600 baud, 8 bits, no parity.',
        secondsLeft: 118,
      }),
  ],
  [
    'the question',
    () =>
      finding({
        state: 'question',
        secondsLeft: null,
        sentence: 'Something was recognised. Look at the device.',
        question: QUESTION,
      }),
  ],
  [
    'the question, of a lead fed by the port',
    () =>
      finding({
        state: 'question',
        secondsLeft: null,
        sentence: 'Something was recognised. Look at the device.',
        question: { ...QUESTION, lead: FED },
      }),
  ],
  ['nothing found', () => finding({ state: 'nothing found', secondsLeft: null, fault: NOTHING })],
  ['no power seen', () => silent({ kind: 'never on' })],
  ['far end has power', () => silent({ kind: 'on by itself', on: ['dsr'] })],
];

describe('finding a device on the page', () => {
  const shared = sharedPage();

  it.each(SCREENS)('%s: fits every size, nothing for axe to find', async (name, make) => {
    const { page, close } = await shared.open({ state: make(), place: 'devices' });
    await page.getByRole('region', { name: 'indicator' }).waitFor();
    for (const size of SIZES) {
      await page.setViewportSize(size);
      await page.waitForTimeout(100);
      const overflow = await page.evaluate(
        () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
      );
      expect(overflow, `${size.width}`).toBeLessThanOrEqual(0);
      const pictures = process.env.FIND_PICTURES;
      if (pictures) await page.screenshot({ path: `${pictures}/${name}-${size.width}.png` });
    }
    expect(await axeFindings(page, 'find-device')).toEqual([]);
    await close();
  });

  it('begins on the chosen port, and closes the device that uses it only where that is said', async () => {
    const ports = examplePorts().map((port, index) => ({
      ...port,
      usedBy: index === 0 ? ('readout' as const) : port.usedBy,
    }));
    const state = { ...withPorts(), ports: { ports, leftOut: 0, watched: true } };
    const { page, commands, close } = await shared.open({ state, place: 'devices' });
    const panel = page.getByRole('region', { name: 'indicator' }).locator('find-device');
    await panel.getByRole('button', { name: ports[0]!.path }).click();
    await panel.getByText('It is closed first').waitFor();
    await panel.getByRole('button', { name: 'Close it and find the indicator' }).click();
    const source = { kind: 'serial', path: ports[0]!.path, settings: null };
    await expect
      .poll(() => commands)
      .toEqual([{ kind: 'begin find', link: 'indicator', source, closeFirst: true }]);
    await close();
  });

  it('answers by hand and by keyboard', async () => {
    const state = finding({ state: 'question', question: QUESTION, secondsLeft: null });
    const { page, commands, close } = await shared.open({ state, place: 'devices' });
    const panel = page.getByRole('region', { name: 'indicator' }).locator('find-device');
    await panel.getByText('−0.0125').waitFor();
    await panel.getByRole('button', { name: 'No', exact: true }).click();
    await panel.getByRole('button', { name: 'Yes, that is it' }).focus();
    await page.keyboard.press('Enter');
    await expect
      .poll(() => commands)
      .toEqual([
        { kind: 'answer find', answer: 'no' },
        { kind: 'answer find', answer: 'yes' },
      ]);
    await close();
  });

  it.each([
    [
      'no power is seen',
      () => silent({ kind: 'never on' }),
      /no power is seen on the interface lines/,
    ],
    [
      'something at the far end has power',
      () => silent({ kind: 'on by itself', on: ['dsr'] }),
      /the line DSR is on at the far end.*most likely something there has power/,
    ],
    [
      'nothing can be told of power',
      () => silent({ kind: 'not seen' }),
      /Whether the lead has power cannot be seen on this port/,
    ],
    [
      'the lead lives on the lines, which are kept so',
      () => finding({ state: 'question', question: { ...QUESTION, lead: FED }, secondsLeft: null }),
      /with DTR up, RTS down and is silent with both up.*They are kept so/,
    ],
  ])('says that %s', async (_what, make, words) => {
    const { page, close } = await shared.open({ state: make(), place: 'devices' });
    await page.getByRole('region', { name: 'indicator' }).getByText(words).first().waitFor();
    await close();
  });

  it('says on the other device that one search at a time goes on', async () => {
    const { page, close } = await shared.open({ state: finding({}), place: 'devices' });
    const readout = page.getByRole('region', { name: 'readout' });
    await readout.locator('summary', { hasText: 'Find the readout' }).click();
    const other = readout.locator('find-device');
    await other.getByText('One search at a time').waitFor();
    expect(await other.getByRole('button', { name: 'Find the readout' }).isDisabled()).toBe(true);
    await close();
  });

  it.each([
    ['the other device', 'Find the readout'],
    ['by hand', 'Connect it by hand'],
    ['in registers', 'Registers (Modbus)'],
  ])('says of %s on which port a search goes on, and ends it there', async (_where, fold) => {
    const { page, commands, close } = await shared.open({ state: finding({}), place: 'devices' });
    const readout = page.getByRole('region', { name: 'readout' });
    await readout.locator('summary', { hasText: fold }).click();
    const panel = readout.locator('details[open]');
    await panel.getByText('The indicator is being looked for on /dev/ttyUSB0').waitFor();
    await panel.getByRole('button', { name: 'Stop the search' }).click();
    await expect.poll(() => commands).toEqual([{ kind: 'stop find' }]);
    await close();
  });
});
