import type { Fault } from '@taptrue/protocol';
import { linesWords } from './find-words.ts';
import type { PowerSeen, StatusLine } from './power-evidence.ts';

/** What was done to wake the device, beside listening. */
export interface Tried {
  asked: boolean;
  keyed: boolean;
}

/**
 * Not a byte came on a serial port: what the lines beside the data tell of why, no more than they tell.
 *
 * An interface without a supply takes its power from DTR and RTS; a device that has power switches CTS, DSR
 * or DCD on, where its lead has those wires (V.24 circuits 106, 107, 109; that many leads have only the data
 * wires is common practice, no source).
 */
export function silence(title: string, seen: PowerSeen, tried: Tried): Fault {
  switch (seen.kind) {
    case 'refused':
      return noPower(title);
    case 'not seen':
      return nothingCame(title, tried);
    case 'never on':
      return noPowerSeen(title, tried);
    case 'on by itself':
      return farEndOn(
        title,
        tried,
        `${lineWords(seen.on)} at the far end, whatever DTR and RTS are: most likely something there has power`,
        `${names(seen.on)} on at every level of DTR and RTS`,
        'Pull the lead out of the device and find again: where the same is said, it is the adapter or the lead that switches it on.',
      );
    case 'across':
      return farEndOn(
        title,
        tried,
        `${lineWords(seen.on)} with ${linesWords(seen.lines)} and not otherwise: the lead takes its power from these lines and has it so`,
        `${names(seen.on)} on only with ${linesWords(seen.lines)}`,
        '',
      );
    case 'comes and goes':
      return farEndOn(
        title,
        tried,
        `${lineWords(seen.on)} at times: something is at the far end, and its power or its plug may come and go`,
        `${names(seen.on)} on at times`,
        'Push the plugs home and hold the lead still.',
      );
    case 'ours sent back':
      return leadSendsBack(title, tried, seen);
  }
}

function nothingCame(title: string, tried: Tried): Fault {
  return {
    code: 'find-nothing-came',
    what: `Nothing at all came on ${title}, with any speed, parity or level of DTR and RTS.`,
    got: `nothing; ${triedWords(tried)}; the lines CTS, DSR and DCD could not be read here`,
    remedy:
      `Check that the device is switched on, set to send, and plugged into this port; some leads cross two wires and need the other kind. Whether the lead has power cannot be seen on this port. ${stillToTry(tried)}`.trim(),
  };
}

function noPower(title: string): Fault {
  return {
    code: 'find-no-power',
    what: `Nothing came on ${title}, and this port cannot raise DTR and RTS: a lead that is fed by the port has no power.`,
    got: 'the port refused to set DTR and RTS',
    remedy:
      'Plug the lead into another port or adapter, one with all nine pins connected. If the device has a supply of its own, check that it is on and set to send.',
  };
}

function noPowerSeen(title: string, tried: Tried): Fault {
  return {
    code: 'find-no-power-seen',
    what: `Nothing came on ${title}, and no power is seen on the interface lines: CTS, DSR and DCD stayed off at every level of DTR and RTS.`,
    got: `nothing; CTS off, DSR off, DCD off; ${triedWords(tried)}`,
    remedy:
      `Check that the lead is in at both ends and the device is on. A lead without a battery lives on DTR and RTS: try an adapter that has all nine pins and drives them with full voltage. A lead with only the data wires, or a device that is itself plugged in by USB, shows no such lines: then it is only silent; check that it is set to send. ${stillToTry(tried)}`.trim(),
  };
}

function farEndOn(title: string, tried: Tried, what: string, got: string, doubt: string): Fault {
  return {
    code: 'find-far-end-on',
    what: `Nothing came on ${title}, but ${what}.`,
    got: `nothing; ${got}; ${triedWords(tried)}`,
    remedy:
      `The device is silent, or sends only when it is asked or its key is pressed: check that it is set to send. ${stillToTry(tried)} ${doubt}`
        .replaceAll(/\s+/g, ' ')
        .trim(),
  };
}

function leadSendsBack(
  title: string,
  tried: Tried,
  { asDtr, asRts }: PowerSeen & { kind: 'ours sent back' },
): Fault {
  const each = [
    asDtr.length > 0 && `${names(asDtr)} with DTR`,
    asRts.length > 0 && `${names(asRts)} with RTS`,
  ];
  const follows = each.filter(Boolean).join(', ');
  const one = asDtr.length + asRts.length === 1;
  return {
    code: 'find-lead-sends-back',
    what: `Nothing came on ${title}. At the far end ${one ? 'a line goes' : 'lines go'} on and off with ours, ${follows}: a lead is plugged in that is bridged or fed so. Whether the device has power cannot be told from that.`,
    got: `nothing; ${follows}; ${triedWords(tried)}`,
    remedy:
      `Check that the device is on, set to send, and joined to the other end of the lead. ${stillToTry(tried)}`.trim(),
  };
}

function names(on: readonly StatusLine[]): string {
  const all = on.map((line) => line.toUpperCase());
  return all.length < 2 ? all.join('') : `${all.slice(0, -1).join(', ')} and ${all.at(-1)}`;
}

function lineWords(on: readonly StatusLine[]): string {
  return on.length === 1 ? `the line ${names(on)} is on` : `the lines ${names(on)} are on`;
}

function triedWords({ asked, keyed }: Tried): string {
  return [
    asked ? 'asked' : 'not asked',
    keyed ? 'its key waited for' : 'its key not waited for',
  ].join(', ');
}

function stillToTry({ asked, keyed }: Tried): string {
  return [
    asked ? '' : 'If it sends only when asked, let it be asked.',
    keyed ? '' : 'If it sends only at its key, press the key while it is waited for.',
  ]
    .filter(Boolean)
    .join(' ');
}
