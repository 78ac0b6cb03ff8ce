import {
  type Answer,
  type BenchState,
  type FindSection,
  type LinkConfig,
  usualRegisterRead,
} from '@taptrue/protocol';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Device } from '../link/device.ts';
import { noPtyBecause, ptyDevice } from '../link/pty-device.ts';
import { tcpDevice } from '../link/tcp-device.ts';
import { command, listening } from './running-service.ts';

/** The stranger's promise: live, correct readings in less than a minute. */
const WITHIN_MS = 60_000;

type Service = Awaited<ReturnType<typeof listening>>;

async function until<T>(look: () => T | null | false, withinMs = WITHIN_MS): Promise<T> {
  const endMs = performance.now() + withinMs;
  for (;;) {
    const seen = look();
    if (seen) return seen;
    if (performance.now() > endMs) throw new Error(`not seen within ${withinMs} ms`);
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
}

const find = (service: Service): FindSection | null => service.service.store.get('find');
const stateOf = (service: Service): BenchState['links']['indicator'] =>
  service.service.store.get('links').indicator;

/** Answers every question by what the device's screen says, until it is connected. */
async function answerBy(service: Service, screen: { number: string; unit: string }) {
  for (;;) {
    const section = await until(() => {
      const now = find(service);
      return now && ['question', 'connected', 'nothing found'].includes(now.state) ? now : null;
    });
    const { question } = section;
    if (!question) return section;
    const same = question.number === screen.number && question.unit === screen.unit;
    const answer: Answer = await command(service.port, {
      kind: 'answer find',
      answer: same ? 'yes' : 'no',
    });
    expect(answer.ok).toBe(true);
    await until(
      () =>
        find(service)?.question?.index !== question.index || find(service)?.state === 'connected',
    );
  }
}

describe.skipIf(noPtyBecause() !== null)('a stranger with a device on a pseudo-terminal', () => {
  let service: Service;
  let device: Device;
  let sending: NodeJS.Timeout;

  beforeAll(async () => {
    device = await ptyDevice();
    service = await listening();
    sending = setInterval(() => device.send('\x02+000012345\r\n'), 100);
  });
  afterAll(async () => {
    clearInterval(sending);
    await service.clear();
    await device.stop();
  });

  it('has live, correct readings in less than a minute without typing a setting', async () => {
    const beganMs = performance.now();
    const { source } = device;
    const began = await command(service.port, {
      kind: 'begin find',
      link: 'indicator',
      source,
      closeFirst: false,
    });
    expect(began).toMatchObject({ ok: true });
    // Four decimals, and inches: neither is in the line, both are answered by looking.
    const end = await answerBy(service, { number: '1.2345', unit: 'in' });
    expect(end.state).toBe('connected');
    await until(() => stateOf(service).state === 'live');
    const reading = await until(() => service.service.store.get('live').indicator);
    expect(reading).toMatchObject({ value: 1.2345, unit: 'in', decimals: 4 });
    expect(performance.now() - beganMs).toBeLessThan(WITHIN_MS);
    expect(device.heard()).toBe('');
  });

  it('is asked before a port that is in use here is taken', async () => {
    const asked = { kind: 'begin find', link: 'readout', source: device.source } as const;
    const refused = await command(service.port, { ...asked, closeFirst: false });
    expect(refused).toMatchObject({ ok: false, fault: { code: 'find-port-used' } });
    expect(await command(service.port, { ...asked, closeFirst: true })).toMatchObject({ ok: true });
    expect(stateOf(service).state).toBe('not set');
    const second = await command(service.port, { ...asked, closeFirst: true });
    expect(second).toMatchObject({ ok: false, fault: { code: 'find-goes-on' } });
    expect(await command(service.port, { kind: 'stop find' })).toMatchObject({ ok: true });
    expect(find(service)).toBeNull();
  });
});

describe.skipIf(noPtyBecause() !== null)('another screen, while a search goes on', () => {
  it('is told on which port and how to end it, and connects once it is ended', async () => {
    const service = await listening();
    const device = await ptyDevice();
    const { source } = device;
    await command(service.port, {
      kind: 'begin find',
      link: 'indicator',
      source,
      closeFirst: false,
    });
    await until(() => find(service)?.state === 'listening');
    const config = { source, shape: 'signed-decimal', unit: 'in', channel: null } as const;
    const connect = { kind: 'connect', link: 'readout', config } as const;
    const held = await command(service.port, connect);
    if (held.ok) throw new Error('it was connected');
    expect(held.fault.code).toBe('find-holds-port');
    expect(held.fault.what).toMatch(/being listened to: the indicator .* (for \d+ s|a moment)/);
    expect(held.fault.remedy).toMatch(/Stop the search/);
    expect(service.service.store.get('links').readout.state).toBe('not set');
    const modbus = { kind: 'modbus rtu', read: usualRegisterRead() } as const;
    if (source.kind !== 'serial') throw new Error('no port');
    const registers: LinkConfig = { ...config, shape: '', source: { ...source, ...modbus } };
    const heldToo = await command(service.port, { ...connect, config: registers });
    expect(heldToo).toMatchObject({ ok: false, fault: { code: 'find-holds-port' } });
    expect(await command(service.port, { kind: 'stop find' })).toMatchObject({ ok: true });
    expect(await command(service.port, connect)).toMatchObject({ ok: true });
    const live = () => service.service.store.get('links').readout.state;
    const sending = setInterval(() => device.send('+0.1234\r\n'), 50);
    await until(() => live() === 'live');
    clearInterval(sending);
    await service.clear();
    await device.stop();
  });
});

describe('a device behind a socket that is asked', () => {
  it('is found once asking is allowed, and its shape is kept', async () => {
    const service = await listening();
    const device = await tcpDevice();
    const answering = setInterval(() => {
      // It answers Q, which no shipped shape asks with.
      if (device.heard().length > answered && device.heard().slice(answered).includes('Q')) {
        device.send(' 12.345\r\n');
      }
      answered = device.heard().length;
    }, 10);
    let answered = 0;
    const { source } = device;
    await command(service.port, {
      kind: 'begin find',
      link: 'indicator',
      source,
      closeFirst: false,
    });
    await until(() => find(service)?.consent === 'wanted');
    expect(device.heard()).toBe('');
    await command(service.port, { kind: 'answer find', answer: 'may ask' });
    const end = await answerBy(service, { number: '12.345', unit: 'mm' });
    expect(end.state).toBe('connected');
    await until(() => stateOf(service).state === 'live');
    expect(stateOf(service).config?.shape).not.toBe('bare-number-asked');
    clearInterval(answering);
    await service.clear();
    await device.stop();
  });
});
