import { Worker } from 'node:worker_threads';

/** Counts of the last digit, four decimals of a millimetre. */
const DECIMALS = 4;

/** A device on a TCP port in a thread of its own, so that it is on time whatever the service does. */
const DEVICE = `
const { parentPort, workerData } = require('node:worker_threads');
const { createServer } = require('node:net');
const written = [];
const server = createServer((socket) => {
  socket.setNoDelay(true);
  socket.on('error', () => undefined);
  let count = 1;
  const timer = setInterval(() => {
    written[count] = Number(process.hrtime.bigint()) / 1e6;
    socket.write('+' + (count / 1e${DECIMALS}).toFixed(${DECIMALS}) + ' mm\\r\\n');
    count += 1;
  }, workerData.everyMs);
  socket.on('close', () => clearInterval(timer));
});
server.listen(0, '127.0.0.1', () => parentPort.postMessage({ port: server.address().port }));
parentPort.on('message', () => parentPort.postMessage({ written }));
`;

export interface TimedLines {
  port: number;
  /** When each count was written, ms of the system's monotonic clock. */
  written(): Promise<(number | undefined)[]>;
  stop(): Promise<void>;
}

export async function timedLines(everyMs: number): Promise<TimedLines> {
  const worker = new Worker(DEVICE, { eval: true, workerData: { everyMs } });
  const next = <T>() => new Promise<T>((resolve) => worker.once('message', resolve));
  const { port } = await next<{ port: number }>();
  return {
    port,
    async written() {
      const told = next<{ written: (number | undefined)[] }>();
      worker.postMessage('written');
      return (await told).written;
    },
    stop: async () => void (await worker.terminate()),
  };
}

export const countOf = (mm: number) => Math.round(mm * 10 ** DECIMALS);
export const monotonicMs = () => Number(process.hrtime.bigint()) / 1e6;
