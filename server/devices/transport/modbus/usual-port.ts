import type { LineShape } from '@taptrue/protocol';

/** As the standard has it where nothing else is set: even parity, 19200 baud. */
export const MODBUS_PORT: Pick<LineShape, 'port' | 'signals'> = {
  port: { baudRate: 19200, dataBits: 8, parity: 'even', stopBits: 1 },
  signals: { dtr: true, rts: true },
};
