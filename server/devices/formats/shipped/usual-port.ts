import type { PortSettings } from '@taptrue/protocol';

/** 9600 8N1: by far the commonest setting met in instrument documents. The user can set another. */
export const USUAL_PORT: PortSettings = {
  baudRate: 9600,
  dataBits: 8,
  parity: 'none',
  stopBits: 1,
};

/** Port-powered leads draw on DTR; both lines raised is what an opened port has by itself. */
export const BOTH_SIGNALS_UP = { dtr: true, rts: true };
