import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { SerialPort } from 'serialport';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';

const LAUNCHER = fileURLToPath(new URL('../../../server/bin/taptrue.js', import.meta.url));
const HAS_PTY = process.platform !== 'win32' && existsSync('/dev/ptmx');

if (!HAS_PTY) console.warn('Skipped: this system has no pseudo-terminals to put a device on.');

/** A condition seen within the test's own time limit: on two busy cores a process took 15 s to start. */
async function until(what: string, seen: () => boolean): Promise<void> {
  const endMs = Date.now() + 45_000;
  while (!seen()) {
    if (Date.now() > endMs) throw new Error(`not seen: ${what}`);
    await new Promise((resolve) => setTimeout(resolve, 10));
  }
}

describe.skipIf(!HAS_PTY)('taptrue simulate on a pseudo-terminal', () => {
  let folder = '';
  let child: ChildProcess;
  let said = '';
  let exitCode: number | null | undefined;
  const ports: SerialPort[] = [];

  function start(...args: string[]) {
    said = '';
    exitCode = undefined;
    child = spawn(process.execPath, [LAUNCHER, 'simulate', ...args], {
      stdio: ['pipe', 'pipe', 'pipe'],
    });
    child.stdout!.on('data', (text) => (said += text));
    child.stderr!.on('data', (text) => (said += text));
    child.on('exit', (code) => (exitCode = code));
  }

  const type = (line: string) => child.stdin!.write(`${line}\n`);

  function listen(path: string) {
    const heard = { text: '', closed: false };
    const port = new SerialPort({ path, baudRate: 9600 });
    ports.push(port);
    port.on('data', (chunk: Buffer) => (heard.text += chunk.toString('latin1')));
    port.on('close', () => (heard.closed = true));
    return { heard, port };
  }

  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'taptrue-simulate-'));
  });

  afterEach(async () => {
    for (const port of ports.splice(0)) if (port.isOpen) port.close();
    child.kill('SIGTERM');
    await until('the simulator ended', () => exitCode !== undefined);
    rmSync(folder, { recursive: true, force: true });
  });

  test('prints a path that opens as a serial port and speaks the shape, and quits when told', async () => {
    start('--still', '--rate', '50');
    await until('a path', () =>
      /indicator: \/dev\/\S+\n[\s\S]*npm start -- --indicator/.test(said),
    );
    const { heard } = listen(/indicator: (\S+)/.exec(said)![1]!);
    await until('ten lines', () => heard.text.split('\r\n').length > 10);
    const lines = heard.text.split('\r\n').slice(1, -1);
    for (const line of lines) expect(line).toMatch(/^[+-]\d\.\d{5},in$/);
    type('quit');
    await until('the end', () => exitCode !== undefined);
    expect(exitCode).toBe(0);
  });

  test('indicator and readout move together: parked at 5 mm the readout says so, and a tap moves the needle', async () => {
    const link = join(folder, 'bench');
    start('--device', 'both', '--still', '--unit', 'mm', '--rate', '50', '--link', link);
    await until('both paths', () => said.includes(`readout: ${link}-readout`));
    const indicator = listen(`${link}-indicator`).heard;
    const readout = listen(`${link}-readout`).heard;
    type('park 5mm');
    await until('the table at 5 mm', () => readout.text.includes('X=+5.000 MM'));
    const before = indicator.text.trim().split('\r\n').at(-2);
    type('tap right away firm');
    await until('the answer', () => said.includes('firm blow'));
    indicator.text = '';
    await until('another reading', () => indicator.text.split('\r\n').length > 3);
    expect(indicator.text.split('\r\n')[1]).not.toBe(before);
  });

  test('unplugged the port closes by itself; made again it is found under the same name', async () => {
    const link = join(folder, 'gauge');
    start('--still', '--rate', '50', '--link', link);
    await until('a path', () => said.includes(`indicator: ${link}`));
    const first = listen(link).heard;
    await until('readings', () => first.text.length > 50);
    type('unplug');
    await until('the port closed', () => first.closed);
    expect(existsSync(link)).toBe(false);
    type('replug');
    await until('the port again', () => existsSync(link));
    const second = listen(link).heard;
    await until('readings again', () => second.text.length > 50);
  });

  test('asked for readings, it answers the request and stays silent without one', async () => {
    start('--still', '--shape', 'bare-number-asked');
    await until('a path', () => /indicator: \/dev\/\S+\n[\s\S]*quit/.test(said));
    // The line carries no unit, so the command to copy says it.
    expect(said).toContain('--indicator-shape bare-number-asked --indicator-unit in\n');
    const { heard, port } = listen(/indicator: (\S+)/.exec(said)![1]!);
    await until('the port open', () => port.isOpen);
    expect(heard.text).toBe('');
    port.write('R\r\n');
    await until('an answer', () => heard.text.endsWith('\r\n'));
    expect(heard.text).toMatch(/^[+-]\d\.\d{5}\r\n$/);
  });

  test('a file of the name that the port was to have stays as it is', async () => {
    const link = join(folder, 'sweep.csv');
    writeFileSync(link, 'position_in,reading_in');
    start('--still', '--link', link);
    await until('the end', () => exitCode !== undefined);
    expect(exitCode).toBe(3);
    expect(said).toContain(`${link} is a file already and stays as it is. Give another --link.`);
    expect(readFileSync(link, 'utf8')).toBe('position_in,reading_in');
  });

  test('lines that lay unread before the port was opened are not taken for what is measured now', async () => {
    start('--still', '--rate', '1000');
    await until('a path', () => /indicator: \/dev\/\S+/.test(said));
    // More than the 18 kB that the system keeps: the rest is dropped, the simulator goes on.
    await new Promise((resolve) => setTimeout(resolve, 3000));
    const answered = said.length;
    // What lies unread was told before this move of 1 mm; what is heard from here on must be told after it.
    type('saddle 1mm');
    await until('an answer', () => said.length > answered);
    const { heard } = listen(/indicator: (\S+)/.exec(said)![1]!);
    const whole = () => heard.text.split('\r\n').slice(1, -1).map(Number.parseFloat);
    await until('readings', () => whole().length > 200);
    const [first] = whole();
    const last = whole().at(-1)!;
    expect(Math.abs(first! - last), `${first} in is heard first, ${last} in later`).toBeLessThan(
      0.01,
    );
  });

  test('Ctrl-C ends it in order, and takes the port and its name away', async () => {
    const link = join(folder, 'gauge');
    start('--still', '--link', link);
    await until('a path', () => said.includes('quit or Ctrl-C'));
    child.kill('SIGINT');
    await until('the end', () => exitCode !== undefined);
    expect(exitCode).toBe(0);
    expect(existsSync(link)).toBe(false);
  });
});
