import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { mkdtemp, rm, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { delimiter, join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Fault, FaultCode } from '@taptrue/protocol';

/** A browser that has not printed one page by then hangs; on a busy two-core machine it takes 3 s. */
export const PRINT_TIMEOUT_MS = 60_000;

const LINUX_NAMES = [
  'chromium',
  'chromium-browser',
  'google-chrome-stable',
  'google-chrome',
  'microsoft-edge-stable',
  'microsoft-edge',
];
const MAC_PLACES = [
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  '/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge',
];
const WINDOWS_PLACES = [
  ['Google', 'Chrome', 'Application', 'chrome.exe'],
  ['Microsoft', 'Edge', 'Application', 'msedge.exe'],
  ['Chromium', 'Application', 'chrome.exe'],
];

/** A browser of this system that prints without a desktop; null: none is found. TAPTRUE_CHROMIUM names one. */
export function findPrinter(
  environment: NodeJS.ProcessEnv,
  platform: NodeJS.Platform,
): string | null {
  const named = environment.TAPTRUE_CHROMIUM;
  if (named !== undefined && named !== '') return existsSync(named) ? named : null;
  const places =
    platform === 'darwin'
      ? MAC_PLACES
      : platform === 'win32'
        ? [environment.PROGRAMFILES, environment['PROGRAMFILES(X86)'], environment.LOCALAPPDATA]
            .filter((root): root is string => root !== undefined)
            .flatMap((root) => WINDOWS_PLACES.map((place) => join(root, ...place)))
        : (environment.PATH ?? '')
            .split(delimiter)
            .filter((folder) => folder !== '')
            .flatMap((folder) => LINUX_NAMES.map((name) => join(folder, name)));
  return places.find((place) => existsSync(place)) ?? null;
}

const WAY_OUT = 'Write the sheet to a file that ends in .html and print it from any browser.';

function runPrinter(program: string, args: string[]): Promise<string | null> {
  return new Promise((done) => {
    const child = spawn(program, args, { stdio: ['ignore', 'ignore', 'pipe'] });
    let said = '';
    const timer = setTimeout(() => {
      child.kill('SIGKILL');
      done(`it did not end within ${PRINT_TIMEOUT_MS / 1000} s`);
    }, PRINT_TIMEOUT_MS);
    child.stderr.on('data', (chunk: Buffer) => {
      said = `${said}${chunk.toString('utf8')}`.slice(-300);
    });
    child.on('error', (error) => {
      clearTimeout(timer);
      done(error.message);
    });
    child.on('close', (code) => {
      clearTimeout(timer);
      done(code === 0 ? null : `exit code ${code}. ${said.trim()}`);
    });
  });
}

/** Prints one self-contained HTML page to a PDF file. The browser gets a profile of its own and no network. */
export async function printPdf(
  html: string,
  file: string,
  program: string | null,
): Promise<{ ok: true } | { ok: false; fault: Fault }> {
  const failed = (code: FaultCode, what: string, got: string): { ok: false; fault: Fault } => ({
    ok: false,
    fault: { code, what, got, remedy: WAY_OUT },
  });
  if (program === null)
    return failed(
      'no-browser',
      'No Chromium, Chrome or Edge was found to print the PDF with.',
      process.env.TAPTRUE_CHROMIUM ? `TAPTRUE_CHROMIUM=${process.env.TAPTRUE_CHROMIUM}` : '',
    );
  const folder = await mkdtemp(join(tmpdir(), 'taptrue-print-'));
  try {
    const page = join(folder, 'sheet.html');
    await writeFile(page, html);
    const isRoot = process.getuid?.() === 0;
    const failure = await runPrinter(program, [
      '--headless',
      '--disable-gpu',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
      '--disable-quic',
      ...(isRoot ? ['--no-sandbox'] : []),
      `--user-data-dir=${join(folder, 'profile')}`,
      '--no-pdf-header-footer',
      `--print-to-pdf=${resolve(file)}`,
      pathToFileURL(page).href,
    ]);
    if (failure !== null)
      return failed('print-failed', `${program} could not print the sheet.`, failure);
    const written = await stat(file).catch(() => null);
    if (written === null || written.size === 0)
      return failed('print-failed', `${program} printed nothing.`, file);
    return { ok: true };
  } finally {
    await rm(folder, { recursive: true, force: true, maxRetries: 5 }).catch(() => undefined);
  }
}
