import { hasLines, type LineBytesSource, type LineShape } from '@taptrue/protocol';
import { SHIPPED } from '../devices/formats/shape-table.ts';
import { sourceFromText } from '../devices/transport/source-from-text.ts';
import { readArguments } from './arguments.ts';
import { Refusal } from './command.ts';
import type { ShapesIn } from './own-shapes.ts';

/** What `taptrue find` was told. */
export interface FindCommandOptions {
  source: LineBytesSource;
  shapes: readonly LineShape[];
  /** Requests may be sent. */
  ask: boolean;
  waitForKeyMs: number;
  json: boolean;
}

const OPTIONS = {
  port: { type: 'string' },
  ask: { type: 'boolean' },
  wait: { type: 'string' },
  data: { type: 'string' },
  json: { type: 'boolean' },
} as const;

const USUAL_WAIT_S = 30;
const LONGEST_WAIT_S = 600;

/** Reads the arguments; whatever does not fit is refused with the option's name and what it takes. */
export function readFindOptions(
  args: string[],
  shapesIn: ShapesIn = () => SHIPPED,
): FindCommandOptions {
  const { values, positionals } = readArguments(args, OPTIONS);
  if (positionals.length > 0) {
    throw new Refusal(`"${positionals[0]}" is not expected. Name the port with --port.`);
  }
  if (values.port === undefined) {
    throw new Refusal('--port is missing. Give a path, a name like COM3, or tcp://host:port.');
  }
  const source = sourceFromText(values.port);
  if (source.kind === 'not a source') throw new Refusal(source.why);
  if (!hasLines(source)) {
    throw new Refusal(`"${values.port}" has no lines to be found; name a serial port or tcp://.`);
  }
  return {
    source,
    shapes: shapesIn(values.data ?? null).all,
    ask: values.ask === true,
    waitForKeyMs: 1000 * waitFrom(values.wait),
    json: values.json === true,
  };
}

function waitFrom(text: string | undefined): number {
  if (text === undefined) return USUAL_WAIT_S;
  const seconds = Number(text);
  if (!/^\d+$/.test(text) || seconds > LONGEST_WAIT_S) {
    throw new Refusal(
      `--wait is "${text}"; it takes whole seconds from 0 (no waiting for a key) to ${LONGEST_WAIT_S}.`,
    );
  }
  return seconds;
}
