import type { BenchState, FindSection, LinkSource, TeachQuestion } from '@taptrue/protocol';
import { teachShape } from '@taptrue/server/devices/formats/teach/teach-shape.ts';
import { describe, expect, it } from 'vitest';
import { axeFindings } from '../axe-findings.ts';
import { nothingSet } from '../example-states.ts';
import { sharedPage } from './shared-page.ts';

const SOURCE: LinkSource = {
  kind: 'serial',
  path: '/dev/ttyUSB0',
  settings: { baudRate: 4800, dataBits: 7, parity: 'even', stopBits: 1 },
};
const CAPTURED =
  '125|RUN|a>\r\n<2|-0.0125|RUN|a>\r\n<2|+0.0118|RUN|a>\r\n<2|+0.1103|RUN|a>\r\n<2|-1.1103|RUN|a>\r\n';

function notFound(change: Partial<FindSection> = {}): BenchState {
  const find: FindSection = {
    link: 'indicator',
    port: '/dev/ttyUSB0',
    state: 'nothing found',
    sentence: 'Nothing found.',
    settingsTried: 12,
    secondsLeft: null,
    consent: 'not asked yet',
    question: null,
    fault: {
      code: 'find-shape-not-known' as const,
      what: '/dev/ttyUSB0 sends whole lines of text at 4800 baud, 7 bits, even parity, but no known line shape reads them.',
      got: '<2|-0.0125|RUN|a>',
      remedy:
        'Teach the shape of these lines on the page, under Devices: they are taken over there.',
    },
    unread: { source: SOURCE, form: 'lines', captured: CAPTURED },
    ...change,
  };
  return { ...nothingSet(), find };
}

/** The page with the service's own teaching behind it, and nothing else of the service. */
function teachingPage() {
  const shared = sharedPage();
  return async (state: BenchState) => {
    const open = await shared.open({ state, place: 'devices' });
    const asked: TeachQuestion[] = [];
    await open.page.route('**/api/shapes/try', (route) => {
      const question = route.request().postDataJSON() as TeachQuestion;
      asked.push(question);
      return route.fulfill({ json: teachShape(question) });
    });
    return { ...open, asked };
  };
}

describe('a search that ended at lines no shape reads', () => {
  const open = teachingPage();

  it('goes on in the teaching: the lines are there, the focus is at what is to be told', async () => {
    const { page, asked, close } = await open(notFound());
    await page.getByRole('button', { name: 'Teach its lines' }).click();
    const heading = page.getByRole('heading', { name: '2. What is what' });
    await heading.waitFor();
    await expect.poll(() => heading.evaluate((node) => node === document.activeElement)).toBe(true);
    expect(asked[0]).toMatchObject({
      captured: CAPTURED,
      fromPort: true,
      form: 'lines',
      port: SOURCE.settings,
    });
    await page
      .getByText('what came from /dev/ttyUSB0 while the indicator was looked for')
      .waitFor();
    await page.getByText('reads −0.0125').first().waitFor();
    expect(await axeFindings(page, 'teach-shape')).toEqual([]);
    await close();
  });

  it('is reached and gone through with keys alone', async () => {
    const { page, close } = await open(notFound());
    await page.getByRole('button', { name: 'Teach its lines' }).focus();
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { name: '2. What is what' }).waitFor();
    await page.keyboard.press('Tab');
    await expect
      .poll(() => page.evaluate(() => document.activeElement?.closest('teach-cells') !== null))
      .toBe(true);
    await close();
  });

  it('connects the same device on the same port by what was taught, and ends the search', async () => {
    const { page, commands, close } = await open(notFound());
    await page.getByRole('button', { name: 'Teach its lines' }).click();
    await page
      .getByLabel('“a” as unit means')
      .or(page.getByLabel(/By its form/))
      .first()
      .waitFor();
    await page.getByLabel(/By its form/).fill('Bracketed: channel, number, word, letter');
    const cells = page.getByRole('group', { name: 'Characters of the line' });
    await cells.getByRole('button', { name: /, a, always the same$/ }).click();
    await page.getByRole('button', { name: 'the unit' }).click();
    await page.getByLabel('“a” as unit means').selectOption('mm');
    // A word that never changes may be a unit, a sign or a status: it is asked about, and here it says nothing.
    await page.getByText('Say what "RUN" beside the number is', { exact: false }).first().waitFor();
    await cells.getByRole('button', { name: /, R, always the same$/ }).hover();
    await page.mouse.down();
    await cells.getByRole('button', { name: /, N, always the same$/ }).hover();
    await page.mouse.up();
    await page.getByRole('button', { name: 'passed over' }).click();
    await page.getByRole('button', { name: 'Keep it and use it for the indicator' }).click();
    await expect
      .poll(() => commands.map(({ kind }) => kind))
      .toEqual(['keep shape', 'connect', 'stop find']);
    const [kept, connected] = commands;
    expect(kept).toMatchObject({ shape: { port: SOURCE.settings } });
    expect(connected).toMatchObject({
      link: 'indicator',
      config: { source: SOURCE, unit: 'as sent', channel: null },
    });
    await close();
  });

  it('of a device that stood still listens on until lines differ', async () => {
    const line = (number: string) => `<2|${number}|RUN|a>\r\n`;
    const captured = line('-0.0125').repeat(6);
    const state = notFound({ unread: { source: SOURCE, form: 'lines', captured } });
    const { page, commands, close } = await open(state);
    let sent = captured;
    await page.route('**/api/links/indicator/bytes', (route) =>
      route.fulfill({ json: { bytes: sent } }),
    );
    await page.getByRole('button', { name: 'Teach its lines' }).click();
    await page.getByText('Three different lines are needed, there is one').waitFor();
    await page.getByRole('button', { name: 'Listen on and take more lines' }).click();
    await page.getByText('Listening on.').waitFor();
    expect(commands).toMatchObject([
      { kind: 'connect', link: 'indicator', config: { source: SOURCE, unit: 'as sent' } },
    ]);
    sent += line('+0.0118') + line('+0.1103') + line('+0.2');
    await page.getByText('reads 0.1103').first().waitFor();
    expect(await page.getByText('Listening on.').count()).toBe(0);
    for (const width of [1280, 390]) {
      await page.setViewportSize({ width, height: 844 });
      const overflow = await page.evaluate(
        () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
      );
      expect(overflow, `${width}`).toBeLessThanOrEqual(0);
      const folder = process.env.STRANGER_PICTURES;
      if (folder) await page.screenshot({ path: `${folder}/teach-${width}.png` });
    }
    await close();
  });

  it('of bytes without line ends goes on with bytes', async () => {
    const frames = ['A5123400F7', 'A5120700C4', 'A5006600C3'].map((hex) => Buffer.from(hex, 'hex'));
    const captured = Buffer.concat([...frames, ...frames, ...frames]).toString('latin1');
    const source: LinkSource = { kind: 'tcp', host: '192.168.1.20', port: 4001 };
    const state = notFound({
      port: 'tcp://192.168.1.20:4001',
      unread: { source, form: 'bytes', captured },
    });
    const { page, asked, close } = await open(state);
    await page.getByRole('button', { name: 'Teach what it sends' }).click();
    await expect.poll(() => asked[0]?.form).toBe('bytes');
    expect(asked[0]).toMatchObject({ captured, port: null });
    const way = page.getByRole('group', { name: 'What the device sends' });
    expect(await way.getByText('bytes without line ends').isVisible()).toBe(true);
    await page.getByLabel(/Bytes of one frame/).waitFor();
    await close();
  });

  it('offers no teaching where nothing came', async () => {
    const { unread: _none, ...find } = notFound().find!;
    const { page, close } = await open({ ...notFound(), find });
    await page.getByRole('button', { name: 'Try again' }).waitFor();
    expect(await page.getByRole('button', { name: /^Teach/ }).count()).toBe(0);
    await close();
  });
});

/** Start byte, four digits packed two a byte, a byte of flags, all of them joined by exclusive or at the end. */
function frame(digits: string, flags: number): Buffer {
  const body = Buffer.concat([Buffer.from(`A5${digits}`, 'hex'), Buffer.from([flags])]);
  return Buffer.concat([body, Buffer.from([body.reduce((all, byte) => all ^ byte, 0)])]);
}

describe('bytes of a packed frame', () => {
  const open = teachingPage();

  it('are marked by pointer: number, flags and what their bits say, check sum', async () => {
    const frames = [frame('1234', 0), frame('0021', 1), frame('0755', 1), frame('0755', 0)];
    const captured = Buffer.concat([...frames, ...frames]).toString('latin1');
    const source: LinkSource = { kind: 'tcp', host: '192.168.1.20', port: 4001 };
    const { page, asked, close } = await open(
      notFound({ unread: { source, form: 'bytes', captured } }),
    );
    await page.getByRole('button', { name: 'Teach what it sends' }).click();
    const cells = page.getByRole('group', { name: 'Characters of the line' }).getByRole('button');
    await cells.first().waitFor();
    // The start byte is no part of what is marked: digits, flags, check sum, two half bytes each.
    await expect.poll(() => cells.count()).toBe(8);
    const mark = async (first: number, last: number, as: string) => {
      await cells.nth(first).click();
      await cells.nth(last).click();
      const before = asked.length;
      await page.getByRole('button', { name: as, exact: true }).click();
      await expect.poll(() => asked.length).toBeGreaterThan(before);
    };
    await mark(0, 3, 'the number');
    await mark(4, 5, 'flags');
    await mark(6, 7, 'the check sum');
    await page.getByLabel('Flag bit 0, when it is set').selectOption('minus');
    await page.getByText('reads −21').first().waitFor();
    expect(asked.at(-1)?.marks).toEqual(
      expect.arrayContaining([
        { from: 0, to: 4, means: 'number' },
        { from: 4, to: 6, means: 'flags', bits: [{ bit: 0, set: 'minus' }] },
        { from: 6, to: 8, means: 'checksum' },
      ]),
    );
    await close();
  });
});

describe('a line shape brought in from a file', () => {
  const open = teachingPage();
  const file = (text: string) => ({
    name: 'shop-gauge.taptrue-shape.json',
    mimeType: 'application/json',
    buffer: Buffer.from(text),
  });
  const shelf = async () => {
    const opened = await open(nothingSet());
    await opened.page.getByText('Line shapes of this shop').click();
    const input = opened.page.getByLabel('Bring one in from a file');
    await input.waitFor();
    return { ...opened, input };
  };

  it('goes to the service as it is, and what came of it is said', async () => {
    const { page, commands, answerWith, input, close } = await shelf();
    answerWith({ ok: true, note: 'The line shape “Shop gauge” is kept.' });
    await input.setInputFiles(file('{"format":"of the service to judge"}'));
    await page.locator('teach-shelf').getByText('“Shop gauge” is kept').waitFor();
    const text = '{"format":"of the service to judge"}';
    expect(commands).toEqual([{ kind: 'import shape', text, over: false }]);
    await close();
  });

  it('whose name is taken replaces the old one only where that is said', async () => {
    const { page, commands, answerWith, input, close } = await shelf();
    const fault = {
      code: 'shape-name-taken' as const,
      what: 'There is a line shape of this name already.',
      got: 'shop-gauge',
      remedy: 'Give it another name, or put it in the place of the old one.',
    };
    answerWith({ ok: false, fault });
    await input.setInputFiles(file('{}'));
    const replace = page.getByRole('button', { name: 'Put it in the place of the old one' });
    await replace.waitFor();
    answerWith({ ok: true, note: 'Replaced.' });
    await replace.click();
    await page.locator('teach-shelf').getByText('Replaced.').waitFor();
    expect(commands.map((command) => 'over' in command && command.over)).toEqual([false, true]);
    expect(await replace.count()).toBe(0);
    await close();
  });

  it('that is broken is named by the service, and nothing changes', async () => {
    const { page, commands, answerWith, input, close } = await shelf();
    const fault = {
      code: 'shape-file-not-read' as const,
      what: 'Line 12 of the file: fields[2].atMost is wanting.',
      got: '{}',
      remedy: 'Correct the file.',
    };
    answerWith({ ok: false, fault });
    await input.setInputFiles(file('{}'));
    await page.locator('teach-shelf').getByText('Line 12 of the file').waitFor();
    expect(commands).toHaveLength(1);
    await close();
  });

  it('larger than any shape is not even sent', async () => {
    const { page, commands, input, close } = await shelf();
    await input.setInputFiles(file('x'.repeat(65_537)));
    await page.getByText('larger than any line shape').waitFor();
    expect(commands).toEqual([]);
    await close();
  });
});
