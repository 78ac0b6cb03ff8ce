import type { Fault } from '@taptrue/protocol';
import type { PortFacts } from './port-facts.ts';

/** What was being opened or read when the system gave its error. */
export interface PortErrorPlace {
  /** The port as the user knows it: `/dev/ttyUSB0`, `COM3`, `tcp://192.168.1.20:4001`. */
  title: string;
  /** `process.platform`, as an argument. */
  system: string;
  /** What was found out about it, where anything was. */
  facts?: PortFacts;
}

type Explanation = (place: PortErrorPlace) => Omit<Fault, 'got'>;

/** First match wins. Systems differ in code and in words for the same thing, so both are looked at. */
const KNOWN: readonly { codes: readonly string[]; words: readonly string[]; say: Explanation }[] = [
  {
    codes: ['EACCES', 'EPERM'],
    words: ['permission denied', 'operation not permitted'],
    say: (place) => ({
      code: 'port-no-permission',
      what: `This user may not open ${place.title}.`,
      remedy: permissionRemedy(place),
    }),
  },
  {
    codes: ['EBUSY', 'EAGAIN'],
    words: [
      'cannot lock port',
      'resource busy',
      'access denied',
      'resource temporarily unavailable',
    ],
    say: busy,
  },
  {
    codes: ['ENOENT', 'ENODEV'],
    words: ['file not found', 'no such file', 'no such device or address, cannot open'],
    say: ({ title, system }) => ({
      code: 'port-not-found',
      what: `There is no port ${title}.`,
      remedy:
        `Plug the device in, or pick its port from the list (taptrue ports). ${NAME_ADVICE[system] ?? ''}`.trim(),
    }),
  },
  {
    codes: ['ENXIO', 'EBADF', 'EIO'],
    words: [
      'bad file descriptor',
      'input/output error',
      'no such device',
      'device not configured',
      'operation aborted',
      'reading from com port',
      'writing to com port',
    ],
    say: ({ title }) => ({
      code: 'port-gone',
      what: `${title} is gone: the device or its cable was unplugged.`,
      remedy: 'Plug it in again; it is taken up by itself within two seconds.',
    }),
  },
  {
    codes: ['ENOTTY', 'EISDIR'],
    words: ['inappropriate ioctl', 'is a directory', 'not a typewriter'],
    say: ({ title }) => ({
      code: 'port-not-serial',
      what: `${title} is not a serial port.`,
      remedy: 'Pick a port from the list (taptrue ports).',
    }),
  },
  {
    codes: ['EINVAL'],
    words: ['invalid argument', 'error setting', 'baud rate', 'unknown error code 87'],
    say: ({ title }) => ({
      code: 'port-setting-refused',
      what: `${title} does not take the speed, data bits or parity that were set.`,
      remedy: 'Set what the device and its adapter can do; 9600 8N1 is the commonest.',
    }),
  },
  {
    codes: ['ECONNREFUSED'],
    words: [],
    say: ({ title }) => ({
      code: 'connection-refused',
      what: `The machine at ${title} answers, but nothing listens on that port number.`,
      remedy:
        'Look up the port number in the settings of whatever puts the device on the network: a serial device server, a gateway, or the device itself.',
    }),
  },
  {
    codes: ['ETIMEDOUT', 'EHOSTUNREACH', 'ENETUNREACH', 'EHOSTDOWN'],
    words: [],
    say: ({ title }) => ({
      code: 'connection-timed-out',
      what: `Nothing answers at ${title}.`,
      remedy:
        'Check that the device has power and network, and whatever box puts it on the network too; then the address.',
    }),
  },
  {
    codes: ['ENOTFOUND', 'EAI_AGAIN', 'EAI_NONAME'],
    words: [],
    say: ({ title }) => ({
      code: 'host-not-found',
      what: `The name in ${title} is not known on this network.`,
      remedy: 'Check its spelling, or use the numeric address, such as 192.168.1.20.',
    }),
  },
  {
    codes: ['ECONNRESET', 'EPIPE', 'ECONNABORTED'],
    words: [],
    say: ({ title }) => ({
      code: 'connection-lost',
      what: `The connection to ${title} was broken off.`,
      remedy:
        'Check power and network of the device and of whatever box puts it on the network; it is tried again by itself.',
    }),
  },
];

/** The system's error in the user's words: what happened, what the system said, what to do. Pure. */
export function explainPortError(error: unknown, place: PortErrorPlace): Fault {
  const said = error instanceof Error ? error.message : String(error);
  const code = codeOf(error);
  const words = said.toLowerCase();
  const known =
    KNOWN.find((row) => code !== null && row.codes.includes(code)) ??
    KNOWN.find((row) => row.words.some((part) => words.includes(part)));
  const explained = known?.say(place) ?? {
    code: 'port-failed',
    what: `${place.title} failed.`,
    remedy: 'Unplug the device, plug it in again and try once more; it is tried again by itself.',
  };
  return { ...explained, got: said };
}

function codeOf(error: unknown): string | null {
  if (typeof error !== 'object' || error === null || !('code' in error)) return null;
  return typeof error.code === 'string' ? error.code : null;
}

/** What a port that is not there may be called instead. */
const NAME_ADVICE: Readonly<Record<string, string>> = {
  linux: 'A port may have another name after replugging; the names under by-id stay.',
  darwin:
    'On a Mac the name begins with /dev/cu. (not /dev/tty.); where no such name appears, the adapter’s driver is missing.',
  win32:
    'Windows gives another COM number in another socket; look under Device Manager, Ports. Numbers over 9 are typed like the others: COM12.',
};

function busy({ title, facts }: PortErrorPlace): Omit<Fault, 'got'> {
  const holder = facts?.heldBy ?? null;
  if (holder === 'this program itself') {
    return {
      code: 'port-busy',
      what: `This program has ${title} open already, for the other device.`,
      remedy: 'Disconnect the other device first, or choose another port for this one.',
    };
  }
  return {
    code: 'port-busy',
    what: `${holder === null ? 'Another program' : `The program ${holder}`} has ${title} open.`,
    remedy: `Close ${holder ?? 'the other program (a terminal, another bench)'}; this one tries again by itself.`,
  };
}

function permissionRemedy({ system, facts }: PortErrorPlace): string {
  if (system === 'linux') return linuxPermission(facts);
  if (system === 'darwin') {
    return 'Allow this program to use accessories under System Settings, Privacy & Security, or install the adapter driver.';
  }
  return 'Close other programs that use the port; if it stays, start this one as a user that may use it.';
}

function linuxPermission(facts: PortFacts | undefined): string {
  const user = facts?.user ?? '$USER';
  if (facts?.joinedSinceLogin) {
    return `${user} was added to the group ${facts.group}, but is still logged in from before. Log out and in again, or restart the computer.`;
  }
  if (facts && facts.group === null) {
    return `The port belongs to the administrator alone. Let one give it to a group (a udev rule with GROUP="dialout"), then add the user to it: sudo usermod -a -G dialout ${user}. Then log out and in again.`;
  }
  const group = facts?.group ?? 'dialout';
  const others = facts?.group ? '' : ' (dialout; uucp on some systems)';
  return `Add the user to the group that owns the port${others}: sudo usermod -a -G ${group} ${user}. Then log out and in again.`;
}
