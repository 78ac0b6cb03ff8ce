import type { Fault } from '@taptrue/protocol';
import { linesWords } from './find-words.ts';
import type { ControlLines } from './settings-tried.ts';

/** Why a search ended without a device: what happened, what was got, what to do. One function a reason. */

export function openingHangs(title: string, withinMs: number): Fault {
  return {
    code: 'opening-hangs',
    what: `${title} could not be opened within ${withinMs / 1000} s.`,
    got: '',
    remedy: 'Unplug the adapter, plug it in again, and find again.',
  };
}

export function socketSilent(title: string, asked: boolean): Fault {
  return {
    code: 'find-socket-silent',
    what: `${title} takes the connection and says nothing.`,
    got: asked ? 'nothing, also when asked' : 'nothing; it was not asked',
    remedy:
      `Check that the device behind it is on and set to send, and the speed and parity set in the serial device server itself: here they cannot be tried. ${asked ? '' : 'If the device sends only when asked, let it be asked.'}`.trim(),
  };
}

export function onlyEcho(title: string): Fault {
  return {
    code: 'find-echo',
    what: `Whatever is sent on ${title} comes straight back, and nothing else comes.`,
    got: 'the requests themselves',
    remedy:
      'The lead sends back what it is sent, as two-wire leads do, or its two data wires are joined. Check that the device is on and joined to the lead.',
  };
}

export function tooMuch(title: string, bytesPerSecond: number): Fault {
  return {
    code: 'find-too-much',
    what: `${title} sends more than any measuring device does; it is no longer listened to.`,
    got: `${Math.round(bytesPerSecond / 1000)} kB a second`,
    remedy: 'Check that this is the right port or address.',
  };
}

export function noneFits(title: string, shown: readonly string[]): Fault {
  return {
    code: 'find-none-fits',
    what: `Readings were understood on ${title}, but none of them was what the device shows.`,
    got: shown.join('; '),
    remedy:
      'Look whether the device shows another axis, or holds its reading. If its lines mean something else, teach their shape.',
  };
}

export function shapeNotRecognised(
  title: string,
  setting: string,
  lines: readonly string[],
): Fault {
  return {
    code: 'find-shape-not-known',
    what: `${title} sends whole lines of text${setting}, but no known line shape reads them.`,
    got: [...new Set(lines.map(withoutEnd))].join(', '),
    remedy: 'Teach the shape of these lines on the page, under Devices: they are taken over there.',
  };
}

/** The line end says nothing to whoever compares a line with a display. */
function withoutEnd(line: string): string {
  return line.replace(/(\\r|\\n)+$/, '');
}

export function parityNotRight(title: string, setting: string, lines: readonly string[]): Fault {
  return {
    code: 'find-wrong-parity',
    what: `On ${title}${setting} digits come, but characters between them are missing or wrong, with every parity that was tried.`,
    got: lines.join(' '),
    remedy:
      'Look up data bits and parity in the device’s own settings, and set them here by hand. Where its parity can be changed, set none.',
  };
}

export function fedByLines(title: string, lines: ControlLines): Fault {
  return {
    code: 'find-fed-by-lines',
    what: `${title} is silent as a port usually opens, and speaks with ${linesWords(lines)}: the lead is fed by these lines. What it says is not understood.`,
    got: linesWords(lines),
    remedy: 'Use a short lead on an adapter with full voltage, or give the lead its own supply.',
  };
}

export function noSettingFits(title: string, bytes: number): Fault {
  return {
    code: 'find-no-setting-fits',
    what: `Bytes come on ${title}, but with no speed and parity do they make lines with a number.`,
    got: `${bytes} bytes`,
    remedy:
      'It may be noise on an open lead: unplug the device and see whether they stop. Otherwise look up its speed and parity, or teach the shape of what it sends.',
  };
}
