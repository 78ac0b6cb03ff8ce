import type { LinkConfig, Parsed } from '@taptrue/protocol';
import { hostAndPort, wholeNumber } from './typed-numbers.ts';

/** The form for a machine's agent, as it was typed and chosen. */
export interface TypedAgent {
  place: string;
  /** Empty: the agent has one machine. */
  machine: string;
  item: string;
  second: string;
  way: 'stream' | 'poll';
  everyMs: string;
}

export function firstAgent(): TypedAgent {
  return { place: '', machine: '', item: 'X', second: '', way: 'stream', everyMs: '50' };
}

const AGENT_PORT = 5000;

/** What was typed, as a link is told it; or the first thing that does not fit, in words. */
export function agentConfigOf(typed: TypedAgent): Parsed<LinkConfig> {
  const [, scheme = '', rest = ''] = /^\s*(?:(https?):\/\/)?(.*?)\/*\s*$/i.exec(typed.place) ?? [];
  const place = hostAndPort(rest, AGENT_PORT);
  if (!place.ok) return place;
  const item = typed.item.trim();
  if (item === '') return { ok: false, why: 'Name the axis that is swept, such as X.' };
  const everyMs = wholeNumber(typed.everyMs, 'time between values', 20, 10_000);
  if (!everyMs.ok) return everyMs;
  const machine = typed.machine.trim().replace(/^\/+|\/+$/g, '');
  const second = typed.second.trim();
  return {
    ok: true,
    value: {
      source: {
        kind: 'mtconnect',
        ...place.value,
        ...(scheme.toLowerCase() === 'https' ? { secure: true } : {}),
        path: machine === '' ? '' : `/${machine}`,
        item,
        way: typed.way,
        everyMs: everyMs.value,
      },
      shape: '',
      unit: 'as sent',
      channel: null,
      ...(second === '' ? {} : { secondChannel: second }),
    },
  };
}
