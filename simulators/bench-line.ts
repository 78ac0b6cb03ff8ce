import { type DemoAct, parseLengthMm, STAGES, type Stage } from '@taptrue/protocol';
import type { Blow } from './vise.ts';

/** What a line typed beside a running simulation asks for. */
export type BenchLine =
  | { kind: 'act'; act: DemoAct }
  | { kind: 'stage'; stage: Stage }
  | { kind: 'traverse'; to: 'left' | 'right' }
  | { kind: 'park'; xMm: number }
  | { kind: 'play' }
  | { kind: 'where' }
  | { kind: 'unplug' }
  | { kind: 'replug' }
  | { kind: 'help' }
  | { kind: 'quit' };

export type ReadLine = { ok: true; line: BenchLine } | { ok: false; why: string };

/** Where the mallet strikes when only an end is named, mm: the cheeks of a 6 in vise. */
const MALLET_MM = { left: -20, right: 147 } as const;
const BLOWS: readonly Blow[] = ['light', 'medium', 'firm'];

export const BENCH_LINES_HELP = [
  '  left, right             traverse to that end of the bar',
  '  stop                    stop the table',
  '  park 127mm              bring the stylus to this place of the bar and leave it there',
  '  play                    traverse back and forth again',
  '  tap right away medium   a blow of the mallet: left, right or a place such as 100mm;',
  '                          away or toward; light, medium or firm',
  '  stage snug              clamps: free, nipped, snug, tight',
  '  saddle 0.1mm            move the surface toward the column by this much (minus: toward you)',
  '  send                    press the send key of the indicator',
  '  zero                    zero the indicator where it stands',
  '  where                   say where everything stands',
  '  unplug, replug          take the ports away, and make them again',
  '  new                     another vise',
  '  quit                    end',
].join('\n');

function refused(why: string): ReadLine {
  return { ok: false, why: `${why} Type help for what can be typed.` };
}

function act(asked: DemoAct): ReadLine {
  return { ok: true, line: { kind: 'act', act: asked } };
}

function readTap(words: readonly string[]): ReadLine {
  const [place = '', way = '', strength = 'medium'] = words;
  const blow = BLOWS.find((one) => one === strength);
  if (way !== 'away' && way !== 'toward') {
    return refused(`A tap goes away or toward, got "${way}": tap right away medium.`);
  }
  if (blow === undefined) {
    return refused(`A blow is light, medium or firm, got "${strength}".`);
  }
  if (place === 'left' || place === 'right') {
    return act({ act: 'strike', xMm: MALLET_MM[place], way, blow });
  }
  const length = parseLengthMm(place);
  if (!length.ok) return refused(`A tap is at left, right or a place: ${length.why}.`);
  return act({ act: 'strike', xMm: length.value, way, blow });
}

function readLength(text: string, use: (mm: number) => ReadLine): ReadLine {
  const length = parseLengthMm(text);
  return length.ok ? use(length.value) : refused(`${length.why}.`);
}

/** One typed line, understood; an empty one is help. */
export function readBenchLine(text: string): ReadLine {
  const [verb = 'help', ...words] = text.trim().toLowerCase().split(/\s+/).filter(Boolean);
  switch (verb) {
    case 'left':
    case 'right':
      return { ok: true, line: { kind: 'traverse', to: verb } };
    case 'help':
    case 'play':
    case 'where':
    case 'unplug':
    case 'replug':
    case 'quit':
      return { ok: true, line: { kind: verb } };
    case 'stop':
      return act({ act: 'stop table' });
    case 'send':
      return act({ act: 'send key' });
    case 'zero':
      return act({ act: 'zero indicator' });
    case 'new':
      return act({ act: 'new vise' });
    case 'tap':
      return readTap(words);
    case 'park':
      return readLength(words.join(''), (xMm) => ({ ok: true, line: { kind: 'park', xMm } }));
    case 'saddle':
      return readLength(words.join(''), (mm) =>
        Math.abs(mm) <= 1
          ? act({ act: 'saddle', towardColumnMm: mm })
          : refused('The saddle is jogged by 1 mm at most at a time.'),
      );
    case 'stage': {
      const stage = STAGES.find((one) => one === words[0]);
      if (stage) return { ok: true, line: { kind: 'stage', stage } };
      return refused(`A stage is ${STAGES.join(', ')}, got "${words[0] ?? ''}".`);
    }
    default:
      return refused(`"${text.trim()}" is not understood.`);
  }
}
