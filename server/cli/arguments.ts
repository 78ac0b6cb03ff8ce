import { type ParseArgsConfig, parseArgs } from 'node:util';
import { Refusal } from './command.ts';

type Options = NonNullable<ParseArgsConfig['options']>;

/** `-0.001in` or `-.5` after an option is its value, not another option. */
const NEGATIVE_VALUE = /^-(\d|[.,]\d)/;

function joinNegativeValues(args: string[], options: Options): string[] {
  const joined: string[] = [];
  for (let index = 0; index < args.length; index += 1) {
    const arg = args[index]!;
    const next = args[index + 1];
    const takesText = arg.startsWith('--') && options[arg.slice(2)]?.type === 'string';
    if (takesText && next !== undefined && NEGATIVE_VALUE.test(next)) {
      joined.push(`${arg}=${next}`);
      index += 1;
    } else {
      joined.push(arg);
    }
  }
  return joined;
}

/**
 * Reads options by their table; anything unknown or without its value is refused with the option's name.
 * Values stay text: lengths and angles are read, with their units, where they are used.
 */
export function readArguments<T extends Options>(args: string[], options: T) {
  try {
    return parseArgs({
      args: joinNegativeValues(args, options),
      options,
      allowPositionals: true,
      strict: true,
    });
  } catch (error) {
    throw new Refusal(error instanceof Error ? error.message : String(error));
  }
}
