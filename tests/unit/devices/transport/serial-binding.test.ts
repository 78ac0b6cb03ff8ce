import type { Fault } from '@taptrue/protocol';
import { SerialTransport } from '@taptrue/server/devices/transport/serial.ts';
import { type SerialPort, SerialPortMock } from 'serialport';
import { afterEach, describe, expect, it } from 'vitest';

const PATH = '/dev/mocked';
const mock = SerialPortMock.binding;
const binding = mock as unknown as typeof SerialPort.binding;

function transport(path = PATH) {
  const heard = { opened: 0, bytes: '', closed: [] as (Fault | null)[] };
  const serial = new SerialTransport({
    path,
    settings: { baudRate: 9600, dataBits: 8, parity: 'none', stopBits: 1 },
    signals: { dtr: true, rts: false },
    now: () => 0,
    binding,
    system: 'linux',
  });
  serial.open({
    opened: () => {
      heard.opened += 1;
    },
    bytes: (chunk) => {
      heard.bytes += Buffer.from(chunk).toString('latin1');
    },
    closed: (fault) => heard.closed.push(fault),
  });
  return { serial, heard };
}

const opened = (heard: { opened: number }) => expect.poll(() => heard.opened).toBe(1);

describe('a serial port, on a mocked binding', () => {
  afterEach(() => mock.reset());

  it('opens, sets its modem lines, hears bytes as they are, and closes without a fault', async () => {
    mock.createPort(PATH, { echo: true, record: true });
    const { serial, heard } = transport();
    await opened(heard);
    serial.write(Buffer.from('\x02\xff\r', 'latin1'));
    await expect.poll(() => heard.bytes).toBe('\x02\xff\r');
    expect(await serial.leadSigns()).toEqual({
      setsLines: true,
      status: { cts: true, dsr: false, dcd: false },
    });
    await serial.close();
    expect(await serial.leadSigns()).toEqual({ setsLines: true, status: null });
    expect(heard.closed).toEqual([null]);
  });

  it('that is not there closes with the reason', async () => {
    const { heard } = transport('/dev/nowhere');
    await expect.poll(() => heard.closed.length).toBe(1);
    expect(heard.closed[0]).toMatchObject({ what: expect.stringContaining('/dev/nowhere') });
  });

  it('that refuses its modem lines stays open, and says that it does', async () => {
    mock.createPort(PATH, { echo: true });
    const original = mock.open.bind(mock);
    const refusing = {
      ...mock,
      list: mock.list,
      open: async (options: Parameters<typeof mock.open>[0]) => {
        const port = await original(options);
        const refused = () => Promise.reject(new Error('Error: Inappropriate ioctl for device'));
        port.set = refused;
        port.get = refused;
        return port;
      },
    };
    const heard = { opened: 0, closed: 0 };
    const serial = new SerialTransport({
      path: PATH,
      settings: { baudRate: 9600, dataBits: 8, parity: 'none', stopBits: 1 },
      signals: { dtr: true, rts: true },
      now: () => 0,
      binding: refusing as unknown as typeof SerialPort.binding,
    });
    serial.open({
      opened: () => {
        heard.opened += 1;
      },
      bytes: () => undefined,
      closed: () => {
        heard.closed += 1;
      },
    });
    await opened(heard);
    await new Promise((resolve) => setTimeout(resolve, 30));
    expect(await serial.leadSigns()).toEqual({ setsLines: false, status: null });
    expect(heard.closed).toBe(0);
    await serial.close();
  });

  it('closed while it is still opening is let go of', async () => {
    mock.createPort(PATH);
    const { serial, heard } = transport();
    await serial.close();
    expect(heard).toMatchObject({ opened: 0, closed: [null] });
    const again = transport();
    await opened(again.heard);
    await again.serial.close();
  });
});
