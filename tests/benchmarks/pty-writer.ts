import { openPty, type PtyPort } from '@taptrue/simulators/over-pty.ts';

// The writing end of the pseudo-terminal in a process of its own: it must not wait for what it is measured
// against, and with both ends in one process a large transfer was measured to hang.

export interface WriteOrder {
  firstCount: number;
  lines: number;
  everyMs: number;
}
/** A line said `count` of the last digit; its last byte was handed to the system at `atMs`. */
export interface WrittenLine {
  count: number;
  atMs: number;
}
export type WriterAnswer =
  | { answer: 'open'; path: string }
  | { answer: 'no pty'; why: string }
  | { answer: 'written'; lines: WrittenLine[] };

/** Counts of the last digit shown, four decimals of a millimetre. */
const DECIMALS = 4;

const tell = (answer: WriterAnswer) => process.send?.(answer);
/** The system's monotonic clock, the same in every process of this machine. */
const monotonicMs = () => Number(process.hrtime.bigint()) / 1e6;

async function write(port: PtyPort, { firstCount, lines, everyMs }: WriteOrder): Promise<void> {
  const written: WrittenLine[] = [];
  const startedAtMs = monotonicMs();
  for (let index = 0; index < lines; index += 1) {
    const waitMs = startedAtMs + index * everyMs - monotonicMs();
    await new Promise((resolve) => setTimeout(resolve, Math.max(0, waitMs)));
    const count = firstCount + index;
    const text = `+${(count / 10 ** DECIMALS).toFixed(DECIMALS)} mm\r\n`;
    // Before the call: what the writing itself takes is part of the way.
    const atMs = monotonicMs();
    port.write(Buffer.from(text, 'latin1'));
    written.push({ count, atMs });
  }
  tell({ answer: 'written', lines: written });
}

try {
  const port = await openPty();
  process.on('message', (order) => void write(port, order as WriteOrder));
  process.on('disconnect', () => void port.close().then(() => process.exit(0)));
  tell({ answer: 'open', path: port.path });
} catch (error) {
  tell({ answer: 'no pty', why: error instanceof Error ? error.message : String(error) });
  process.disconnect();
}
