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
    throw new Refusal(inOurWords(error, options));
  }
}

/** The library's sentences tell how to quote an odd file name; ours, which options there are. */
function inOurWords(error: unknown, options: Options): string {
  const { message, code } = error as { message: string; code?: string };
  const named = /'(--?[^\s'=,]+)/.exec(message)?.[1] ?? 'an option';
  if (code === 'ERR_PARSE_ARGS_UNKNOWN_OPTION') {
    const known = Object.keys(options).map((name) => `--${name}`);
    return `There is no option ${named} here. Known: ${known.join(', ')}.`;
  }
  if (code === 'ERR_PARSE_ARGS_INVALID_OPTION_VALUE') {
    const spelled = Object.keys(options).find((name) => message.includes(`--${name}`));
    const takesText = spelled !== undefined && options[spelled]?.type === 'string';
    return takesText
      ? `${named} wants a value after it, such as ${named} VALUE.`
      : `${named} takes no value.`;
  }
  return message;
}
