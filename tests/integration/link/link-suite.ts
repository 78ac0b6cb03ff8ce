import type { LinkConfig, LinkReport, Reading } from '@taptrue/protocol';
import { shapeNamed } from '@taptrue/server/devices/formats/shape-table.ts';
import { SYSTEM_CLOCK } from '@taptrue/server/devices/transport/clock.ts';
import { Link } from '@taptrue/server/devices/transport/keep-open.ts';
import { sourceFor } from '@taptrue/server/devices/transport/source-for.ts';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import type { Device } from './device.ts';

/** What the product promises; the promise is what is asserted, not what this machine does. */
const SEEN_WITHIN_MS = 1000;
const LIVE_WITHIN_MS = 2000;

const LINE = '+12.345 mm\r\n';

/** One suite for every carrier of bytes, so that none of them can drift from the others. */
export function describeLinkOver(carrier: string, makeDevice: () => Promise<Device>): void {
  describe(`a link over ${carrier}`, () => {
    let device: Device;
    let sending: NodeJS.Timeout | undefined;
    let open: Link[] = [];

    beforeAll(async () => {
      device = await makeDevice();
    });
    afterEach(async () => {
      clearInterval(sending);
      await Promise.all(open.map((link) => link.close()));
      open = [];
    });
    afterAll(() => device.stop());

    function linkWith(shapeName: string, config: Partial<LinkConfig> = {}) {
      const shape = shapeNamed(shapeName)!;
      const readings: Reading[] = [];
      const reports: LinkReport[] = [];
      const whole: LinkConfig = {
        source: device.source,
        shape: shapeName,
        unit: 'mm',
        channel: null,
        ...config,
      };
      const clock = SYSTEM_CLOCK;
      const simulatedPipes = () => device.pipe!;
      const link = new Link({
        name: 'indicator',
        config: whole,
        source: sourceFor({ name: 'indicator', config: whole, shape, clock, simulatedPipes }),
        clock,
        onReading: (reading) => readings.push(reading),
        onReport: (report) => reports.push(report),
      });
      open.push(link);
      link.open();
      return { link, readings, reports };
    }

    function stream(text: string, everyMs = 20): void {
      clearInterval(sending);
      sending = setInterval(() => device.send(text), everyMs);
    }

    const state = (link: Link) => link.report().state;
    const becomes = (link: Link, wanted: string, withinMs = 4000) =>
      expect.poll(() => state(link), { timeout: withinMs, interval: 5 }).toBe(wanted);

    it('opens, reads a stream whole, and counts', async () => {
      const { link, readings } = linkWith('signed-decimal');
      stream(LINE);
      await becomes(link, 'live');
      await expect.poll(() => readings.length).toBeGreaterThan(5);
      expect(new Set(readings.map((reading) => reading.value))).toEqual(new Set([12.345]));
      expect(readings.map((reading) => reading.sequence)).toEqual(readings.map((_one, n) => n));
      expect(link.report().counters.framesNotUnderstood).toBe(0);
    });

    it('is silent where nothing comes, not understood where garbage does, and live again', async () => {
      const { link, readings } = linkWith('signed-decimal');
      stream(LINE);
      await becomes(link, 'live');
      clearInterval(sending);
      await becomes(link, 'silent');
      stream('\x8f\xfe\x03\r\x80');
      await becomes(link, 'not understood');
      expect(link.report().fault?.code).toBe('not-understood');
      stream(LINE);
      await becomes(link, 'live');
      expect(new Set(readings.map((reading) => reading.value))).toEqual(new Set([12.345]));
    });

    it('sees an unplug within 1 s and is live within 2 s of the replug', async () => {
      const { link, reports } = linkWith('signed-decimal');
      stream(LINE);
      await becomes(link, 'live');
      for (let round = 0; round < 3; round += 1) {
        const unpluggedMs = performance.now();
        await device.unplug();
        await expect
          .poll(() => state(link), { timeout: SEEN_WITHIN_MS, interval: 2 })
          .not.toBe('live');
        const seenMs = performance.now() - unpluggedMs;
        expect(seenMs).toBeLessThanOrEqual(SEEN_WITHIN_MS);
        await becomes(link, 'lost', SEEN_WITHIN_MS);
        await new Promise((resolve) => setTimeout(resolve, 300 + 400 * round));
        await device.replug();
        const repluggedMs = performance.now();
        await becomes(link, 'live', LIVE_WITHIN_MS);
        const liveMs = performance.now() - repluggedMs;
        console.log(
          `${carrier}: unplug seen after ${seenMs.toFixed(0)} ms, live ${liveMs.toFixed(0)} ms after replug`,
        );
        expect(link.report().counters.reconnects).toBe(round + 1);
      }
      expect(reports.map((report) => report.state)).toContain('lost');
    });

    it('refuses a unit that flips in mid-stream', async () => {
      const { link, readings } = linkWith('signed-decimal', { unit: 'as sent' });
      stream(LINE);
      await becomes(link, 'live');
      stream('+0.4860 in\r\n');
      await becomes(link, 'not understood');
      expect(link.report().fault?.code).toBe('unit-changed');
      const before = readings.length;
      await expect.poll(() => link.report().counters.unitRefused).toBeGreaterThan(3);
      expect(readings).toHaveLength(before);
      stream(LINE);
      await becomes(link, 'live');
    });

    it('hears its own channel only', async () => {
      const { link, readings } = linkWith('channel-tagged', { channel: '02A' });
      stream('01A+000.1000\r02A+000.2000\r');
      await becomes(link, 'live');
      await expect.poll(() => readings.length).toBeGreaterThan(3);
      expect(new Set(readings.map((reading) => reading.channel))).toEqual(new Set(['02A']));
      expect(link.report().counters.otherChannel).toBeGreaterThan(0);
      stream('01A+000.1000\r');
      await becomes(link, 'not understood');
      expect(link.report().fault?.code).toBe('channel-not-heard');
    });

    it('asks, and reads the answers', async () => {
      const before = device.heard().length;
      const { link, readings } = linkWith('bare-number-asked');
      await expect.poll(() => device.heard().slice(before), { timeout: 3000 }).toContain('R\r\n');
      device.send(' 12.345\r\n');
      await expect.poll(() => readings.map((reading) => reading.value)).toEqual([12.345]);
      expect(state(link)).toBe('live');
    });

    it('gives no wrong number in 20 openings in the middle of a line', async () => {
      const bytes = [...LINE];
      let at = 0;
      clearInterval(sending);
      sending = setInterval(() => {
        device.send(bytes[at % bytes.length]!);
        at += 1;
      }, 1);
      let readings = 0;
      for (let opening = 0; opening < 20; opening += 1) {
        const one = linkWith('signed-decimal');
        await expect.poll(() => one.readings.length, { interval: 3 }).toBeGreaterThan(1);
        await one.link.close();
        readings += one.readings.length;
        for (const reading of one.readings)
          expect(reading).toMatchObject({ value: 12.345, unit: 'mm' });
      }
      expect(readings).toBeGreaterThanOrEqual(40);
    });
  });
}
