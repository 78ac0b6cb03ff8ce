import { execFile } from 'node:child_process';
import { existsSync } from 'node:fs';
import { mkdir } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { homedir } from 'node:os';
import { delimiter, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { promisify } from 'node:util';
import { type Browser, chromium } from 'playwright-core';

/** Runs on Linux x64 without anything installed; 88 MB, so fetched only where no browser is found. */
const PACKAGED_CHROMIUM = '@sparticuz/chromium@143.0.4';
const FETCH_TIMEOUT_MS = 180_000;

/** As root there is no sandbox; the rest keeps the browser from asking the network for anything. */
const FLAGS = [
  '--no-sandbox',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--no-first-run',
  '--disable-gpu',
  '--disable-quic',
];

const LINUX_NAMES = [
  'chromium',
  'chromium-browser',
  'google-chrome-stable',
  'google-chrome',
  'microsoft-edge-stable',
  'microsoft-edge',
];

interface FoundChromium {
  executablePath: string;
  extraFlags: string[];
}

function usualPlaces(): string[] {
  if (process.platform === 'darwin') {
    return [
      '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
      '/Applications/Chromium.app/Contents/MacOS/Chromium',
      '/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge',
    ];
  }
  if (process.platform === 'win32') {
    const { PROGRAMFILES, 'PROGRAMFILES(X86)': PROGRAMFILES_X86, LOCALAPPDATA } = process.env;
    const roots = [PROGRAMFILES, PROGRAMFILES_X86, LOCALAPPDATA].filter(
      (root): root is string => root !== undefined,
    );
    return roots.flatMap((root) => [
      join(root, 'Google', 'Chrome', 'Application', 'chrome.exe'),
      join(root, 'Microsoft', 'Edge', 'Application', 'msedge.exe'),
      join(root, 'Chromium', 'Application', 'chrome.exe'),
    ]);
  }
  const folders = (process.env.PATH ?? '').split(delimiter).filter((folder) => folder !== '');
  return LINUX_NAMES.flatMap((name) => folders.map((folder) => join(folder, name)));
}

/** The browser the tests run in: the one named by TAPTRUE_CHROMIUM, one of this system, or a packaged one. */
export async function findChromium(): Promise<FoundChromium> {
  const named = process.env.TAPTRUE_CHROMIUM;
  if (named !== undefined && named !== '') {
    if (!existsSync(named)) {
      throw new Error(
        `TAPTRUE_CHROMIUM names "${named}", and there is no such file. Name a Chromium, Chrome or Edge, or unset it.`,
      );
    }
    return { executablePath: named, extraFlags: [] };
  }
  const installed = usualPlaces().find((path) => existsSync(path));
  if (installed !== undefined) return { executablePath: installed, extraFlags: [] };
  if (process.platform === 'linux' && process.arch === 'x64') return fetchPackaged();
  throw new Error(
    'No Chromium, Chrome or Edge was found on this computer. Install one, or set TAPTRUE_CHROMIUM to its path.',
  );
}

async function fetchPackaged(): Promise<FoundChromium> {
  const folder = join(process.env.XDG_CACHE_HOME ?? join(homedir(), '.cache'), 'taptrue-chromium');
  const packageFolder = join(folder, 'node_modules', '@sparticuz', 'chromium');
  if (!existsSync(packageFolder)) {
    await mkdir(folder, { recursive: true });
    const install = ['install', '--prefix', folder, '--no-audit', '--no-fund', PACKAGED_CHROMIUM];
    await promisify(execFile)('npm', install, { timeout: FETCH_TIMEOUT_MS }).catch((error) => {
      throw new Error(
        `No browser was found, and ${PACKAGED_CHROMIUM} could not be fetched: ${String(error)} Install Chromium, or set TAPTRUE_CHROMIUM to its path.`,
      );
    });
  }
  const entry = createRequire(join(folder, 'package.json')).resolve('@sparticuz/chromium');
  const packaged = (await import(pathToFileURL(entry).href)) as {
    default: { executablePath(): Promise<string>; args: string[] };
  };
  return {
    executablePath: await packaged.default.executablePath(),
    extraFlags: packaged.default.args,
  };
}

/** A headless browser of its own profile; the caller closes it. */
export async function launchChromium(): Promise<Browser> {
  const { executablePath, extraFlags } = await findChromium();
  return chromium.launch({ executablePath, headless: true, args: [...FLAGS, ...extraFlags] });
}
